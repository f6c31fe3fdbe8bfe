//! The cutter.

use super::{Reader, table_material};
use feeds_core::cutter::{Coating, Cutter, CutterMaterial, End, Neck};
use feeds_core::quantity::{Length, Pressure, degrees, mm};
use feeds_core::symbol as s;
use reference_tables::kind::CutterKind;

impl Reader<'_> {
    pub(super) fn cutter(&mut self) -> Option<Cutter> {
        let diameter: Option<Length> = self.need("diameter");
        let edges: Option<f64> = self.need("edges");
        let (diameter, edges) = diameter.zip(edges)?;
        let end = self.word("end", End::of_word).unwrap_or(End::Square);
        let corner_radius = match end {
            End::Square => mm(0.0),
            End::Ball => diameter / 2.0,
            End::Corner => self.need("corner-radius")?,
        };
        let material = self
            .word("cutter-material", CutterMaterial::of_word)
            .unwrap_or(CutterMaterial::Carbide);
        let coating = self
            .word("coating", Coating::of_word)
            .unwrap_or(Coating::None);
        let proportions = "usual proportions of small cutters (common practice)";
        let flute_length = self.quantity_or("flute-length", 2.0 * diameter, proportions);
        let shank = self.quantity_or("shank", diameter, "as thick as the cutter");
        let stick_out = self.quantity_or("stick-out", 3.0 * diameter, proportions);
        if stick_out < flute_length {
            self.cautions.push(
                "the flutes reach into the holder: a collet grips them badly; clamp on the shank \
                 only"
                    .to_owned(),
            );
        }
        let helix = self.quantity_or("helix", degrees(30.0), "the usual helix (common practice)");
        let neck = self
            .quantity("neck-diameter")
            .zip(self.quantity("neck-length"))
            .map(|(diameter, length)| Neck { diameter, length });
        let core = self.quantity("core");
        let edge_radius = self.edge_radius(diameter, material, coating);
        let (modulus, rupture) = self.strength(material)?;
        let centre_cutting = self.yes("centre-cutting").unwrap_or(true);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "the register allows whole numbers from 1 to 20"
        )]
        let edges = edges as u32;
        Some(Cutter {
            diameter,
            edges,
            helix,
            end,
            corner_radius,
            material,
            coating,
            flute_length,
            stick_out,
            shank,
            neck,
            core,
            edge_radius,
            modulus,
            rupture,
            centre_cutting,
        })
    }

    fn edge_radius(
        &mut self,
        diameter: Length,
        material: CutterMaterial,
        coating: Coating,
    ) -> Option<Length> {
        if self.has("edge-radius") {
            return self.quantity("edge-radius");
        }
        let kind = kind(material, coating);
        match self.tables.edge_radius(kind, diameter) {
            Ok(choice) => {
                self.chosen("cutting edge radius", Some(&s::R_EDGE), &choice);
                Some(choice.value.start)
            }
            Err(unknown) => {
                self.cautions.push(format!("cutting edge radius {unknown}"));
                None
            }
        }
    }

    fn strength(&mut self, material: CutterMaterial) -> Option<(Pressure, Pressure)> {
        let of_tables = table_material(material);
        let modulus = if self.has("modulus") {
            self.quantity("modulus")
        } else {
            self.tables.modulus(of_tables).map(|choice| {
                self.chosen("modulus of elasticity", Some(&s::E), &choice);
                choice.value.start
            })
        };
        let rupture = if self.has("rupture") {
            self.quantity("rupture")
        } else {
            self.tables.rupture_strength(of_tables).map(|choice| {
                self.chosen("rupture strength", Some(&s::SIGMA_B), &choice);
                choice.value.least
            })
        };
        modulus.zip(rupture)
    }
}

/// What rows of the tables ask of a cutter.
pub(crate) fn kind(material: CutterMaterial, coating: Coating) -> CutterKind {
    CutterKind::new(table_material(material), coating.word())
}
