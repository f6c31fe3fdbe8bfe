//! Entering the work: helix, ramp and plunge.

use super::{Registered, formula, registered};
use crate::quantity::{Angle, Force, Length, Pressure, Quantity, Stiffness, Torque};
use std::f64::consts::PI;

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[
    registered::<PlungeFeed>(),
    registered::<PlungeThrust>(),
    registered::<PlungeTorque>(),
    registered::<HelixTurns>(),
    registered::<HelixLength>(),
    registered::<HelixAngle>(),
    registered::<RampLength>(),
];

formula! {
    /// Feed per tooth straight down.
    ///
    /// # Takes
    /// The feed of the pass, the `share` of it that a plunge gets, and the least chip that cuts,
    /// nothing where it is not known.
    ///
    /// # Gives
    /// Never less than twice the least chip.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, entry::PlungeFeed};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let feed = |h_min: f64| PlungeFeed { f_z: mm(0.02), share: 0.3, h_min: mm(h_min) }.value();
    /// assert!((in_mm(feed(0.001)) - 0.006).abs() < 1e-12);
    /// assert!((in_mm(feed(0.004)) - 0.008).abs() < 1e-12);
    /// ```
    PlungeFeed { f_z: Length = F_Z, share: f64 = PLUNGE_SHARE, h_min: Length = H_MIN }
        -> Length = F_Z_PLUNGE;
    name "feed per tooth straight down";
    text "max(q_p · f_z, 2 · h_min)";
    why "chips pack under the end, so a plunge is fed slower, but never so that it rubs";
    source "common practice";
    |f| (f.f_z * f.share).max(f.h_min * super::chip::CLEAR)
}

formula! {
    /// Thrust of a plunge `F_p`: what pushes the cutter back up.
    ///
    /// # Takes
    /// `z` >= 1 edges that reach the centre, `d` > 0, the coefficients across the cut, `f_z` > 0.
    ///
    /// # Gives
    /// A force; packed chips add to it.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, entry::PlungeThrust};
    /// use feeds_core::quantity::{Quantity, Stiffness, mm, n_per_mm2};
    /// let (k_rc, k_re) = (n_per_mm2(700.0), Stiffness::from_si(68e3));
    /// let thrust = PlungeThrust { z: 2.0, d: mm(4.0), k_rc, f_z: mm(0.01), k_re }.value();
    /// assert!((thrust.si() - 300.0).abs() < 1e-9); // 2 · 2 mm · (7 + 68) N/mm
    /// ```
    PlungeThrust {
        z: f64 = Z, d: Length = D, k_rc: Pressure = K_RC, f_z: Length = F_Z_PLUNGE,
        k_re: Stiffness = K_RE,
    } -> Force = F_PLUNGE;
    name "thrust of a plunge";
    text "z · D / 2 · (K_rc · f_z,p + K_re)";
    why "straight down each end edge cuts from the rim to the centre, and is pushed back along it";
    source "straight law along the end edges (common practice, weak)";
    |f| {
        let over_width = f.k_rc.si() * f.f_z.si() + f.k_re.si();
        Force::from_si(f.z * f.d.si() / 2.0 * over_width)
    }
}

formula! {
    /// Torque of a plunge `M_p`.
    ///
    /// # Takes
    /// `z` >= 1 edges that reach the centre, `d` > 0, the coefficients along the cut, `f_z` > 0.
    ///
    /// # Gives
    /// A torque; packed chips add to it.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, entry::PlungeTorque};
    /// use feeds_core::quantity::{Quantity, Stiffness, mm, n_per_mm2};
    /// let (k_tc, k_te) = (n_per_mm2(2000.0), Stiffness::from_si(46e3));
    /// let torque = PlungeTorque { z: 2.0, d: mm(4.0), k_tc, f_z: mm(0.01), k_te }.value();
    /// assert!((torque.si() - 0.264).abs() < 1e-9); // 2 · 16 mm2 / 8 · (20 + 46) N/mm
    /// ```
    PlungeTorque {
        z: f64 = Z, d: Length = D, k_tc: Pressure = K_TC, f_z: Length = F_Z_PLUNGE,
        k_te: Stiffness = K_TE,
    } -> Torque = M_PLUNGE;
    name "torque of a plunge";
    text "z · D^2 / 8 · (K_tc · f_z,p + K_te)";
    why "the force along each end edge acts at half its radius on the mean";
    source "straight law along the end edges (common practice, weak)";
    |f| {
        let over_width = f.k_tc.si() * f.f_z.si() + f.k_te.si();
        Torque::from_si(f.z * f.d.si() * f.d.si() / 8.0 * over_width)
    }
}

