//! A plan in its job: passes that are written, and what was typed by hand since.

use super::advice::Advice;
use super::asked::FeatureAsked;
use super::plan::{FeaturePlan, FeaturePlans, PlannedPass};
use super::rank::planned;
use super::stage::FeatureStage;
use super::tries::PlanTries;
use crate::pass::answered::answered;
use crate::pass::description::Description;
use crate::pass::resolve::Shelves;
use crate::store::job::{Job, JobFeature, NONE, Pass};
use feeds_core::error::{Cause, EntryError};
use feeds_core::feature::level::steps;
use feeds_core::plan::Planner;
use feeds_core::quantity::{Amount, Length, Quantity, Time, mm};
use feeds_core::symbol::{self as s, System};
use feeds_core::verdict::Verdict;

/// The plans of a feature of a job, the one in the job first, with what was typed by hand since.
///
/// # Errors
/// Everything that is missing or wrong, and that no cutter of the shelf gets in.
pub fn plans_of(
    job: &Job,
    at: usize,
    shelves: &impl Shelves,
    tries: &mut PlanTries,
) -> Result<(FeatureAsked, FeaturePlans), Vec<EntryError>> {
    let (asked, mut plans) = as_planned(job, at, shelves, tries)?;
    kept_by_hand(&mut plans, at, job, shelves)?;
    Ok((asked, plans))
}

/// Plans a feature of a job and writes its passes.
///
/// # Errors
/// As [`plans_of`].
pub fn into_job(
    job: &mut Job,
    at: usize,
    shelves: &impl Shelves,
    tries: &mut PlanTries,
) -> Result<FeaturePlans, Vec<EntryError>> {
    let (asked, mut plans) = as_planned(job, at, shelves, tries)?;
    let as_planned = plans.plans.first().cloned();
    kept_by_hand(&mut plans, at, job, shelves)?;
    if let Some(as_planned) = as_planned {
        write(job, at, &asked, &as_planned, &plans, shelves.typed_in());
    }
    Ok(plans)
}

/// Takes another plan of a feature into the job, counted as they are shown.
///
/// # Errors
/// As [`plans_of`], and when there is no such plan.
pub fn take(
    job: &mut Job,
    at: usize,
    which: usize,
    shelves: &impl Shelves,
    tries: &mut PlanTries,
) -> Result<(), Vec<EntryError>> {
    let (_, plans) = as_planned(job, at, shelves, tries)?;
    let Some(plan) = plans.plans.get(which) else {
        let most = plans.plans.len() - 1;
        let said = format!("there are {most} other plans of it, counted from 1: not {which}");
        return Err(vec![EntryError::because(Cause::Bound, said).of("take")]);
    };
    job.features[at].taken = plan.title();
    into_job(job, at, shelves, tries).map(|_| ())
}

/// The plans as they are made, the one that was taken first.
fn as_planned(
    job: &Job,
    at: usize,
    shelves: &impl Shelves,
    tries: &mut PlanTries,
) -> Result<(FeatureAsked, FeaturePlans), Vec<EntryError>> {
    let feature = &job.features[at];
    let asked = FeatureAsked::read(feature)?;
    let mut plans = planned(&asked, job, shelves, tries)?;
    let taken = |plan: &FeaturePlan| plan.title() == feature.taken;
    if let Some(taken) = plans.plans.iter().position(taken) {
        plans.plans[..=taken].rotate_right(1);
    }
    Ok((asked, plans))
}

/// The plan a job is cut by: the first, with what was typed by hand in its passes.
///
/// # Errors
/// When a pass cannot be worked out with what was typed.
fn kept_by_hand(
    plans: &mut FeaturePlans,
    at: usize,
    job: &Job,
    shelves: &impl Shelves,
) -> Result<(), Vec<EntryError>> {
    let feature = &job.features[at];
    let Some(plan) = plans.plans.first_mut() else {
        return Ok(());
    };
    for planned in &mut plan.passes {
        let stage = planned.stage.word();
        let old = job
            .passes
            .iter()
            .find(|pass| feature.stage_of(pass) == Some(stage));
        let typed = old.map(|pass| feature.typed_by_hand(pass));
        if let Some(typed) = typed.filter(|typed| !typed.is_empty()) {
            overlay(planned, &typed, job, shelves)?;
        }
    }
    Ok(())
}

