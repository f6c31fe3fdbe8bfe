//! The view of the features: what is on the drawing, each with its plans, the one in the job first.
//! The walk can begin here, before any cutter is chosen.

use super::ask::{Prompt, Purpose};
use super::edit::change_and_open;
use super::effect::Effect;
use super::job::open;
use super::message::Action;
use super::planning::{self, PlanWanted};
use super::state::{Over, ScreenState, View};
use super::update::moved;
use super::words;
use crate::feature::{
    FeatureAsked, FeaturePlans, into_job, line_of, plan_line, plans_of, put, read_line, take,
};
use crate::pass::field::{Key, Station};
use crate::store::job::{Job, JobFeature};
use feeds_core::error::EntryError;
use feeds_core::verdict::Verdict;

/// The features as the view shows them.
#[derive(Clone, Debug, Default)]
pub struct FeatureView {
    /// The marked line.
    pub at: usize,
    /// The lines.
    pub lines: Vec<FeatureLine>,
    /// Plans that were worked out, with the feature and the job they are of.
    known: Vec<(JobFeature, Job, FeaturePlans)>,
}

/// A line of the view.
#[derive(Clone, Debug)]
pub struct FeatureLine {
    /// The feature it is of.
    pub feature: usize,
    /// The plan it is, if it is one; the first is the one in the job.
    pub plan: Option<usize>,
    /// What it says.
    pub text: String,
    /// What that plan comes to.
    pub verdict: Option<Verdict>,
}

/// What is asked for.
pub(super) fn ask(state: &mut ScreenState, at: Option<usize>) {
    let feature = at.and_then(|at| state.job.features.get(at));
    let line = feature.map_or(String::new(), line_of);
    let purpose = at.map_or(Purpose::NewFeature, Purpose::ChangedFeature);
    state.ask(words::FEATURE_ASKED, purpose, &line);
}

/// Works the lines out; plans that take long come later.
pub(super) fn work_out(state: &mut ScreenState) {
    planning::begin(state, PlanWanted::Shown);
}

/// Works the lines out as far as they are planned.
pub(super) fn lines(state: &mut ScreenState) {
    let mut lines = Vec::new();
    let system = state.system;
    for at in 0..state.job.features.len() {
        let feature = state.job.features[at].clone();
        let mut line = |plan, text, verdict| {
            lines.push(FeatureLine {
                feature: at,
                plan,
                text,
                verdict,
            });
        };
        line(
            None,
            format!("{}: {}", feature.name, line_of(&feature)),
            None,
        );
        match plans(state, at) {
            Ok(plans) => {
                for (k, plan) in plans.plans.iter().enumerate() {
                    let head = if k == 0 {
                        words::IN_THE_JOB
                    } else {
                        words::INSTEAD
                    };
                    let text = format!("{head} {}", plan_line(plan, system));
                    line(Some(k), text, Some(plan.verdict()));
                    for held in plan.because(system).iter().take(1) {
                        line(Some(k), format!("  {}: {held}", words::LIMITED_BY), None);
                    }
                }
                for text in plans.opens.iter().chain(&plans.notes) {
                    line(None, text.clone(), None);
                }
            }
            Err(_) if state.planning.tries.rests() => {
                line(None, words::BEING_PLANNED.to_owned(), None);
            }
            Err(errors) => {
                for error in errors {
                    line(None, error.to_string(), Some(Verdict::Stop));
                }
            }
        }
    }
    state.features.at = state.features.at.min(lines.len().saturating_sub(1));
    state.features.lines = lines;
}

/// The plans of a feature, worked out once for it and what the passes share.
fn plans(state: &mut ScreenState, at: usize) -> Result<FeaturePlans, Vec<EntryError>> {
    let feature = &state.job.features[at];
    let mut bare = state.job.clone();
    bare.features.clear();
    bare.passes.retain(|pass| feature.stage_of(pass).is_some());
    let known = state.features.known.iter();
    if let Some((.., plans)) = known
        .into_iter()
        .find(|(f, job, _)| f == feature && *job == bare)
    {
        return Ok(plans.clone());
    }
    let tries = &mut state.planning.tries;
    let (_, plans) = plans_of(&state.job, at, &state.shop, tries)?;
    let feature = feature.clone();
    let known = &mut state.features.known;
    known.retain(|(other, ..)| other.name != feature.name);
    known.push((feature, bare, plans.clone()));
    Ok(plans)
}

/// Does what a key of this view is for; `None` if it is a key of every view.
pub(super) fn act(state: &mut ScreenState, action: Action) -> Option<Effect> {
    let marked = state.features.lines.get(state.features.at).cloned();
    match (action, marked) {
        (
            Action::Down
            | Action::Up
            | Action::First
            | Action::Last
            | Action::PageDown
            | Action::PageUp,
            _,
        ) => {
            let count = state.features.lines.len();
            state.features.at = moved(state.features.at, count, action);
        }
        (Action::Add, _) if state.job.example => state.say(words::NOT_IN_EXAMPLE),
        (Action::Add, _) => ask(state, None),
        (Action::Open, Some(line)) => match line.plan {
            None => ask(state, Some(line.feature)),
            Some(0) => first_pass(state, line.feature),
            Some(plan) => planning::begin(state, PlanWanted::Instead(line.feature, plan)),
        },
        (Action::Clear, Some(line)) => remove(state, line.feature),
        (Action::Open | Action::Clear, None) => state.say(words::NO_FEATURE),
        _ => return None,
    }
    Some(Effect::Draw)
}

