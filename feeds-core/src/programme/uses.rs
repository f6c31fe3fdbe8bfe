//! Totals by tool, speed and feed.

use super::Where;
use super::motion::{Feed, Heading, Motion, Tool};
use std::collections::HashMap;

/// Most settings listed apart; one more joins the entry without a feed of its tool.
const MOST: usize = 10_000;

/// What settings are told apart by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
struct Key {
    tool: (u8, u32),
    speed: u64,
    feed: u64,
    inverse: bool,
}

impl Key {
    fn of(motion: &Motion) -> Self {
        let (feed, inverse) = match motion.feed {
            Feed::PerMinute(f) => (f.to_bits(), false),
            Feed::InverseTime(_) => (u64::MAX, true),
            Feed::Unstated => (u64::MAX, false),
        };
        let tool = match motion.tool {
            Tool::None => (0, 0),
            Tool::Loaded(n) => (1, n),
            Tool::Chosen(n) => (2, n),
        };
        Self {
            tool,
            speed: motion.spindle_speed.to_bits(),
            feed,
            inverse,
        }
    }
}

/// What one tool did at one speed and feed.
// Each is a fact of its own, not part of one state.
#[expect(clippy::struct_excessive_bools)]
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Use {
    pub(crate) tool: Tool,
    /// 1/min, 0 when off.
    pub(crate) spindle_speed: f64,
    /// mm/min; none under inverse time, or when none was stated.
    pub(crate) feed_speed: Option<f64>,
    pub(crate) inverse_time: bool,
    /// Moves outside cycles.
    pub(crate) moves: u64,
    /// mm
    pub(crate) length: f64,
    /// min
    pub(crate) time: f64,
    pub(crate) first_line: u64,
    /// Minutes of it that ran below the programmed feed, and the lowest top feed in mm/min.
    pub(crate) slow_time: f64,
    pub(crate) reached_time: f64,
    pub(crate) lowest_feed: f64,
    /// Whether its chip was looked at.
    pub(crate) chip_checked: bool,
    /// Whether it went sideways at one height: not a plunge, a ramp or a hole.
    pub(crate) level: bool,
    /// Whether it went sideways at all, and so without going down.
    pub(crate) sideways: bool,
    pub(crate) flat: bool,
    /// How often the programme came to this setting.
    pub(crate) entered: u64,
    /// Where its feed stands first.
    pub(crate) feed_at: Where,
}

/// All uses.
#[derive(Debug, Default)]
pub(crate) struct Uses {
    list: Vec<Use>,
    places: HashMap<Key, usize>,
    last: Option<(Key, usize)>,
    full: bool,
}

impl Uses {
    /// Adds a cutting move that takes `time` minutes. The index of its use, and whether it is new.
    #[inline]
    pub(crate) fn add(&mut self, motion: &Motion, heading: Heading, time: f64) -> (usize, bool) {
        let key = Key::of(motion);
        let (index, new) = match self.last {
            Some((last, index)) if last == key => (index, false),
            _ => self.enter(key, motion),
        };
        if let Some(found) = self.list.get_mut(index) {
            let sideways = heading.sideways && !motion.cycle;
            found.sideways |= sideways;
            found.flat |= sideways && !(motion.knows(2) && motion.to[2] < motion.from[2]);
            found.moves += u64::from(!motion.cycle);
            found.length += motion.length;
            found.time += time;
            found.level |= heading.level;
        }
        (index, new)
    }

    /// Comes to a use from another one.
    fn enter(&mut self, key: Key, motion: &Motion) -> (usize, bool) {
        let (index, new) = self.find(key, motion);
        self.last = Some((key, index));
        if let Some(found) = self.list.get_mut(index) {
            found.entered += 1;
        }
        (index, new)
    }

    fn find(&mut self, key: Key, motion: &Motion) -> (usize, bool) {
        if let Some(index) = self.places.get(&key) {
            return (*index, false);
        }
        let mut key = key;
        if self.list.len() >= MOST {
            self.full = true;
            key = Key {
                speed: 0,
                feed: u64::MAX,
                inverse: false,
                tool: (9, 0),
            };
            if let Some(index) = self.places.get(&key) {
                return (*index, false);
            }
        }
        let merged = key.tool.0 == 9;
        self.list.push(Use {
            tool: if merged { Tool::None } else { motion.tool },
            spindle_speed: if merged { 0.0 } else { motion.spindle_speed },
            feed_speed: match motion.feed {
                Feed::PerMinute(f) if !merged => Some(f),
                _ => None,
            },
            inverse_time: key.inverse,
            moves: 0,
            length: 0.0,
            time: 0.0,
            first_line: motion.line,
            slow_time: 0.0,
            reached_time: 0.0,
            lowest_feed: f64::INFINITY,
            chip_checked: false,
            level: false,
            sideways: false,
            flat: false,
            entered: 0,
            feed_at: Where::default(),
        });
        let index = self.list.len() - 1;
        self.places.insert(key, index);
        (index, true)
    }

    /// All of them so far.
    pub(crate) fn iter(&self) -> impl Iterator<Item = &Use> {
        self.list.iter()
    }

    /// Whether settings had to be merged.
    pub(crate) fn full(&self) -> bool {
        self.full
    }

    /// Whether the chip of a use is still to be looked at; asks once.
    pub(crate) fn chip_due(&mut self, index: usize) -> bool {
        self.list
            .get_mut(index)
            .is_some_and(|u| !std::mem::replace(&mut u.chip_checked, true))
    }

    /// A use by its index.
    pub(crate) fn get_mut(&mut self, index: usize) -> Option<&mut Use> {
        self.list.get_mut(index)
    }

    /// The uses, longest first; tools only chosen become none when the programme loads by M6.
    pub(crate) fn finish(self, changes_by_m6: bool) -> Vec<Use> {
        let mut list: Vec<Use> = Vec::with_capacity(self.list.len());
        let mut places = HashMap::new();
        for mut found in self.list {
            if changes_by_m6 && matches!(found.tool, Tool::Chosen(_)) {
                found.tool = Tool::None;
            }
            let speed = found.spindle_speed.to_bits();
            let feed = found.feed_speed.map(f64::to_bits);
            let key = (found.tool.number(), speed, feed, found.inverse_time);
            let place = *places.entry(key).or_insert(list.len());
            match list.get_mut(place) {
                Some(twin) => twin.join(&found),
                None => list.push(found),
            }
        }
        list.sort_by(|a, b| {
            b.length
                .total_cmp(&a.length)
                .then(a.first_line.cmp(&b.first_line))
        });
        list
    }
}

impl Use {
    fn join(&mut self, other: &Self) {
        self.moves += other.moves;
        self.level |= other.level;
        self.sideways |= other.sideways;
        self.flat |= other.flat;
        self.entered += other.entered;
        self.length += other.length;
        self.time += other.time;
        self.first_line = self.first_line.min(other.first_line);
        self.slow_time += other.slow_time;
        self.reached_time += other.reached_time;
        self.lowest_feed = self.lowest_feed.min(other.lowest_feed);
    }
}
