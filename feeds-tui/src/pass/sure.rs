//! How sure an answer is, as text and for scripts.

use super::text::line;
use feeds_core::band::{CheckBand, LikelyRange, Worn};
use feeds_core::limit::{Found, Limit};
use feeds_core::plan::limits;
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, Symbol, System};
use serde_json::{Value, json};

/// Draws of a band.
pub const DRAWS: usize = 200;
/// The seed of every band: the same pass gives the same digits.
pub const SEED: u64 = 1;
/// Checks whose band is always told: what flies when it is over.
const ALWAYS: [&str; 2] = ["rupture", "hold"];

/// The bands as scripts read them.
pub fn document(band: &LikelyRange) -> Value {
    json!({
        "draws": band.draws,
        "seed": SEED,
        "inputs": band
            .spreads
            .iter()
            .map(|s| json!({ "input": s.input.words(), "share": s.share }))
            .collect::<Vec<_>>(),
        "answers": band
            .answers
            .iter()
            .flat_map(|a| {
                let names = std::iter::once(a.symbol.name).chain(also(a.symbol));
                names.map(|answer| json!({
                    "answer": answer,
                    "low": a.symbol.amount(a.low),
                    "high": a.symbol.amount(a.high),
                }))
            })
            .collect::<Vec<_>>(),
        "checks": band
            .checks
            .iter()
            .map(|c| json!({
                "limit": c.limit.name,
                "margin_low": c.low,
                "margin_high": c.high,
                "over": c.over,
                "matters": c.matters.map(feeds_core::band::Input::words),
            }))
            .collect::<Vec<_>>(),
    })
}

/// What else scripts find an answer under.
fn also(symbol: &Symbol) -> Option<&'static str> {
    if symbol == &s::DEFLECTION {
        Some("bending of the tip")
    } else if symbol == &s::P_MEAN {
        Some("cutting power")
    } else {
        None
    }
}

/// Answers whose range always stands on the answer.
const SHOWN: [&Symbol; 4] = [&s::F_RADIAL, &s::WALL_ERROR, &s::DEFLECTION, &s::P_MEAN];

/// How an answer with a range is called.
fn name(symbol: &Symbol) -> &'static str {
    if symbol == &s::F_RADIAL {
        return "peak radial force of one edge";
    }
    also(symbol).unwrap_or(symbol.name)
}

/// What stands over the ranges.
pub const HEAD: &str = "likely range: nine of ten cuts lie in it, by how far sources differ";

/// The ranges as text under their heading.
pub fn text(band: &LikelyRange, all: bool, system: System) -> String {
    let mut out = format!("\n{HEAD}\n");
    for text in lines(band, all, system) {
        line(&mut out, "  ", &text);
    }
    out
}

/// The ranges, a line each: those of force, wall, bending, power, breakage and hold always, every
/// one when `all` is wanted.
pub fn lines(band: &LikelyRange, all: bool, system: System) -> Vec<String> {
    let answers = band.answers.iter();
    let answers = answers.filter(|a| all || SHOWN.contains(&a.symbol));
    let mut lines: Vec<String> = answers
        .filter_map(|a| {
            let range = range(a.symbol, a.low, a.high, system)?;
            Some(format!("{}: {range}", name(a.symbol)))
        })
        .collect();
    let checks = band.checks.iter();
    let checks = checks.filter(|c| !c.limit.guides() && all || ALWAYS.contains(&c.limit.name));
    lines.extend(checks.map(|check| format!("{}: {}", check.limit.title, one(check))));
    let worn = band.worn.as_ref();
    lines.extend(worn.map(|worn| format!("with a worn edge: {}", with_worn(worn, system))));
    lines
}

/// A range, in the unit of its high end; nothing where all of it is nought.
fn range(symbol: &Symbol, low: f64, high: f64, system: System) -> Option<String> {
    let show = |si| symbol.show(si, system);
    (show(low) != show(high) || show(high) != show(0.0))
        .then(|| format!("{} to {}", show(low), show(high)))
}

/// What a worn edge does to wall, breakage and hold, in one line.
pub fn with_worn(worn: &Worn, system: System) -> String {
    let mut parts = vec![format!("land {}", s::LAND.show(worn.land.si(), system))];
    for check in &worn.checks {
        let Found::Known { value, bound } = check.found else {
            continue;
        };
        let beyond = match check.margin() {
            Some(m) if m < 0.0 => format!("{:.1} x the limit", bound.used(value)),
            _ => format!("{:.0} % of what is allowed", 100.0 * bound.used(value)),
        };
        let part = if check.limit == &limits::WALL && value > worn.width.si() {
            "wall off by more than the width of the cut".to_owned()
        } else if check.limit == &limits::WALL {
            format!("wall off by {}", check.limit.symbol.show(value, system))
        } else if check.limit == &limits::HOLD {
            format!("hold {beyond}")
        } else if check.limit == &limits::RUPTURE {
            format!(
                "{:.0} % of the cutter's strength, a third is allowed",
                100.0 * bound.used(value)
            )
        } else {
            continue;
        };
        parts.push(part);
    }
    parts.join(", ")
}

/// The band of a check that is always told, once it is known.
pub fn always<'a>(band: Option<&'a LikelyRange>, limit: &Limit) -> Option<&'a CheckBand> {
    band?
        .check(limit.name)
        .filter(|c| ALWAYS.contains(&c.limit.name))
}

/// The band of a check in words.
pub fn one(check: &CheckBand) -> String {
    let matters = check.matters.map_or_else(String::new, |input| {
        format!("; {} matters most", input.words())
    });
    let beyond = match (100.0 * check.over).round() {
        share if share >= 1.0 => format!(", beyond it in {share:.0} of 100"),
        _ => String::new(),
    };
    format!(
        "{:.0} to {:.0} % of what is allowed{beyond}{matters}",
        100.0 * (1.0 - check.high),
        100.0 * (1.0 - check.low),
    )
}
