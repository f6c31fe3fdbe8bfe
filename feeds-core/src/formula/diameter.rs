//! The largest engaged diameter: where the cutting speed of a shallow cut really is.

use super::{Registered, formula, registered};
use crate::quantity::{Angle, Length, Quantity};
use std::f64::consts::FRAC_PI_2;

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[
    registered::<SquareDiameter>(),
    registered::<CornerDiameter>(),
    registered::<BallDiameter>(),
    registered::<TiltedBallDiameter>(),
];

formula! {
    /// Effective diameter `D_eff` of a square end.
    ///
    /// # Takes
    /// `d` > 0.
    ///
    /// # Gives
    /// The cutting diameter, at any depth.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, diameter::SquareDiameter};
    /// use feeds_core::quantity::mm;
    /// assert_eq!(SquareDiameter { d: mm(6.0) }.value(), mm(6.0));
    /// ```
    SquareDiameter { d: Length = D } -> Length = D_EFF;
    name "effective diameter of a square end";
    text "D";
    why "a square end cuts at its full diameter from the first touch on";
    source "geometry";
    |f| f.d
}

formula! {
    /// Effective diameter `D_eff` of a cutter with a corner radius.
    ///
    /// # Takes
    /// `d` > 0, `0 <= r_e <= d / 2`, `a_p` > 0; deeper than `r_e` the full diameter is engaged.
    ///
    /// # Gives
    /// `d − 2 r_e < D_eff <= d`.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, diameter::CornerDiameter};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let d_eff = CornerDiameter { d: mm(10.0), r_e: mm(1.0), a_p: mm(0.2) }.value();
    /// assert!((in_mm(d_eff) - 9.2).abs() < 1e-12); // 10 − 2 + 2 · √(0.2 · 1.8)
    /// ```
    CornerDiameter { d: Length = D, r_e: Length = R_EPS, a_p: Length = A_P } -> Length = D_EFF;
    name "effective diameter with a corner radius";
    text "D − 2 · r_e + 2 · √(min(a_p, r_e) · (2 · r_e − min(a_p, r_e)))";
    why "a cut shallower than the corner radius meets only part of the rounding";
    source "geometry of a circle; checked by sampling the profile";
    |f| {
        let depth = f.a_p.si().min(f.r_e.si());
        let chord = 2.0 * (depth * (2.0 * f.r_e.si() - depth)).sqrt();
        f.d - 2.0 * f.r_e + Length::from_si(chord)
    }
}

formula! {
    /// Effective diameter `D_eff` of a ball end held square to the surface.
    ///
    /// # Takes
    /// `d` > 0, `a_p` > 0; deeper than half the diameter the full diameter is engaged.
    ///
    /// # Gives
    /// `0 < D_eff <= d`.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, diameter::BallDiameter};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let d_eff = BallDiameter { d: mm(10.0), a_p: mm(1.0) }.value();
    /// assert!((in_mm(d_eff) - 6.0).abs() < 1e-12); // 2 · √(1 · 9)
    /// ```
    BallDiameter { d: Length = D, a_p: Length = A_P } -> Length = D_EFF;
    name "effective diameter of a ball end";
    text "2 · √(min(a_p, D / 2) · (D − min(a_p, D / 2)))";
    why "a shallow cut meets only the cap of the ball";
    source "geometry of a sphere; checked by sampling it";
    |f| {
        let depth = f.a_p.si().min(f.d.si() / 2.0);
        Length::from_si(2.0 * (depth * (f.d.si() - depth)).sqrt())
    }
}

formula! {
    /// Effective diameter `D_eff` of a ball end tilted against the surface.
    ///
    /// # Takes
    /// `d` > 0, `a_p` > 0 normal to the surface, `0 <= β <= 90°` between axis and normal.
    ///
    /// # Gives
    /// `0 < D_eff <= d`: once the upper rim of the cut reaches the equator, the full diameter.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, diameter::TiltedBallDiameter};
    /// use feeds_core::quantity::{degrees, in_mm, mm};
    /// let tilted = TiltedBallDiameter { d: mm(6.0), a_p: mm(0.1), tilt: degrees(15.0) };
    /// assert!((in_mm(tilted.value()) - 2.985_03).abs() < 1e-5); // 6 · sin(15° + 14.84°)
    /// ```
    TiltedBallDiameter { d: Length = D, a_p: Length = A_P, tilt: Angle = TILT } -> Length = D_EFF;
    name "effective diameter of a tilted ball end";
    text "D · sin(min(β + acos(1 − 2 · min(a_p, D / 2) / D), 90°))";
    why "tilting moves the cut away from the tip, where the ball does not turn";
    source "geometry of a sphere; checked by sampling it";
    |f| {
        let depth = f.a_p.si().min(f.d.si() / 2.0);
        let rim = f.tilt.si() + (1.0 - 2.0 * depth / f.d.si()).acos();
        f.d * rim.min(FRAC_PI_2).sin()
    }
}
