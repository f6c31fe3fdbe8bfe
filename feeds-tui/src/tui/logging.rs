//! What was seen of the open pass goes into the log of the shop.

use super::effect::Effect;
use super::shelves::changed;
use super::state::ScreenState;
use super::words;
use crate::clock;
use crate::job::description_of;
use crate::own::record::{Logged, as_logged, record};

/// Takes what was typed; the shop is saved by the desk, and `u` takes it back.
pub(super) fn taken(state: &mut ScreenState, text: &str) -> Result<Effect, String> {
    let shelves = state.shelves();
    let (mut description, _) = description_of(&state.job, state.at, &shelves);
    let entries: Vec<&str> = text.split_whitespace().collect();
    let first = |errors: Vec<feeds_core::error::EntryError>| {
        errors.first().map(ToString::to_string).unwrap_or_default()
    };
    let seen = as_logged(&entries, &mut description).map_err(first)?;
    let of = Logged::of(&state.job, state.at, &description, seen, clock::today());
    let cut = record(of, &shelves).map_err(first)?;
    let mut shop = state.shelf.shop().clone();
    let number = shop.log.add(cut);
    let said = words::logged(number);
    Ok(changed(state, &said, |now| *now = shop))
}
