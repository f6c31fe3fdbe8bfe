//! The short lessons, one at a time.

use super::effect::Effect;
use super::message::Action;
use super::practice;
use super::rows::Row;
use super::state::{ScreenState, View};
use super::update::moved;
use feeds_core::lesson::short::{LESSONS, Piece};
use feeds_core::symbol::System;

/// The lesson that is open.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Reading {
    /// Which of the lessons.
    pub at: usize,
    /// Whether the working of its numbers is shown.
    pub working: bool,
    /// The line that stands first, where not all have room.
    pub top: usize,
}

impl Reading {
    /// «lesson 2 of 8».
    pub fn place(self) -> String {
        format!("lesson {} of {}", self.at + 1, LESSONS.len())
    }

    /// The title.
    pub fn title(self) -> &'static str {
        LESSONS.get(self.at).map_or("", |lesson| lesson.title)
    }

    /// The paragraphs, every number worked out now; or the working of the numbers.
    pub fn rows(self, system: System) -> Vec<Row> {
        let lesson = LESSONS.get(self.at);
        let told = match lesson.map(|lesson| lesson.told(system)) {
            Some(Ok(told)) => told,
            Some(Err(error)) => return vec![Row::plain(0, error.to_string())],
            None => return Vec::new(),
        };
        if self.working {
            let steps = told.steps.iter().map(|step| step.text(system));
            return steps.flat_map(|text| Row::printed(&text)).collect();
        }
        let paragraphs = told.paragraphs.iter().map(|parts| {
            let texts = parts.iter().map(|part| match part {
                Piece::Words(words) => words,
                Piece::Amount(amount) => amount.as_str(),
            });
            Row::plain(0, texts.collect::<String>())
        });
        paragraphs
            .flat_map(|row| [Row::plain(0, ""), row])
            .collect()
    }
}

/// Opens the lesson that was read last.
pub(super) fn open(state: &mut ScreenState) {
    state.view = View::Lessons;
    state.lesson.top = 0;
}

/// What a key does here.
pub(super) fn act(state: &mut ScreenState, action: Action) -> Effect {
    let reading = &mut state.lesson;
    let at = match action {
        Action::Right => reading.at + 1,
        Action::Left => reading.at + LESSONS.len() - 1,
        Action::Working => {
            reading.working = !reading.working;
            reading.top = 0;
            return Effect::Draw;
        }
        Action::Practice => {
            practice::open(state);
            return Effect::Draw;
        }
        Action::Lessons | Action::GiveUp => {
            state.view = View::Walk;
            return Effect::Draw;
        }
        action => {
            let count = reading.rows(state.system).len();
            reading.top = moved(reading.top, count, action);
            return Effect::Draw;
        }
    };
    *reading = Reading {
        at: at % LESSONS.len(),
        ..Reading::default()
    };
    Effect::Draw
}
