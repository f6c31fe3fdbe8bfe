//! The kernel's peaks against plain slices at many angles: with runout, corner radius and ball.

use std::f64::consts::PI;

use feeds_core::kernel::arc::ArcTable;
use feeds_core::kernel::seed::Seed;
use feeds_core::kernel::turn::{Law, Turn, TurnCut, TurnPart, arc_of};
use tests::plain_turn;

/// Half of the cuts run out, two thirds are rounded; one helix in seven is straight.
fn cut(random: &mut Seed) -> TurnCut {
    let mut between = |least: f64, most: f64| least + (most - least) * random.unit();
    let d = between(1.0, 10.0);
    let one_of = |share: f64, of: u32| (share * f64::from(of)).floor();
    let end = one_of(between(0.0, 1.0), 3);
    let r_e = if end < 0.5 {
        0.0
    } else if end < 1.5 {
        d * between(0.02, 0.3)
    } else {
        0.5 * d
    };
    let path = match between(0.0, 4.0) {
        x if x < 1.0 => TurnPart::Slot,
        x if x < 2.0 => TurnPart::Up,
        x if x < 3.0 => TurnPart::Down,
        _ => TurnPart::Centred,
    };
    let z = match between(0.0, 4.0) {
        x if x < 1.0 => 1,
        x if x < 2.0 => 2,
        x if x < 3.0 => 3,
        _ => 4,
    };
    let arc = arc_of(d, d * between(0.03, 0.9));
    TurnCut {
        d,
        z,
        helix: (between(-0.13, 0.8)).max(0.0),
        r_e,
        a_p: d * between(0.02, 1.0),
        arc: if path == TurnPart::Slot { PI } else { arc },
        path,
        f_z: d * between(0.0005, 0.01),
        tir: between(-0.02, 0.02).max(0.0),
    }
}

fn law(random: &mut Seed) -> Law {
    let mut between = |least: f64, most: f64| least + (most - least) * random.unit();
    let (kc11, m_c) = (between(900.0, 2600.0), between(0.14, 0.3));
    let edge = 0.3 * kc11 * 0.02_f64.powf(1.0 - m_c);
    Law::kienzle(kc11, m_c, between(0.2, 0.6), between(-0.2, 0.4)).with_edge([edge, edge, 0.0])
}

#[test]
fn peaks_are_those_of_plain_slices() {
    peaks_are_plain(120);
}

#[test]
fn peaks_are_those_of_plain_slices_a_few() {
    peaks_are_plain(10);
}

fn peaks_are_plain(cases: u32) {
    let mut random = Seed::new(29);
    let (mut run_out, mut rounded) = (0, 0);
    for case in 0..cases {
        let (cut, law) = (cut(&mut random), law(&mut random));
        let (arc, plain) = (ArcTable::new(law.m_c), plain_turn::peaks(&cut, &law, 600));
        let turn = Turn::new(&arc, &cut, &law);
        let (quick, extremes) = (turn.peaks(), turn.extremes());
        run_out += usize::from(cut.tir > 0.0 && cut.z > 1);
        rounded += usize::from(cut.r_e > 0.0);
        // What the documents of the kernel promise; a ball's torque rests on its bands alone.
        let near = [
            ("lateral", quick.lateral, plain.lateral, 1e-3),
            ("torque", quick.torque, plain.torque, 1.5e-3),
            (
                "lateral, searched",
                extremes.lateral_peak(),
                plain.lateral,
                1e-3,
            ),
            (
                "torque, searched",
                extremes.most.torque,
                plain.torque,
                1.5e-3,
            ),
        ];
        for (what, got, wanted, within) in near {
            assert!(
                (got / wanted - 1.0).abs() < within,
                "{case}: {what} {got} is not {wanted} of {cut:?}"
            );
        }
        let shares = [
            ("lift", quick.lift, plain.lift),
            ("along", quick.along, plain.along),
        ];
        for (what, got, wanted) in shares {
            assert!(
                (got - wanted).abs() < 5e-3 * plain.lateral,
                "{case}: {what} {got} is not {wanted} of {cut:?}"
            );
        }
    }
    assert!(
        cases < 120 || run_out > 20 && rounded > 40,
        "{run_out} {rounded}"
    );
}

/// Four edges with a runout of 7 µm: the fourth touches from f_z = TIR √2/4 on. Its edge force
/// must not come at a stroke, or there are forces that no feed has.
#[test]
fn a_tooth_that_begins_to_touch_adds_no_step() {
    let law = Law::kienzle(1800.0, 0.25, 0.4, 0.1).with_edge([29.0, 29.0, 0.0]);
    let arc = ArcTable::new(law.m_c);
    let tir = 0.007;
    let touches = tir * 0.125_f64.sqrt();
    for r_e in [0.0, 0.67] {
        let peak = |f_z: f64| {
            let cut = TurnCut {
                d: 6.7,
                z: 4,
                helix: 0.216,
                r_e,
                a_p: 4.0,
                arc: PI,
                path: TurnPart::Slot,
                f_z,
                tir,
            };
            Turn::new(&arc, &cut, &law).peaks().lateral
        };
        let (below, above) = (peak(touches * (1.0 - 1e-4)), peak(touches * (1.0 + 1e-4)));
        assert!((above / below - 1.0).abs() < 1e-3, "{below} {above}");
        // A fortieth more feed and the fourth tooth takes a tenth of it: from there on as before.
        let (part, whole) = (peak(touches * 1.01), peak(touches * 1.2));
        assert!(below < part && part < whole);
    }
}

