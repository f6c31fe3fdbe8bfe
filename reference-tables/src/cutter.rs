//! Generic cutters: usual proportions of catalogue cutters, never a maker's cutter.

use crate::error::NotFound;
use crate::kind::CutterKind;
use crate::listing::{Listed, listed_figure};
use crate::names;
use crate::sourced::{Figure, Sourced};
use crate::tables::Tables;
use feeds_core::cutter::{Coating, CutterMaterial, End};
use feeds_core::quantity::{Angle, Length};
use serde::Deserialize;

/// A cutter.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct CutterRow {
    /// Name: size, shape, edges, material.
    pub name: String,
    /// Shape of the end.
    pub end: End,
    /// What it is made of.
    pub material: CutterMaterial,
    /// What covers its edges.
    pub coating: Coating,
    /// Number of edges.
    pub edges: u8,
    /// Cutting diameter.
    pub diameter: Figure<Length>,
    /// Corner radius, of a corner-radius cutter.
    pub corner_radius: Option<Figure<Length>>,
    /// Helix angle.
    pub helix: Figure<Angle>,
    /// Length of the fluted part.
    pub flute_length: Figure<Length>,
    /// Shank diameter.
    pub shank: Figure<Length>,
    /// Overall length.
    pub overall: Figure<Length>,
    /// Usual length outside the holder.
    pub stick_out: Figure<Length>,
}

impl CutterRow {
    /// What rows of speed and feed ask of it.
    pub fn kind(&self) -> CutterKind {
        CutterKind::new(self.material, self.coating)
    }
}

impl Tables {
    /// The cutter called `name`, by name or words of it that fit no other: `5 mm square 3 edges`.
    ///
    /// # Errors
    /// [`NotFound`] with the nearest names, or with those that fit when there are several.
    ///
    /// # Example
    /// ```
    /// let tables = reference_tables::tables().unwrap();
    /// assert_eq!(tables.cutter("5 mm square, 3 edges").unwrap().value.edges, 3);
    /// use reference_tables::error::NameFit;
    /// assert_eq!(tables.cutter("5 mm").unwrap_err().fit, NameFit::Several);
    /// ```
    pub fn cutter(&self, name: &str) -> Result<&Sourced<CutterRow>, NotFound> {
        names::find("cutter", &self.cutters, &self.called.cutters, name, |c| {
            vec![c.value.name.clone()]
        })
    }
}

pub(crate) fn list(cutters: &[Sourced<CutterRow>], out: &mut Vec<Listed>) {
    for cutter in cutters {
        let c = &cutter.value;
        let what = |quantity| ("cutters", c.name.clone(), String::new(), quantity);
        let origin = &cutter.origin;
        out.push(listed_figure(what("diameter"), &c.diameter, origin));
        if let Some(r) = &c.corner_radius {
            out.push(listed_figure(what("corner radius"), r, origin));
        }
        out.push(listed_figure(what("helix"), &c.helix, origin));
        out.push(listed_figure(what("flute length"), &c.flute_length, origin));
        out.push(listed_figure(what("shank"), &c.shank, origin));
        out.push(listed_figure(what("overall length"), &c.overall, origin));
        out.push(listed_figure(what("stick-out"), &c.stick_out, origin));
    }
}
