//! One tooth pitch surveyed once, for the peaks at any feed.
//!
//! A chip only scales what a tooth adds to the load, by the same share at every angle. So the
//! parts of each tooth are sampled once, and put together for each feed.

use super::peak::{Peaks, place};
use super::root::golden;
use super::slices::Band;
use super::turn::{INSIDE, Law, Load, Tooth, Turn, TurnKind};

/// Mean step between samples on a square end, rad, and the fewest steps in a stretch: a curve
/// through all of them follows a straight law to some 1e-8 of the peak.
const SMOOTH: (f64, f64) = (0.1, 7.0);
/// The same on a round end, where the load is bumpier between the kinks.
const BUMPY: (f64, f64) = (0.04, 8.0);
/// How closely the crests of a round end are looked for, rad.
const CREST: f64 = 5e-4;
/// Crests this near to the highest, as a share of it, may turn out to be it.
const NEAR: f64 = 0.02;
/// A crest rises by no more than this share of the whole range above the samples beside it.
const REACH: f64 = 0.1;
/// Crests this near to the highest by a cubic are looked at by the curve through the stretch, and
/// the curve is believed this near to the cubic, which is no further off than 3e-4: where a chip
/// begins at nothing under a bent law the curve wriggles. A share of the whole range.
const CLOSE: f64 = 5e-4;
/// How far beside a crest that curve is asked as well, as a share of the step there.
const BESIDE: f64 = 0.1;

/// The same for a cut met from outside.
const MET: (f64, f64) = (0.12, 1.0);

/// What one tooth adds at a sampled angle.
#[derive(Clone, Copy, Debug)]
struct Part {
    tooth: usize,
    /// At a share of 1.
    cut: Load,
    edge: Load,
}

/// A sampled angle.
#[derive(Clone, Copy, Debug)]
struct Sample {
    theta: f64,
    /// Its parts end here, and begin where those of the sample before end.
    parts: usize,
    /// A smooth stretch begins here.
    first: bool,
}

/// The samples of one pitch.
#[derive(Clone, Debug)]
pub struct Survey {
    samples: Vec<Sample>,
    parts: Vec<Part>,
    /// Between samples the load is smooth, so that a curve through them has its crests.
    smooth: bool,
}

/// What 1 N/mm2 and 1 N/mm add at each sampled angle, for any law of one exponent.
#[derive(Clone, Debug)]
pub struct UnitLoads {
    /// Tangential, radial and axial.
    sides: [Vec<Part>; 3],
    /// The end edge, tangential and axial.
    ends: [Vec<Part>; 2],
}

impl UnitLoads {
    /// The most that one tooth takes across the cut, N, when the teeth take `teeth`.
    pub(super) fn radial(&self, law: &Law, teeth: &[Tooth]) -> f64 {
        let across = self.sides[1].iter().flat_map(|part| {
            teeth.iter().map(|tooth| {
                let chip = part.cut * (law.cut[1] * tooth.share);
                (chip + part.edge * (law.edge[1] * tooth.cuts)).lateral()
            })
        });
        across.fold(0.0, f64::max)
    }
}

/// Adds the parts of a load, one for each tooth in cut.
fn gather(parts: &mut Vec<Part>, turn: &Turn<'_>, theta: f64) {
    let start = parts.len();
    turn.parts(theta, |tooth, cut, edge| {
        // The bands of a round end add to the same tooth.
        let part = parts[start..].iter_mut().find(|p| p.tooth == tooth);
        if let Some(part) = part {
            part.cut += cut;
            part.edge += edge;
        } else {
            parts.push(Part { tooth, cut, edge });
        }
    });
}

/// One angle, for the load at any feed.
#[derive(Clone, Debug)]
pub(super) struct Pinned(Vec<Part>);

impl Pinned {
    pub(super) fn at(turn: &Turn<'_>, theta: f64) -> Self {
        let mut parts = Vec::new();
        gather(&mut parts, turn, theta);
        Self(parts)
    }

    /// The load there when the teeth take `teeth`.
    pub(super) fn load(&self, teeth: &[Tooth]) -> Load {
        sum(self.0.iter().map(|part| {
            let tooth = teeth[part.tooth];
            part.cut * tooth.share + part.edge * tooth.cuts
        }))
    }
}

/// What a peak is sought of: the square of the lateral force, torque, lift, force along the feed.
fn measured(l: Load) -> [f64; 4] {
    [l.x * l.x + l.y * l.y, l.torque, l.z, l.x]
}

/// A way to put the parts together: at the share of the feed the survey is made at, or without.
type Mix = fn(&[Part], f64) -> Load;

