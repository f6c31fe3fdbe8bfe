//! What is usual for depth, width, stick-out and the ways in and round: guidelines a pass is
//! checked against. Rows of makers for depth and width stand in [`crate::depth_width`].

use crate::choice::Choice;
use crate::depth_width::MachineClass;
use crate::line::{ShortRow, first};
use crate::listing::Listed;
use crate::sourced::Band;
use crate::tables::Tables;
use feeds_core::cut::Path;
use feeds_core::cutter::CutterMaterial;
use feeds_core::quantity::{Angle, Ratio};
use serde::Deserialize;

const TABLE: &str = "guides";

/// What a guideline is found by; what it does not say, it is for.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
pub struct GuideKey {
    /// Paths.
    #[serde(default)]
    pub paths: Vec<Path>,
    /// The machine.
    pub machine: Option<MachineClass>,
    /// Only for cuts deeper than this share of the diameter.
    pub deeper_than: Option<f64>,
    /// Fewest and most edges.
    pub edges: Option<(u32, u32)>,
    /// What the cutter is made of.
    pub cutter: Option<CutterMaterial>,
    /// Whether the end cuts to the centre.
    pub centre_cutting: Option<bool>,
}

/// The data file.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GuideRows {
    /// Depth over diameter.
    pub depth: Vec<ShortRow<Ratio, GuideKey>>,
    /// Width over diameter.
    pub width: Vec<ShortRow<Ratio, GuideKey>>,
    /// Depth over diameter that chips leave room for between two walls.
    pub chip_room: Vec<ShortRow<Ratio, GuideKey>>,
    /// Stick-out over diameter.
    pub stick_out: Vec<ShortRow<Ratio, GuideKey>>,
    /// Steepest entry.
    pub steepest_entry: Vec<ShortRow<Angle, GuideKey>>,
    /// Engagement in a corner.
    pub corner: Vec<ShortRow<Angle, GuideKey>>,
}

/// A choice of one guideline.
pub type Guide<Q> = Option<Choice<Band<Q>>>;

/// Beyond this depth over diameter, this width over diameter.
pub type Deeper = (f64, Choice<Band<Ratio>>);

impl Tables {
    /// Usual depth over diameter on a path.
    ///
    /// # Example
    /// ```
    /// use feeds_core::{cut::Path, quantity::Quantity};
    /// use reference_tables::{depth_width::MachineClass, tables};
    /// let tables = tables().unwrap();
    /// let slot = tables.usual_depth(Path::Slot, MachineClass::Light).unwrap();
    /// assert_eq!(slot.value.most.si(), 0.25); // a quarter of the diameter
    /// assert!(slot.weak);
    /// ```
    pub fn usual_depth(&self, path: Path, machine: MachineClass) -> Guide<Ratio> {
        let rows = self.guides.depth.iter();
        let on = rows.filter(|r| on(r, path) && r.key.machine.is_none_or(|m| m == machine));
        first(TABLE, "the row for the path and the machine", on)
    }

    /// Usual width over diameter on a path, and from which depth over diameter on another one
    /// holds.
    pub fn usual_width(&self, path: Path) -> (Guide<Ratio>, Option<Deeper>) {
        let rows = || self.guides.width.iter().filter(|r| on(r, path));
        let shallow = rows().filter(|r| r.key.deeper_than.is_none());
        let deep = rows().find_map(|r| {
            let why = "the row for the path, at this depth";
            Some((r.key.deeper_than?, first(TABLE, why, [r])?))
        });
        (first(TABLE, "the row for the path", shallow), deep)
    }

    /// Depth over diameter that chips leave room for between two walls.
    pub fn chip_room(&self, edges: u32) -> Guide<Ratio> {
        let holds = |(least, most): (u32, u32)| (least..=most).contains(&edges);
        let rows = self.guides.chip_room.iter();
        let rows = rows.filter(|r| r.key.edges.is_none_or(holds));
        first(TABLE, "the row for the number of edges", rows)
    }

    /// Usual stick-out over diameter.
    pub fn usual_stick_out(&self, material: CutterMaterial) -> Guide<Ratio> {
        let rows = self.guides.stick_out.iter();
        let rows = rows.filter(|r| r.key.cutter.is_none_or(|c| c == material));
        first(TABLE, "the row for the cutter material", rows)
    }

    /// The steepest way into the stock.
    pub fn steepest_entry(&self, centre_cutting: bool) -> Guide<Angle> {
        let rows = self.guides.steepest_entry.iter();
        let rows = rows.filter(|r| r.key.centre_cutting.is_none_or(|c| c == centre_cutting));
        first(TABLE, "the row for the end", rows)
    }

    /// The largest engagement in a corner that needs no further care.
    pub fn corner_engagement(&self) -> Guide<Angle> {
        first(TABLE, "the only row", &self.guides.corner)
    }
}

fn on<Q>(row: &ShortRow<Q, GuideKey>, path: Path) -> bool {
    row.key.paths.contains(&path)
}

pub(crate) fn list(table: &GuideRows, out: &mut Vec<Listed>) {
    for (quantity, rows) in [
        ("a_p / D", &table.depth),
        ("a_e / D", &table.width),
        ("room for chips / D", &table.chip_room),
        ("stick-out / D", &table.stick_out),
    ] {
        for row in rows {
            row.list(TABLE, quantity, out);
        }
    }
    for (quantity, rows) in [
        ("steepest entry", &table.steepest_entry),
        ("engagement angle", &table.corner),
    ] {
        for row in rows {
            row.list(TABLE, quantity, out);
        }
    }
}
