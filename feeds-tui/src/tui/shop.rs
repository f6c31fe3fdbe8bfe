//! What names can be picked from: the workshop's own things, then the tables'.

use crate::own::Learnt;
use crate::pass::field::Shelf;
use crate::pass::part::Part;
use crate::pass::resolve::{Shelves, TablesIn, TablesOnly};
use crate::store::job::PlannedShelves;
use feeds_core::error::EntryError;
use feeds_core::symbol::System;
use reference_tables::tables;
use std::fmt::Debug;
use std::rc::Rc;

/// The workshop's shelves, with the names on them.
pub trait Workshop: Shelves + Debug {
    /// The names on a shelf of the workshop.
    fn names(&self, shelf: Shelf) -> Vec<String>;

    /// The same, for a machine that is typed in a system.
    fn in_system(&self, system: System) -> Rc<dyn Workshop>;
}

impl Workshop for TablesOnly {
    fn names(&self, _: Shelf) -> Vec<String> {
        Vec::new()
    }

    fn in_system(&self, system: System) -> Rc<dyn Workshop> {
        Rc::new(TablesIn(system))
    }
}

impl Workshop for TablesIn {
    fn names(&self, _: Shelf) -> Vec<String> {
        Vec::new()
    }

    fn in_system(&self, system: System) -> Rc<dyn Workshop> {
        Rc::new(Self(system))
    }
}

impl Workshop for crate::store::shop::Shop {
    fn names(&self, shelf: Shelf) -> Vec<String> {
        self.on(shelf).map(|item| item.name.clone()).collect()
    }

    fn in_system(&self, system: System) -> Rc<dyn Workshop> {
        let mut shop = self.clone();
        shop.typed_in = system;
        Rc::new(shop)
    }
}

impl Workshop for PlannedShelves<Rc<dyn Workshop>> {
    fn names(&self, shelf: Shelf) -> Vec<String> {
        self.shop.names(shelf)
    }

    fn in_system(&self, system: System) -> Rc<dyn Workshop> {
        Rc::new(self.on(self.shop.in_system(system)))
    }
}

impl Shelves for Rc<dyn Workshop> {
    fn find(&self, shelf: Shelf, name: &str) -> Result<Option<Part>, EntryError> {
        (**self).find(shelf, name)
    }

    fn typed_in(&self) -> System {
        (**self).typed_in()
    }

    fn learnt(&self) -> Option<&Learnt> {
        (**self).learnt()
    }
}

/// Every name of a shelf that can be typed: the workshop's first.
pub fn names(shop: &dyn Workshop, shelf: Shelf) -> Vec<String> {
    let mut names = shop.names(shelf);
    let Ok(tables) = tables() else {
        return names;
    };
    match shelf {
        Shelf::Cutters => names.extend(tables.cutters.iter().map(|c| c.value.name.clone())),
        Shelf::Stocks => names.extend(tables.materials.iter().map(|m| m.name.clone())),
        Shelf::Machines => names.extend(tables.machines.iter().map(|m| m.value.name.clone())),
        Shelf::Holds => names.extend(tables.holds.iter().map(|h| h.name.clone())),
    }
    names
}

/// The full name of what is called by a part of its name.
pub fn full_name(shop: &dyn Workshop, shelf: Shelf, name: &str) -> Option<String> {
    if let Ok(Some(part)) = shop.find(shelf, name) {
        return Some(part.name);
    }
    let tables = tables().ok()?;
    match shelf {
        Shelf::Cutters => tables.cutter(name).ok().map(|c| c.value.name.clone()),
        Shelf::Stocks => tables.material(name).ok().map(|m| m.name.clone()),
        Shelf::Machines => tables.machine(name).ok().map(|m| m.value.name.clone()),
        Shelf::Holds => tables.hold(name).ok().map(|h| h.name.clone()),
    }
}

/// The name of the stock that is called so by a standard and whether there is one; else the names
/// of the nearest.
pub fn stocks(asked: &str) -> (bool, Vec<&'static str>) {
    let Ok(tables) = tables() else {
        return (false, Vec::new());
    };
    let named = |id: &str| tables.material(id).ok().map(|m| m.name.as_str());
    match tables.material(asked) {
        Ok(material) => (true, vec![&material.name]),
        Err(near) => {
            let near = near.offers.iter();
            (false, near.filter_map(|offer| named(&offer.take)).collect())
        }
    }
}

/// The conditions of a stock, as far as the tables know it.
pub fn conditions(stock: &str) -> Vec<String> {
    let material = tables().ok().and_then(|t| t.material(stock).ok());
    material.map_or_else(Vec::new, |m| {
        m.conditions.iter().map(|c| c.name.clone()).collect()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pass::part;

    #[test]
    fn every_name_offered_is_found_again() {
        let tables = tables().unwrap();
        for name in names(&TablesOnly, Shelf::Cutters) {
            assert_eq!(part::cutter(tables, &name).unwrap().name, name);
        }
        for name in names(&TablesOnly, Shelf::Machines) {
            assert_eq!(part::machine(tables, &name).unwrap().name, name);
        }
        for name in names(&TablesOnly, Shelf::Stocks) {
            let material = tables.material(&name).unwrap();
            assert_eq!(material.name, name);
            assert!(!conditions(&name).is_empty(), "{name}");
        }
    }
}
