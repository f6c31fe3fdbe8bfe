//! Practice on the screen: a question, an answer, its mark, the working, the next one.

use super::effect::Effect;
use super::line::EditLine;
use super::message::{Action, Message};
use super::rows::Row;
use super::state::{ScreenState, View};
use super::update::moved;
use super::words;
use crate::practice::progress::Progress;
use crate::practice::{Drawn, marked};
use feeds_core::error::EntryError;
use feeds_core::lesson::{AskedFor, Exercise, LEVELS, Mark, Question};
use feeds_core::symbol::System;

/// So many exercises are drawn together: two of each level where they rise.
const SERIES: usize = 2 * LEVELS as usize;

/// The practice: what was asked and answered, and the record.
#[derive(Clone, Debug, Default)]
pub struct Practice {
    /// The record, which is kept from time to time.
    pub progress: Progress,
    /// The level; all of them, rising, without one.
    pub level: Option<u8>,
    /// The answer while it is typed.
    pub line: EditLine,
    /// Whether the record is shown instead of the question.
    pub record: bool,
    /// The row that stands first, where not all have room.
    pub top: usize,
    series: Vec<Exercise>,
    /// The seed the series was drawn with, and what its numbers are round in.
    seed: u64,
    system: System,
    at: usize,
    /// The question of the exercise that is open; beyond the last one all are answered.
    question: usize,
    /// Whether nothing was answered yet: only first answers are kept.
    first: bool,
    /// What was typed last and said, question by question.
    said: Vec<(String, String)>,
    error: Option<EntryError>,
}

impl Practice {
    /// The open exercise.
    pub fn exercise(&self) -> Option<&Exercise> {
        self.series.get(self.at)
    }

    /// The question that waits for an answer.
    pub fn asked(&self) -> Option<&Question> {
        self.exercise()?.questions.get(self.question)
    }

    /// What is practised: level and kind.
    pub fn title(&self) -> String {
        let kind = self.exercise().map(|e| e.kind);
        let name = kind.map_or("", |k| k.name);
        let level = kind.map_or(0, |k| k.level);
        let rising = if self.level.is_none() {
            words::RISING
        } else {
            ""
        };
        format!(
            "{}: {name}, level {level} of {LEVELS}{rising}",
            words::PRACTICE
        )
    }

    /// First answers that were right, of all.
    pub fn score(&self) -> String {
        let tallies = self.progress.kinds.values();
        let (asked, right) = tallies.fold((0, 0), |(a, r), t| (a + t.asked, r + t.right));
        format!("{right} of {asked} right at once")
    }

    /// The questions so far with what was answered, and the working after the last one.
    pub fn rows(&self, system: System) -> Vec<Row> {
        if self.record {
            return Row::printed(&self.progress.text());
        }
        if let Some(error) = &self.error {
            return vec![Row::plain(0, error.to_string())];
        }
        let Some(exercise) = self.exercise() else {
            return Vec::new();
        };
        let mut rows = Vec::new();
        for (at, question) in exercise
            .questions
            .iter()
            .enumerate()
            .take(self.question + 1)
        {
            rows.push(Row::plain(0, ""));
            rows.extend(Row::printed(&question.text));
            rows.push(Row::plain(2, format!("({})", question.takes())));
            if let Some((typed, said)) = self.said.get(at) {
                if !typed.is_empty() {
                    rows.push(Row::plain(0, format!("> {typed}")));
                }
                rows.push(Row::heading(said.clone()));
            }
        }
        if self.asked().is_none() {
            rows.push(Row::plain(0, ""));
            rows.extend(Row::printed(&marked::working(exercise, system)));
        }
        rows
    }

    /// Draws the next series.
    fn draw(&mut self) {
        self.seed = self.progress.exercises + 1;
        self.draw_again();
        self.at = 0;
        self.begin();
    }

    /// Draws the series of its seed.
    fn draw_again(&mut self) {
        let drawn = Drawn {
            seed: self.seed,
            level: self.level,
            count: SERIES,
            system: self.system,
        };
        match drawn.exercises() {
            Ok(series) => (self.series, self.error) = (series, None),
            Err(error) => (self.series, self.error) = (Vec::new(), Some(error)),
        }
    }

    /// Asks with numbers of this system from now on; what was answered stays as it was asked.
    pub(super) fn ask_in(&mut self, system: System) {
        if self.system == system {
            return;
        }
        self.system = system;
        if self.series.is_empty() {
            return;
        }
        let begun = self.exercise().filter(|_| !self.said.is_empty()).cloned();
        self.draw_again();
        if let (Some(begun), Some(place)) = (begun, self.series.get_mut(self.at)) {
            *place = begun;
        }
    }

