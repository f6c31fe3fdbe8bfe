//! The rehearsal, held against arithmetic of its own on random pairs of stocks.

mod demo;
mod few;
mod random;

use feeds_core::cutter::End;
use feeds_core::kernel::turn::{Law, TurnCut};
use feeds_core::limit::{Bound, Check, Found, State};
use feeds_core::plan::Plan;
use feeds_core::plan::checks::{At, all};
use feeds_core::plan::moments::{Engaged, Moments};
use feeds_core::plan::setup::Setup;
use feeds_core::quantity::{Length, in_mm, mm};
use feeds_core::rehearsal::ladder::{Blocked, RungKind, ladder};
use feeds_core::rehearsal::measure::{corrected, left};
use feeds_core::rehearsal::pair::{CheckPair, Proof, pairs};
use feeds_core::rehearsal::{Dial, DialRange, Runs, Which};
use feeds_core::workpiece::EdgeTerms;
use random::{Random, pair_of_runs};
use std::collections::BTreeMap;
use tests::plain_turn;

fn known(check: &Check) -> Option<(f64, Bound)> {
    match check.found {
        Found::Known { value, bound } => Some((value, bound)),
        Found::Needs(_) => None,
    }
}

/// Judged from values and bounds alone: may this be called proven?
fn may_be_proven(pair: &CheckPair) -> bool {
    let Some(rehearsal) = pair.rehearsal else {
        return false;
    };
    let (Some((asked, _)), Some((tried, bound))) = (known(&pair.production), known(&rehearsal))
    else {
        return false;
    };
    // Common practice: what broke its own bound did not go well, and proves nothing.
    let went_well = match bound {
        Bound::AtMost(most) => tried <= most * (1.0 + 1e-6),
        Bound::AtLeast(least) => tried >= least * (1.0 - 1e-6),
    } || !pair.limit.hard()
        // Nobody gave that bound, and nobody is harmed beyond it.
        || rehearsal.guessed;
    let reached = match bound {
        Bound::AtMost(_) => tried >= asked * (1.0 - 1.001e-3),
        Bound::AtLeast(_) => tried <= asked * (1.0 + 1.002e-3),
    };
    went_well && reached
}

/// Bounds that are rows of the stock: mild steel proves nothing of layered steel's.
const ROWS_OF_THE_STOCK: [&str; 4] = [
    "cutting-speed",
    "machine-limited",
    "feed-band",
    "feed-band-low",
];

/// The checks alone: the interval of feeds takes most of a plan's time.
fn checks(runs: &Runs, which: Which, dial: Dial) -> Vec<Check> {
    let setup = runs.setup(which, dial);
    let (n, v_f) = (setup.given.n.unwrap(), setup.given.v_f.unwrap());
    let f_z = v_f / n.turns() / f64::from(setup.cutter.edges);
    // The largest engaged diameter of a square or rounded end is left at D.
    let d_eff = setup.cutter.diameter;
    let moments = Moments::of(&setup, d_eff);
    let at = At { n, f_z, v_f };
    let mut loadings = runs.model(which).map(|m| m.ready_all(&setup, &moments));
    let loads = loadings.as_mut().map(|l| l.at(at));
    let checks = all(&setup, &moments, loads, d_eff, at);
    checks.iter().copied().collect()
}

/// What no cut proves: the machine's own speeds, how the cutter is made and gets in, and what the
/// book says of anything but a load.
const NO_CUT_PROVES: [&str; 12] = [
    "spindle-speed-most",
    "spindle-speed-least",
    "feed-speed",
    "flute-length",
    "ramp-angle",
    "helix-hole",
    "runout",
    "depth-guide",
    "width-guide",
    "chip-room",
    "stick-out",
    "corner",
];

