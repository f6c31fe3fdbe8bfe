//! Coatings: how hot they may get and what they must not touch.

use crate::line::ShortRow;
use crate::listing::Listed;
use crate::material::{Class, Material};
use crate::sourced::Printable;
use crate::tables::Tables;
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
    /// Why a coating is wrong for a stock, if it is (common practice).
    ///
    /// # Example
    /// ```
    /// let tables = reference_tables::tables().unwrap();
    /// let stock = tables.material("6061").unwrap();
    /// assert!(tables.coating_caution(stock, "AlTiN").is_some());
    /// assert!(tables.coating_caution(stock, "ZrN").is_none());
    /// ```
    pub fn coating_caution(&self, stock: &Material, coating: &str) -> Option<String> {
        let mut rows = self.coating.service_temperature.iter();
        let row = rows.find(|r| r.key.coating.eq_ignore_ascii_case(coating.trim()))?;
        let name = &row.key.coating;
        let ferrous = matches!(
            stock.class,
            Class::MildSteel
                | Class::CarbonSteel
                | Class::HighCarbonSteel
                | Class::LowAlloySteel
                | Class::ToolSteel
                | Class::MartensiticStainless
                | Class::AusteniticStainless
                | Class::PrecipitationHardening
        );
        if row.key.aluminium_bearing && stock.class == Class::Aluminium {
            Some(format!(
                "{name} holds aluminium and welds to it: take bare, ZrN, TiB2 or DLC"
            ))
        } else if name == "diamond" && ferrous {
            Some("diamond dissolves in hot iron: never in steel".to_owned())
        } else {
            None
        }
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
