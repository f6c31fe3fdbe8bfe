//! Helix and rake of solid cutters by number of edges.

use crate::listing::{Listed, listed_figure};
use crate::sourced::{Figure, Sourced};
use feeds_core::quantity::Angle;
use serde::Deserialize;

/// A row.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GeometryRow {
    /// The cutters.
    pub subject: String,
    /// Number of edges.
    pub edges: u8,
    /// Helix angle.
    pub helix: Sourced<Figure<Angle>>,
    /// Radial rake.
    pub radial_rake: Sourced<Figure<Angle>>,
}

pub(crate) fn list(rows: &[GeometryRow], out: &mut Vec<Listed>) {
    for row in rows {
        for (quantity, f) in [("helix", &row.helix), ("radial rake", &row.radial_rake)] {
            let what = (
                "geometry",
                row.subject.clone(),
                format!("{} edges", row.edges),
                quantity,
            );
            out.push(listed_figure(what, &f.value, &f.origin));
        }
    }
}
