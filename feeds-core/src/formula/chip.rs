//! The chip of a straight cut: how far the edge is engaged, how thick the chip gets, and which
//! feed gives a wanted thickness.

use super::{Registered, formula, registered};
use crate::quantity::{Angle, Length, Quantity};
use std::f64::consts::FRAC_PI_2;

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[
    registered::<EngagementAngle>(),
    registered::<LargestChip>(),
    registered::<CentredChip>(),
    registered::<CountedThinning>(),
    registered::<FullWidthFeed>(),
    registered::<FeedTheEdgeNeeds>(),
    registered::<MeanChip>(),
    registered::<Thinning>(),
    registered::<FeedForLargestChip>(),
    registered::<FeedForMeanChip>(),
];

formula! {
    /// Engagement angle `φ_s` of a straight cut.
    ///
    /// # Takes
    /// `0 < a_e <= d`; a width from outside is checked before it gets here.
    ///
    /// # Gives
    /// 0 to 180 degrees: 90 at half the diameter, 180 in a slot.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, chip::EngagementAngle};
    /// use feeds_core::quantity::{Quantity, mm};
    /// let phi_s = EngagementAngle { a_e: mm(1.0), d: mm(10.0) }.value();
    /// assert!((phi_s.si().to_degrees() - 36.8699).abs() < 1e-4); // acos(0.8)
    /// ```
    EngagementAngle { a_e: Length = A_E, d: Length = D } -> Angle = PHI_S;
    name "engagement angle";
    text "acos(1 − 2 · a_e / D)";
    why "the edge is in the work from where its circle meets the old wall to the new one";
    source "ISO 3002-3 (memory); checked by a point cloud of the cutter circle";
    |f| Angle::from_si((1.0 - 2.0 * f.a_e.si() / f.d.si()).acos())
}

formula! {
    /// Largest chip thickness `h_max` of a peripheral cut.
    ///
    /// # Takes
    /// `f_z` > 0, `0 < κ <= 90°`, `0 < φ_s <= 180°`.
    ///
    /// # Gives
    /// At most `f_z`, reached from half the diameter on.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, chip::LargestChip};
    /// use feeds_core::quantity::{degrees, in_mm, mm};
    /// let h = LargestChip { f_z: mm(0.05), kappa: degrees(90.0), phi_s: degrees(30.0) }.value();
    /// assert!((in_mm(h) - 0.025).abs() < 1e-12); // 0.05 · sin 30°
    /// ```
    LargestChip { f_z: Length = F_Z, kappa: Angle = KAPPA, phi_s: Angle = PHI_S } -> Length = H_MAX;
    name "largest chip thickness";
    text "f_z · sin(κ) · sin(min(φ_s, 90°))";
    why "the chip is as thick as the feed only where the edge stands across the feed";
    source "ISO 3002-3 (memory); checked by integration over the arc";
    |f| f.f_z * f.kappa.si().sin() * f.phi_s.si().min(FRAC_PI_2).sin()
}

formula! {
    /// Largest chip thickness `h_max` of a path centred on the work.
    ///
    /// # Takes
    /// `f_z` > 0, `0 < kappa <= 90°`.
    ///
    /// # Gives
    /// A thickness that the width of cut does not change.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, chip::CentredChip};
    /// use feeds_core::quantity::{degrees, in_mm, mm};
    /// let h = CentredChip { f_z: mm(0.04), kappa: degrees(90.0) }.value();
    /// assert!((in_mm(h) - 0.04).abs() < 1e-12);
    /// ```
    CentredChip { f_z: Length = F_Z, kappa: Angle = KAPPA } -> Length = H_MAX;
    name "largest chip of a centred path";
    text "f_z · sin(κ)";
    why "a centred path has the edge across the feed at its middle";
    source "ISO 3002-3 (memory); checked by integration over the arc";
    |f| f.f_z * f.kappa.si().sin()
}

