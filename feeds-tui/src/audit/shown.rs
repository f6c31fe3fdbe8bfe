//! Figures of a programme in the system of units that people asked for. Inside they are in mm,
//! mm/min, m/min and min.

use feeds_core::programme::hours;
use feeds_core::quantity::amount::significant;
use feeds_core::symbol::System;

/// mm in an inch.
const INCH: f64 = 25.4;

/// Writes figures in one system.
#[derive(Clone, Copy, Debug)]
pub struct Shown(pub System);

impl Shown {
    /// mm in the unit of lengths, and its name.
    fn unit(self) -> (f64, &'static str) {
        match self.0 {
            System::Metric => (1.0, "mm"),
            System::Inch => (INCH, "in"),
        }
    }

    /// The name of the unit of lengths.
    pub fn length_unit(self) -> &'static str {
        self.unit().1
    }

    /// The number of a length, of a feed a minute, or of one a tooth.
    pub fn number(self, mm: f64) -> String {
        significant(mm / self.unit().0)
    }

    /// A length.
    pub fn length(self, mm: f64) -> String {
        format!("{} {}", self.number(mm), self.length_unit())
    }

    /// The number of a coordinate; an absurd one is not followed to its last digit.
    pub fn place(self, mm: f64) -> String {
        let (unit, places) = match self.0 {
            System::Metric => (1.0, 3),
            System::Inch => (INCH, 4),
        };
        let value = mm / unit;
        if value.abs() < 1e9 {
            format!("{value:.places$}")
        } else {
            format!("{value:.3e}")
        }
    }

    /// A feed.
    pub fn feed(self, mm_per_minute: f64) -> String {
        format!("{} {}/min", self.number(mm_per_minute), self.length_unit())
    }

    /// The number of a cutting speed, and its unit.
    pub fn surface(self, metres_per_minute: f64) -> String {
        match self.0 {
            System::Metric => significant(metres_per_minute),
            System::Inch => significant((metres_per_minute / 0.3048).round()),
        }
    }

    /// The unit of cutting speeds.
    pub fn surface_unit(self) -> &'static str {
        match self.0 {
            System::Metric => "m/min",
            System::Inch => "ft/min",
        }
    }

    /// A time.
    pub fn time(self, minutes: f64) -> String {
        hours(minutes)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 25.4 mm are an inch, 91.44 m/min are 300 ft/min.
    #[test]
    fn figures_are_in_the_system_asked_for() {
        let (metric, inch) = (Shown(System::Metric), Shown(System::Inch));
        assert_eq!(
            (metric.length(25.4), inch.length(25.4)),
            ("25.4 mm".to_owned(), "1 in".to_owned())
        );
        assert_eq!(inch.feed(254.0), "10 in/min");
        assert_eq!(
            (inch.place(25.4), metric.place(1.5)),
            ("1.0000".into(), "1.500".into())
        );
        assert_eq!(
            (inch.surface(91.44), inch.surface_unit()),
            ("300".into(), "ft/min")
        );
    }
}
