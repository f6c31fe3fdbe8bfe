//! Figures of a programme in the system of units that people asked for. Inside they are in mm,
//! mm/min, m/min and min.

use feeds_core::programme::hours;
use feeds_core::quantity::amount::significant;
use feeds_core::quantity::{Amount, unit};
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

    /// A length that nobody measured, to a hundredth of a millimetre or a tenth of a thou.
    pub fn rough(self, mm: f64) -> String {
        let (unit, name) = self.unit();
        let finest = match self.0 {
            System::Metric => 1e2,
            System::Inch => 1e4,
        };
        format!(
            "{} {name}",
            significant((mm / unit * finest).round() / finest)
        )
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

/// Figures of the cut along a programme.
impl Shown {
    /// The unit of forces.
    pub fn force_unit(self) -> &'static str {
        match self.0 {
            System::Metric => "N",
            System::Inch => "lbf",
        }
    }

    /// The number of a force in N.
    pub fn force_number(self, newtons: f64) -> String {
        let unit = match self.0 {
            System::Metric => &unit::NEWTON,
            System::Inch => &unit::POUND,
        };
        let number = Amount::of(newtons, unit).number();
        let decimals = usize::from(number < 100.0);
        format!("{number:.decimals$}")
    }

    /// A force in N.
    pub fn force(self, newtons: f64) -> String {
        format!("{} {}", self.force_number(newtons), self.force_unit())
    }

    /// The unit of small lengths.
    pub fn small_unit(self) -> &'static str {
        match self.0 {
            System::Metric => "um",
            System::Inch => "thou",
        }
    }

    /// The number of a small length in mm.
    pub fn small_number(self, mm: f64) -> String {
        match self.0 {
            System::Metric => format!("{:.1}", mm * 1e3),
            System::Inch => format!("{:.2}", mm / 25.4 * 1e3),
        }
    }

    /// A small length in mm.
    pub fn small(self, mm: f64) -> String {
        format!("{} {}", self.small_number(mm), self.small_unit())
    }

    /// A width of cut in mm to show by how much it may be wider.
    pub fn example_width(self) -> f64 {
        match self.0 {
            System::Metric => 0.5,
            System::Inch => 0.02 * INCH,
        }
    }

    /// The number of a length in mm, short enough for a table.
    pub fn brief(self, mm: f64) -> String {
        match self.0 {
            System::Metric => format!("{mm:.2}"),
            System::Inch => format!("{:.4}", mm / 25.4),
        }
    }

    /// A volume in mm³.
    pub fn volume(self, mm3: f64) -> String {
        match self.0 {
            System::Metric if mm3 >= 1e4 => format!("{} cm3", significant(mm3 / 1e3)),
            System::Metric => format!("{} mm3", significant(mm3)),
            System::Inch => format!("{} in3", significant(mm3 / 25.4_f64.powi(3))),
        }
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
