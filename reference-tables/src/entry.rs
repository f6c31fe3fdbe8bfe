//! Entering the stock: ramp angle, helix, plunge.

use crate::choice::Choice;
use crate::line::{ShortRow, first};
use crate::listing::Listed;
use crate::material::Class;
use crate::sourced::Band;
use crate::state::StockState;
use crate::tables::Tables;
use feeds_core::quantity::{Angle, Ratio};
use serde::Deserialize;

const TABLE: &str = "entry";

/// What a ramp row is found by.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
pub struct RampKey {
    /// Classes of stock.
    #[serde(default)]
    pub classes: Vec<Class>,
    /// Whether it is for hardened steel, of any class.
    #[serde(default)]
    pub hardened: bool,
}

/// The data file.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EntryRows {
    /// Ramp angle of a solid cutter.
    pub ramp_angle: Vec<ShortRow<Angle, RampKey>>,
    /// Diameter of a hole entered by a helix, over the cutting diameter.
    pub helix_hole: Vec<ShortRow<Ratio>>,
    /// Pitch of the helix over the cutting diameter.
    pub helix_pitch: Vec<ShortRow<Ratio>>,
    /// Feed while ramping over the normal feed.
    pub ramp_feed: Vec<ShortRow<Ratio>>,
    /// Feed while plunging.
    pub plunge_feed: Vec<ShortRow<Ratio>>,
}

impl Tables {
    /// The ramp angle for a stock, 0.5 to 5 degrees; its `most` is the limit. Hardened stock has a
    /// row of its own, whatever its class.
    ///
    /// # Source
    /// Common practice.
    pub fn ramp_angle(&self, state: &StockState<'_>) -> Option<Choice<Band<Angle>>> {
        let rows = self.entry.ramp_angle.iter().filter(|r| {
            if state.hardened {
                r.key.hardened
            } else {
                r.key.classes.contains(&state.class())
            }
        });
        first(TABLE, "the row for the class of stock", rows)
    }

    /// Hole over cutter diameter when entering on a helix, 1.2 to 1.8: wider leaves a core,
    /// narrower packs chips.
    pub fn helix_hole(&self) -> Option<Choice<Band<Ratio>>> {
        first(TABLE, "the only row", &self.entry.helix_hole)
    }

    /// Pitch of an entry helix over cutter diameter, 0.05 to 0.2.
    pub fn helix_pitch(&self) -> Option<Choice<Band<Ratio>>> {
        first(TABLE, "the only row", &self.entry.helix_pitch)
    }

    /// Feed while ramping over the normal feed: one half; another source keeps the slot feed.
    pub fn ramp_feed(&self) -> Option<Choice<Band<Ratio>>> {
        first(
            TABLE,
            "the careful one of two sources",
            &self.entry.ramp_feed,
        )
    }

    /// Feed while plunging over the normal feed, 0.2 to 0.4, for centre-cutting cutters only.
    pub fn plunge_feed(&self) -> Option<Choice<Band<Ratio>>> {
        first(TABLE, "the planning value", &self.entry.plunge_feed)
    }
}

pub(crate) fn list(table: &EntryRows, out: &mut Vec<Listed>) {
    table
        .ramp_angle
        .iter()
        .for_each(|r| r.list(TABLE, "ramp angle", out));
    table
        .helix_hole
        .iter()
        .for_each(|r| r.list(TABLE, "helix hole / D", out));
    table
        .helix_pitch
        .iter()
        .for_each(|r| r.list(TABLE, "helix pitch / D", out));
    table
        .ramp_feed
        .iter()
        .for_each(|r| r.list(TABLE, "share of feed", out));
    table
        .plunge_feed
        .iter()
        .for_each(|r| r.list(TABLE, "share of feed", out));
}
