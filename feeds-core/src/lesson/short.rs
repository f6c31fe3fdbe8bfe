//! Short lessons: one screen each, every number in them worked out when they are read.
//!
//! A text holds no digit of its own. `{slot.h_max}` stands for an entry or a result of the
//! calculation called `slot`, `{slot.h_max / side.h_max}` for the ratio of two results and
//! `{soft.F_c ~ hard.F_c}` for their mean.

mod texts;

pub use crate::filled::Part;
pub use texts::LESSONS;

use super::worked::{Worked, readable, work};
use crate::error::EntryError;
use crate::filled::parts;
use crate::notebook::Step;
use crate::quantity::amount::significant;
use crate::quantity::{Amount, unit};
use crate::symbol::System;

/// A calculation of a lesson.
#[derive(Debug)]
pub struct Example {
    /// What the text calls it.
    pub id: &'static str,
    /// The recipe, or the formula.
    pub calculation: &'static str,
    /// Its entries: the key, what a metric shop types, what an inch shop types.
    pub entries: &'static [(&'static str, &'static str, &'static str)],
}

impl Example {
    /// Its entries as a shop of that system types them.
    fn entries_in(&self, system: System) -> impl Iterator<Item = (&'static str, &'static str)> {
        let text = move |metric, inch| match system {
            System::Metric => metric,
            System::Inch => inch,
        };
        let all = self.entries.iter();
        all.map(move |(key, metric, inch)| (*key, text(*metric, *inch)))
    }
}

/// A short lesson.
#[derive(Debug)]
pub struct Lesson {
    /// Its name, as typed.
    pub name: &'static str,
    /// Its title.
    pub title: &'static str,
    /// What is worked out for it.
    pub examples: &'static [Example],
    /// Its paragraphs, with `{...}` for every number.
    pub text: &'static [&'static str],
}

/// A lesson with its numbers.
#[derive(Clone, Debug)]
pub struct Told {
    /// Its paragraphs.
    pub paragraphs: Vec<Vec<Part<'static>>>,
    /// The steps that gave the numbers.
    pub steps: Vec<Step>,
}

/// The lesson of that name.
///
/// # Example
/// ```
/// use feeds_core::lesson::short::{LESSONS, lesson};
/// use feeds_core::symbol::System;
/// assert_eq!(LESSONS.len(), 8);
/// let told = lesson("thinning").unwrap().told(System::Inch).unwrap();
/// assert!(!told.paragraphs.is_empty());
/// ```
pub fn lesson(name: &str) -> Option<&'static Lesson> {
    LESSONS.iter().find(|l| l.name == name)
}

impl Lesson {
    /// The lesson with its numbers, as a shop of that system reads them.
    ///
    /// # Errors
    /// When a calculation fails or the text names what is not there; tests hold that none does.
    pub fn told(&self, system: System) -> Result<Told, EntryError> {
        let mut examples = Vec::new();
        for example in self.examples {
            let entries = example.entries_in(system);
            let entries = entries.map(|(key, text)| (key, text.to_owned()));
            let worked = work(example.calculation, &entries.collect())?;
            examples.push((example, worked));
        }
        let shown = Shown { examples, system };
        let paragraphs = self
            .text
            .iter()
            .map(|paragraph| parts(paragraph, &|name| shown.text(name)))
            .collect::<Result<_, _>>()?;
        let steps = shown.examples.into_iter().flat_map(|(_, w)| w.steps);
        Ok(Told {
            paragraphs,
            steps: steps.collect(),
        })
    }
}

/// What a lesson's names stand for.
struct Shown {
    examples: Vec<(&'static Example, Worked)>,
    system: System,
}

impl Shown {
    /// An entry as typed, a result, a ratio or a mean of two results.
    fn text(&self, name: &str) -> Option<String> {
        if let Some((above, below)) = name.split_once(" / ") {
            let (above, below) = (self.result(above)?, self.result(below)?);
            return Some(significant_of(above.si / below.si));
        }
        if let Some((one, other)) = name.split_once(" ~ ") {
            let (mut one, other) = (self.result(one)?, self.result(other)?);
            one.si = f64::midpoint(one.si, other.si);
            return Some(rounded(one));
        }
        if let Some(amount) = self.result(name) {
            return Some(rounded(amount));
        }
        let (id, key) = name.split_once('.')?;
        let (example, _) = self.examples.iter().find(|(e, _)| e.id == id)?;
        let mut entries = example.entries_in(self.system);
        entries.find(|(k, _)| *k == key).map(|(_, t)| t.to_owned())
    }

    fn result(&self, name: &str) -> Option<Amount> {
        let (id, key) = name.split_once('.')?;
        let (_, worked) = self.examples.iter().find(|(e, _)| e.id == id)?;
        let amount = worked.result(key)?;
        Some(readable(self.system.shown(amount)))
    }
}

/// Three figures: a lesson is no table.
fn rounded(amount: Amount) -> String {
    let amount = readable(amount);
    let number = significant_of(amount.number());
    match amount.unit {
        u if u == &unit::ONE => number,
        u => format!("{number} {}", u.text),
    }
}

fn significant_of(number: f64) -> String {
    if number == 0.0 || !number.is_finite() {
        return significant(number);
    }
    let step = 10.0_f64.powf(number.abs().log10().floor() - 2.0);
    significant((number / step).round() * step)
}
