//! The view of the job: its passes in order, each with its answer. The marked pass is the open one.

use super::ask::Purpose;
use super::edit::{change, change_and_open};
use super::effect::Effect;
use super::message::Action;
use super::question;
use super::shop::Workshop;
use super::state::{ScreenState, View};
use super::words;
use crate::job::{Worked, WorkedPass, answers};
use crate::pass::description::Description;
use crate::pass::field::{Key, Station};
use crate::store::job::{Job, NONE, Pass};
use crate::words::said_in;
use feeds_core::limit;
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, System};
use feeds_core::verdict::Verdict;
use std::rc::Rc;

/// The passes as the view shows them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PassOrder {
    /// A line a pass, with what stands below it.
    pub lines: Vec<PassLine>,
    /// Passes, cutter changes, cut time.
    pub totals: String,
}

/// A pass as the view shows it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PassLine {
    /// What it makes.
    pub name: String,
    /// S, F and time.
    pub figures: String,
    /// The governing check, or what keeps the answer back.
    pub governs: String,
    /// The state of that check; `None` without an answer.
    pub state: Option<limit::State>,
    /// The cutter, and whether it is changed.
    pub cutter: String,
    /// What an earlier cutter left, and the notes.
    pub more: Vec<String>,
}

impl PassOrder {
    /// Works every pass out.
    pub(super) fn of(job: &Job, shop: &Rc<dyn Workshop>, system: System) -> Self {
        let worked = answers(job, shop);
        Self {
            lines: (0..worked.passes.len())
                .map(|at| line(&worked, at, system))
                .collect(),
            totals: worked.totals(system),
        }
    }
}

/// Texts of a pass that are shown as they were typed.
const OF_SHEET: [&str; 6] = [
    "tool",
    "programme",
    "begins-at",
    "depth-in-all",
    "note",
    "happened",
];

fn line(worked: &Worked<'_>, at: usize, system: System) -> PassLine {
    let of = &worked.passes[at];
    let mut line = PassLine {
        name: of.pass.name.clone(),
        cutter: cutter(of),
        ..PassLine::default()
    };
    match &of.outcome {
        Err(errors) => {
            let first = errors.first().map(ToString::to_string).unwrap_or_default();
            line.governs = said_in(&first, system);
        }
        Ok(answer) => {
            let plan = &answer.plan;
            let time = of.time.map(|t| s::T_CUT.show(t.si(), system));
            let settings = format!(
                "S {:<12} F {}",
                s::N.show(plan.n.si(), system),
                s::V_F.show(plan.v_f.si(), system)
            );
            // What stops is no setting.
            let settings = match Verdict::of(&plan.checks) {
                Verdict::Stop => format!("({settings})"),
                _ => settings,
            };
            let time = time.unwrap_or_else(|| words::NO_LENGTH.to_owned());
            line.figures = format!("{settings:<30} {time:>9}");
            line.governs = worked.head(at, plan, system);
            line.state = plan.governs().map(limit::Check::state);
        }
    }
    line.more.extend(worked.advised(at, system));
    line.more.extend(worked.left_over(at, system));
    line.more.extend(worked.slot_left(at, system));
    for key in OF_SHEET {
        let text = of.pass.get(key);
        if !text.is_empty() {
            line.more.push(format!("{}: {text}", key.replace('-', " ")));
        }
    }
    line
}

fn cutter(pass: &WorkedPass<'_>) -> String {
    let texts = &pass.description;
    let name = texts.get(Key::Cutter).map(str::to_owned);
    let name = name.or_else(|| texts.get(Key::Diameter).map(|d| format!("{d} cutter")));
    let change = if pass.changes_cutter {
        words::CHANGE_CUTTER
    } else {
        words::SAME_CUTTER
    };
    name.map_or_else(
        || words::NO_CUTTER.to_owned(),
        |name| format!("{name}, {change}"),
    )
}

