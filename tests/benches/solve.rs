//! One pass worked out by typed formulas and the silent notebook, against the same arithmetic
//! written by hand in plain numbers: spindle speed, feed per tooth, feed, removal rate, mean chip,
//! force, torque, power and deflection. The two agree to 1e-12 before anything is timed.

#![allow(clippy::unwrap_used)] // a bench fails by panicking

use feeds_core::formula::chip::{EngagementAngle, FeedForLargestChip, MeanChip};
use feeds_core::formula::feed::FeedSpeed;
use feeds_core::formula::force::{CuttingForce, SpecificForce};
use feeds_core::formula::power::{CuttingPower, CuttingTorque};
use feeds_core::formula::removal::RemovalRate;
use feeds_core::formula::speed::TurnsForSpeed;
use feeds_core::kernel::beam::{Beam, Segment};
use feeds_core::kernel::seed::Seed;
use feeds_core::notebook::{Notebook, Silent};
use feeds_core::quantity::{Angle, Length, Pressure, Quantity, Velocity, in_mm, mm, n_per_mm2};
use std::f64::consts::PI;
use std::hint::black_box;
use std::time::Instant;

const CASES: usize = 20_000;
const ROUNDS: u32 = 21;
const KC11: f64 = 2100.0;
const M_C: f64 = 0.25;
const MODULUS: f64 = 600_000.0;

/// D, a_p, a_e, stick-out in mm, v_c in m/min, wanted h_max in mm, edges.
#[derive(Clone, Copy)]
struct Plain {
    d: f64,
    a_p: f64,
    a_e: f64,
    l: f64,
    v_c: f64,
    h: f64,
    z: f64,
}

#[derive(Clone, Copy)]
struct Typed {
    d: Length,
    a_p: Length,
    a_e: Length,
    l: f64,
    d_mm: f64,
    v_c: Velocity,
    h: Length,
    z: f64,
    kappa: Angle,
    kc11: Pressure,
}

#[inline(never)]
fn by_hand(c: &Plain) -> [f64; 9] {
    let n = 1000.0 * c.v_c / (PI * c.d);
    let phi = (1.0 - 2.0 * c.a_e / c.d).acos();
    let f_z = c.h / phi.min(PI / 2.0).sin();
    let v_f = f_z * c.z * n;
    let q = c.a_p * c.a_e * v_f / 1000.0;
    let h_m = 2.0 * f_z * c.a_e / (c.d * phi);
    let k_c = KC11 * h_m.powf(-M_C);
    let force = k_c * c.a_p * h_m;
    let power = k_c * q / 60.0;
    let torque = power * 60.0 / (2.0 * PI * n);
    let d_eq = 0.8 * c.d;
    let inertia = PI / 64.0 * d_eq.powi(4);
    let bent = force * c.l.powi(3) / (3.0 * MODULUS * inertia);
    [n, f_z, v_f, q, h_m, force, torque, power, bent]
}

#[inline(never)]
fn by_formulas(c: &Typed, notes: &mut impl Notebook) -> [f64; 9] {
    let (d, a_e, a_p, z) = (c.d, c.a_e, c.a_p, c.z);
    let n = notes.take(TurnsForSpeed {
        v_c: c.v_c,
        d_eff: d,
    });
    let phi_s = notes.take(EngagementAngle { a_e, d });
    let f_z = notes.take(FeedForLargestChip {
        h_max: c.h,
        kappa: c.kappa,
        phi_s,
    });
    let v_f = notes.take(FeedSpeed { f_z, z, n });
    let q = notes.take(RemovalRate { a_p, a_e, v_f });
    let h_m = notes.take(MeanChip {
        f_z,
        kappa: c.kappa,
        a_e,
        d,
        phi_s,
    });
    let k_c = notes.take(SpecificForce {
        kc11: c.kc11,
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
    let rod = [Segment {
        length: c.l,
        diameter: 0.8 * c.d_mm,
    }];
    let beam = Beam {
        modulus: MODULUS,
        segments: &rod,
    };
    let bent = beam.tip(force.si(), 0.0);
    [
        n.in_per_minute(),
        in_mm(f_z),
        v_f.si() * 60e3,
        q.si() * 60e6,
        in_mm(h_m),
        force.si(),
        torque.si(),
        p_c.si(),
        bent,
    ]
}

fn nanoseconds(mut run: impl FnMut() -> f64) -> f64 {
    let mut best = f64::INFINITY;
    for _ in 0..ROUNDS {
        let start = Instant::now();
        black_box(run());
        best = best.min(start.elapsed().as_secs_f64());
    }
    best * 1e9 / f64::from(u32::try_from(CASES).unwrap())
}

fn main() {
    let mut seed = Seed::new(7);
    let plain: Vec<Plain> = (0..CASES)
        .map(|_| {
            let d = seed.between(2.0, 8.0);
            Plain {
                d,
                a_p: d * seed.between(0.02, 1.5),
                a_e: d * seed.between(0.02, 0.98),
                l: d * seed.between(3.0, 6.0),
                v_c: seed.between(40.0, 220.0),
                h: seed.between(0.005, 0.05),
                z: seed.between(2.0, 5.0).floor(),
            }
        })
        .collect();
    let typed: Vec<Typed> = plain
        .iter()
        .map(|c| Typed {
            d: mm(c.d),
            a_p: mm(c.a_p),
            a_e: mm(c.a_e),
            l: c.l,
            d_mm: c.d,
            v_c: Velocity::from_si(c.v_c / 60.0),
            h: mm(c.h),
            z: c.z,
            kappa: Angle::from_si(PI / 2.0),
            kc11: n_per_mm2(KC11),
        })
        .collect();
    for (p, t) in plain.iter().zip(&typed) {
        for (a, b) in by_hand(p).iter().zip(by_formulas(t, &mut Silent)) {
            assert!((a - b).abs() <= 1e-12 * a.abs(), "{a} {b}");
        }
    }
    let hand = nanoseconds(|| plain.iter().map(|c| by_hand(c).iter().sum::<f64>()).sum());
    let formulas = nanoseconds(|| {
        let sum = |c: &Typed| by_formulas(c, &mut Silent).iter().sum::<f64>();
        typed.iter().map(sum).sum()
    });
    println!("by hand      {hand:7.1} ns a case");
    println!("by formulas  {formulas:7.1} ns a case");
    println!("ratio        {:7.3}", formulas / hand);
}
