//! What the cut along a programme comes to, shaped as `feeds audit --json` prints it.

use serde::ser::SerializeStruct;
use serde::{Serialize, Serializer};

use super::ceiling::LoweredFeeds;
use super::left_out::NotSimulated;
use super::lines::{LineLoad, hardest};
use super::strip::StripBin;
use super::views::StockViews;
use crate::quantity::{Amount, unit};

/// Way by arc of engagement, mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ArcShares {
    /// Nothing is cut.
    pub air: f64,
    /// Up to a quarter turn.
    pub narrow: f64,
    /// From there to nearly a half turn.
    pub wide: f64,
    /// A slot: a half turn, but for five degrees.
    pub slot: f64,
    /// Of the way that cuts, what is cut up (conventional).
    pub up: f64,
}

/// The cut along the programme. Lengths in mm, forces in N.
#[derive(Clone, Debug, PartialEq)]
pub struct CutAlong {
    /// Distance of the nodes of the stock.
    pub cell: f64,
    /// Volume cut away, mm³.
    pub removed: f64,
    /// Volume of the stock before, mm³.
    pub stock: f64,
    /// Way at feed that was simulated.
    pub way: f64,
    /// The way by arc.
    pub shares: ArcShares,
    /// Way over which the chip is below the least that cuts.
    pub rubs: f64,
    /// Largest lateral force, and the one that 99 % of the cutting way stay under.
    pub force: Option<[f64; 2]>,
    /// The range of the largest lateral force.
    pub force_range: Option<[f64; 2]>,
    /// Lines, by number.
    pub lines: Vec<LineLoad>,
    /// How many lines more there were, all loaded less.
    pub lines_left_out: u64,
    /// What was not simulated.
    pub not_simulated: Vec<NotSimulated>,
    /// How many stretches more were not.
    pub not_simulated_more: u64,
    /// What was taken of tools that are not described in full.
    pub assumed: Vec<String>,
    /// The strip over the way.
    pub strip: Vec<StripBin>,
    /// The stock from above along the way, where it was asked for.
    pub views: Option<StockViews>,
    /// What the asked correction comes to.
    pub corrected: Option<LoweredFeeds>,
}

impl CutAlong {
    /// The lines that work hardest, the hardest first.
    pub fn hardest(&self, count: usize) -> Vec<&LineLoad> {
        hardest(&self.lines, count)
    }
}

fn mm(value: f64) -> Amount {
    Amount::new(value, &unit::MILLIMETRE)
}

impl Serialize for LineLoad {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let deg = |value: f64| Amount::new(value.to_degrees(), &unit::DEGREE);
        let newton = |value: f64| Amount::new(value, &unit::NEWTON);
        let mut out = serializer.serialize_struct("LineLoad", 15)?;
        out.serialize_field("line", &self.line)?;
        out.serialize_field("way", &mm(self.way))?;
        out.serialize_field("cuts", &mm(self.cuts))?;
        out.serialize_field("arc_most", &deg(self.arc_most))?;
        out.serialize_field("width_most", &mm(self.width_most))?;
        out.serialize_field("width_up_to", &self.width_up_to.map(mm))?;
        out.serialize_field("depth_most", &mm(self.depth_most))?;
        out.serialize_field("up_share", &self.up_share)?;
        out.serialize_field("chip_most", &self.chip_most.map(mm))?;
        out.serialize_field("rubbing_share", &self.rubbing_share)?;
        out.serialize_field("force_most", &self.force_most.map(newton))?;
        out.serialize_field("force_99", &self.force_99.map(newton))?;
        out.serialize_field("bending_most", &self.bending_most.map(mm))?;
        out.serialize_field("wall_most", &self.wall_most.map(mm))?;
        out.serialize_field("used", &self.used.map(|u| u.0))?;
        out.end()
    }
}

impl Serialize for CutAlong {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let cubic = |value: f64| Amount::new(value, &unit::CUBIC_MILLIMETRE);
        let mut out = serializer.serialize_struct("CutAlong", 10)?;
        out.serialize_field("cell", &mm(self.cell))?;
        out.serialize_field("removed", &cubic(self.removed))?;
        out.serialize_field("way", &mm(self.way))?;
        out.serialize_field("air", &mm(self.shares.air))?;
        out.serialize_field("slot", &mm(self.shares.slot))?;
        out.serialize_field("up", &mm(self.shares.up))?;
        out.serialize_field("rubs", &mm(self.rubs))?;
        out.serialize_field("lines", &self.lines)?;
        out.serialize_field("not_simulated", &self.not_simulated)?;
        out.serialize_field("assumed", &self.assumed)?;
        out.end()
    }
}
