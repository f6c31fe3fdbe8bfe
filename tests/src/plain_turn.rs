//! The force over one turn summed plainly: slices along every edge at many angles, and closer
//! angles around the best. No closed form, no bands, no smooth stretches.
//!
//! # Source
//! Linear edge model and directions: Y. Altintas, Manufacturing Automation, ch. 2 (memory). Local
//! `k_c`: O. Kienzle 1952 (memory). Chips under runout: W. Kline, R. `DeVor` 1983 (memory). Edge
//! force of a tooth that barely touches: common practice.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use feeds_core::kernel::turn::{Law, TurnCut, TurnPart};

/// Entries of the table of sin^p over half a turn.
const TABLE: u32 = 16_384;
/// Even angles of a turn that are tried, beside those where something changes.
const ANGLES: u32 = 1500;
/// Heights whose entering and leaving is tried on both sides.
const EVENTS: usize = 24;

/// Two teeth that meet the ends of their windows at one angle are not in the work at once, rad.
const TOUCHING: f64 = 1e-9;

/// A short piece of the edge. What changes along it is kept at both ends.
struct Slice {
    /// Angle behind the tip, rad.
    lag: [f64; 2],
    /// Engaged between these angles, rad.
    start: [f64; 2],
    end: [f64; 2],
    radius: f64,
    /// Sine and cosine of the lead angle.
    sin: f64,
    cos: f64,
    /// Length of edge, mm.
    width: f64,
    /// (`f_z` sin κ)^p, mm^p.
    scale: f64,
}

impl Slice {
    /// Which part of it is in the work with the tip of its tooth at an angle, as shares.
    fn engaged(&self, tip: f64) -> Option<(f64, f64)> {
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        let ends = [0, 1].map(|i| tip - self.lag[i] - self.start[i]);
        let other = [0, 1].map(|i| self.end[i] + self.lag[i] - tip);
        for [a, b] in [ends, other] {
            match (a > TOUCHING, b > TOUCHING) {
                (true, true) => {}
                (false, false) => return None,
                (true, false) => to = to.min(a / (a - b)),
                (false, true) => from = from.max(a / (a - b)),
            }
        }
        (to > from).then_some((from, to))
    }
}

/// The largest lateral force (N), torque (N mm), pull along the axis and along the feed (N).
#[derive(Clone, Copy, Debug, Default)]
pub struct Peaks {
    /// Lateral force.
    pub lateral: f64,
    /// Torque.
    pub torque: f64,
    /// Along the axis, out of the holder.
    pub lift: f64,
    /// Along the feed.
    pub along: f64,
}

/// Chip of each tooth: its edge passes where no earlier one of the same turn has been deeper.
fn chips(cut: &TurnCut) -> Vec<f64> {
    let z = f64::from(cut.z);
    let radius = |j: f64| 0.5 * cut.tir * (TAU * (j + 0.5) / z).sin();
    (0..cut.z)
        .map(|j| {
            let j = f64::from(j);
            let mut least = f64::INFINITY;
            for before in 1..=cut.z {
                let before = f64::from(before);
                least = least.min(before * cut.f_z + radius(j) - radius(j - before));
            }
            least.max(0.0)
        })
        .collect()
}

/// The engaged angles at a radius.
fn window(cut: &TurnCut, radius: f64) -> (f64, f64) {
    match cut.path {
        TurnPart::Slot => (0.0, PI),
        TurnPart::Centred => {
            let half_width = 0.5 * cut.d * (0.5 * cut.arc).sin();
            let half = if half_width < radius {
                (half_width / radius).asin()
            } else {
                FRAC_PI_2
            };
            (FRAC_PI_2 - half, FRAC_PI_2 + half)
        }
        TurnPart::Up | TurnPart::Down => {
            let a_e = 0.5 * cut.d * (1.0 - cut.arc.cos());
            let arc = if a_e < 2.0 * radius {
                (1.0 - a_e / radius).acos()
            } else {
                PI
            };
            if cut.path == TurnPart::Up {
                (0.0, arc)
            } else {
                (PI - arc, PI)
            }
        }
    }
}

