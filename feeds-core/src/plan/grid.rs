//! The feeds that are typed at a machine.

use crate::limit::SLACK;
use crate::quantity::{Quantity, Velocity, unit};
use crate::symbol::{SMALL_FEED, System};

/// Which way a feed is made a round number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rounding {
    /// Not below it.
    Up,
    /// Not above it.
    Down,
}

/// The feed as it is typed: whole mm/min, or tenths of an inch a minute, and a tenth of that where
/// it is small (common practice). One that is round but for rounding stays.
///
/// # Gives
/// Nothing below the smallest step.
///
/// # Example
/// ```
/// use feeds_core::plan::grid::{Rounding, round};
/// use feeds_core::quantity::{Quantity, Velocity};
/// use feeds_core::symbol::{System, V_F};
/// let v_f = Velocity::from_si(0.2984 / 60.0); // 298.4 mm/min, 11.748 in/min
/// let typed = |system| round(v_f, Rounding::Down, system).unwrap().si();
/// assert_eq!(V_F.show(typed(System::Metric), System::Metric), "298 mm/min");
/// assert_eq!(V_F.show(typed(System::Inch), System::Inch), "11.7 in/min");
/// ```
pub fn round(v_f: Velocity, way: Rounding, system: System) -> Option<Velocity> {
    let (unit, small) = match system {
        System::Metric => (&unit::MILLIMETRE_PER_MINUTE, SMALL_FEED.0),
        System::Inch => (&unit::INCH_PER_MINUTE, SMALL_FEED.1),
    };
    let number = v_f.si() / unit.size;
    let per_unit = match (system, number < small) {
        (System::Metric, false) => 1.0,
        (System::Metric, true) | (System::Inch, false) => 10.0,
        (System::Inch, true) => 100.0,
    };
    let steps = number * per_unit;
    let steps = match way {
        Rounding::Up => (steps * (1.0 - SLACK)).ceil(),
        Rounding::Down => (steps * (1.0 + SLACK)).floor(),
    };
    (steps >= 1.0).then(|| Velocity::from_si(steps / per_unit * unit.size))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whole mm/min, tenths below 20; tenths of an inch, hundredths below 1 (common practice).
    #[test]
    fn a_feed_is_round_as_it_is_typed() {
        let check = |number: f64, way, system, expect: f64| {
            let unit = match system {
                System::Metric => &unit::MILLIMETRE_PER_MINUTE,
                System::Inch => &unit::INCH_PER_MINUTE,
            };
            let round = round(Velocity::from_si(number * unit.size), way, system).unwrap();
            let got = round.si() / unit.size;
            assert!((got - expect).abs() < 1e-9, "{number}: {got}, not {expect}");
        };
        check(20.44, Rounding::Down, System::Metric, 20.0);
        check(20.44, Rounding::Up, System::Metric, 21.0);
        check(19.96, Rounding::Down, System::Metric, 19.9);
        check(18.01, Rounding::Up, System::Metric, 18.1);
        check(1.06, Rounding::Down, System::Inch, 1.0);
        check(1.06, Rounding::Up, System::Inch, 1.1);
        check(0.987, Rounding::Down, System::Inch, 0.98);
        check(0.911, Rounding::Up, System::Inch, 0.92);
        check(163.0, Rounding::Down, System::Metric, 163.0);
        let nothing = Velocity::from_si(0.04 * unit::MILLIMETRE_PER_MINUTE.size);
        assert!(round(nothing, Rounding::Down, System::Metric).is_none());
    }
}
