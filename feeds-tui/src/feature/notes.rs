//! What is said of a plan as a whole: what was decided that nobody asked for, what fell out, how
//! the part is taken to stand.

use super::asked::FeatureAsked;
use super::cutters::Shelved;
use super::plan::FeaturePlan;
use super::stage::GoesIn;
use crate::pass::description::Description;
use crate::sheet::side::{PassDepths, SideView};
use feeds_core::feature::outline::Outline;
use feeds_core::feature::{FeatureKind, Form};
use feeds_core::quantity::{Length, Quantity};
use feeds_core::symbol::{self as s, System};

/// What was decided that nobody asked for, and what fell out.
pub(super) fn notes(
    asked: &FeatureAsked,
    shelved: &Shelved,
    plan: &FeaturePlan,
    (common, system): (&Description, System),
) -> Vec<String> {
    let mut notes = Vec::new();
    let rough = &plan.passes[0];
    if asked.way_in.is_none() && asked.feature.kind != FeatureKind::Face {
        notes.push(format!(
            "way in chosen: {}; entry= says another",
            rough.way_in.says()
        ));
    }
    if rough.way_in == GoesIn::Plunge {
        notes.push("straight down needs an end that cuts to its centre".to_owned());
    }
    let wider = |(_, d, _): &(String, Length, Length)| *d > rough.diameter;
    if shelved.short.first().is_some_and(wider) {
        notes.extend(shelved.too_short(asked.feature.depth(), system));
    }
    // What was typed for all passes and is out of the ordinary.
    let of_pass = |symbol| rough.texts.iter().any(|(f, _)| f.symbol() == Some(symbol));
    let doubts = rough.answered.resolved.doubts.iter();
    let doubts = doubts.filter(|doubt| !of_pass(doubt.symbol));
    notes.extend(doubts.map(|doubt| doubt.text.clone()));
    let hold = rough.answered.resolved.setup.hold.as_ref();
    if let Some(height) = hold.and_then(|hold| hold.height) {
        let above = height + asked.feature.depth();
        let show = |h: Length| s::A_P.show(h.si(), system);
        let foot = match asked.feature.kind {
            FeatureKind::Outside | FeatureKind::Surface => "foot",
            _ => "floor",
        };
        notes.push(format!(
            "reckoned with its {foot} {} above the jaws (height) and its top {}",
            show(height),
            show(above)
        ));
    }
    if matches!(asked.feature.form, Form::Domed(_)) {
        notes.push("curved across its width alone, straight along its length".to_owned());
    }
    if plan.leaves_corners()
        && let Form::Straight(Outline::Rectangle(_, corner), _) = asked.feature.form
    {
        notes.push(format!(
            "corners stay rounder than drawn: no cutter of the shelf of at most {} reaches the \
             floor",
            s::D.show(2.0 * corner.si(), system)
        ));
    }
    notes.extend(into_the_jaws(asked, plan, common, system));
    notes
}

/// Says where the foot of an outside wall lies below the jaws.
fn into_the_jaws(
    asked: &FeatureAsked,
    plan: &FeaturePlan,
    common: &Description,
    system: System,
) -> Option<String> {
    let rough = plan.passes.first()?;
    let depths = PassDepths {
        begins: 0.0,
        in_all: Some(asked.feature.depth().si()),
    };
    let side = SideView::of(&rough.answered, common, depths, system);
    // Where no place is given, jaws are drawn where the hold says.
    side.zero
        .filter(|_| asked.feature.kind == FeatureKind::Outside)?;
    let jaws = side.jaws.iter().map(|jaw| jaw.z[1]);
    let beyond = jaws.fold(f64::NEG_INFINITY, f64::max) - side.tip.1;
    (beyond > 0.0).then(|| {
        format!(
            "the jaws stand {} higher than the foot of the wall: the cutter meets them; hold the \
             part higher, or by another face",
            s::A_P.show(beyond * 1e-3, system)
        )
    })
}
