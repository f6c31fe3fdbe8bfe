//! Passes that were tried on the way to a plan, so that planning can rest and go on.
//!
//! A plan is worked out from its beginning every time; what was tried before is remembered, so it
//! soon comes to where it rested.

use super::cutters::{Shelved, Wanted};
use crate::pass::answered::Answered;
use crate::pass::description::Description;
use feeds_core::error::EntryError;
use std::collections::HashMap;
use std::fmt::Write as _;
use std::time::{Duration, Instant};

/// A pass that was worked out, or what is wrong with it.
type Tried = Result<Answered, Vec<EntryError>>;

/// What was tried so far, for one job and one shop. Without an end nothing rests.
#[derive(Clone, Debug, Default)]
pub struct PlanTries {
    known: HashMap<String, Tried>,
    shelved: Vec<(Wanted, Shelved)>,
    /// How long it works before it rests, and since when it does.
    slice: Option<Duration>,
    since: Option<Instant>,
    rests: bool,
}

impl PlanTries {
    /// Goes on for so long from the first try that is new, which is always worked out.
    pub fn go_on_for(&mut self, slice: Duration) {
        (self.slice, self.since, self.rests) = (Some(slice), None, false);
    }

    /// Whether it had to rest: what was planned is of no use, and is to be planned again.
    pub fn rests(&self) -> bool {
        self.rests
    }

    /// How many passes were tried.
    pub fn count(&self) -> usize {
        self.known.len()
    }

    /// What a pass of these entries comes to, in a job whose common entries are written so; nothing
    /// is worked out any more once it rests.
    pub(super) fn tried(
        &mut self,
        (common, texts): (&str, &Description),
        work_out: impl FnOnce() -> Tried,
    ) -> Tried {
        let mut key = common.to_owned();
        written(&mut key, texts);
        if let Some(tried) = self.known.get(&key) {
            return tried.clone();
        }
        if let Some(slice) = self.slice {
            let since = *self.since.get_or_insert_with(Instant::now);
            self.rests |= since.elapsed() > slice;
        }
        if self.rests {
            return Err(Vec::new());
        }
        let tried = work_out();
        self.known.insert(key, tried.clone());
        tried
    }

    /// The shelf, sorted out once.
    pub(super) fn shelved(&mut self, wanted: Wanted, sort: impl FnOnce() -> Shelved) -> Shelved {
        if let Some((_, shelved)) = self.shelved.iter().find(|(w, _)| *w == wanted) {
            return shelved.clone();
        }
        let shelved = sort();
        self.shelved.push((wanted, shelved.clone()));
        shelved
    }
}

/// Entries as they are told apart by.
pub(super) fn written(out: &mut String, texts: &Description) {
    for (field, text) in texts.iter() {
        let _ = writeln!(out, "{}={text}", field.key);
    }
}
