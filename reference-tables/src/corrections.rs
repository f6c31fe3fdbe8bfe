//! Corrections of force and feed: wear, rake, chip size, light machines.

use crate::choice::Choice;
use crate::line::{ShortRow, first};
use crate::listing::Listed;
use crate::sourced::{Band, Figure};
use crate::tables::Tables;
use feeds_core::quantity::{Angle, Length, Quantity, Ratio};
use serde::Deserialize;

const TABLE: &str = "corrections";

/// Whether a wear factor is for a worn edge.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
pub struct WearKey {
    /// Worn out, or new.
    pub worn: bool,
}

/// Part of the force a ratio is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum ForcePart {
    /// Across the cut.
    Radial,
    /// Along the cutter.
    Axial,
}

/// What a force ratio is found by.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
pub struct PartKey {
    /// The part.
    pub part: ForcePart,
}

/// What a feed factor is found by.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct FeedKey {
    /// Feed per tooth, from the same row of the same source.
    pub f_z: Figure<Length>,
}

/// The data file.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Corrections {
    /// Force of a worn over a sharp edge.
    pub wear: Vec<ShortRow<Ratio, WearKey>>,
    /// Power of a used over a sharp cutter, by operation.
    pub power_wear: Vec<ShortRow<Ratio>>,
    /// Fall of k_c for each degree of rake.
    pub rake: Vec<ShortRow<Ratio>>,
    /// Rake that k_c1.1 is tabulated for.
    pub reference_rake: Vec<ShortRow<Angle>>,
    /// Unit power at a feed over that at 0.30 mm.
    pub feed_factor: Vec<ShortRow<Ratio, FeedKey>>,
    /// Force by process, of a German textbook.
    pub process: Vec<ShortRow<Ratio>>,
    /// Force by cutting speed, of a German textbook.
    pub speed_factor: Vec<ShortRow<Ratio>>,
    /// Radial and axial over tangential force.
    pub force_ratio: Vec<ShortRow<Ratio, PartKey>>,
    /// Chip thickness that Kienzle's pairs hold for.
    pub kienzle_range: Vec<ShortRow<Length>>,
    /// Depth or width on a light machine over the printed one.
    pub light_machine: Vec<ShortRow<Ratio>>,
    /// Ends of the band around a single printed value, over that value.
    pub single_value: Vec<ShortRow<Ratio>>,
    /// Edge force over `k_c(0.02 mm) · 0.02 mm`.
    pub edge_force: Vec<ShortRow<Ratio>>,
}

impl Tables {
    /// Force of an edge over that of a sharp one: 1 new, 1.3 to 1.5 worn out.
    ///
    /// # Source
    /// Klocke, Manufacturing Processes 1; Paucksch, Zerspantechnik (from memory).
    pub fn wear_factor(&self, worn: bool) -> Option<Choice<Band<Ratio>>> {
        let rows = self.corrections.wear.iter().filter(|r| r.key.worn == worn);
        first(TABLE, "the row for such an edge", rows)
    }

    /// Share by which k_c falls for each degree of rake: 0.010 to 0.015, sources differ.
    pub fn rake_share(&self) -> Option<Choice<Band<Ratio>>> {
        first(TABLE, "both sources in one band", &self.corrections.rake)
    }

    /// Rake that k_c1.1 is tabulated for: 0 degrees in makers' tables, 6 in German texts.
    pub fn reference_rake(&self) -> Option<Choice<Band<Angle>>> {
        first(
            TABLE,
            "printed before memory",
            &self.corrections.reference_rake,
        )
    }

    /// Radial or axial over tangential force. Common practice, weak.
    pub fn force_ratio(&self, part: ForcePart) -> Option<Choice<Band<Ratio>>> {
        let rows = self
            .corrections
            .force_ratio
            .iter()
            .filter(|r| r.key.part == part);
        first(TABLE, "common practice", rows)
    }

    /// Depth or width of cut on a light machine over the printed one: 0.5 to 0.7. It never goes
    /// onto the feed per tooth: an edge that is fed less rubs.
    pub fn light_feed_share(&self) -> Option<Choice<Band<Ratio>>> {
        first(TABLE, "the only row", &self.corrections.light_machine)
    }

    /// Edge force over width, as a share of `k_c(0.02 mm) · 0.02 mm`: 0.3 (common practice).
    pub fn edge_force_share(&self) -> Option<Choice<Band<Ratio>>> {
        first(TABLE, "the only row", &self.corrections.edge_force)
    }

    /// A single printed value is a recommendation, not a band of no width: its ends are put a
    /// quarter below and above it (common practice).
    pub(crate) fn spread<Q: Quantity + PartialOrd>(&self, band: Band<Q>) -> Band<Q> {
        let Some(row) = self.corrections.single_value.first() else {
            return band;
        };
        if band.least < band.most {
            return band;
        }
        let ends = &row.figure.value;
        let times = |x: Ratio| Q::from_si(band.start.si() * x.si());
        Band {
            least: times(ends.least),
            start: band.start,
            most: times(ends.most),
        }
    }

    /// Unit power at feed per tooth `f_z` over that at 0.30 mm, from 0.025 to 0.5 mm; the end
    /// rows hold beyond. Straight lines between the rows.
    ///
    /// # Source
    /// Machinery's Handbook, 27th ed., table 2 (from memory).
    pub fn feed_factor(&self, f_z: Length) -> Option<f64> {
        let rows = || {
            let rows = self.corrections.feed_factor.iter();
            rows.map(|r| (r.key.f_z.least, r.figure.value.least.si()))
        };
        let inner = rows().zip(rows().skip(1)).find_map(|((a, x), (b, y))| {
            (a <= f_z && f_z <= b).then(|| x + (y - x) * ((f_z - a) / (b - a)).si())
        });
        let below = rows().next().filter(|(a, _)| f_z < *a);
        let above = rows().next_back().filter(|(b, _)| f_z > *b);
        inner.or(below.or(above).map(|(_, x)| x))
    }
}

pub(crate) fn list(table: &Corrections, out: &mut Vec<Listed>) {
    table
        .single_value
        .iter()
        .for_each(|r| r.list(TABLE, "spread", out));
    table
        .wear
        .iter()
        .for_each(|r| r.list(TABLE, "wear factor", out));
    table
        .power_wear
        .iter()
        .for_each(|r| r.list(TABLE, "power wear factor", out));
    table
        .rake
        .iter()
        .for_each(|r| r.list(TABLE, "rake correction", out));
    table
        .reference_rake
        .iter()
        .for_each(|r| r.list(TABLE, "reference rake", out));
    table
        .feed_factor
        .iter()
        .for_each(|r| r.list(TABLE, "feed factor", out));
    table
        .process
        .iter()
        .for_each(|r| r.list(TABLE, "process factor", out));
    table
        .speed_factor
        .iter()
        .for_each(|r| r.list(TABLE, "speed factor", out));
    table
        .force_ratio
        .iter()
        .for_each(|r| r.list(TABLE, "force ratio", out));
    table
        .kienzle_range
        .iter()
        .for_each(|r| r.list(TABLE, "chip thickness", out));
    table
        .light_machine
        .iter()
        .for_each(|r| r.list(TABLE, "share of depth or width", out));
    table
        .edge_force
        .iter()
        .for_each(|r| r.list(TABLE, "edge force share", out));
}
