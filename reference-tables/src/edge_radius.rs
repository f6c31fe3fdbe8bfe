//! Radius of the cutting edge, by cutter.

use crate::choice::{Choice, Cited};
use crate::error::Unknown;
use crate::kind::{CutterKind, RowCoating, RowMaterial};
use crate::line::ShortRow;
use crate::listing::{Listed, listed_figure};
use crate::sourced::{Band, Figure, Sourced};
use crate::tables::Tables;
use feeds_core::quantity::{Length, Ratio, in_mm};
use serde::Deserialize;

const TABLE: &str = "edge_radius";

/// A row.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EdgeRow {
    /// The cutters as named by the source.
    pub subject: String,
    /// What they are made of.
    pub cutter: RowMaterial,
    /// What is on them.
    pub coating: RowCoating,
    /// Whether it is planned with before the others that hold.
    #[serde(default)]
    pub planning: bool,
    /// Cutting diameters.
    pub diameter: Sourced<Figure<Length>>,
    /// Edge radius when new.
    pub r_edge: Sourced<Figure<Length>>,
}

/// The data file.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EdgeRadii {
    /// Radii of new cutters.
    pub rows: Vec<EdgeRow>,
    /// Growth of the radius with wear.
    pub wear: Vec<ShortRow<Ratio>>,
}

impl EdgeRow {
    fn cited(&self) -> Cited {
        Cited {
            table: TABLE,
            subject: self.subject.clone(),
            printed: self.r_edge.value.to_string(),
            origin: self.r_edge.origin.clone(),
        }
    }
}

impl Tables {
    /// The edge radius of a new cutter.
    ///
    /// # Gives
    /// 1 to 30 um. Up to 1 mm a planning value: a sharper edge counts only where the maker says
    /// so. Where no row is printed for the diameter (1 to 3 mm) the band spans the neighbouring
    /// rows of the same cutter material, starts in its middle and is weak; below the smallest
    /// diameter it is that of the next row alone. Of rows that end at one diameter that for the
    /// coating of the cutter counts, and of these a planning one.
    ///
    /// # Errors
    /// [`Unknown`] for cutter materials without rows, and above the largest diameter.
    ///
    /// # Example
    /// ```
    /// use feeds_core::quantity::{in_mm, mm};
    /// use reference_tables::{kind::CutterKind, tables};
    /// let tables = tables().unwrap();
    /// let r = tables.edge_radius(CutterKind::COATED_CARBIDE, mm(5.0)).unwrap();
    /// assert!((in_mm(r.value.least) - 0.006).abs() < 1e-12);
    /// let small = tables.edge_radius(CutterKind::COATED_CARBIDE, mm(2.0)).unwrap();
    /// assert!(small.weak && small.value.least < r.value.least);
    /// ```
    pub fn edge_radius(
        &self,
        kind: CutterKind,
        diameter: Length,
    ) -> Result<Choice<Band<Length>>, Unknown> {
        let of_material = || {
            self.edge_radius
                .rows
                .iter()
                .filter(|r| r.cutter == kind.material)
        };
        let own = of_material().filter(|r| {
            let d = &r.diameter.value;
            r.coating.holds(kind) && d.least <= diameter && diameter <= d.most
        });
        let mut own: Vec<_> = own.collect();
        own.sort_by_key(|r| !r.planning);
        let mut own = own.into_iter();
        if let Some(row) = own.next() {
            let row_weak = row.r_edge.origin.weak;
            return Ok(Choice {
                capped: false,
                value: row.r_edge.value.band(),
                row: row.cited(),
                why: "the row is for such cutters".to_owned(),
                weak: row_weak,
                kept: own.map(|r| (r.r_edge.value.band(), r.cited())).collect(),
            });
        }
        neighbours(
            of_material().filter(|r| r.coating != RowCoating::Honed),
            kind,
            diameter,
        )
    }
}

/// The band of the rows next to a diameter that has none.
fn neighbours<'t>(
    rows: impl Iterator<Item = &'t EdgeRow> + Clone,
    kind: CutterKind,
    diameter: Length,
) -> Result<Choice<Band<Length>>, Unknown> {
    let below = rows.clone().filter(|r| r.diameter.value.most < diameter);
    let below = below.max_by(|a, b| {
        let most = |r: &EdgeRow| in_mm(r.diameter.value.most);
        let own = |r: &EdgeRow| (r.coating.holds(kind), r.planning);
        most(a).total_cmp(&most(b)).then(own(a).cmp(&own(b)))
    });
    let above = rows.filter(|r| r.coating.holds(kind) && r.diameter.value.least > diameter);
    let above = above
        .min_by(|a, b| in_mm(a.diameter.value.least).total_cmp(&in_mm(b.diameter.value.least)));
    let (Some(low), Some(high)) = (below.or(above), above) else {
        return Err(Unknown {
            needs: format!(
                "the edge radius of {} of {:.3} mm",
                kind.words(),
                in_mm(diameter)
            ),
            nearest: below.map(|r| format!("{}: {}", r.subject, r.r_edge.value)),
            advice: "measure it or ask the maker of the cutter".to_owned(),
        });
    };
    let (a, b) = (low.r_edge.value.band(), high.r_edge.value.band());
    let hull = b.hull(a);
    let middle = (hull.least + hull.most) / 2.0;
    let low = below.map(|low| (a, low.cited()));
    Ok(Choice {
        capped: false,
        value: Band {
            start: middle,
            ..hull
        },
        row: high.cited(),
        why: "no row for this diameter: band of the neighbouring rows".to_owned(),
        weak: true,
        kept: low.into_iter().chain([(b, high.cited())]).collect(),
    })
}

pub(crate) fn list(table: &EdgeRadii, out: &mut Vec<Listed>) {
    for row in &table.rows {
        let condition = format!("{} D {}", row.cutter.word(), row.diameter.value);
        let what = |quantity| (TABLE, row.subject.clone(), condition.clone(), quantity);
        out.push(listed_figure(
            what("r_edge"),
            &row.r_edge.value,
            &row.r_edge.origin,
        ));
        out.push(listed_figure(
            what("diameter"),
            &row.diameter.value,
            &row.diameter.origin,
        ));
    }
    for line in &table.wear {
        line.list(TABLE, "growth of r_edge", out);
    }
}
