//! A value with the unit it is shown in.

use super::unit::Unit;
use serde::ser::{Serialize, SerializeStruct, Serializer};
use std::fmt;

/// A value with the unit it is shown in.
///
/// # Example
/// ```
/// use feeds_core::quantity::{Amount, unit};
/// let v_f = Amount::of(0.0508, &unit::MILLIMETRE_PER_MINUTE); // 0.0508 m/s
/// assert_eq!(v_f.to_string(), "3048 mm/min");
/// assert_eq!(v_f.shown_in(&unit::FOOT_PER_MINUTE).to_string(), "10 ft/min");
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Amount {
    /// The value in SI base units.
    pub si: f64,
    /// The unit it is shown in.
    pub unit: &'static Unit,
}

impl Amount {
    /// An amount from SI base units, to be shown in `unit`.
    pub const fn of(si: f64, unit: &'static Unit) -> Self {
        Self { si, unit }
    }

    /// So many of a unit.
    pub const fn new(number: f64, unit: &'static Unit) -> Self {
        Self::of(number * unit.size, unit)
    }

    /// The number that stands before the unit.
    pub fn number(self) -> f64 {
        self.si / self.unit.size
    }

    /// The same amount, shown in another unit of its dimension.
    #[must_use]
    pub fn shown_in(self, unit: &'static Unit) -> Self {
        debug_assert_eq!(
            self.unit.dimension, unit.dimension,
            "units of two dimensions"
        );
        Self { unit, ..self }
    }

    /// The number with `decimals` places and the unit.
    pub fn fixed(self, decimals: usize) -> String {
        let number = format!("{:.decimals$}", self.number());
        // What rounds to zero is shown without a sign.
        let zero = !number.contains(|c: char| matches!(c, '1'..='9'));
        let shown = number.strip_prefix('-').filter(|_| zero);
        self.with_unit(shown.unwrap_or(&number))
    }

    fn with_unit(self, number: &str) -> String {
        match self.unit.text {
            "" => number.to_owned(),
            "%" => format!("{number} %"),
            unit => format!("{number} {unit}"),
        }
    }
}

/// From here on a number is shown by its power of ten: nobody reads its digits.
const LARGE: f64 = 1e15;

/// Four significant digits at least, no digits lost before the point, no idle zeros.
pub fn significant(number: f64) -> String {
    if number == 0.0 || !number.is_finite() {
        return "0".to_owned();
    }
    if number.abs() >= LARGE {
        return format!("{number:.3e}");
    }
    let magnitude = number.abs().log10().floor();
    #[allow(clippy::cast_possible_truncation)] // a decimal exponent of an f64 lies within ±400
    let places = usize::try_from(3 - magnitude as i64).unwrap_or(0).min(9);
    let text = format!("{number:.places$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.with_unit(&significant(self.number())))
    }
}

impl Serialize for Amount {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut pair = serializer.serialize_struct("Amount", 2)?;
        pair.serialize_field("value", &tidy(self.number()))?;
        pair.serialize_field("unit", self.unit.text)?;
        pair.end()
    }
}

/// Conversion to SI and back costs the last binary digit or two: 15 significant digits keep every
/// digit that means something and give back `0.173` for a typed `0.173`.
fn tidy(number: f64) -> f64 {
    format!("{number:.14e}").parse().unwrap_or(number) + 0.0
}
