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
}
