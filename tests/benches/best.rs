//! The bare search for the best cut on a problem in closed form, against a peer of our own that
//! knows the shape of that problem, and against a plain grid.
//!
//! The problem: one tooth's peak force by Kienzle's law; speed, feed, power, force, bending,
//! stress and both ends of the chip as limits. Its numbers are a workload, not advice.

#![allow(clippy::unwrap_used)] // a bench fails by panicking

use std::f64::consts::PI;
use std::hint::black_box;
use std::time::Instant;

use feeds_core::kernel::best::{Area, FINE, Ground, Worth, search};
use feeds_core::kernel::root::golden;

const ROUNDS: usize = 31;

/// Units mm, N, N/mm², kW, 1/min.
struct Problem {
    d: f64,
    z: f64,
    length: f64,
    kc11: f64,
    m_c: f64,
    turns: (f64, f64),
    v_c: f64,
    v_f: f64,
    power: f64,
    base: f64,
    efficiency: f64,
    modulus: f64,
    bending: f64,
    stress: f64,
    force: f64,
    chip: (f64, f64),
    area: Area,
}

const PROBLEM: Problem = Problem {
    d: 4.0,
    z: 3.0,
    length: 16.0,
    kc11: 2100.0,
    m_c: 0.25,
    turns: (2000.0, 24_000.0),
    v_c: 110.0,
    v_f: 3000.0,
    power: 0.35,
    base: 9000.0,
    efficiency: 0.8,
    modulus: 600_000.0,
    bending: 0.012,
    stress: 1200.0,
    force: 400.0,
    chip: (0.004, 0.020),
    area: Area {
        a_p: (0.05, 6.0),
        a_e: (0.05, 4.0),
    },
};

impl Problem {
    fn thick(&self) -> f64 {
        0.8 * self.d
    }

    fn inertia(&self) -> f64 {
        PI * self.thick().powi(4) / 64.0
    }

    /// Largest chip over feed, and engaged angle.
    fn arc(&self, a_e: f64) -> (f64, f64) {
        let e = a_e / self.d;
        let chip = if e < 0.5 {
            2.0 * (e - e * e).sqrt()
        } else {
            1.0
        };
        (chip, (1.0 - 2.0 * e).acos())
    }

    /// The most that is removed at a depth and width: feed first, then turns.
    fn most(&self, a_p: f64, a_e: f64) -> Option<(f64, f64, f64)> {
        let (chip, arc) = self.arc(a_e);
        let rigid = self.bending * 3.0 * self.modulus * self.inertia() / self.length.powi(3);
        let strong =
            self.stress * 2.0 * self.inertia() / (self.thick() * (self.length - 0.5 * a_p));
        let force = self.force.min(rigid).min(strong);
        let power = 1.0 / (1.0 - self.m_c);
        let h = self.chip.1.min((force / (self.kc11 * a_p)).powf(power));
        if h < self.chip.0 {
            return None;
        }
        let mut f_z = h / chip;
        let top = self.turns.1.min(1000.0 * self.v_c / (PI * self.d));
        // Power at one turn a minute is k f_z^(1 - m_c).
        let mean = 2.0 * a_e / self.d / arc;
        let k = a_p * a_e * self.z / 1000.0 * self.kc11 * mean.powf(-self.m_c)
            / (60_000.0 * self.efficiency);
        let need = k * f_z.powf(1.0 - self.m_c);
        let torque = self.power / self.base;
        let carried = if need > torque {
            f_z = (torque / k).powf(power);
            self.base
        } else {
            self.power / need
        };
        let n = top.min(self.v_f / (self.z * f_z)).min(carried);
        (f_z * chip >= self.chip.0 && n >= self.turns.0)
            .then(|| (a_p * a_e * f_z * self.z * n / 1000.0, n, f_z))
    }

