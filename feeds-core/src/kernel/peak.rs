//! Peaks over the turn: between the kinks, where an edge's end enters or leaves the cut, the load
//! is smooth, so each stretch is sampled and the best sample refined.

use super::root::golden;
use super::turn::{INSIDE, Load, Turn};

/// Least and most of each component over a turn, and the largest lateral force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extremes {
    /// Componentwise least: N and N mm.
    pub least: Load,
    /// Componentwise most: N and N mm.
    pub most: Load,
    /// Load at the angle where the lateral force is largest.
    pub lateral: Load,
    /// That angle of tooth 0, rad.
    pub lateral_at: f64,
}

impl Extremes {
    /// Largest lateral force, N.
    pub fn lateral_peak(&self) -> f64 {
        self.lateral.lateral()
    }

    /// Its direction, rad from the feed (+x) towards +y, -π ..= π.
    pub fn direction(&self) -> f64 {
        self.lateral.y.atan2(self.lateral.x)
    }
}

/// The peaks the checks need.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Peaks {
    /// Lateral force, N.
    pub lateral: f64,
    /// Torque, N mm.
    pub torque: f64,
    /// Axial pull (lift of the part), N; 0 when the cut only presses down.
    pub lift: f64,
    /// Force along the feed, +x, N; 0 when it only opposes the feed.
    pub along: f64,
}

type Measure = fn(&Load) -> f64;

/// Everything [`Extremes`] maximises, least values as the most of their opposite.
const MEASURES: [Measure; 9] = [
    |l| l.x * l.x + l.y * l.y,
    |l| l.x,
    |l| -l.x,
    |l| l.y,
    |l| -l.y,
    |l| l.z,
    |l| -l.z,
    |l| l.torque,
    |l| -l.torque,
];

/// Widest step between samples of [`Turn::extremes`], rad.
const FINE: f64 = 0.04;
/// Steps in each stretch of [`Turn::peaks`].
const COARSE: u32 = 6;

impl Turn<'_> {
    /// Extremes over a turn, to about 1e-9 of the peak; some ten microseconds for a square end.
    pub fn extremes(&self) -> Extremes {
        let mut best = [(f64::NEG_INFINITY, 0.0, 0.0); MEASURES.len()];
        self.stretches(|from, to| {
            let count = ((to - from) / FINE).ceil().max(4.0);
            let step = (to - from) / count;
            let mut k = 0.0;
            while k <= count {
                let theta = (from + k * step).min(to);
                let load = self.at(theta);
                for (best, measure) in best.iter_mut().zip(MEASURES) {
                    let value = measure(&load);
                    if value > best.0 {
                        *best = (value, (theta - step).max(from), (theta + step).min(to));
                    }
                }
                k += 1.0;
            }
        });
        let refine = |i: usize| {
            let (sampled, from, to) = best[i];
            let (theta, value) = golden(from, to, 1e-7, |t| MEASURES[i](&self.at(t)));
            (theta, value.max(sampled))
        };
        let (lateral_at, _) = refine(0);
        Extremes {
            least: Load {
                x: -refine(2).1,
                y: -refine(4).1,
                z: -refine(6).1,
                torque: -refine(8).1,
            },
            most: Load {
                x: refine(1).1,
                y: refine(3).1,
                z: refine(5).1,
                torque: refine(7).1,
            },
            lateral: self.at(lateral_at),
            lateral_at,
        }
    }

    /// The peaks alone from a few dozen angles, for searches: within 1e-4 for a square end.
    pub fn peaks(&self) -> Peaks {
        let mut peaks = [0.0_f64; 4];
        self.stretches(|from, to| {
            let step = (to - from) / f64::from(COARSE);
            let mut before = [[0.0; 4]; 2];
            for k in 0..=COARSE {
                let l = self.at(from + f64::from(k) * step);
                let now = [l.x * l.x + l.y * l.y, l.torque, l.z, l.x];
                for (i, peak) in peaks.iter_mut().enumerate() {
                    *peak = peak.max(now[i]);
                    if k >= 2 {
                        *peak = peak.max(crest(before[0][i], before[1][i], now[i]));
                    }
                }
                before = [before[1], now];
            }
        });
        let [squared, torque, lift, along] = peaks;
        Peaks {
            lateral: squared.sqrt(),
            torque,
            lift,
            along,
        }
    }

    /// Calls `visit` with each smooth stretch of the period, its ends just inside the kinks.
    fn stretches(&self, mut visit: impl FnMut(f64, f64)) {
        let kinks = self.kinks();
        let Some(&first) = kinks.first() else { return };
        let last = [first + self.period()];
        let ends = kinks.iter().skip(1).chain(&last);
        for (&from, &to) in kinks.iter().zip(ends) {
            if to - from > 2.0 * INSIDE {
                visit(from + INSIDE, to - INSIDE);
            }
        }
    }
}

/// Top of the parabola through three even samples when it lies between them.
fn crest(a: f64, b: f64, c: f64) -> f64 {
    let (slope, bend) = (0.5 * (c - a), a - 2.0 * b + c);
    if b >= a && b >= c && bend < 0.0 {
        b - 0.5 * slope * slope / bend
    } else {
        b
    }
}
