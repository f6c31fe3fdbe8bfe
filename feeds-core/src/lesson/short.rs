//! Short lessons: one screen each, every number in them worked out when they are read.
//!
//! A text holds no digit of its own. `{slot.h_max}` stands for an entry or a result of the
//! calculation called `slot`, `{slot.h_max / side.h_max}` for the ratio of two results and
//! `{soft.F_c ~ hard.F_c}` for their mean.

mod bounds;
mod texts;

pub use crate::filled::Part;
pub use texts::LESSONS;

use super::worked::{Worked, readable, work};
use crate::error::EntryError;
use crate::filled::parts;
use crate::notebook::Step;
use crate::quantity::amount::significant;
use crate::quantity::{Amount, unit};

/// A calculation of a lesson.
#[derive(Debug)]
pub struct Example {
    /// What the text calls it.
    pub id: &'static str,
    /// The recipe, or the formula.
    pub calculation: &'static str,
    /// Its entries.
    pub entries: &'static [(&'static str, &'static str)],
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
/// assert_eq!(LESSONS.len(), 10);
/// let told = lesson("thinning").unwrap().told().unwrap();
/// assert!(!told.paragraphs.is_empty());
/// ```
pub fn lesson(name: &str) -> Option<&'static Lesson> {
    LESSONS.iter().find(|l| l.name == name)
}

impl Lesson {
    /// The lesson with its numbers.
    ///
    /// # Errors
    /// When a calculation fails or the text names what is not there; tests hold that none does.
    pub fn told(&self) -> Result<Told, EntryError> {
        let mut worked = Vec::new();
        for example in self.examples {
            let entries = example
                .entries
                .iter()
                .map(|(key, text)| (*key, (*text).to_owned()));
            worked.push((example, work(example.calculation, &entries.collect())?));
        }
        let paragraphs = self
            .text
            .iter()
            .map(|paragraph| parts(paragraph, &|name| shown(name, &worked)))
            .collect::<Result<_, _>>()?;
        let steps = worked.into_iter().flat_map(|(_, w)| w.steps).collect();
        Ok(Told { paragraphs, steps })
    }
}

type Examples<'a> = [(&'a Example, Worked)];

/// An entry as typed, a result, a ratio or a mean of two results.
fn shown(name: &str, worked: &Examples<'_>) -> Option<String> {
    if let Some((above, below)) = name.split_once(" / ") {
        let (above, below) = (result(above, worked)?, result(below, worked)?);
        return Some(significant_of(above.si / below.si));
    }
    if let Some((one, other)) = name.split_once(" ~ ") {
        let (mut one, other) = (result(one, worked)?, result(other, worked)?);
        one.si = f64::midpoint(one.si, other.si);
        return Some(rounded(one));
    }
    if let Some(amount) = result(name, worked) {
        return Some(rounded(amount));
    }
    let (id, key) = name.split_once('.')?;
    let (example, _) = worked.iter().find(|(e, _)| e.id == id)?;
    let (_, text) = example.entries.iter().find(|(k, _)| *k == key)?;
    Some((*text).to_owned())
}

fn result(name: &str, worked: &Examples<'_>) -> Option<Amount> {
    let (id, key) = name.split_once('.')?;
    let (_, worked) = worked.iter().find(|(e, _)| e.id == id)?;
    worked.result(key)
}

/// Three figures: a lesson is no table.
fn rounded(amount: Amount) -> String {
    let amount = readable(amount);
    let number = significant_of(amount.number());
    match amount.unit {
        u if u == &unit::ONE => number,
        u if u == &unit::PER_MINUTE => format!("{number} {}", unit::RPM.text),
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