/// The edge in `count` slices on its round part and as many above it.
fn slices(cut: &TurnCut, p: f64, count: u32) -> Vec<Slice> {
    let per_mm = 2.0 * cut.helix.tan() / cut.d;
    let share = |k: u32| [k, k + 1].map(|k| f64::from(k) / f64::from(count));
    let mut slices = Vec::new();
    let curved = cut.a_p.min(cut.r_e);
    if curved > 0.0 {
        let top = (1.0 - curved / cut.r_e).acos();
        let radius = |kappa: f64| 0.5 * cut.d - cut.r_e + cut.r_e * kappa.sin();
        for k in 0..count {
            let ends = share(k).map(|s| top * s);
            let (sin, cos) = (0.5 * (ends[0] + ends[1])).sin_cos();
            let windows = ends.map(|kappa| window(cut, radius(kappa)));
            slices.push(Slice {
                lag: ends.map(|kappa| per_mm * cut.r_e * (1.0 - kappa.cos())),
                start: windows.map(|w| w.0),
                end: windows.map(|w| w.1),
                radius: 0.5 * cut.d - cut.r_e + cut.r_e * sin,
                sin,
                cos,
                width: cut.r_e * (ends[1] - ends[0]),
                scale: (cut.f_z * sin).powf(p),
            });
        }
    }
    if cut.a_p > cut.r_e {
        let height = cut.a_p - cut.r_e;
        let (start, end) = window(cut, 0.5 * cut.d);
        for k in 0..count {
            slices.push(Slice {
                lag: share(k).map(|s| per_mm * (cut.r_e + s * height)),
                start: [start; 2],
                end: [end; 2],
                radius: 0.5 * cut.d,
                sin: 1.0,
                cos: 0.0,
                width: height / f64::from(count),
                scale: cut.f_z.powf(p),
            });
        }
    }
    slices
}

/// A cut made ready to be asked at any angle.
struct Plain<'a> {
    cut: &'a TurnCut,
    law: &'a Law,
    slices: Vec<Slice>,
    /// Of each tooth: its share of the cutting force, and how firmly its edge presses.
    teeth: Vec<(f64, f64)>,
    /// sin^p over half a turn, p = 1 - `m_c`.
    table: Vec<f64>,
}

impl<'a> Plain<'a> {
    fn new(cut: &'a TurnCut, law: &'a Law, count: u32) -> Self {
        let p = 1.0 - law.m_c;
        let sine = |k| (PI * f64::from(k) / f64::from(TABLE)).sin().max(0.0);
        Self {
            cut,
            law,
            slices: slices(cut, p, count),
            // The edge presses in full from a tenth of the feed.
            teeth: chips(cut)
                .iter()
                .map(|f| f / cut.f_z)
                .map(|f| (f.powf(p), (10.0 * f).min(1.0)))
                .collect(),
            table: (0..=TABLE).map(|k| sine(k).powf(p)).collect(),
        }
    }

