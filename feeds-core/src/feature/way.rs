//! How long the paths are that clear an outline: the cutter's centre, one level.

use super::kind::ClosedEnds;
use super::level::steps;
use super::outline::{Outline, Side};
use crate::formula::Formula;
use crate::formula::entry::{HelixLength, HelixTurns, RampLength};
use crate::quantity::{Angle, Length};
use std::f64::consts::PI;

/// The way of a cutter's centre.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Way {
    /// Its length.
    pub length: Length,
    /// In how many legs: at the end of each the cutter stops to turn.
    pub legs: f64,
}

impl Way {
    /// So many straight legs.
    pub fn straight(each: Length, legs: u32) -> Self {
        Self {
            length: each * f64::from(legs),
            legs: f64::from(legs),
        }
    }

    /// A way without corners.
    fn smooth(length: Length) -> Self {
        Self { length, legs: 1.0 }
    }

    /// The same so many times.
    #[must_use]
    pub fn times(self, levels: u32) -> Self {
        let levels = f64::from(levels);
        Self {
            length: self.length * levels,
            legs: self.legs * levels,
        }
    }

    /// This way and another.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self {
            length: self.length + other.length,
            legs: self.legs + other.legs,
        }
    }
}

/// The way down one level on a ramp that goes to and fro: the slope itself.
pub fn ramp(depth: Length, angle: Angle) -> Way {
    let plan = RampLength { depth, angle }.value();
    Way::smooth((plan * plan + depth * depth).sqrt())
}

/// The way down one level on a helix.
pub fn helix(depth: Length, hole: Length, d: Length, pitch: Length) -> Way {
    let turns = HelixTurns { depth, pitch }.value();
    Way::smooth(
        HelixLength {
            turns,
            hole,
            d,
            pitch,
        }
        .value(),
    )
}

/// In to a wall and off again on a quarter of a circle each.
pub fn arcs(radius: Length) -> Way {
    Way::smooth(PI * radius)
}

/// Once along a slot in its full width: from one radius outside an open end, to the wall of a
/// closed one.
pub fn along(side: Side, ends: ClosedEnds, d: Length, left: Length) -> Way {
    let closed = ends.count();
    let length = side.length - closed * (d / 2.0 + left) + (2.0 - closed) * (d / 2.0);
    Way::smooth(length)
}

/// Circles along a slot: each as wide as there is room, one `a_e` further than the last. Half of
/// each goes through air.
pub fn loops(side: Side, ends: ClosedEnds, d: Length, left: Length, a_e: Length) -> Way {
    let middle = along(side, ends, d, left);
    let circles = f64::from(steps(middle.length, a_e));
    let round = PI * (side.width - 2.0 * left - d);
    Way::smooth(middle.length + circles * round)
}

/// Rounds of a slot that is wider than the cutter, behind the first cut along its middle.
pub fn widened(side: Side, ends: ClosedEnds, d: Length, left: Length, a_e: Length) -> Way {
    let room = (side.width - d) / 2.0 - left;
    if room <= Length::default() {
        return Way::default();
    }
    let rounds = steps(room, a_e);
    let each = room / f64::from(rounds);
    let round = |k: u32| around(side, ends, d, each * f64::from(k));
    (1..=rounds).map(round).fold(Way::default(), Way::and)
}

/// Once around in a slot, `off` beside its middle.
fn around(side: Side, ends: ClosedEnds, d: Length, off: Length) -> Way {
    let closed = ends.count();
    // The half circle of a closed end lies about the middle of that of the wall.
    let straight = side.length - closed * (side.width / 2.0) + (2.0 - closed) * (d / 2.0);
    let turns = closed * PI * off + (2.0 - closed) * (2.0 * off);
    Way {
        length: 2.0 * straight + turns,
        legs: 2.0 + 2.0 - closed,
    }
}