/// The feed of the survey, a thick chip, a chip of nothing, and one tooth alone, as when the
/// others are set back.
const MIXES: [Mix; 4] = [
    |parts, share| sum(parts.iter().map(|p| p.cut * share + p.edge)),
    |parts, _| sum(parts.iter().map(|p| p.cut)),
    |parts, _| sum(parts.iter().map(|p| p.edge)),
    |parts, share| {
        let squared = |l: &Load| measured(*l)[0];
        let each = parts.iter().map(|p| p.cut * share + p.edge);
        each.max_by(|a, b| squared(a).total_cmp(&squared(b)))
            .unwrap_or_default()
    },
];

fn sum(loads: impl Iterator<Item = Load>) -> Load {
    loads.fold(Load::default(), |sum, load| sum + load)
}

impl Survey {
    /// Samples a cut, for any feed: its own only tells where a round end is looked at closely.
    pub fn new(turn: &Turn<'_>) -> Self {
        let mut survey = Self {
            samples: Vec::with_capacity(48),
            parts: Vec::with_capacity(96),
            smooth: turn.kind() == TurnKind::Square,
        };
        let (step, fewest) = match turn.kind() {
            TurnKind::Square => SMOOTH,
            TurnKind::Round => BUMPY,
            TurnKind::Met => MET,
        };
        // The end of a stretch is the beginning of the next unless the load jumps there.
        let shared = turn.kind() == TurnKind::Met && !turn.jumps();
        turn.stretches(|from, to| {
            let count = ((to - from) / step).ceil().max(fewest);
            let last = if shared { count - 1.0 } else { count };
            let mut k = 0.0;
            while k <= last {
                survey.sample(turn, place(from, to, k / count), k == 0.0);
                k += 1.0;
            }
        });
        if turn.kind() == TurnKind::Round {
            survey.refine(turn);
        }
        survey
    }

    /// Samples the crests of a round end closely: its bands leave kinks of their own there.
    fn refine(&mut self, turn: &Turn<'_>) {
        let count = self.samples.len();
        let share = turn.teeth().first().map_or(1.0, |t| t.share);
        for (mix, which) in MIXES.iter().flat_map(|mix| (0..4).map(move |i| (mix, i))) {
            let height = |survey: &Self, at: usize| {
                let from = at.checked_sub(1).map_or(0, |b| survey.samples[b].parts);
                measured(mix(&survey.parts[from..survey.samples[at].parts], share))[which]
            };
            let most = (0..count).fold(0.0_f64, |m, k| m.max(height(self, k)));
            for k in 0..count {
                let before = if self.samples[k].first { k } else { k - 1 };
                let last = k + 1 == count || self.samples[k + 1].first;
                let after = if last { k } else { k + 1 };
                let here = height(self, k);
                let sides = [height(self, before), height(self, after)];
                let crest = sides.iter().all(|s| here >= *s) && here > sides[0].min(sides[1]);
                if crest && here > most * (1.0 - NEAR) {
                    let ends = [before, after].map(|k| self.samples[k].theta);
                    golden(ends[0], ends[1], CREST, |theta| {
                        self.sample(turn, theta, true);
                        height(self, self.samples.len() - 1)
                    });
                }
            }
        }
    }

    fn sample(&mut self, turn: &Turn<'_>, theta: f64, first: bool) {
        gather(&mut self.parts, turn, theta);
        self.samples.push(Sample {
            theta,
            parts: self.parts.len(),
            first,
        });
    }

    /// What each part of a law adds at the sampled angles: see [`Survey::weigh`].
    pub fn units(&self, turn: &Turn<'_>) -> UnitLoads {
        let mut turn = turn.clone();
        let one = |k: usize| {
            let mut unit = [0.0; 3];
            unit[k] = 1.0;
            unit
        };
        let mut parts = |law: &Law| {
            turn.take_law(law);
            let mut survey = Self {
                samples: Vec::with_capacity(self.samples.len()),
                parts: Vec::with_capacity(self.parts.len()),
                smooth: self.smooth,
            };
            for sample in &self.samples {
                survey.sample(&turn, sample.theta, sample.first);
            }
            survey.parts
        };
        let none = Law::linear([0.0; 3], [0.0; 3]);
        UnitLoads {
            sides: [0, 1, 2].map(|k| parts(&Law::linear(one(k), one(k)))),
            ends: [0, 2].map(|k| parts(&none.with_end(one(k)))),
        }
    }

    /// The same samples under another law.
    pub fn weigh(&mut self, units: &UnitLoads, law: &Law) {
        let [t, r, a] = &units.sides;
        let [end_t, end_a] = &units.ends;
        for (i, part) in self.parts.iter_mut().enumerate() {
            part.cut = t[i].cut * law.cut[0] + r[i].cut * law.cut[1] + a[i].cut * law.cut[2];
            part.edge = t[i].edge * law.edge[0]
                + r[i].edge * law.edge[1]
                + a[i].edge * law.edge[2]
                + end_t[i].edge * law.end[0]
                + end_a[i].edge * law.end[2];
        }
    }

