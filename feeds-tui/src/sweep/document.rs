//! A varied pass as scripts read it.

use super::governed::stretches;
use super::{SweepPoint, SweepRange, Swept};
use feeds_core::limit::ENDLESS_MARGIN;
use feeds_core::quantity::{Amount, unit};
use feeds_core::symbol as s;
use serde::Serialize;

/// The whole answer; the order of keys is fixed.
#[derive(Debug, Serialize)]
pub struct SweepAnswer<'a> {
    sweep: SweepDocument,
    passes: Vec<PassDocument<'a>>,
}

#[derive(Debug, Serialize)]
struct SweepDocument {
    entry: &'static str,
    symbol: &'static str,
    from: Amount,
    to: Amount,
}

#[derive(Debug, Serialize)]
struct PassDocument<'a> {
    name: &'a str,
    points: Vec<PointDocument<'a>>,
    stretches: Vec<StretchDocument>,
    unknown: Vec<&'static str>,
}

#[derive(Debug, Serialize)]
struct PointDocument<'a> {
    at: Amount,
    chip_max: Option<Amount>,
    chip_floor: Option<Amount>,
    lateral_force_peak: Option<Amount>,
    tip_deflection: Option<Amount>,
    extrapolated: Option<bool>,
    governs: Option<&'static str>,
    state: Option<&'static str>,
    margin: Option<f64>,
    used: Option<f64>,
    error: Option<&'a str>,
}

#[derive(Debug, Serialize)]
struct StretchDocument {
    from: Amount,
    to: Amount,
    governs: Option<&'static str>,
    worst: Option<&'static str>,
}

/// The answer as scripts read it.
pub fn document<'a>(range: &SweepRange, passes: &'a [Swept]) -> SweepAnswer<'a> {
    let at = |si: f64| range.symbol.amount(si);
    let pass = |swept: &'a Swept| PassDocument {
        name: &swept.name,
        points: swept
            .points
            .iter()
            .map(|p| point(at(p.at), p.outcome.as_ref().map_err(String::as_str)))
            .collect(),
        stretches: stretches(&swept.points)
            .iter()
            .map(|stretch| StretchDocument {
                from: at(stretch.from),
                to: at(stretch.to),
                governs: stretch.limit.map(|l| l.name),
                worst: stretch.state.map(feeds_core::limit::State::word),
            })
            .collect(),
        unknown: swept.unknown().iter().map(|c| c.limit.name).collect(),
    };
    SweepAnswer {
        sweep: SweepDocument {
            entry: range.entry.key,
            symbol: range.symbol.text,
            from: at(range.from),
            to: at(range.to),
        },
        passes: passes.iter().map(pass).collect(),
    }
}

fn point<'a>(at: Amount, outcome: Result<&SweepPoint, &'a str>) -> PointDocument<'a> {
    let um = |si: f64| Amount::of(si, &unit::MICROMETRE);
    let known = outcome.ok();
    let used = known
        .and_then(SweepPoint::used)
        .filter(|used| *used < -ENDLESS_MARGIN);
    PointDocument {
        at,
        chip_max: known.map(|o| um(o.h_max)),
        chip_floor: known.and_then(|o| o.h_min).map(um),
        lateral_force_peak: known.and_then(|o| o.force).map(|f| s::F_XY.amount(f)),
        tip_deflection: known.and_then(|o| o.tip).map(um),
        extrapolated: known.map(|o| o.extrapolated),
        governs: known.and_then(SweepPoint::limit).map(|l| l.name),
        state: known
            .and_then(SweepPoint::state)
            .map(feeds_core::limit::State::word),
        margin: used.map(|used| 1.0 - used),
        used,
        error: outcome.err(),
    }
}
