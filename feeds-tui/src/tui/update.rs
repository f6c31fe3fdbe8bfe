//! What a message does to the state.

use super::ask::{self, Purpose};
use super::audit;
use super::begin;
use super::edit::{clear, commit, everywhere, keep, redo, undo};
use super::effect::Effect;
use super::features;
use super::job;
use super::line::EditLine;
use super::message::{Action, Message};
use super::pick::Pick;
use super::question::{self, Asking};
use super::rehearsal;
use super::rows::{self, Target};
use super::shelves;
use super::shop;
use super::state::{Help, Over, ScreenState, View};
use super::{lessons, planning, practice, vary, words};
use crate::pass::field::{Key, Station, Takes};
use crate::pass::text::{Show, text};
use feeds_core::symbol::System;

/// Lines that a page key moves by.
const PAGE: usize = 10;

/// Takes a message.
pub fn update(state: &mut ScreenState, message: Message) -> Effect {
    state.note = None;
    let effect = taken(state, message);
    rehearsal::refresh(state);
    audit::refresh(state);
    effect
}

fn taken(state: &mut ScreenState, message: Message) -> Effect {
    if state.planning.is_at_work() {
        return planning::take(state, &message);
    }
    match (state.over.take(), message) {
        (None, message @ Message::Text(_)) if state.view == View::Practice => {
            practice::take(state, &message)
        }
        (None, Message::Act(action)) => act(state, action),
        (None, Message::Text(text)) => start_typing(state, &text),
        (Some(Over::Entry(line)), message) => typing(state, line, message),
        (Some(Over::Pick(pick)), message) => picking(state, pick, message),
        (Some(Over::Help(help)), message) => helping(state, help, message),
        (Some(Over::Ask(ask)), message) => ask::asking(state, ask, &message),
        (Some(Over::Question(question)), message) => question::answering(state, question, &message),
        (Some(Over::Begin(begin)), message) => begin::asking(state, begin, message),
    }
}

fn act(state: &mut ScreenState, action: Action) -> Effect {
    if audit::act(state, action) || rehearsal::act(state, action) {
        return Effect::Draw;
    }
    match state.view {
        _ if action.is_everywhere() => {}
        View::Vary => return vary::act(state, action),
        View::Practice => return practice::take(state, &Message::Act(action)),
        View::Lessons => return lessons::act(state, action),
        _ => {}
    }
    let done = match state.view {
        View::Job => job::act(state, action),
        View::Features => features::act(state, action),
        View::Shop => shelves::act(state, action),
        _ => None,
    };
    if let Some(effect) = done {
        return effect;
    }
    match action {
        Action::Vary => vary::open(state),
        Action::Practice => practice::open(state),
        Action::Lessons => lessons::open(state),
        Action::NextStation => walk(state, 1),
        Action::PreviousStation => walk(state, Station::ALL.len() - 1),
        Action::Down
        | Action::Up
        | Action::PageDown
        | Action::PageUp
        | Action::First
        | Action::Last => travel(state, action),
        Action::Open if state.view == View::Walk => open_or_ask(state),
        Action::Open => follow(state),
        Action::NextChoice => cycle(state, true),
        Action::PreviousChoice => cycle(state, false),
        Action::Clear => clear(state),
        Action::Everywhere => everywhere(state),
        Action::Undo => return undo(state),
        Action::Redo => return redo(state),
        Action::Begin => begin::open(state),
        Action::Units => other_units(state),
        Action::Intent => other_intent(state),
        Action::Name => {
            let name = state.pass().name.clone();
            state.ask(words::PASS_NAME, Purpose::PassName, &name);
        }
        Action::NextPass => open_pass(state, 1),
        Action::PreviousPass => open_pass(state, state.job.passes.len() - 1),
        Action::Job => show(state, View::Job),
        Action::Features => show(state, View::Features),
        Action::Shop => show(state, View::Shop),
        Action::Overrides => show(state, View::Overrides),
        Action::Big => show(state, View::Big),
        Action::Print => return Effect::Print,
        Action::Pictures => show(state, View::Pictures),
        Action::Checks => show(state, View::Checks),
        Action::Moments => show(state, View::Moments),
        Action::Working => show(state, View::Working),
        Action::Sources => show(state, View::Sources),
        Action::Listen => show(state, View::Listen),
        Action::Audit => return audit::key(state),
        Action::Rehearse => show(state, View::Rehearsal),
        Action::Walk => state.view = View::Walk,
        Action::Help => state.over = Some(Over::Help(Help::default())),
        Action::Copy => return copied(state),
        Action::Save => return save(state),
        Action::Quit => return Effect::Quit,
        // Keys of lines, lists and views that are not open.
        Action::Add
        | Action::Twin
        | Action::Earlier
        | Action::Later
        | Action::Note
        | Action::Length
        | Action::Tool
        | Action::Programme
        | Action::Begins
        | Action::InAll
        | Action::Follows
        | Action::Happened
        | Action::Log
        | Action::Find
        | Action::Left
        | Action::Right
        | Action::RubOut
        | Action::Delete
        | Action::Wipe
        | Action::Compare
        | Action::StandIn
        | Action::StandInCondition
        | Action::Dial
        | Action::Measured
        | Action::Commit
        | Action::Level
        | Action::Record
        | Action::Range
        | Action::Overlay
        | Action::Curves
        | Action::GiveUp => return Effect::Rest,
    }
    Effect::Draw
}

