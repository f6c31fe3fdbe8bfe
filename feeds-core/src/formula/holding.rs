//! What friction holds, and what a clamping screw gives.

use super::{Registered, formula, registered};
use crate::quantity::{Force, Length, Quantity, Torque};

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[registered::<FrictionHold>(), registered::<ScrewForce>()];

formula! {
    /// Force `F_h` that friction can hold.
    ///
    /// # Takes
    /// `faces` >= 1 that carry the clamping force (two for a pair of jaws), `friction` > 0,
    /// `clamp` >= 0.
    ///
    /// # Gives
    /// The force at which the part starts to slip, without any safety.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, holding::FrictionHold};
    /// use feeds_core::quantity::{Force, Quantity};
    /// let clamp = Force::from_si(5000.0);
    /// let holds = FrictionHold { faces: 2.0, friction: 0.15, clamp }.value();
    /// assert!((holds.si() - 1500.0).abs() < 1e-9); // 2 · 0.15 · 5000 N
    /// ```
    FrictionHold { faces: f64 = FACES, friction: f64 = FRICTION, clamp: Force = F_CLAMP }
        -> Force = F_HOLD;
    name "force friction can hold";
    text "n_f · μ · F_cl";
    why "each clamped face resists by its share of the clamping force";
    source "Coulomb's law of friction (common practice)";
    |f| f.faces * f.friction * f.clamp
}

formula! {
    /// Clamping force `F_cl` of a screw tightened with a torque.
    ///
    /// # Takes
    /// `torque` >= 0, `nut_factor` about 0.2 for a dry steel screw, `screw_d` > 0.
    ///
    /// # Gives
    /// A force within about a third either way: friction in the thread decides.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, holding::ScrewForce};
    /// use feeds_core::quantity::{Quantity, Torque, mm};
    /// let torque = Torque::from_si(20.0);
    /// let clamp = ScrewForce { torque, nut_factor: 0.2, screw_d: mm(10.0) }.value();
    /// assert!((clamp.si() - 10_000.0).abs() < 1e-9); // 20 N m / (0.2 · 0.01 m)
    /// ```
    ScrewForce {
        torque: Torque = SCREW_TORQUE, nut_factor: f64 = NUT_FACTOR, screw_d: Length = SCREW_D,
    } -> Force = F_CLAMP;
    name "clamping force of a screw";
    text "M_s / (K_n · d_s)";
    why "a screw turns torque into force over a fraction of its diameter";
    source "nut factor form of bolt tightening (memory)";
    |f| Force::from_si(f.torque.si() / (f.nut_factor * f.screw_d.si()))
}