formula! {
    /// The thinning that a feed is given credit for.
    ///
    /// # Takes
    /// `f_z` > 0, `0 < kappa <= 90°`, `h_max` > 0.
    ///
    /// # Gives
    /// 1 to 2.3: beyond that the path never holds its width well enough.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, chip::CountedThinning};
    /// use feeds_core::quantity::{degrees, mm};
    /// let counted = |h: f64| {
    ///     CountedThinning { f_z: mm(0.04), kappa: degrees(90.0), h_max: mm(h) }.value()
    /// };
    /// assert!((counted(0.02) - 2.0).abs() < 1e-12);
    /// assert!((counted(0.01) - 2.3).abs() < 1e-12);
    /// ```
    CountedThinning { f_z: Length = F_Z, kappa: Angle = KAPPA, h_max: Length = H_MAX }
        -> f64 = COUNTED;
    name "thinning that is counted";
    text "min(max(f_z · sin(κ) / h_max, 1), 2.3)";
    why "a narrow cut may be fed faster for the same chip, up to a bound: no path holds its width";
    source "common practice";
    |f| (f.f_z.si() * f.kappa.si().sin() / f.h_max.si()).clamp(1.0, MOST_THINNING)
}

formula! {
    /// The feed at full width that gives the same chip.
    ///
    /// # Takes
    /// `f_z` > 0, `counted` >= 1.
    ///
    /// # Gives
    /// Never more than `f_z`.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, chip::FullWidthFeed};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let full = FullWidthFeed { f_z: mm(0.04), counted: 2.0 }.value();
    /// assert!((in_mm(full) - 0.02).abs() < 1e-12);
    /// ```
    FullWidthFeed { f_z: Length = F_Z, counted: f64 = COUNTED } -> Length = F_FULL;
    name "feed per tooth at full width";
    text "f_z / q_t";
    why "the table's feeds are for cuts that do not thin the chip";
    source "common practice";
    |f| f.f_z / f.counted
}

formula! {
    /// The highest feed at full width: the table's, or what so small an edge needs to cut.
    ///
    /// # Takes
    /// `r_usual` is the edge radius of such a cutter, sharp as it is sold; nothing where it is not
    /// known.
    ///
    /// # Gives
    /// Never less than the table's.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, chip::FeedTheEdgeNeeds};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let most = FeedTheEdgeNeeds { table: mm(0.002), share: 0.3, r_usual: mm(0.004) }.value();
    /// assert!((in_mm(most) - 0.00264).abs() < 1e-12); // 2.2 · 0.3 · 0.004 mm
    /// ```
    FeedTheEdgeNeeds { table: Length = F_TABLE, share: f64 = LAMBDA, r_usual: Length = R_USUAL }
        -> Length = F_FULL_MOST;
    name "highest feed per tooth at full width";
    text "max(f_zT, 2 · 1.1 · λ · r_β0)";
    why "the edge of a small cutter needs a chip that the table may not give it: twice the least \
         that cuts, with room for a round feed";
    source "table of feeds per tooth; twice the least chip is common practice";
    |f| f.table.max(f.r_usual * f.share * (CLEAR * TO_ROUND))
}

/// A narrow cut is fed up to so many times what a full one is (common practice): beyond that the
/// path never holds its width well enough.
pub const MOST_THINNING: f64 = 2.3;
/// The chip that a feed is floored at, over the least that cuts: half of the arc then cuts.
pub const CLEAR: f64 = 2.0;
/// Room above the floor within which a feed can be made a round number.
const TO_ROUND: f64 = 1.1;

formula! {
    /// Mean chip thickness `h_m` over the engaged arc.
    ///
    /// Falls towards nothing as the cut gets narrower: a light side cut may rub where a slot at
    /// the same feed cuts.
    ///
    /// # Takes
    /// `f_z` > 0, `0 < κ <= 90°`, `0 < a_e <= d`, and the `φ_s` of that `a_e`.
    ///
    /// # Gives
    /// `0 < h_m < f_z`, highest (0.72 f_z) at three quarters of the diameter; a slot has 0.64 f_z.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, chip::MeanChip};
    /// use feeds_core::quantity::{degrees, in_mm, mm};
    /// let slot = MeanChip {
    ///     f_z: mm(0.05), kappa: degrees(90.0), a_e: mm(10.0), d: mm(10.0), phi_s: degrees(180.0),
    /// };
    /// assert!((in_mm(slot.value()) - 0.031_831).abs() < 1e-6); // 2 · 0.05 / π
    /// ```
    MeanChip {
        f_z: Length = F_Z, kappa: Angle = KAPPA, a_e: Length = A_E, d: Length = D,
        phi_s: Angle = PHI_S,
    } -> Length = H_M;
    name "mean chip thickness";
    text "2 · f_z · sin(κ) · a_e / (D · φ_s)";
    why "the area of the chip, feed times width of cut, is spread over the length of the arc";
    source "O. W. Salomon's mean thickness (memory); checked by integration over the arc";
    |f| 2.0 * f.f_z * f.kappa.si().sin() * (f.a_e.si() / (f.d.si() * f.phi_s.si()))
}