/// Saves the job in its file; the example, or a job of one's own behind it, in none of the other's.
fn save(state: &mut ScreenState) -> Effect {
    let filed = &state.filed;
    let has_file = filed.file.is_some() && filed.saved.example == state.job.example;
    if has_file {
        return Effect::Save;
    }
    if state.job.example {
        state.over = Some(Over::Question(Asking::of_example()));
    } else {
        state.ask(words::FILE_ASKED, Purpose::SaveAs, words::FILE_OFFERED);
    }
    Effect::Draw
}

/// Changes between a first cut and a proven run, and says what that does to the settings.
fn other_intent(state: &mut ScreenState) {
    let settings = |state: &ScreenState| {
        let answer = state.live.answer.as_ref().filter(|_| !state.live.is_old());
        answer.map(|a| (a.plan.n, a.plan.v_f))
    };
    let before = settings(state);
    let cautious = state.pass().typed.get(Key::Intent) != Some("production");
    let word = if cautious { "production" } else { "cautious" };
    commit(state, "intent", word);
    let both = before.zip(settings(state));
    state.say(words::intent_changed(cautious, both, state.system));
}

fn other_units(state: &mut ScreenState) {
    keep(state);
    state.system = match state.system {
        System::Metric => System::Inch,
        System::Inch => System::Metric,
    };
    if state.view == View::Practice {
        state.practice.ask_in(state.system);
    }
    state.plan_in_system();
    state.work_out();
}

fn walk(state: &mut ScreenState, steps: usize) {
    let at = (state.station as usize + steps) % Station::ALL.len();
    state.station = Station::ALL[at];
    state.view = View::Walk;
}

/// Opens a view; its own key closes it again.
fn show(state: &mut ScreenState, view: View) {
    state.view = if state.view == view { View::Walk } else { view };
    state.line = match state.view {
        View::Moments => state.moment,
        _ => 0,
    };
    state.work_out();
}

/// Moves the cursor among the lines of what is open.
fn travel(state: &mut ScreenState, action: Action) {
    if state.view == View::Walk {
        let count = state.fields().len();
        let row = &mut state.rows[state.station as usize];
        *row = moved(*row, count, action);
        return;
    }
    state.line = moved(state.line, rows::of(state).len(), action);
    if state.view == View::Moments {
        draw_moment(state);
    }
}

fn draw_moment(state: &mut ScreenState) {
    let drawn = rows::of(state)
        .get(state.line)
        .and_then(|row| row.target.clone());
    if let Some(Target::Moment(at)) = drawn
        && at != state.moment
    {
        state.moment = at;
        state.work_out();
    }
}

