//! The rehearsal as scripts read it; the order of keys is fixed.

use super::answered::{FeedFound, Rehearsed};
use super::job::RehearsedJob;
use super::order::StockOrder;
use super::{decision, notes, remark, text, words};
use crate::pass::document::{BecauseDocument, PassAnswer, reason};
use feeds_core::limit::{Check, ENDLESS_MARGIN, State};
use feeds_core::plan::Plan;
use feeds_core::quantity::{Amount, unit};
use feeds_core::rehearsal::ladder::{Blocked, Rung, RungKind};
use feeds_core::rehearsal::measure::Left;
use feeds_core::rehearsal::pair::{CheckPair, Proof};
use feeds_core::rehearsal::{Which, peak};
use feeds_core::symbol::{self as s, System};
use serde::Serialize;

/// The rehearsal as scripts read it.
#[derive(Debug, Serialize)]
pub struct RehearsalDocument<'a> {
    verdict: &'static str,
    because: Vec<RunBecause>,
    programmed: Programmed,
    overrides: Overrides,
    override_range: Ends,
    production: PassAnswer<'a>,
    stand_in: PassAnswer<'a>,
    at_the_machine: AtMachine,
    ratios: RatioDocument,
    pairs: Vec<PairDocument>,
    never_proven: &'static [&'static str],
    equal_force: Option<FoundDocument>,
    equal_depth: Option<Amount>,
    lowest_feed: Lowest,
    ladder: Vec<RungDocument>,
    wall: Walls,
    measured: Option<MeasuredDocument>,
    remark: Vec<String>,
    order: &'a StockOrder,
    notes: Vec<String>,
}

/// A check that the verdict rests on, with the run it is of.
#[derive(Debug, Serialize)]
struct RunBecause {
    run: &'static str,
    #[serde(flatten)]
    because: BecauseDocument,
}

#[derive(Debug, Serialize)]
struct Programmed {
    spindle_speed: Amount,
    feed_speed: Amount,
}

#[derive(Debug, Serialize)]
struct Overrides {
    spindle: Amount,
    feed: Amount,
}

#[derive(Debug, Serialize)]
struct Ends {
    least: Amount,
    most: Amount,
}

#[derive(Debug, Serialize)]
struct AtMachine {
    production: Running,
    stand_in: Running,
}

#[derive(Debug, Serialize)]
struct Running {
    spindle_speed: Amount,
    feed_speed: Amount,
    feed_per_tooth: Amount,
    chip_max: Amount,
    chip_floor: Option<Amount>,
    rubbing_share: Option<Amount>,
    lateral_force_peak: Option<Amount>,
    governs: Option<&'static str>,
    state: Option<&'static str>,
}

#[derive(Debug, Serialize)]
struct RatioDocument {
    force: Option<f64>,
    torque: Option<f64>,
    bending: Option<f64>,
    chip: Option<f64>,
    heat: Option<f64>,
    hold: Option<f64>,
}

#[derive(Debug, Serialize)]
struct PairDocument {
    limit: &'static str,
    verdict: &'static str,
    share: Option<f64>,
    why: Option<String>,
    production: SideDocument,
    rehearsal: Option<SideDocument>,
}

#[derive(Debug, Serialize)]
struct SideDocument {
    state: &'static str,
    value: Option<Amount>,
    bound: Option<Amount>,
    margin: Option<f64>,
}

#[derive(Debug, Serialize)]
struct FoundDocument {
    feed_per_tooth: Amount,
    feed_override: Amount,
    within_overrides: bool,
    over: Vec<&'static str>,
    rescale: Option<Rescale>,
}

#[derive(Debug, Serialize)]
struct Rescale {
    s: f64,
    f: f64,
}

#[derive(Debug, Serialize)]
struct Lowest {
    production: Option<FoundDocument>,
    stand_in: Option<FoundDocument>,
}

#[derive(Debug, Serialize)]
struct RungDocument {
    rung: &'static str,
    spindle_speed: Option<Amount>,
    feed_speed: Option<Amount>,
    spindle_override: Option<Amount>,
    feed_override: Option<Amount>,
    within_overrides: Option<bool>,
    depth: Option<Amount>,
    width: Option<Amount>,
    feed_per_tooth: Option<Amount>,
    chip_max: Option<Amount>,
    chip_floor: Option<Amount>,
    force_share: Option<f64>,
    time: Option<Amount>,
    over: Vec<&'static str>,
    capped_by: Option<&'static str>,
    blocked: Option<BlockedDocument>,
    proves: &'static str,
    stop: &'static str,
}

#[derive(Debug, Serialize)]
struct BlockedDocument {
    needs: Option<&'static str>,
    least: Option<EndDocument>,
    most: Option<EndDocument>,
}

#[derive(Debug, Serialize)]
struct EndDocument {
    limit: &'static str,
    moment: &'static str,
    feed_per_tooth: Amount,
}

#[derive(Debug, Serialize)]
struct Walls {
    production: Option<WallDocument>,
    stand_in: Option<WallDocument>,
}

