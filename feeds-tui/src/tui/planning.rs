//! Planning features a little at a time between keys: how far it is is said, and Esc stops it.

use super::ask::Prompt;
use super::effect::Effect;
use super::features;
use super::message::{Action, Message};
use super::state::{Over, ScreenState, View};
use super::terminal::Rest;
use super::words;
use crate::feature::PlanTries;
use std::time::Duration;

/// What is planned within this is said nothing about.
const AT_ONCE: Duration = Duration::from_millis(300);
/// So long it works before it looks for a key.
const SLICE: Duration = Duration::from_millis(150);

/// What is planned.
#[derive(Clone, Debug)]
pub enum PlanWanted {
    /// A line that was typed, with the question it answers.
    Line(Box<Prompt>),
    /// Another plan of a feature, by its numbers.
    Instead(usize, usize),
    /// The plans of all features, for the view.
    Shown,
}

/// Planning that goes on.
#[derive(Clone, Debug, Default)]
pub struct Planning {
    /// What goes on; nothing where all is planned.
    pub wanted: Option<PlanWanted>,
    /// What was tried for it.
    pub tries: PlanTries,
    /// What is said once all is planned.
    done: Option<&'static str>,
}

impl Planning {
    /// Whether it goes on by itself.
    pub fn is_at_work(&self) -> bool {
        self.wanted.is_some()
    }

    /// Says that once all is planned.
    pub(super) fn then_say(&mut self, done: &'static str) {
        self.done = Some(done);
    }

    /// Works as long as nobody notices.
    pub(super) fn at_once(&mut self) {
        self.tries.go_on_for(AT_ONCE);
    }
}

/// Begins to plan; what is done at once shows at once.
pub(super) fn begin(state: &mut ScreenState, wanted: PlanWanted) {
    state.planning.at_once();
    carry_on(state, wanted);
}

/// Plans a little further, where anything is left to plan.
pub fn plan_on(state: &mut ScreenState) -> Rest {
    let Some(wanted) = state.planning.wanted.take() else {
        return Rest::Idle;
    };
    state.planning.tries.go_on_for(SLICE);
    state.note = None;
    carry_on(state, wanted);
    if state.planning.is_at_work() {
        Rest::Busy
    } else {
        Rest::Done
    }
}

fn carry_on(state: &mut ScreenState, wanted: PlanWanted) {
    match &wanted {
        PlanWanted::Line(prompt) => features::line(state, prompt),
        PlanWanted::Instead(feature, plan) => features::instead(state, *feature, *plan),
        PlanWanted::Shown => features::lines(state),
    }
    if state.planning.tries.rests() && !state.planning.is_at_work() {
        state.planning.wanted = Some(wanted);
    }
    if state.planning.is_at_work() {
        let tried = state.planning.tries.count();
        state.say(words::planning(tried));
    } else {
        state.planning.tries = PlanTries::default();
        if let Some(done) = state.planning.done.take() {
            state.say(done);
        }
    }
}

/// Takes a message while it plans: Esc stops it and leaves all as it was.
pub(super) fn take(state: &mut ScreenState, message: &Message) -> Effect {
    match message {
        Message::Act(Action::Quit) => return Effect::Quit,
        Message::Act(Action::Walk | Action::GiveUp) => {
            let stopped = std::mem::take(&mut state.planning);
            match stopped.wanted {
                Some(PlanWanted::Line(prompt)) => state.over = Some(Over::Ask(*prompt)),
                Some(PlanWanted::Shown) => state.view = View::Walk,
                Some(PlanWanted::Instead(..)) | None => {}
            }
            state.say(words::PLANNING_STOPPED);
        }
        _ => {
            let tried = state.planning.tries.count();
            state.say(words::planning(tried));
        }
    }
    Effect::Draw
}
