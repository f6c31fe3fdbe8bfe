//! How features of a fitting are usually cut: what is left for finishing, leads, loops.

use crate::choice::Choice;
use crate::line::{ShortRow, first};
use crate::listing::Listed;
use crate::sourced::Band;
use crate::tables::Tables;
use feeds_core::quantity::{Length, Ratio};
use serde::Deserialize;

const TABLE: &str = "feature";
const ONLY: &str = "the only row";

/// The data file.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FeatureRows {
    /// Left on a wall over the cutting diameter.
    pub wall_left: Vec<ShortRow<Ratio>>,
    /// Left on a floor over the cutting diameter.
    pub floor_left: Vec<ShortRow<Ratio>>,
    /// Width of a light cut at full depth over the cutting diameter.
    pub light_width: Vec<ShortRow<Ratio>>,
    /// The cutter that loops in a slot, over the width of the slot.
    pub loop_cutter: Vec<ShortRow<Ratio>>,
    /// The cutter of an inside corner, over twice the radius of the corner.
    pub corner_cutter: Vec<ShortRow<Ratio>>,
    /// Radius of the arc in to a wall over the cutting diameter.
    pub lead_in: Vec<ShortRow<Ratio>>,
    /// From the holder's face to the top of the part.
    pub holder_clear: Vec<ShortRow<Length>>,
    /// From the jaws to the end of a cutter that passes over them.
    pub jaw_clear: Vec<ShortRow<Length>>,
    /// How far a cutter goes beyond the far face of a through cut.
    pub breakthrough: Vec<ShortRow<Length>>,
    /// Share of the tolerance the wall may be off before a spring pass.
    pub spring_pass: Vec<ShortRow<Ratio>>,
}

impl Tables {
    /// What is left on a wall for its finish pass, over the cutting diameter.
    ///
    /// # Example
    /// ```
    /// use feeds_core::quantity::Quantity;
    /// let tables = reference_tables::tables().unwrap();
    /// assert_eq!(tables.wall_left().unwrap().value.start.si(), 0.03);
    /// ```
    pub fn wall_left(&self) -> Option<Choice<Band<Ratio>>> {
        first(TABLE, ONLY, &self.feature.wall_left)
    }

    /// What is left on a floor for its finish pass, over the cutting diameter.
    pub fn floor_left(&self) -> Option<Choice<Band<Ratio>>> {
        first(TABLE, ONLY, &self.feature.floor_left)
    }

    /// Width of a light cut at full depth, over the cutting diameter.
    pub fn light_width(&self) -> Option<Choice<Band<Ratio>>> {
        first(TABLE, ONLY, &self.feature.light_width)
    }

    /// The widest cutter that loops in a slot, over the width of the slot.
    pub fn loop_cutter(&self) -> Option<Choice<Band<Ratio>>> {
        first(TABLE, ONLY, &self.feature.loop_cutter)
    }

    /// The widest cutter that rolls through an inside corner, over twice the corner's radius.
    pub fn corner_cutter(&self) -> Option<Choice<Band<Ratio>>> {
        first(TABLE, ONLY, &self.feature.corner_cutter)
    }

    /// Radius of the arc in to a wall, over the cutting diameter.
    pub fn lead_in(&self) -> Option<Choice<Band<Ratio>>> {
        first(TABLE, ONLY, &self.feature.lead_in)
    }

    /// From the holder's face to the top of the part.
    pub fn holder_clear(&self) -> Option<Choice<Band<Length>>> {
        first(TABLE, ONLY, &self.feature.holder_clear)
    }

    /// From the jaws to the end of a cutter that passes over them.
    pub fn jaw_clear(&self) -> Option<Choice<Band<Length>>> {
        first(TABLE, ONLY, &self.feature.jaw_clear)
    }

    /// How far a cutter goes beyond the far face of a through cut.
    pub fn breakthrough(&self) -> Option<Choice<Band<Length>>> {
        first(TABLE, ONLY, &self.feature.breakthrough)
    }

    /// Share of the tolerance that the wall may be off before a spring pass is made.
    pub fn spring_pass(&self) -> Option<Choice<Band<Ratio>>> {
        first(TABLE, ONLY, &self.feature.spring_pass)
    }
}

pub(crate) fn list(table: &FeatureRows, out: &mut Vec<Listed>) {
    let ratios = [
        (&table.wall_left, "left on the wall / D"),
        (&table.floor_left, "left on the floor / D"),
        (&table.light_width, "light width / D"),
        (&table.loop_cutter, "looping cutter / slot"),
        (&table.corner_cutter, "cutter / inside corner"),
        (&table.lead_in, "lead-in arc / D"),
        (&table.spring_pass, "share for a spring pass"),
    ];
    for (rows, what) in ratios {
        for row in rows {
            row.list(TABLE, what, out);
        }
    }
    let lengths = [
        (&table.holder_clear, "holder clear"),
        (&table.jaw_clear, "clear of the jaws"),
        (&table.breakthrough, "beyond a through cut"),
    ];
    for (rows, what) in lengths {
        for row in rows {
            row.list(TABLE, what, out);
        }
    }
}
