//! Power and torque at the cutter and at the motor.

use super::{Card, Registered, formula, registered, told_in_words};
use crate::quantity::{Power, Pressure, Quantity, SpindleSpeed, Torque, VolumeRate};
use crate::symbol as s;
use std::f64::consts::PI;

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[
    registered::<CuttingPower>(),
    registered::<PowerFromEnergy>(),
    registered::<CuttingTorque>(),
    registered::<MotorPower>(),
    registered::<RouteRatio>(),
    registered::<SpindleDraws>(),
    told_in_words(POWER_THERE, &[&s::N, &s::N_BASE, &s::P_RATED]),
];

formula! {
    /// Cutting power `P_c` from specific force and removal rate.
    ///
    /// # Takes
    /// `k_c` > 0 at the mean chip thickness, `q` > 0.
    ///
    /// # Gives
    /// Mean power at the cutter; with `k_c(h_m)` 1 to 5 % above the sum over the arc.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, power::CuttingPower};
    /// use feeds_core::quantity::{Quantity, VolumeRate, n_per_mm2};
    /// let q = VolumeRate::from_si(1e-6 / 60.0); // 1 cm3/min
    /// let p_c = CuttingPower { k_c: n_per_mm2(3000.0), q }.value();
    /// assert!((p_c.si() - 50.0).abs() < 1e-9); // 3000 J/cm3 · 1 cm3/min
    /// ```
    CuttingPower { k_c: Pressure = K_C, q: VolumeRate = Q } -> Power = P_C;
    name "cutting power";
    text "k_c · Q";
    why "specific force is also the work each bit of volume takes";
    source "ISO 3002-4 (memory); Kyocera, general catalogue 2021-22, p. R42 (printed)";
    |f| Power::from_si(f.k_c.si() * f.q.si())
}

formula! {
    /// Cutting power `P_c` from the energy a volume takes.
    ///
    /// # Takes
    /// `u` > 0 energy over volume, `q` > 0.
    ///
    /// # Gives
    /// Mean power at the cutter.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, power::PowerFromEnergy};
    /// use feeds_core::quantity::{Pressure, Quantity, VolumeRate};
    /// let q = VolumeRate::from_si(150e-6 / 60.0); // 150 cm3/min
    /// let p_c = PowerFromEnergy { u: Pressure::from_si(3e9), q }.value(); // 3 J/mm3
    /// assert!((p_c.si() - 7500.0).abs() < 1e-9);
    /// ```
    PowerFromEnergy { u: Pressure = U, q: VolumeRate = Q } -> Power = P_C;
    name "cutting power from energy";
    text "u · Q";
    why "each bit of volume takes its energy";
    source "S. Kalpakjian, S. Schmid, Manufacturing Engineering and Technology (memory)";
    |f| Power::from_si(f.u.si() * f.q.si())
}

formula! {
    /// Cutting torque `M_c` from power and spindle speed.
    ///
    /// # Takes
    /// `p_c` >= 0, `n` > 0.
    ///
    /// # Gives
    /// Mean torque about the spindle.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, power::CuttingTorque};
    /// use feeds_core::quantity::{Power, Quantity, SpindleSpeed};
    /// let n = SpindleSpeed::per_minute(100.0);
    /// let m_c = CuttingTorque { p_c: Power::from_si(7500.0), n }.value();
    /// assert!((m_c.si() - 716.197).abs() < 1e-3); // 7500 · 60 / (2 π · 100)
    /// ```
    CuttingTorque { p_c: Power = P_C, n: SpindleSpeed = N } -> Torque = M_C_TORQUE;
    name "cutting torque";
    text "P_c / (2 · π · n)";
    why "power is torque times the angle turned in a time, and a turn is 2 π";
    source "ISO 3002-4 (memory); 9549 P / n in handbooks (memory)";
    |f| Torque::from_si(f.p_c.si() / (2.0 * PI * f.n.si()))
}

formula! {
    /// Motor power `P_mot` that a cutting power asks for.
    ///
    /// # Takes
    /// `p_c` >= 0, `0 < η <= 1`.
    ///
    /// # Gives
    /// `p_c` or more.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, power::MotorPower};
    /// use feeds_core::quantity::{Power, Quantity};
    /// let p_mot = MotorPower { p_c: Power::from_si(80.0), efficiency: 0.8 }.value();
    /// assert!((p_mot.si() - 100.0).abs() < 1e-12);
    /// ```
    MotorPower { p_c: Power = P_C, efficiency: f64 = ETA } -> Power = P_MOT;
    name "motor power";
    text "P_c / η";
    why "belts and bearings take their share before the cutter gets any";
    source "Kyocera, general catalogue 2021-22, p. R42 (printed)";
    |f| f.p_c / f.efficiency
}

formula! {
    /// The handbook's power over the mean power of the sum along the edges.
    ///
    /// # Takes
    /// Both > 0, of the same cut.
    ///
    /// # Gives
    /// 1.014 to 1.046 for a square end without edge force, `m_c` 0.14 to 0.30; less with the edge
    /// force that is added to thin chips, which the handbook's route does not know. 1 for a square
    /// end by linear coefficients, whose mean is that of the mean chip.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, power::RouteRatio};
    /// use feeds_core::quantity::{Power, Quantity};
    /// let ratio = RouteRatio { p_c: Power::from_si(113.64), p_m: Power::from_si(110.27) };
    /// assert!((ratio.value() - 1.0306).abs() < 1e-4); // slot, D 8, m_c 0.25
    /// ```
    RouteRatio { p_c: Power = P_C, p_m: Power = P_MEAN } -> f64 = ROUTES;
    name "handbook's route over the sum";
    text "P_c / P_m";
    why "the mean chip's k_c need not be the mean k_c, and an edge force added to it is left out";
    source "checked by integration along the arc";
    |f| (f.p_c / f.p_m).si()
}

formula! {
    /// Power that the motor gives for the mean power of the sum over a turn.
    ///
    /// [`MotorPower`] of another power: a working shows where a number comes from by its symbol,
    /// and `P_c` is the handbook's.
    ///
    /// # Takes
    /// `p_m` >= 0, `efficiency` in 0 to 1.
    ///
    /// # Gives
    /// More than the cutter gets.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, power::SpindleDraws};
    /// use feeds_core::quantity::{Power, Quantity};
    /// let draws = SpindleDraws { p_m: Power::from_si(75.0), efficiency: 0.75 }.value();
    /// assert!((draws.si() - 100.0).abs() < 1e-9);
    /// ```
    SpindleDraws { p_m: Power = P_MEAN, efficiency: f64 = ETA } -> Power = P_MOT;
    name "what the motor gives";
    text "P_m / η";
    why "belts and bearings take their share before the cutter gets any";
    source "Kyocera, general catalogue 2021-22, p. R42 (printed)";
    |f| f.p_m / f.efficiency
}

/// The card of the power that the spindle has at a speed.
pub const POWER_THERE: Card = Card {
    name: "power at this speed",
    symbol: &s::P_THERE,
    text: "P_n · n / n_b below the first speed n_b whose power P_n is known, straight between \
           known speeds, and constant above the last",
    prose: true,
    why: "a motor holds its torque up to a speed and its power beyond it",
    source: "the machine",
};
