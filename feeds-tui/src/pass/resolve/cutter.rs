//! The cutter.

use super::{Reader, table_material};
use feeds_core::cutter::{Coating, Cutter, CutterMaterial, End, Neck};
use feeds_core::quantity::{Length, Pressure, Quantity, degrees, mm};
use feeds_core::symbol as s;
use reference_tables::kind::CutterKind;

impl Reader<'_> {
    pub(super) fn cutter(&mut self) -> Option<Cutter> {
        let diameter: Option<Length> = self.need("diameter");
        let edges: Option<f64> = self.need("edges");
        let (diameter, edges) = diameter.zip(edges)?;
        let end = if self.has("end") {
            self.word("end", End::of_word).unwrap_or(End::Square)
        } else {
            self.shape(diameter)
        };
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
                "the flutes reach into the holder: a collet grips flutes badly; clamp on the \
                 shank only"
                    .to_owned(),
            );
        }
        let helix = self.quantity_or("helix", degrees(30.0), "the usual helix (common practice)");
        let neck = self.neck(stick_out - flute_length);
        let core = self.quantity("core");
        let usual_edge_radius = self.usual_edge_radius(diameter, material, coating);
        let edge_radius = if self.has("edge-radius") {
            self.quantity("edge-radius")
        } else {
            usual_edge_radius
        };
        let rounding = self.worn_edge(diameter).rounding;
        let (modulus, rupture) = self.strength(material)?;
        let centre_cutting = self.yes("centre-cutting");
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
            usual_edge_radius,
            rounding,
            modulus,
            rupture,
            centre_cutting,
        })
    }

    /// The end that the corner radius tells, if no word does.
    fn shape(&mut self, diameter: Length) -> End {
        let radius = self.text("corner-radius").map(|(text, _)| text);
        let radius = radius.and_then(|text| Self::field("corner-radius").read(&text).ok()?);
        radius.map_or(End::Square, |r| {
            End::of_radius(Length::from_si(r), diameter)
        })
    }

    /// The neck, for which there is so much room between flutes and holder.
    fn neck(&mut self, room: Length) -> Option<Neck> {
        if !self.has("neck-diameter") && !self.has("neck-length") {
            return None;
        }
        let diameter: Option<Length> = self.need("neck-diameter");
        let length: Option<Length> = self.need("neck-length");
        let neck = Neck {
            diameter: diameter?,
            length: length?,
        };
        let rounding = mm(1e-6);
        if neck.length > room.max(mm(0.0)) + rounding {
            self.cautions.push(
                "the neck reaches into the holder: enter the stick-out, and the neck's length \
                 without the flutes"
                    .to_owned(),
            );
        }
        Some(neck)
    }

    /// The radius that the tables have for such an edge, cited where nobody typed one.
    fn usual_edge_radius(
        &mut self,
        diameter: Length,
        material: CutterMaterial,
        coating: Coating,
    ) -> Option<Length> {
        let typed = self.has("edge-radius");
        match self.tables.edge_radius(kind(material, coating), diameter) {
            Ok(choice) => {
                let what = if typed {
                    "usual cutting edge radius"
                } else {
                    "cutting edge radius"
                };
                self.chosen(what, &[&s::R_USUAL], &choice);
                if !typed {
                    self.origins.push((&s::R_EDGE, self.origin(&choice)));
                }
                Some(choice.value.start)
            }
            Err(unknown) => {
                if !typed {
                    self.cautions.push(format!("cutting edge radius {unknown}"));
                }
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
                self.chosen("modulus of elasticity", &[&s::E], &choice);
                choice.value.start
            })
        };
        let rupture = if self.has("rupture") {
            self.quantity("rupture")
        } else {
            self.tables.rupture_strength(of_tables).map(|choice| {
                self.chosen("rupture strength", &[&s::SIGMA_B], &choice);
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
