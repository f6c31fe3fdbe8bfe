//! Arcs and corners: feed at the wall, equivalent width of cut, sharp inside corners.

use super::{Registered, formula, registered};
use crate::notebook::Notebook;
use crate::quantity::{Angle, Length, Quantity, Velocity};
use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI, SQRT_2};

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[
    registered::<FeedInside>(),
    registered::<FeedOutside>(),
    registered::<WidthInside>(),
    registered::<WidthOutside>(),
    registered::<BoreWidth>(),
    registered::<CornerReach>(),
    registered::<CornerOffset>(),
    registered::<CornerAngle>(),
    registered::<CornerAngleAfterLarger>(),
];

formula! {
    /// Feed speed of the cutter centre `v_f,c` inside a round wall.
    ///
    /// # Takes
    /// `v_f` > 0 wanted at the wall, `wall_d` > `d` > 0.
    ///
    /// # Gives
    /// What the F word has to be: less than `v_f`.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, arc::FeedInside};
    /// use feeds_core::quantity::{Quantity, Velocity, mm};
    /// let v_f = Velocity::from_si(0.4 / 60.0); // 400 mm/min at the wall
    /// let centre = FeedInside { v_f, wall_d: mm(20.0), d: mm(6.0) }.value();
    /// assert!((centre.si() * 60e3 - 280.0).abs() < 1e-9); // 400 · 14 / 20
    /// ```
    FeedInside { v_f: Velocity = V_F, wall_d: Length = WALL_D, d: Length = D }
        -> Velocity = V_F_CENTRE;
    name "feed of the centre inside a wall";
    text "v_f · (D_m − D) / D_m";
    why "the centre runs on a smaller circle than the wall in the same time";
    source "speeds in proportion to radius; a common handbook form (memory)";
    |f| f.v_f * ((f.wall_d - f.d) / f.wall_d)
}

formula! {
    /// Feed speed of the cutter centre `v_f,c` round the outside of a wall.
    ///
    /// # Takes
    /// `v_f` > 0 wanted at the wall, `wall_d` > 0, `d` > 0.
    ///
    /// # Gives
    /// What the F word has to be: more than `v_f`.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, arc::FeedOutside};
    /// use feeds_core::quantity::{Quantity, Velocity, mm};
    /// let v_f = Velocity::from_si(0.25 / 60.0); // 250 mm/min at the wall
    /// let centre = FeedOutside { v_f, wall_d: mm(10.0), d: mm(10.0) }.value();
    /// assert!((centre.si() * 60e3 - 500.0).abs() < 1e-9); // 250 · 20 / 10
    /// ```
    FeedOutside { v_f: Velocity = V_F, wall_d: Length = WALL_D, d: Length = D }
        -> Velocity = V_F_CENTRE;
    name "feed of the centre outside a wall";
    text "v_f · (D_m + D) / D_m";
    why "the centre runs on a larger circle than the wall in the same time";
    source "speeds in proportion to radius; a common handbook form (memory)";
    |f| f.v_f * ((f.wall_d + f.d) / f.wall_d)
}

formula! {
    /// Equivalent straight width of cut `a_e,eq` along the inside of a round wall.
    ///
    /// # Takes
    /// `0 < a_e <= d`, `wall_r` of the finished wall, more than `d / 2` and at least `a_e`.
    ///
    /// # Gives
    /// The straight `a_e` with the same engagement angle: more than `a_e`, at most `d`.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, arc::WidthInside};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let width = WidthInside { a_e: mm(0.6), wall_r: mm(4.0), d: mm(6.0) }.value();
    /// assert!((in_mm(width) - 2.22).abs() < 1e-12); // 0.6 · 7.4 / 2
    /// ```
    WidthInside { a_e: Length = A_E, wall_r: Length = WALL_R, d: Length = D } -> Length = A_E_EQ;
    name "equivalent width inside a wall";
    text "min(a_e · (2 · R_w − a_e) / (2 · R_w − D), D)";
    why "a hollow wall wraps round the cutter and stays in the cut longer";
    source "area of the ring over the path of the centre; checked by a point cloud";
    |f| {
        let (a_e, across) = (f.a_e.si(), 2.0 * f.wall_r.si());
        Length::from_si((a_e * (across - a_e) / (across - f.d.si())).min(f.d.si()))
    }
}

