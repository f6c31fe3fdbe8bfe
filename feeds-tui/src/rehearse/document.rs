//! The rehearsal as scripts read it; the order of keys is fixed.

use super::answered::{FeedFound, Rehearsed};
use super::job::RehearsedJob;
use super::{decision, notes, remark, text, words};
use crate::object::joined;
use crate::pass::document::{Beside, reason};
use feeds_core::limit::{Check, ENDLESS_MARGIN, State};
use feeds_core::plan::Plan;
use feeds_core::quantity::{Amount, unit};
use feeds_core::rehearsal::ladder::{Blocked, Rung, RungKind};
use feeds_core::rehearsal::measure::Left;
use feeds_core::rehearsal::pair::{CheckPair, Proof};
use feeds_core::rehearsal::{Which, peak};
use feeds_core::symbol::{self as s, System};
use serde_json::{Value, json};

/// A whole job as scripts read it.
pub fn job_document(job: &RehearsedJob, working: bool) -> Value {
    let passes = job.passes.iter().enumerate();
    let times = job.times();
    json!({
        "verdict": job.verdict().word(),
        "job": &job.title,
        "passes": passes
            .map(|(at, pass)| json!({
                "number": at + 1,
                "name": &pass.name,
                "rehearsal": pass.outcome.as_ref().ok().map(|r| document(r, working)),
                "errors": pass.outcome.as_ref().err().into_iter().flatten()
                    .map(ToString::to_string).collect::<Vec<_>>(),
            }))
            .collect::<Vec<_>>(),
        "rung_times": times
            .iter()
            .map(|rung| json!({
                "rung": words::name(rung.kind),
                "time": s::T_CUT.amount(rung.time.value),
                "passes_without_time": rung.without,
            }))
            .collect::<Vec<_>>(),
        "exceptions": job
            .exceptions()
            .into_iter()
            .map(|e| json!({
                "pass": e.pass,
                "rung": words::name(e.kind),
                "blocked": blocked(&Blocked::NoFeed {
                    least: e.least,
                    most: e.most,
                }),
            }))
            .collect::<Vec<_>>(),
    })
}

fn um(si: f64) -> Amount {
    Amount::of(si, &unit::MICROMETRE)
}

/// The rehearsal as scripts read it.
pub fn document(r: &Rehearsed, working: bool) -> Value {
    let share = |share: f64| s::OVERRIDE.amount(share);
    json!({
        "verdict": decision::verdict(r).word(),
        "because": decision::reasons(r)
            .iter()
            .map(|(which, check)| {
                let run = match which {
                    Which::Production => "production",
                    Which::StandIn => "stand_in",
                };
                joined(json!({ "run": run }), reason(check))
            })
            .collect::<Vec<_>>(),
        "programmed": {
            "spindle_speed": s::N.amount(r.runs.n.turns().value),
            "feed_speed": s::V_F.amount(r.runs.v_f.value),
        },
        "overrides": { "spindle": share(r.dial.spindle), "feed": share(r.dial.feed) },
        "override_range": { "least": share(r.range.least), "most": share(r.range.most) },
        "production": r.production.document(Beside::working(working)),
        "stand_in": r.stand_in.document(Beside::working(working)),
        "at_the_machine": {
            "production": running(&r.now),
            "stand_in": running(&r.stand_in.plan),
        },
        "ratios": {
            "force": r.ratios.force,
            "torque": r.ratios.torque,
            "bending": r.ratios.bending,
            "chip": r.ratios.chip,
            "heat": r.ratios.heat,
            "hold": r.ratios.hold,
        },
        "pairs": r.pairs.iter().map(pair).collect::<Vec<_>>(),
        "never_proven": words::NEVER,
        "equal_force": r.equal_force.as_ref().map(found),
        "equal_depth": r.equal_depth.map(|a_p| s::A_P.amount(a_p.value)),
        "lowest_feed": {
            "production": r.lowest[0].as_ref().map(found),
            "stand_in": r.lowest[1].as_ref().map(found),
        },
        "ladder": r.ladder.iter().map(|rung| rung_document(r, rung)).collect::<Vec<_>>(),
        "wall": {
            "production": r.left[0].as_ref().map(wall),
            "stand_in": r.left[1].as_ref().map(wall),
        },
        "measured": r.measured.as_ref().map(measured),
        "remark": remark::remark(r, System::Metric),
        "order": &r.order,
        "notes": notes::notes(r, System::Metric),
    })
}

fn running(plan: &Plan) -> Value {
    json!({
        "spindle_speed": s::N.amount(plan.n.turns().value),
        "feed_speed": s::V_F.amount(plan.v_f.value),
        "feed_per_tooth": s::F_Z.amount(plan.f_z.value),
        "chip_max": um(plan.h_max.value),
        "chip_floor": plan.h_min.map(|h| um(h.value)),
        "rubbing_share": plan.rubbing.map(|share| s::RUBBING.amount(share)),
        "lateral_force_peak": peak(plan).map(|f| s::F_XY.amount(f)),
        "governs": plan.governs().map(|c| c.limit.name),
        "state": plan.governs().map(|c| c.state().word()),
    })
}

