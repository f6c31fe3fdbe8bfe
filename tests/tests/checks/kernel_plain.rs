//! The turn against a plain sum of slices (`tests::plain_turn`): every path, end and edge, at many
//! angles and on average, but coarse enough to be quick.

use feeds_core::kernel::arc::ArcTable;
use feeds_core::kernel::turn::{Law, Load, Turn, TurnCut, TurnPart, arc_of};
use std::f64::consts::{PI, TAU};
use tests::plain_turn;

const PATHS: [TurnPart; 4] = [
    TurnPart::Slot,
    TurnPart::Up,
    TurnPart::Down,
    TurnPart::Centred,
];

/// A cutter of 6 mm: square, with a corner, a ball; shallower and deeper than what is round.
fn cuts() -> Vec<TurnCut> {
    let mut all = Vec::new();
    for path in PATHS {
        for (r_e, a_p) in [(0.0, 2.0), (0.5, 0.3), (0.5, 2.0), (3.0, 0.6), (3.0, 4.0)] {
            for (helix, z, tir) in [(0.0, 2, 0.0), (0.6, 3, 0.0), (0.3, 2, 0.006)] {
                let arc = match path {
                    TurnPart::Slot => PI,
                    _ => arc_of(6.0, 1.5),
                };
                all.push(TurnCut {
                    d: 6.0,
                    z,
                    helix,
                    r_e,
                    a_p,
                    arc,
                    path,
                    f_z: 0.03,
                    tir,
                });
            }
        }
    }
    all
}

/// By Kienzle, with an edge, and linear with the end edge on the floor.
fn laws() -> [Law; 3] {
    let kienzle = Law::kienzle(1700.0, 0.24, 0.35, 0.25);
    let linear = Law::linear([1900.0, 660.0, 480.0], [46.0, 68.0, 5.0]);
    [
        kienzle,
        kienzle.with_edge([20.0, 30.0, 4.0]),
        linear.with_end([8.0, 0.0, -12.0]),
    ]
}

fn four(load: Load) -> [f64; 4] {
    [load.x, load.y, load.z, load.torque]
}

/// Furthest apart, against the largest force; the torque in its own measure.
fn apart(a: [f64; 4], b: [f64; 4], scale: [f64; 2]) -> f64 {
    let of = |k: usize| (a[k] - b[k]).abs() / scale[usize::from(k == 3)];
    (0..4).map(of).fold(0.0, f64::max)
}

#[test]
fn the_mean_of_a_turn_is_that_of_a_plain_sum() {
    for law in laws() {
        let arc = ArcTable::new(law.m_c);
        for cut in cuts() {
            let mean = four(Turn::new(&arc, &cut, &law).mean());
            // One period of the runout is the whole turn.
            let thetas: Vec<f64> = (0..120)
                .map(|k| TAU * (f64::from(k) + 0.37) / 120.0)
                .collect();
            let mut sum = [0.0; 4];
            for at in plain_turn::loads(&cut, &law, &thetas, 40) {
                sum.iter_mut().zip(at).for_each(|(s, a)| *s += a / 120.0);
            }
            let force = sum[0].hypot(sum[1]).max(sum[2].abs());
            let off = apart(mean, sum, [force, sum[3]]);
            assert!(off < 0.02, "{off}: {mean:?} {sum:?} {cut:?}");
        }
    }
}

#[test]
fn the_load_at_an_angle_is_that_of_a_plain_sum() {
    for law in laws() {
        let arc = ArcTable::new(law.m_c);
        for cut in cuts().into_iter().filter(|cut| cut.helix > 0.0) {
            let turn = Turn::new(&arc, &cut, &law);
            let thetas: Vec<f64> = (0..24)
                .map(|k| TAU * (f64::from(k) + 0.29) / 24.0)
                .collect();
            let plain = plain_turn::loads(&cut, &law, &thetas, 120);
            let exact = thetas.iter().map(|t| four(turn.at(*t)));
            let pairs: Vec<([f64; 4], [f64; 4])> = exact.zip(plain).collect();
            let most = |measure: fn(&[f64; 4]) -> f64| {
                pairs
                    .iter()
                    .map(|(_, plain)| measure(plain))
                    .fold(0.0, f64::max)
            };
            let scale = [most(|l| l[0].hypot(l[1])), most(|l| l[3])];
            for (got, plain) in &pairs {
                let off = apart(*got, *plain, scale);
                assert!(off < 0.02, "{off}: {got:?} {plain:?} {cut:?}");
            }
        }
    }
}
