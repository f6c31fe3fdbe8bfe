//! What a ball or corner leaves on the surface: cusps between paths, and feed marks.

use super::{Registered, formula, registered};
use crate::quantity::{Angle, Length, Quantity};

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[
    registered::<SurfaceStep>(),
    registered::<CuspHeight>(),
    registered::<StepForCusp>(),
    registered::<RoughnessHeight>(),
    registered::<MeanRoughness>(),
];

/// Height of the ridge between two circles of radius `r` whose centres are `step` apart.
/// As one fraction: `r − √(r² − step²/4)` would lose the digits of a small ridge.
fn ridge(r: f64, step: f64) -> f64 {
    let square = step * step / 4.0;
    square / (r + (r * r - square).sqrt())
}

formula! {
    /// Step along the surface `b_s` that a horizontal step makes on a slope.
    ///
    /// # Takes
    /// `step` > 0, `0 <= slope < 90°`.
    ///
    /// # Gives
    /// `b_s >= b_r`.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, surface::SurfaceStep};
    /// use feeds_core::quantity::{degrees, in_mm, mm};
    /// let b_s = SurfaceStep { step: mm(0.3), slope: degrees(60.0) }.value();
    /// assert!((in_mm(b_s) - 0.6).abs() < 1e-12); // 0.3 / cos 60°
    /// ```
    SurfaceStep { step: Length = STEP, slope: Angle = SLOPE } -> Length = SURFACE_STEP;
    name "step along the surface";
    text "b_r / cos(α)";
    why "paths a fixed step apart in plan lie further apart on a slope";
    source "geometry";
    |f| f.step / f.slope.si().cos()
}

formula! {
    /// Cusp height `h_c` between two paths of a ball.
    ///
    /// # Takes
    /// `r` > 0 radius of the ball, `0 < b_s <= 2 r` step along the surface.
    ///
    /// # Gives
    /// `0 < h_c <= r`, near `b_s² / (8 r)` for small steps.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, surface::CuspHeight};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let h_c = CuspHeight { r: mm(5.0), surface_step: mm(6.0) }.value();
    /// assert!((in_mm(h_c) - 1.0).abs() < 1e-12); // 5 − √(25 − 9)
    /// ```
    CuspHeight { r: Length = R, surface_step: Length = SURFACE_STEP } -> Length = CUSP;
    name "cusp height";
    text "R − √(R^2 − b_s^2 / 4)";
    why "two round grooves leave a ridge where their circles meet";
    source "geometry of two circles; checked by intersecting profiles";
    |f| Length::from_si(ridge(f.r.si(), f.surface_step.si()))
}

formula! {
    /// Step `b_r` between paths for a wanted cusp on a flat.
    ///
    /// # Takes
    /// `r` > 0 radius of the ball, `0 < cusp <= r`.
    ///
    /// # Gives
    /// `0 < b_r <= 2 r`.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, surface::StepForCusp};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let step = StepForCusp { r: mm(5.0), cusp: mm(1.0) }.value();
    /// assert!((in_mm(step) - 6.0).abs() < 1e-12); // 2 · √(1 · 9)
    /// ```
    StepForCusp { r: Length = R, cusp: Length = CUSP } -> Length = STEP;
    name "step for a cusp height";
    text "2 · √(h_c · (2 · R − h_c))";
    why "the step is the chord of the ball at the height of the cusp";
    source "geometry of two circles; checked by root finding";
    |f| Length::from_si(2.0 * (f.cusp.si() * (2.0 * f.r.si() - f.cusp.si())).sqrt())
}

formula! {
    /// Theoretical height of roughness `R_t` of round feed marks.
    ///
    /// # Takes
    /// `r` > 0 radius of the corner or ball, `0 < p <= 2 r` pitch of the marks.
    ///
    /// # Gives
    /// What a rigid, true-running edge would leave; the real surface is rougher.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, surface::RoughnessHeight};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let r_t = RoughnessHeight { r: mm(0.4), pitch: mm(0.1) }.value();
    /// assert!((in_mm(r_t) - 0.003_137_3).abs() < 1e-7);
    /// ```
    RoughnessHeight { r: Length = R, pitch: Length = PITCH } -> Length = R_T;
    name "theoretical height of roughness";
    text "R − √(R^2 − p^2 / 4)";
    why "each round mark leaves a ridge where it meets the next";
    source "geometry of two circles; p^2 / (8 R) in SME Handbook and others (memory)";
    |f| Length::from_si(ridge(f.r.si(), f.pitch.si()))
}

formula! {
    /// Theoretical mean roughness `R_a` of round feed marks.
    ///
    /// # Takes
    /// `r_t` > 0 of marks that are shallow against their radius.
    ///
    /// # Gives
    /// The mean of a parabola's distance from its own mean line; p² / (31.2 R).
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, surface::MeanRoughness};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let r_a = MeanRoughness { r_t: mm(0.01) }.value();
    /// assert!((in_mm(r_a) - 0.002_566).abs() < 1e-6); // 0.01 · 4 / 15.588
    /// ```
    MeanRoughness { r_t: Length = R_T } -> Length = R_A;
    name "theoretical mean roughness";
    text "4 · R_t / (9 · √(3))";
    why "a shallow round mark is a parabola, whose mean distance from its mean line is this share";
    source "mean-line integration of a parabola; printed as p^2 / (32 R) (memory)";
    |f| 4.0 * f.r_t / (9.0 * 3.0_f64.sqrt())
}
