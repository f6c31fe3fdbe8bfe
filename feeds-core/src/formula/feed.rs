//! Feed per tooth and feed speed.

use super::{Registered, formula, registered};
use crate::quantity::{Length, SpindleSpeed, Velocity};

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[registered::<FeedSpeed>(), registered::<FeedPerTooth>()];

formula! {
    /// Feed speed `v_f` of the cutter centre.
    ///
    /// # Takes
    /// `f_z` > 0, `z` >= 1 edges, `n` > 0.
    ///
    /// # Gives
    /// The speed of the table against the spindle axis; on arcs it is not the speed at the wall.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, feed::FeedSpeed};
    /// use feeds_core::quantity::{SpindleSpeed, mm};
    /// let v_f = FeedSpeed { f_z: mm(0.1), z: 10.0, n: SpindleSpeed::per_minute(500.0) }.value();
    /// assert!((v_f.value * 60e3 - 500.0).abs() < 1e-9);
    /// ```
    FeedSpeed { f_z: Length = F_Z, z: f64 = Z, n: SpindleSpeed = N } -> Velocity = V_F;
    name "feed speed";
    text "f_z · z · n";
    why "each edge takes its feed once a turn";
    source "ISO 3002-3 (memory); Mitsubishi Materials, formulas for milling (printed)";
    |f| f.f_z * f.z * f.n.turns()
}

formula! {
    /// Feed per tooth `f_z` that a feed speed gives.
    ///
    /// # Takes
    /// `v_f` > 0, `z` >= 1, `n` > 0.
    ///
    /// # Gives
    /// The advance of the cutter centre from one edge to the next.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, feed::FeedPerTooth};
    /// use feeds_core::quantity::{Quantity, SpindleSpeed, Velocity, in_mm};
    /// let v_f = Velocity::from_si(0.5 / 60.0); // 500 mm/min
    /// let f_z = FeedPerTooth { v_f, z: 10.0, n: SpindleSpeed::per_minute(500.0) }.value();
    /// assert!((in_mm(f_z) - 0.1).abs() < 1e-12);
    /// ```
    FeedPerTooth { v_f: Velocity = V_F, z: f64 = Z, n: SpindleSpeed = N } -> Length = F_Z;
    name "feed per tooth";
    text "v_f / (z · n)";
    why "the edges share the feed of one turn";
    source "ISO 3002-3 (memory); Mitsubishi Materials, formulas for milling (printed)";
    |f| f.v_f / (f.z * f.n.turns())
}