fn nothing_is_proven_against_its_own_sense(cases: usize) {
    let mut random = Random::new(5);
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    let (mut ceilings, mut floors) = (0, 0);
    for case in 0..cases {
        let (runs, dial) = pair_of_runs(&mut random);
        let production = checks(&runs, Which::Production, Dial::FULL);
        let rehearsal = checks(&runs, Which::StandIn, dial);
        for pair in pairs(&runs, &production, &rehearsal) {
            let name = pair.limit.name;
            let tried = matches!(pair.verdict, Proof::Proven | Proof::Partly(_));
            assert!(
                !tried || !NO_CUT_PROVES.contains(&name),
                "{case}: {name} is tried"
            );
            match pair.verdict {
                Proof::Proven => {
                    assert!(
                        may_be_proven(&pair),
                        "{case}: {name} is not proven: {pair:?}"
                    );
                    let foreign = ROWS_OF_THE_STOCK.contains(&name) && !runs.same_stock();
                    assert!(!foreign, "{case}: {name} is a row of the stock");
                    match known(&pair.production).unwrap().1 {
                        Bound::AtMost(_) => ceilings += 1,
                        Bound::AtLeast(_) => floors += 1,
                    }
                    *counts.entry("proven").or_default() += 1;
                }
                Proof::Partly(share) => {
                    assert!(share > 0.0 && share < 1.0, "{case}: {name}: {share}");
                    *counts.entry("partly").or_default() += 1;
                }
                Proof::NotProven(_) => *counts.entry("not proven").or_default() += 1,
                Proof::Same => {
                    // Of one stock even the low ends of the book are the same in both.
                    let low = ["machine-limited", "feed-band-low"].contains(&name);
                    let same = NO_CUT_PROVES.contains(&name) || (low && runs.same_stock());
                    assert!(same, "{case}: {name} can be tried");
                    *counts.entry("same in both").or_default() += 1;
                }
            }
        }
    }
    // The test would prove nothing if one kind never came up.
    let least = |full: usize| full * cases / 10_000;
    assert!(
        counts.values().all(|&n| n > least(5_000)) && counts.len() == 4,
        "{counts:?}"
    );
    let both = ceilings > least(5_000) && floors > least(2_000);
    assert!(both, "{ceilings} {floors}");
}

/// The largest of a load over the moments of a plan.
fn largest(plan: &Plan, of: impl Fn(&feeds_core::plan::loads::Loads) -> f64) -> f64 {
    plan.moments
        .iter()
        .map(|(_, loads)| of(loads.as_ref().unwrap()))
        .fold(0.0, f64::max)
}

fn shares_are_those_of_the_loads(cases: usize) {
    let mut random = Random::new(17);
    let mut partly = 0;
    for case in 0..cases {
        let (runs, dial) = pair_of_runs(&mut random);
        let p = runs.plan(Which::Production, Dial::FULL).unwrap();
        let r = runs.plan(Which::StandIn, dial).unwrap();
        if p.loads.is_none() || r.loads.is_none() {
            continue;
        }
        let by =
            |of: &dyn Fn(&feeds_core::plan::loads::Loads) -> f64| largest(&r, of) / largest(&p, of);
        let chip = |plan: &Plan| {
            let chips = plan.moments.iter().map(|(m, _)| in_mm(m.h_max(plan.f_z)));
            chips.fold(f64::MAX, f64::min)
        };
        // A lower floor in the stand-in is that much easier to keep.
        let easier = (r.h_min.unwrap_or_default() / p.h_min.unwrap_or_default()).value;
        // Bounds of cutter, part, hold and drives are the same in both runs.
        let expected = [
            ("breakage", by(&|l| l.stress)),
            ("tip-deflection", by(&|l| l.tip)),
            (
                "wall-error",
                by(&|l| l.wall_bottom.abs().max(l.wall_top.abs())),
            ),
            ("hold", by(&|l| l.lateral.hypot(l.lift))),
            ("chip-floor", chip(&p) / chip(&r) * easier.min(1.0)),
        ];
        for pair in pairs(&runs, &p.checks, &r.checks) {
            let Some((_, share)) = expected.iter().find(|(name, _)| *name == pair.limit.name)
            else {
                continue;
            };
            match pair.verdict {
                Proof::Partly(told) => {
                    partly += 1;
                    assert!(
                        (told - share).abs() < 1e-9 && *share < 1.0 - 1e-3,
                        "{case}: {}: {told} is not {share}",
                        pair.limit.name
                    );
                }
                Proof::Proven => {
                    assert!(
                        *share > 1.0 - 1.001e-3,
                        "{case}: {}: {share}",
                        pair.limit.name
                    );
                }
                Proof::Same => panic!("{case}: {} is a load", pair.limit.name),
                Proof::NotProven(_) => {
                    let sides = [Some(pair.production), pair.rehearsal];
                    let open = sides.into_iter().flatten().any(|c| c.margin().is_none());
                    let over = pair.rehearsal.is_none_or(|c| c.state() == State::Over);
                    // A run that only rubs tries no load.
                    let rubs = r
                        .check("chip-floor")
                        .is_some_and(|c| c.state() == State::Over);
                    assert!(
                        open || over || rubs,
                        "{case}: {} says nothing: {pair:?}",
                        pair.limit.name
                    );
                }
            }
        }
    }
    assert!(partly > if cases < 150 { 0 } else { 150 }, "{partly}");
}

