//! The force off a wall at the moment an edge leaves it behind.

use core::f64::consts::PI;

use super::turn::{INSIDE, Load, Turn};

/// A wall the edge leaves behind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TurnWall {
    /// At +y, generated at φ = 0, where teeth enter (up cutting).
    Up,
    /// At -y, generated at φ = 180°, where teeth leave (down cutting).
    Down,
}

impl TurnWall {
    /// The part of a load that pushes the cutter away from the wall, N.
    pub(super) fn off(self, load: &Load) -> f64 {
        match self {
            Self::Up => -load.y,
            Self::Down => load.y,
        }
    }
}

impl Turn<'_> {
    /// Force away from the wall, N, when tooth 0 generates it at `height` mm above the tip:
    /// positive leaves stock, negative cuts into the wall. Height 0 ..= `a_p`.
    ///
    /// The engaged arc must reach that wall (`Slot` reaches both). The edge force acts on the
    /// part in cut at that moment: none of this tooth's where it first meets the wall, all where
    /// it last does, so bottom and top differ even at the slightest helix.
    pub fn off_wall(&self, wall: TurnWall, height: f64) -> f64 {
        wall.off(&self.at(self.generates(wall, height)))
    }

    /// The angle at which tooth 0 generates a wall at a height. A straight edge is asked just
    /// inside the cut, where it still does.
    pub(super) fn generates(&self, wall: TurnWall, height: f64) -> f64 {
        let lag = self.lag_per_mm * height;
        match wall {
            TurnWall::Up => lag + INSIDE,
            TurnWall::Down => PI + lag - INSIDE,
        }
    }
}
