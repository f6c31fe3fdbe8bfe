//! Whole passes against independent Python (`independent/plan.py`), and the feeds that are
//! recommended (`independent/judge.py`).
//!
//! Ignored without Python: `independent/run.sh` runs it, with `FEEDS_PYTHON` naming the
//! interpreter. `FEEDS_JUDGED` says how many random passes are judged, 2000 if not said.

use feeds_core::kernel::seed::Seed;
use feeds_core::limit::Moment;
use feeds_core::notebook::Silent;
use feeds_core::plan::{Plan, Planner};
use feeds_core::quantity::{Quantity, in_mm};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::Path;
use tests::independent::{ask, number};
use tests::setups::{linear, random, setup};

/// Loads at a peak of the turn: what the search for the peak may miss of it.
const PEAK: f64 = 1e-3;
/// Lift and pull along the feed, which a coarser rule finds.
const PULL: f64 = 5e-3;
/// Everything that is no peak.
const EXACT: f64 = 1e-6;
/// Peaks of a round end: 24 bands against 1500 slices.
const ROUND: f64 = 1e-2;

#[derive(Default)]
struct Worst(BTreeMap<String, (f64, String)>);

impl Worst {
    #[track_caller]
    fn near(&mut self, what: &str, ours: f64, theirs: f64, scale: f64, tolerance: f64, of: &str) {
        let off = (ours - theirs).abs() / scale.abs().max(1e-12);
        let worst = self.0.entry(what.to_owned()).or_default();
        if off > worst.0 {
            *worst = (off, of.to_owned());
        }
        assert!(
            off <= tolerance,
            "{of}: {what} is {ours}, by Python {theirs}: {off:.1e} of {scale} apart"
        );
    }

    fn told(&self) {
        for (what, (off, of)) in &self.0 {
            println!("{what}: worst {off:.1e} in {of}");
        }
    }
}

fn planned(pass: &Value, fixed: bool) -> (Plan, Planner) {
    let setup = setup(pass, fixed);
    let planner = Planner::new(&setup);
    let plan = planner.work_out(&setup, &mut Silent).unwrap();
    (plan, planner)
}

fn passes() -> Vec<(String, Value)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("files/passes");
    let mut passes: Vec<(String, Value)> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| {
            let path = entry.unwrap().path();
            let text = std::fs::read_to_string(&path).unwrap();
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            (name, serde_json::from_str(&text).unwrap())
        })
        .collect();
    passes.sort_by(|a, b| a.0.cmp(&b.0));
    passes
}

#[test]
#[ignore = "needs FEEDS_PYTHON: run independent/run.sh"]
fn a_dozen_whole_passes_by_either_law() {
    let mut passes = passes();
    assert_eq!(passes.len(), 12);
    let mut seed = Seed::new(20_260_303);
    let others = passes.clone();
    passes.extend(others.into_iter().map(|(name, pass)| {
        let name = format!("{name}, linear coefficients");
        (name, linear(pass, &mut seed))
    }));
    let lines: Vec<Value> = passes.iter().map(|(_, p)| p.clone()).collect();
    let mut worst = Worst::default();
    for ((name, pass), answer) in passes.iter().zip(ask("plan.py", &[], &lines)) {
        let (plan, _) = planned(pass, true);
        let round = pass["cutter"]["corner_radius"].as_f64().unwrap_or(0.0) > 0.0;
        let (peak, pull) = if round { (ROUND, ROUND) } else { (PEAK, PULL) };
        whole(&mut worst, name, &plan, &answer, (peak, pull));
        interval(&mut worst, name, &plan, &answer["interval"], peak);
    }
    worst.told();
}

