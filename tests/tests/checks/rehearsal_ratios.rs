//! How much of production a rehearsal is, and the feeds and depths that make it more, by hand: a
//! slot of one straight edge of 4 mm, 1 mm deep, at 4000/min and 0.02 mm a tooth. The good stock
//! takes 100 N along and 100 N across for each mm of depth, the stand-in 40 N along and 50 N and
//! 1930 N/mm of chip across.

use feeds_core::limit::Moment;
use feeds_core::quantity::{Quantity, SpindleSpeed, Velocity, in_mm};
use feeds_core::rehearsal::find::least_that_cuts;
use feeds_core::rehearsal::measure::left;
use feeds_core::rehearsal::pair::{CheckPair, Proof, Why, pairs};
use feeds_core::rehearsal::ratio::{Ratios, heat};
use feeds_core::rehearsal::{Dial, Runs, Which};
use serde_json::{Value, json};
use std::f64::consts::PI;
use tests::setups::{one_edge, setup};

fn good(p: &mut Value) {
    p["stock"]["linear"] = json!({ "cut": [1e-6, 0.0, 0.0], "edge": [100.0, 100.0, 0.0] });
}

fn cheap(p: &mut Value) {
    p["stock"]["linear"] = json!({ "cut": [1e-6, 1930.0, 0.0], "edge": [40.0, 50.0, 0.0] });
}

fn same(_: &mut Value) {}

/// Both runs with what they share changed.
fn runs(share: impl Fn(&mut Value), of_stand_in: impl Fn(&mut Value)) -> Runs {
    let of = |change: &dyn Fn(&mut Value)| {
        let mut pass = one_edge();
        change(&mut pass);
        share(&mut pass);
        setup(&pass, true)
    };
    let (production, stand_in) = (of(&good), of(&of_stand_in));
    let v_f = Velocity::from_si(0.08 / 60.0);
    Runs::programmed(
        &production,
        &stand_in,
        SpindleSpeed::per_minute(4000.0),
        v_f,
    )
}

#[track_caller]
fn near(got: impl Into<Option<f64>>, expect: f64) {
    let got = got.into().expect("a number");
    assert!((got / expect - 1.0).abs() < 1e-5, "{got} is not {expect}");
}

#[test]
fn each_load_has_its_share() {
    let runs = runs(|p| p["hold"]["clamp_force"] = json!(3000.0), cheap);
    let production = runs.plan(Which::Production, Dial::FULL).unwrap();
    let cutter = runs.setup(Which::StandIn, Dial::FULL).cutter;
    for (spindle, feed) in [(1.0, 1.0), (1.0, 0.7), (0.5, 0.7), (0.8, 0.8)] {
        let plan = runs.plan(Which::StandIn, Dial { spindle, feed }).unwrap();
        let told = Ratios::of(&cutter, &plan, &production);
        let chip = 0.02 * feed / spindle;
        let force = 40.0_f64.hypot(50.0 + 1930.0 * chip) / 100.0_f64.hypot(100.0);
        near(told.force, force);
        near(told.bending, force);
        near(told.hold, force);
        near(told.torque, 0.4);
        near(told.chip, feed / spindle);
        near(told.heat, 0.4 * spindle);
    }
}

/// 100 N on the half of each turn in which the edge cuts: 41.9 W on half of an edge of 1 mm.
#[test]
fn the_heat_is_the_power_over_the_edge_in_the_work() {
    let power = 100.0 * PI * 2e-3 * 4000.0 / 60.0;
    for (helix, edges) in [(0.0, 1), (30.0, 1), (0.0, 2)] {
        let runs = runs(
            |p| {
                p["cutter"]["helix"] = json!(helix);
                p["cutter"]["edges"] = json!(edges);
            },
            cheap,
        );
        let plan = runs.plan(Which::Production, Dial::FULL).unwrap();
        let cutter = runs.setup(Which::Production, Dial::FULL).cutter;
        // A second edge brings its own power and its own length.
        let edge = 0.5 * 1e-3 / f64::to_radians(helix).cos();
        near(heat(&cutter, &plan), power / edge);
    }
}

