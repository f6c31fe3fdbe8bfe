//! The plans of features as people read them.

use super::plan::{FeaturePlan, FeaturePlans, PlannedPass};
use crate::pass::text::line;
use crate::words::count;
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, System};
use feeds_core::verdict::Verdict;

/// Features with their plans.
pub fn text(features: &[FeaturePlans], system: System) -> String {
    let each = features.iter().map(|plans| feature(plans, system));
    each.collect::<Vec<_>>().join("\n")
}

fn feature(plans: &FeaturePlans, system: System) -> String {
    let mut out = String::new();
    let volume = s::VOLUME.show(plans.volume.si(), system);
    let head = format!("{}: {}, {volume} to remove", plans.name, plans.kind);
    line(&mut out, "", &head);
    for (at, plan) in plans.plans.iter().enumerate() {
        let number = if at == 0 {
            "  in the job: ".to_owned()
        } else {
            format!("  instead {at}:  ")
        };
        line(&mut out, &number, &plan_line(plan, system));
        if at == 0 {
            for pass in &plan.passes {
                let head = format!("    {:11} ", pass.stage.word());
                line(&mut out, &head, &of_pass(plan, pass, system));
                // What asks for care stands below, with what else holds the plan back.
                let minds = plan.advice(pass).into_iter().filter(|a| !a.cares());
                let says: Vec<String> = minds.map(|advice| advice.says(system)).collect();
                if !says.is_empty() {
                    line(&mut out, "                ", &says.join("; "));
                }
            }
        }
        for held in plan.because(system).iter().take(HELD) {
            line(&mut out, "    what limits it: ", held);
        }
        if let Some(instead) = &plan.instead {
            line(&mut out, "    why so many:    ", instead);
        }
    }
    for opens in &plans.opens {
        line(&mut out, "  nothing runs: ", opens);
    }
    for note in &plans.notes {
        line(&mut out, "  - ", note);
    }
    out
}

/// How many passes of a plan that do not run are named.
const HELD: usize = 3;

/// A plan in a line.
pub fn plan_line(plan: &FeaturePlan, system: System) -> String {
    let cutters: Vec<&str> = plan.passes.iter().map(PlannedPass::cutter).collect();
    let first = cutters.first().copied().unwrap_or_default();
    let leaves = if plan.leaves.si() > 0.0 && rounded(plan.leaves.si()) {
        let left = s::VOLUME.show(plan.leaves.si(), system);
        format!(", leaves {left} in the corners")
    } else {
        String::new()
    };
    let levels = plan.passes.first().map_or(1, |pass| pass.levels as usize);
    format!(
        "{}  {}  {} with {first} in {}{leaves}",
        plan.verdict().word(),
        s::T_CUT.show(plan.time().si(), system),
        plan.cuts,
        count(levels, "level", "levels"),
    )
}

/// Whether a volume shows at all: a twentieth of a cubic millimetre and more.
fn rounded(si: f64) -> bool {
    si > 5e-11
}

/// A pass in a line; what was typed by hand has a mark.
fn of_pass(of: &FeaturePlan, pass: &PlannedPass, system: System) -> String {
    let setup = &pass.answered.resolved.setup;
    let plan = &pass.answered.plan;
    let mut parts = vec![
        pass.cutter().to_owned(),
        format!(
            "out {}",
            s::STICK_OUT.show(setup.cutter.stick_out.si(), system)
        ),
        format!(
            "{} of {}",
            count(pass.levels as usize, "level", "levels"),
            s::A_P.show(setup.cut.a_p.si(), system)
        ),
        format!("width {}", s::A_E.show(setup.a_e().si(), system)),
        pass.way_in.says().to_owned(),
    ];
    if pass.verdict() != Verdict::Stop {
        parts.push(format!(
            "S {} F {}",
            s::N.show(plan.n.turns().si(), system),
            s::V_F.show(plan.v_f.si(), system)
        ));
    }
    parts.push(s::T_CUT.show(pass.time.si(), system));
    if !pass.typed.is_empty() {
        parts.push(format!("typed by hand: {}", pass.typed.join(", ")));
    }
    parts.push(of.verdict_of(pass).word().to_owned());
    parts.join(", ")
}
