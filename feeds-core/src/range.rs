//! Ranges declared once: the check, the message and the help read the same row.

use crate::error::{Cause, EntryError};
use crate::quantity::read::{number, read_si};
use crate::quantity::{Amount, Dimension, Unit, unit};
use crate::symbol::{F_Z, Symbol};

/// What an entry of one quantity can hold.
#[derive(Clone, Copy, Debug)]
pub struct Range {
    /// Its symbol; the unit of `least` and `most` is the symbol's.
    pub symbol: &'static Symbol,
    /// The least value.
    pub least: f64,
    /// The most.
    pub most: f64,
    /// Only whole numbers.
    pub whole: bool,
    /// The unit of a number typed without one; `None` refuses such numbers.
    pub plain: Option<&'static Unit>,
}

/// A number in another unit than that of the ends is rounded when it is converted: 0.1 1/min is not
/// the same number as 0.1 / 60 · 60. So much it may be off, a few of its last digits.
const LEEWAY: f64 = 4.0 * f64::EPSILON;

impl Range {
    /// A range of `symbol`, in its unit.
    pub const fn of(symbol: &'static Symbol, least: f64, most: f64) -> Self {
        Self {
            symbol,
            least,
            most,
            whole: false,
            plain: None,
        }
    }

    /// The same range, whole numbers only.
    #[must_use]
    pub const fn whole(self) -> Self {
        Self {
            whole: true,
            ..self
        }
    }

    /// The same range, reading a number without a unit in `unit`.
    #[must_use]
    pub const fn plain_in(self, unit: &'static Unit) -> Self {
        Self {
            plain: Some(unit),
            ..self
        }
    }

    /// The ends, with their unit.
    pub fn ends(&self) -> (Amount, Amount) {
        let end = |number: f64| Amount::of(number * self.symbol.unit.size, self.symbol.unit);
        (end(self.least), end(self.most))
    }

    /// Reads an entry with its unit; gives SI base units. In the unit of the ends it is held
    /// against them as it was typed, to the last digit.
    ///
    /// # Errors
    /// When it cannot be read, is not whole where it should be, or lies outside; `why` tells the
    /// reason of the range.
    ///
    /// # Example
    /// ```
    /// use feeds_core::{range::Range, symbol};
    /// let diameter = Range::of(&symbol::D, 0.05, 50.0);
    /// assert!((diameter.read("1/16 in", "").unwrap() - 0.001_587_5).abs() < 1e-12);
    /// let e = diameter.read("6 in", "light mills take no larger cutter").unwrap_err();
    /// assert!(e.to_string().starts_with("152.4 mm is not between 0.05 mm and 50 mm"));
    /// ```
    pub fn read(&self, text: &str, why: &'static str) -> Result<f64, EntryError> {
        let si = match (self.plain, read_si(text, Dimension::Ratio)) {
            (Some(unit), Ok(number)) => number * unit.size,
            _ => match self.per_tooth(text) {
                Some(si) => si,
                None => read_si(text, self.symbol.unit.dimension).map_err(|e| self.like_it(e))?,
            },
        };
        match self.as_typed(text) {
            Some(number) if number >= self.least && number <= self.most => {}
            Some(_) => return Err(self.outside(si, why)),
            None => self.check(si, why)?,
        }
        if self.whole && si.fract() != 0.0 {
            let text = text.trim();
            return Err(EntryError::because(
                Cause::Form,
                format!("«{text}» is not a whole number: {why}"),
            ));
        }
        Ok(si)
    }

    /// The same error; a whole number is wanted where no other is taken.
    fn like_it(&self, error: EntryError) -> EntryError {
        match error {
            EntryError::NoNumber { text, .. } if self.whole => {
                EntryError::NoNumber { text, like: "3" }
            }
            error => error,
        }
    }

    /// The number as it was typed, if its unit is that of the ends.
    fn as_typed(&self, text: &str) -> Option<f64> {
        let (number, rest) = number(text.trim(), Dimension::Ratio).ok()?;
        let unit = match rest.trim() {
            "" => self.plain.unwrap_or(&unit::ONE),
            rest => unit::named(rest)?,
        };
        (unit == self.symbol.unit).then_some(number)
    }

    /// What `0.001 ipt` or `0.02 mm/tooth` is, where a feed per tooth is typed.
    fn per_tooth(&self, text: &str) -> Option<f64> {
        if self.symbol.text != F_Z.text {
            return None;
        }
        let (number, unit) = number(text.trim(), Dimension::Ratio).ok()?;
        Some(number * unit::per_tooth(unit)?.size)
    }

    /// Refuses what lies outside; the ends lie inside.
    ///
    /// # Errors
    /// [`EntryError::OutOfRange`].
    pub fn check(&self, si: f64, why: &'static str) -> Result<(), EntryError> {
        // Compared positively, so that what is not a number is refused as well.
        let (least, most) = self.ends();
        let leeway = |end: f64| LEEWAY * end.abs();
        if si >= least.si - leeway(least.si) && si <= most.si + leeway(most.si) {
            return Ok(());
        }
        Err(self.outside(si, why))
    }

    fn outside(&self, si: f64, why: &'static str) -> EntryError {
        let (least, most) = self.ends();
        EntryError::OutOfRange {
            value: Amount::of(si, self.symbol.unit),
            least,
            most,
            why,
        }
    }

    /// Whether the entry measures a plain number.
    pub fn is_plain(&self) -> bool {
        self.symbol.unit.dimension == Dimension::Ratio
    }
}
