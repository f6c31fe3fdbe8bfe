//! Force over one turn against two peers of our own: slices along the edge, and a linear look-up
//! table of the same integrals. Ratios are of the best of several interleaved rounds.

#![allow(clippy::unwrap_used)] // a bench fails by panicking

use std::f64::consts::{PI, TAU};
use std::hint::black_box;
use std::time::Instant;

use feeds_core::kernel::arc::ArcTable;
use feeds_core::kernel::front::EngagedBand;
use feeds_core::kernel::turn::{Law, Load, Turn, TurnCut, TurnPart, arc_of};

const ANGLES: usize = 3600;
const SLICES: u32 = 100;
const ROUNDS: u32 = 15;
/// So many times as long as a trace the look-up takes at least.
const LOOK_UP: f64 = 1.8;
/// So many times as long as a ball met in rings its pass takes at least.
const FRONT: f64 = 10.0;

/// Every slice of every edge at every angle: a power, a sine and a cosine each when engaged.
fn sliced(cut: &TurnCut, law: &Law, slices: u32, out: &mut [Load]) {
    let (start, end) = (PI - cut.arc, PI);
    let dz = cut.a_p / f64::from(slices);
    let step = TAU / f64::from(u32::try_from(out.len()).unwrap());
    for (k, load) in (0_u32..).zip(out) {
        *load = Load::default();
        for j in 0..cut.z {
            let tip = f64::from(k) * step + TAU * f64::from(j) / f64::from(cut.z);
            for i in 0..slices {
                let lag = cut.lag_per_mm() * dz * (f64::from(i) + 0.5);
                let phi = (tip - lag).rem_euclid(TAU);
                if phi > start && phi < end {
                    let (sin, cos) = phi.sin_cos();
                    let tangential = law.cut[0] * (cut.f_z * sin).powf(1.0 - law.m_c) * dz;
                    let radial = tangential * law.cut[1] / law.cut[0];
                    load.x -= tangential * cos + radial * sin;
                    load.y += tangential * sin - radial * cos;
                    load.torque += tangential * 0.5 * cut.d;
                }
            }
        }
    }
}

/// A plain table of the three integrals, linear between 2048 points, one angle at a time.
struct LookUp(Vec<[f64; 3]>);

impl LookUp {
    fn new(arc: &ArcTable) -> Self {
        Self(
            (0..=2049_u32)
                .map(|i| {
                    let m = arc.at((f64::from(i) * PI / 2048.0).min(PI));
                    [m.cos, m.sin, m.one]
                })
                .collect(),
        )
    }

    #[inline]
    fn at(&self, phi: f64) -> [f64; 3] {
        let x = phi * (2048.0 / PI);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "0 ..= 2048"
        )]
        let i = x as usize;
        let t = x - x.floor();
        let (a, b) = (&self.0[i], &self.0[i + 1]);
        [
            a[0] + t * (b[0] - a[0]),
            a[1] + t * (b[1] - a[1]),
            a[2] + t * (b[2] - a[2]),
        ]
    }

    fn run(&self, cut: &TurnCut, law: &Law, out: &mut [Load]) {
        let (start, end) = (PI - cut.arc, PI);
        let lag = cut.lag_per_mm() * cut.a_p;
        let k = law.cut[0] * cut.f_z.powf(1.0 - law.m_c) / cut.lag_per_mm();
        let k_r = law.cut[1] / law.cut[0];
        let (at_start, at_end) = (self.at(start), self.at(end));
        let step = TAU / f64::from(u32::try_from(out.len()).unwrap());
        for (n, load) in (0_u32..).zip(out) {
            let mut sum = [0.0; 3];
            for j in 0..cut.z {
                let tip = (f64::from(n) * step + TAU * f64::from(j) / f64::from(cut.z)) % TAU;
                for hi in [tip, tip + TAU] {
                    let lo = hi - lag;
                    if hi > start && lo < end {
                        let to = if hi >= end { at_end } else { self.at(hi) };
                        let from = if lo <= start { at_start } else { self.at(lo) };
                        for (s, (a, b)) in sum.iter_mut().zip(to.iter().zip(from)) {
                            *s += a - b;
                        }
                    }
                }
            }
            let [c, s, one] = sum.map(|v| k * v);
            *load = Load {
                x: -c - k_r * s,
                y: s - k_r * c,
                z: 0.0,
                torque: one * 0.5 * cut.d,
            };
        }
    }
}

