//! The feed dial of a pass in one line of words: where it rubs, cuts, bends too far and breaks.

use super::overrides::{Beyond, Cell};
use std::fmt::Write as _;

/// The end of the dial, in per cent of the feed.
pub const END: u32 = 150;

/// What a feed does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Zone {
    /// The chip is thinner than the edge can lift, at its thickest or over most of the cut.
    Rubs,
    /// None of the other three.
    Cuts,
    /// The wall ends up further off than it may.
    Bends,
    /// The cutter or its edges may break, or the part or the cutter come loose.
    Breaks,
}

impl Zone {
    /// The word of the dial.
    pub fn word(self) -> &'static str {
        match self {
            Self::Rubs => "rubs",
            Self::Cuts => "cuts",
            Self::Bends => "bends too far",
            Self::Breaks => "breaks",
        }
    }
}

/// The dial of a pass, from 0 to [`END`] per cent of its feed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FeedDial {
    /// What happens from which per cent on; the first begins at 0.
    pub zones: Vec<(Zone, u32)>,
    /// What is not known of this pass, and so has no place on the dial.
    pub unknown: Vec<Zone>,
    /// Whether nobody gave how far the wall may be off.
    pub guessed: bool,
    /// From where on the edges alone are overloaded, and neither cutter nor hold.
    pub edge: Option<u32>,
}

impl FeedDial {
    /// Works out the dial from the pass at each feed. Chips and loads rise with the feed, so that
    /// halving finds where something begins. Where it both rubs and bends, rubbing has the word.
    pub fn of(at: impl Fn(u32) -> Option<Cell>) -> Self {
        let now = at(100);
        let is_unknown = |zone: &Zone| {
            now.is_some_and(|now| match zone {
                Zone::Rubs => now.floor.is_none(),
                Zone::Bends => now.bends_unknown,
                Zone::Breaks => now.strength.is_none(),
                Zone::Cuts => false,
            })
        };
        let is =
            |percent, beyond: fn(Beyond) -> bool| at(percent).is_some_and(|c| beyond(c.beyond));
        let breaks = first(|percent| is(percent, |b| b.breaks || b.edge));
        let rubs = first(|percent| at(percent).is_none_or(|c| !c.beyond.rubs)).min(breaks);
        let bends = first(|percent| is(percent, |b| b.bends)).clamp(rubs, breaks);
        // The lowest feed there is stands for none at all.
        let from = |percent: u32| if percent == 1 { 0 } else { percent };
        let all = [
            (Zone::Rubs, 0, from(rubs)),
            (Zone::Cuts, from(rubs), from(bends)),
            (Zone::Bends, from(bends), from(breaks)),
            (Zone::Breaks, from(breaks), END + 1),
        ];
        let zones = all.into_iter().filter(|(_, from, to)| from < to);
        let zones: Vec<_> = zones.map(|(zone, from, _)| (zone, from)).collect();
        let bends = zones.iter().any(|(zone, _)| *zone == Zone::Bends);
        let edge_alone = |percent| is(percent, |b| b.edge && !b.breaks);
        Self {
            zones,
            edge: (breaks <= END && edge_alone(breaks)).then_some(from(breaks)),
            guessed: bends && now.is_some_and(|now| now.bends_guessed),
            unknown: [Zone::Rubs, Zone::Bends, Zone::Breaks]
                .into_iter()
                .filter(is_unknown)
                .collect(),
        }
    }

    /// Where a zone begins, in per cent, if it is on the dial.
    pub fn begins(&self, zone: Zone) -> Option<u32> {
        let found = self.zones.iter().find(|(z, _)| *z == zone);
        found.map(|(_, from)| *from)
    }

    /// What happens at a feed.
    pub fn at(&self, percent: u32) -> Option<Zone> {
        let mut below = self.zones.iter().rev();
        below.find(|(_, from)| *from <= percent).map(|(z, _)| *z)
    }

    /// The line of words, each behind the per cent it begins at, the feed that runs in brackets.
    ///
    /// # Example
    /// ```
    /// use feeds_tui::pass::feed_dial::{FeedDial, Zone};
    /// let zones = vec![(Zone::Rubs, 0), (Zone::Cuts, 65), (Zone::Breaks, 140)];
    /// let dial = FeedDial { zones, unknown: vec![], guessed: false, edge: None };
    /// assert_eq!(dial.line(100), "0 rubs | 65 cuts [100] | 140 breaks | 150 %");
    /// ```
    pub fn line(&self, runs: u32) -> String {
        let here = self.at(runs);
        let mut line = String::new();
        for (zone, from) in &self.zones {
            let _ = write!(line, "{from} {}", zone.word());
            if here == Some(*zone) {
                let _ = write!(line, " [{runs}]");
            }
            line.push_str(" | ");
        }
        let _ = write!(line, "{END} %");
        if self.guessed {
            line.push_str("; how far it may bend is a guess");
        }
        // The word of the dial is one for the cutter, the hold and its edges.
        if let Some(at) = self.edge {
            let _ = write!(line, "; from {at} % it is the edge that is overloaded");
        }
        if !self.unknown.is_empty() {
            let unknown: Vec<&str> = self.unknown.iter().map(|z| z.word()).collect();
            let _ = write!(line, "; not known where it {}", unknown.join(" or "));
        }
        line
    }
}

/// The first per cent at which something is so, given that it stays so; beyond the end if nowhere.
fn first(is: impl Fn(u32) -> bool) -> u32 {
    let (mut before, mut so) = (0, END + 1);
    while so - before > 1 {
        let middle = u32::midpoint(before, so);
        if is(middle) {
            so = middle;
        } else {
            before = middle;
        }
    }
    so
}
