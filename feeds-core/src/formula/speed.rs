//! Spindle speed and cutting speed.

use super::{Registered, formula, registered};
use crate::quantity::{Length, SpindleSpeed, Velocity};
use std::f64::consts::PI;

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[registered::<CuttingSpeed>(), registered::<TurnsForSpeed>()];

formula! {
    /// Cutting speed `v_c` at the largest engaged diameter.
    ///
    /// # Takes
    /// `d_eff` > 0, `n` >= 0.
    ///
    /// # Gives
    /// The speed at which the outermost engaged point of the edge meets the work.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, speed::CuttingSpeed};
    /// use feeds_core::quantity::{SpindleSpeed, mm};
    /// let v_c = CuttingSpeed { d_eff: mm(125.0), n: SpindleSpeed::per_minute(350.0) }.value();
    /// assert!((v_c.value * 60.0 - 137.44).abs() < 0.01); // π · 0.125 m · 350
    /// ```
    CuttingSpeed { d_eff: Length = D_EFF, n: SpindleSpeed = N } -> Velocity = V_C;
    name "cutting speed";
    text "π · D_eff · n";
    why "the edge runs once round the circle of the cutter each turn";
    source "ISO 3002-1 (memory); SME Handbook, formula sheet to ch. 118";
    |f| PI * f.d_eff * f.n.turns()
}

formula! {
    /// Spindle speed `n` for a wanted cutting speed.
    ///
    /// # Takes
    /// `v_c` >= 0, `d_eff` > 0.
    ///
    /// # Gives
    /// Turns; for a ball or corner radius the diameter really engaged has to be given.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, speed::TurnsForSpeed};
    /// use feeds_core::quantity::{Quantity, Velocity, mm};
    /// let v_c = Velocity::from_si(1.0); // 60 m/min
    /// let n = TurnsForSpeed { v_c, d_eff: mm(6.0) }.value();
    /// assert!((n.in_per_minute() - 3183.1).abs() < 0.1); // 60 000 mm/min / (π · 6 mm)
    /// ```
    TurnsForSpeed { v_c: Velocity = V_C, d_eff: Length = D_EFF } -> SpindleSpeed = N;
    name "spindle speed";
    text "v_c / (π · D_eff)";
    why "divide the wanted speed by the circumference";
    source "ISO 3002-1 (memory); SME Handbook, formula sheet to ch. 118";
    |f| SpindleSpeed::of_turns(f.v_c / (PI * f.d_eff))
}
