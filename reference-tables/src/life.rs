//! Tool life: exponents of Taylor's law `v T^n = C`.

use crate::choice::Choice;
use crate::kind::{CutterKind, RowCoating, RowMaterial};
use crate::line::{ShortRow, first};
use crate::listing::Listed;
use crate::sourced::Band;
use crate::tables::Tables;
use feeds_core::quantity::Ratio;
use serde::Deserialize;

const TABLE: &str = "life";

/// What an exponent is found by.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct LifeKey {
    /// What the cutter is made of.
    pub cutter: RowMaterial,
    /// What is on it.
    pub coating: RowCoating,
    /// Whether it was found by milling.
    #[serde(default)]
    pub milling: bool,
    /// Whether it is a planning value.
    #[serde(default)]
    pub planning: bool,
}

/// The data file.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lives {
    /// Exponent n.
    pub exponent: Vec<ShortRow<Ratio, LifeKey>>,
    /// Change of life with the width of cut.
    pub width_effect: Vec<ShortRow<Ratio>>,
}

impl Tables {
    /// The exponent n of Taylor's law: 0.25 for carbide, 0.125 for HSS, unless two logged lives
    /// give a better one.
    ///
    /// Textbooks disagree on coated carbide (0.4 to 0.6 against 0.25): the planning value comes
    /// first, then milling, then printed rows; all are kept.
    pub fn taylor_exponent(&self, kind: CutterKind) -> Option<Choice<Band<Ratio>>> {
        let mut rows: Vec<_> = self
            .life
            .exponent
            .iter()
            .filter(|r| r.key.cutter == kind.material && r.key.coating.holds(kind))
            .collect();
        rows.sort_by_key(|r| (!r.key.planning, !r.key.milling, r.figure.origin.basis));
        first(TABLE, "planning value, then milling, then printed", rows)
    }
}

pub(crate) fn list(table: &Lives, out: &mut Vec<Listed>) {
    table.exponent.iter().for_each(|r| r.list(TABLE, "n", out));
    table
        .width_effect
        .iter()
        .for_each(|r| r.list(TABLE, "change of life", out));
}
