//! Which F words have to come down, and by how much, for a ceiling to be kept.

use std::collections::{BTreeMap, BTreeSet};

use super::Around;
use super::moved::{Moved, planned};
use super::settle::Looked;
use super::stretches::Stretches;
use crate::programme::motion::Motion;
use crate::programme::rescale::FeedEdit;

/// Most lines and F words that are kept.
const MOST_WORDS: usize = 1_000_000;
/// Most lines that are named because no feed helps them.
const MOST_NAMED: usize = 100;
/// By what share a feed may be over before its word is touched: what a figure of four digits tells.
pub(super) const TOUCHED: f64 = 1e-3;
/// By how much a feed is raised at most.
pub(super) const MOST_RAISED: f64 = 2.0;

/// What is asked of a correction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Correction {
    /// What must stay under it.
    pub ceiling: super::Ceiling,
    /// Whether feeds may be raised to it as well.
    pub up: bool,
    /// The shortest piece in mm that a move may be cut into, where moves may be cut.
    pub split: Option<f64>,
}

/// A line that no feed helps: the ceiling asks for less than the edge needs to cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unhelped {
    /// Physical line, from 1.
    pub line: u64,
    /// The feed per tooth in mm that would keep the ceiling.
    pub f_z: f64,
    /// The least feed per tooth in mm at which it still cuts.
    pub floor: f64,
}

/// Lines that something is not done for, and why.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct KeptAsOne {
    /// The first, counted from 1, and the last.
    pub lines: [u64; 2],
    /// The reason.
    pub why: &'static str,
}

/// What a correction comes to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LoweredFeeds {
    /// What changes, by line.
    pub edits: BTreeMap<u64, FeedEdit>,
    /// Lines that no feed helps.
    pub unhelped: Vec<Unhelped>,
    /// How many more of them there are.
    pub unhelped_more: u64,
    /// Lines that run on at a lowered feed of a line before them though they could run faster.
    pub run_on: Vec<KeptAsOne>,
    /// Lines whose loads differ along them and that are not cut into pieces, where that is asked.
    pub not_split: Vec<KeptAsOne>,
}

/// The F words so far.
#[derive(Debug)]
pub(super) struct Words {
    asked: Correction,
    /// The least ratio of all that runs under an F word, by its line.
    least: BTreeMap<u64, f64>,
    moved: BTreeMap<u64, Moved>,
    stretches: Option<Stretches>,
    /// The line of the last move, and whether one has come back, or there are too many.
    last: u64,
    again: bool,
    unhelped: BTreeMap<u64, Unhelped>,
    /// Lines beyond those, whose feeds are not told.
    more: BTreeSet<u64>,
}

impl Words {
    /// Begins with the least acceleration of the axes in mm/s², where it is known.
    pub(super) fn new(asked: Correction, acceleration: Option<f64>) -> Self {
        Self {
            asked,
            least: BTreeMap::new(),
            moved: BTreeMap::new(),
            stretches: asked
                .split
                .map(|shortest| Stretches::new(shortest, acceleration)),
            last: 0,
            again: false,
            unhelped: BTreeMap::new(),
            more: BTreeSet::new(),
        }
    }

    /// A move at feed is made.
    pub(super) fn moves(&mut self, motion: &Motion, around: &Around<'_>) {
        let line = motion.line;
        let cycle = motion.cycle && self.moved.get(&line).is_some_and(|m| m.cycle);
        self.again |= line < self.last || line == self.last && !cycle;
        self.last = line;
        if self.moved.len() >= MOST_WORDS {
            self.again = true;
            return;
        }
        let moved = Moved::of(motion, around, self.asked.split);
        self.moved.entry(line).or_insert(moved);
    }

    /// Takes in a station at which `keeps` is the most feed per tooth in mm under the ceiling,
    /// where it is known, `floor` the least that cuts, and `f_z` the one the axes reach.
    pub(super) fn add(
        &mut self,
        of: &Looked<'_>,
        f_z: f64,
        keeps: Option<f64>,
        floor: Option<f64>,
    ) {
        let ratio = keeps.and_then(|keeps| self.ratio(of, f_z, keeps, floor));
        if let Some(stretches) = &mut self.stretches
            && let [(line, _)] = of.feed_lines[..]
            && let Some((line, stretch)) = stretches.add(line, &of.station, ratio)
            && let Some(moved) = self.moved.get_mut(&line)
        {
            moved.stretch(stretch);
        }
        let Some(ratio) = ratio else { return };
        for (line, word) in of.feed_lines {
            let room = self.least.len() < MOST_WORDS;
            match self.least.get_mut(word) {
                Some(least) => *least = least.min(ratio),
                None if room => {
                    self.least.insert(*word, ratio);
                }
                None => {}
            }
            if let Some(moved) = self.moved.get_mut(line) {
                moved.ratio = moved.ratio.min(ratio);
            }
        }
    }

    /// The most feed that keeps the ceiling over that which is programmed; none where the feed may
    /// be what it is.
    fn ratio(&mut self, of: &Looked<'_>, f_z: f64, keeps: f64, floor: Option<f64>) -> Option<f64> {
        let v_f = of.station.feed;
        let over = f_z > keeps * (1.0 + TOUCHED);
        if let Some(floor) = floor.filter(|floor| over && keeps < *floor) {
            self.no_feed_helps(Unhelped {
                line: of.station.line,
                f_z: keeps,
                floor,
            });
            return None;
        }
        if !over && !self.asked.up || f_z <= 0.0 || v_f <= 0.0 {
            return None;
        }
        let ratio = (keeps / f_z * v_f / of.of.programmed).min(MOST_RAISED);
        // Where the axes stay below F, a feed that keeps the ceiling needs no lower word.
        Some(if over { ratio } else { ratio.max(1.0) })
    }

    fn no_feed_helps(&mut self, named: Unhelped) {
        let full = self.unhelped.len() >= MOST_NAMED;
        match self.unhelped.get_mut(&named.line) {
            Some(known) if known.f_z > named.f_z => *known = named,
            Some(_) => {}
            None if full && self.more.len() < MOST_WORDS => {
                self.more.insert(named.line);
            }
            None if full => {}
            None => {
                self.unhelped.insert(named.line, named);
            }
        }
    }

    /// What it comes to.
    pub(super) fn finish(mut self) -> LoweredFeeds {
        if let Some((line, stretch)) = self.stretches.take().and_then(Stretches::finish)
            && let Some(moved) = self.moved.get_mut(&line)
        {
            moved.stretch(stretch);
        }
        let least = self.again.then_some(&self.least);
        let (edits, run_on, not_split) = planned(&self.moved, least, self.asked);
        LoweredFeeds {
            edits,
            unhelped: self.unhelped.into_values().collect(),
            unhelped_more: self.more.len() as u64,
            run_on,
            not_split,
        }
    }
}

#[cfg(test)]
mod tests;
