//! Removal rate, cutting time, and the way a cutter needs before it cuts at full width.

use super::{Registered, formula, registered};
use crate::quantity::{Length, Quantity, Time, Velocity, VolumeRate};

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[
    registered::<RemovalRate>(),
    registered::<CuttingTime>(),
    registered::<SideApproach>(),
    registered::<CentredApproach>(),
];

formula! {
    /// Removal rate `Q`.
    ///
    /// # Takes
    /// `a_p` > 0, `a_e` > 0, `v_f` > 0.
    ///
    /// # Gives
    /// The volume of chips over time, as if they were solid.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, removal::RemovalRate};
    /// use feeds_core::quantity::{Quantity, Velocity, mm};
    /// let v_f = Velocity::from_si(0.3 / 60.0); // 300 mm/min
    /// let q = RemovalRate { a_p: mm(3.0), a_e: mm(1.5), v_f }.value();
    /// assert!((q.si() * 60e6 - 1.35).abs() < 1e-12); // 3 · 1.5 · 300 = 1350 mm3/min
    /// ```
    RemovalRate { a_p: Length = A_P, a_e: Length = A_E, v_f: Velocity = V_F } -> VolumeRate = Q;
    name "removal rate";
    text "a_p · a_e · v_f";
    why "the section of the cut moves through the work at the feed speed";
    source "ISO 3002-3 (memory); Dormer Pramet, milling catalogue 2021-22, p. 210 (printed)";
    |f| f.a_p * f.a_e * f.v_f
}

formula! {
    /// Cutting time `t` of one pass.
    ///
    /// # Takes
    /// `l` >= 0 length of cut, `l_a` >= 0 approach (0 if the cutter starts at full width),
    /// `v_f` > 0.
    ///
    /// # Gives
    /// A time without acceleration of the axes.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, removal::CuttingTime};
    /// use feeds_core::quantity::{Quantity, Velocity, mm};
    /// let v_f = Velocity::from_si(0.8 / 60.0); // 800 mm/min
    /// let t = CuttingTime { l: mm(300.0), l_a: mm(200.0), v_f }.value();
    /// assert!((t.si() - 37.5).abs() < 1e-12); // 500 mm / 800 mm/min = 0.625 min
    /// ```
    CuttingTime { l: Length = L, l_a: Length = L_A, v_f: Velocity = V_F } -> Time = T_CUT;
    name "cutting time";
    text "(L + L_a) / v_f";
    why "distance divided by feed gives time";
    source "Mitsubishi Materials, formulas for milling (printed)";
    |f| (f.l + f.l_a) / f.v_f
}

formula! {
    /// Approach `L_a` of a cut along an edge of the work.
    ///
    /// # Takes
    /// `d` > 0, `0 < a_e <= d`.
    ///
    /// # Gives
    /// The way from first touch to full width, at most half the diameter.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, removal::SideApproach};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let l_a = SideApproach { d: mm(10.0), a_e: mm(2.0) }.value();
    /// assert!((in_mm(l_a) - 4.0).abs() < 1e-12); // √(2 · 8)
    /// ```
    SideApproach { d: Length = D, a_e: Length = A_E } -> Length = L_A;
    name "approach along an edge";
    text "√(min(a_e, D / 2) · (D − min(a_e, D / 2)))";
    why "the circle of the cutter touches the end of the work before its centre line is there";
    source "M. P. Groover, Fundamentals of Modern Manufacturing (memory)";
    |f| {
        let (d, a_e) = (f.d.si(), f.a_e.si().min(f.d.si() / 2.0));
        Length::from_si((a_e * (d - a_e)).sqrt())
    }
}

formula! {
    /// Approach `L_a` of a cutter centred on the width of the work.
    ///
    /// # Takes
    /// `d` > 0, `0 < w <= d`.
    ///
    /// # Gives
    /// The way from first touch to full width, at most half the diameter.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, removal::CentredApproach};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let l_a = CentredApproach { d: mm(50.0), w: mm(30.0) }.value();
    /// assert!((in_mm(l_a) - 5.0).abs() < 1e-12); // (50 − 40) / 2
    /// ```
    CentredApproach { d: Length = D, w: Length = WIDTH } -> Length = L_A;
    name "approach, centred on the work";
    text "(D − √(D^2 − w^2)) / 2";
    why "the front of the circle touches first, the full width is there at its chord";
    source "M. P. Groover, Fundamentals of Modern Manufacturing (memory)";
    |f| {
        // As one fraction: no digits are lost for narrow work.
        let (d, w) = (f.d.si(), f.w.si());
        Length::from_si(w * w / (d + (d * d - w * w).sqrt()) / 2.0)
    }
}