/// Does what a key of this view is for; `None` if it is a key of every view.
pub(super) fn act(state: &mut ScreenState, action: Action) -> Option<Effect> {
    let (at, last) = (state.at, state.job.passes.len() - 1);
    match action {
        Action::Open => {
            state.view = View::Walk;
            question::ask_of_changes(state);
        }
        Action::Down => open(state, (at + 1).min(last)),
        Action::Up => open(state, at.saturating_sub(1)),
        Action::First | Action::PageUp => open(state, 0),
        Action::Last | Action::PageDown => open(state, last),
        Action::Add | Action::Twin if state.job.example => state.say(words::NOT_IN_EXAMPLE),
        Action::Add => state.ask(words::NEW_PASS, Purpose::NewPass, ""),
        Action::Twin => {
            let name = format!("{}, again", state.pass().name);
            state.ask(words::COPY_OF_PASS, Purpose::CopyOfPass, &name);
        }
        Action::Later if at < last => swap(state, at + 1),
        Action::Earlier if at > 0 => swap(state, at - 1),
        Action::Later | Action::Earlier => state.say(words::NO_FURTHER),
        Action::Clear if last == 0 => state.say(words::LAST_PASS),
        Action::Clear => {
            let order: Vec<usize> = (0..=last).filter(|&other| other != at).collect();
            change_and_open(state, at.min(last - 1), |job| job.arrange(&order));
            state.say(words::REMOVED);
        }
        Action::Note => ask(state, "note", words::NOTE_ASKED),
        Action::Length => ask(state, "length", words::LENGTH_ASKED),
        Action::Tool => ask(state, "tool", words::TOOL_ASKED),
        Action::Programme => ask(state, "programme", words::PROGRAMME_ASKED),
        Action::Begins => ask(state, "begins-at", words::BEGINS_ASKED),
        Action::InAll => ask(state, "depth-in-all", words::IN_ALL_ASKED),
        Action::Follows => ask(state, "follows", words::FOLLOWS_ASKED),
        Action::Happened => ask(state, "happened", words::HAPPENED_ASKED),
        Action::Log if state.job.example => state.say(words::NOT_LOGGED_IN_EXAMPLE),
        Action::Log => state.ask(words::LOG_ASKED, Purpose::Log, ""),
        _ => return None,
    }
    Some(Effect::Draw)
}

fn ask(state: &mut ScreenState, key: &'static str, title: &str) {
    let text = state.job.passes[state.at].get(key).to_owned();
    state.ask(title, Purpose::OfPass(key), &text);
}

/// Opens another pass.
pub(super) fn open(state: &mut ScreenState, at: usize) {
    if at != state.at {
        state.moment = 0;
        state.line = 0;
        state.live.forget();
    }
    state.at = at;
    state.work_out();
    if state.view == View::Walk {
        question::ask_of_changes(state);
    }
}

fn swap(state: &mut ScreenState, with: usize) {
    let mut order: Vec<usize> = (0..state.job.passes.len()).collect();
    order.swap(state.at, with);
    change(state, |job| job.arrange(&order));
    open(state, with);
}

/// Takes a text that was asked for in this view.
pub(super) fn taken(state: &mut ScreenState, purpose: &Purpose, text: &str) -> Result<(), String> {
    let at = state.at;
    match purpose {
        Purpose::OfPass(key) => {
            if *key == "follows" {
                comes_before(&state.job, at, text)?;
            }
            let mut pass = state.job.passes[at].clone();
            pass.set(key, text).map_err(|e| e.to_string())?;
            change(state, |job| job.passes[at] = pass);
        }
        _ if text.is_empty() => return Err(words::NAME_NEEDED.to_owned()),
        Purpose::NewPass => {
            let pass = Pass::new(text, shared(&state.job.passes[at].texts));
            change(state, |job| {
                job.passes.push(pass);
                let new = job.passes.len() - 1;
                job.arrange(&placed(new, new, at + 1));
            });
            open(state, at + 1);
        }
        _ => {
            change(state, |job| {
                job.arrange(&placed(job.passes.len(), at, at + 1));
                let copy = &mut job.passes[at + 1];
                text.clone_into(&mut copy.name);
                copy.happened.clear();
            });
            open(state, at + 1);
        }
    }
    Ok(())
}

/// The order of `count` passes with `pass` put in at a place.
fn placed(count: usize, pass: usize, place: usize) -> Vec<usize> {
    let mut order: Vec<usize> = (0..count).collect();
    order.insert(place, pass);
    order
}

/// What a new pass shares with the one before it: how the stock, the machine and the hold are.
fn shared(texts: &Description) -> Description {
    let mut shared = Description::default();
    for (field, text) in texts.iter() {
        if matches!(field.station, Station::Stock | Station::Machine) || field.id == Key::Intent {
            // The key is of the register.
            let _ = shared.set(field.key, text);
        }
    }
    shared
}

fn comes_before(job: &Job, at: usize, text: &str) -> Result<(), String> {
    if text.is_empty() || text.eq_ignore_ascii_case(NONE) {
        return Ok(());
    }
    match job.position(text) {
        Ok(before) if before < at => Ok(()),
        Ok(_) => Err(words::NOT_BEFORE.to_owned()),
        Err(error) => Err(error.to_string()),
    }
}
