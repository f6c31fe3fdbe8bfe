//! What is known around a move, and what a piece of the way belongs to.

use super::super::modal::Modal;
use super::super::setting::Setting;

/// What a piece of the way belongs to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Of {
    pub(super) tool: usize,
    pub(super) pass: Option<usize>,
    pub(super) rapid: bool,
    pub(super) spindle_speed: f64,
    /// mm/min; not a number where no feed is known.
    pub(super) programmed: f64,
}

impl Of {
    /// Whether short moves of both may be joined.
    pub(super) fn joins(&self, other: &Self) -> bool {
        let same = |a: f64, b: f64| a.to_bits() == b.to_bits();
        (self.tool, self.pass, self.rapid) == (other.tool, other.pass, other.rapid)
            && same(self.spindle_speed, other.spindle_speed)
            && same(self.programmed, other.programmed)
    }
}

/// What is known around a move.
pub(crate) struct Around<'a> {
    pub(crate) setting: &'a Setting,
    pub(crate) modal: &'a Modal,
    /// The line of the F word in force.
    pub(crate) feed_line: u64,
    /// Which move it is, counted from the first.
    pub(crate) ordinal: u64,
    /// What its line holds beside the move.
    pub(crate) facts: LineFacts,
}

/// What a line and the F word in force are like, for a copy that changes feeds.
// Each is a fact of its own, not part of one state.
#[expect(clippy::struct_excessive_bools)]
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct LineFacts {
    /// Only numbers as they are written, and always run.
    pub(crate) plain: bool,
    /// Nothing but a move.
    pub(crate) only_moves: bool,
    /// An R word.
    pub(crate) has_radius: bool,
    /// The F word in force is worked out from parameters.
    pub(crate) feed_computed: bool,
    /// It stands where lengths are in inch.
    pub(crate) feed_inch: bool,
}
