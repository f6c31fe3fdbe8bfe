//! Damping of cutters, holders and frames.

use crate::choice::Choice;
use crate::line::{ShortRow, first};
use crate::listing::Listed;
use crate::sourced::Band;
use crate::tables::Tables;
use feeds_core::quantity::Ratio;

const TABLE: &str = "damping";

impl Tables {
    /// Damping ratio of a cutter in its holder and spindle: 0.01 to 0.05; measure it by a tap
    /// test. Rows for single parts are kept beside it.
    pub fn damping(&self) -> Option<Choice<Band<Ratio>>> {
        first(TABLE, "tool, holder and spindle together", &self.damping)
    }
}

pub(crate) fn list(rows: &[ShortRow<Ratio>], out: &mut Vec<Listed>) {
    for row in rows {
        row.list(TABLE, "damping ratio", out);
    }
}
