//! A number never travels without its source.
//!
//! [`Figure`] is what is printed: one value, or least and most with a unit. [`Sourced`] adds where
//! it comes from and how far it can be trusted; a row without a source does not load.

use feeds_core::quantity::{Quantity, unit};
use serde::Deserialize;
use std::fmt;

/// How a figure came to be known. Better comes first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
pub enum Basis {
    /// Read in the source named.
    #[serde(rename = "printed")]
    Printed,
    /// Recalled from the source named and not checked against it.
    #[serde(rename = "memory")]
    Memory,
    /// A rule of thumb of the trade.
    #[serde(rename = "common practice")]
    CommonPractice,
}

impl Basis {
    /// The word shown beside a figure: `printed`, `memory` or `common practice`.
    pub fn word(self) -> &'static str {
        match self {
            Self::Printed => "printed",
            Self::Memory => "memory",
            Self::CommonPractice => "common practice",
        }
    }
}

impl fmt::Display for Basis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// Where a figure comes from and how far to trust it.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Provenance {
    /// Id of a row of [`crate::source`].
    pub source: String,
    /// How the figure came to be known.
    pub basis: Basis,
    /// Not to be shown as data without a warning.
    #[serde(default)]
    pub weak: bool,
    /// What a reader must know with it; often empty.
    #[serde(default)]
    pub note: String,
}

/// A value with its origin.
///
/// # Errors
/// Reading one fails when the source or the basis is missing.
///
/// # Example
/// ```
/// use feeds_core::quantity::Velocity;
/// use reference_tables::sourced::{Figure, Sourced};
///
/// type Speed = Sourced<Figure<Velocity>>;
/// let row = r#"{"min": 160, "max": 240, "unit": "m/min", "source": "ISCSC", "basis": "printed"}"#;
/// let v_c: Speed = serde_json::from_str(row).unwrap();
/// assert_eq!(v_c.value.to_string(), "160-240 m/min");
/// assert_eq!(v_c.origin.source, "ISCSC");
///
/// let bare = r#"{"min": 160, "max": 240, "unit": "m/min"}"#;
/// assert!(serde_json::from_str::<Speed>(bare).is_err());
/// ```
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Sourced<T> {
    /// The value.
    #[serde(flatten)]
    pub value: T,
    /// Where it comes from.
    #[serde(flatten)]
    pub origin: Provenance,
}

/// Something a table can print with a unit.
pub trait Printable: Copy + PartialOrd {
    /// Reads a number printed in `unit`; `None` when the unit measures something else.
    fn measured(number: f64, unit: &str) -> Option<Self>;
    /// The value that lies the share `t` of the way from `a` to `b`.
    #[must_use]
    fn between(a: Self, b: Self, t: f64) -> Self;
}

/// Parts of the cutting diameter: a plain ratio printed with this unit.
const OF_DIAMETER: &str = "x D";

impl<Q: Quantity + PartialOrd> Printable for Q {
    fn measured(number: f64, unit: &str) -> Option<Self> {
        let unit = if unit == OF_DIAMETER { "" } else { unit };
        let unit = unit::named(unit)?;
        (unit.dimension == Q::DIMENSION).then(|| Q::from_si(number * unit.size))
    }

    fn between(a: Self, b: Self, t: f64) -> Self {
        Q::from_si(a.si() + (b.si() - a.si()) * t)
    }
}

/// A figure as printed: from `least` to `most`, equal when one value is printed.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(try_from = "RawFigure", bound(deserialize = "Q: Printable"))]
pub struct Figure<Q> {
    /// Lower end.
    pub least: Q,
    /// The value to start from, where the source prints one.
    pub start: Option<Q>,
    /// Upper end.
    pub most: Q,
    raw: RawFigure,
}

impl<Q: Printable> Figure<Q> {
    /// The figure as a [`Band`]; it starts in the middle where no start is printed.
    pub fn band(&self) -> Band<Q> {
        Band {
            least: self.least,
            start: self
                .start
                .unwrap_or_else(|| Q::between(self.least, self.most, 0.5)),
            most: self.most,
        }
    }
}

impl<Q> Figure<Q> {
    /// The value to start from, in the unit printed, where one is printed.
    pub fn printed_start(&self) -> Option<f64> {
        self.raw.start
    }

    /// Least and most in the unit printed.
    pub fn printed(&self) -> (f64, f64) {
        self.raw.ends().unwrap_or((f64::NAN, f64::NAN))
    }

    /// The unit printed; empty for ratios.
    pub fn unit(&self) -> &str {
        &self.raw.unit
    }
}

impl<Q> fmt::Display for Figure<Q> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (least, most) = self.printed();
        if self.raw.value.is_some() {
            write!(f, "{least}")?;
        } else {
            write!(f, "{least}-{most}")?;
        }
        if !self.raw.unit.is_empty() {
            write!(f, " {}", self.raw.unit)?;
        }
        match self.raw.start {
            Some(start) => write!(f, ", start {start}"),
            None => Ok(()),
        }
    }
}

/// The keys of a figure in a data file.
#[derive(Clone, Debug, PartialEq, Deserialize)]
struct RawFigure {
    value: Option<f64>,
    min: Option<f64>,
    max: Option<f64>,
    start: Option<f64>,
    #[serde(default)]
    unit: String,
}

impl RawFigure {
    fn ends(&self) -> Option<(f64, f64)> {
        match (self.value, self.min, self.max) {
            (Some(value), None, None) => Some((value, value)),
            (None, Some(min), Some(max)) => Some((min, max)),
            _ => None,
        }
    }
}

impl<Q: Printable> TryFrom<RawFigure> for Figure<Q> {
    type Error = String;

    fn try_from(raw: RawFigure) -> Result<Self, String> {
        let (least, most) = raw
            .ends()
            .ok_or("a figure needs either value, or min and max")?;
        let start = raw.start.unwrap_or(least);
        if !(least <= start && start <= most) {
            return Err(format!(
                "min {least}, start {start}, max {most} are out of order"
            ));
        }
        let read = |number| {
            Q::measured(number, &raw.unit)
                .ok_or_else(|| format!("the unit '{}' does not fit this quantity", raw.unit))
        };
        Ok(Self {
            least: read(least)?,
            start: raw.start.map(read).transpose()?,
            most: read(most)?,
            raw,
        })
    }
}

/// From least to most, with a value to start from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band<Q> {
    /// Lower end.
    pub least: Q,
    /// Where to start.
    pub start: Q,
    /// Upper end.
    pub most: Q,
}

impl<Q: Printable> Band<Q> {
    /// The band that lies the share `t` of the way from `a` to `b`.
    #[must_use]
    pub fn between(a: Self, b: Self, t: f64) -> Self {
        Self {
            least: Q::between(a.least, b.least, t),
            start: Q::between(a.start, b.start, t),
            most: Q::between(a.most, b.most, t),
        }
    }

    /// The smallest band that holds both; it starts where `self` starts.
    #[must_use]
    pub fn hull(self, other: Self) -> Self {
        Self {
            least: if other.least < self.least {
                other.least
            } else {
                self.least
            },
            start: self.start,
            most: if other.most > self.most {
                other.most
            } else {
                self.most
            },
        }
    }

    /// Each part of the band changed by `f`.
    pub fn map<R>(self, f: impl Fn(Q) -> R) -> Band<R> {
        Band {
            least: f(self.least),
            start: f(self.start),
            most: f(self.most),
        }
    }
}