    /// The peaks over a turn when the teeth take `teeth`.
    pub(super) fn peaks(&self, teeth: &[Tooth]) -> Peaks {
        let (mut peaks, mut least) = ([0.0_f64; 4], [0.0_f64; 4]);
        let mut heights = Vec::with_capacity(self.samples.len());
        let mut loads = Vec::with_capacity(self.samples.len());
        // The teeth as they stand, then turned by a pitch each.
        let mut teeth = teeth.to_vec();
        for _ in 0..teeth.len() {
            heights.clear();
            loads.clear();
            let mut from = 0;
            for sample in &self.samples {
                let mut l = Load::default();
                for part in &self.parts[from..sample.parts] {
                    let tooth = teeth[part.tooth];
                    l += part.cut * tooth.share + part.edge * tooth.cuts;
                }
                from = sample.parts;
                let now = measured(l);
                for (i, height) in now.into_iter().enumerate() {
                    peaks[i] = peaks[i].max(height);
                    least[i] = least[i].min(height);
                }
                heights.push(now);
                loads.push(l);
            }
            if self.smooth {
                self.crests((&heights, &loads), &mut peaks, &least);
            }
            teeth.rotate_left(1);
        }
        let [squared, torque, lift, along] = peaks;
        Peaks {
            lateral: squared.sqrt(),
            torque,
            lift,
            along,
        }
    }

    /// Raises the peaks to the crests that lie between samples.
    fn crests(
        &self,
        (heights, loads): (&[[f64; 4]], &[Load]),
        peaks: &mut [f64; 4],
        least: &[f64; 4],
    ) {
        for at in 1..heights.len() {
            if self.samples[at].first {
                continue;
            }
            for (i, peak) in peaks.iter_mut().enumerate() {
                let point = |k: usize| (self.samples[k].theta, heights[k][i]);
                let (b, c) = (point(at - 1), point(at));
                let range = *peak - least[i];
                if b.1.max(c.1) < *peak - REACH * range {
                    continue;
                }
                let before = (!self.samples[at - 1].first).then(|| point(at - 2));
                let goes_on = self.samples.get(at + 1).is_some_and(|next| !next.first);
                let after = goes_on.then(|| point(at + 1));
                let (place, top) = crest(before, [b, c], after);
                if place > b.0 && top > *peak - CLOSE * range {
                    let beside = BESIDE * (c.0 - b.0);
                    let on = self.stretch(at);
                    let asked = [-beside, 0.0, beside].map(|by| {
                        let load = self.between(loads, on, place + by);
                        (place + by, measured(load)[i])
                    });
                    let curve = parabola(asked);
                    let near = (curve - top).abs() <= CLOSE * range;
                    *peak = peak.max(if near { curve } else { top });
                }
            }
        }
    }

    /// The first and the last sample of the stretch that a sample is in.
    fn stretch(&self, at: usize) -> (usize, usize) {
        let first = (0..=at).rfind(|k| self.samples[*k].first).unwrap_or(0);
        let next = (at + 1..self.samples.len()).find(|k| self.samples[*k].first);
        (first, next.unwrap_or(self.samples.len()) - 1)
    }

    /// The load between the samples of a stretch by the curve through all of them: they lie as the
    /// extremes of a Chebyshev polynomial do, so that it wriggles nowhere.
    fn between(&self, loads: &[Load], (first, last): (usize, usize), theta: f64) -> Load {
        let (mut sum, mut weights) = (Load::default(), 0.0);
        let mut sign = 1.0;
        let each = self.samples[first..=last].iter().zip(&loads[first..=last]);
        for (k, (sample, load)) in each.enumerate() {
            let off = theta - sample.theta;
            if off.abs() < f64::EPSILON {
                return *load;
            }
            let half = if [0, last - first].contains(&k) {
                0.5
            } else {
                1.0
            };
            let weight = sign * half / off;
            sum += *load * weight;
            weights += weight;
            sign = -sign;
        }
        sum * (1.0 / weights)
    }
}