/// A ball, half engaged down to its radius, as rings of equal steps of radius meet it.
fn ball() -> (TurnCut, Vec<EngagedBand>) {
    let (radius, a_e) = (3.0_f64, 1.0);
    let cut = TurnCut {
        d: 2.0 * radius,
        z: 2,
        helix: 30.0_f64.to_radians(),
        r_e: radius,
        a_p: radius,
        arc: arc_of(2.0 * radius, a_e),
        path: TurnPart::Down,
        f_z: 0.02,
        tir: 0.005,
    };
    let height = |x: f64| radius - (radius * radius - x * x).sqrt();
    let rings = (0..8_u32).map(|k| {
        let [low, high] = [k, k + 1].map(|k| height(radius * f64::from(k) / 8.0));
        let middle = 0.5 * (low + high);
        let r = (middle * (2.0 * radius - middle)).sqrt();
        let arc = (1.0 - a_e / r).max(-1.0).acos();
        EngagedBand::new(low, high, &[[PI - arc, PI]])
    });
    (cut, rings.collect())
}

/// Peaks of a front met in rings, and of the same pass by the bands of the kernel, in seconds.
fn fronts() -> [f64; 2] {
    let ((cut, rings), arc) = (ball(), ArcTable::new(0.0));
    let law = Law::linear([1800.0, 700.0, 100.0], [20.0, 30.0, 0.0]);
    let mut best = [f64::INFINITY; 2];
    for _ in 0..ROUNDS {
        let met = seconds(|| {
            for _ in 0..20 {
                black_box(Turn::engaged(&arc, black_box(&cut), black_box(&rings), &law).peaks());
            }
        });
        let pass = seconds(|| {
            black_box(Turn::new(&arc, black_box(&cut), &law).peaks());
        });
        best = [best[0].min(met / 20.0), best[1].min(pass)];
    }
    best
}

fn seconds(mut work: impl FnMut()) -> f64 {
    let start = Instant::now();
    work();
    start.elapsed().as_secs_f64()
}

fn worst(a: &[Load], b: &[Load]) -> f64 {
    let peak = b.iter().map(Load::lateral).fold(0.0, f64::max);
    let apart = a.iter().zip(b).map(|(a, b)| (a.x - b.x).hypot(a.y - b.y));
    apart.fold(0.0, f64::max) / peak
}

fn main() {
    let cut = TurnCut {
        d: 4.0,
        z: 3,
        helix: 35.0_f64.to_radians(),
        r_e: 0.0,
        a_p: 4.0,
        arc: arc_of(4.0, 0.6),
        path: TurnPart::Down,
        f_z: 0.02,
        tir: 0.0,
    };
    let law = Law::kienzle(2100.0, 0.25, 0.35, 0.0);
    let arc = ArcTable::new(law.m_c);
    let table = LookUp::new(&arc);
    let turn = Turn::new(&arc, &cut, &law);
    let mut out = vec![Load::default(); ANGLES];
    let mut each = out.clone();
    let mut best = [f64::INFINITY; 6];
    for _ in 0..ROUNDS {
        let times = [
            seconds(|| Turn::new(black_box(&arc), black_box(&cut), &law).trace(&mut out)),
            seconds(|| {
                for (k, load) in (0_u32..).zip(&mut each) {
                    *load = turn.at(black_box(f64::from(k) * TAU / 3600.0));
                }
            }),
            seconds(|| table.run(black_box(&cut), &law, &mut out)),
            seconds(|| sliced(black_box(&cut), &law, SLICES, &mut out)),
            seconds(|| drop(black_box(ArcTable::new(black_box(0.25))))),
            seconds(|| {
                for _ in 0..100 {
                    black_box(Turn::new(black_box(&arc), black_box(&cut), &law).peaks());
                }
            }) / 100.0,
        ];
        for (best, time) in best.iter_mut().zip(times) {
            *best = best.min(time);
        }
    }
    let [trace, at, look_up, slices, build, peaks] = best;
    let angle = 1e9 / 3600.0;
    println!("trace of 3600 angles      {:8.1} ns/angle", trace * angle);
    println!("each angle asked alone    {:8.1} ns/angle", at * angle);
    println!(
        "look-up peer              {:8.1} ns/angle, {:.2} x trace",
        look_up * angle,
        look_up / trace
    );
    assert!(look_up >= LOOK_UP * trace, "at least {LOOK_UP} promised");
    println!(
        "sliced peer, {SLICES} slices   {:8.1} ns/angle, {:.0} x trace, {:.0} x each alone",
        slices * angle,
        slices / trace,
        slices / at
    );
    println!("arc table, once           {:8.1} us", build * 1e6);
    println!("peaks alone               {:8.1} us", peaks * 1e6);
    let [met, pass] = fronts().map(|time| time * 1e6);
    println!(
        "ball met in eight rings   {met:8.1} us, its pass {:.0} times",
        pass / met
    );
    assert!(pass >= FRONT * met, "a front takes {met} us");

    let mut fine = vec![Load::default(); 360];
    sliced(&cut, &law, 20_000, &mut fine);
    let mut coarse = fine.clone();
    let mut ours = fine.clone();
    sliced(&cut, &law, SLICES, &mut coarse);
    turn.trace(&mut ours);
    println!(
        "against 20 000 slices: ours {:.1e} of the peak, {SLICES} slices {:.1e}",
        worst(&ours, &fine),
        worst(&coarse, &fine)
    );
}