impl Outline {
    /// The way that clears it with steps of at most `a_e`, from the middle outwards.
    ///
    /// # Example
    /// ```
    /// use feeds_core::feature::outline::{Outline, Side};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let pocket = Outline::Rectangle(Side { length: mm(20.0), width: mm(12.0) }, mm(2.0));
    /// let way = pocket.clearing(mm(4.0), mm(0.0), mm(2.0));
    /// // By hand: loops of 16 x 8 and 12 x 4, a middle of 8, two steps of 2: 48 + 32 + 8 + 4.
    /// assert!((in_mm(way.length) - 92.0).abs() < 1e-9);
    /// ```
    pub fn clearing(self, d: Length, left: Length, a_e: Length) -> Way {
        match self {
            Self::Channel(side, ends) => {
                along(side, ends, d, left).and(widened(side, ends, d, left, a_e))
            }
            Self::Rectangle(side, _) => offset_loops(side, d, left, a_e),
            Self::Round(diameter) => rings(Length::default(), diameter / 2.0 - left - d / 2.0, a_e),
            Self::Ring { diameter, hole } => {
                let from = hole / 2.0 - d / 2.0;
                rings(from, diameter / 2.0 - left - d / 2.0, a_e)
            }
            Self::Free { .. } => self.free_loops(d, left, a_e),
            Self::Along(side) => {
                let rounds = steps(side.width - left, a_e);
                Way::straight(side.length + PI * d / 2.0, rounds)
            }
            Self::Open(side) => {
                let rows = steps(side.width, a_e);
                let across = side.width / f64::from(rows) * f64::from(rows - 1);
                Way::straight(side.length + d, rows).and(Way {
                    length: across,
                    legs: f64::from(rows - 1),
                })
            }
        }
    }

    /// Once along the finished wall, in and off on arcs of `lead`.
    pub fn wall_way(self, d: Length, lead: Length) -> Way {
        let round = match self {
            Self::Channel(side, ends) => {
                let off = (side.width - d) / 2.0;
                around(side, ends, d, off)
            }
            Self::Rectangle(side, corner) => {
                let sharp = 2.0 * (side.length - d) + 2.0 * (side.width - d);
                let arc = corner - d / 2.0;
                if arc > Length::default() {
                    Way::smooth(sharp - (8.0 - 2.0 * PI) * arc)
                } else {
                    Way {
                        length: sharp,
                        legs: 4.0,
                    }
                }
            }
            Self::Round(diameter) | Self::Ring { diameter, .. } => Way::smooth(PI * (diameter - d)),
            Self::Free { perimeter, .. } => Way::smooth(perimeter - PI * d),
            Self::Along(side) => Way::smooth(side.length),
            Self::Open(_) => return Way::default(),
        };
        round.and(arcs(lead))
    }

    /// The way into four corners that a cutter of diameter `before` left, down both walls of each.
    ///
    /// What stands in a corner of radius `R` is `(√2 − 1) · (R − r)` thick along the diagonal for a
    /// cutter that makes `r`; each round goes `R − r` in along one wall and out along the other.
    pub fn corners_way(self, before: Length, d: Length, left: Length, a_e: Length) -> Way {
        let Self::Rectangle(..) = self else {
            return Way::default();
        };
        let reach = self.corner(before, left) - self.corner(d, left);
        if reach <= Length::default() {
            return Way::default();
        }
        let rounds = steps(reach * (2.0_f64.sqrt() - 1.0), a_e);
        Way {
            length: 2.0 * reach,
            legs: 2.0,
        }
        .times(4 * rounds)
    }

    /// The area that the centre sweeps over the step, and the outermost round.
    fn free_loops(self, d: Length, left: Length, a_e: Length) -> Way {
        let Self::Free { perimeter, .. } = self else {
            return Way::default();
        };
        let in_by = left + d / 2.0;
        let swept = self.cleared(d, in_by);
        let outermost = perimeter - 2.0 * PI * in_by;
        let length = swept / a_e + outermost;
        Way {
            length,
            legs: 4.0 * f64::from(steps(d, a_e)),
        }
    }
}

/// Loops one inside the other in a rectangle, equally far apart, and the line in its middle.
fn offset_loops(side: Side, d: Length, left: Length, a_e: Length) -> Way {
    let (length, width) = (side.length - 2.0 * left - d, side.width - 2.0 * left - d);
    let middle = Way::straight(length - width, 1);
    if width <= Length::default() {
        return Way::straight(length, 1);
    }
    let loops = steps(width / 2.0, a_e);
    let step = width / 2.0 / f64::from(loops);
    let of = |k: u32| Way {
        length: 2.0 * (length + width) - 8.0 * step * f64::from(k) + step,
        legs: 5.0,
    };
    (0..loops).map(of).fold(middle, Way::and)
}

/// Rings from a radius of the centre's path to another, equally far apart, with the steps between.
fn rings(from: Length, to: Length, a_e: Length) -> Way {
    let room = to - from;
    if room <= Length::default() {
        return Way::smooth(2.0 * PI * to);
    }
    let rings = steps(room, a_e);
    let step = room / f64::from(rings);
    let radius = |k: u32| from + step * f64::from(k);
    let ring = |k: u32| Way::smooth(2.0 * PI * radius(k) + step);
    (1..=rings).map(ring).fold(Way::default(), Way::and)
}
