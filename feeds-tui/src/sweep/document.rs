//! A varied pass as scripts read it.

use super::governed::stretches;
use super::{SweepPoint, SweepRange, Swept};
use feeds_core::limit::ENDLESS_MARGIN;
use feeds_core::quantity::{Amount, unit};
use feeds_core::symbol as s;
use serde_json::{Value, json};

/// The answer as scripts read it.
pub fn document<'a>(range: &SweepRange, passes: &'a [Swept]) -> Value {
    let at = |si: f64| range.symbol.amount(si);
    let pass = |swept: &'a Swept| {
        json!({
            "name": &swept.name,
            "points": swept
                .points
                .iter()
                .map(|p| point(at(p.at), p.outcome.as_ref().map_err(String::as_str)))
                .collect::<Vec<_>>(),
            "stretches": stretches(&swept.points)
                .iter()
                .map(|stretch| json!({
                    "from": at(stretch.from),
                    "to": at(stretch.to),
                    "governs": stretch.limit.map(|l| l.name),
                    "worst": stretch.state.map(feeds_core::limit::State::word),
                }))
                .collect::<Vec<_>>(),
            "unknown": swept.unknown().iter().map(|c| c.limit.name).collect::<Vec<_>>(),
        })
    };
    json!({
        "sweep": {
            "entry": range.entry.key,
            "symbol": range.symbol.text,
            "from": at(range.from),
            "to": at(range.to),
        },
        "passes": passes.iter().map(pass).collect::<Vec<_>>(),
    })
}

fn point(at: Amount, outcome: Result<&SweepPoint, &str>) -> Value {
    let um = |si: f64| Amount::of(si, &unit::MICROMETRE);
    let known = outcome.ok();
    let used = known
        .and_then(SweepPoint::used)
        .filter(|used| *used < -ENDLESS_MARGIN);
    json!({
        "at": at,
        "chip_max": known.map(|o| um(o.h_max)),
        "chip_floor": known.and_then(|o| o.h_min).map(um),
        "lateral_force_peak": known.and_then(|o| o.force).map(|f| s::F_XY.amount(f)),
        "tip_deflection": known.and_then(|o| o.tip).map(um),
        "extrapolated": known.map(|o| o.extrapolated),
        "governs": known.and_then(SweepPoint::limit).map(|l| l.name),
        "state": known
            .and_then(SweepPoint::state)
            .map(feeds_core::limit::State::word),
        "margin": used.map(|used| 1.0 - used),
        "used": used,
        "error": outcome.err(),
    })
}
