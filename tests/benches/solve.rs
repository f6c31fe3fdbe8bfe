//! Nine outputs of one solve through the typed formulas with a silent notebook, against a peer in
//! plain `f64`; and proof that the silent path does not allocate.

#![allow(clippy::unwrap_used)] // a bench fails by panicking

use std::alloc::System;
use std::f64::consts::PI;
use std::hint::black_box;
use std::time::Instant;

use feeds_core::formula::bending::EquivalentRound;
use feeds_core::formula::chip::{EngagementAngle, FeedForLargestChip, LargestChip, MeanChip};
use feeds_core::formula::feed::{FeedPerTooth, FeedSpeed};
use feeds_core::formula::force::{CuttingForce, SpecificForce};
use feeds_core::formula::power::{CuttingPower, CuttingTorque, MotorPower};
use feeds_core::formula::removal::RemovalRate;
use feeds_core::formula::speed::TurnsForSpeed;
use feeds_core::kernel::beam::{Beam, Segment};
use feeds_core::kernel::seed::Seed;
use feeds_core::notebook::{Notebook, Silent};
use feeds_core::quantity::{Angle, Length, Pressure, Quantity, SpindleSpeed, Velocity, in_mm, mm};
use stats_alloc::{INSTRUMENTED_SYSTEM, Region, StatsAlloc};

#[global_allocator]
static ALLOCATOR: &StatsAlloc<System> = &INSTRUMENTED_SYSTEM;

const CASES: usize = 20_000;
const ROUNDS: usize = 31;
/// So many times as long as plain numbers a case takes at most.
const MOST: f64 = 1.25;

const KC11: f64 = 2100.0;
const M_C: f64 = 0.25;
const MODULUS: f64 = 600_000.0;
const FASTEST: f64 = 24_000.0;
const FEED_MOST: f64 = 5000.0;
const EFFICIENCY: f64 = 0.8;

/// mm and m/min; the numbers are a workload, not advice.
#[derive(Clone, Copy)]
struct Case {
    d: f64,
    length: f64,
    a_p: f64,
    a_e: f64,
    v_c: f64,
    h_max: f64,
    z: f64,
}

fn cases() -> Vec<Case> {
    let mut seed = Seed::new(7);
    (0..CASES)
        .map(|_| {
            let d = seed.between(2.0, 8.0);
            Case {
                d,
                length: d * seed.between(3.0, 6.0),
                a_p: d * seed.between(0.02, 1.5),
                a_e: d * seed.between(0.02, 0.98),
                v_c: seed.between(40.0, 220.0),
                h_max: seed.between(0.005, 0.05),
                z: seed.between(2.0, 5.0).floor(),
            }
        })
        .collect()
}

/// n, f_z, v_f, Q, h_m, F_c, torque, motor power, bending: 1/min, mm, cm³/min, N, N m, W.
type Nine = [f64; 9];

fn plain(c: &Case) -> Nine {
    let n = (1000.0 * c.v_c / (PI * c.d)).min(FASTEST);
    let arc = (1.0 - 2.0 * c.a_e / c.d).acos();
    let chip = if arc < PI / 2.0 { arc.sin() } else { 1.0 };
    let v_f = (c.h_max / chip * c.z * n).min(FEED_MOST);
    let f_z = v_f / (c.z * n);
    let q = c.a_p * c.a_e * v_f / 1000.0;
    let h_m = 2.0 * f_z * c.a_e / (c.d * arc);
    let k_c = KC11 * h_m.powf(-M_C);
    let force = k_c * c.a_p * h_m;
    let p_c = q * k_c / 60.0;
    let torque = p_c * 30.0 / (PI * n);
    let h = f_z * chip;
    let peak = KC11 * h.powf(-M_C) * c.a_p * h;
    let round = 0.8 * c.d;
    let inertia = PI * (round * round) * (round * round) / 64.0;
    let bending = peak * c.length.powi(3) / (3.0 * MODULUS * inertia);
    [
        n,
        f_z,
        v_f,
        q,
        h_m,
        force,
        torque,
        p_c / EFFICIENCY,
        bending,
    ]
}

/// The same case in quantities.
#[derive(Clone, Copy)]
struct Typed {
    d: Length,
    length: Length,
    a_p: Length,
    a_e: Length,
    v_c: Velocity,
    h_max: Length,
    z: f64,
}

fn typed(c: &Case) -> Typed {
    Typed {
        d: mm(c.d),
        length: mm(c.length),
        a_p: mm(c.a_p),
        a_e: mm(c.a_e),
        v_c: Velocity::from_si(c.v_c / 60.0),
        h_max: mm(c.h_max),
        z: c.z,
    }
}