    /// Begins the open exercise.
    fn begin(&mut self) {
        self.question = 0;
        self.first = true;
        self.said.clear();
        self.line.wipe();
        self.progress.exercises += 1;
        self.top = 0;
    }

    fn next(&mut self) {
        if self.at + 1 < self.series.len() {
            self.at += 1;
            self.begin();
        } else {
            self.draw();
        }
    }

    /// Marks what was typed; an empty line gives the question up.
    fn answer(&mut self) {
        let Some(exercise) = self.series.get(self.at) else {
            return;
        };
        let Some(question) = exercise.questions.get(self.question) else {
            self.next();
            return;
        };
        let typed = completed(question, self.line.text().trim());
        let kind = exercise.kind.name;
        let (mark, said) = if typed.is_empty() {
            let said = format!("{} {}.", words::IT_IS, question.answer());
            (Some(Mark::NotRecognised), said)
        } else {
            match question.mark(&typed) {
                Ok(mark) => (Some(mark), marked::words(question, mark)),
                Err(error) => (None, format!("{}: {error}.", words::UNREADABLE)),
            }
        };
        let done = typed.is_empty() || mark == Some(Mark::Right);
        if let (Some(mark), true) = (mark, self.first) {
            self.progress.keep(kind, mark);
            self.first = false;
        }
        self.said.truncate(self.question);
        self.said.push((typed, said));
        if mark.is_some() {
            self.line.wipe();
        } else {
            self.line.select();
        }
        if done {
            self.question += 1;
            self.first = true;
        }
    }

    /// Puts the next or previous word of a choice into the line.
    fn choose(&mut self, back: bool) {
        let Some(AskedFor::Word { choices, .. }) = self.asked().map(|q| &q.wanted) else {
            return;
        };
        let at = choices.iter().position(|c| c == self.line.text());
        let next = match (at, back) {
            (None, false) => 0,
            (None, true) => choices.len() - 1,
            (Some(at), false) => (at + 1) % choices.len(),
            (Some(at), true) => (at + choices.len() - 1) % choices.len(),
        };
        self.line = EditLine::of(&choices[next]);
    }
}

/// A word of which enough was typed to know it; everything else as it stands.
fn completed(question: &Question, typed: &str) -> String {
    let AskedFor::Word { choices, .. } = &question.wanted else {
        return typed.to_owned();
    };
    let begins = |c: &&String| {
        c.get(..typed.len())
            .is_some_and(|start| start.eq_ignore_ascii_case(typed))
    };
    let mut found = choices.iter().filter(begins);
    match (found.next(), found.next()) {
        (Some(word), None) if !typed.is_empty() => word.clone(),
        _ => typed.to_owned(),
    }
}

/// Opens the practice where it was left.
pub(super) fn open(state: &mut ScreenState) {
    state.view = View::Practice;
    state.practice.record = false;
    state.practice.ask_in(state.system);
    if state.practice.series.is_empty() {
        state.practice.draw();
    }
}

/// Takes a message while the practice is open.
pub(super) fn take(state: &mut ScreenState, message: &Message) -> Effect {
    let practice = &mut state.practice;
    match message {
        Message::Act(Action::GiveUp) => {
            if practice.record {
                practice.record = false;
            } else {
                state.view = View::Walk;
            }
        }
        Message::Act(Action::Commit) if practice.record => practice.record = false,
        Message::Act(Action::Commit) => {
            practice.answer();
            let rows = practice.rows(state.system);
            // What was said last stands in sight, with what follows below it.
            let said = rows.iter().rposition(|r| r.heading).unwrap_or(0);
            state.practice.top = if state.practice.asked().is_some() {
                rows.len()
            } else {
                said.saturating_sub(1)
            };
            return Effect::Practised;
        }
        Message::Act(Action::Record) => practice.record = !practice.record,
        Message::Act(Action::Level) => {
            practice.level = match practice.level {
                None => Some(1),
                Some(LEVELS) => None,
                Some(level) => Some(level + 1),
            };
            // The one that was begun and not answered does not count.
            practice.progress.exercises = practice.progress.exercises.saturating_sub(1);
            practice.draw();
        }
        Message::Act(action @ (Action::PageUp | Action::PageDown)) => {
            let count = practice.rows(state.system).len();
            practice.top = moved(practice.top.min(count), count, *action);
        }
        Message::Act(Action::Up) => practice.choose(true),
        Message::Act(Action::Down) => practice.choose(false),
        message => practice.line.edit(message),
    }
    Effect::Draw
}