formula! {
    /// Equivalent straight width of cut `a_e,eq` round the outside of a wall.
    ///
    /// # Takes
    /// `0 < a_e <= d`, `wall_r` > 0 of the finished wall.
    ///
    /// # Gives
    /// The straight `a_e` with the same engagement angle: less than `a_e`.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, arc::WidthOutside};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let width = WidthOutside { a_e: mm(0.6), wall_r: mm(6.0), d: mm(6.0) }.value();
    /// assert!((in_mm(width) - 0.42).abs() < 1e-12); // 0.6 · 12.6 / 18
    /// ```
    WidthOutside { a_e: Length = A_E, wall_r: Length = WALL_R, d: Length = D } -> Length = A_E_EQ;
    name "equivalent width outside a wall";
    text "a_e · (2 · R_w + a_e) / (2 · R_w + D)";
    why "a bulging wall turns away from the cutter and leaves the cut sooner";
    source "area of the ring over the path of the centre; checked by a point cloud";
    |f| {
        let (a_e, across) = (f.a_e.si(), 2.0 * f.wall_r.si());
        Length::from_si(a_e * (across + a_e) / (across + f.d.si()))
    }
}

formula! {
    /// Equivalent straight width of cut `a_e,eq` when a hole is widened along a circle.
    ///
    /// # Takes
    /// `wall_d` finished hole, more than `d`; `0 <= hole_d < wall_d` the hole that is there.
    ///
    /// # Gives
    /// The straight `a_e` with the same engagement angle, at most `d`.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, arc::BoreWidth};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let bore = BoreWidth { wall_d: mm(20.0), hole_d: mm(16.0), d: mm(10.0) }.value();
    /// assert!((in_mm(bore) - 3.6).abs() < 1e-12); // (400 − 256) / 40
    /// ```
    BoreWidth { wall_d: Length = WALL_D, hole_d: Length = HOLE_D, d: Length = D }
        -> Length = A_E_EQ;
    name "equivalent width in a bore";
    text "min((D_m^2 − D_w^2) / (4 · (D_m − D)), D)";
    why "the area of the ring is cut along the circle of the cutter centre";
    source "area balance, in toolmakers' guides (memory)";
    |f| {
        let (wall, hole, d) = (f.wall_d.si(), f.hole_d.si(), f.d.si());
        Length::from_si(((wall - hole) * (wall + hole) / (4.0 * (wall - d))).min(d))
    }
}

formula! {
    /// Reach `c_a` of the straight cut's arc along the wall, from the corner.
    ///
    /// # Takes
    /// `0 < a_e <= d / 2`.
    ///
    /// # Gives
    /// `d / 2` to `d`. Less than `a_e + D_prev / 2`: the rounding left by the cutter before meets
    /// the arc, and [`CornerAngleAfterLarger`] holds; otherwise [`CornerAngle`].
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, arc::CornerReach};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let reach = CornerReach { a_e: mm(1.0), d: mm(10.0) }.value();
    /// assert!((in_mm(reach) - 8.0).abs() < 1e-12); // 5 · (1 + 0.6)
    /// ```
    CornerReach { a_e: Length = A_E, d: Length = D } -> Length = CORNER_REACH;
    name "reach of the arc in the corner";
    text "D / 2 · (1 + sin(acos(1 − 2 · a_e / D)))";
    why "if it ends before the old rounding begins, only the straight old wall counts";
    source "geometry of two circles; checked by a point cloud";
    |f| {
        let r = f.d.si() / 2.0;
        Length::from_si(r + (f.a_e.si() * (f.d.si() - f.a_e.si())).sqrt())
    }
}

formula! {
    /// Offset `c_d` between the corner of the path now and that of the cutter before.
    ///
    /// # Takes
    /// `a_e` > 0, `previous_d` > 0, `d` > 0.
    ///
    /// # Gives
    /// The same along both walls.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, arc::CornerOffset};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let c_d = CornerOffset { a_e: mm(0.1), previous_d: mm(4.0), d: mm(2.0) }.value();
    /// assert!((in_mm(c_d) - 1.1).abs() < 1e-12); // 0.1 + 2 − 1
    /// ```
    CornerOffset { a_e: Length = A_E, previous_d: Length = PREVIOUS_D, d: Length = D }
        -> Length = CORNER_OFFSET;
    name "offset of the corner paths";
    text "a_e + D_prev / 2 − D / 2";
    why "the larger cutter turned further from the corner";
    source "geometry of two circles";
    |f| f.a_e + (f.previous_d - f.d) / 2.0
}

