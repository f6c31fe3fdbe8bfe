//! Outlines that are cut straight down: their area, what a cutter clears of it, what it leaves.

use super::kind::ClosedEnds;
use crate::quantity::{Area, Length};
use std::f64::consts::PI;

/// A longer and a shorter side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Side {
    /// The longer.
    pub length: Length,
    /// The shorter.
    pub width: Length,
}

/// An outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outline {
    /// A slot; a closed end is half a circle of its width.
    Channel(Side, ClosedEnds),
    /// A rectangle with corners of that radius.
    Rectangle(Side, Length),
    /// A circle of that diameter.
    Round(Length),
    /// Any outline without islands. Its walls are moved inwards as if it were convex with corners
    /// no tighter than the distance: true as long as the cutter fits into its smallest radius.
    Free {
        /// What it surrounds.
        area: Area,
        /// Once around.
        perimeter: Length,
        /// The smallest inside radius.
        inside: Length,
    },
    /// What lies between a hole and a wider one.
    Ring {
        /// The finished diameter.
        diameter: Length,
        /// The hole before.
        hole: Length,
    },
    /// A strip along an outside wall.
    Along(Side),
    /// A face that is open all around.
    Open(Side),
}

/// What a sharp corner has over a round one of radius 1, four of them: 4 − π.
const FOUR_CORNERS: f64 = 4.0 - PI;
/// What a square end has over a half circle of radius 1: 2 − π/2.
const SQUARE_END: f64 = 2.0 - PI / 2.0;

impl Outline {
    /// The whole area.
    ///
    /// # Example
    /// ```
    /// use feeds_core::feature::outline::{Outline, Side};
    /// use feeds_core::quantity::{Quantity, mm};
    /// let pocket = Outline::Rectangle(Side { length: mm(20.0), width: mm(12.0) }, mm(2.0));
    /// // By hand: 240 mm2 less (4 − π) · 4 mm2 of corners.
    /// assert!((pocket.area().si() * 1e6 - 236.566_37).abs() < 1e-4);
    /// ```
    pub fn area(self) -> Area {
        self.cleared(Length::default(), Length::default())
    }

    /// What a cutter of diameter `d` clears with `left` staying on every wall.
    pub fn cleared(self, d: Length, left: Length) -> Area {
        match self {
            Self::Channel(side, ends) => {
                let width = side.width - 2.0 * left;
                let length = side.length - ends.count() * left;
                length * width - ends.count() * SQUARE_END * (width / 2.0) * (width / 2.0)
            }
            Self::Rectangle(side, _) => {
                let radius = self.corner(d, left);
                let (length, width) = (side.length - 2.0 * left, side.width - 2.0 * left);
                length * width - FOUR_CORNERS * radius * radius
            }
            Self::Round(diameter) => circle(diameter - 2.0 * left),
            Self::Free {
                area, perimeter, ..
            } => area - perimeter * left + PI * left * left,
            Self::Ring { diameter, hole } => circle(diameter - 2.0 * left) - circle(hole),
            Self::Along(side) => side.length * (side.width - left),
            Self::Open(side) => side.length * side.width,
        }
    }

    /// The radius that a cutter of diameter `d` gives the corners with `left` on the walls.
    pub fn corner(self, d: Length, left: Length) -> Length {
        match self {
            Self::Rectangle(_, corner) => {
                let wanted = corner - left;
                let wanted = if wanted < Length::default() {
                    Length::default()
                } else {
                    wanted
                };
                if d / 2.0 > wanted { d / 2.0 } else { wanted }
            }
            _ => Length::default(),
        }
    }

    /// What a cutter of diameter `d` leaves in the corners of the finished wall.
    ///
    /// # Example
    /// ```
    /// use feeds_core::feature::outline::{Outline, Side};
    /// use feeds_core::quantity::{Quantity, mm};
    /// let pocket = Outline::Rectangle(Side { length: mm(20.0), width: mm(12.0) }, mm(1.0));
    /// // By hand: (4 − π) · (2² − 1²) mm2.
    /// assert!((pocket.leaves(mm(4.0)).si() * 1e6 - 2.575_22).abs() < 1e-4);
    /// ```
    pub fn leaves(self, d: Length) -> Area {
        self.area() - self.cleared(d, Length::default())
    }

    /// The widest cutter that gets everywhere a rougher has to go.
    pub fn widest(self) -> Option<Length> {
        match self {
            Self::Channel(side, _) | Self::Rectangle(side, _) => Some(side.width),
            Self::Round(diameter) => Some(diameter),
            Self::Free { inside, .. } => Some(2.0 * inside),
            Self::Ring { hole, .. } => Some(hole),
            Self::Along(_) | Self::Open(_) => None,
        }
    }

    /// The widest cutter that makes the corners as they are drawn.
    pub fn widest_in_corners(self) -> Option<Length> {
        match self {
            Self::Rectangle(_, corner) => Some(2.0 * corner),
            other => other.widest(),
        }
    }

    /// What there is to remove at the wall, where the rest is gone: around a hole, beside a part.
    pub fn skin(self) -> Option<Length> {
        match self {
            Self::Ring { diameter, hole } => Some((diameter - hole) / 2.0),
            Self::Along(side) => Some(side.width),
            _ => None,
        }
    }

    /// The radius of a wall that is curved inwards, to judge how far a cutter is engaged.
    pub fn wall_radius(self) -> Option<Length> {
        match self {
            Self::Round(diameter) | Self::Ring { diameter, .. } => Some(diameter / 2.0),
            _ => None,
        }
    }
}

/// The area of a circle of that diameter.
fn circle(diameter: Length) -> Area {
    PI / 4.0 * diameter * diameter
}
