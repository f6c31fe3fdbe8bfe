//! Entering the work: helix and ramp.

use super::{Registered, formula, registered};
use crate::quantity::{Angle, Length, Quantity};
use std::f64::consts::PI;

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[
    registered::<HelixTurns>(),
    registered::<HelixLength>(),
    registered::<HelixAngle>(),
    registered::<RampLength>(),
];

formula! {
    /// Turns `i` of a helical entry.
    ///
    /// # Takes
    /// `depth` > 0, `pitch` > 0 (depth gained in one turn of the path).
    ///
    /// # Gives
    /// Turns of the path, parts of a turn included.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, entry::HelixTurns};
    /// use feeds_core::quantity::mm;
    /// let turns = HelixTurns { depth: mm(3.0), pitch: mm(0.5) }.value();
    /// assert!((turns - 6.0).abs() < 1e-12);
    /// ```
    HelixTurns { depth: Length = DEPTH, pitch: Length = PITCH } -> f64 = TURNS;
    name "turns of the helix";
    text "T / p";
    why "each turn goes down by the pitch";
    source "geometry";
    |f| f.depth.si() / f.pitch.si()
}

formula! {
    /// Length `L_p` of the cutter centre's way down a helix.
    ///
    /// # Takes
    /// `turns` > 0, `hole` > `d` > 0 (finished hole and cutter), `pitch` > 0.
    ///
    /// # Gives
    /// A length along the helix itself.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, entry::HelixLength};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let down = HelixLength { turns: 6.0, hole: mm(9.0), d: mm(6.0), pitch: mm(0.5) };
    /// assert!((in_mm(down.value()) - 56.6282).abs() < 1e-4); // 6 · √((π · 3)² + 0.5²)
    /// ```
    HelixLength {
        turns: f64 = TURNS, hole: Length = WALL_D, d: Length = D, pitch: Length = PITCH,
    } -> Length = PATH_LENGTH;
    name "length of the helix";
    text "i · √((π · (D_m − D))^2 + p^2)";
    why "unrolled, a turn of the helix is the slope over the circle of the centre path";
    source "geometry; checked by sampling the path";
    |f| Length::from_si(f.turns * (PI * (f.hole - f.d).si()).hypot(f.pitch.si()))
}

formula! {
    /// Ramp angle `γ_r` of a helical entry, at the centre path.
    ///
    /// # Takes
    /// `pitch` > 0, `hole` > `d` > 0 (finished hole and cutter).
    ///
    /// # Gives
    /// 0 to 90 degrees; at the wall of the hole the slope is less.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, entry::HelixAngle};
    /// use feeds_core::quantity::{Quantity, mm};
    /// let angle = HelixAngle { pitch: mm(0.5), hole: mm(9.0), d: mm(6.0) }.value();
    /// assert!((angle.si().to_degrees() - 3.0368).abs() < 1e-4); // atan(0.5 / 9.425)
    /// ```
    HelixAngle { pitch: Length = PITCH, hole: Length = WALL_D, d: Length = D } -> Angle = RAMP;
    name "ramp angle of the helix";
    text "atan(p / (π · (D_m − D)))";
    why "unrolled, a turn rises by the pitch over the circle of the centre path";
    source "geometry; checked by sampling the path";
    |f| Angle::from_si((f.pitch.si() / (PI * (f.hole - f.d).si())).atan())
}

formula! {
    /// Length `L_r` of a straight ramp, as seen in plan.
    ///
    /// # Takes
    /// `depth` > 0, `0 < angle < 90°`.
    ///
    /// # Gives
    /// The travel needed along the floor.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, entry::RampLength};
    /// use feeds_core::quantity::{degrees, in_mm, mm};
    /// let ramp = RampLength { depth: mm(1.0), angle: degrees(2.0) }.value();
    /// assert!((in_mm(ramp) - 28.6363).abs() < 1e-4); // 1 / tan 2°
    /// ```
    RampLength { depth: Length = DEPTH, angle: Angle = RAMP } -> Length = RAMP_LENGTH;
    name "length of the ramp";
    text "T / tan(γ_r)";
    why "a shallow ramp needs a long way to reach its depth";
    source "geometry";
    |f| f.depth / f.angle.si().tan()
}