formula! {
    /// Largest engagement angle `φ_max` in a sharp right-angled inside corner.
    ///
    /// # Takes
    /// `0 < a_e <= d / 2`; the cutter before had the same diameter, or its rounding is out of
    /// reach.
    ///
    /// # Gives
    /// 90 to 180 degrees.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, arc::CornerAngle};
    /// use feeds_core::quantity::{Quantity, mm};
    /// let phi = CornerAngle { a_e: mm(0.3), d: mm(6.0) }.value();
    /// assert!((phi.si().to_degrees() - 115.842).abs() < 1e-3); // 90° + 25.842°
    /// ```
    CornerAngle { a_e: Length = A_E, d: Length = D } -> Angle = PHI_MAX;
    name "engagement in a sharp corner";
    text "90° + acos(1 − 2 · a_e / D)";
    why "at the corner the second wall adds a quarter turn to the engagement";
    source "geometry of two circles; checked by a point cloud";
    |f| Angle::from_si(FRAC_PI_2 + (1.0 - 2.0 * f.a_e.si() / f.d.si()).acos())
}

formula! {
    /// Largest engagement angle `φ_max` in a sharp right-angled inside corner that a larger
    /// cutter has left rounded.
    ///
    /// # Takes
    /// `d` > 0, `previous_d` > `d`, `offset` from [`CornerOffset`], where [`CornerReach`] is less
    /// than `a_e + D_prev / 2`.
    ///
    /// # Gives
    /// 90 to 180 degrees: with a much larger cutter before, a full slot.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, arc::CornerAngleAfterLarger};
    /// use feeds_core::quantity::{Quantity, mm};
    /// let corner = CornerAngleAfterLarger { previous_d: mm(4.0), d: mm(2.0), offset: mm(1.1) };
    /// assert!((corner.value().si().to_degrees() - 124.26).abs() < 0.01); // 45° + acos 0.1864
    /// ```
    CornerAngleAfterLarger {
        previous_d: Length = PREVIOUS_D, d: Length = D, offset: Length = CORNER_OFFSET,
    } -> Angle = PHI_MAX;
    name "engagement in a corner after a larger cutter";
    text "min(45° + acos(max((D_prev^2 / 4 − D^2 / 4 − 2 · c_d^2) / (√(2) · c_d · D), −1)), 180°)";
    why "the cutter meets the rounding of the larger one, or is all round in what that one left";
    source "geometry of two circles; checked by a point cloud";
    |f| {
        let (before, now, c) = (f.previous_d.si() / 2.0, f.d.si() / 2.0, f.offset.si());
        let cosine = (before * before - now * now - 2.0 * c * c) / (2.0 * SQRT_2 * c * now);
        let angle = FRAC_PI_4 + cosine.max(-1.0).acos();
        // `f64::min` would turn an impossible corner, no number, into a slot.
        Angle::from_si(if angle > PI { PI } else { angle })
    }
}

/// Largest engagement angle in a sharp right-angled inside corner, whichever cutter was before.
///
/// # Takes
/// `0 < a_e <= d / 2`; `previous_d` > 0.
///
/// # Gives
/// The angle by the rule that holds, with its steps in `notes`.
///
/// # Source
/// As [`CornerAngle`] and [`CornerAngleAfterLarger`].
///
/// # Example
/// ```
/// use feeds_core::formula::arc::corner_angle;
/// use feeds_core::notebook::Silent;
/// use feeds_core::quantity::{Quantity, mm};
/// let phi = corner_angle(mm(0.1), mm(2.0), mm(4.0), &mut Silent);
/// assert!((phi.si().to_degrees() - 124.26).abs() < 0.01);
/// ```
pub fn corner_angle(
    a_e: Length,
    d: Length,
    previous_d: Length,
    notes: &mut impl Notebook,
) -> Angle {
    let reach = notes.take(CornerReach { a_e, d });
    if reach < a_e + previous_d / 2.0 {
        let offset = notes.take(CornerOffset { a_e, previous_d, d });
        notes.take(CornerAngleAfterLarger {
            previous_d,
            d,
            offset,
        })
    } else {
        notes.take(CornerAngle { a_e, d })
    }
}
