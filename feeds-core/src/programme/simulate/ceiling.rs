//! Which F words have to come down, and by how much, for a ceiling to be kept.

use std::collections::BTreeMap;

use super::station::Waiting;

/// Most F words that are kept.
const MOST_WORDS: usize = 1_000_000;
/// Most lines that are named because no feed helps them.
const MOST_NAMED: usize = 100;
/// By what share a feed may be over before its word is touched: what a figure of four digits tells.
const TOUCHED: f64 = 1e-3;
/// By how much a feed is raised at most.
const MOST_RAISED: f64 = 2.0;

/// What is asked of a correction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Correction {
    /// What must stay under it.
    pub ceiling: super::Ceiling,
    /// Whether feeds may be raised to it as well.
    pub up: bool,
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

/// What a correction comes to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LoweredFeeds {
    /// New feed over programmed feed, by the line of the F word.
    pub ratios: BTreeMap<u64, f64>,
    /// Lines that no feed helps.
    pub unhelped: Vec<Unhelped>,
    /// How many more of them there are.
    pub unhelped_more: u64,
}

/// The F words so far.
#[derive(Debug)]
pub(super) struct Words {
    up: bool,
    least: BTreeMap<u64, f64>,
    unhelped: BTreeMap<u64, Unhelped>,
    more: u64,
}

impl Words {
    pub(super) fn new(up: bool) -> Self {
        Self {
            up,
            least: BTreeMap::new(),
            unhelped: BTreeMap::new(),
            more: 0,
        }
    }

    /// Takes in a station at which `keeps` is the most feed per tooth in mm under the ceiling,
    /// `floor` the least that cuts, and `f_z` the one the axes reach.
    pub(super) fn add(&mut self, of: &Waiting, f_z: f64, keeps: f64, floor: Option<f64>) {
        let v_f = of.station.feed;
        let over = f_z > keeps * (1.0 + TOUCHED);
        if let Some(floor) = floor.filter(|floor| over && keeps < *floor) {
            let line = of.station.line;
            let named = Unhelped {
                line,
                f_z: keeps,
                floor,
            };
            let full = self.unhelped.len() >= MOST_NAMED;
            match self.unhelped.get_mut(&line) {
                Some(known) if known.f_z > keeps => *known = named,
                Some(_) => {}
                None if full => self.more += 1,
                None => {
                    self.unhelped.insert(line, named);
                }
            }
            return;
        }
        if !over && !self.up || f_z <= 0.0 || v_f <= 0.0 {
            return;
        }
        let ratio = (keeps / f_z * v_f / of.programmed).min(MOST_RAISED);
        // Where the axes stay below F, a feed that keeps the ceiling needs no lower word.
        let ratio = if over { ratio } else { ratio.max(1.0) };
        for word in of.feed_lines.iter() {
            let room = self.least.len() < MOST_WORDS;
            match self.least.get_mut(word) {
                Some(least) => *least = least.min(ratio),
                None if room => {
                    self.least.insert(*word, ratio);
                }
                None => {}
            }
        }
    }

    /// What it comes to.
    pub(super) fn finish(self) -> LoweredFeeds {
        let up = self.up;
        let counts = |ratio: &f64| *ratio < 1.0 || up && *ratio > 1.0 + TOUCHED;
        let ratios = self.least.into_iter().filter(|(_, ratio)| counts(ratio));
        LoweredFeeds {
            ratios: ratios.collect(),
            unhelped: self.unhelped.into_values().collect(),
            unhelped_more: self.more,
        }
    }
}