pub(super) fn moved(at: usize, count: usize, action: Action) -> usize {
    let last = count.saturating_sub(1);
    let at = match action {
        Action::Down => at + 1,
        Action::Up => at.saturating_sub(1),
        Action::PageDown => at + PAGE,
        Action::PageUp => at.saturating_sub(PAGE),
        Action::First => 0,
        Action::Last => last,
        _ => at,
    };
    at.min(last)
}

/// Opens the entry under the cursor: a list for names and words, a line for the rest; a question
/// where the job was planned with another thing of that name.
fn open_or_ask(state: &mut ScreenState) {
    let change = match state.field().takes {
        Takes::Name(shelf) => state.change(shelf),
        _ => None,
    };
    match change {
        Some(change) => state.over = Some(Over::Question(Asking::of_change(change))),
        None => open(state),
    }
}

/// Opens the entry under the cursor for another text.
pub(super) fn open(state: &mut ScreenState) {
    let field = state.field();
    let typed = state.pass().typed.get(field.key).unwrap_or_default();
    let names = names(state);
    if names.is_empty() {
        // What is typed next takes its place; cursor keys change it.
        let mut line = EditLine::of(typed);
        line.select();
        state.over = Some(Over::Entry(line));
    } else {
        let in_effect = state.in_effect(field).map(|e| e.text);
        let now = match field.takes {
            Takes::Name(shelf) => shop::full_name(state.shop.as_ref(), shelf, typed),
            _ if typed.is_empty() => in_effect,
            _ => Some(typed.to_lowercase()),
        };
        let at = now.and_then(|now| names.iter().position(|n| *n == now));
        // A text that is on no list, or none, stands first: to look is not to change.
        let first = at.is_none().then(|| typed.to_owned());
        state.over = Some(Over::Pick(Pick {
            names: first.into_iter().chain(names).collect(),
            wanted: EditLine::default(),
            at: at.unwrap_or(0),
            stocks: state.field().id == Key::Stock,
        }));
    }
    state.work_out();
}

/// What the entry under the cursor can be picked from.
fn names(state: &ScreenState) -> Vec<String> {
    let owned = |words: Vec<&'static str>| words.into_iter().map(str::to_owned).collect();
    match state.field().takes {
        Takes::Quantity(_)
        | Takes::Wear(_)
        | Takes::Hardness
        | Takes::Axes(_)
        | Takes::Zero
        | Takes::Boxes
        | Takes::Modes => Vec::new(),
        Takes::Choice(words) => owned((words.all)()),
        Takes::YesNo => owned(vec!["yes", "no"]),
        Takes::Name(shelf) => shop::names(state.shop.as_ref(), shelf),
        Takes::Condition => {
            shop::conditions(state.pass().typed.get(Key::Stock).unwrap_or_default())
        }
    }
}

/// A number typed, or a text pasted, on an entry begins it anew; on a list it finds.
fn start_typing(state: &mut ScreenState, text: &str) -> Effect {
    if state.view != View::Walk {
        return Effect::Rest;
    }
    let names = names(state);
    if names.is_empty() {
        state.over = Some(Over::Entry(EditLine::of(text)));
    } else {
        let wanted = EditLine::of(text.trim());
        state.over = Some(Over::Pick(Pick {
            names,
            wanted,
            at: 0,
            stocks: state.field().id == Key::Stock,
        }));
    }
    state.work_out();
    Effect::Draw
}

fn typing(state: &mut ScreenState, mut line: EditLine, message: Message) -> Effect {
    match message {
        Message::Act(Action::Commit) => {
            let key = state.field().key;
            commit(state, key, line.text());
            return Effect::Draw;
        }
        Message::Act(Action::GiveUp) => {
            state.work_out();
            return Effect::Draw;
        }
        message => line.edit(&message),
    }
    state.over = Some(Over::Entry(line));
    state.work_out();
    Effect::Draw
}

