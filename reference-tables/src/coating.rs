//! Coatings: how hot they may get and what they must not touch.

use crate::line::ShortRow;
use crate::listing::Listed;
use crate::sourced::Printable;
use crate::tables::Tables;
use feeds_core::cutter::Coating;
use feeds_core::nearest::same;
use feeds_core::quantity::Length;
use serde::Deserialize;

const TABLE: &str = "coating";

/// A temperature in degrees Celsius.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Celsius(pub f64);

impl Printable for Celsius {
    fn measured(number: f64, unit: &str) -> Option<Self> {
        (unit == "degC").then_some(Self(number))
    }

    fn between(a: Self, b: Self, t: f64) -> Self {
        Self(a.0 + (b.0 - a.0) * t)
    }
}

/// What a coating is found by.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct CoatingKey {
    /// Short name.
    pub coating: String,
    /// Whether it holds aluminium, which sticks to aluminium stock.
    #[serde(default)]
    pub aluminium_bearing: bool,
}

/// The data file.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Coatings {
    /// Highest service temperature.
    pub service_temperature: Vec<ShortRow<Celsius, CoatingKey>>,
    /// Thickness.
    pub thickness: Vec<ShortRow<Length>>,
}

impl Tables {
    /// Whether a coating holds aluminium, and sticks to aluminium stock.
    ///
    /// # Example
    /// ```
    /// use feeds_core::cutter::Coating;
    /// let tables = reference_tables::tables().unwrap();
    /// assert!(tables.holds_aluminium(Coating::AlTiN));
    /// assert!(!tables.holds_aluminium(Coating::ZrN));
    /// ```
    pub fn holds_aluminium(&self, coating: Coating) -> bool {
        let mut rows = self.coating.service_temperature.iter();
        rows.any(|r| r.key.aluminium_bearing && same(&r.key.coating, coating.word()))
    }
}

pub(crate) fn list(table: &Coatings, out: &mut Vec<Listed>) {
    table
        .service_temperature
        .iter()
        .for_each(|r| r.list(TABLE, "service temperature", out));
    table
        .thickness
        .iter()
        .for_each(|r| r.list(TABLE, "thickness", out));
}
