//! Stiffness and strength of cutters.

use crate::choice::Choice;
use crate::kind::RowMaterial;
use crate::line::{ShortRow, first};
use crate::listing::Listed;
use crate::material::Density;
use crate::sourced::Band;
use crate::tables::Tables;
use feeds_core::cutter::CutterMaterial;
use feeds_core::quantity::{Pressure, Ratio};
use serde::Deserialize;

const TABLE: &str = "strength";

/// The grade a row is found by.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Grade {
    /// `carbide`, `carbide fine`, `carbide tough`, `HSS` or `powder HSS`.
    pub grade: String,
}

/// The data file.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Strengths {
    /// Young's modulus.
    pub modulus: Vec<ShortRow<Pressure, Grade>>,
    /// Transverse rupture strength (ISO 3327), bend strength for HSS.
    pub rupture: Vec<ShortRow<Pressure, Grade>>,
    /// Allowable stress over rupture strength.
    pub allowable: Vec<ShortRow<Ratio>>,
    /// Density.
    pub density: Vec<ShortRow<Density>>,
    /// Poisson's ratio.
    pub poisson: Vec<ShortRow<Ratio>>,
    /// Diameter of the rod as stiff as the fluted part, over the cutting diameter.
    pub equivalent_diameter: Vec<ShortRow<Ratio>>,
    /// Core diameter for stress, over the cutting diameter.
    pub core_diameter: Vec<ShortRow<Ratio>>,
    /// Stiffness of the fluted part over a solid rod.
    pub stiffness_ratio: Vec<ShortRow<Ratio>>,
}

impl Tables {
    /// Young's modulus of a cutter: 570 to 600 GPa for the usual carbide, 210 to 225 for HSS.
    /// Rows of other grades are kept beside it.
    pub fn modulus(&self, material: CutterMaterial) -> Option<Choice<Band<Pressure>>> {
        graded(&self.strength.modulus, material)
    }

    /// Transverse rupture strength of a cutter; a polished bar under one load, no design stress.
    pub fn rupture_strength(&self, material: CutterMaterial) -> Option<Choice<Band<Pressure>>> {
        graded(&self.strength.rupture, material)
    }

    /// Diameter of the rod as stiff as the fluted part, over the cutting diameter: 0.80.
    ///
    /// # Source
    /// Kops and Vo, CIRP Annals 39(1), 1990 (two and four edges).
    pub fn equivalent_diameter(&self) -> Option<Choice<Band<Ratio>>> {
        first(
            TABLE,
            "measured by a paper",
            &self.strength.equivalent_diameter,
        )
    }

    /// Core diameter for stress over the cutting diameter: 0.65 (common practice).
    pub fn core_diameter(&self) -> Option<Choice<Band<Ratio>>> {
        first(TABLE, "the only row", &self.strength.core_diameter)
    }
}

/// The usual grade of the material first, its other grades kept.
fn graded(
    rows: &[ShortRow<Pressure, Grade>],
    material: CutterMaterial,
) -> Option<Choice<Band<Pressure>>> {
    let word = RowMaterial::from(material).word();
    let mut rows: Vec<_> = rows.iter().filter(|r| r.key.grade.contains(word)).collect();
    rows.sort_by_key(|r| r.key.grade != word);
    first(TABLE, "the usual grade; give your own if you know it", rows)
}

pub(crate) fn list(table: &Strengths, out: &mut Vec<Listed>) {
    table
        .modulus
        .iter()
        .for_each(|r| r.list(TABLE, "modulus", out));
    table
        .rupture
        .iter()
        .for_each(|r| r.list(TABLE, "rupture strength", out));
    table
        .allowable
        .iter()
        .for_each(|r| r.list(TABLE, "share of strength", out));
    table
        .density
        .iter()
        .for_each(|r| r.list(TABLE, "density", out));
    table
        .poisson
        .iter()
        .for_each(|r| r.list(TABLE, "Poisson's ratio", out));
    table
        .equivalent_diameter
        .iter()
        .for_each(|r| r.list(TABLE, "equivalent D / D", out));
    table
        .core_diameter
        .iter()
        .for_each(|r| r.list(TABLE, "core / D", out));
    table
        .stiffness_ratio
        .iter()
        .for_each(|r| r.list(TABLE, "stiffness ratio", out));
}
