//! What stops the best cut, and where it could be changed at no loss.

use super::beside::beside;
use super::ground::{Ground, WIDER};
use super::{Best, Cut, kept};
use crate::kernel::best::{Area, Fineness, Ground as _, Worth, reaches};
use crate::kernel::root;
use crate::limit::Limit;
use crate::quantity::{Length, Quantity, SpindleSpeed};

/// A limit the best cut stands at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stop {
    /// The limit.
    pub limit: &'static Limit,
    /// Per cent of removal rate gained for each per cent by which it is eased.
    pub gain: f64,
}

/// Ranges over which the removal rate stays within 1e-4 of the best, the others being suited
/// to each value; `None` where there is one value only.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Flat {
    /// Depths.
    pub a_p: Option<(Length, Length)>,
    /// Widths.
    pub a_e: Option<(Length, Length)>,
    /// Spindle speeds.
    pub n: Option<(SpindleSpeed, SpindleSpeed)>,
}

/// The share of removal rate that is not worth a word.
pub(super) const SAME: f64 = 1e-4;

/// A limit this near its wanted margin is stood at.
const NEAR: f64 = 2e-5;
/// How far around the best a wider limit is looked for, and how finely.
const AROUND: f64 = 0.05;
const LOCAL: Fineness = Fineness {
    nodes: 3,
    tolerance: 2e-5,
};
/// Enough for one variable, all over its range.
const ALONG: Fineness = Fineness {
    nodes: 7,
    tolerance: 5e-6,
};

/// The limits the cut stands at, the one whose easing gains most first.
pub(super) fn stops(ground: &Ground<'_>, cut: &Cut) -> Vec<Stop> {
    let checks = ground.checks(cut.n, cut.f_z);
    let near = checks
        .iter()
        .filter(|c| kept(ground, c).is_some_and(|spare| spare < NEAR));
    let mut sketch = Ground {
        sketch: true,
        ..ground.clone()
    };
    let before = if ground.is_round() {
        most_around(&mut sketch, cut)
    } else {
        cut.q
    };
    let mut stops: Vec<Stop> = near
        .map(|check| {
            sketch.wider = Some(check.limit);
            let most = most_around(&mut sketch, cut).max(before);
            Stop {
                limit: check.limit,
                gain: (most / before - 1.0) / WIDER,
            }
        })
        .collect();
    stops.sort_by(|a, b| b.gain.total_cmp(&a.gain));
    stops
}

/// The most that is removed near a cut.
fn most_around(ground: &mut Ground<'_>, cut: &Cut) -> f64 {
    let place = (cut.a_p, cut.a_e);
    beside(ground, place, AROUND, &LOCAL).map_or(0.0, |top| match top.worth {
        Worth::Cut { q, .. } => q,
        _ => 0.0,
    })
}

/// Where the cut could be changed at no loss.
pub(super) fn flat(ground: &mut Ground<'_>, best: &Best) -> Flat {
    let cut = &Cut {
        a_p: best.a_p.value,
        a_e: best.a_e.value,
        n: best.n.turns().value,
        f_z: best.f_z.value,
        q: best.q.value,
    };
    let enough = if ground.is_round() {
        ground.sketch = true;
        most_around(ground, cut)
    } else {
        cut.q
    };
    let enough = enough * (1.0 - SAME);
    let areas = ground.areas();
    let ends = |of: fn(&Area) -> (f64, f64)| {
        let ends = areas.iter().map(of);
        ends.fold((f64::MAX, f64::MIN_POSITIVE), |a, b| {
            (a.0.min(b.0), a.1.max(b.1))
        })
    };
    let (depths, widths) = (ends(|a| a.a_p), ends(|a| a.a_e));
    let within = |area: &Area, x: f64| x >= area.a_p.0 && x <= area.a_p.1;
    let a_p = ground.free.a_p.then(|| {
        around(cut.a_p, depths, |a_p| {
            areas.iter().filter(|a| within(a, a_p)).any(|area| {
                let column = Area {
                    a_p: (a_p, a_p),
                    ..*area
                };
                reaches(ground, &column, &ALONG, enough)
            })
        })
    });
    let a_e = ground.free.a_e.then(|| {
        around(cut.a_e, widths, |a_e| {
            areas.iter().any(|area| {
                let row = Area {
                    a_e: (a_e, a_e),
                    ..*area
                };
                a_e <= area.a_e.1 && reaches(ground, &row, &ALONG, enough)
            })
        })
    });
    let given = ground.setup.given;
    let n = (given.n.is_none() && given.v_c.is_none()).then(|| {
        let checks = ground.turns(cut.a_p, cut.a_e);
        let flat = around(cut.n, checks, |n| {
            ground.setup.given.n = Some(SpindleSpeed::from_si(n));
            matches!(ground.worth(cut.a_p, cut.a_e, 0.0), Worth::Cut { q, .. } if q >= enough)
        });
        ground.setup.given.n = None;
        flat
    });
    let lengths = |(from, to): (f64, f64)| (Length::from_si(from), Length::from_si(to));
    ground.sketch = false;
    Flat {
        a_p: a_p.flatten().map(lengths),
        a_e: a_e.flatten().map(lengths),
        n: n.flatten()
            .map(|(from, to)| (SpindleSpeed::from_si(from), SpindleSpeed::from_si(to))),
    }
}

/// The range around a value over which something stays the same, if it is more than the value.
fn around(
    at: f64,
    (least, most): (f64, f64),
    mut same: impl FnMut(f64) -> bool,
) -> Option<(f64, f64)> {
    /// A range narrower than this, as a logarithm, is not a range.
    const NARROW: f64 = 5e-3;
    let mut reach = |to: f64| {
        let far = (to / at).ln();
        let step = far.signum() * NARROW;
        if far.abs() <= NARROW || !same(at * step.exp()) {
            return at;
        }
        let share = |x: f64| at * (step + x * (far - step)).exp();
        root::last(0.0, 1.0, 1e-3, |x| same(share(x))).map_or(at, share)
    };
    let (from, to) = (reach(least), reach(most));
    (to > from).then_some((from, to))
}
