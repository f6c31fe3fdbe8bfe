//! Practice: questions made from formulas and checks, marked, and wrong answers told by the slip
//! that produces them.
//!
//! An [`Exercise`] is drawn from an [`ExerciseKind`] and a seed: a direction is asked before a
//! number. The numbers are such that no two slips, and no slip and the right answer, come to the
//! same.

mod case;
mod kind;
mod kinds;
pub mod short;
mod slip;
mod worked;

pub use kind::{ExerciseKind, LEVELS};
pub use slip::Slip;

use crate::error::{Cause, EntryError};
use crate::kernel::seed::Seed;
use crate::notebook::Step;
use crate::quantity::amount::significant;
use crate::quantity::read::read_si;
use crate::quantity::{Amount, Dimension, unit};
use crate::symbol::System;

/// What is asked for.
#[derive(Clone, Debug)]
pub enum AskedFor {
    /// A quantity with its unit, right within a share of it.
    Number {
        /// The right answer.
        right: Amount,
        /// The tolerance, as a share.
        within: f64,
        /// What known slips come to, in SI base units.
        slips: Vec<(&'static Slip, f64)>,
    },
    /// One of some words.
    Word {
        /// The words.
        choices: Vec<String>,
        /// The right one.
        right: usize,
    },
}

/// One question.
#[derive(Clone, Debug)]
pub struct Question {
    /// The question, with its numbers.
    pub text: String,
    /// What is asked for.
    pub wanted: AskedFor,
}

/// How an answer is marked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Mark {
    /// Right, within the tolerance.
    Right,
    /// Wrong, by a slip that is known.
    Slip(&'static Slip),
    /// Wrong, and by no slip that is known.
    NotRecognised,
}

impl Question {
    /// Marks an answer as typed: a quantity with its unit, or one of the words.
    ///
    /// # Errors
    /// When it cannot be read as what is asked for: that is no wrong answer yet.
    ///
    /// # Example
    /// ```
    /// use feeds_core::lesson::{Mark, exercise, kind};
    /// use feeds_core::symbol::System;
    /// let exercise = exercise(kind("chip-load").unwrap(), 1, System::Metric).unwrap();
    /// let question = &exercise.questions[0];
    /// assert_eq!(question.mark(&question.answer()).unwrap(), Mark::Right);
    /// assert!(question.mark("0.02").unwrap_err().to_string().contains("no unit"));
    /// ```
    pub fn mark(&self, typed: &str) -> Result<Mark, EntryError> {
        match &self.wanted {
            AskedFor::Word { choices, right } => {
                let typed = typed.trim();
                let hit = choices.iter().position(|c| c.eq_ignore_ascii_case(typed));
                match hit {
                    Some(hit) if hit == *right => Ok(Mark::Right),
                    Some(_) => Ok(Mark::NotRecognised),
                    None => Err(EntryError::NotAChoice {
                        text: typed.to_owned(),
                        choices: choices.join(", "),
                    }),
                }
            }
            AskedFor::Number {
                right,
                within,
                slips,
            } => {
                let si = read_si(typed, right.unit.dimension)?;
                let near = |value: f64| (si - value).abs() <= within * value.abs();
                if near(right.si) {
                    return Ok(Mark::Right);
                }
                // Between the systems a number goes astray in every question of a length.
                let of_length =
                    [Dimension::Length, Dimension::Speed].contains(&right.unit.dimension);
                let inch = unit::INCH.size / unit::MILLIMETRE.size;
                let carried = [right.si * inch, right.si / inch].map(|si| (&slip::INCH_FOR_MM, si));
                let carried = carried.iter().filter(|_| of_length);
                let known = slips.iter().map(|(slip, value)| (*slip, *value));
                let mut known = known.chain(carried.map(|(slip, value)| (*slip, *value)));
                let hit = known.find(|(_, value)| near(*value));
                Ok(hit.map_or(Mark::NotRecognised, |(slip, _)| Mark::Slip(slip)))
            }
        }
    }

    /// The right answer.
    pub fn answer(&self) -> String {
        match &self.wanted {
            AskedFor::Number { right, .. } => right.to_string(),
            AskedFor::Word { choices, right } => choices.get(*right).cloned().unwrap_or_default(),
        }
    }

    /// What may be typed: the words, or the tolerance.
    pub fn takes(&self) -> String {
        match &self.wanted {
            AskedFor::Word { choices, .. } => format!("one of: {}", choices.join(", ")),
            AskedFor::Number { right, within, .. } => {
                let unit = match right.unit.text {
                    "" => "a plain number".to_owned(),
                    unit => format!("with its unit, such as {unit}"),
                };
                format!("{unit}; right within {} %", significant(100.0 * within))
            }
        }
    }
}

/// One or two questions over the same numbers, and the working of the answer.
#[derive(Clone, Debug)]
pub struct Exercise {
    /// What it practises.
    pub kind: &'static ExerciseKind,
    /// The questions, in the order they are asked.
    pub questions: Vec<Question>,
    /// The working, step by step.
    pub working: Vec<Step>,
    /// What is told beside it, a line each.
    pub told: Vec<String>,
    /// A sentence that goes with the answer.
    pub moral: &'static str,
}

/// Every kind of exercise, by rising level.
pub fn kinds() -> impl Iterator<Item = &'static ExerciseKind> {
    let all = kinds::all();
    (1..=LEVELS).flat_map(move |level| all.clone().filter(move |k| k.level == level))
}