fn picking(state: &mut ScreenState, mut pick: Pick, message: Message) -> Effect {
    match message {
        Message::Act(Action::GiveUp) => {}
        Message::Act(Action::Commit) => {
            // What is on no list is kept as typed: its error says what would be right.
            let text = pick.marked().unwrap_or(pick.wanted.text()).to_owned();
            let key = state.field().key;
            commit(state, key, &text);
            return Effect::Draw;
        }
        message => {
            let count = pick.found().len();
            find(&mut pick.wanted, &mut pick.at, count, message);
            state.over = Some(Over::Pick(pick));
        }
    }
    state.work_out();
    Effect::Draw
}

fn helping(state: &mut ScreenState, mut help: Help, message: Message) -> Effect {
    match message {
        Message::Act(Action::GiveUp) => Effect::Draw,
        Message::Act(Action::Commit) => match state.helped(&help).get(help.at) {
            Some(key) => act(state, key.action),
            None => Effect::Draw,
        },
        message => {
            let count = state.helped(&help).len();
            find(&mut help.wanted, &mut help.at, count, message);
            state.over = Some(Over::Help(help));
            Effect::Draw
        }
    }
}

/// Moves the mark in a list, or changes what is looked for in it.
pub(super) fn find(wanted: &mut EditLine, at: &mut usize, count: usize, message: Message) {
    match message {
        Message::Text(text) => {
            wanted.insert(&text);
            *at = 0;
        }
        Message::Act(Action::RubOut) => {
            wanted.rub_out();
            *at = 0;
        }
        Message::Act(Action::Wipe) => {
            wanted.wipe();
            *at = 0;
        }
        Message::Act(action) => *at = moved(*at, count, action),
    }
}

/// The next or previous word of a choice.
fn cycle(state: &mut ScreenState, forwards: bool) {
    let field = state.field();
    let words = match field.takes {
        Takes::Choice(words) => (words.all)(),
        Takes::YesNo => vec!["no", "yes"],
        _ => {
            state.say(words::NO_CHOICE);
            return;
        }
    };
    let in_effect = state.in_effect(field).map(|e| e.text);
    let now = state
        .pass()
        .typed
        .get(field.key)
        .map(str::to_owned)
        .or(in_effect);
    let at = now.and_then(|now| words.iter().position(|w| w.eq_ignore_ascii_case(&now)));
    let next = match at {
        None => 0,
        Some(at) if forwards => (at + 1) % words.len(),
        Some(at) => (at + words.len() - 1) % words.len(),
    };
    commit(state, field.key, words[next]);
}

fn open_pass(state: &mut ScreenState, steps: usize) {
    job::open(state, (state.at + steps) % state.job.passes.len());
}

/// From a line to what it speaks of.
fn follow(state: &mut ScreenState) {
    let target = rows::of(state)
        .get(state.line)
        .and_then(|row| row.target.clone());
    match target {
        Some(Target::Entry(key)) => state.go_to(key),
        Some(Target::Source(source)) => {
            state.view = View::Sources;
            let answer = state.live.answer.as_ref();
            state.line = answer.map_or(0, |a| rows::row_of_source(a, source));
        }
        Some(Target::Step(number)) => {
            state.view = View::Working;
            let start = format!("{number}. ");
            state.line = rows::of(state)
                .iter()
                .position(|r| r.text.starts_with(&start))
                .unwrap_or(0);
        }
        Some(Target::Moment(_)) => {
            state.view = View::Pictures;
            state.line = 0;
        }
        None => state.say(words::NO_TARGET),
    }
}

fn copied(state: &mut ScreenState) -> Effect {
    match &state.live.answer {
        None => {
            state.say(words::NO_ANSWER);
            Effect::Draw
        }
        Some(_) if state.live.is_old() => {
            state.say(words::TO_PUT_RIGHT);
            Effect::Draw
        }
        Some(answer) => {
            let text = text(answer, None, Show::default(), state.system);
            state.say(words::COPIED);
            Effect::Copy(text)
        }
    }
}
