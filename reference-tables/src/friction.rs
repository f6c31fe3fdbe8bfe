//! Friction between part and jaws.

use crate::choice::Choice;
use crate::line::{ShortRow, first};
use crate::listing::Listed;
use crate::sourced::Band;
use crate::tables::Tables;
use feeds_core::quantity::Ratio;
use serde::Deserialize;

const TABLE: &str = "friction";

/// What a coefficient is found by.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct FrictionPair {
    /// `smooth steel`, `oily steel`, `soft jaws`, `paper`, `serrated` or `screw`.
    pub pair: String,
}

impl Tables {
    /// Coefficient of friction of a pair of surfaces. Common practice, weak: count with `least`.
    ///
    /// # Example
    /// ```
    /// use feeds_core::quantity::Quantity;
    /// let tables = reference_tables::tables().unwrap();
    /// let mu = tables.friction("smooth steel").unwrap();
    /// assert_eq!(mu.value.least.si(), 0.1);
    /// assert!(tables.friction("glue").is_none());
    /// ```
    pub fn friction(&self, pair: &str) -> Option<Choice<Band<Ratio>>> {
        let rows = self.friction.iter().filter(|r| r.key.pair == pair);
        first(TABLE, "the row for such surfaces", rows)
    }
}

pub(crate) fn list(rows: &[ShortRow<Ratio, FrictionPair>], out: &mut Vec<Listed>) {
    for row in rows {
        row.list(TABLE, "friction", out);
    }
}