#[derive(Debug, Serialize)]
struct WallDocument {
    bottom: Amount,
    top: Amount,
    taper: Amount,
    slot_bottom: Option<Amount>,
    slot_top: Option<Amount>,
}

#[derive(Debug, Serialize)]
struct MeasuredDocument {
    value: Amount,
    at: Option<&'static str>,
    scale: Option<f64>,
    machine_stiffness: Option<Amount>,
    production_bottom: Option<Amount>,
    production_top: Option<Amount>,
    production_tip: Option<Amount>,
}

/// A whole job as scripts read it.
#[derive(Debug, Serialize)]
pub struct JobDocument<'a> {
    verdict: &'static str,
    job: &'a str,
    passes: Vec<JobPass<'a>>,
    rung_times: Vec<RungTimeDocument>,
    exceptions: Vec<ExceptionDocument<'a>>,
}

#[derive(Debug, Serialize)]
struct JobPass<'a> {
    number: usize,
    name: &'a str,
    rehearsal: Option<RehearsalDocument<'a>>,
    errors: Vec<String>,
}

#[derive(Debug, Serialize)]
struct RungTimeDocument {
    rung: &'static str,
    time: Amount,
    passes_without_time: usize,
}

#[derive(Debug, Serialize)]
struct ExceptionDocument<'a> {
    pass: &'a str,
    rung: &'static str,
    blocked: BlockedDocument,
}

/// A whole job as scripts read it.
pub fn job_document(job: &RehearsedJob, working: bool) -> JobDocument<'_> {
    let passes = job.passes.iter().enumerate();
    let times = job.times();
    JobDocument {
        verdict: job.verdict().word(),
        job: &job.title,
        passes: passes
            .map(|(at, pass)| JobPass {
                number: at + 1,
                name: &pass.name,
                rehearsal: pass.outcome.as_ref().ok().map(|r| document(r, working)),
                errors: match &pass.outcome {
                    Ok(_) => Vec::new(),
                    Err(errors) => errors.iter().map(ToString::to_string).collect(),
                },
            })
            .collect(),
        rung_times: times
            .iter()
            .map(|rung| RungTimeDocument {
                rung: words::name(rung.kind),
                time: s::T_CUT.amount(rung.time.value),
                passes_without_time: rung.without,
            })
            .collect(),
        exceptions: job
            .exceptions()
            .into_iter()
            .map(|e| ExceptionDocument {
                pass: e.pass,
                rung: words::name(e.kind),
                blocked: blocked(&Blocked::NoFeed {
                    least: e.least,
                    most: e.most,
                }),
            })
            .collect(),
    }
}

fn um(si: f64) -> Amount {
    Amount::of(si, &unit::MICROMETRE)
}

/// The rehearsal as scripts read it.
pub fn document(r: &Rehearsed, working: bool) -> RehearsalDocument<'_> {
    let share = |share: f64| s::OVERRIDE.amount(share);
    RehearsalDocument {
        verdict: decision::verdict(r).word(),
        because: decision::reasons(r)
            .iter()
            .map(|(which, check)| RunBecause {
                run: match which {
                    Which::Production => "production",
                    Which::StandIn => "stand_in",
                },
                because: reason(check),
            })
            .collect(),
        programmed: Programmed {
            spindle_speed: s::N.amount(r.runs.n.turns().value),
            feed_speed: s::V_F.amount(r.runs.v_f.value),
        },
        overrides: Overrides {
            spindle: share(r.dial.spindle),
            feed: share(r.dial.feed),
        },
        override_range: Ends {
            least: share(r.range.least),
            most: share(r.range.most),
        },
        production: r.production.document(working),
        stand_in: r.stand_in.document(working),
        at_the_machine: AtMachine {
            production: running(&r.now),
            stand_in: running(&r.stand_in.plan),
        },
        ratios: RatioDocument {
            force: r.ratios.force,
            torque: r.ratios.torque,
            bending: r.ratios.bending,
            chip: r.ratios.chip,
            heat: r.ratios.heat,
            hold: r.ratios.hold,
        },
        pairs: r.pairs.iter().map(pair).collect(),
        never_proven: words::NEVER,
        equal_force: r.equal_force.as_ref().map(found),
        equal_depth: r.equal_depth.map(|a_p| s::A_P.amount(a_p.value)),
        lowest_feed: Lowest {
            production: r.lowest[0].as_ref().map(found),
            stand_in: r.lowest[1].as_ref().map(found),
        },
        ladder: r.ladder.iter().map(|rung| rung_document(r, rung)).collect(),
        wall: Walls {
            production: r.left[0].as_ref().map(wall),
            stand_in: r.left[1].as_ref().map(wall),
        },
        measured: r.measured.as_ref().map(measured),
        remark: remark::remark(r, System::Metric),
        order: &r.order,
        notes: notes::notes(r, System::Metric),
    }
}

