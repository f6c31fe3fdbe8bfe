//! Least chip thickness over edge radius: below it an edge rubs.

use crate::choice::Choice;
use crate::line::{ShortRow, first};
use crate::listing::Listed;
use crate::material::Class;
use crate::sourced::Band;
use crate::state::StockState;
use crate::tables::Tables;
use feeds_core::quantity::Ratio;
use serde::Deserialize;

const TABLE: &str = "chip_floor";

/// What a row is found by.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
pub struct FloorKey {
    /// Stocks it was found for.
    #[serde(default)]
    pub stocks: Vec<String>,
    /// Classes it is meant for.
    #[serde(default)]
    pub classes: Vec<Class>,
    /// Whether it is meant for every stock.
    #[serde(default)]
    pub every_stock: bool,
    /// Whether it is a planning value.
    #[serde(default)]
    pub planning: bool,
}

impl Tables {
    /// Least chip thickness over edge radius, λ in `h_min = λ r_edge`.
    ///
    /// # Gives
    /// 0.2 to 0.4, starting at 0.3; at 0.4 for austenitic stainless, titanium, copper and brass.
    /// Planning values come before measured ones, which differ by method; those are kept, those
    /// for a class first, firm before weak.
    ///
    /// # Source
    /// Common practice within the range of the literature (0.14 to 0.43, Cheng 2018).
    ///
    /// # Example
    /// ```
    /// use feeds_core::quantity::Quantity;
    /// let tables = reference_tables::tables().unwrap();
    /// let stock = tables.material("1018").unwrap();
    /// let state = tables.state(stock, Some("hot rolled"), None).unwrap();
    /// assert_eq!(tables.chip_floor(&state).unwrap().value.start.si(), 0.3);
    /// ```
    pub fn chip_floor(&self, state: &StockState<'_>) -> Option<Choice<Band<Ratio>>> {
        let mut rows: Vec<_> = self
            .chip_floor
            .iter()
            .filter(|r| {
                let stock = r.key.stocks.contains(&state.material.id);
                stock || r.key.classes.contains(&state.class()) || r.key.every_stock
            })
            .collect();
        rows.sort_by_key(|r| {
            (
                !r.key.planning,
                r.key.classes.is_empty(),
                r.figure.origin.weak,
            )
        });
        first(
            TABLE,
            "planning values first, those for the class before the general one",
            rows,
        )
    }
}

pub(crate) fn list(rows: &[ShortRow<Ratio, FloorKey>], out: &mut Vec<Listed>) {
    for row in rows {
        row.list(TABLE, "h_min / r_edge", out);
    }
}