#[test]
fn what_is_not_known_has_no_share() {
    let mut pass = one_edge();
    good(&mut pass);
    let production = setup(&pass, true);
    let mut stand_in = production.clone();
    stand_in.stock.resistance = None;
    let v_f = Velocity::from_si(0.08 / 60.0);
    let n = SpindleSpeed::per_minute(4000.0);
    let runs = Runs::programmed(&production, &stand_in, n, v_f);
    let [good, cheap] =
        [Which::Production, Which::StandIn].map(|w| runs.plan(w, Dial::FULL).unwrap());
    let told = Ratios::of(&production.cutter, &cheap, &good);
    near(told.chip, 1.0);
    let chip_alone = Ratios {
        chip: told.chip,
        ..Ratios::default()
    };
    assert_eq!(told, chip_alone);
    assert!(runs.equal_force(&good).is_none() && runs.equal_depth(&good).is_none());
    assert!(!runs.same_stock());
}

/// The least chip is 0.3 of the edge radius of 10 µm; at a quarter of the diameter the chip is
/// f_z sin 60°.
#[test]
fn the_least_feed_is_that_of_the_thinnest_chip() {
    let side = |p: &mut Value| {
        p["cut"]["path"] = json!("side");
        p["cut"]["a_e"] = json!(1.0);
    };
    for (change, thin) in [(same as fn(&mut Value), 1.0), (side, 0.75_f64.sqrt())] {
        let runs = runs(change, cheap);
        let plan = runs.plan(Which::StandIn, Dial::FULL).unwrap();
        let setup = runs.setup(Which::StandIn, Dial::FULL);
        let (least, moment) = least_that_cuts(&setup, &plan).unwrap();
        near(in_mm(least), 0.003 / thin);
        assert_eq!(moment, Moment::Nominal);
        for spindle in [1.0, 0.5] {
            let share = runs.lowest_feed(Which::StandIn, &plan, spindle);
            near(share, 0.15 / thin * spindle);
        }
    }
    let blunt = runs(|p| p["cutter"]["edge_radius"] = Value::Null, cheap);
    let plan = blunt.plan(Which::StandIn, Dial::FULL).unwrap();
    assert_eq!(blunt.lowest_feed(Which::StandIn, &plan, 1.0), None);
}

/// 141.4 N are √(40² + (50 + 1930 h)²) N: h = 0.04437 mm. At 0.02 mm a mm of depth takes
/// 97.2 N, so 1.455 mm take as much.
#[test]
fn equal_force_is_found_by_feed_or_by_depth() {
    let wanted = 100.0_f64.hypot(100.0);
    let equal = |runs: &Runs| {
        let production = runs.plan(Which::Production, Dial::FULL).unwrap();
        let (feed, depth) = (runs.equal_force(&production), runs.equal_depth(&production));
        (feed.map(in_mm), depth.map(in_mm))
    };
    let (feed, depth) = equal(&runs(same, cheap));
    near(feed, ((wanted * wanted - 1600.0).sqrt() - 50.0) / 1930.0);
    near(depth, wanted / 40.0_f64.hypot(88.6));
    // Flutes that are too short for it.
    let short = |length: f64| runs(move |p| p["cutter"]["flute_length"] = json!(length), cheap);
    near(equal(&short(1.46)).1, wanted / 40.0_f64.hypot(88.6));
    assert_eq!(equal(&short(1.45)).1, None);
    // A stand-in whose edge alone presses harder is met by no feed, but by less depth: down to a
    // twentieth.
    for (across, there) in [(1000.0, true), (2700.0, true), (2900.0, false)] {
        let hard = |p: &mut Value| {
            p["stock"]["linear"] = json!({ "cut": [1e-6, 0.0, 0.0], "edge": [0.0, across, 0.0] });
        };
        let (feed, depth) = equal(&runs(same, hard));
        assert_eq!(feed, None);
        assert_eq!(depth.is_some(), there, "{across}");
        if there {
            near(depth, wanted / across);
        }
    }
}

