//! Changes to the job, and taking them back.

use super::effect::Effect;
use super::job::open;
use super::state::{ScreenState, Snapshot, Stands};
use super::words;
use crate::store::job::Job;
use std::rc::Rc;

/// Changes that can be taken back.
const KEPT: usize = 500;

/// Changes the job as one step that can be taken back; whether it is another job now.
pub(super) fn change(state: &mut ScreenState, change: impl FnOnce(&mut Job)) -> bool {
    change_and_open(state, state.at, change)
}

/// As [`change`], with the pass at a place of the changed job open: the one that was may be gone.
pub(super) fn change_and_open(
    state: &mut ScreenState,
    at: usize,
    change: impl FnOnce(&mut Job),
) -> bool {
    let mut job = state.job.clone();
    change(&mut job);
    let changed = job != state.job;
    if changed {
        job.keep(&state.shelves());
        keep(state);
        state.job = job;
    }
    open(state, at);
    changed
}

/// Keeps a text under a key of the register.
pub(super) fn commit(state: &mut ScreenState, key: &'static str, text: &str) {
    if state.pass().typed.get(key).unwrap_or_default() == text.trim() {
        state.work_out();
        return;
    }
    let at = state.at;
    let changed = change(state, |job| {
        // The key is of the register.
        let _ = job.passes[at].texts.set(key, text);
    });
    if !changed {
        state.say(words::STANDS_ELSEWHERE);
    }
}

/// Takes the entry under the cursor away.
pub(super) fn clear(state: &mut ScreenState) {
    let key = state.field().key;
    commit(state, key, "");
}

/// Gives the entry under the cursor to every pass of the job, or back to the passes.
pub(super) fn everywhere(state: &mut ScreenState) {
    let field = state.field();
    let (key, at, stands) = (field.key, state.at, state.stands(field));
    let text = state.pass().typed.get(key).unwrap_or_default().to_owned();
    if text.is_empty() {
        state.say(words::NOTHING_TO_SHARE);
        return;
    }
    let set = |texts: &mut crate::pass::description::Description, text: &str| {
        // The key is of the register.
        let _ = texts.set(key, text);
    };
    if stands == Stands::InJob {
        change(state, |job| {
            let shown: Vec<_> = job.passes.iter().map(|p| job.description(p)).collect();
            set(&mut job.common, "");
            for (pass, shown) in job.passes.iter_mut().zip(shown) {
                set(&mut pass.texts, shown.get(key).unwrap_or_default());
            }
        });
        state.say(words::SHARED_NO_MORE);
    } else {
        change(state, |job| {
            set(&mut job.common, &text);
            set(&mut job.passes[at].texts, "");
            // A pass that names another thing of the shelf takes nothing of the job's.
            if job.description(&job.passes[at]).get(key) != Some(&text) {
                set(&mut job.passes[at].texts, &text);
            }
        });
        state.say(words::SHARED);
    }
}

/// Names the open pass.
pub(super) fn rename(state: &mut ScreenState, name: &str) {
    let at = state.at;
    change(state, |job| name.clone_into(&mut job.passes[at].name));
}

fn kept(state: &ScreenState) -> Snapshot {
    Snapshot {
        job: state.job.clone(),
        at: state.at,
        system: state.system,
        station: state.station,
        rows: state.rows,
        shelves: state.shelf.shared(),
    }
}

/// Keeps what is there, so that it can be brought back.
pub(super) fn keep(state: &mut ScreenState) {
    if state.past.len() == KEPT {
        state.past.remove(0);
    }
    let now = kept(state);
    state.past.push(now);
    state.future.clear();
}

pub(super) fn undo(state: &mut ScreenState) -> Effect {
    let Some(then) = state.past.pop() else {
        state.say(words::NO_PAST);
        return Effect::Draw;
    };
    let now = kept(state);
    state.future.push(now);
    bring_back(state, then, words::UNDONE)
}

pub(super) fn redo(state: &mut ScreenState) -> Effect {
    let Some(then) = state.future.pop() else {
        state.say(words::NO_FUTURE);
        return Effect::Draw;
    };
    let now = kept(state);
    state.past.push(now);
    bring_back(state, then, words::REDONE)
}

/// Nothing that is kept brings back an earlier shop: this one is another copy's.
pub(super) fn forget_shelves(state: &mut ScreenState) {
    let now = state.shelf.shared();
    for kept in state.past.iter_mut().chain(&mut state.future) {
        kept.shelves = Rc::clone(&now);
    }
    let same = |a: &mut Snapshot, b: &mut Snapshot| a.job == b.job && a.system == b.system;
    state.past.dedup_by(same);
    state.future.dedup_by(same);
    let open = (&state.job, state.system);
    state.past.pop_if(|last| (&last.job, last.system) == open);
    state.future.pop_if(|last| (&last.job, last.system) == open);
}

/// What a shelf was is saved at once, as every change of it.
fn bring_back(state: &mut ScreenState, then: Snapshot, said: &str) -> Effect {
    let effect = if *then.shelves == *state.shelf.shop() {
        Effect::Draw
    } else {
        Effect::KeepShop
    };
    if then.job.example && state.filed.file.is_none() {
        state.filed.saved = then.job.clone();
    }
    if state.at != then.at {
        state.live.forget();
    }
    state.job = then.job;
    state.at = then.at;
    if state.system != then.system {
        state.system = then.system;
        state.plan_in_system();
    }
    state.station = then.station;
    state.rows = then.rows;
    if effect == Effect::KeepShop {
        state.shelf.put(then.shelves);
        state.see_shop();
    }
    state.work_out();
    state.say(said);
    effect
}
