//! What each stage of a feature removes, from its own geometry.

use super::outline::Outline;
use crate::quantity::{Length, Volume};

/// With what an outline is cut, stage by stage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stages {
    /// The outline.
    pub outline: Outline,
    /// How deep it goes.
    pub depth: Length,
    /// Diameter of the roughing cutter.
    pub rough: Length,
    /// Diameter of the cutter that finishes, smaller where the corners want one.
    pub finish: Length,
    /// What stays on the walls for the finish.
    pub left_wall: Length,
    /// What stays on the floor for the finish.
    pub left_floor: Length,
    /// Whether a slot is first cut along its middle, as wide as the cutter, and then widened.
    pub along_middle: bool,
}

/// What each stage removes. Together with what stays they make up the feature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Removed {
    /// The rough.
    pub rough: Volume,
    /// From the cut along the middle to what is left for the finish.
    pub widen: Volume,
    /// The floor below the rough.
    pub floor: Volume,
    /// The corners, from the roughing cutter's to the finishing cutter's.
    pub corners: Volume,
    /// What was left on the walls.
    pub walls: Volume,
    /// What stays in the corners: the finishing cutter does not get there.
    pub leaves: Volume,
}

impl Stages {
    /// What each stage removes.
    ///
    /// # Example
    /// ```
    /// use feeds_core::feature::outline::{Outline, Side};
    /// use feeds_core::feature::removed::Stages;
    /// use feeds_core::quantity::{Length, Quantity, mm};
    /// let stages = Stages {
    ///     outline: Outline::Open(Side { length: mm(30.0), width: mm(10.0) }),
    ///     depth: mm(0.5),
    ///     rough: mm(6.0),
    ///     finish: mm(6.0),
    ///     left_wall: Length::default(),
    ///     left_floor: Length::default(),
    ///     along_middle: false,
    /// };
    /// let rough = stages.removed().rough.si() * 1e9;
    /// assert!((rough - 150.0).abs() < 1e-9); // 30 · 10 · 0.5 mm3
    /// ```
    pub fn removed(&self) -> Removed {
        let none = Length::default();
        let roughed = self.outline.cleared(self.rough, self.left_wall);
        let first = match self.outline {
            Outline::Channel(side, _) if self.along_middle => {
                let beside = (side.width - self.rough) / 2.0;
                self.outline.cleared(self.rough, beside)
            }
            _ => roughed,
        };
        let cornered = self.outline.cleared(self.finish, self.left_wall);
        let finished = self.outline.cleared(self.finish, none);
        Removed {
            rough: first * (self.depth - self.left_floor),
            widen: (roughed - first) * (self.depth - self.left_floor),
            floor: roughed * self.left_floor,
            corners: (cornered - roughed) * self.depth,
            walls: (finished - cornered) * self.depth,
            leaves: self.outline.leaves(self.finish) * self.depth,
        }
    }
}

impl Removed {
    /// All of it, with what stays.
    pub fn whole(&self) -> Volume {
        self.rough + self.widen + self.floor + self.corners + self.walls + self.leaves
    }
}