/// A rod of 3.25 mm · 0.80/0.65 = 4 mm, 10.5 mm long, with 100 N in the middle of the depth, 10 mm
/// from the holder: F a² (3 L − a)/(6 E I) at the tip, and F x² (3 a − x)/(6 E I) at the top of the
/// wall, x = 9.5 mm; the machine gives 0.1 mm as well. Both walls of a slot are left by as much,
/// for the edge along the cut presses along them.
#[test]
fn what_a_slot_leaves_is_its_edge_pressed_away_from_both_walls() {
    let rod = |p: &mut Value| {
        p["cutter"]["core"] = json!(3.25);
        p["machine"]["stiffness"] = json!(1000.0);
    };
    let inertia = PI * 4.0_f64.powi(4) / 64.0;
    let bends = 100.0 / (6.0 * 6e5 * inertia);
    let bottom = bends * 100.0 * (31.5 - 10.0) + 0.1;
    let top = bends * 9.5 * 9.5 * (30.0 - 9.5) + 0.1;
    for (tir, wider) in [(None, 0.0), (Some(0.01), 0.01)] {
        let runs = runs(
            |p| {
                rod(p);
                p["machine"]["runout"] = json!(tir);
            },
            cheap,
        );
        let setup = runs.setup(Which::Production, Dial::FULL);
        let plan = runs.plan(Which::Production, Dial::FULL).unwrap();
        let told = left(&runs, Which::Production, &setup, &plan).unwrap();
        near(in_mm(told.bottom), bottom);
        near(in_mm(told.top), top);
        near(told.taper.si(), ((bottom - top) / 1.0).atan());
        let [low, high] = told.slot.unwrap().map(in_mm);
        near(low, 4.0 + wider - 2.0 * bottom);
        near(high, 4.0 + wider - 2.0 * top);
    }
    // A side has one wall; a face has none.
    for (path, walled) in [("side", true), ("face", false)] {
        let runs = runs(
            |p| {
                rod(p);
                p["cut"]["path"] = json!(path);
                p["cut"]["a_e"] = json!(1.0);
            },
            cheap,
        );
        let setup = runs.setup(Which::Production, Dial::FULL);
        let plan = runs.plan(Which::Production, Dial::FULL).unwrap();
        let told = left(&runs, Which::Production, &setup, &plan);
        assert_eq!(told.is_some(), walled);
        assert!(told.is_none_or(|left| left.slot.is_none()));
    }
}

/// A tenth of the feed is 2 µm, below the 3 µm that cut: such a run proves nothing. At 15 % and
/// half a per cent more it cuts, and proves part of the hold: 40 N along and 50 + 1930 · 0.0031 N
/// across of 141 N.
#[test]
fn a_run_that_only_rubs_proves_nothing() {
    let runs = runs(|p| p["hold"]["clamp_force"] = json!(3000.0), cheap);
    let production = runs.plan(Which::Production, Dial::FULL).unwrap();
    let proofs = |feed: f64| {
        let dial = Dial { spindle: 1.0, feed };
        let rehearsal = runs.plan(Which::StandIn, dial).unwrap();
        pairs(&runs, &production.checks, &rehearsal.checks)
    };
    let rubs = proofs(0.1);
    let proves = |pair: &CheckPair| matches!(pair.verdict, Proof::Proven | Proof::Partly(_));
    assert!(!rubs.iter().any(proves), "{rubs:?}");
    let of_hold = |all: &[CheckPair]| {
        let hold = all.iter().find(|pair| pair.limit.name == "hold");
        hold.unwrap().verdict
    };
    assert_eq!(of_hold(&rubs), Proof::NotProven(Why::Rubs));
    let Proof::Partly(share) = of_hold(&proofs(0.155)) else {
        panic!("{:?}", of_hold(&proofs(0.155)))
    };
    near(
        share,
        40.0_f64.hypot(50.0 + 1930.0 * 0.0031) / 100.0_f64.hypot(100.0),
    );
}