/// Opens the first pass of a feature.
fn first_pass(state: &mut ScreenState, at: usize) {
    let feature = &state.job.features[at];
    let mut passes = state.job.passes.iter();
    if let Some(pass) = passes.position(|pass| feature.stage_of(pass).is_some()) {
        state.view = View::Walk;
        open(state, pass);
    }
}

/// Puts another plan in the place of the one in the job.
pub(super) fn instead(state: &mut ScreenState, at: usize, plan: usize) {
    let mut job = state.job.clone();
    match take(&mut job, at, plan, &state.shop, &mut state.planning.tries) {
        Err(_) if state.planning.tries.rests() => {}
        Ok(()) => {
            let open = state.at.min(job.passes.len() - 1);
            change_and_open(state, open, |now| *now = job);
            state.planning.then_say(words::TAKEN);
        }
        Err(errors) => state.say(said(&errors)),
    }
}

/// Takes a feature and its passes out of the job.
fn remove(state: &mut ScreenState, at: usize) {
    let mut job = state.job.clone();
    let feature = job.features.remove(at);
    let kept = |pass: &crate::store::job::Pass| feature.stage_of(pass).is_none();
    if job.passes.iter().any(kept) {
        job.passes.retain(kept);
    }
    let open = state.at.min(job.passes.len() - 1);
    change_and_open(state, open, |now| *now = job);
    state.say(words::REMOVED);
}

fn said(errors: &[EntryError]) -> String {
    let each: Vec<String> = errors.iter().map(ToString::to_string).collect();
    each.join("; ")
}

/// Takes the line that was asked for: the feature is planned and its passes are in the job.
pub(super) fn taken(state: &mut ScreenState, prompt: &Prompt) -> Result<Effect, String> {
    with_feature(state, prompt)?;
    planning::begin(state, PlanWanted::Line(Box::new(prompt.clone())));
    Ok(Effect::Draw)
}

/// The job with the feature of a line in it, not planned yet, and which one it is.
fn with_feature(state: &ScreenState, prompt: &Prompt) -> Result<(Job, usize), String> {
    let text = prompt.line.text().trim();
    let (kind, mut sizes) = read_line(text).map_err(|e| e.to_string())?;
    let mut job = state.job.clone();
    share(&mut job, state.at);
    if let Purpose::ChangedFeature(at) = &prompt.purpose {
        // It stays the one it is, whatever its name was.
        let name = &job.features[*at].name;
        sizes.retain(|size| !size.starts_with("name="));
        sizes.push(format!("name={name}"));
    }
    let (at, _) = put(&mut job, &kind, &sizes, &state.shop).map_err(|e| said(&e))?;
    FeatureAsked::read(&job.features[at]).map_err(|e| said(&e))?;
    Ok((job, at))
}

/// Plans the feature of a line into the job; asks again where that cannot be.
pub(super) fn line(state: &mut ScreenState, prompt: &Prompt) {
    let planned = with_feature(state, prompt).and_then(|(mut job, at)| {
        let planned = into_job(&mut job, at, &state.shop, &mut state.planning.tries);
        planned.map(|_| (job, at)).map_err(|e| said(&e))
    });
    let (mut job, at) = match planned {
        _ if state.planning.tries.rests() => return,
        Ok(planned) => planned,
        Err(wrong) => {
            let mut again = prompt.clone();
            again.error = Some(wrong);
            state.over = Some(Over::Ask(again));
            return;
        }
    };
    let bare = |pass: &crate::store::job::Pass| {
        pass.feature.is_empty() && pass.texts.get(Key::Cutter).is_none() && pass.note.is_empty()
    };
    // The pass that an empty job begins with makes nothing.
    if job.passes.len() > 1 && job.passes.first().is_some_and(bare) {
        job.passes.remove(0);
    }
    let feature = &job.features[at];
    let mut passes = job.passes.iter();
    let open = passes.position(|pass| feature.stage_of(pass).is_some());
    change_and_open(state, open.unwrap_or_default(), |now| *now = job);
    let lines = state.features.lines.iter();
    let line = lines.into_iter().position(|line| line.feature == at);
    state.features.at = line.unwrap_or_default();
    state.planning.then_say(words::PLANNED);
}

/// What a pass says of stock, machine and hold is said of every pass, where nothing is yet.
fn share(job: &mut Job, at: usize) {
    let texts = job.passes[at].texts.clone();
    for (field, text) in texts.iter() {
        let shared = matches!(field.station, Station::Stock | Station::Machine);
        if shared && job.common.get(field.key).is_none() {
            job.common.keep(field, text);
        }
    }
}
