//! What the words for a used edge mean: the wear land and how far the edge radius has grown.

use crate::choice::{Choice, Cited};
use crate::force_law::TABLE;
use crate::force_listing::push;
use crate::listing::Listed;
use crate::sourced::{Figure, Sourced};
use crate::tables::Tables;
use feeds_core::quantity::{Length, Quantity, Ratio};
use serde::Deserialize;

/// How far an edge is used up, in a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Wear {
    /// New or just ground.
    Fresh,
    /// In use.
    Used,
    /// To be changed.
    Worn,
}

/// A row.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WearRow {
    /// The edge in words.
    pub subject: String,
    /// The word it is found by.
    pub word: Wear,
    /// Most of the wear land.
    pub land: Sourced<Figure<Length>>,
    /// Most of the wear land over the cutting diameter.
    pub over_diameter: Sourced<Figure<Ratio>>,
    /// Edge radius over that of a new edge.
    pub growth: Sourced<Figure<Ratio>>,
}

/// A used edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WornEdge {
    /// Wear land on the flank, 0 and above.
    pub land: Length,
    /// Edge radius over that of a new edge, 1 and above.
    pub growth: f64,
}

impl Tables {
    /// Wear land and growth of the edge radius that a word stands for, with a cutter of
    /// `diameter`.
    ///
    /// # Example
    /// ```
    /// use feeds_core::quantity::{in_mm, mm};
    /// use reference_tables::wear::Wear;
    /// let tables = reference_tables::tables().unwrap();
    /// let used = tables.worn_land(Wear::Used, mm(0.5)).unwrap();
    /// assert!((in_mm(used.value.land) - 0.015).abs() < 1e-12); // 0.03 D
    /// let used = tables.worn_land(Wear::Used, mm(6.0)).unwrap();
    /// assert!((in_mm(used.value.land) - 0.1).abs() < 1e-12);
    /// ```
    pub fn worn_land(&self, word: Wear, diameter: Length) -> Option<Choice<WornEdge>> {
        let row = self.force_laws.wear.iter().find(|r| r.word == word)?;
        let share = diameter * row.over_diameter.value.least;
        let land = row.land.value.least;
        let value = WornEdge {
            land: if share < land { share } else { land },
            growth: row.growth.value.least.si(),
        };
        let printed = format!(
            "land {}, at most {}, growth {}",
            row.land.value, row.over_diameter.value, row.growth.value
        );
        let origin = &row.land.origin;
        Some(Choice {
            capped: false,
            value,
            weak: origin.weak,
            row: Cited {
                table: TABLE,
                subject: row.subject.clone(),
                printed,
                origin: origin.clone(),
            },
            why: "the row for such an edge".to_owned(),
            kept: Vec::new(),
        })
    }
}

pub(crate) fn list(rows: &[WearRow], out: &mut Vec<Listed>) {
    for row in rows {
        let of = (row.subject.as_str(), "");
        push(out, of, "wear land", Some(&row.land));
        push(out, of, "wear land / D", Some(&row.over_diameter));
        push(out, of, "growth of r_edge", Some(&row.growth));
    }
}