fn whole(worst: &mut Worst, name: &str, plan: &Plan, answer: &Value, (peak, pull): (f64, f64)) {
    let moments = answer["moments"].as_array().unwrap();
    assert_eq!(
        plan.moments.len(),
        moments.len(),
        "{name}: the same moments"
    );
    // The last digits of a wall error are asked just inside the wall, within 1e-6 rad of it.
    let smooth = if peak > PEAK { peak } else { EXACT };
    for ((engaged, loads), theirs) in plan.moments.iter().zip(moments) {
        let loads = loads.unwrap();
        let moment = engaged.moment.words();
        assert_eq!(theirs["moment"], moment, "{name}");
        let of = format!("{name}, {moment}");
        let at = |key: &str| number(&theirs[key]);
        let mut near = |key: &str, ours: f64, scale: f64, tolerance: f64| {
            worst.near(key, ours, at(key), scale, tolerance, &of);
        };
        near("arc", engaged.arc.value, at("arc"), EXACT);
        near("chip", engaged.chip, at("chip"), EXACT);
        near("lateral", loads.lateral, at("lateral"), peak);
        near("torque", loads.torque, at("torque"), peak);
        near("lift", loads.lift, at("lateral"), pull);
        near("along", loads.along, at("lateral"), pull);
        near("power", loads.power, at("power"), smooth);
        near("tip", loads.tip * 1e3, at("tip"), peak);
        let off = at("wall_bottom").abs().max(at("wall_top").abs());
        let off = if off > 0.0 { off } else { 1.0 };
        near("wall_bottom", loads.wall_bottom * 1e3, off, smooth);
        near("wall_top", loads.wall_top * 1e3, off, smooth);
        near("stress", loads.stress * 1e-6, at("stress"), peak);
    }
    let k_c = plan.k_c.unwrap().si() * 1e-6;
    worst.near("k_c", k_c, number(&answer["k_c"]), k_c, EXACT, name);
    for (limit, theirs) in answer["checks"].as_object().unwrap() {
        let check = plan
            .check(limit)
            .unwrap_or_else(|| panic!("{name}: no {limit}"));
        let margin = number(&theirs["margin"]);
        // Near the bound a margin is as exact as its value is.
        let scale = (1.0 - margin).abs().max(1.0);
        let ours = check.margin().unwrap();
        if margin > -9.0 {
            worst.near(
                "margin",
                ours,
                margin,
                scale,
                pull,
                &format!("{name}, {limit}"),
            );
        }
    }
}

fn interval(worst: &mut Worst, name: &str, plan: &Plan, theirs: &Value, tolerance: f64) {
    let ends = [("least", plan.feeds.least), ("most", plan.feeds.most)];
    for (end, ours) in ends {
        let ours = ours.unwrap();
        let (theirs, f_z) = (&theirs[end], number(&theirs[end]["f_z"]));
        // Force grows as f_z^(1 - m_c) at most, so the end moves a little more than the peak.
        let tolerance = if end == "least" {
            EXACT
        } else {
            2.5 * tolerance
        };
        worst.near(end, in_mm(ours.f_z), f_z, f_z, tolerance, name);
        assert_eq!(
            theirs["limit"], ours.limit.name,
            "{name}, {end}: what closes it"
        );
        assert_eq!(theirs["moment"], ours.moment.words(), "{name}, {end}: when");
    }
}

