//! Beginning with one's own machine: four questions, and the first answer.

use super::edit::change_and_open;
use super::effect::Effect;
use super::features;
use super::line::EditLine;
use super::message::{Action, Message};
use super::pick::Pick;
use super::shop;
use super::state::{Filed, Over, ScreenState, View};
use super::update::find;
use super::words;
use crate::job::diameter_of;
use crate::pass::description::Description;
use crate::pass::field::{Key, Shelf, Station};
use crate::pass::part::check_name;
use crate::store::job::{Job, Pass};
use feeds_core::error::{Cause, EntryError};
use feeds_core::symbol::System;
use reference_tables::tables;

/// What is asked, in order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BeginStep {
    /// The machine.
    Machine,
    /// The cutter.
    Cutter,
    /// The steel with its condition.
    Steel,
    /// How the part is held.
    Hold,
}

impl BeginStep {
    /// All of them, in the order they are asked.
    pub const ALL: [Self; 4] = [Self::Machine, Self::Cutter, Self::Steel, Self::Hold];

    /// What is asked.
    pub fn title(self) -> &'static str {
        match self {
            Self::Machine => words::BEGIN_MACHINE,
            Self::Cutter => words::BEGIN_CUTTER,
            Self::Steel => words::BEGIN_STEEL,
            Self::Hold => words::BEGIN_HOLD,
        }
    }

    /// How it is answered.
    pub fn hint(self) -> String {
        match self {
            Self::Steel => words::FIND_STEEL.to_owned(),
            step => format!("{}, {}", words::FIND_OR_TYPE, step.or_typed()),
        }
    }

    /// What can be typed that is on no list.
    pub fn or_typed(self) -> &'static str {
        match self {
            Self::Machine => words::OR_TOP_SPEED,
            Self::Cutter => words::OR_DIAMETER,
            Self::Steel => words::OR_FEWER_LETTERS,
            Self::Hold => words::OR_FORCE,
        }
    }
}

/// The questions while they are answered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Begin {
    /// Which is asked.
    pub step: BeginStep,
    /// What it can be picked from.
    pub pick: Pick,
    /// What was answered so far.
    texts: Description,
}

/// What a line of a list stands for.
type Choice = (String, Vec<(Key, String)>);

/// Whether nothing was typed into a job yet.
pub(super) fn is_empty(job: &Job) -> bool {
    let mut passes = job.passes.iter();
    job.common.is_empty() && passes.all(|pass| pass.texts.is_empty())
}

/// Opens the first question.
pub(super) fn open(state: &mut ScreenState) {
    if !state.job.example && !is_empty(&state.job) {
        state.say(words::OWN_ALREADY);
        return;
    }
    ask(state, BeginStep::Machine, Description::default());
}

fn ask(state: &mut ScreenState, step: BeginStep, texts: Description) {
    let names = choices(state, step).into_iter().map(|(name, _)| name);
    let pick = Pick {
        names: names.collect(),
        wanted: EditLine::default(),
        at: 0,
        stocks: step == BeginStep::Steel,
    };
    state.over = Some(Over::Begin(Begin { step, pick, texts }));
}

/// What a question can be answered with.
fn choices(state: &ScreenState, step: BeginStep) -> Vec<Choice> {
    let named = |shelf: Shelf| {
        let names = shop::names(state.shop.as_ref(), shelf).into_iter();
        names.map(move |name| (name.clone(), vec![(shelf.key(), name)]))
    };
    match step {
        BeginStep::Machine => machines(state),
        BeginStep::Cutter => named(Shelf::Cutters)
            .map(|(name, texts)| (name.replace(" edges,", " flutes,"), texts))
            .chain([(words::NO_CUTTER_YET.to_owned(), Vec::new())])
            .collect(),
        BeginStep::Steel => steels(state),
        BeginStep::Hold => {
            let rows = tables().map(|t| &t.holds[..]).unwrap_or_default();
            // Without a force of its own it is all that is said of such a hold.
            let forced = |name: &str| rows.iter().all(|h| h.accepted || h.name != name);
            let mut holds: Vec<Choice> = named(Shelf::Holds).filter(|h| forced(&h.0)).collect();
            holds.push((words::NO_HOLD_YET.to_owned(), Vec::new()));
            holds
        }
    }
}

/// The machines of the shop, then those of the tables with the short name they are called by.
fn machines(state: &ScreenState) -> Vec<Choice> {
    let own = state.shop.names(Shelf::Machines).into_iter();
    let own = own.map(|name| (name.clone(), vec![(Key::Machine, name)]));
    let rows = tables().map(|t| &t.machines[..]).unwrap_or_default();
    let rows = rows.iter().map(|row| {
        let name = format!("{}: {}", row.value.key, row.value.name);
        (name, vec![(Key::Machine, row.value.key.clone())])
    });
    own.chain(rows).collect()
}