/// The last place of a depth as it is typed, in mm.
const LAST_PLACE: f64 = 1e-3;

/// Puts entries over those of a pass and works it out anew.
fn overlay(
    planned: &mut PlannedPass,
    typed: &Description,
    job: &Job,
    shelves: &impl Shelves,
) -> Result<(), Vec<EntryError>> {
    let mut texts = planned.texts.clone();
    for (field, text) in typed.iter() {
        texts.keep(field, text);
    }
    let pass = Pass::new(planned.stage.word(), texts.clone());
    let before = &planned.answered;
    let answer = answered(&job.description(&pass), shelves, &mut Planner::default())?;
    // A level was rounded up to the last place that is typed.
    let level = before.resolved.setup.cut.a_p - mm(LAST_PLACE);
    let levels = steps(
        level * f64::from(planned.levels),
        answer.resolved.setup.cut.a_p,
    );
    let more = f64::from(levels) / f64::from(planned.levels);
    // The same way at another feed, in another number of levels.
    let longer = more * before.plan.v_f.si() / answer.plan.v_f.si();
    planned.time = Time::from_si(planned.time.si() * longer);
    planned.way.length *= more;
    planned.levels = levels;
    planned.texts = texts;
    planned.answered = answer;
    planned.typed = typed.iter().map(|(field, _)| field.key).collect();
    Ok(())
}

/// Writes the first plan into the job: its passes stand where those of the feature stood, or at the
/// end. What a pass has beside its entries stays: tool, programme, note, what happened.
fn write(
    job: &mut Job,
    at: usize,
    asked: &FeatureAsked,
    planned: &FeaturePlan,
    plans: &FeaturePlans,
    system: System,
) {
    let feature = job.features[at].clone();
    let depth = asked.feature.depth();
    let of_feature = |pass: &Pass| feature.stage_of(pass).is_some();
    let place = job.passes.iter().position(of_feature);
    let place = place.unwrap_or(job.passes.len());
    let (old, mut rest): (Vec<Pass>, Vec<Pass>) = std::mem::take(&mut job.passes)
        .into_iter()
        .partition(of_feature);
    let passes = plans.plans.first().into_iter().flat_map(|p| &p.passes);
    let new: Vec<Pass> = passes
        .map(|pass| of_job(pass, &feature, &old, (depth, system)))
        .collect();
    let place = place.min(rest.len());
    rest.splice(place..place, new);
    job.passes = rest;
    job.features[at].planned = planned
        .passes
        .iter()
        .map(|pass| (pass.stage.word().to_owned(), texts(&pass.texts)))
        .collect();
    let plan = plans.plans.first().into_iter();
    job.features[at].advice = plan
        .flat_map(|plan| plan.passes.iter().map(|pass| (pass, plan.advice(pass))))
        .filter(|(_, advice)| !advice.is_empty())
        .map(|(pass, advice)| {
            let says = advice.into_iter().map(Advice::written).collect();
            (pass.stage.word().to_owned(), says)
        })
        .collect();
}

fn texts(texts: &Description) -> Vec<(String, String)> {
    let texts = texts.iter();
    texts
        .map(|(field, text)| (field.key.to_owned(), text.to_owned()))
        .collect()
}

/// A pass of the job from one of the plan.
fn of_job(
    planned: &PlannedPass,
    feature: &JobFeature,
    old: &[Pass],
    (depth, system): (Length, System),
) -> Pass {
    let mark = feature.mark(planned.stage.word());
    let mut pass = old
        .iter()
        .find(|pass| pass.feature == mark)
        .cloned()
        .unwrap_or_else(|| Pass::new(&mark, Description::default()));
    pass.texts = planned.texts.clone();
    pass.feature = mark;
    // What it meets is planned already.
    NONE.clone_into(&mut pass.follows);
    let typed = |amount: Amount| system.shown(amount).to_string();
    pass.length = typed(s::L.amount(planned.way.length.si()));
    let whole = match planned.stage {
        FeatureStage::Floor => depth,
        _ => planned.top,
    };
    pass.in_all = if planned.levels > 1 {
        typed(s::A_P.amount(whole.si()))
    } else {
        String::new()
    };
    pass
}

/// Whether the plan of the job stops.
pub(super) fn stops(plans: &FeaturePlans) -> bool {
    let first = plans.plans.first();
    first.is_some_and(|plan| plan.verdict() == Verdict::Stop)
}
