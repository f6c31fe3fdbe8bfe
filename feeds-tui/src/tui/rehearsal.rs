//! The rehearsal of the open pass on the screens: production beside a stand-in.

use super::ask::Purpose;
use super::message::Action;
use super::rows::Row;
use super::state::{ScreenState, View};
use super::words;
use crate::pass::description::Description;
use crate::pass::field::Key;
use crate::pass::text::Show;
use crate::rehearse::answered::rehearsed;
use crate::rehearse::asked::{Ask, RehearsalAsked};
use crate::rehearse::decision;
use crate::rehearse::text::text;
use feeds_core::symbol::System;
use feeds_core::verdict::Verdict;

/// What was asked of the rehearsal, and its lines.
#[derive(Clone, Debug, Default)]
pub struct Rehearsal {
    /// Entries of the rehearsal as typed, by key.
    texts: Vec<(Ask, String)>,
    /// The lines, and what they were worked out from.
    shown: Option<(RehearsalAsked, System)>,
    rows: Vec<Row>,
    /// The verdict of the rehearsal, and the line that says it.
    head: Option<(Verdict, String)>,
}

impl Rehearsal {
    /// The lines of the view.
    pub fn rows(&self) -> &[Row] {
        &self.rows
    }

    /// The verdict of the rehearsal that is shown, and the line that says it.
    pub fn head(&self) -> Option<&(Verdict, String)> {
        self.head.as_ref()
    }

    /// Forgets the lines, as when the shop is another.
    pub(super) fn forget(&mut self) {
        self.shown = None;
    }

    fn get(&self, ask: Ask) -> &str {
        let found = self.texts.iter().find(|(a, _)| *a == ask);
        found.map_or("", |(_, text)| text)
    }

    fn set(&mut self, ask: Ask, text: &str) {
        self.texts.retain(|(a, _)| *a != ask);
        if !text.is_empty() {
            self.texts.push((ask, text.to_owned()));
        }
    }

    /// What is asked of the rehearsal of a pass, at the intent its screens show.
    fn asked(&self, typed: &Description) -> RehearsalAsked {
        let mut production = typed.clone();
        if production.get(Key::Intent).is_none() {
            production = production.with(&[(Key::Intent, "cautious")]);
        }
        RehearsalAsked {
            production,
            texts: self.texts.clone(),
        }
    }
}

/// Takes an action of this view; false when it is not one.
pub(super) fn act(state: &mut ScreenState, action: Action) -> bool {
    if state.view != View::Rehearsal {
        return false;
    }
    let of = |ask| state.rehearsal.get(ask).to_owned();
    let (title, purpose, text) = match action {
        Action::StandIn => (words::WHICH_STAND_IN, Purpose::StandIn, of(Ask::StandIn)),
        Action::StandInCondition => (
            words::WHICH_CONDITION,
            Purpose::StandInCondition,
            of(Ask::StandInCondition),
        ),
        Action::Dial => {
            let dial = format!("{} {}", of(Ask::SpindleOverride), of(Ask::FeedOverride));
            (
                words::WHICH_OVERRIDES,
                Purpose::Dial,
                dial.trim().to_owned(),
            )
        }
        Action::Measured => (words::WHAT_MEASURED, Purpose::Measured, of(Ask::Measured)),
        _ => return false,
    };
    state.ask(title, purpose, &text);
    true
}

/// Takes what was asked for; the reason if it is not taken.
pub(super) fn taken(state: &mut ScreenState, purpose: &Purpose, text: &str) -> Result<(), String> {
    let before = state.rehearsal.texts.clone();
    let rehearsal = &mut state.rehearsal;
    match purpose {
        Purpose::StandIn => rehearsal.set(Ask::StandIn, text),
        Purpose::StandInCondition => rehearsal.set(Ask::StandInCondition, text),
        Purpose::Measured => rehearsal.set(Ask::Measured, text),
        _ => {
            let (spindle, feed) = match listed(text)[..] {
                [] => ("", ""),
                [spindle, feed] => (spindle, feed),
                _ => return Err(words::TWO_OVERRIDES.to_owned()),
            };
            rehearsal.set(Ask::SpindleOverride, spindle);
            rehearsal.set(Ask::FeedOverride, feed);
        }
    }
    let asked = state.rehearsal.asked(&state.pass().typed);
    if let Err(errors) = rehearsed(&asked, &state.shop) {
        let own = |text: &String| !text.is_empty();
        let said: Vec<String> = errors.iter().map(ToString::to_string).filter(own).collect();
        state.rehearsal.texts = before;
        return Err(said.join("; "));
    }
    Ok(())
}

/// Works the lines out again when what they rest on has changed.
pub(super) fn refresh(state: &mut ScreenState) {
    if state.view != View::Rehearsal {
        return;
    }
    let asked = state.rehearsal.asked(&state.pass().typed);
    let same = state
        .rehearsal
        .shown
        .as_ref()
        .is_some_and(|(a, s)| *a == asked && *s == state.system);
    if same {
        return;
    }
    state.rehearsal.rows = match rehearsed(&asked, &state.shop) {
        Ok(r) => {
            let show = Show {
                checks: true,
                ..Show::default()
            };
            state.rehearsal.head = Some((decision::verdict(&r), decision::head(&r)));
            text(&r, show, state.system).lines().map(row).collect()
        }
        Err(errors) => {
            state.rehearsal.head = None;
            errors
                .iter()
                .map(|e| Row::plain(0, e.to_string()))
                .collect()
        }
    };
    state.rehearsal.shown = Some((asked, state.system));
}

/// A line of the text; one that begins at the edge and names what follows is a heading.
fn row(line: &str) -> Row {
    let text = line.trim_start();
    let indent = line.chars().count() - text.chars().count();
    let names = indent == 0 && !text.contains(':');
    if names && !text.is_empty() {
        Row::heading(text)
    } else {
        Row::plain(indent, text)
    }
}

/// The numbers of a list with blanks, commas or semicolons between them, without signs of percent.
///
/// A comma within a number is a decimal comma, unless the list would have one number only.
fn listed(text: &str) -> Vec<&str> {
    let numbers = |between: &'static [char]| -> Vec<&str> {
        let signs = |c: char| c == '%' || c == ',' || c.is_whitespace();
        let parts = text.split(|c: char| between.contains(&c) || c.is_whitespace());
        let parts = parts.map(|part| part.trim_matches(signs));
        parts.filter(|part| !part.is_empty()).collect()
    };
    match numbers(&[';', '%']) {
        one if one.len() == 1 => numbers(&[';', '%', ',']),
        several => several,
    }
}

#[cfg(test)]
mod tests {
    use super::listed;

    #[test]
    fn overrides_are_listed_with_blanks_commas_or_semicolons() {
        let check = |text: &str, expect: &[&str]| assert_eq!(listed(text), expect, "{text}");
        for text in [
            "50 70",
            "50,70",
            "50, 70",
            "50;70",
            "50 ; 70",
            "50%, 70%",
            "50 % , 70 %",
        ] {
            check(text, &["50", "70"]);
        }
        check("50%,70%", &["50", "70"]);
        check("62,5 80", &["62,5", "80"]);
        check("62.5; 80", &["62.5", "80"]);
        check("100", &["100"]);
        check("", &[]);
        check("50 % 60 % 70 %", &["50", "60", "70"]);
    }
}