fn side(check: &Check) -> Value {
    json!({
        "state": check.state().word(),
        "value": check.value(),
        "bound": check.bound(),
        "margin": check.margin().filter(|m| *m > ENDLESS_MARGIN),
    })
}

fn pair(pair: &CheckPair) -> Value {
    let (verdict, share, why) = match pair.verdict {
        Proof::Proven => ("proven", Some(1.0), None),
        Proof::Partly(share) => ("partly", Some(share), None),
        Proof::NotProven(why) => ("not proven", None, Some(text::why(why))),
        Proof::Same => ("same in both", None, None),
    };
    json!({
        "limit": pair.limit.name,
        "verdict": verdict,
        "share": share,
        "why": why,
        "production": side(&pair.production),
        "rehearsal": pair.rehearsal.as_ref().map(side),
    })
}

fn found(found: &FeedFound) -> Value {
    json!({
        "feed_per_tooth": s::F_Z.amount(found.f_z.value),
        "feed_override": s::OVERRIDE.amount(found.feed),
        "within_overrides": found.within,
        "over": found.over.iter().map(|l| l.name).collect::<Vec<_>>(),
        "rescale": (!found.within).then_some(json!({ "s": 1.0, "f": found.feed })),
    })
}

fn rung_document(r: &Rehearsed, rung: &Rung) -> Value {
    let setting = rung.setting.as_ref().ok();
    let cutting = setting.filter(|_| rung.kind != RungKind::Air);
    let plan = setting.map(|s| &s.plan);
    let cuts = cutting.map(|s| &s.plan);
    let over = |p: &Plan| -> Vec<&'static str> {
        let over = p.checks.iter().filter(|c| c.state() == State::Over);
        over.map(|c| c.limit.name).collect()
    };
    json!({
        "rung": words::name(rung.kind),
        "spindle_speed": plan.map(|p| s::N.amount(p.n.turns().value)),
        "feed_speed": plan.map(|p| s::V_F.amount(p.v_f.value)),
        "spindle_override": setting.map(|x| s::OVERRIDE.amount(x.dial.spindle)),
        "feed_override": setting.map(|x| s::OVERRIDE.amount(x.dial.feed)),
        "within_overrides": setting.map(|x| x.within),
        "depth": cutting.map(|x| s::A_P.amount(x.a_p.value)),
        "width": cutting.map(|x| s::A_E.amount(x.a_e.value)),
        "feed_per_tooth": cuts.map(|p| s::F_Z.amount(p.f_z.value)),
        "chip_max": cuts.map(|p| um(p.h_max.value)),
        "chip_floor": cuts.and_then(|p| p.h_min).map(|h| um(h.value)),
        "force_share": cutting.and_then(|x| x.force_share),
        "time": r
            .length
            .zip(setting)
            .map(|(length, x)| s::T_CUT.amount(x.time(length).value)),
        "over": cuts.map(over).unwrap_or_default(),
        "capped_by": setting.and_then(|x| x.capped).map(|end| end.limit.name),
        "blocked": rung.setting.as_ref().err().map(blocked),
        "proves": words::proves(rung.kind),
        "stop": words::stop(rung.kind),
    })
}

fn blocked(why: &Blocked) -> Value {
    let end = |end: &feeds_core::plan::interval::FeedEnd| {
        json!({
            "limit": end.limit.name,
            "moment": end.moment.words(),
            "feed_per_tooth": s::F_Z.amount(end.f_z.value),
        })
    };
    match why {
        Blocked::NoFeed { least, most } => json!({
            "needs": null,
            "least": end(least),
            "most": end(most),
        }),
        Blocked::Needs(what) => json!({ "needs": what, "least": null, "most": null }),
    }
}

fn wall(left: &Left) -> Value {
    json!({
        "bottom": um(left.bottom.value),
        "top": um(left.top.value),
        "taper": s::PHI_S.amount(left.taper.value),
        "slot_bottom": left.slot.map(|[bottom, _]| s::D.amount(bottom.value)),
        "slot_top": left.slot.map(|[_, top]| s::D.amount(top.value)),
    })
}

fn measured(m: &super::answered::Measured) -> Value {
    let c = m.corrected.as_ref();
    json!({
        "value": um(m.measured.value),
        "at": c.map(|c| if c.at_top { "top" } else { "bottom" }),
        "scale": c.map(|c| c.scale),
        "machine_stiffness": c
            .and_then(|c| c.stiffness)
            .map(|k| s::STIFFNESS.amount(k.value)),
        "production_bottom": c.map(|c| um(c.bottom.value)),
        "production_top": c.map(|c| um(c.top.value)),
        "production_tip": c.map(|c| um(c.tip.value)),
    })
}