/// The peak of plain slices along every edge over the moments: neither the kernel nor its search.
fn plain_peak(runs: &Runs, which: Which, plan: &Plan, f_z: Length) -> f64 {
    let setup = runs.setup(which, Dial::FULL);
    let moments = plan.moments.iter();
    moments
        .map(|(m, _)| plain_loads(&setup, m, in_mm(f_z)).0)
        .fold(0.0, f64::max)
}

/// Largest lateral force, N, and torque, N mm, of plain slices at one moment.
fn plain_loads(setup: &Setup, m: &Engaged, f_z: f64) -> (f64, f64) {
    let peaks = plain_turn::peaks(&plain_cut(setup, m, f_z), &plain_law(setup), 150);
    (peaks.lateral, peaks.torque)
}

/// Force off the wall of an up cut at its bottom and its top, N, by plain slices.
fn plain_wall(setup: &Setup, m: &Engaged, f_z: f64) -> [f64; 2] {
    let (cut, law) = (plain_cut(setup, m, f_z), plain_law(setup));
    let lag = 2.0 * cut.helix.tan() / cut.d;
    [0.0, cut.a_p].map(|height| -plain_turn::load(&cut, &law, lag * height + 1e-7, 400)[1])
}

fn plain_cut(setup: &Setup, m: &Engaged, f_z: f64) -> TurnCut {
    let runout = setup.machine.as_ref().and_then(|m| m.runout);
    TurnCut {
        d: in_mm(setup.cutter.diameter),
        z: setup.cutter.edges,
        helix: setup.cutter.helix.value,
        r_e: in_mm(setup.cutter.corner_radius),
        a_p: in_mm(m.a_p),
        arc: m.arc.value,
        path: m.path,
        f_z,
        tir: runout.map_or(0.0, in_mm),
    }
}

/// The force law of a class, worked out here: the tangent of the row at 0.1 mm, capped in steel;
/// the edge force by its radius, the land, and the end edge where the floor is shallow.
fn plain_law(setup: &Setup) -> Law {
    let (resistance, cutter) = (setup.stock.resistance.unwrap(), &setup.cutter);
    let class = resistance.class_law().unwrap();
    let (kc11, m_c) = (class.hardest.kc11.value * 1e-6, class.hardest.m_c);
    let body = resistance.body.unwrap();
    let hardness = body.hardness.value * 1e-6;
    let tangent = (1.0 - m_c) * kc11 * 0.1_f64.powf(-m_c);
    let k_tc = if class.capped {
        tangent.min(1080.0 + 0.61 * hardness)
    } else {
        tangent
    };
    let radius = cutter.edge_radius.map(in_mm);
    let [along, across] = match class.edge {
        EdgeTerms::Measured {
            along,
            across,
            scale,
        } => {
            let usual = radius.zip(cutter.usual_edge_radius);
            let rounder = usual.map_or(1.0, |(r, usual)| r / in_mm(usual));
            [along, across].map(|k| k.value * 1e-3 * scale * rounder)
        }
        EdgeTerms::Ploughing { along, across } => {
            [along, across].map(|times| times * (300.0 + 0.17 * hardness) * radius.unwrap())
        }
        EdgeTerms::OfRow { share } => [share * kc11 * 0.02_f64.powf(1.0 - m_c); 2],
    };
    let root = (43.0 * hardness / (body.modulus.value * 1e-6)).sqrt();
    let flank = (0.62 * hardness * root).min(0.7 * hardness) * in_mm(resistance.land);
    let (k_te, k_re) = (along + 0.25 * flank, across + flank);
    let (d, a_p) = (in_mm(cutter.diameter), in_mm(setup.cut.a_p));
    let length = match radius {
        Some(radius) if d < 1.0 || a_p < 0.1 => {
            setup.stock.chip_floor * radius / 2.5_f64.to_radians().tan()
        }
        _ => 0.0,
    };
    Law::linear(
        [k_tc, class.k_r * k_tc, class.k_a * k_tc],
        [k_te, k_re, 0.0],
    )
    .with_end([k_te * length, 0.0, -k_re * length])
}

