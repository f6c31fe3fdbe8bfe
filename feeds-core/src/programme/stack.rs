//! Calls and loops in progress, and where they go on.

use super::flow::{Label, Target};
use super::parameters::Slot;
use super::source::Place;

/// Deepest nesting of calls and loops.
pub(crate) const DEEPEST: usize = 64;

/// What a loop is known by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum LoopName {
    /// `DO1`
    Number(u32),
    /// `O100 while`
    Label(Label),
}

/// A call or a loop in progress.
#[derive(Clone, Debug)]
pub(crate) enum Frame {
    /// A subprogram.
    Call {
        /// Where to go on after it.
        back: Place,
        /// Its first line, and how often it is still to be run after this time.
        start: Place,
        again: u32,
        /// Local parameters of the caller; none when the call shares them.
        locals: Option<Vec<(Slot, f64)>>,
    },
    /// A loop.
    Loop {
        name: LoopName,
        /// The line to go back to: that of the condition, or the first of the body.
        start: Place,
        /// Times still to go, for `repeat`.
        left: Option<u32>,
    },
}

/// A jump that is looking for its line.
#[derive(Clone, Debug)]
pub(crate) struct Seek {
    pub(crate) target: Target,
    /// The line of the jump.
    pub(crate) origin: Place,
    /// The next line to look at.
    pub(crate) at: Place,
    /// The line after the jump, to go on with when the target is not found.
    pub(crate) next: Place,
    /// Whether it now looks from the start of the window to the origin.
    pub(crate) wrapped: bool,
    /// What to do when it is found.
    pub(crate) then: Found,
}

/// What to do at the line a jump has found.
#[derive(Clone, Debug)]
pub(crate) enum Found {
    /// Go on with it, carrying it out.
    At,
    /// Go on after it.
    After,
    /// Go on with it as the branch taken: an `elseif` is judged, an `else` is entered.
    Branch,
    /// Call it, so many times.
    Call {
        times: u32,
        /// Values of the call, when it has parameters of its own.
        values: Option<Vec<f64>>,
    },
}

/// The frames.
#[derive(Debug, Default)]
pub(crate) struct Stack {
    frames: Vec<Frame>,
}

impl Stack {
    /// Adds a frame; false when there are too many.
    pub(crate) fn push(&mut self, frame: Frame) -> bool {
        if self.frames.len() >= DEEPEST {
            return false;
        }
        self.frames.push(frame);
        true
    }

    /// Takes off the frames above and including the innermost call.
    pub(crate) fn pop_call(&mut self) -> Option<Frame> {
        while let Some(frame) = self.frames.pop() {
            if matches!(frame, Frame::Call { .. }) {
                return Some(frame);
            }
        }
        None
    }

    /// The loop of this name in the innermost call; loops inside it are given up.
    pub(crate) fn find_loop(&mut self, name: &LoopName) -> Option<&mut Frame> {
        let is_it = |f: &Frame| matches!(f, Frame::Loop { name: n, .. } if n == name);
        let call = self
            .frames
            .iter()
            .rposition(|f| matches!(f, Frame::Call { .. }));
        let place = self
            .frames
            .iter()
            .rposition(is_it)
            .filter(|p| call.is_none_or(|c| c < *p))?;
        self.frames.truncate(place + 1);
        self.frames.last_mut()
    }

    /// Ends the loop of this name.
    pub(crate) fn end_loop(&mut self, name: &LoopName) {
        if self.find_loop(name).is_some() {
            self.frames.pop();
        }
    }

    /// Gives up the loops of the innermost call, as a jump by number does.
    pub(crate) fn leave_loops(&mut self) {
        while matches!(self.frames.last(), Some(Frame::Loop { .. })) {
            self.frames.pop();
        }
    }

    /// Gives up everything.
    pub(crate) fn clear(&mut self) {
        self.frames.clear();
    }

    /// Where the innermost loop starts.
    pub(crate) fn innermost_loop(&self) -> Option<Place> {
        self.frames.iter().rev().find_map(|frame| match frame {
            Frame::Loop { start, .. } => Some(*start),
            Frame::Call { .. } => None,
        })
    }

    /// The earliest place a call comes back to.
    pub(crate) fn earliest_return(&self) -> Option<Place> {
        let backs = self.frames.iter().filter_map(|frame| match frame {
            Frame::Call { back, .. } => Some(*back),
            Frame::Loop { .. } => None,
        });
        backs.min()
    }
}
