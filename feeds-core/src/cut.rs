//! The cut: where the cutter goes and how much it takes.

use crate::cutter::words;
use crate::quantity::{Angle, Length};

/// The kind of path.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Path {
    /// Full width, walls on both sides.
    Slot,
    /// Along a wall.
    Side,
    /// Clearing an area between walls.
    Pocket,
    /// Enlarging a hole.
    Bore,
    /// Levelling a face, centred on the work.
    Face,
    /// Finishing a surface with a ball.
    BallFinish,
}

words!(Path {
    Slot = "slot",
    Side = "side" | "contour" | "profile" | "wall" | "outside",
    Pocket = "pocket",
    Bore = "bore",
    Face = "face",
    BallFinish = "ball-finish",
});

/// Which way the edges run against the feed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// With the feed: the chip starts thick (climb).
    Down,
    /// Against the feed: the chip starts at nothing (conventional).
    Up,
}

words!(Direction {
    Down = "down" | "climb" | "climb milling" | "down milling",
    Up = "up" | "conventional" | "conventional milling" | "up milling",
});

impl Direction {
    /// As the trade calls it.
    pub fn trade(self) -> &'static str {
        match self {
            Self::Down => "climb",
            Self::Up => "conventional",
        }
    }
}

/// How the width is told.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Width {
    /// The width of cut `a_e`.
    Across(Length),
    /// The engagement angle, which a path of constant engagement holds.
    Angle(Angle),
}

/// Which side of a curved wall is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WallSide {
    /// A hole or pocket wall.
    Inside,
    /// A boss or outline.
    Outside,
}

words!(WallSide { Inside = "inside", Outside = "outside" });

/// A curved wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wall {
    /// Which side is cut.
    pub side: WallSide,
    /// Radius of the finished wall.
    pub radius: Length,
}

/// How the cutter gets to its depth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Descent {
    /// Down a slope at this angle.
    Ramp(Angle),
    /// Down a helix.
    Helix {
        /// Diameter of the hole it leaves.
        hole: Length,
        /// Drop each turn.
        pitch: Length,
    },
    /// Straight down.
    Plunge,
}

/// What one pass takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// The kind of path.
    pub path: Path,
    /// Down or up.
    pub direction: Direction,
    /// Depth along the axis `a_p`, > 0.
    pub a_p: Length,
    /// Width, or the angle a path holds. A slot needs none.
    pub width: Option<Width>,
    /// Curved wall, if the wall is not straight.
    pub wall: Option<Wall>,
    /// The path runs into a sharp inside corner of 90°.
    pub corner: bool,
    /// Diameter of the cutter before, when it left corners behind.
    pub previous: Option<Length>,
    /// Tilt of the cutter against the surface, for a ball.
    pub tilt: Angle,
    /// Slope of the surface, for the cusp a ball leaves.
    pub slope: Angle,
    /// How the cutter gets down.
    pub entry: Option<Descent>,
    /// How far the wall may be off, if the user said.
    pub tolerance: Option<Length>,
}

impl Cut {
    /// Whether the cutter can pull the table along: climbing, on a path that has a direction. Over
    /// a turn a slot and a face press the table back.
    pub fn climbs(&self) -> bool {
        self.direction == Direction::Down && !matches!(self.path, Path::Slot | Path::Face)
    }
}
