//! Where the edge rubs instead of cutting.

use super::{Registered, formula, registered};
use crate::quantity::{Angle, Length, Quantity};
use std::f64::consts::PI;

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[
    registered::<LeastChip>(),
    registered::<WornLeastChip>(),
    registered::<RubbingShare>(),
    registered::<CentredRubbingShare>(),
    registered::<WorstTooth>(),
];

formula! {
    /// Least chip thickness `h_min` that an edge still cuts.
    ///
    /// # Takes
    /// `share` 0.2 to 0.4 (0.3 where nothing better is known), `r_edge` > 0.
    ///
    /// # Gives
    /// A length below which the work is pressed under the edge.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, rubbing::LeastChip};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let h_min = LeastChip { share: 0.3, r_edge: mm(0.01) }.value();
    /// assert!((in_mm(h_min) - 0.003).abs() < 1e-12);
    /// ```
    LeastChip { share: f64 = LAMBDA, r_edge: Length = R_EDGE } -> Length = H_MIN;
    name "least chip that cuts";
    text "λ · r_β";
    why "an edge is round, and too thin a chip is squeezed under the rounding";
    source "minimum chip thickness in micro milling, 0.2 to 0.4 of the edge radius (memory)";
    |f| f.share * f.r_edge
}

formula! {
    /// Least chip thickness `h_min` that a worn edge still cuts.
    ///
    /// # Takes
    /// `share` 0.2 to 0.4, `r_edge` > 0 when new, `growth` 1 or more.
    ///
    /// # Gives
    /// A length below which the work is pressed under the edge.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, rubbing::WornLeastChip};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let h_min = WornLeastChip { share: 0.3, r_edge: mm(0.01), growth: 2.5 }.value();
    /// assert!((in_mm(h_min) - 0.0075).abs() < 1e-12);
    /// ```
    WornLeastChip { share: f64 = LAMBDA, r_edge: Length = R_EDGE, growth: f64 = GROWTH }
        -> Length = H_MIN;
    name "least chip that a worn edge cuts";
    text "λ · r_β · g_β";
    why "wear rounds the edge further, and squeezes more of a thin chip under it";
    source "minimum chip thickness in micro milling (memory); growth of the radius with wear is \
            common practice";
    |f| f.share * f.r_edge * f.growth
}

formula! {
    /// Share of the engaged arc that rubs, `s_r`.
    ///
    /// # Takes
    /// `h_min` > 0, `f_z` > 0, `0 < κ <= 90°`, `0 < φ_s <= 180°`.
    ///
    /// # Gives
    /// 0 to 1; 1 when the chip never gets as thick as `h_min`.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, rubbing::RubbingShare};
    /// use feeds_core::quantity::{degrees, mm};
    /// // half the feed is reached 30° into the cut: a third of a quarter turn
    /// let share = RubbingShare {
    ///     h_min: mm(0.005), f_z: mm(0.01), kappa: degrees(90.0), phi_s: degrees(90.0),
    /// };
    /// assert!((share.value() - 1.0 / 3.0).abs() < 1e-12);
    /// ```
    RubbingShare {
        h_min: Length = H_MIN, f_z: Length = F_Z, kappa: Angle = KAPPA, phi_s: Angle = PHI_S,
    } -> f64 = RUBBING;
    name "share of the arc that rubs";
    text "(min(φ_s, asin(min(h_min / (f_z · sin(κ)), 1))) + \
          max(φ_s − 180° + asin(min(h_min / (f_z · sin(κ)), 1)), 0)) / φ_s";
    why "the chip starts, or in a slot starts and ends, thinner than the edge can cut";
    source "geometry of the chip h = f_z sin κ sin φ";
    |f| {
        let phi_s = f.phi_s.si();
        let cuts_from = (f.h_min.si() / (f.f_z.si() * f.kappa.si().sin())).min(1.0).asin();
        (phi_s.min(cuts_from) + (phi_s - PI + cuts_from).max(0.0)) / phi_s
    }
}

formula! {
    /// Share of the engaged arc that rubs on a path centred on the work.
    ///
    /// # Takes
    /// `h_min` > 0, `f_z` > 0, `0 < κ <= 90°`, `0 < φ_s <= 180°`.
    ///
    /// # Gives
    /// 0 to 1; 1 when the chip never gets as thick as `h_min`.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, rubbing::CentredRubbingShare};
    /// use feeds_core::quantity::{degrees, mm};
    /// // 120° about the feed begins at 30°, where the chip already is half the feed
    /// let share = CentredRubbingShare {
    ///     h_min: mm(0.005), f_z: mm(0.01), kappa: degrees(90.0), phi_s: degrees(120.0),
    /// };
    /// assert!(share.value().abs() < 1e-12);
    /// ```
    CentredRubbingShare {
        h_min: Length = H_MIN, f_z: Length = F_Z, kappa: Angle = KAPPA, phi_s: Angle = PHI_S,
    } -> f64 = RUBBING;
    name "share of a centred arc that rubs";
    text "max(2 · asin(min(h_min / (f_z · sin(κ)), 1)) + φ_s − 180°, 0) / φ_s";
    why "a centred path enters and leaves the work where the chip is already thick";
    source "geometry of the chip h = f_z sin κ sin φ";
    |f| {
        let phi_s = f.phi_s.si();
        let cuts_from = (f.h_min.si() / (f.f_z.si() * f.kappa.si().sin())).min(1.0).asin();
        (2.0 * cuts_from + phi_s - PI).max(0.0) / phi_s
    }
}

formula! {
    /// Feed of the most loaded tooth `f_z,max` of a cutter that runs out.
    ///
    /// # Takes
    /// `f_z` > 0, `tir` >= 0 at the tip and small against `f_z`, `z` >= 2.
    ///
    /// # Gives
    /// `f_z` or more: the whole reading for two edges, 0.87 of it for three, 0.71 for four.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, rubbing::WorstTooth};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let worst = WorstTooth { f_z: mm(0.02), tir: mm(0.01), z: 2.0 }.value();
    /// assert!((in_mm(worst) - 0.03).abs() < 1e-12); // 0.02 + 0.01 · sin 90°
    /// ```
    WorstTooth { f_z: Length = F_Z, tir: Length = TIR, z: f64 = Z } -> Length = F_Z_WORST;
    name "feed of the most loaded tooth";
    text "f_z + t_r · sin(π / z)";
    why "an edge further out than the one before takes part of that one's chip";
    source "geometry of an offset axis; W. Kline, R. DeVor 1983 (memory)";
    |f| f.f_z + f.tir * (PI / f.z).sin()
}