    /// Whether a cut keeps every limit, as anybody would write it down.
    fn keeps(&self, [a_p, a_e, n, f_z]: [f64; 4]) -> bool {
        let (chip, arc) = self.arc(a_e);
        let v_f = f_z * self.z * n;
        let h_m = 2.0 * f_z * a_e / self.d / arc;
        let power = a_p * a_e * v_f / 1000.0 * self.kc11 * h_m.powf(-self.m_c)
            / (60_000.0 * self.efficiency);
        let force = self.kc11 * a_p * (f_z * chip).powf(1.0 - self.m_c);
        let bending = force * self.length.powi(3) / (3.0 * self.modulus * self.inertia());
        let moment = force * (self.length - 0.5 * a_p);
        let stress = moment * self.thick() / (2.0 * self.inertia());
        let slack = 1.0 + 1e-9;
        let h = f_z * chip;
        power <= self.power * (n / self.base).min(1.0) * slack
            && force <= self.force * slack
            && bending <= self.bending * slack
            && stress <= self.stress * slack
            && h <= self.chip.1 * slack
            && h * slack >= self.chip.0
            && v_f <= self.v_f * slack
            && n * PI * self.d <= 1000.0 * self.v_c * slack
    }
}

impl Ground for &Problem {
    fn worth(&mut self, a_p: f64, a_e: f64, _: f64) -> Worth {
        self.most(a_p, a_e)
            .map_or(Worth::Out(-1.0), |(q, n, f_z)| Worth::Cut { q, n, f_z })
    }
}

/// A peer that knows: one hill over depth for each width, and widths swept evenly.
fn monotone(p: &Problem, widths: u32) -> f64 {
    let (least, most) = p.area.a_e;
    let step = (most - least) / f64::from(widths - 1);
    let q = |a_p: f64, a_e: f64| p.most(a_p, a_e).map_or(0.0, |m| m.0);
    let column = |a_e: f64| golden(p.area.a_p.0, p.area.a_p.1, 1e-7, |a_p| q(a_p, a_e)).1;
    let best = (0..widths)
        .map(|i| least + step * f64::from(i))
        .map(|a_e| (a_e, column(a_e)))
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .unwrap();
    let (from, to) = ((best.0 - step).max(least), (best.0 + step).min(most));
    golden(from, to, 1e-6, column).1.max(best.1)
}

/// A grid over all four, nothing hoisted.
fn grid(p: &Problem, count: u32) -> f64 {
    let at = |(a, b): (f64, f64), i: u32| a + (b - a) * f64::from(i) / f64::from(count - 1);
    let mut best = 0.0_f64;
    for i in 0..count {
        let n = at(p.turns, i);
        for j in 0..count {
            let f_z = at((0.002, 0.1), j);
            for k in 0..count {
                let a_p = at(p.area.a_p, k);
                for l in 0..count {
                    let a_e = at(p.area.a_e, l);
                    let q = a_p * a_e * f_z * p.z * n / 1000.0;
                    if q > best && p.keeps([a_p, a_e, n, f_z]) {
                        best = q;
                    }
                }
            }
        }
    }
    best
}

fn seconds(mut work: impl FnMut() -> f64) -> f64 {
    let start = Instant::now();
    black_box(work());
    start.elapsed().as_secs_f64()
}

fn main() {
    let p = &PROBLEM;
    let ours = || search(&mut black_box(p), &p.area, &FINE);
    let place = ours();
    let Worth::Cut { q, n, f_z } = place.worth else {
        panic!("the problem has cuts")
    };
    assert!(
        p.keeps([place.a_p, place.a_e, n, f_z]),
        "the answer keeps every limit"
    );
    let reference = monotone(p, 4096);
    let share = q / reference;
    let mut best = [f64::INFINITY; 3];
    for _ in 0..ROUNDS {
        let times = [
            seconds(|| ours().a_p),
            seconds(|| monotone(black_box(p), 64)),
            seconds(|| monotone(black_box(p), 256)),
        ];
        for (best, time) in best.iter_mut().zip(times) {
            *best = best.min(time);
        }
    }
    let brute = seconds(|| grid(black_box(p), 30));
    println!("removes {q:.6} cm3/min, {share:.6} of the best of 4096 widths, every limit kept");
    println!("search               {:8.3} ms", best[0] * 1e3);
    for (name, time) in [
        ("monotone peer,  64", best[1]),
        ("monotone peer, 256", best[2]),
    ] {
        println!(
            "{name}   {:8.3} ms, {:.2} x ours",
            time * 1e3,
            time / best[0]
        );
    }
    println!(
        "grid of 30 each way  {:8.1} ms, {:.0} x ours, {:.3} of our rate",
        brute * 1e3,
        brute / best[0],
        grid(p, 30) / q
    );
    assert!(share >= 0.9999, "the best is found");
    assert!(best[0] <= 0.5e-3, "half a millisecond is kept");
    assert!(
        best[0] <= best[1],
        "no longer than closed forms over 64 widths"
    );
}