fn equal_force_is_equal_in_the_turn(cases: usize) {
    let mut random = Random::new(29);
    let (mut found, mut run_out, mut rounded) = (0, 0, 0);
    for case in 0..cases {
        let (runs, _) = pair_of_runs(&mut random);
        let production = runs.plan(Which::Production, Dial::FULL).unwrap();
        let Some(f_z) = runs.equal_force(&production) else {
            continue;
        };
        found += 1;
        // Production's plan holds what the kernel's search found there; the same search in the
        // other stock has to find as much.
        let (setup, model) = (
            runs.setup(Which::StandIn, Dial::FULL),
            runs.model(Which::StandIn).unwrap(),
        );
        let moments = production.moments.iter();
        let peaks = moments.map(|(m, _)| model.at(&setup, m, f_z, 1.0).lateral);
        let got = peaks.fold(0.0, f64::max);
        let wanted = largest(&production, |l| l.lateral);
        assert!(
            (got / wanted - 1.0).abs() < 1e-3,
            "{case}: {got} N is not {wanted} N"
        );
        // Slices cost seconds: every fourth.
        if found % 4 == 0 {
            let runs_out = setup.machine.as_ref().is_some_and(|m| m.runout.is_some());
            run_out += usize::from(runs_out);
            rounded += usize::from(setup.cutter.end == End::Corner);
            let wanted = plain_peak(&runs, Which::Production, &production, production.f_z);
            let got = plain_peak(&runs, Which::StandIn, &production, f_z);
            assert!(
                (got / wanted - 1.0).abs() < 1e-3,
                "{case}: {got} N is not {wanted} N, sliced plainly"
            );
        }
        let turns = production.n.turns() * f64::from(setup.cutter.edges);
        let share = (f_z * turns / production.v_f).value;
        assert!((runs.feed_share(f_z, 1.0) / share - 1.0).abs() < 1e-12);
    }
    assert!(
        found > 0 && (cases < 300 || found > 150 && run_out > 20 && rounded > 8),
        "{found} {run_out} {rounded}"
    );
}

fn equal_depth_is_equal_in_the_turn(cases: usize) {
    let mut random = Random::new(31);
    let mut found = 0;
    for case in 0..cases {
        let (runs, _) = pair_of_runs(&mut random);
        let production = runs.plan(Which::Production, Dial::FULL).unwrap();
        let Some(a_p) = runs.equal_depth(&production) else {
            continue;
        };
        found += 1;
        let mut setup = runs.setup(Which::StandIn, Dial::FULL);
        setup.cut.a_p = a_p;
        let plan = runs
            .planner(Which::StandIn)
            .work_out(&setup, &mut feeds_core::notebook::Silent)
            .unwrap();
        let share = largest(&plan, |l| l.lateral) / largest(&production, |l| l.lateral);
        assert!((share - 1.0).abs() < 1e-3, "{case}: {share}");
    }
    assert!(found > if cases < 100 { 0 } else { 30 }, "{found}");
}

