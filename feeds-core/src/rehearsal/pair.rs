//! What a rehearsal proves, check by check.

use super::Runs;
use crate::limit::{Bound, Check, Found, Harm, Limit, State};
use crate::plan::limits as l;

/// A rehearsal that comes this near to the production value has reached it.
pub const NEAR: f64 = 1e-3;

/// What the rehearsal says of one check.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Proof {
    /// The rehearsal was as hard on it as production will be.
    Proven,
    /// It went part of the way: the share of what production asks, above 0 and below 1.
    Partly(f64),
    /// It says nothing.
    NotProven(Why),
    /// No cut proves it: what the book says, what the machine does by itself, how the cutter is
    /// made. It is the same in both runs.
    Same,
}

/// Why a rehearsal says nothing of a check.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Why {
    /// One of the runs lacks a number.
    Unknown(&'static str),
    /// The bound belongs to the stock, and the stand-in has its own.
    OfTheStock,
    /// The rehearsal itself would be over, and is not to be run so.
    Over,
    /// The rehearsal only rubs: it proves the path and its clearances.
    Rubs,
    /// The rehearsal does not load it at all.
    NotTried,
}

/// One check of both runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CheckPair {
    /// The limit.
    pub limit: &'static Limit,
    /// As production meets it.
    pub production: Check,
    /// As the rehearsal meets it.
    pub rehearsal: Option<Check>,
    /// What the rehearsal proves.
    pub verdict: Proof,
}

/// Limits whose bound is a row of the stock: another stock cannot prove them.
static OF_THE_STOCK: [&Limit; 4] = [
    &l::CUTTING_SPEED,
    &l::MACHINE_LIMITED,
    &l::FEED_BAND,
    &l::FEED_LOW,
];

/// Limits that no cut tries: the machine's own speeds, and the shape of the cutter and its way in.
static UNTRIED: [&Limit; 6] = [
    &l::SPINDLE_MOST,
    &l::SPINDLE_LEAST,
    &l::FEED_SPEED,
    &l::FLUTE_LENGTH,
    &l::RAMP_ANGLE,
    &l::HELIX_HOLE,
];

/// Whether a cut can prove a limit at all: a load can be tried, a rule of the book cannot.
fn is_tried(limit: &Limit) -> bool {
    l::is_of_loads(limit) || (limit.harm < Harm::Book && !UNTRIED.contains(&limit))
}

/// Pairs the checks of production with those of a rehearsal, in production's order.
///
/// A ceiling is proven when the rehearsal reached production's value, and came as near to its
/// bound; a floor when it went as low, and as near. A check the rehearsal would break is never
/// proven by it, and a rehearsal that only rubs proves none.
pub fn pairs(runs: &Runs, production: &[Check], rehearsal: &[Check]) -> Vec<CheckPair> {
    let rubs = rehearsal
        .iter()
        .any(|c| c.limit == &l::CHIP_FLOOR && c.state() == State::Over);
    production
        .iter()
        .map(|check| {
            let other = rehearsal.iter().find(|c| c.limit == check.limit).copied();
            let foreign = !runs.same_stock() && OF_THE_STOCK.contains(&check.limit);
            CheckPair {
                limit: check.limit,
                production: *check,
                rehearsal: other,
                verdict: match verdict(check, other.as_ref(), foreign) {
                    Proof::Proven | Proof::Partly(_) if rubs => Proof::NotProven(Why::Rubs),
                    verdict => verdict,
                },
            }
        })
        .collect()
}

fn verdict(production: &Check, rehearsal: Option<&Check>, foreign: bool) -> Proof {
    let Some(rehearsal) = rehearsal else {
        return Proof::NotProven(Why::NotTried);
    };
    let found = (production.found, rehearsal.found);
    let ((value, bound), (tried, tried_bound)) = match found {
        (
            Found::Known { value, bound },
            Found::Known {
                value: tried,
                bound: tried_bound,
            },
        ) => ((value, bound), (tried, tried_bound)),
        (Found::Needs(what), _) | (_, Found::Needs(what)) => {
            return Proof::NotProven(Why::Unknown(what));
        }
    };
    if foreign {
        return Proof::NotProven(Why::OfTheStock);
    }
    if !is_tried(production.limit) {
        return Proof::Same;
    }
    if rehearsal.state() == State::Over {
        return Proof::NotProven(Why::Over);
    }
    let share = match bound {
        Bound::AtMost(most) => {
            let reached = over(tried, value);
            reached.min(over(tried / tried_bound.si(), value / most))
        }
        Bound::AtLeast(least) => {
            let went = over(value, tried);
            went.min(over(tried_bound.si() / tried, least / value))
        }
    };
    if share >= 1.0 - NEAR {
        Proof::Proven
    } else if share > 0.0 {
        Proof::Partly(share)
    } else {
        Proof::NotProven(Why::NotTried)
    }
}

/// How much of what is asked was tried; all of it where nothing is asked.
fn over(tried: f64, asked: f64) -> f64 {
    if asked > 0.0 {
        let share = tried / asked;
        if share.is_nan() { 0.0 } else { share }
    } else {
        1.0
    }
}
