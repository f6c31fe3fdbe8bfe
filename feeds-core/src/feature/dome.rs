//! A surface rounded across its width, roughed in stairs and finished with a ball.

use super::outline::Side;
use super::way::Way;
use crate::quantity::{Area, Length, Quantity, Volume};

/// A dome: part of a cylinder along the length, from flat stock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dome {
    /// Length along it, and width across.
    pub side: Side,
    /// Radius of the round, at least half the width.
    pub radius: Length,
    /// Height of the ridges that may stay.
    pub cusp: Length,
}

/// One stair on both sides of a dome: how far the stock is cut in from each side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stair {
    /// From the edge inwards.
    pub width: Length,
    /// Its height.
    pub depth: Length,
}

impl Dome {
    /// The height of ridges whose mean roughness is so much: shallow ridges are parabolas, of which
    /// `R_a = 4 h / (9 √3)`, the mean distance from their mean line (by integration; ISO 4287 names
    /// the mean).
    ///
    /// # Example
    /// ```
    /// use feeds_core::feature::dome::Dome;
    /// use feeds_core::quantity::{Quantity, mm};
    /// // By hand: 1.6 um times 9 √3 / 4 is 6.235 um.
    /// assert!((Dome::cusp_of(mm(0.0016)).si() * 1e6 - 6.235).abs() < 1e-3);
    /// ```
    pub fn cusp_of(roughness: Length) -> Length {
        9.0 * 3.0_f64.sqrt() / 4.0 * roughness
    }

    /// From the top to where the round meets the sides: `R − √(R² − w²/4)`.
    pub fn height(self) -> Length {
        let half = self.side.width / 2.0;
        let square = half * half;
        // As one fraction: the difference would lose the digits of a flat dome.
        square / (self.radius + (self.radius * self.radius - square).sqrt())
    }

    /// What lies above the round: the block less the segment of the circle.
    pub fn volume(self) -> Volume {
        (self.side.width * self.height() - self.segment()) * self.side.length
    }

    /// The segment of the circle below the top.
    fn segment(self) -> Area {
        let half = self.side.width / 2.0;
        let angle = (half / self.radius).value.asin();
        let to_chord = self.radius - self.height();
        self.radius * self.radius * angle - half * to_chord
    }

    /// Half the width of the dome at a depth below its top, with so much left on the round.
    fn half_at(self, depth: Length, left: Length) -> Length {
        ((depth + left) * (2.0 * self.radius + left - depth)).sqrt()
    }

    /// The stairs of so many levels: each clears what is left on the dome at its own floor, where
    /// that is widest.
    pub fn stairs(self, levels: u32, left: Length) -> Vec<Stair> {
        let depth = self.height() / f64::from(levels.max(1));
        let half = self.side.width / 2.0;
        let stair = |level: u32| Stair {
            width: half - self.half_at(depth * f64::from(level), left),
            depth,
        };
        let stairs = (1..levels).map(stair);
        stairs.filter(|s| s.width > Length::default()).collect()
    }

    /// What stairs remove: two sides each.
    pub fn roughed(self, levels: u32, left: Length) -> Volume {
        let stairs = self.stairs(levels, left);
        let areas = stairs.iter().map(|s| (s.width * s.depth).value);
        2.0 * Area::from_si(areas.sum()) * self.side.length
    }

    /// The way of the stairs: in each, steps of at most `a_e` along both sides.
    pub fn rough_way(self, levels: u32, left: Length, d: Length, a_e: Length) -> Way {
        let passes = |stair: &Stair| super::level::steps(stair.width, a_e);
        let passes: u32 = self.stairs(levels, left).iter().map(passes).sum();
        Way::straight(self.side.length + d, 2 * passes)
    }

    /// The step of a ball along the surface that leaves the wanted cusp on the round:
    /// `√(8 h / (1/r + 1/R))`, ridges shallow against both radii.
    pub fn step(self, d: Length) -> Length {
        let ball = d / 2.0;
        let both = ball * self.radius / (ball + self.radius);
        (8.0 * self.cusp * both).sqrt()
    }

    /// The way of a ball over the round, along its length, in steps of at most that.
    pub fn ball_way(self, d: Length, step: Length) -> Way {
        let steps = super::level::steps(self.arc(), step) + 1;
        Way::straight(self.side.length + d, steps)
    }

    /// How far the tip of a ball goes below the foot of the round, to finish its sides:
    /// `r (1 − cos α)`, `α` the slope there.
    ///
    /// # Example
    /// ```
    /// use feeds_core::feature::{dome::Dome, outline::Side};
    /// use feeds_core::quantity::{Quantity, mm};
    /// let side = Side { length: mm(30.0), width: mm(20.0) };
    /// // By hand: a half round ends upright, and a ball of 10 mm beside it goes its radius down.
    /// let half_round = Dome { side, radius: mm(10.0), cusp: mm(0.01) };
    /// assert!((half_round.dips(mm(10.0)).si() * 1e3 - 5.0).abs() < 1e-6);
    /// ```
    pub fn dips(self, d: Length) -> Length {
        let sine = (self.side.width / 2.0 / self.radius).value;
        d / 2.0 * (1.0 - (1.0 - sine * sine).max(0.0).sqrt())
    }

    /// What stands in ridges of that height: a third of it over the whole round, for shallow
    /// valleys are parabolas.
    ///
    /// # Example
    /// ```
    /// use feeds_core::feature::{dome::Dome, outline::Side};
    /// use feeds_core::quantity::{Quantity, mm};
    /// let side = Side { length: mm(30.0), width: mm(20.0) };
    /// let half_round = Dome { side, radius: mm(10.0), cusp: mm(0.01) };
    /// // By hand: half the way around, 10 π mm, times 30 mm and 0.03 mm, over 3.
    /// let ridges = half_round.under_ridges(mm(0.03)).si() * 1e9;
    /// assert!((ridges - 9.424_778).abs() < 1e-6);
    /// ```
    pub fn under_ridges(self, height: Length) -> Volume {
        self.arc() * self.side.length * height / 3.0
    }

    /// What so thin a skin over the whole round holds.
    pub fn under_skin(self, left: Length) -> Volume {
        self.arc() * self.side.length * left
    }

    /// Over the round, from side to side.
    fn arc(self) -> Length {
        let half = self.side.width / 2.0;
        2.0 * self.radius * (half / self.radius).value.asin()
    }
}
