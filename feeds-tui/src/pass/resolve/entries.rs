//! The entries of a pass, read from their texts as the tables' room asks for them.

use super::Reader;
use super::refused::field_of;
use crate::pass::field::Key;
use crate::pass::wear::{TypedWear, read};
use feeds_core::cut::{Direction, Path, WallSide};
use feeds_core::cutter::{Coating, CutterMaterial, End};
use feeds_core::error::{Cause, EntryError};
use feeds_core::notebook::Origin;
use feeds_core::plan::setup::Intent;
use feeds_core::quantity::{Length, Quantity, Time};
use feeds_core::symbol::{self as s, Symbol, System};
use reference_tables::cutter::CutterRow;
use reference_tables::hardness::Hardness;
use reference_tables::hold::HoldRow;
use reference_tables::machine::MachineRow;
use reference_tables::material::Material;
use reference_tables::pass::{EdgeWear, Entries, Known, WayIn};
use reference_tables::sourced::Sourced;

impl Entries<'static> for Reader<'_> {
    fn has(&self, of: &'static Symbol) -> bool {
        field_of(of).is_some_and(|field| {
            self.own(of) || self.parts.iter().any(|p| p.get(field.key).is_some())
        })
    }

    fn own(&self, of: &'static Symbol) -> bool {
        field_of(of).is_some_and(|field| self.pass.get(field.key).is_some())
    }

    fn quantity(&mut self, of: &'static Symbol) -> Option<Known> {
        let field = field_of(of)?;
        let (text, from) = self.text(field.id)?;
        let si = self.kept(field.read(&text))??;
        Some(Known { si, text, from })
    }

    fn called(&self, of: &'static Symbol) -> &'static str {
        field_of(of).map_or(of.name, |field| field.name)
    }

    fn cutter(&self) -> Option<&'static Sourced<CutterRow>> {
        self.cutter
    }

    fn machine(&self) -> Option<&'static Sourced<MachineRow>> {
        self.machine
    }

    fn has_machine(&self) -> bool {
        self.pass.get(Key::Machine).is_some()
    }

    fn hold(&self) -> Option<&'static HoldRow> {
        self.hold
    }

    fn has_hold(&self) -> bool {
        self.pass.get(Key::Hold).is_some()
    }

    fn material(&mut self) -> Option<&'static Material> {
        let name = self.stock_row.clone()?;
        let found = self.tables.material(&name);
        self.kept(found.map_err(|e| super::not_found(&e, "stock")))
    }

    fn condition(&mut self) -> Option<String> {
        self.stock_row.as_ref()?;
        self.text(Key::Condition).map(|(text, _)| text)
    }

    fn hardness(&mut self) -> Option<(Hardness, Origin)> {
        self.stock_row.as_ref()?;
        let (text, from) = self.text(Key::Hardness)?;
        let wrong = |why: String| EntryError::because(Cause::Form, why).of("hardness");
        let hardness = self.kept(text.parse().map_err(wrong))?;
        Some((hardness, from))
    }

    fn end(&mut self) -> Option<End> {
        self.word(Key::End, End::of_word)
    }

    fn cutter_material(&mut self) -> Option<CutterMaterial> {
        self.word(Key::CutterMaterial, CutterMaterial::of_word)
    }

    fn coating(&mut self) -> Option<Coating> {
        self.word(Key::Coating, Coating::of_word)
    }

    fn centre_cutting(&mut self) -> Option<bool> {
        self.yes(Key::CentreCutting)
    }

    fn wear(&mut self) -> Option<EdgeWear> {
        let Some((text, origin)) = self.text(Key::Wear) else {
            return self.logged_wear();
        };
        let read = read(&text, Key::Wear.field().why());
        Some(match self.kept(read.map_err(|e| e.of("wear")))? {
            TypedWear::Word(wear) => EdgeWear::Word(wear),
            TypedWear::Land(land) => EdgeWear::Land(land, origin),
            TypedWear::Factor(factor, land) => {
                let shown = s::LAND.show(land.si(), self.typed_in);
                self.wear_factor = Some(format!(
                    "wear factor {factor}: read as a wear land of {shown}; enter the land, or \
                     fresh, used, worn"
                ));
                let why = format!("a factor of {factor} stands for it");
                EdgeWear::Land(land, Origin::Chosen { why })
            }
        })
    }

    fn path(&mut self) -> Option<Path> {
        self.word(Key::Path, Path::of_word)
    }

    fn direction(&mut self) -> Option<Direction> {
        self.word(Key::Direction, Direction::of_word)
    }

    fn wall_side(&mut self) -> Option<WallSide> {
        self.word(Key::Wall, WallSide::of_word)
    }

    fn corner(&mut self) -> Option<bool> {
        self.yes(Key::Corner)
    }

    fn way_in(&mut self) -> Option<WayIn> {
        self.word(Key::Entry, |word| {
            [
                ("ramp", WayIn::Ramp),
                ("helix", WayIn::Helix),
                ("plunge", WayIn::Plunge),
            ]
            .into_iter()
            .find_map(|(name, way)| word.trim().eq_ignore_ascii_case(name).then_some(way))
        })
    }

    fn intent(&mut self) -> Option<Intent> {
        self.word(Key::Intent, Intent::of_word)
    }

    fn typed_in(&self) -> System {
        self.typed_in
    }
}

impl Reader<'_> {
    /// How worn the log says the edge is.
    fn logged_wear(&mut self) -> Option<EdgeWear> {
        let life = self.life.clone()?;
        let typed = self.quantity(&s::D).map(|known| Length::from_si(known.si));
        let land = life.land(typed.or(self.cutter.map(|c| c.value.diameter.least))?)?;
        let show = |time: Time| s::T_CUT.show(time.si(), self.typed_in);
        let why = format!(
            "cutter «{}» has cut {} with this edge, and {}",
            life.name,
            show(life.now),
            life.seen_words(show)?
        );
        Some(EdgeWear::Land(land, Origin::Chosen { why }))
    }
}
