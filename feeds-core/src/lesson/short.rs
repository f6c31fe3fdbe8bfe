//! Short lessons: one screen each, every number in them worked out when they are read.
//!
//! A text holds no digit of its own. `{slot.h_max}` stands for an entry or a result of the
//! calculation called `slot`, `{slot.h_max / side.h_max}` for the ratio of two results and
//! `{soft.F_c ~ hard.F_c}` for their mean.

mod bounds;
mod texts;

pub use crate::filled::Piece;
pub use texts::LESSONS;

use super::worked::{Entries, Worked, readable, work};
use crate::error::EntryError;
use crate::filled::parts;
use crate::notebook::Step;
use crate::quantity::amount::significant;
use crate::quantity::{Amount, inch, unit};
use crate::symbol::System;

/// A calculation of a lesson.
#[derive(Debug)]
pub struct LessonExample {
    /// What the text calls it.
    pub id: &'static str,
    /// The recipe, or the formula.
    pub calculation: &'static str,
    /// Its entries.
    pub entries: &'static [(&'static str, &'static str)],
}

/// Rows of [`LessonExample`]s: what the text calls it, the calculation and its entries.
macro_rules! examples {
    ($($id:literal = $calculation:literal($($key:literal: $text:expr),*);)+) => {
        &[$($crate::lesson::short::LessonExample {
            id: $id,
            calculation: $calculation,
            entries: &[$(($key, $text)),*],
        }),+]
    };
}
use examples;

/// A short lesson.
#[derive(Debug)]
pub struct Lesson {
    /// Its name, as typed.
    pub name: &'static str,
    /// Its title.
    pub title: &'static str,
    /// What is worked out for it.
    pub examples: &'static [LessonExample],
    /// Its paragraphs, with `{...}` for every number.
    pub text: &'static [&'static str],
}

/// A lesson with its numbers.
#[derive(Clone, Debug)]
pub struct Told {
    /// Its paragraphs.
    pub paragraphs: Vec<Vec<Piece<'static>>>,
    /// The steps that gave the numbers.
    pub steps: Vec<Step>,
}

/// The lesson of that name.
///
/// # Example
/// ```
/// use feeds_core::lesson::short::{LESSONS, lesson};
/// use feeds_core::symbol::System;
/// assert_eq!(LESSONS.len(), 10);
/// let told = lesson("thinning").unwrap().told(System::Metric).unwrap();
/// assert!(!told.paragraphs.is_empty());
/// ```
pub fn lesson(name: &str) -> Option<&'static Lesson> {
    LESSONS.iter().find(|l| l.name == name)
}

impl Lesson {
    /// The lesson with its numbers, as a shop in that system has them.
    ///
    /// # Errors
    /// When a calculation fails or the text names what is not there; tests hold that none does.
    pub fn told(&self, system: System) -> Result<Told, EntryError> {
        let mut worked = Vec::new();
        for example in self.examples {
            let typed = |key: &str, text: &str| match system {
                System::Metric => text.to_owned(),
                // A width that is the diameter stays it.
                System::Inch if example.entries.contains(&("D", text)) => inch::rounded("D", text),
                // What has no unit of its own may hold several, as sections do.
                System::Inch => match inch::rounded(key, text) {
                    same if same == text => inch::text(text),
                    turned => turned,
                },
            };
            let entries = example.entries.iter();
            let entries: Entries = entries
                .map(|(key, text)| (*key, typed(key, text)))
                .collect();
            let worked_out = work(example.calculation, &entries)?;
            worked.push(Calculation {
                id: example.id,
                entries,
                worked: worked_out,
            });
        }
        let paragraphs = self
            .text
            .iter()
            .map(|paragraph| parts(paragraph, &|name| shown(name, &worked, system)))
            .collect::<Result<_, _>>()?;
        let steps = worked.into_iter().flat_map(|c| c.worked.steps).collect();
        Ok(Told { paragraphs, steps })
    }
}

/// A calculation that is done.
struct Calculation {
    id: &'static str,
    entries: Entries,
    worked: Worked,
}

/// An entry as typed, a result, a ratio or a mean of two results.
fn shown(name: &str, worked: &[Calculation], system: System) -> Option<String> {
    if let Some((above, below)) = name.split_once(" / ") {
        let (above, below) = (result(above, worked)?, result(below, worked)?);
        return Some(significant_of(above.si / below.si));
    }
    if let Some((one, other)) = name.split_once(" ~ ") {
        let (mut one, other) = (result(one, worked)?, result(other, worked)?);
        one.si = f64::midpoint(one.si, other.si);
        return Some(rounded(one, system));
    }
    if let Some(amount) = result(name, worked) {
        return Some(rounded(amount, system));
    }
    let (id, key) = name.split_once('.')?;
    let calculation = worked.iter().find(|c| c.id == id)?;
    let entry = calculation.entries.iter().find(|(k, _)| *k == key);
    entry.map(|(_, text)| text.clone())
}

fn result(name: &str, worked: &[Calculation]) -> Option<Amount> {
    let (id, key) = name.split_once('.')?;
    worked.iter().find(|c| c.id == id)?.worked.result(key)
}

/// Three figures: a lesson is no table.
fn rounded(amount: Amount, system: System) -> String {
    let amount = match system {
        System::Metric => readable(amount),
        System::Inch => inch::readable(amount),
    };
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
