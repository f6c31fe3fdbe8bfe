//! The feed to start with: the chip a table aims at, thinned by a narrow cut, and the floor below
//! which it would rub.

use super::interval::{Feeds, Interval};
use super::limits::comes_first;
use super::moments::{Engaged, Moments};
use super::setup::{Intent, Setup};
use crate::formula::Formula;
use crate::formula::chip::{CLEAR, CountedThinning, FeedTheEdgeNeeds, MOST_THINNING};
use crate::formula::rubbing::{LeastChip, WornLeastChip};
use crate::kernel::runout::chip_feeds;
use crate::notebook::{Notebook, Origin, Silent};
use crate::quantity::{Length, SpindleSpeed, in_mm, mm};
use crate::symbol as s;
use std::f64::consts::PI;

/// How many times the feed at full width a moment takes for the same chip: its thinning, up to
/// [`MOST_THINNING`]; 1 where the row is for such a thin cut already.
pub fn credit(setup: &Setup, m: &Engaged) -> f64 {
    if setup.stock.f_z.is_some_and(|band| band.thinned) {
        1.0
    } else {
        (m.sin_kappa / m.chip).clamp(1.0, MOST_THINNING)
    }
}

/// Writes down the thinning that is counted at a moment.
pub(super) fn write_credit(setup: &Setup, m: &Engaged, f_z: Length, notes: &mut impl Notebook) {
    if setup.stock.f_z.is_some_and(|band| band.thinned) {
        notes.told(&s::COUNTED, || Origin::Chosen {
            why: "the table's row is for such a thin cut already".to_owned(),
        });
        return;
    }
    notes.take(CountedThinning {
        f_z,
        kappa: m.kappa(),
        h_max: m.h_max(f_z),
    });
}

/// Least chip that the edge still cuts, as worn as it is; `None` without an edge radius.
pub fn least_chip(setup: &Setup) -> Option<Length> {
    recorded_least_chip(setup, &mut Silent)
}

/// The same, with the step that gives it.
pub(super) fn recorded_least_chip(setup: &Setup, notes: &mut impl Notebook) -> Option<Length> {
    let r_edge = setup.cutter.edge_radius?;
    let (share, growth) = (setup.stock.chip_floor, setup.cutter.rounding);
    Some(if growth > 1.0 {
        notes.take(WornLeastChip {
            share,
            r_edge,
            growth,
        })
    } else {
        notes.take(LeastChip { share, r_edge })
    })
}

/// The highest feed at full width: that of the table, or the floor with room for a round number
/// where the edge of so small a cutter, sharp as it is sold, needs more to cut than the table gives
/// it. `None` without a band.
pub fn most_at_full_width(setup: &Setup) -> Option<Length> {
    Some(needed(setup)?.value())
}

fn needed(setup: &Setup) -> Option<FeedTheEdgeNeeds> {
    Some(FeedTheEdgeNeeds {
        table: setup.stock.f_z?.most,
        share: setup.stock.chip_floor,
        r_usual: setup.cutter.usual_edge_radius.unwrap_or_default(),
    })
}

/// Writes down the highest feed at full width.
pub(super) fn write_most_at_full_width(setup: &Setup, notes: &mut impl Notebook) {
    if let Some(needed) = needed(setup) {
        notes.take(needed);
    }
}

/// What each edge has to cut when the cutter runs out.
#[derive(Clone, Debug, PartialEq)]
pub struct Edges {
    /// Feed of each edge, the most loaded first.
    pub feeds: Vec<Length>,
}

impl Edges {
    /// The edges of a setup at a feed per tooth.
    pub fn of(setup: &Setup, f_z: Length) -> Self {
        let tir = setup.machine.as_ref().and_then(|m| m.runout);
        let tir = tir.map_or(0.0, in_mm);
        let feeds = chip_feeds(setup.cutter.edges, in_mm(f_z), tir);
        Self {
            feeds: feeds.into_iter().map(mm).collect(),
        }
    }

    /// How many take a chip at all.
    pub fn at_work(&self) -> usize {
        self.feeds.iter().filter(|f| f.value > 0.0).count()
    }

    /// Share of the edges whose largest chip stays below the least that cuts; `chip` is the
    /// largest chip over the feed.
    pub fn rubbing(&self, chip: f64, h_min: Length) -> f64 {
        let count = |n: usize| f64::from(u32::try_from(n).unwrap_or(u32::MAX));
        count(self.that_rub(chip, h_min)) / count(self.feeds.len().max(1))
    }

