//! The plans of features as scripts read them.

use super::advice::Advice;
use super::plan::{FeaturePlan, FeaturePlans, PlannedPass};
use super::stage::FeatureStage;
use super::written::stops;
use crate::pass::document::reason;
use crate::pass::field::Key;
use feeds_core::quantity::{Amount, Quantity, unit};
use feeds_core::symbol::{self as s, System};
use feeds_core::verdict::because;
use serde_json::{Value, json};

/// Features with their plans, the first of each the one in the job.
pub fn document(features: &[FeaturePlans]) -> Value {
    json!({ "features": features.iter().map(feature).collect::<Vec<_>>() })
}

fn volume(si: f64) -> Amount {
    Amount::of(si, &unit::CUBIC_MILLIMETRE)
}

fn feature(plans: &FeaturePlans) -> Value {
    json!({
        "name": plans.name,
        "kind": plans.kind,
        "volume": volume(plans.volume.si()),
        "plans": plans.plans.iter().map(plan).collect::<Vec<_>>(),
        "notes": plans.notes,
        "stops": stops(plans),
        "opens": plans.opens,
    })
}

fn plan(plan: &FeaturePlan) -> Value {
    let reasons = plan.passes.iter().flat_map(|pass| {
        let checks = because(&pass.answered.plan.checks);
        checks.map(move |check| {
            let mut reason = reason(check);
            reason["pass"] = pass.stage.word().into();
            reason
        })
    });
    json!({
        "how": plan.how,
        "minutes": minutes(plan.time().si()),
        "verdict": plan.verdict().word(),
        "passes": plan.passes.iter().map(pass).collect::<Vec<_>>(),
        "leaves": volume(plan.leaves.si()),
        "because": reasons.collect::<Vec<_>>(),
        "instead": plan.instead,
        "minds": plan.minds.iter().map(minded).collect::<Vec<_>>(),
    })
}

/// What to mind of a pass, in words.
fn minded((stage, advice): &(FeatureStage, Advice)) -> Value {
    json!({
        "pass": stage.word(),
        "says": advice.says(System::Metric),
        "care": advice.cares(),
    })
}

fn minutes(si: f64) -> Amount {
    Amount::of(si, &unit::MINUTE)
}

fn pass(pass: &PlannedPass) -> Value {
    let setup = &pass.answered.resolved.setup;
    json!({
        "stage": pass.stage.word(),
        "cutter": pass.cutter(),
        "stick_out": s::STICK_OUT.amount(setup.cutter.stick_out.si()),
        "path": pass.texts.get(Key::Path),
        "depth": s::A_P.amount(setup.cut.a_p.si()),
        "levels": pass.levels,
        "width": s::A_E.amount(setup.a_e().si()),
        "entry": pass.way_in.word(),
        "way": s::L.amount(pass.way.length.si()),
        "minutes": minutes(pass.time.si()),
        "verdict": pass.verdict().word(),
        "spindle_speed": s::N.amount(pass.answered.plan.n.turns().si()),
        "feed_speed": s::V_F.amount(pass.answered.plan.v_f.si()),
        "removes": volume(pass.removes.si()),
        "left_wall": s::A_E.amount(pass.left_wall.si()),
        "left_floor": s::A_P.amount(pass.left_floor.si()),
        "spring": pass.spring,
        "typed": pass.typed,
    })
}
