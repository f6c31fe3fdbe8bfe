//! Kinds of exercise as data: what is drawn, what is worked out, which slips are known.

use super::case::{Case, Draws};
use super::slip::Slip;
use super::worked::{Worked, readable};
use super::{AskedFor, Exercise, Question};
use crate::kernel::seed::Seed;
use crate::symbol::System;

/// The highest level.
pub const LEVELS: u8 = 7;

/// A kind of exercise.
#[derive(Debug)]
pub struct ExerciseKind {
    /// Its name.
    pub name: &'static str,
    /// Its level, 1 to [`LEVELS`].
    pub level: u8,
    /// What is said with the answer.
    pub moral: &'static str,
    pub(super) asks: Asks,
}

/// How an exercise is made.
pub(super) enum Asks {
    /// From a calculation.
    Worked(Sum),
    /// By a rule of its own.
    Own(fn(&'static ExerciseKind, &mut Seed, System) -> Option<Exercise>),
}

impl std::fmt::Debug for Asks {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::Worked(sum) => sum.calculation,
            Self::Own(_) => "own",
        })
    }
}

/// A slip, and what it makes of the numbers.
pub(super) type Known = (&'static Slip, fn(&Case) -> Option<f64>);

/// Questions over a recipe or a formula.
pub(super) struct Sum {
    /// The recipe, or the formula.
    pub(super) calculation: &'static str,
    /// The key of the result that is asked for.
    pub(super) wants: &'static str,
    /// Draws the numbers.
    pub(super) draw: fn(&mut Draws<'_>),
    /// Asked first: which way it goes; one at most.
    pub(super) directions: &'static [Direction],
    /// Asked for the number, with `{key}` for the entries; empty asks for none.
    pub(super) number: &'static str,
    /// The tolerance, as a share.
    pub(super) within: f64,
    /// The slips that are known.
    pub(super) slips: &'static [Known],
}

/// A question which way something goes.
pub(super) struct Direction {
    /// The question, with `{key}` for the entries.
    pub(super) text: &'static str,
    /// The words for more, less and the same.
    pub(super) words: [&'static str; 3],
    /// What it is compared with.
    pub(super) before: fn(&Case) -> Case,
}

/// Rows of [`ExerciseKind`]s, each: name, level and moral; calculation, result and what is drawn;
/// `way`, a question which way it goes; `number`, the question for it with its tolerance; the
/// slips.
macro_rules! questions {
    ($(
        $name:literal, $level:literal, $moral:literal;
        $calculation:literal => $wants:literal, |$d:ident| $draw:expr;
        $(way $text:literal, $words:expr, $before:expr;)?
        $(number $number:literal, $within:literal;)?
        slips $slips:expr;
    )+) => {
        pub(super) static KINDS: &[$crate::lesson::kind::ExerciseKind] = &[$(
            $crate::lesson::kind::ExerciseKind {
                name: $name,
                level: $level,
                moral: $moral,
                asks: $crate::lesson::kind::Asks::Worked($crate::lesson::kind::Sum {
                    calculation: $calculation,
                    wants: $wants,
                    draw: |$d| {
                        $draw;
                    },
                    directions: &[$($crate::lesson::kind::Direction {
                        text: $text,
                        words: $words,
                        before: $before,
                    })?],
                    number: concat!($($number)?),
                    within: 0.0 $(+ $within)?,
                    slips: $slips,
                }),
            },
        )+];
    };
}
pub(super) use questions;

/// Values closer than this share are the same to a learner.
const SAME: f64 = 1e-6;

impl ExerciseKind {
    /// Draws numbers; `None` if they do not do.
    pub(super) fn drawn(&'static self, seed: &mut Seed, system: System) -> Option<Exercise> {
        let sum = match &self.asks {
            Asks::Own(rule) => return rule(self, seed, system),
            Asks::Worked(sum) => sum,
        };
        let mut draws = Draws {
            seed,
            system,
            entries: Vec::new(),
        };
        (sum.draw)(&mut draws);
        let case = Case {
            calculation: sum.calculation,
            wants: sum.wants,
            system,
            entries: draws.entries,
        };
        let worked = case.worked()?;
        let mut questions = Vec::new();
        for direction in sum.directions {
            questions.push(direction.question(&case)?);
        }
        if !sum.number.is_empty() {
            questions.push(sum.question(&case, &worked)?);
        }
        Some(Exercise {
            kind: self,
            questions,
            working: worked.steps,
            told: Vec::new(),
            moral: self.moral,
        })
    }
}

impl Sum {
    fn question(&self, case: &Case, worked: &Worked) -> Option<Question> {
        let slips: Vec<(&'static Slip, f64)> = self
            .slips
            .iter()
            .map(|(slip, wrong)| Some((*slip, wrong(case)?)))
            .collect::<Option<_>>()?;
        let right = readable(case.system.shown(worked.result(self.wants)?));
        told_apart(right.si, self.within, &slips).then_some(Question {
            text: case.told(self.number)?,
            wanted: AskedFor::Number {
                right,
                within: self.within,
                slips,
            },
        })
    }
}

/// Whether the right answer and every slip are so far apart that no answer is near two of them.
pub(super) fn told_apart(right: f64, within: f64, slips: &[(&'static Slip, f64)]) -> bool {
    let mut values: Vec<f64> = slips.iter().map(|(_, v)| *v).collect();
    values.push(right);
    values.iter().all(|v| v.is_finite() && *v > 0.0)
        && values.iter().enumerate().all(|(i, a)| {
            values[..i].iter().all(|b| {
                let (less, more) = (a.min(*b), a.max(*b));
                // Rounding of what is typed takes its part of the room.
                less * (1.0 + within) * 1.002 < more * (1.0 - within)
            })
        })
}

impl Direction {
    fn question(&self, case: &Case) -> Option<Question> {
        let (before, after) = ((self.before)(case).value()?, case.value()?);
        let right = if (after - before).abs() <= SAME * before.abs() {
            2
        } else {
            usize::from(after < before)
        };
        Some(Question {
            text: case.told(self.text)?,
            wanted: AskedFor::Word {
                choices: self.words.iter().map(|&w| w.to_owned()).collect(),
                right,
            },
        })
    }
}