formula! {
    /// Thinning factor `f_z/h_max`: how much feed a given chip takes.
    ///
    /// # Takes
    /// `f_z` > 0, `h_max` > 0.
    ///
    /// # Gives
    /// 1 or more; 1 where the chip is as thick as the feed.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, chip::Thinning};
    /// use feeds_core::quantity::mm;
    /// let factor = Thinning { f_z: mm(0.05), h_max: mm(0.03) }.value();
    /// assert!((factor - 1.6667).abs() < 1e-4);
    /// ```
    Thinning { f_z: Length = F_Z, h_max: Length = H_MAX } -> f64 = THINNING;
    name "thinning factor";
    text "f_z / h_max";
    why "a thin chip allows more feed for the same thickness";
    source "CERATIZIT, e-catalogue 2026, p. 802, corrected f_z for h_m and a_e (printed)";
    |f| f.f_z.si() / f.h_max.si()
}

formula! {
    /// Feed per tooth `f_z` for a wanted largest chip thickness.
    ///
    /// # Takes
    /// `h_max` > 0, `0 < κ <= 90°`, `0 < φ_s <= 180°`.
    ///
    /// # Gives
    /// `h_max` or more; the inverse of [`LargestChip`].
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, chip::FeedForLargestChip};
    /// use feeds_core::quantity::{degrees, in_mm, mm};
    /// let wanted = FeedForLargestChip {
    ///     h_max: mm(0.05), kappa: degrees(45.0), phi_s: degrees(90.0),
    /// };
    /// assert!((in_mm(wanted.value()) - 0.070_711).abs() < 1e-6); // 0.05 / sin 45°
    /// ```
    FeedForLargestChip {
        h_max: Length = H_MAX, kappa: Angle = KAPPA, phi_s: Angle = PHI_S,
    } -> Length = F_Z;
    name "feed per tooth for a largest chip";
    text "h_max / (sin(κ) · sin(min(φ_s, 90°)))";
    why "where the arc or the edge thins the chip the feed can make up for it";
    source "ISO 3002-3 (memory); the inverse of the largest chip thickness";
    |f| f.h_max / (f.kappa.si().sin() * f.phi_s.si().min(FRAC_PI_2).sin())
}

formula! {
    /// Feed per tooth `f_z` for a wanted mean chip thickness.
    ///
    /// # Takes
    /// `h_m` > 0, `0 < κ <= 90°`, `0 < a_e <= d`, and the `φ_s` of that `a_e`.
    ///
    /// # Gives
    /// More than `h_m`; the inverse of [`MeanChip`].
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, chip::FeedForMeanChip};
    /// use feeds_core::quantity::{degrees, in_mm, mm};
    /// let slot = FeedForMeanChip {
    ///     h_m: mm(0.02), kappa: degrees(90.0), a_e: mm(6.0), d: mm(6.0), phi_s: degrees(180.0),
    /// };
    /// assert!((in_mm(slot.value()) - 0.031_416).abs() < 1e-6); // 0.02 · π / 2
    /// ```
    FeedForMeanChip {
        h_m: Length = H_M, kappa: Angle = KAPPA, a_e: Length = A_E, d: Length = D,
        phi_s: Angle = PHI_S,
    } -> Length = F_Z;
    name "feed per tooth for a mean chip";
    text "h_m · D · φ_s / (2 · sin(κ) · a_e)";
    why "the length of the arc times the mean thickness is the area of the chip";
    source "O. W. Salomon's mean thickness (memory); the inverse of the mean chip thickness";
    |f| f.h_m * (f.d.si() * f.phi_s.si() / (2.0 * f.kappa.si().sin() * f.a_e.si()))
}