formula! {
    /// Turns `i` of a helical entry.
    ///
    /// # Takes
    /// `depth` > 0, `pitch` > 0 (depth gained in one turn of the path).
    ///
    /// # Gives
    /// Turns of the path, parts of a turn included.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, entry::HelixTurns};
    /// use feeds_core::quantity::mm;
    /// let turns = HelixTurns { depth: mm(3.0), pitch: mm(0.5) }.value();
    /// assert!((turns - 6.0).abs() < 1e-12);
    /// ```
    HelixTurns { depth: Length = DEPTH, pitch: Length = PITCH } -> f64 = TURNS;
    name "turns of the helix";
    text "T / p";
    why "each turn goes down by the pitch";
    source "geometry";
    |f| f.depth.si() / f.pitch.si()
}

formula! {
    /// Length `L_p` of the cutter centre's way down a helix.
    ///
    /// # Takes
    /// `turns` > 0, `hole` > `d` > 0 (finished hole and cutter), `pitch` > 0.
    ///
    /// # Gives
    /// A length along the helix itself.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, entry::HelixLength};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let down = HelixLength { turns: 6.0, hole: mm(9.0), d: mm(6.0), pitch: mm(0.5) };
    /// assert!((in_mm(down.value()) - 56.6282).abs() < 1e-4); // 6 · √((π · 3)² + 0.5²)
    /// ```
    HelixLength {
        turns: f64 = TURNS, hole: Length = WALL_D, d: Length = D, pitch: Length = PITCH,
    } -> Length = PATH_LENGTH;
    name "length of the helix";
    text "i · √((π · (D_m − D))^2 + p^2)";
    why "unrolled, a turn of the helix is the slope over the circle of the centre path";
    source "geometry; checked by sampling the path";
    |f| Length::from_si(f.turns * (PI * (f.hole - f.d).si()).hypot(f.pitch.si()))
}

formula! {
    /// Ramp angle `γ_r` of a helical entry, at the centre path.
    ///
    /// # Takes
    /// `pitch` > 0, `hole` > `d` > 0 (finished hole and cutter).
    ///
    /// # Gives
    /// 0 to 90 degrees; at the wall of the hole the slope is less.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, entry::HelixAngle};
    /// use feeds_core::quantity::{Quantity, mm};
    /// let angle = HelixAngle { pitch: mm(0.5), hole: mm(9.0), d: mm(6.0) }.value();
    /// assert!((angle.si().to_degrees() - 3.0368).abs() < 1e-4); // atan(0.5 / 9.425)
    /// ```
    HelixAngle { pitch: Length = PITCH, hole: Length = WALL_D, d: Length = D } -> Angle = RAMP;
    name "ramp angle of the helix";
    text "atan(p / (π · (D_m − D)))";
    why "unrolled, a turn rises by the pitch over the circle of the centre path";
    source "geometry; checked by sampling the path";
    |f| Angle::from_si((f.pitch.si() / (PI * (f.hole - f.d).si())).atan())
}

formula! {
    /// Length `L_r` of a straight ramp, as seen in plan.
    ///
    /// # Takes
    /// `depth` > 0, `0 < angle < 90°`.
    ///
    /// # Gives
    /// The travel needed along the floor.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, entry::RampLength};
    /// use feeds_core::quantity::{degrees, in_mm, mm};
    /// let ramp = RampLength { depth: mm(1.0), angle: degrees(2.0) }.value();
    /// assert!((in_mm(ramp) - 28.6363).abs() < 1e-4); // 1 / tan 2°
    /// ```
    RampLength { depth: Length = DEPTH, angle: Angle = RAMP } -> Length = RAMP_LENGTH;
    name "length of the ramp";
    text "T / tan(γ_r)";
    why "a shallow ramp is long before it reaches its depth";
    source "geometry";
    |f| f.depth / f.angle.si().tan()
}
