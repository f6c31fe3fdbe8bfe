//! Where nothing runs: how far the tolerance of the wall, or the hold, has to give for a plan that
//! does. Found by planning again; bisected to a tenth.

use super::asked::FeatureAsked;
use super::plan::{FeaturePlan, PlannedPass};
use super::rank::best;
use super::tries::PlanTries;
use crate::pass::field::Key;
use crate::pass::opens;
use crate::pass::resolve::Shelves;
use crate::store::job::Job;
use feeds_core::plan::limits as l;
use feeds_core::quantity::{Amount, Length, Quantity, unit};
use feeds_core::symbol::{self as s, System};
use feeds_core::verdict::{Verdict, because};

/// A step of the search: to a tenth.
const STEP: f64 = 1.1;
/// The most steps: nineteen times what there is.
const MOST: i32 = 31;
/// Tolerances are told in micrometres and forces in ten newtons, rounded up.
const ROUND: (f64, f64) = (1e-6, 10.0);

/// The least change of each that opens the feature, in a clause.
pub(super) fn loosened(
    asked: &FeatureAsked,
    job: &Job,
    shelves: &impl Shelves,
    tries: &mut PlanTries,
    stopped: &FeaturePlan,
) -> Vec<String> {
    let mut found = Vec::new();
    let system = shelves.typed_in();
    let shuts = |limits: &[&'static feeds_core::limit::Limit]| {
        let stops = |pass: &&PlannedPass| pass.verdict() == Verdict::Stop;
        let mut passes = stopped.passes.iter().filter(stops);
        passes.any(|pass| {
            let mut checks = because(&pass.answered.plan.checks);
            checks.any(|check| limits.contains(&check.limit))
        })
    };
    if let Some(wall) = asked.feature.wall.filter(|_| shuts(&[&l::WALL])) {
        let wider = |steps| above(wall.si(), steps, ROUND.0);
        let opens = least(|steps| {
            let mut asked = asked.clone();
            asked.feature.wall = Some(Length::from_si(wider(steps)));
            runs(&asked, job, shelves, tries)
        });
        found.extend(opens.map(|(steps, then)| {
            let tolerance = s::TOLERANCE.show(wider(steps), system);
            told(&format!("a wall tolerance of {tolerance}"), &then, system)
        }));
    }
    let hold = stopped.passes.first();
    let hold = hold.and_then(|pass| pass.answered.resolved.setup.hold);
    let force = hold.and_then(|hold| hold.clamp_force);
    if let Some(force) = force.filter(|_| shuts(&[&l::HOLD, &l::TIPPING])) {
        let harder = |steps| above(force.si(), steps, ROUND.1);
        let opens = least(|steps| {
            let mut job = job.clone();
            let text = Amount::of(harder(steps), &unit::NEWTON).to_string();
            job.common.put(Key::ClampForce, &text);
            runs(asked, &job, shelves, tries)
        });
        found.extend(opens.map(|(steps, then)| {
            let force = s::F_CLAMP.show(harder(steps), system);
            told(&format!("a clamping force of {force}"), &then, system)
        }));
    }
    found
}

/// A value so many steps above another, rounded up.
fn above(here: f64, steps: i32, round: f64) -> f64 {
    (here * STEP.powi(steps) / round - 1e-9).ceil() * round
}

fn told(change: &str, then: &FeaturePlan, system: System) -> String {
    let minutes = s::T_CUT.show(then.time().si(), system);
    format!(
        "{} with {change} (then {}, {minutes})",
        opens::IT_OPENS,
        then.verdict().word()
    )
}

/// The best plan, if it does not stop.
fn runs(
    asked: &FeatureAsked,
    job: &Job,
    shelves: &impl Shelves,
    tries: &mut PlanTries,
) -> Option<FeaturePlan> {
    let plan = best(asked, job, shelves, tries)?;
    (plan.verdict() < Verdict::Stop).then_some(plan)
}

/// The fewest steps that open, and what then runs; none where the most do not.
fn least(mut opens: impl FnMut(i32) -> Option<FeaturePlan>) -> Option<(i32, FeaturePlan)> {
    let (mut shut, mut open) = (0, MOST);
    let mut then = opens(open)?;
    while open - shut > 1 {
        let middle = i32::midpoint(shut, open);
        match opens(middle) {
            Some(plan) => (open, then) = (middle, plan),
            None => shut = middle,
        }
    }
    Some((open, then))
}
