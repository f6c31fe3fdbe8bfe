//! What holds part, cutter and table, and what pulls at them.

use super::{Registered, formula, registered};
use crate::quantity::{Force, Length, Quantity, Torque};

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[
    registered::<FrictionHold>(),
    registered::<ScrewForce>(),
    registered::<SlidingForce>(),
    registered::<HoldAllowed>(),
    registered::<TippingMoment>(),
    registered::<TippingAllowed>(),
    registered::<ColletAllowed>(),
    registered::<PullThroughBacklash>(),
    registered::<PlayAtWall>(),
];

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

formula! {
    /// The force that slides the part in its hold.
    ///
    /// # Takes
    /// Both >= 0.
    ///
    /// # Gives
    /// A force never less than either.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, holding::SlidingForce};
    /// use feeds_core::quantity::{Force, Quantity};
    /// let (lateral, lift) = (Force::from_si(30.0), Force::from_si(40.0));
    /// assert!((SlidingForce { lateral, lift }.value().si() - 50.0).abs() < 1e-9);
    /// ```
    SlidingForce { lateral: Force = F_XY, lift: Force = LIFT } -> Force = F_SLIDE;
    name "force that slides the part";
    text "√(F_xy^2 + F_a^2)";
    why "the jaws' friction holds the part both across and upwards";
    source "vector sum; the two peaks are taken to come together, the careful way";
    |f| Force::from_si(f.lateral.si().hypot(f.lift.si()))
}

formula! {
    /// What the hold may take: half of what friction can hold.
    ///
    /// # Takes
    /// `holds` >= 0.
    ///
    /// # Gives
    /// A force with a twofold safety.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, holding::HoldAllowed};
    /// use feeds_core::quantity::{Force, Quantity};
    /// let holds = Force::from_si(600.0);
    /// assert!((HoldAllowed { holds }.value().si() - 300.0).abs() < 1e-9);
    /// ```
    HoldAllowed { holds: Force = F_HOLD } -> Force = F_HOLD_MOST;
    name "what the hold may take";
    text "F_h / 2";
    why "friction varies with oil, scale and finish: a twofold safety";
    source "common practice";
    |f| f.holds / 2.0
}

formula! {
    /// The moment that tips the part over the edge of its grip.
    ///
    /// # Takes
    /// Both >= 0.
    ///
    /// # Gives
    /// A moment; nothing for a cut level with the jaws.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, holding::TippingMoment};
    /// use feeds_core::quantity::{Force, Quantity, mm};
    /// let tips = TippingMoment { lateral: Force::from_si(200.0), height: mm(10.0) }.value();
    /// assert!((tips.si() - 2.0).abs() < 1e-12); // 200 N · 0.01 m
    /// ```
    TippingMoment { lateral: Force = F_XY, height: Length = H_GRIP } -> Torque = TIPPING;
    name "moment about the grip's edge";
    text "F_xy · h_g";
    why "the cut pushes at its height above the jaws";
    source "statics";
    |f| Torque::from_si(f.lateral.si() * f.height.si())
}

formula! {
    /// The moment that the grip may take.
    ///
    /// # Takes
    /// Both >= 0.
    ///
    /// # Gives
    /// A moment with a twofold safety.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, holding::TippingAllowed};
    /// use feeds_core::quantity::{Force, Quantity, mm};
    /// let allowed = TippingAllowed { clamp: Force::from_si(2000.0), grip: mm(8.0) }.value();
    /// assert!((allowed.si() - 4.0).abs() < 1e-12); // 2000 N · 0.004 m, by two
    /// ```
    TippingAllowed { clamp: Force = F_CLAMP, grip: Length = L_GRIP } -> Torque = TIPPING_MOST;
    name "moment that the grip may take";
    text "F_cl · l_g / 2 / 2";
    why "the clamping force acts at half the depth of grip on the mean; a twofold safety";
    source "statics; the twofold safety is common practice";
    |f| Torque::from_si(f.clamp.si() * f.grip.si() / 2.0 / 2.0)
}

formula! {
    /// What the collet may take: half of what it holds.
    ///
    /// # Takes
    /// `grip` >= 0.
    ///
    /// # Gives
    /// A force with a twofold safety.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, holding::ColletAllowed};
    /// use feeds_core::quantity::{Force, Quantity};
    /// let grip = Force::from_si(500.0);
    /// assert!((ColletAllowed { grip }.value().si() - 250.0).abs() < 1e-9);
    /// ```
    ColletAllowed { grip: Force = GRIP_FORCE } -> Force = LIFT_MOST;
    name "what the collet may take";
    text "F_g / 2";
    why "a collet creeps under a load that changes with every tooth: a twofold safety";
    source "common practice";
    |f| f.grip / 2.0
}

formula! {
    /// The pull that takes the table through its backlash.
    ///
    /// # Takes
    /// `f_z` > 0, the others >= 0.
    ///
    /// # Gives
    /// Nothing where the backlash is less than half a feed: the pull then does no more than a
    /// tooth's share.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, holding::PullThroughBacklash};
    /// use feeds_core::quantity::{Force, Quantity, mm};
    /// let pull = |backlash: f64| {
    ///     let along = Force::from_si(20.0);
    ///     PullThroughBacklash { along, backlash: mm(backlash), f_z: mm(0.02) }.value().si()
    /// };
    /// assert_eq!((pull(0.009), pull(0.011)), (0.0, 20.0));
    /// ```
    PullThroughBacklash { along: Force = F_X_MAX, backlash: Length = BACKLASH, f_z: Length = F_Z }
        -> Force = F_PULL;
    name "pull through the backlash";
    text "F_x,max · min(floor(2 · b_l / f_z), 1)";
    why "a tooth that pulls the table on by its backlash bites twice as deep";
    source "backlash below half a feed per tooth is common practice";
    |f| {
        let loose = 2.0 * f.backlash.si() >= f.f_z.si();
        if loose { f.along } else { Force::from_si(0.0) }
    }
}

formula! {
    /// How far a wall is off by the play of machine and collet.
    ///
    /// # Takes
    /// Both >= 0; a straight wall is met from one side, and no backlash shows there.
    ///
    /// # Gives
    /// The most that it is off, to one side.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, holding::PlayAtWall};
    /// use feeds_core::quantity::{Quantity, mm};
    /// let play = PlayAtWall { runout: mm(0.01), backlash: mm(0.03) }.value();
    /// assert!((play.si() - 35e-6).abs() < 1e-15);
    /// ```
    PlayAtWall { runout: Length = TIR, backlash: Length = BACKLASH } -> Length = PLAY;
    name "play at a wall";
    text "t_r / 2 + b_l";
    why "the highest edge cuts half the runout wider; where an axis turns back on a circle it \
         stands still for its backlash";
    source "geometry; ISO 230-4 calls it the reversal of an axis on a circle";
    |f| f.runout / 2.0 + f.backlash
}