fn solve(c: &Typed, notes: &mut impl Notebook) -> Nine {
    let (d, a_p, a_e, z) = (c.d, c.a_p, c.a_e, c.z);
    let kc11 = Pressure::from_si(KC11 * 1e6);
    let n = notes.take(TurnsForSpeed {
        v_c: c.v_c,
        d_eff: d,
    });
    let fastest = SpindleSpeed::per_minute(FASTEST);
    let n = if n < fastest { n } else { fastest };
    let kappa = Angle::from_si(PI / 2.0);
    let phi_s = notes.take(EngagementAngle { a_e, d });
    let f_z = notes.take(FeedForLargestChip {
        h_max: c.h_max,
        kappa,
        phi_s,
    });
    let v_f = notes.take(FeedSpeed { f_z, z, n });
    let most = Velocity::from_si(FEED_MOST / 60e3);
    let v_f = if v_f < most { v_f } else { most };
    let f_z = notes.take(FeedPerTooth { v_f, z, n });
    let q = notes.take(RemovalRate { a_p, a_e, v_f });
    let h_m = notes.take(MeanChip {
        f_z,
        kappa,
        a_e,
        d,
        phi_s,
    });
    let k_c = notes.take(SpecificForce {
        kc11,
        h: h_m,
        m_c: M_C,
    });
    let force = notes.take(CuttingForce {
        k_c,
        b: a_p,
        h: h_m,
    });
    let p_c = notes.take(CuttingPower { k_c, q });
    let torque = notes.take(CuttingTorque { p_c, n });
    let motor = notes.take(MotorPower {
        p_c,
        efficiency: EFFICIENCY,
    });
    let h = notes.take(LargestChip { f_z, kappa, phi_s });
    let k_peak = notes.take(SpecificForce { kc11, h, m_c: M_C });
    let peak = notes.take(CuttingForce {
        k_c: k_peak,
        b: a_p,
        h,
    });
    let round = notes.take(EquivalentRound { d });
    let rod = [Segment {
        length: in_mm(c.length),
        diameter: in_mm(round),
    }];
    let beam = Beam {
        modulus: MODULUS,
        segments: &rod,
    };
    [
        n.in_per_minute(),
        in_mm(f_z),
        v_f.si() * 60e3,
        q.si() * 60e6,
        in_mm(h_m),
        force.si(),
        torque.si(),
        motor.si(),
        beam.tip(peak.si(), 0.0),
    ]
}

fn seconds(mut work: impl FnMut() -> f64) -> f64 {
    let start = Instant::now();
    black_box(work());
    start.elapsed().as_secs_f64()
}

fn main() {
    let cases = cases();
    let quantities: Vec<Typed> = cases.iter().map(typed).collect();
    for (c, t) in cases.iter().zip(&quantities) {
        for (a, b) in plain(c).iter().zip(solve(t, &mut Silent)) {
            assert!((a - b).abs() <= 1e-12 * a.abs(), "{a} is not {b}");
        }
    }
    let sum = |nine: Nine| nine.iter().sum::<f64>();
    let mut by_hand = || cases.iter().map(|c| sum(plain(black_box(c)))).sum::<f64>();
    let mut through = || {
        let one = |c| sum(solve(black_box(c), &mut Silent));
        quantities.iter().map(one).sum::<f64>()
    };
    let region = Region::new(ALLOCATOR);
    black_box(through());
    let allocations = region.change().allocations;
    let mut ratios = Vec::new();
    let mut best = [f64::INFINITY; 2];
    for _ in 0..ROUNDS {
        let times = [seconds(&mut by_hand), seconds(&mut through)];
        ratios.push(times[1] / times[0]);
        for (best, time) in best.iter_mut().zip(times) {
            *best = best.min(time);
        }
    }
    ratios.sort_by(f64::total_cmp);
    let each = 1e9 / 20_000.0;
    println!("plain f64        {:7.1} ns a case", best[0] * each);
    println!("typed, silent    {:7.1} ns a case", best[1] * each);
    println!(
        "ratio            {:7.2} of the best rounds, {:.2} in the middle",
        best[1] / best[0],
        ratios[ROUNDS / 2]
    );
    println!("allocations      {allocations} in {CASES} cases");
    assert_eq!(allocations, 0, "the silent path allocates nothing");
    assert!(best[1] <= MOST * best[0], "at most {MOST} promised");
}
