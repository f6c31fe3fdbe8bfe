//! What a worn edge does at the same settings.

use crate::limit::{Check, Limit};
use crate::plan::checks::Checks;
use crate::plan::limits;
use crate::plan::loads::Loads;
use crate::quantity::Length;

/// What a worn edge does at the same settings.
#[derive(Clone, Debug, PartialEq)]
pub struct Worn {
    /// Its wear land.
    pub land: Length,
    /// The loads at the nominal engagement.
    pub loads: Loads,
    /// Wall, breakage and hold with it.
    pub checks: Vec<Check>,
    /// Width of the cut: a wall that would be off by more is beyond what a law of bending tells.
    pub width: Length,
}

/// What a worn edge moves most.
const WORN: [&Limit; 4] = [
    &limits::WALL,
    &limits::STRESS,
    &limits::RUPTURE,
    &limits::HOLD,
];

/// The checks that it moves most.
pub(super) fn checks(all: &Checks) -> Vec<Check> {
    let moved = all.iter().filter(|c| WORN.contains(&c.limit));
    moved.copied().collect()
}
