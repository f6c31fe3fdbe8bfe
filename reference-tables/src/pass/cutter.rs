//! The cutter.

use super::caution::{Caution, What};
use super::entries::Entries;
use super::room::Room;
use super::usual::{FLUTE_LENGTH, HELIX, STICK_OUT};
use crate::kind::CutterKind;
use feeds_core::cutter::{Coating, Cutter, CutterMaterial, End, Neck};
use feeds_core::quantity::{Length, Pressure, degrees, mm};
use feeds_core::symbol as s;

impl<'t, E: Entries<'t>> Room<'t, '_, E> {
    pub(super) fn cutter(&mut self) -> Option<Cutter> {
        let diameter: Option<Length> = self.need(&s::D);
        let edges: Option<f64> = self.need(&s::Z);
        let (diameter, edges) = diameter.zip(edges)?;
        let row = self.entries.cutter().map(|row| &row.value);
        let said = self.entries.end().or(row.map(|row| row.end));
        let end = said.unwrap_or_else(|| self.shape(diameter));
        let corner_radius = match end {
            End::Square => mm(0.0),
            End::Ball => diameter / 2.0,
            End::Corner => self.need(&s::R_EPS)?,
        };
        let material = self
            .entries
            .cutter_material()
            .or(row.map(|row| row.material))
            .unwrap_or(CutterMaterial::Carbide);
        let coating = self
            .entries
            .coating()
            .or(row.map(|row| row.coating))
            .unwrap_or(Coating::None);
        let flute_length =
            self.quantity_or(&s::L_FLUTE, &FLUTE_LENGTH, FLUTE_LENGTH.value * diameter);
        let shank = self.quantity_else(&s::D_SHANK, diameter, "as thick as the cutter");
        let stick_out = self.quantity_or(&s::STICK_OUT, &STICK_OUT, STICK_OUT.value * diameter);
        if stick_out < flute_length {
            self.cautions.push(Caution::FlutesInHolder);
        }
        let helix = self.quantity_or(&s::HELIX, &HELIX, degrees(HELIX.value));
        let neck = self.neck(stick_out - flute_length);
        let core = self.quantity(&s::D_CORE);
        let usual_edge_radius = self.usual_edge_radius(diameter, material, coating);
        let edge_radius = if self.has(&s::R_EDGE) {
            self.quantity(&s::R_EDGE)
        } else {
            usual_edge_radius
        };
        let worn = self.worn_edge(diameter);
        self.land = worn.land;
        let (modulus, rupture) = self.strength(material)?;
        let centre_cutting = self.entries.centre_cutting();
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
            rounding: worn.rounding,
            modulus,
            rupture,
            centre_cutting,
        })
    }

    /// The end that the corner radius tells, if no word does.
    fn shape(&mut self, diameter: Length) -> End {
        let radius: Option<Length> = self.quantity(&s::R_EPS);
        radius.map_or(End::Square, |r| End::of_radius(r, diameter))
    }

    /// The neck, for which there is so much room between flutes and holder.
    fn neck(&mut self, room: Length) -> Option<Neck> {
        if !self.has(&s::D_NECK) && !self.has(&s::L_NECK) {
            return None;
        }
        let diameter: Option<Length> = self.need(&s::D_NECK);
        let length: Option<Length> = self.need(&s::L_NECK);
        let neck = Neck {
            diameter: diameter?,
            length: length?,
        };
        let rounding = mm(1e-6);
        if neck.length > room + rounding {
            self.cautions.push(Caution::NeckInHolder);
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
        let typed = self.has(&s::R_EDGE);
        let kind = CutterKind::new(material, coating);
        match self.tables.edge_radius(kind, diameter) {
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
                    let caution = Caution::NotKnown(What::EdgeRadius, unknown);
                    self.cautions.push(caution);
                }
                None
            }
        }
    }

    fn strength(&mut self, material: CutterMaterial) -> Option<(Pressure, Pressure)> {
        let modulus = if self.has(&s::E) {
            self.quantity(&s::E)
        } else {
            self.tables.modulus(material).map(|choice| {
                self.chosen("modulus of elasticity", &[&s::E], &choice);
                choice.value.start
            })
        };
        let rupture = if self.has(&s::SIGMA_B) {
            self.quantity(&s::SIGMA_B)
        } else {
            self.tables.rupture_strength(material).map(|choice| {
                self.chosen("rupture strength", &[&s::SIGMA_B], &choice);
                choice.value.least
            })
        };
        modulus.zip(rupture)
    }
}