/// The pull along the feed is the small top of a curve that reaches far below it; a search once
/// left it out as too low. 66.558 N by Gauss quadrature along the edges, the tooth at 3.9988 rad
/// (`independent/plan.py`, sampled at 5e-8 rad).
#[test]
fn a_small_pull_beside_a_large_push_is_found() {
    let cut = TurnCut {
        d: 3.301_117_05,
        z: 2,
        helix: 0.712_257_12,
        r_e: 0.0,
        a_p: 2.115_719_91,
        arc: 1.200_348_568_9,
        path: TurnPart::Down,
        f_z: 0.015_169_90,
        tir: 0.006_173_82,
    };
    let law = Law::linear(
        [1_591.350_409_67, 816.442_112_71, -179.442_421_56],
        [277.063_788_81, 1_115.494_422_06, 1.122_477_75],
    );
    let along = Turn::new(&ArcTable::new(0.0), &cut, &law).peaks().along;
    assert!((along / 66.558 - 1.0).abs() < 1e-3, "{along}");
}

/// A cubic through four samples lost up to 3e-4 of a crest between them. Looked at here at 200 000
/// angles of a straight law, whose load is closed at each.
#[test]
fn a_square_end_under_a_straight_law_has_its_peaks_to_a_millionth() {
    let arc = ArcTable::new(0.0);
    let mut random = Seed::new(31);
    for case in 0..40 {
        let cut = TurnCut {
            r_e: 0.0,
            ..cut(&mut random)
        };
        let law = Law::linear(
            [2000.0, 700.0 * random.unit(), 500.0],
            [50.0 * random.unit(), 70.0, 0.0],
        );
        let turn = Turn::new(&arc, &cut, &law);
        let got = turn.peaks();
        let (mut lateral, mut torque) = (0.0_f64, 0.0_f64);
        let count = 200_000;
        for k in 0..count {
            let load = turn.at(turn.period() * f64::from(k) / f64::from(count));
            (lateral, torque) = (lateral.max(load.lateral()), torque.max(load.torque));
        }
        // An edge that comes in at once, or nearly so, does so between two of the angles.
        let step = turn.period() / f64::from(count);
        let over = cut.lag_per_mm() * cut.a_p;
        let jump = f64::max(
            1e-6,
            4.0 * step / if over > 0.0 { over.min(1.0) } else { 1.0 },
        );
        for (what, got, looked) in [("F_xy", got.lateral, lateral), ("M", got.torque, torque)] {
            let off = got / looked - 1.0;
            assert!(
                (-1e-6..jump).contains(&off),
                "{case} {what}: {off:.1e} {cut:?}"
            );
        }
    }
}

/// The mean of a band was once taken of its arc and of its radius apart, and a shallow ball drew up
/// to 0.6 % more power than its chip and edge: here both are summed plainly, the chip as the volume
/// it takes by `K_tc`, the edge as the way of each piece by `K_te`.
#[test]
fn a_round_end_draws_what_its_chip_and_edge_take() {
    let arc = ArcTable::new(0.0);
    let (k_tc, k_te) = (2000.0, 50.0);
    for (d, r_e, a_p, a_e, z) in [
        (1.119, 0.5595, 0.031, 0.02, 4),
        (6.0, 3.0, 0.4, 0.5, 2),
        (6.0, 3.0, 4.5, 2.5, 3),
        (8.0, 1.5, 0.9, 5.0, 4),
    ] {
        let cut = TurnCut {
            d,
            z,
            helix: 0.6,
            r_e,
            a_p,
            arc: arc_of(d, a_e),
            path: TurnPart::Up,
            f_z: 0.02,
            tir: 0.0,
        };
        let law = Law::linear([k_tc, 0.0, 0.0], [k_te, 0.0, 0.0]);
        let mean = Turn::new(&arc, &cut, &law).mean().torque;
        let count = 400_000;
        let (mut section, mut way) = (0.0, 0.0);
        let top = (1.0 - f64::min(a_p, r_e) / r_e).acos();
        for k in 0..count {
            let kappa = top * (f64::from(k) + 0.5) / f64::from(count);
            let (r, db) = (
                d / 2.0 - r_e + r_e * kappa.sin(),
                r_e * top / f64::from(count),
            );
            section += a_e.min(2.0 * r) * kappa.sin() * db;
            way += (1.0 - a_e / r).max(-1.0).acos() * r * db;
        }
        let shank = (a_p - r_e).max(0.0);
        section += a_e * shank;
        way += cut.arc * d / 2.0 * shank;
        let plain = f64::from(z) / (2.0 * PI) * (k_tc * cut.f_z * section + k_te * way);
        assert!(
            (mean / plain - 1.0).abs() < 2e-6,
            "{d} {r_e} {a_p}: {mean} {plain}"
        );
    }
}
