//! How sure an answer is, as text and for scripts.

use super::text::line;
use feeds_core::band::{Band, CheckBand};
use feeds_core::limit::Limit;
use feeds_core::quantity::Amount;
use feeds_core::symbol::System;
use serde::Serialize;

/// Draws of a band.
pub const DRAWS: usize = 200;
/// The seed of every band: the same pass gives the same digits.
pub const SEED: u64 = 1;
/// Checks whose band is always told: what flies when it is over.
const ALWAYS: [&str; 2] = ["breakage", "hold"];

/// The bands as scripts read them.
#[derive(Debug, Serialize)]
pub struct Bands {
    draws: usize,
    seed: u64,
    inputs: Vec<InputDocument>,
    answers: Vec<AnswerDocument>,
    checks: Vec<CheckDocument>,
}

#[derive(Debug, Serialize)]
struct InputDocument {
    input: &'static str,
    share: f64,
}

#[derive(Debug, Serialize)]
struct AnswerDocument {
    answer: &'static str,
    low: Amount,
    high: Amount,
}

#[derive(Debug, Serialize)]
struct CheckDocument {
    limit: &'static str,
    margin_low: f64,
    margin_high: f64,
    over: f64,
    matters: Option<&'static str>,
}

/// The bands as scripts read them.
pub fn document(band: &Band) -> Bands {
    Bands {
        draws: band.draws,
        seed: SEED,
        inputs: band
            .spreads
            .iter()
            .map(|s| InputDocument {
                input: s.input.words(),
                share: s.share,
            })
            .collect(),
        answers: band
            .answers
            .iter()
            .map(|a| AnswerDocument {
                answer: a.symbol.name,
                low: a.symbol.amount(a.low),
                high: a.symbol.amount(a.high),
            })
            .collect(),
        checks: band
            .checks
            .iter()
            .map(|c| CheckDocument {
                limit: c.limit.name,
                margin_low: c.low,
                margin_high: c.high,
                over: c.over,
                matters: c.matters.map(feeds_core::band::Input::words),
            })
            .collect(),
    }
}

/// The bands as text: breakage and hold always, everything when `all` is wanted.
pub fn text(band: &Band, all: bool, system: System) -> String {
    let mut out = String::from("\nhow sure: 5 to 95 % of what the spread of the inputs gives\n");
    if all {
        for a in &band.answers {
            let show = |si| a.symbol.show(si, system);
            let text = format!("{} to {}", show(a.low), show(a.high));
            line(&mut out, &format!("  {}: ", a.symbol.name), &text);
        }
    }
    let told = band
        .checks
        .iter()
        .filter(|c| c.limit.hard && all || ALWAYS.contains(&c.limit.name));
    for check in told {
        line(&mut out, &format!("  {}: ", check.limit.title), &one(check));
    }
    out
}

/// The band of a check that is always told, once it is known.
pub fn always<'a>(band: Option<&'a Band>, limit: &Limit) -> Option<&'a CheckBand> {
    band?
        .check(limit.name)
        .filter(|c| ALWAYS.contains(&c.limit.name))
}

/// The band of a check in words.
pub fn one(check: &CheckBand) -> String {
    let matters = check.matters.map_or_else(String::new, |input| {
        format!("; {} matters most", input.words())
    });
    format!(
        "margin {:.0} to {:.0} %, over in {:.0} % of the draws{matters}",
        100.0 * check.low,
        100.0 * check.high,
        100.0 * check.over
    )
}
