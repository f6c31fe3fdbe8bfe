//! How many teeth are in the cut at once.

use super::{Registered, formula, registered};
use crate::quantity::{Angle, Length, Quantity};
use std::f64::consts::TAU;

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[
    registered::<HelixLag>(),
    registered::<TeethMean>(),
    registered::<TeethLeast>(),
    registered::<TeethMost>(),
];

/// A count this close to a whole number is that number: angles carry rounding.
const WHOLE: f64 = 1e-9;

formula! {
    /// Lag `δ_λ` of the top of an edge behind its tip.
    ///
    /// # Takes
    /// `a_p` >= 0, `0 <= helix < 90°`, `d` > 0.
    ///
    /// # Gives
    /// An angle of any size: a long steep edge winds more than once round the cutter.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, teeth::HelixLag};
    /// use feeds_core::quantity::{Quantity, degrees, mm};
    /// let lag = HelixLag { a_p: mm(3.0), helix: degrees(45.0), d: mm(6.0) }.value();
    /// assert!((lag.si() - 1.0).abs() < 1e-12); // 2 · 3 · tan 45° / 6
    /// ```
    HelixLag { a_p: Length = A_P, helix: Angle = HELIX, d: Length = D } -> Angle = LAG;
    name "helix lag";
    text "2 · a_p · tan(λ_s) / D";
    why "the edge winds round the cutter, so its upper end comes later";
    source "ISO 3002-1, helix angle (memory); checked by counting";
    |f| Angle::from_si(2.0 * f.a_p.si() * f.helix.si().tan() / f.d.si())
}

formula! {
    /// Mean number `z_e` of teeth in cut.
    ///
    /// # Takes
    /// `z` >= 1, `0 < φ_s <= 180°`, `δ_λ` >= 0.
    ///
    /// # Gives
    /// `0 < z_e <= z`.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, teeth::TeethMean};
    /// use feeds_core::quantity::degrees;
    /// let mean = TeethMean { z: 3.0, phi_s: degrees(90.0), lag: degrees(0.0) }.value();
    /// assert!((mean - 0.75).abs() < 1e-12); // three teeth, each in cut for a quarter turn
    /// ```
    TeethMean { z: f64 = Z, phi_s: Angle = PHI_S, lag: Angle = LAG } -> f64 = TEETH;
    name "mean number of teeth in cut";
    text "z · min(φ_s + δ_λ, 360°) / 360°";
    why "each tooth is in cut over its arc and the lag of its helix";
    source "geometry; checked by counting";
    |f| f.z * (f.phi_s.si() + f.lag.si()).min(TAU) / TAU
}

formula! {
    /// Fewest teeth `z_e,min` in cut at any moment.
    ///
    /// # Takes
    /// `teeth` the mean number of teeth in cut, evenly spaced.
    ///
    /// # Gives
    /// A whole number; a mean within 1e-9 of a whole number counts as whole.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, teeth::TeethLeast};
    /// assert_eq!(TeethLeast { teeth: 2.01 }.value(), 2.0);
    /// ```
    TeethLeast { teeth: f64 = TEETH } -> f64 = TEETH_LEAST;
    name "fewest teeth in cut";
    text "floor(z_e)";
    why "evenly spaced teeth enter and leave one by one, so the count moves by one only";
    source "geometry; checked by counting";
    |f| (f.teeth + WHOLE).floor()
}

formula! {
    /// Most teeth `z_e,max` in cut at any moment.
    ///
    /// # Takes
    /// `teeth` the mean number of teeth in cut, evenly spaced.
    ///
    /// # Gives
    /// A whole number; a mean within 1e-9 of a whole number counts as whole.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, teeth::TeethMost};
    /// assert_eq!(TeethMost { teeth: 2.01 }.value(), 3.0);
    /// ```
    TeethMost { teeth: f64 = TEETH } -> f64 = TEETH_MOST;
    name "most teeth in cut";
    text "ceil(z_e)";
    why "evenly spaced teeth enter and leave one by one, so the count moves by one only";
    source "geometry; checked by counting";
    |f| (f.teeth - WHOLE).ceil()
}
