//! Unit power: energy over removed volume, by stock and hardness, for sharp cutters.

use crate::choice::{Blend, Choice, Cited, Item};
use crate::error::Unknown;
use crate::listing::{Listed, listed_figure};
use crate::scope::Scope;
use crate::sourced::{Band, Figure, Sourced};
use crate::state::StockState;
use crate::tables::Tables;
use feeds_core::quantity::Pressure;
use serde::Deserialize;

const TABLE: &str = "unit_power";

/// A row.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct UnitPowerRow {
    /// The stock as printed.
    pub subject: String,
    /// For which stocks it is read.
    #[serde(flatten)]
    pub scope: Scope,
    /// Energy over volume; 1 J/mm3 is 1000 N/mm2.
    pub u: Sourced<Figure<Pressure>>,
}

impl Tables {
    /// Energy over removed volume at a feed per tooth of about 0.30 mm, sharp cutter.
    ///
    /// Small cutters need more: multiply with [`Tables::feed_factor`] and a wear factor.
    ///
    /// # Errors
    /// [`Unknown`] when no row holds (laminates, hardened steel, 15N20).
    ///
    /// # Source
    /// Machinery's Handbook, tables 1a and 1b.
    pub fn unit_power(&self, state: &StockState<'_>) -> Result<Choice<Band<Pressure>>, Unknown> {
        let items: Vec<Item<Careful>> = self
            .unit_power
            .iter()
            .filter_map(|row| {
                Some(Item {
                    value: Careful(row.u.value.band()),
                    row: Cited {
                        table: TABLE,
                        subject: row.subject.clone(),
                        printed: row.u.value.to_string(),
                        origin: row.u.origin.clone(),
                    },
                    reach: row.scope.reach(self, state, |g| g.understates)?,
                    series: format!("{} {}", row.u.origin.source, row.subject),
                    span: row.scope.span(self),
                    for_this_cut: false,
                })
            })
            .collect();
        Ok(self.choose("unit power", state, &items)?.map(|c| c.0))
    }
}

/// For powers the larger value is the careful one.
#[derive(Clone, Copy)]
struct Careful(Band<Pressure>);

impl Blend for Careful {
    fn blend(a: &Self, b: &Self, t: f64) -> Self {
        Self(Band::between(a.0, b.0, t))
    }

    fn careful(&self, other: &Self) -> std::cmp::Ordering {
        other.0.careful(&self.0)
    }
}

pub(crate) fn list(rows: &[UnitPowerRow], out: &mut Vec<Listed>) {
    for row in rows {
        let words = format!("{} {}", row.scope.words(), row.scope.hardness_text());
        let what = |quantity| {
            (
                TABLE,
                row.subject.clone(),
                words.trim().to_owned(),
                quantity,
            )
        };
        out.push(listed_figure(
            what("unit power"),
            &row.u.value,
            &row.u.origin,
        ));
        if let Some(h) = &row.scope.hardness {
            out.push(listed_figure(what("hardness"), &h.value, &h.origin));
        }
    }
}