/// Each recommendation is the one that the rule for the start of the feed gives, and every margin
/// is the one that Python finds there.
#[test]
#[ignore = "needs FEEDS_PYTHON: run independent/run.sh"]
fn random_recommendations_are_judged() {
    let count = std::env::var("FEEDS_JUDGED").map_or(2000, |n| n.parse().unwrap());
    let mut seed = Seed::new(20_260_302);
    let mut coefficients = Seed::new(20_260_304);
    let mut plans = Vec::new();
    let mut told = Vec::new();
    while told.len() < count {
        let mut pass = random(&mut seed);
        if told.len() % 3 == 2 {
            pass = linear(pass, &mut coefficients);
        }
        let (plan, _) = planned(&pass, false);
        if pass["intent"] == "production" {
            let mut careful = pass.clone();
            careful["intent"] = json!("cautious");
            pass["cautious"] = json!(in_mm(planned(&careful, false).0.f_z));
        }
        pass["n"] = json!(plan.n.in_per_minute());
        pass["f_z"] = json!(in_mm(plan.f_z));
        plans.push(plan);
        told.push(pass);
    }
    let by_linear = |pass: &&Value| !pass["stock"]["linear"].is_null();
    let linear = told.iter().filter(by_linear).count();
    assert!(linear * 4 > count, "{linear} by linear coefficients");
    let (mut kept, mut raised) = (0, 0);
    let mut off = BTreeMap::<String, f64>::new();
    let mut faults = Vec::new();
    for ((pass, plan), answer) in told.iter().zip(&plans).zip(ask("judge.py", &[], &told)) {
        for (limit, margin) in answer["margins"].as_object().unwrap() {
            let check = plan
                .check(limit)
                .unwrap_or_else(|| panic!("no {limit} in {pass}"));
            let (ours, theirs) = (check.margin().unwrap(), number(margin));
            if theirs < -9.0 {
                continue;
            }
            let apart = (ours - theirs).abs() / (1.0 - theirs).abs().max(1.0);
            let worst = off.entry(limit.clone()).or_default();
            *worst = worst.max(apart);
            if apart >= PULL {
                faults.push(format!(
                    "{limit}: margin {ours}, by Python {theirs}, in {pass}"
                ));
            }
        }
        let told = answer["faults"].as_array().unwrap().iter();
        faults.extend(told.map(|fault| format!("{fault} in {pass}")));
        kept += usize::from(plan.feeds.holds(plan.f_z));
        raised += usize::from(plan.feeds.most.is_some_and(|end| end.f_z < plan.f_z));
    }
    println!(
        "{count} judged: {kept} keep every wanted margin, {raised} are fed above the most that \
         does, so as not to rub"
    );
    println!("margins apart: {off:?}");
    let found = faults.len();
    assert!(
        faults.is_empty(),
        "{found} of {count}:\n{}",
        faults.join("\n")
    );
    assert!(kept * 3 > count, "{kept} of {count} have a feed");
}

#[test]
fn a_shorter_stick_out_moves_the_feed_as_the_beam_does() {
    // One diameter from the holder to the tip, no machine in series, no edge force and no runout:
    // force goes straight with the feed, so the wall's end of the feed goes with the force a wall
    // error of the tolerance needs, f_z ~ 1/(l²(l - a_p/2) 1/3 ...), by hand from the cantilever.
    let (d, a_p) = (3.0, 1.0);
    let pass = |length: f64| {
        json!({
            "intent": "production",
            "cutter": {
                "diameter": d, "edges": 3, "helix": 38.0, "flute_length": length,
                "stick_out": length, "shank": d, "neck": null, "core": 0.65 * d,
                "edge_radius": 0.001, "modulus": 6e5, "rupture": 1e6,
            },
            "stock": {
                "linear": { "cut": [2600.0, 780.0, 520.0], "edge": [0.0, 0.0, 0.0] },
                "land": 0.0, "v_c": [30.0, 120.0], "f_z": [0.001, 0.002, 1.0],
                "chip_floor": 0.3,
            },
            "machine": { "n_min": 100.0, "n_max": 1e5, "efficiency": 0.75 },
            "hold": { "clamp_force": null, "friction": 0.1, "faces": 2 },
            "cut": {
                "path": "side", "direction": "down", "a_p": a_p, "a_e": 0.3,
                "tolerance": 0.005,
            },
            "n": 5000.0, "f_z": 0.01,
        })
    };
    let most = |length: f64| {
        let (plan, _) = planned(&pass(length), true);
        let end = plan.feeds.most.unwrap();
        assert_eq!(
            (end.limit.name, end.moment),
            ("wall-error", Moment::Nominal)
        );
        end.f_z.si()
    };
    // Tip of a cantilever loaded at a from the clamp: w = F a² (3 l - a) / (6 E I).
    let give = |l: f64| {
        let a = l - a_p / 2.0;
        a * a * (3.0 * l - a)
    };
    for (long, short) in [(15.0, 14.0), (12.0, 9.0), (9.0, 6.0)] {
        let expected = give(long) / give(short);
        let moved = most(short) / most(long);
        assert!(
            (moved / expected - 1.0).abs() < 1e-7,
            "{moved} is not {expected}"
        );
        assert!(moved > 1.0, "shorter allows more");
    }
}
