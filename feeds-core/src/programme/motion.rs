//! What the machine does: moves with their length, feed and speed.

use super::arc::ArcMove;
use super::simulate::CutStation;

/// How a move is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MoveKind {
    /// G0
    Rapid,
    /// G1
    Line,
    /// G2
    ArcCw,
    /// G3
    ArcCcw,
}

/// The feed of a move.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Feed {
    /// None was programmed.
    Unstated,
    /// mm/min; G95 is worked out with the spindle speed.
    PerMinute(f64),
    /// G93, in 1/min: the move takes 1/F minutes.
    InverseTime(f64),
}

/// The tool at work.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Tool {
    /// None loaded, or none stated.
    #[default]
    None,
    /// Loaded by M6.
    Loaded(u32),
    /// Chosen by T in a programme that has had no M6 so far.
    Chosen(u32),
}

impl Tool {
    /// Its number.
    pub fn number(self) -> Option<u32> {
        match self {
            Self::None | Self::Loaded(0) | Self::Chosen(0) => None,
            Self::Loaded(n) | Self::Chosen(n) => Some(n),
        }
    }
}

/// One move. Positions in mm along X, Y, Z in work coordinates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Motion {
    /// How it is made.
    pub kind: MoveKind,
    /// Whether it is part of a cycle.
    pub cycle: bool,
    /// Start; an axis the programme never stated counts from 0.
    pub from: [f64; 3],
    /// End.
    pub to: [f64; 3],
    /// Which axes of the start are stated.
    pub from_known: [bool; 3],
    /// Which axes of the end are stated.
    pub to_known: [bool; 3],
    /// The arc, for G2 and G3.
    pub arc: Option<ArcMove>,
    /// Length in mm, along a helix where it is one, without axes whose start is unknown.
    pub length: f64,
    /// Length in mm of the part that starts at an unknown position, taken from 0.
    pub unknown_length: f64,
    /// Its feed; rapid moves have none.
    pub feed: Feed,
    /// Spindle speed in 1/min, 0 when off.
    pub spindle_speed: f64,
    /// The tool.
    pub tool: Tool,
    /// Physical line, from 1.
    pub line: u64,
    /// Byte of the line, from 0.
    pub at: u32,
}

impl Motion {
    /// Whether it cuts.
    pub fn cuts(&self) -> bool {
        self.kind != MoveKind::Rapid
    }

    /// Whether it goes sideways at all.
    pub fn sideways(&self) -> bool {
        let moves = |axis: usize| self.from[axis].to_bits() != self.to[axis].to_bits();
        self.arc.is_some() || moves(0) || moves(1)
    }

    /// Whether it goes sideways at one height that is stated.
    pub fn level(&self) -> bool {
        self.heading().level
    }

    /// Where it goes, for those who look at one move several times.
    #[inline]
    pub(crate) fn heading(&self) -> Heading {
        let sideways = self.sideways();
        let flat = self.from[2].to_bits() == self.to[2].to_bits();
        Heading {
            sideways,
            level: sideways && flat && self.knows(2) && !self.cycle,
        }
    }

    /// Which share of the way each axis goes at most: 1 where it goes as fast as the cutter.
    pub(crate) fn shares(&self) -> [f64; 3] {
        let step = [0, 1, 2].map(|axis| (self.to[axis] - self.from[axis]).abs() / self.length);
        let Some(arc) = &self.arc else { return step };
        let [first, second, _] = arc.plane.axes();
        let start = [self.from[first], self.from[second]];
        let angle = (start[1] - arc.centre[1]).atan2(start[0] - arc.centre[0]);
        let (sin, cos) = angle.sin_cos();
        let (end_sin, end_cos) = (angle + arc.sweep).sin_cos();
        // Once round a quarter each axis has gone as fast as the cutter, or been near it.
        let far = arc.sweep.abs() >= std::f64::consts::FRAC_PI_2;
        let most = |a: f64, b: f64| if far { 1.0 } else { a.abs().max(b.abs()) };
        let mut shares = step;
        shares[first] = most(sin, end_sin);
        shares[second] = most(cos, end_cos);
        shares
    }

    /// Whether both ends are stated along an axis.
    pub fn knows(&self, axis: usize) -> bool {
        self.from_known[axis] && self.to_known[axis]
    }

    /// Time in minutes at the programmed feed; 0 when it has none.
    pub fn time(&self) -> f64 {
        match self.feed {
            Feed::PerMinute(f) if f > 0.0 => self.length / f,
            Feed::InverseTime(f) if f > 0.0 => 1.0 / f,
            _ => 0.0,
        }
    }
}

/// Where a move goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Heading {
    /// Sideways at all.
    pub(crate) sideways: bool,
    /// Sideways at one height that is stated, and outside cycles.
    pub(crate) level: bool,
}

/// Sees every move as it is made, for pictures and checks outside this room.
pub trait Watch {
    /// Called once a move, in order.
    fn motion(&mut self, motion: &Motion);

    /// Called once a station of the cut along the programme, in order, where that is asked for;
    /// some moves later, when its feed is known.
    fn station(&mut self, _: &CutStation) {}
}

/// Looks at nothing.
#[derive(Clone, Copy, Debug, Default)]
pub struct Unwatched;

impl Watch for Unwatched {
    fn motion(&mut self, _: &Motion) {}
}

impl<F: FnMut(&Motion)> Watch for F {
    fn motion(&mut self, motion: &Motion) {
        self(motion);
    }
}