/// The stocks of the shop, then each of the tables in each of its conditions.
fn steels(state: &ScreenState) -> Vec<Choice> {
    let own = state.shop.names(Shelf::Stocks).into_iter();
    let mut all: Vec<Choice> = own.map(|n| (n.clone(), vec![(Key::Stock, n)])).collect();
    let rows = tables().map(|t| &t.materials[..]).unwrap_or_default();
    for row in rows {
        for condition in &row.conditions {
            let name = format!("{}, {}", row.name, condition.name);
            let texts = vec![
                (Key::Stock, row.name.clone()),
                (Key::Condition, condition.name.clone()),
            ];
            all.push((name, texts));
        }
    }
    all
}

/// Takes a message while a question is open.
pub(super) fn asking(state: &mut ScreenState, mut begin: Begin, message: Message) -> Effect {
    match message {
        Message::Act(Action::GiveUp) => return Effect::Draw,
        Message::Act(Action::Commit) => match answer(state, &begin) {
            Ok(texts) => {
                for (key, text) in texts {
                    begin.texts.put(key, &text);
                }
                let at = BeginStep::ALL.iter().position(|s| *s == begin.step);
                match BeginStep::ALL.get(at.unwrap_or_default() + 1) {
                    Some(next) => ask(state, *next, begin.texts),
                    None => begun(state, &begin.texts),
                }
                return Effect::Draw;
            }
            Err(wrong) => state.say(wrong.to_string()),
        },
        message => {
            let count = begin.pick.found().len();
            find(&mut begin.pick.wanted, &mut begin.pick.at, count, message);
        }
    }
    state.over = Some(Over::Begin(begin));
    Effect::Draw
}

/// The entries that answer a question: those of the marked line, or what was typed.
fn answer(state: &ScreenState, begin: &Begin) -> Result<Vec<(Key, String)>, EntryError> {
    if let Some(marked) = begin.pick.marked() {
        let mut found = choices(state, begin.step).into_iter();
        if let Some((_, texts)) = found.find(|(name, _)| name == marked) {
            return Ok(texts);
        }
    }
    let typed = begin.pick.wanted.text().trim();
    let read = |key: Key, text: &str| {
        let read = key.field().read(text);
        read.map(|_| (key, text.trim().to_owned()))
    };
    match begin.step {
        BeginStep::Machine => Ok(vec![read(Key::SpindleMost, typed)?]),
        BeginStep::Cutter => {
            let parted = typed.rsplit_once([',', ' ']);
            let (diameter, flutes) = parted.unwrap_or((typed, ""));
            let diameter = read(Key::Diameter, diameter.trim().trim_end_matches(','))?;
            Ok(vec![diameter, read(Key::Edges, flutes)?])
        }
        BeginStep::Steel => {
            check_name("stock", typed, &state.shop)?;
            Err(EntryError::because(Cause::Unknown, words::OR_FEWER_LETTERS))
        }
        BeginStep::Hold => Ok(vec![read(Key::ClampForce, typed)?]),
    }
}

/// The light cut that a job of one's own begins with: depth and width as shares of the diameter.
const LIGHT: (f64, f64) = (0.2, 0.05);

/// Leaves the example for a job of one's own, and shows its first answer.
fn begun(state: &mut ScreenState, texts: &Description) {
    let mut job = if state.job.example {
        state.filed = Filed::default();
        Job::default()
    } else {
        // An empty job keeps its name and its file.
        let mut empty = state.job.clone();
        empty.passes.clear();
        empty
    };
    let mut pass = Pass::new(words::FIRST_PASS, Description::default());
    for (field, text) in texts.iter() {
        match field.station {
            Station::Cutter => pass.texts.keep(field, text),
            _ => job.common.keep(field, text),
        }
    }
    let diameter = diameter_of(&pass.texts, &state.shop).map(|(si, _)| si);
    if let Some(diameter) = diameter {
        let length = |share: f64| match state.system {
            System::Metric => format!("{:.2} mm", share * diameter * 1e3),
            System::Inch => format!("{:.4} in", share * diameter / 0.0254),
        };
        let cut = [
            (Key::Path, "side".to_owned()),
            (Key::Depth, length(LIGHT.0)),
            (Key::Width, length(LIGHT.1)),
        ];
        for (key, text) in cut {
            pass.texts.put(key, &text);
        }
    }
    let drawing = pass.texts.is_empty();
    job.passes.push(pass);
    state.live.forget();
    state.moment = 0;
    state.view = View::Walk;
    change_and_open(state, 0, |now| *now = job);
    if drawing {
        state.view = View::Features;
        state.work_out();
        features::ask(state, None);
        return;
    }
    state.go_to(Key::Depth);
    let pass = &state.job.passes[0].texts;
    let text = |key: Key| pass.get(key).unwrap_or_default();
    let said = words::first_answer(text(Key::Depth), text(Key::Width));
    state.say(said);
}
