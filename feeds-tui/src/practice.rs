//! Practice: questions asked, marked, printed; progress kept.

pub mod marked;
pub mod progress;
pub mod sheet;
pub mod talk;

use crate::pass::text::line;
use feeds_core::error::EntryError;
use feeds_core::lesson::{AskedFor, Exercise, Question};
use feeds_core::quantity::amount::significant;
use feeds_core::quantity::{Amount, unit};
use feeds_core::symbol::System;

/// What is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Drawn {
    /// The seed: the same one draws the same exercises.
    pub seed: u64,
    /// The level, or none for all of them, rising.
    pub level: Option<u8>,
    /// How many exercises.
    pub count: usize,
    /// What their numbers are round in.
    pub system: System,
}

impl Drawn {
    /// The exercises.
    ///
    /// # Errors
    /// If one of them cannot be drawn with this seed.
    pub fn exercises(self) -> Result<Vec<Exercise>, EntryError> {
        feeds_core::lesson::practice(self.seed, self.level, self.count, self.system)
    }
}

/// A text of several lines, each wrapped behind a head as wide as the first one's.
pub fn lines(out: &mut String, head: &str, text: &str) {
    let indent = " ".repeat(head.chars().count());
    let mut head = head;
    for part in text.lines() {
        let listed = part.len() - part.trim_start().len();
        line(
            out,
            &format!("{head}{}", " ".repeat(listed)),
            part.trim_start(),
        );
        head = &indent;
    }
}

/// An amount as a learner would write it.
pub fn written(amount: Amount) -> String {
    match amount.unit {
        u if u == &unit::ONE => significant(amount.number()),
        _ => amount.to_string(),
    }
}

/// What a wrong answer by this slip would have been, for a question that asks for a number.
pub fn of_slip(question: &Question, name: &str) -> Option<String> {
    match &question.wanted {
        AskedFor::Number { right, slips, .. } => slips
            .iter()
            .find(|(slip, _)| slip.name == name)
            .map(|(_, si)| written(Amount::of(*si, right.unit))),
        AskedFor::Word { .. } => None,
    }
}
