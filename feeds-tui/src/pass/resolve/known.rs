//! What a pass is cut with, by name: what own cuts are known by.

use super::Reader;
use crate::pass::field::{Key, Shelf};
use feeds_core::band::SMALL;
use feeds_core::plan::setup::Setup;
use feeds_core::quantity::Quantity;

/// What own cuts of a pass are known by.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct KnownAs {
    /// The stock as the shop or the tables call it, and its state.
    pub stock: String,
    /// Material and coating of the cutter, and whether it is below 1 mm.
    pub class: String,
    /// The machine; empty where it is described by values.
    pub machine: String,
    /// The cutter; empty where it is described by values.
    pub cutter: String,
}

impl KnownAs {
    /// Whether cuts of both say something of each other: one stock in one state, and one class of
    /// cutters.
    pub fn is_cut_like(&self, other: &Self) -> bool {
        self.stock == other.stock && self.class == other.class
    }
}

impl Reader<'_> {
    /// The name of a thing: that of the shop, or the row of the tables.
    fn name(&self, shelf: Shelf, row: Option<&str>) -> String {
        let own = self.called.iter().find(|(s, _)| *s == shelf);
        let name = own.map(|(_, name)| name.as_str()).or(row);
        name.unwrap_or_default().trim().to_lowercase()
    }

    /// The name of the cutter.
    pub(super) fn cutter_called(&self) -> String {
        self.name(Shelf::Cutters, self.cutter.map(|c| c.value.name.as_str()))
    }

    /// What own cuts of the pass are known by.
    pub(super) fn known(&self, setup: &Setup) -> KnownAs {
        let row = self.stock_row.as_deref();
        let row = row.map(|name| self.tables.material(name).map_or(name, |m| m.name.as_str()));
        let told = |key: Key| {
            let typed = self.pass.get(key);
            let part = || self.parts.iter().find_map(|p| p.get(key.text()));
            typed.or_else(|| part().map(|(text, _)| text))
        };
        let state = [Key::Condition, Key::Hardness].map(|key| told(key).unwrap_or_default());
        let stock = [&self.name(Shelf::Stocks, row), state[0], state[1]];
        let stock = stock.iter().filter(|text| !text.is_empty());
        let stock = stock.map(|text| text.trim().to_lowercase());
        let cutter = &setup.cutter;
        let small = if cutter.diameter.si() < SMALL {
            ", below 1 mm"
        } else {
            ""
        };
        KnownAs {
            stock: stock.collect::<Vec<_>>().join(", "),
            class: format!(
                "{}, {}{small}",
                cutter.material.word(),
                cutter.coating.word()
            ),
            machine: self.name(Shelf::Machines, self.machine.map(|m| m.value.name.as_str())),
            cutter: self.cutter_called(),
        }
    }
}
