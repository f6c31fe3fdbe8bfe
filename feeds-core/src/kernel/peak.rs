//! Peaks over the turn: between the kinks, where an edge's end enters or leaves the cut, the load
//! is smooth, so each stretch is sampled and the best sample refined.

use core::f64::consts::PI;

use super::root::golden;
use super::survey::{Survey, UnitLoads};
use super::turn::{Law, Load, Turn};

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

/// Mean step between samples of [`Turn::extremes`], rad.
const FINE: f64 = 0.04;
/// Fewest steps in a stretch.
const FEWEST: f64 = 8.0;

impl Turn<'_> {
    /// Extremes over a turn, to about 1e-9 of the peak for a square end; tens of microseconds.
    pub fn extremes(&self) -> Extremes {
        let samples = self.survey();
        let most = |i: usize| self.most(&samples, MEASURES[i], 1e-7);
        let (lateral_at, _) = most(0);
        Extremes {
            least: Load {
                x: -most(2).1,
                y: -most(4).1,
                z: -most(6).1,
                torque: -most(8).1,
            },
            most: Load {
                x: most(1).1,
                y: most(3).1,
                z: most(5).1,
                torque: most(7).1,
            },
            lateral: self.at(lateral_at),
            lateral_at,
        }
    }

    /// Samples of each smooth stretch of a period.
    fn survey(&self) -> Vec<Vec<(f64, Load)>> {
        let mut samples = Vec::new();
        let mut shift = 0.0;
        while shift < self.period() - 0.5 * self.pitch() {
            self.stretches(|from, to| {
                let count = ((to - from) / FINE).ceil().max(FEWEST);
                let mut stretch = Vec::new();
                let mut k = 0.0;
                while k <= count {
                    let theta = shift + place(from, to, k / count);
                    stretch.push((theta, self.at(theta)));
                    k += 1.0;
                }
                samples.push(stretch);
            });
            shift += self.pitch();
        }
        samples
    }

    /// Place, to within `tolerance`, and height of the largest value: every crest of the samples
    /// that might turn out to be it is refined.
    fn most(&self, samples: &[Vec<(f64, Load)>], measure: Measure, tolerance: f64) -> (f64, f64) {
        let values = || {
            samples
                .iter()
                .flatten()
                .map(|&(theta, load)| (theta, measure(&load)))
        };
        let mut best = (0.0, f64::NEG_INFINITY);
        let mut least = f64::INFINITY;
        for (theta, value) in values() {
            least = least.min(value);
            if value > best.1 {
                best = (theta, value);
            }
        }
        let reach = best.1.abs().max(least.abs());
        let enough = best.1 - 1e-2 * reach;
        for stretch in samples {
            for (k, &(theta, load)) in stretch.iter().enumerate() {
                let value = measure(&load);
                let before = stretch[k.saturating_sub(1)];
                let after = stretch[(k + 1).min(stretch.len() - 1)];
                let (rise, fall) = (value - measure(&before.1), value - measure(&after.1));
                // A constant load has no crest but rounding.
                let crest = rise >= 0.0 && fall >= 0.0 && rise.max(fall) > 1e-12 * reach;
                if crest && value > enough {
                    let top = golden(before.0, after.0, tolerance, |t| measure(&self.at(t)));
                    let top = if top.1 > value { top } else { (theta, value) };
                    best = if top.1 > best.1 { top } else { best };
                }
            }
        }
        best
    }

    /// The peaks alone from a few dozen angles, for searches. A square end under a straight law has
    /// them to 1e-6, in microseconds; others within 1e-3, lift and the force along the feed within
    /// 5e-3 of the peak, and a round end takes a tenth of a millisecond. For many feeds, [`Survey`]
    /// once.
    pub fn peaks(&self) -> Peaks {
        self.peaks_of(&Survey::new(self))
    }

    /// The same with this cut surveyed before, at this or another feed.
    pub fn peaks_of(&self, survey: &Survey) -> Peaks {
        survey.peaks(self.teeth())
    }

    /// The most that one tooth takes across the cut, N, by what the parts of a law add in this cut.
    pub fn radial_of(&self, units: &UnitLoads, law: &Law) -> f64 {
        units.radial(law, self.teeth())
    }
}

/// Samples closer towards the ends of a stretch, where sin^p may rise with a cusp.
pub(super) fn place(from: f64, to: f64, share: f64) -> f64 {
    from + (to - from) * 0.5 * (1.0 - (PI * share).cos())
}