fn running(plan: &Plan) -> Running {
    Running {
        spindle_speed: s::N.amount(plan.n.turns().value),
        feed_speed: s::V_F.amount(plan.v_f.value),
        feed_per_tooth: s::F_Z.amount(plan.f_z.value),
        chip_max: um(plan.h_max.value),
        chip_floor: plan.h_min.map(|h| um(h.value)),
        rubbing_share: plan.rubbing.map(|share| s::RUBBING.amount(share)),
        lateral_force_peak: peak(plan).map(|f| s::F_XY.amount(f)),
        governs: plan.governs().map(|c| c.limit.name),
        state: plan.governs().map(|c| c.state().word()),
    }
}

fn side(check: &Check) -> SideDocument {
    SideDocument {
        state: check.state().word(),
        value: check.value(),
        bound: check.bound(),
        margin: check.margin().filter(|m| *m > ENDLESS_MARGIN),
    }
}

fn pair(pair: &CheckPair) -> PairDocument {
    let (verdict, share, why) = match pair.verdict {
        Proof::Proven => ("proven", Some(1.0), None),
        Proof::Partly(share) => ("partly", Some(share), None),
        Proof::NotProven(why) => ("not proven", None, Some(text::why(why))),
        Proof::Same => ("same in both", None, None),
    };
    PairDocument {
        limit: pair.limit.name,
        verdict,
        share,
        why,
        production: side(&pair.production),
        rehearsal: pair.rehearsal.as_ref().map(side),
    }
}

fn found(found: &FeedFound) -> FoundDocument {
    FoundDocument {
        feed_per_tooth: s::F_Z.amount(found.f_z.value),
        feed_override: s::OVERRIDE.amount(found.feed),
        within_overrides: found.within,
        over: found.over.iter().map(|l| l.name).collect(),
        rescale: (!found.within).then_some(Rescale {
            s: 1.0,
            f: found.feed,
        }),
    }
}

fn rung_document(r: &Rehearsed, rung: &Rung) -> RungDocument {
    let setting = rung.setting.as_ref().ok();
    let cutting = setting.filter(|_| rung.kind != RungKind::Air);
    let plan = setting.map(|s| &s.plan);
    let cuts = cutting.map(|s| &s.plan);
    let over = |p: &Plan| -> Vec<&'static str> {
        let over = p.checks.iter().filter(|c| c.state() == State::Over);
        over.map(|c| c.limit.name).collect()
    };
    RungDocument {
        rung: words::name(rung.kind),
        spindle_speed: plan.map(|p| s::N.amount(p.n.turns().value)),
        feed_speed: plan.map(|p| s::V_F.amount(p.v_f.value)),
        spindle_override: setting.map(|x| s::OVERRIDE.amount(x.dial.spindle)),
        feed_override: setting.map(|x| s::OVERRIDE.amount(x.dial.feed)),
        within_overrides: setting.map(|x| x.within),
        depth: cutting.map(|x| s::A_P.amount(x.a_p.value)),
        width: cutting.map(|x| s::A_E.amount(x.a_e.value)),
        feed_per_tooth: cuts.map(|p| s::F_Z.amount(p.f_z.value)),
        chip_max: cuts.map(|p| um(p.h_max.value)),
        chip_floor: cuts.and_then(|p| p.h_min).map(|h| um(h.value)),
        force_share: cutting.and_then(|x| x.force_share),
        time: r
            .length
            .zip(setting)
            .map(|(length, x)| s::T_CUT.amount(x.time(length).value)),
        over: cuts.map(over).unwrap_or_default(),
        capped_by: setting.and_then(|x| x.capped).map(|end| end.limit.name),
        blocked: rung.setting.as_ref().err().map(blocked),
        proves: words::proves(rung.kind),
        stop: words::stop(rung.kind),
    }
}

fn blocked(why: &Blocked) -> BlockedDocument {
    let end = |end: &feeds_core::plan::interval::FeedEnd| EndDocument {
        limit: end.limit.name,
        moment: end.moment.words(),
        feed_per_tooth: s::F_Z.amount(end.f_z.value),
    };
    match why {
        Blocked::NoFeed { least, most } => BlockedDocument {
            needs: None,
            least: Some(end(least)),
            most: Some(end(most)),
        },
        Blocked::Needs(what) => BlockedDocument {
            needs: Some(what),
            least: None,
            most: None,
        },
    }
}

fn wall(left: &Left) -> WallDocument {
    WallDocument {
        bottom: um(left.bottom.value),
        top: um(left.top.value),
        taper: s::PHI_S.amount(left.taper.value),
        slot_bottom: left.slot.map(|[bottom, _]| s::D.amount(bottom.value)),
        slot_top: left.slot.map(|[_, top]| s::D.amount(top.value)),
    }
}

fn measured(m: &super::answered::Measured) -> MeasuredDocument {
    let c = m.corrected.as_ref();
    MeasuredDocument {
        value: um(m.measured.value),
        at: c.map(|c| if c.at_top { "top" } else { "bottom" }),
        scale: c.map(|c| c.scale),
        machine_stiffness: c
            .and_then(|c| c.stiffness)
            .map(|k| s::STIFFNESS.amount(k.value)),
        production_bottom: c.map(|c| um(c.bottom.value)),
        production_top: c.map(|c| um(c.top.value)),
        production_tip: c.map(|c| um(c.tip.value)),
    }
}