/// The kind of that name.
pub fn kind(name: &str) -> Option<&'static ExerciseKind> {
    kinds().find(|k| k.name == name)
}

/// Draws one exercise, its numbers round in `system`. The same seed draws the same one.
///
/// # Errors
/// If no numbers were found on which all slips can be told apart; tests hold that this does not
/// happen.
pub fn exercise(
    kind: &'static ExerciseKind,
    seed: u64,
    system: System,
) -> Result<Exercise, EntryError> {
    drawn(kind, seed, system).ok_or_else(|| not_drawn(kind, seed))
}

fn drawn(kind: &'static ExerciseKind, seed: u64, system: System) -> Option<Exercise> {
    // FNV-1a over the name (G. Fowler, L. C. Noll, P. Vo): kinds of one seed do not go in step.
    let name = kind
        .name
        .bytes()
        .fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
            (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
        });
    let mut seed = Seed::new(seed ^ name);
    (0..TRIES).find_map(|_| kind.drawn(&mut seed, system))
}

fn not_drawn(kind: &ExerciseKind, seed: u64) -> EntryError {
    EntryError::because(
        Cause::NoResult,
        format!(
            "{seed} finds no numbers for «{}» on which every slip is told apart: take another seed",
            kind.name
        ),
    )
    .of("seed")
}

/// How often numbers are drawn anew before an exercise is given up.
const TRIES: usize = 500;

/// Draws `count` exercises: of one level, or rising through all of them.
///
/// # Errors
/// If one of them cannot be drawn, as [`exercise`]: none is left out.
///
/// # Example
/// ```
/// use feeds_core::lesson::practice;
/// use feeds_core::symbol::System;
/// let drawn = practice(7, None, 10, System::Metric).unwrap();
/// assert_eq!(drawn.len(), 10);
/// assert!(drawn.windows(2).all(|w| w[0].kind.level <= w[1].kind.level));
/// ```
pub fn practice(
    seed: u64,
    level: Option<u8>,
    count: usize,
    system: System,
) -> Result<Vec<Exercise>, EntryError> {
    let mut random = Seed::new(seed);
    let mut chosen: Vec<&'static ExerciseKind> = Vec::new();
    for place in 0..count {
        let level = level.unwrap_or_else(|| rising(place, count));
        let of_level: Vec<&'static ExerciseKind> = kinds().filter(|k| k.level == level).collect();
        let fresh: Vec<&'static ExerciseKind> = of_level
            .iter()
            .copied()
            .filter(|k| {
                let of = chosen.iter().filter(|c| c.level == level).count();
                !chosen[chosen.len() - of % of_level.len().max(1)..]
                    .iter()
                    .any(|c| c.name == k.name)
            })
            .collect();
        chosen.extend(case::pick(&mut random, &fresh).copied());
    }
    all_drawn(seed, &mut random, chosen, system)
}

/// One exercise of each kind, or an error that names the first that cannot be drawn.
fn all_drawn(
    seed: u64,
    random: &mut Seed,
    kinds: Vec<&'static ExerciseKind>,
    system: System,
) -> Result<Vec<Exercise>, EntryError> {
    kinds
        .into_iter()
        .map(|kind| drawn(kind, random.bits(), system).ok_or_else(|| not_drawn(kind, seed)))
        .collect()
}

/// The level of one of `count` exercises that rise through all levels.
fn rising(place: usize, count: usize) -> u8 {
    let level = place * usize::from(LEVELS) / count.max(1);
    u8::try_from(level).unwrap_or(LEVELS - 1) + 1
}

#[cfg(test)]
mod tests {
    use super::*;

    static NEVER: ExerciseKind = ExerciseKind {
        name: "never",
        level: 1,
        moral: "no numbers do",
        asks: kind::Asks::Own(|_, _, _| None),
    };

    #[test]
    fn what_cannot_be_drawn_is_an_error_and_no_gap() {
        let kinds = vec![kind("chip-load").unwrap(), &NEVER];
        let error = all_drawn(7, &mut Seed::new(7), kinds, System::Metric).unwrap_err();
        let said = error.to_string();
        assert!(
            said.contains("seed: 7") && said.contains("«never»"),
            "{said}"
        );
        assert!(exercise(&NEVER, 3, System::Metric).is_err());
    }
}