impl Turn<'_> {
    /// Whether a piece of an edge enters or leaves the cut all at once.
    fn jumps(&self) -> bool {
        self.bands.iter().any(Band::jumps)
    }

    /// Angles where an edge's end enters or leaves the cut, ascending within one pitch.
    fn kinks(&self) -> Vec<f64> {
        let mut kinks = Vec::with_capacity(8);
        // Between the outer bands of a round end the load is smooth but for the banding itself; the
        // few bands of one that was met outside leave kinks that count.
        let all = self.kind() == TurnKind::Met;
        for band in self.bands.iter().filter(|band| all || band.outer) {
            let upper = band.lag + band.span;
            let low = [band.low.start, band.low.end].map(|a| a + band.lag);
            let high = [band.high.start, band.high.end].map(|a| a + upper);
            let all = low.into_iter().chain(high);
            kinks.extend(all.map(|kink| kink.rem_euclid(self.pitch())));
        }
        kinks.sort_by(f64::total_cmp);
        kinks.dedup_by(|a, b| *a - *b <= 2.0 * INSIDE);
        kinks
    }

    /// Calls `visit` with each smooth stretch of a pitch, its ends just inside the kinks.
    pub(super) fn stretches(&self, mut visit: impl FnMut(f64, f64)) {
        let kinks = self.kinks();
        let Some(&first) = kinks.first() else { return };
        let last = [first + self.pitch()];
        let ends = kinks.iter().skip(1).chain(&last);
        for (&from, &to) in kinks.iter().zip(ends) {
            if to - from > 2.0 * INSIDE {
                visit(from + INSIDE, to - INSIDE);
            }
        }
    }
}

/// Place and height of the top between two samples of the curve through them and their neighbours,
/// or the first of them where it has none there: a cubic, a parabola where a neighbour is missing.
/// It goes on steadily where the top passes from one pair to the next, so that a search sees no
/// jump.
fn crest(
    before: Option<(f64, f64)>,
    [b, c]: [(f64, f64); 2],
    after: Option<(f64, f64)>,
) -> (f64, f64) {
    let slope = |from: (f64, f64), to: (f64, f64)| (to.1 - from.1) / (to.0 - from.0);
    let span = c.0 - b.0;
    let rise = slope(b, c);
    let bent = before.map(|a| (rise - slope(a, b)) / (c.0 - a.0));
    let bends = after.map(|d| (slope(c, d) - rise) / (d.0 - b.0));
    let (bend, twist, back) = match (before.zip(bent), after.zip(bends)) {
        (Some((a, bent)), Some((d, bends))) => (bent, (bends - bent) / (d.0 - a.0), b.0 - a.0),
        (Some((_, bend)), None) | (None, Some((_, bend))) => (bend, 0.0, 0.0),
        (None, None) => (0.0, 0.0, 0.0),
    };
    // The slope of the curve: a u^2 + b u + c at u beyond the first sample.
    let (slope_a, slope_b) = (3.0 * twist, 2.0 * (bend + twist * (back - span)));
    let slope_c = rise - span * (bend + twist * back);
    let at_end = slope_a * span * span + slope_b * span + slope_c;
    if slope_c <= 0.0 || at_end >= 0.0 {
        return b;
    }
    let root = (slope_b * slope_b - 4.0 * slope_a * slope_c)
        .max(0.0)
        .sqrt();
    let u = 2.0 * slope_c / (root - slope_b);
    let top = b.1 + u * (rise + (u - span) * (bend + twist * (u + back)));
    (b.0 + u, top)
}

/// Height of the top of the parabola through three points at even steps, or of the highest of them
/// where it has none among them.
fn parabola([a, b, c]: [(f64, f64); 3]) -> f64 {
    let (rise, bend) = (c.1 - a.1, a.1 - 2.0 * b.1 + c.1);
    if bend < 0.0 && rise.abs() < -2.0 * bend {
        b.1 - rise * rise / (8.0 * bend)
    } else {
        a.1.max(b.1).max(c.1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: a cubic is met exactly, and a sine to a 24th of the product of its distances from
    /// the samples, 3.4e-5.
    #[test]
    fn a_crest_is_that_of_the_curve() {
        let of = |f: fn(f64) -> f64, at: [f64; 4]| {
            let [a, b, c, d] = at.map(|x| (x, f(x)));
            crest(Some(a), [b, c], Some(d)).1
        };
        // x (1 - x)(2 + x) has its top where 2 - 2x - 3x^2 = 0.
        let cubic = |x: f64| x * (1.0 - x) * (2.0 + x);
        let top = cubic((-1.0 + 7.0_f64.sqrt()) / 3.0);
        assert!((of(cubic, [0.1, 0.3, 0.7, 0.8]) - top).abs() < 1e-12);
        assert!((of(f64::sin, [1.3, 1.5, 1.7, 1.9]) - 1.0).abs() < 3.5e-5);
        // Without a neighbour a parabola; a slope that keeps its sign has no top.
        let parabola = |x: f64| x * (1.0 - x);
        let [b, c, d] = [0.4, 0.7, 0.9].map(|x| (x, parabola(x)));
        assert!((crest(None, [b, c], Some(d)).1 - 0.25).abs() < 1e-12);
        assert!((crest(Some(b), [c, d], None).1 - c.1).abs() < 1e-12);
    }
}