fn every_cutting_rung_cuts(cases: usize) {
    let mut random = Random::new(43);
    let (mut cutting, mut blocked, mut capped) = (0, 0, 0);
    for case in 0..cases {
        let (runs, _) = pair_of_runs(&mut random);
        let production = runs.plan(Which::Production, Dial::FULL).unwrap();
        let range = DialRange::default();
        let rungs = ladder(&runs, range, &production).unwrap();
        let kinds: Vec<RungKind> = rungs.iter().map(|r| r.kind).collect();
        assert_eq!(kinds, RungKind::ALL);
        for rung in &rungs {
            let setting = match &rung.setting {
                Ok(setting) => setting,
                Err(Blocked::NoFeed { least, most }) => {
                    blocked += 1;
                    assert!(least.f_z > most.f_z, "{case}: {:?}", rung.kind);
                    assert_eq!(least.limit.name, "chip-floor");
                    continue;
                }
                Err(Blocked::Needs(what)) => {
                    assert!(!what.is_empty());
                    continue;
                }
            };
            // What is dialled is what runs.
            let n = runs.n.in_per_minute() * setting.dial.spindle;
            let v_f = runs.v_f.value * setting.dial.feed;
            assert!((setting.plan.n.in_per_minute() / n - 1.0).abs() < 1e-9);
            assert!((setting.plan.v_f.value / v_f - 1.0).abs() < 1e-9);
            let inside = |share: f64| (0.5 - 1e-9..=1.5 + 1e-9).contains(&share);
            let within = inside(setting.dial.spindle) && inside(setting.dial.feed);
            assert_eq!(setting.within, within);
            let minutes = setting.time(mm(1000.0)).value / 60.0;
            assert!(
                (minutes * v_f * 60.0 - 1.0).abs() < 1e-9,
                "1 m at {v_f} m/s"
            );
            if rung.kind == RungKind::Air {
                continue;
            }
            cutting += 1;
            let setup = runs.setup(rung.kind.stock().unwrap(), setting.dial);
            let floor = in_mm(setup.cutter.edge_radius.unwrap()) * setup.stock.chip_floor;
            for (m, _) in &setting.plan.moments {
                let chip = in_mm(m.h_max(setting.plan.f_z));
                assert!(
                    chip >= floor * (1.0 - 1e-9),
                    "{case}: {:?}: {chip}",
                    rung.kind
                );
            }
            capped += usize::from(setting.capped.is_some());
            match rung.kind {
                RungKind::EqualForce if setting.capped.is_none() => {
                    assert!(setting.force_share.unwrap() > 1.0 - 1e-3, "{case}");
                }
                RungKind::Reduced => {
                    assert!(setting.a_p <= setup.cut.a_p);
                    assert_eq!(setting.a_e, setup.a_e(), "the width stays whole");
                }
                _ => {}
            }
        }
    }
    assert!(
        cutting > 0 && (cases < 100 || cutting > 150 && blocked > 10 && capped > 5),
        "{cutting} {blocked} {capped}"
    );
}

fn what_was_predicted_corrects_nothing(cases: usize) {
    let mut random = Random::new(59);
    let mut found = 0;
    for case in 0..cases {
        let (runs, dial) = pair_of_runs(&mut random);
        let setup = runs.setup(Which::StandIn, dial);
        let plan = runs.plan(Which::StandIn, dial).unwrap();
        let production = runs.plan(Which::Production, Dial::FULL).unwrap();
        let Some(predicted) = left(&runs, Which::StandIn, &setup, &plan) else {
            continue;
        };
        let largest = if predicted.top.abs() > predicted.bottom.abs() {
            predicted.top
        } else {
            predicted.bottom
        };
        let (Some(loads), true) = (production.loads, setup.machine.is_some()) else {
            continue;
        };
        for factor in [1.0, 1.4] {
            let told = corrected(&runs, &plan, dial, largest * factor).unwrap();
            let Some(told) = told else { continue };
            found += 1;
            assert!((told.scale / factor - 1.0).abs() < 1e-9);
            // The same depth in both stocks bends the same spring: at the place that was measured
            // every error grows by the same factor.
            let (got, was) = if told.at_top {
                (told.top.value, loads.wall_top)
            } else {
                (told.bottom.value, loads.wall_bottom)
            };
            assert!(
                (got - factor * was).abs() <= 1e-6 * was.abs(),
                "{case}: {got} {was}"
            );
        }
    }
    assert!(found > if cases < 100 { 0 } else { 50 }, "{found}");
}
