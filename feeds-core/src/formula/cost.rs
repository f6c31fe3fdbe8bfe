//! What speed costs least, and when preparation pays.

use super::{Registered, formula, registered};
use crate::quantity::{Frequency, Quantity, SpindleSpeed, Time, Velocity};

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[registered::<EconomicSpeed>(), registered::<BreakEven>()];

/// Cost over time, in money a second: a frequency with money for its count.
pub type CostRate = SpindleSpeed;

/// A cost of so much money a minute.
pub fn money_per_minute(money: f64) -> CostRate {
    CostRate::of_turns(Frequency::from_si(money / 60.0))
}

formula! {
    /// Cutting speed `v_c` of least cost.
    ///
    /// # Takes
    /// `c` and `n` of Taylor's equation, `0 < n < 1`; `change` >= 0 time of a tool change,
    /// `cutter` >= 0 money for an edge, `labour` > 0 money over time; not both costs zero.
    ///
    /// # Gives
    /// The speed at which time saved and edges used up balance.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, cost::{EconomicSpeed, money_per_minute}};
    /// use feeds_core::quantity::{Quantity, Time, Velocity};
    /// let v_c = EconomicSpeed {
    ///     c: Velocity::from_si(75.0 / 60.0), n: 0.25, change: Time::from_si(120.0), cutter: 2.5,
    ///     labour: money_per_minute(0.15),
    /// };
    /// // 75 m/min · (1 / (3 · (2 + 16.67)))^0.25
    /// assert!((v_c.value().si() * 60.0 - 27.416).abs() < 1e-3);
    /// ```
    EconomicSpeed {
        c: Velocity = TAYLOR_C, n: f64 = TAYLOR_N, change: Time = CHANGE_TIME,
        cutter: f64 = CUTTER_COST, labour: CostRate = LABOUR,
    } -> Velocity = V_C;
    name "cutting speed of least cost";
    text "C_T · (1 min / ((1 / n_T − 1) · (t_ch + K_T / k_L)))^(n_T)";
    why "faster saves minutes and eats edges: at this speed the two balance";
    source "A. Ghosh, A. K. Mallik, Manufacturing Science, ex. 4.26 (title from memory)";
    |f| {
        let lost = f.change.si() + f.cutter / f.labour.si();
        f.c * (60.0 / ((1.0 / f.n - 1.0) * lost)).powf(f.n)
    }
}

formula! {
    /// Parts `m` after which preparation has paid for itself.
    ///
    /// # Takes
    /// `spent` >= 0, `saved` > 0 on each part.
    ///
    /// # Gives
    /// A number of parts, not rounded.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, cost::BreakEven};
    /// use feeds_core::quantity::{Quantity, Time};
    /// let (spent, saved) = (Time::from_si(4.0 * 3600.0), Time::from_si(150.0));
    /// assert!((BreakEven { spent, saved }.value() - 96.0).abs() < 1e-12); // 240 / 2.5
    /// ```
    BreakEven { spent: Time = SPENT, saved: Time = SAVED } -> f64 = PARTS;
    name "parts to break even";
    text "t_p / t_s";
    why "preparation is paid once, each part pays a little back";
    source "common practice";
    |f| f.spent.si() / f.saved.si()
}