    fn power(&self, phi: f64) -> f64 {
        let at = phi.clamp(0.0, PI) * f64::from(TABLE) / PI;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "0 ≤ at ≤ TABLE"
        )]
        let k = (at as usize).min(self.table.len() - 2);
        let (low, high) = (self.table[k], self.table[k + 1]);
        low + (at - at.floor()) * (high - low)
    }

    /// Force along and across the feed and along the axis, and torque.
    fn at(&self, theta: f64) -> [f64; 4] {
        let pitch = TAU / f64::from(self.cut.z);
        let longest = self.slices[self.slices.len() - 1].lag[1];
        let mut sum = [0.0; 4];
        for (j, tooth) in (0_u32..).zip(&self.teeth) {
            if tooth.0 > 0.0 {
                // Tooth j comes j pitches after tooth 0. Every turn of it that can reach the work.
                let mut tip = (theta - f64::from(j) * pitch).rem_euclid(TAU);
                while tip <= longest + PI {
                    self.edge(tip, *tooth, &mut sum);
                    tip += TAU;
                }
            }
        }
        sum
    }

    /// Adds one edge with its tip at an angle.
    fn edge(&self, tip: f64, (share, touch): (f64, f64), sum: &mut [f64; 4]) {
        let law = self.law;
        // The end edge drags where the corner meets the floor.
        let at_tip = 0.5 * self.cut.d - self.cut.r_e;
        let (start, end) = window(self.cut, at_tip);
        if tip > start + TOUCHING && tip < end - TOUCHING {
            let [t, r, a] = law.end.map(|k| k * touch);
            let (sin, cos) = tip.sin_cos();
            sum[0] -= t * cos + r * sin;
            sum[1] += t * sin - r * cos;
            sum[2] += a;
            sum[3] += t * at_tip;
        }
        for s in &self.slices {
            let Some((from, to)) = s.engaged(tip) else {
                continue;
            };
            let phi = tip - s.lag[0] - 0.5 * (from + to) * (s.lag[1] - s.lag[0]);
            let chip = s.scale * self.power(phi) * share;
            let width = s.width * (to - from);
            let force = |i: usize| (law.cut[i] * chip + law.edge[i] * touch) * width;
            let (t, r, a) = (force(0), force(1), force(2));
            let inward = r * s.sin + a * s.cos;
            let (sin, cos) = phi.sin_cos();
            sum[0] -= t * cos + inward * sin;
            sum[1] += t * sin - inward * cos;
            sum[2] += a * s.sin - r * s.cos;
            sum[3] += t * s.radius;
        }
    }

    /// Angles to try: even ones, and both sides of where a piece of an edge enters or leaves.
    fn angles(&self) -> Vec<f64> {
        // Off the angles at which teeth that are evenly spaced enter and leave at once.
        let even = |k| TAU * (f64::from(k) + 0.37) / f64::from(ANGLES);
        let mut angles: Vec<f64> = (0..ANGLES).map(even).collect();
        let step = (self.slices.len() / EVENTS).max(1);
        let last = self.slices.len() - 1;
        let (start, end) = window(self.cut, 0.5 * self.cut.d - self.cut.r_e);
        for j in 0..self.cut.z {
            let behind = f64::from(j) * TAU / f64::from(self.cut.z);
            for edge in [start, end] {
                angles.extend([behind + edge - 1e-7, behind + edge + 1e-7]);
            }
        }
        let some = self.slices.iter().enumerate();
        for (_, s) in some.filter(|(k, _)| k % step == 0 || *k == last) {
            for end in [0, 1] {
                for edge in [s.start[end], s.end[end]] {
                    for j in 0..self.cut.z {
                        let at = f64::from(j) * TAU / f64::from(self.cut.z) + edge + s.lag[end];
                        angles.extend([at - 1e-7, at + 1e-7]);
                    }
                }
            }
        }
        angles
    }
}

/// The force along and across the feed and along the axis, N, and the torque, N mm, with the tip of
/// the first tooth at an angle.
pub fn load(cut: &TurnCut, law: &Law, theta: f64, count: u32) -> [f64; 4] {
    Plain::new(cut, law, count).at(theta)
}

/// The same at many angles.
pub fn loads(cut: &TurnCut, law: &Law, thetas: &[f64], count: u32) -> Vec<[f64; 4]> {
    let plain = Plain::new(cut, law, count);
    thetas.iter().map(|theta| plain.at(*theta)).collect()
}

/// The peaks of a turn, with `count` slices a part of the edge: at many angles, and then closer and
/// closer around the best of them, since a peak may be narrower than their step.
pub fn peaks(cut: &TurnCut, law: &Law, count: u32) -> Peaks {
    let plain = Plain::new(cut, law, count);
    let tried = |t: f64| (t, plain.at(t));
    let loads: Vec<_> = plain.angles().into_iter().map(tried).collect();
    let most = |measure: fn(&[f64; 4]) -> f64| {
        let better = |best: (f64, f64), (t, load): (f64, [f64; 4])| {
            let value = measure(&load);
            if value > best.1 { (t, value) } else { best }
        };
        let mut best = loads.iter().copied().fold((0.0, 0.0), better);
        let mut step = TAU / f64::from(ANGLES);
        for _ in 0..4 {
            let around = (-20..=20).map(|k| best.0 + step * f64::from(k) / 20.0);
            best = around.map(tried).fold(best, better);
            step /= 10.0;
        }
        best.1
    };
    Peaks {
        lateral: most(|l| l[0].hypot(l[1])),
        torque: most(|l| l[3]),
        lift: most(|l| l[2]),
        along: most(|l| l[0]),
    }
}
