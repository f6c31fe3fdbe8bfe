//! The answer to what is typed at this moment.

use super::shop::Workshop;
use crate::pass::answered::{Answered, answered};
use crate::pass::description::Description;
use crate::pass::field::{Field, Key, Shelf, Station, Takes, field};
use crate::pass::overrides::Overrides;
use crate::pass::part::{self, Part};
use crate::pass::resolve::Shelves;
use feeds_core::error::EntryError;
use feeds_core::plan::Planner;
use reference_tables::tables;
use std::rc::Rc;

/// Angles at which the force over a turn is drawn.
pub const ANGLES: usize = 240;

/// The answer, and what is wrong with the entries.
#[derive(Clone, Debug, Default)]
pub struct Live {
    /// The answer; the last good one while an entry is wrong.
    pub answer: Option<Answered>,
    /// What is wrong, each of its entry.
    pub errors: Vec<EntryError>,
    /// The named parts, as far as they are found.
    pub parts: Vec<Part>,
    /// Lateral force at even angles over a turn at the drawn moment, N.
    pub trace: Vec<f64>,
    planner: Planner,
    named: Vec<Option<String>>,
}

impl Live {
    /// Works out a pass; keeps the last good answer when it cannot be read.
    pub fn work_out(&mut self, pass: &Description, shop: &Rc<dyn Workshop>, moment: usize) {
        self.find_parts(pass, shop);
        match answered(pass, shop, &mut self.planner) {
            Ok(answer) => {
                self.errors.clear();
                self.trace = self.traced(&answer, moment);
                self.answer = Some(answer);
            }
            Err(mut errors) => {
                // Without its part an entry is missing too: only the name is worth saying.
                let unnamed: Vec<Station> = errors.iter().filter_map(of_name).collect();
                errors.retain(|e| !is_missing(e) || !unnamed.contains(&station(e)));
                self.errors = errors;
            }
        }
    }

    /// Works out how sure the answer is, if that is not known yet; whether it was done now. It
    /// takes longer than the answer, and waits until that is on the screen.
    pub fn work_out_how_sure(&mut self) -> bool {
        let Some(answer) = self.answer.take_if(|a| a.sure.is_none()) else {
            return false;
        };
        self.answer = Some(answer.surely(&self.planner));
        true
    }

    /// Forgets the answer, as when another pass is opened.
    pub fn forget(&mut self) {
        self.answer = None;
        self.trace.clear();
    }

    /// Forgets the named parts, as when the shop is another.
    pub fn forget_parts(&mut self) {
        self.named.clear();
    }

    /// What turning the overrides does to the answer.
    pub fn overrides(&self) -> Option<Overrides> {
        let answer = self.answer.as_ref()?;
        Overrides::of(answer, &self.planner)
    }

    /// Whether the answer is an earlier one.
    pub fn is_old(&self) -> bool {
        !self.errors.is_empty()
    }

    /// What is wrong with an entry.
    pub fn error(&self, field: &Field) -> Option<String> {
        let error = self.errors.iter().find(|e| is_of(e, field))?;
        Some(match error {
            EntryError::In { error, .. } => error.to_string(),
            error => error.to_string(),
        })
    }

    /// Whether an entry has an error, and it is that nothing is there.
    pub fn is_missing(&self, field: &Field) -> bool {
        let error = self.errors.iter().find(|e| is_of(e, field));
        error.is_some_and(is_missing)
    }

    fn traced(&self, answer: &Answered, moment: usize) -> Vec<f64> {
        let moments = &answer.plan.moments;
        let drawn = moments.get(moment).or(moments.first());
        let Some((model, (engaged, _))) = self.planner.model().zip(drawn) else {
            return Vec::new();
        };
        let setup = &answer.resolved.setup;
        model
            .trace(setup, engaged, answer.plan.f_z, ANGLES)
            .iter()
            .map(|[lateral, ..]| *lateral)
            .collect()
    }

    fn find_parts(&mut self, pass: &Description, shop: &Rc<dyn Workshop>) {
        const NAMED: [(Key, Shelf); 4] = [
            (Key::Cutter, Shelf::Cutters),
            (Key::Machine, Shelf::Machines),
            (Key::Hold, Shelf::Holds),
            (Key::Stock, Shelf::Stocks),
        ];
        let named: Vec<Option<String>> = NAMED
            .iter()
            .map(|(key, _)| pass.get(*key).map(str::to_owned))
            .collect();
        if named == self.named {
            return;
        }
        let found = |(at, (_, shelf)): (usize, &(Key, Shelf))| {
            let name = named[at].as_deref()?;
            match shop.find(*shelf, name) {
                Ok(part) => part.or_else(|| of_tables(*shelf, name)),
                Err(_) => None,
            }
        };
        self.parts = NAMED.iter().enumerate().filter_map(found).collect();
        self.named = named;
    }
}

fn of_tables(shelf: Shelf, name: &str) -> Option<Part> {
    let tables = tables().ok()?;
    match shelf {
        Shelf::Cutters => part::cutter(tables, name),
        Shelf::Machines => part::machine(tables, name),
        Shelf::Holds => part::hold(tables, name),
        Shelf::Stocks => return None,
    }
    .ok()
}

fn field_of(error: &EntryError) -> Option<&'static Field> {
    field(error.field()?)
}

fn station(error: &EntryError) -> Station {
    field_of(error).map_or(Station::Answer, |f| f.station)
}

/// The station of a name that was not found.
fn of_name(error: &EntryError) -> Option<Station> {
    let field = field_of(error)?;
    matches!(field.takes, Takes::Name(_)).then_some(field.station)
}

fn is_missing(error: &EntryError) -> bool {
    matches!(error, EntryError::In { error, .. } if matches!(**error, EntryError::Missing { .. }))
}

/// Whether an error belongs beside an entry: by its key, its name, or the name of its symbol.
fn is_of(error: &EntryError, field: &Field) -> bool {
    let Some(named) = error.field() else {
        return false;
    };
    named == field.key
        || named == field.name
        || field
            .symbol()
            .is_some_and(|s| named == s.name || error.also_of().contains(&s))
}