    /// How many of the edges do; `chip` is the largest chip over the feed.
    pub fn that_rub(&self, chip: f64, h_min: Length) -> usize {
        let rub = |f: &&Length| f.value * chip < h_min.value * (1.0 - crate::limit::SLACK);
        self.feeds.iter().filter(rub).count()
    }
}

/// The feed below which the edge would rub.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Floor {
    /// The feed per tooth.
    pub f_z: Length,
    /// Whether the edge that runs out inwards is cleared as well.
    pub clears_runout: bool,
}

/// The floor of a setup; `None` without an edge radius.
///
/// Every moment gets [`CLEAR`] times the least chip, thinning counted up to its bound, and what
/// runout takes from the least loaded edge as long as the band of the table has room for it. A
/// cut too narrow for that gets at least a chip that cuts.
pub fn floor(setup: &Setup, moments: &Moments) -> Option<Floor> {
    let h_min = least_chip(setup)?;
    let cuts = 1.0 / (1.0 - super::limits::CHIP_FLOOR.wanted[0]);
    let of = |m: &Engaged| h_min * (CLEAR * credit(setup, m)).max(cuts / m.chip);
    let cleared = moments.iter().map(of).fold(mm(0.0), Length::max);
    let tir = setup.machine.as_ref().and_then(|m| m.runout);
    let gain = tir.unwrap_or_default() * (PI / f64::from(setup.cutter.edges)).sin();
    let room = most_at_full_width(setup).map(|most| most * least_credit(setup, moments));
    let with_gain = cleared + gain;
    let clears_runout = room.is_none_or(|most| with_gain <= most);
    Some(Floor {
        f_z: if clears_runout { with_gain } else { cleared },
        clears_runout,
    })
}

/// The least thinning of all moments: one feed serves them all.
fn least_credit(setup: &Setup, moments: &Moments) -> f64 {
    let credits = moments.iter().map(|m| credit(setup, m));
    credits.fold(MOST_THINNING, f64::min)
}

/// A feed per tooth, and why that one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StartFeed {
    /// The feed per tooth, before its feed speed is made a round number.
    pub f_z: Length,
    /// By which rule it was chosen.
    pub why: &'static str,
    /// It is the most that keeps a margin, and is not to be rounded up.
    pub most: bool,
}

/// The feed of a cautious run: where the table starts, thinned, and never below the floor.
/// `None` when neither a band nor a floor is known.
///
/// It is lowered towards the floor where that keeps what the start would break; bounds that nobody
/// gave do not count. Where no feed keeps everything, it is lowered for what breaks the cutter or
/// frees the part, and where none keeps that either it is the floor.
pub(super) fn cautious(setup: &Setup, feeds: &mut Feeds<'_>, n: SpindleSpeed) -> Option<StartFeed> {
    let moments = feeds.moments();
    let floor = floor(setup, moments).map(|f| f.f_z);
    let start = setup
        .stock
        .f_z
        .map(|band| band.start * least_credit(setup, moments));
    let Some(start) = start else {
        let f_z = floor?;
        let why = "the floor of the chip: no band of feeds is known, as a round feed";
        return Some(StartFeed {
            f_z,
            why,
            most: false,
        });
    };
    let mut kept = feeds.interval_of(n, Intent::Cautious, |check| !check.guessed);
    if kept.is_empty() {
        kept = feeds.interval_of(n, Intent::Cautious, |check| comes_first(check.limit));
    }
    let most = kept.most.filter(|_| !kept.is_empty()).map(|end| end.f_z);
    let most = if kept.is_empty() { floor } else { most };
    let feed = match most {
        Some(most) if most < start => StartFeed {
            f_z: most,
            why: "the most inside every limit with room, below the table's start, as a round feed",
            most: true,
        },
        _ => StartFeed {
            f_z: start,
            why: "the table's start, thinned by the width of cut, as a round feed",
            most: false,
        },
    };
    Some(match floor {
        Some(floor) if floor >= feed.f_z => StartFeed {
            f_z: floor,
            why: "the floor of the chip: less would rub, as a round feed",
            most: false,
        },
        _ => feed,
    })
}

/// The feed of a production run: the most that keeps every margin, never below the cautious one.
pub(super) fn production(cautious: Option<StartFeed>, feeds: &Interval) -> Option<StartFeed> {
    let most = feeds
        .most
        .filter(|_| !feeds.is_empty())
        .map(|end| StartFeed {
            f_z: end.f_z,
            why: "the most inside every limit with room, as a round feed",
            most: true,
        });
    match (most, cautious) {
        (Some(most), Some(cautious)) if most.f_z < cautious.f_z => Some(cautious),
        (most, cautious) => most.or(cautious),
    }
}
