//! The state a programme sets and keeps: modes, tool, spindle, feed, position.

use super::arc::Plane;
use super::cycle::Sticky;
use super::motion::{Feed, MoveKind, Tool};

/// What an F word means.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum FeedMode {
    /// G94, mm/min.
    #[default]
    PerMinute,
    /// G93, 1/min.
    InverseTime,
    /// G95, mm a turn.
    PerTurn,
}

/// Whether and how the spindle turns.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Turning {
    #[default]
    Off,
    /// M3
    Clockwise,
    /// M4
    Counter,
}

/// On which side of the path the cutter radius is taken off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Side {
    /// G41
    Left,
    /// G42
    Right,
}

/// The modal state. Lengths in mm, feeds in mm and minutes.
// Each is a mode of its own group.
#[expect(clippy::struct_excessive_bools)]
#[derive(Clone, Debug, Default)]
pub(crate) struct Modal {
    /// G0 to G3, once stated.
    pub(crate) motion: Option<MoveKind>,
    /// The cycle in force, G code in tenths.
    pub(crate) cycle: Option<i32>,
    /// Cycle words that stay.
    pub(crate) sticky: Sticky,
    /// G98 or G99: whether a cycle retracts to its level R only.
    pub(crate) retract_to_level: bool,
    pub(crate) plane: Plane,
    /// G91, once stated.
    pub(crate) incremental: Option<bool>,
    /// The last N number, and by how much it rose.
    pub(crate) numbered: Option<(f64, f64)>,
    /// G90.1
    pub(crate) arc_absolute: bool,
    /// Arc centres are taken as absolute although that was not declared: nothing else fits them.
    pub(crate) arc_taken_absolute: bool,
    /// G20, once stated.
    pub(crate) inch: Option<bool>,
    /// Whether lengths are in inch where neither G20 nor G21 is stated.
    pub(crate) taken_as_inch: bool,
    /// Whether findings speak in inch; as the programme does where nobody says.
    pub(crate) shown_in_inch: Option<bool>,
    /// Half of the last digit of the F word in force, in mm and minutes as the feed.
    pub(crate) feed_slack: f64,
    pub(crate) feed_mode: FeedMode,
    /// In mm/min, or mm a turn under G95.
    pub(crate) feed: Option<f64>,
    /// The S word in 1/min.
    pub(crate) speed: Option<f64>,
    pub(crate) turning: Turning,
    /// The line of the tool change that stopped the spindle, while nothing else has stopped it.
    pub(crate) stopped_by_change: Option<u64>,
    pub(crate) tool: Tool,
    /// The last T word.
    pub(crate) selected: Option<u32>,
    /// Whether an M6 has been met.
    pub(crate) changes_by_m6: bool,
    pub(crate) compensation: Option<Side>,
    /// G43 or G44 in force, and whether it ever was.
    pub(crate) length_on: bool,
    pub(crate) length_ever: bool,
    /// G54 to G59.3 in tenths, once stated.
    pub(crate) offset: Option<i32>,
    /// X, Y, Z in work coordinates; counted from 0 where not known.
    pub(crate) position: [f64; 3],
    /// Which axes are known.
    pub(crate) known: [bool; 3],
    /// What G92 has shifted the origin by, as in NISTIR 6556, 3.5.18.
    pub(crate) shift: [f64; 3],
}

impl Modal {
    /// mm in a programmed length.
    pub(crate) fn unit(&self) -> f64 {
        if self.in_inch() { 25.4 } else { 1.0 }
    }

    /// Whether lengths are in inch.
    pub(crate) fn in_inch(&self) -> bool {
        self.inch.unwrap_or(self.taken_as_inch)
    }

    /// By how much in mm an arc may miss its end: NISTIR 6556, 3.5.3.2, printed.
    pub(crate) fn arc_slack(&self) -> f64 {
        if self.in_inch() { 0.0002 * 25.4 } else { 0.002 }
    }

    /// Spindle speed in 1/min, 0 when off.
    pub(crate) fn spindle_speed(&self) -> f64 {
        if self.turning == Turning::Off {
            0.0
        } else {
            self.speed.unwrap_or(0.0)
        }
    }

    /// The spindle is started or stopped by its own code.
    pub(crate) fn turn(&mut self, turning: Turning) {
        self.turning = turning;
        self.stopped_by_change = None;
    }

    /// The feed for a block that holds the given F word.
    pub(crate) fn feed(&self, word: Option<f64>) -> Feed {
        match self.feed_mode {
            FeedMode::InverseTime => word.map_or(Feed::Unstated, Feed::InverseTime),
            FeedMode::PerMinute => self.feed.map_or(Feed::Unstated, Feed::PerMinute),
            FeedMode::PerTurn => self.feed.map_or(Feed::Unstated, |f| {
                Feed::PerMinute(f * self.spindle_speed())
            }),
        }
    }

    /// G92: the position gets new numbers.
    pub(crate) fn renumber(&mut self, axis: usize, value: f64) {
        if self.known[axis] {
            self.shift[axis] += self.position[axis] - value;
        }
        self.position[axis] = value;
        self.known[axis] = true;
    }

    /// G92.1 to G92.3: the shift is taken back.
    pub(crate) fn unshift(&mut self) {
        for axis in 0..3 {
            self.position[axis] += self.shift[axis];
            self.shift[axis] = 0.0;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn renumbering_adds_up_as_printed() {
        // NISTIR 6556, 3.5.18: at X4, G92 X7 makes the offset -3, then G92 X9 makes it -5.
        let mut modal = Modal {
            position: [4.0, 0.0, 0.0],
            known: [true; 3],
            ..Modal::default()
        };
        modal.renumber(0, 7.0);
        assert!((modal.shift[0] + 3.0).abs() < 1e-12);
        modal.renumber(0, 9.0);
        assert!((modal.shift[0] + 5.0).abs() < 1e-12);
        modal.unshift();
        assert!((modal.position[0] - 4.0).abs() < 1e-12);
    }
}
