//! Numbers of a pass by hand: a slot of one straight edge of 4 mm, 1 mm deep, that presses 100 N
//! across the cut for each mm of depth, unless a test says otherwise.

use feeds_core::band::LikelyRange;
use feeds_core::limit::Found;
use feeds_core::notebook::Silent;
use feeds_core::plan::opens::{Change, openings};
use feeds_core::plan::setup::Setup;
use feeds_core::plan::{Plan, Planner};
use feeds_core::quantity::{Quantity, Velocity, degrees, in_mm};
use feeds_core::rehearsal::measure::{Corrected, corrected};
use feeds_core::rehearsal::{Dial, Runs, Which};
use serde_json::{Value, json};
use std::f64::consts::PI;
use tests::setups::{one_edge, setup};

fn pass(fixed: bool, change: impl Fn(&mut Value)) -> Setup {
    let mut pass = one_edge();
    change(&mut pass);
    setup(&pass, fixed)
}

fn worked(setup: &Setup) -> Plan {
    Planner::new(setup).work_out(setup, &mut Silent).unwrap()
}

#[track_caller]
fn near(got: f64, expect: f64) {
    assert!((got / expect - 1.0).abs() < 1e-5, "{got} is not {expect}");
}

fn value(plan: &Plan, limit: &str) -> f64 {
    match plan.check(limit).unwrap().found {
        Found::Known { value, .. } => value,
        Found::Needs(what) => panic!("{limit} needs {what}"),
    }
}

/// 100 N in the middle of the depth, 0.5 mm above the tip: σ = 32 F l/(π d³) in the core where the
/// flutes end, in the neck where it begins and in the shank at the holder; the largest counts.
#[test]
fn a_cutter_is_stressed_most_where_it_is_thin_or_far_from_the_tip() {
    let bent = |from_tip: f64, d: f64| 32.0 * 100.0 * (from_tip - 0.5) / (PI * d.powi(3)) * 1e6;
    for (core, neck, shank, flutes, expect) in [
        (2.0, None, 4.0, 8.0, bent(8.0, 2.0)),
        (3.5, Some([2.5, 10.0]), 4.0, 5.0, bent(15.0, 2.5)),
        // A neck that reaches into the holder counts as far as it is out.
        (3.5, Some([2.5, 40.0]), 4.0, 5.0, bent(30.0, 2.5)),
        (3.5, Some([3.5, 10.0]), 3.0, 5.0, bent(30.0, 3.0)),
        (3.0, None, 3.0, 5.0, bent(30.0, 3.0)),
        // Flutes up to the holder: there is no shank.
        (2.5, None, 1.0, 30.0, bent(30.0, 2.5)),
    ] {
        let plan = worked(&pass(true, |p| {
            p["cutter"]["core"] = json!(core);
            p["cutter"]["neck"] = json!(neck);
            p["cutter"]["shank"] = json!(shank);
            p["cutter"]["flute_length"] = json!(flutes);
            p["cutter"]["stick_out"] = json!(30.0);
        }));
        for limit in ["breakage", "rupture"] {
            near(value(&plan, limit), expect);
        }
    }
}

/// Along the cut 100 N turn 2 mm from the axis: 0.2 N m more as shear in the core, and the largest
/// principal stress is σ/2 + √(σ²/4 + τ²).
#[test]
fn torque_adds_its_shear() {
    let plan = worked(&pass(true, |p| {
        p["stock"]["linear"]["edge"] = json!([100.0, 0.0, 0.0]);
        p["cutter"]["core"] = json!(2.0);
    }));
    let (bent, turned) = (32.0 * 1000.0 / (PI * 8.0), 16.0 * 200.0 / (PI * 8.0));
    near(
        value(&plan, "rupture") / 1e6,
        0.5 * bent + (0.5 * bent).hypot(turned),
    );
}

/// Rows of a ball of 4 mm a step s apart leave ridges of r − √(r² − s²/4), where the ball is deep
/// enough to make them.
#[test]
fn rows_of_a_ball_leave_ridges() {
    let rows = |step: f64, a_p: f64| {
        worked(&pass(true, |p| {
            p["cutter"]["corner_radius"] = json!(2.0);
            p["cut"] = json!({
                "path": "ball-finish", "direction": "up", "a_p": a_p, "a_e": step, "tolerance": 10.0
            });
        }))
        .cusp
        .map(in_mm)
    };
    for step in [0.2, 0.4, 1.0] {
        near(
            rows(step, 0.3).unwrap(),
            2.0 - (4.0 - step * step / 4.0_f64).sqrt(),
        );
    }
    // Ridges of 63 µm are not made at a depth of 60 µm, and are at 70 µm.
    assert_eq!(rows(1.0, 0.06), None);
    assert!(rows(1.0, 0.07).is_some());
}

/// A ball engages a circle of 2 √(a (D − a)); tilted, of D sin(β + acos(1 − 2a/D)).
#[test]
fn a_ball_turns_about_the_circle_it_engages() {
    let speed = |tilt: f64| {
        let mut ball = pass(true, |p| {
            p["cutter"]["corner_radius"] = json!(2.0);
            p["cut"] = json!({
                "path": "ball-finish", "direction": "up", "a_p": 0.2, "a_e": 0.3, "tolerance": 10.0
            });
        });
        ball.cut.tilt = degrees(tilt);
        worked(&ball).v_c.si()
    };
    let turn = PI * 4000.0 / 60.0 * 1e-3;
    near(speed(0.0), turn * 2.0 * (0.2_f64 * 3.8).sqrt());
    let leans = |tilt: f64| 4.0 * (tilt.to_radians() + 0.9_f64.acos()).sin();
    near(speed(15.0), turn * leans(15.0));
    near(speed(40.0), turn * leans(40.0));
}

/// A worn edge is told for what it moves most: wall, both of the strength, and hold.
#[test]
fn a_worn_edge_is_told_for_four_checks() {
    let setup = pass(true, |p| {
        p["stock"]["class"] = json!({
            "mean": [1500.0, 0.22], "hardest": [1500.0, 0.22], "k_r": 0.35, "k_a": 0.25,
            "edge": ["measured", 46.0, 68.0], "capped": false,
        });
        p["stock"]["linear"] = Value::Null;
        p["stock"]["hardness"] = json!(180.0);
        p["stock"]["modulus"] = json!(210e3);
        p["hold"]["clamp_force"] = json!(3000.0);
    });
    let planner = Planner::new(&setup);
    let plan = worked(&setup);
    let worn = LikelyRange::of(&planner, &setup, &plan, 20, 7)
        .worn
        .unwrap();
    // A land of 0.3 mm, and no more than 0.08 D (law.md).
    near(in_mm(worn.land), 0.3);
    let mut told: Vec<&str> = worn.checks.iter().map(|c| c.limit.name).collect();
    told.sort_unstable();
    assert_eq!(told, ["breakage", "hold", "rupture", "wall-error"]);
}

/// What opens a pass whose edge takes 100 N along the cut where so many watts are there, three
/// quarters of them at the edge.
fn opened(path: &str, f_z: f64, watts: f64) -> Vec<Change> {
    let setup = pass(true, |p| {
        p["stock"]["linear"]["edge"] = json!([100.0, 0.0, 0.0]);
        p["machine"]["power"] = json!([[1.0, watts], [24e3, watts]]);
        p["cut"]["path"] = json!(path);
        p["cut"]["a_e"] = json!(if path == "slot" { 4.0 } else { 2.0 });
        p["f_z"] = json!(f_z);
    });
    let planner = Planner::new(&setup);
    let all = openings(&planner, &setup, &worked(&setup));
    all.into_iter().map(|o| o.change).collect()
}

/// 0.1 N m over an arc of 90°, at 4000/min: 20.9 W of a side as wide as the radius.
const ENERGY: f64 = 0.1 * 2.0 * PI / 2.0;
/// What 20 W leave to a turn, J.
const THERE: f64 = 20.0 * 0.75 * 60.0 / 4000.0;

fn down(x: f64) -> f64 {
    (x * 100.0).floor() / 100.0
}

/// The energy of a turn goes with depth and arc: a slower spindle has the power for it. A thicker
/// cutter takes more, whatever its width.
#[test]
fn too_much_power_is_opened_by_depth_or_width() {
    // A chip of 0.04 mm: even a fiftieth of the width, 11.5°, has 8 µm at its end.
    let side = opened("side", 0.04, 20.0);
    let [Change::Pace, Change::Depth(a_p, 2), Change::Width(a_e)] = side[..] else {
        panic!("{side:?}")
    };
    near(in_mm(a_p), down(THERE / ENERGY));
    near(in_mm(a_e), down(2.0 * (1.0 - (THERE / 0.2).cos())));
    // A slot takes twice the arc, and is as wide as its cutter. It would have to turn at 1432/min,
    // 18 m/min, below the band of 20 to 60.
    let slot = opened("slot", 0.04, 20.0);
    let [Change::Depth(a_p, 3)] = slot[..] else {
        panic!("{slot:?}")
    };
    near(in_mm(a_p), down(THERE / ENERGY / 2.0));
    assert!(opened("side", 0.04, 28.0).is_empty());
}

/// At 0.02 mm a tooth a fiftieth of the width rubs over most of its arc, and nothing between it and
/// the whole was looked at.
#[test]
fn a_width_that_opens_is_found_where_the_least_one_rubs() {
    let side = opened("side", 0.02, 20.0);
    let Some(Change::Width(a_e)) = side.last() else {
        panic!("{side:?}")
    };
    near(in_mm(*a_e), down(2.0 * (1.0 - (THERE / 0.2).cos())));
}

/// Between 50 N and 1930 N/mm of its chip, a hold of 0.2 of the clamp, of which a cautious run
/// leaves a fifth of the half, takes this chip.
#[test]
fn a_cautious_feed_is_lowered_to_what_holds_and_rounded_down() {
    let feed = |clamp: f64, radius: f64| {
        let plan = worked(&pass(false, |p| {
            p["intent"] = json!("cautious");
            p["cutter"]["edge_radius"] = json!(radius);
            p["stock"]["linear"] = json!({ "cut": [1e-6, 1930.0, 0.0], "edge": [0.0, 50.0, 0.0] });
            p["stock"]["f_z"] = json!([0.002, 0.02, 0.05]);
            p["hold"]["clamp_force"] = json!(clamp);
        }));
        (plan.n.in_per_minute(), plan.v_f.si() * 60e3)
    };
    // 20 m/min are 1591.5/min, rounded up; 0.02 mm a tooth is 31.84 mm/min, rounded up.
    let (n, v_f) = feed(3000.0, 0.01);
    near(n, 1592.0);
    near(v_f, 32.0);
    // 80 N at the end of it: 0.01554 mm, 24.7 mm/min, rounded down; 70 N: 0.01036 mm, 16.49 mm/min,
    // to a tenth.
    near(feed(1000.0, 0.01).1, 24.0);
    near(feed(875.0, 0.01).1, 16.4);
    // Never below twice the least chip: 0.01488 mm, 23.69 mm/min, where the other end is 24.7.
    near(feed(1000.0, 0.0248).1, 24.0);
    // Where that is 24.2 mm/min, 24 rub and it is rounded up.
    near(feed(1000.0, 0.0254).1, 25.0);
}

/// A rod of 4 mm, 10.5 mm long, under 100 N a mm of depth, and a machine of 1 N/µm: what is
/// measured beyond the rod is the machine, and less than the rod is another force.
fn measured(times: impl Fn(f64) -> f64) -> (f64, Corrected) {
    let both = [100.0, 50.0].map(|across| {
        pass(true, |p| {
            p["cutter"]["core"] = json!(3.25);
            p["machine"]["stiffness"] = json!(1000.0);
            p["stock"]["linear"]["edge"] = json!([0.0, across, 0.0]);
        })
    });
    let rod = 21.5 * 100.0 / (6.0 * 6e5 * PI * 4.0);
    let v_f = Velocity::from_si(0.08 / 60.0);
    let runs = Runs::programmed(&both[0], &both[1], worked(&both[0]).n, v_f);
    let plan = runs.plan(Which::StandIn, Dial::FULL).unwrap();
    let read = feeds_core::quantity::mm(times(50.0 * rod));
    let told = corrected(&runs, &plan, Dial::FULL, read).unwrap().unwrap();
    (100.0 * rod, told)
}

#[test]
fn what_is_measured_beyond_the_rod_is_the_machine() {
    // 0.08 mm under 50 N.
    let (rod, told) = measured(|rod| rod + 0.08);
    assert!(!told.at_top);
    near(told.stiffness.unwrap().si(), 50.0 / 0.08 * 1e3);
    near(in_mm(told.bottom), rod + 0.16);
    near(in_mm(told.tip), rod + 0.16);
    near(value(&told.plan, "wall-error") * 1e3, rod + 0.16);
    near(told.scale, (0.5 * rod + 0.08) / (0.5 * rod + 0.05));
}

#[test]
fn less_than_the_rod_gives_is_another_force() {
    let (rod, told) = measured(|rod| 0.5 * rod);
    assert_eq!(told.stiffness, None);
    let scale = 0.25 * rod / (0.5 * rod + 0.05);
    near(told.scale, scale);
    near(in_mm(told.bottom), scale * (rod + 0.1));
    near(in_mm(told.tip), scale * (rod + 0.1));
    // At the top of the wall, 9.5 mm from the holder: F x² (3 a − x)/(6 E I).
    let top = 100.0 * 9.5 * 9.5 * (30.0 - 9.5) / (6.0 * 6e5 * PI * 4.0);
    near(in_mm(told.top), scale * (top + 0.1));
    for limit in ["wall-error", "tip-deflection"] {
        near(value(&told.plan, limit) * 1e3, scale * (rod + 0.1));
    }
    let loads = told.plan.loads.unwrap();
    near(loads.wall_bottom * 1e3, scale * (rod + 0.1));
    let of_moment = told.plan.moments.first().unwrap().1.unwrap();
    near(of_moment.wall_top * 1e3, scale * (top + 0.1));
    // What does not bend is as it was.
    near(loads.lateral, 100.0);
}

#[test]
fn one_stock_is_the_same_stock() {
    let one = pass(true, |_| ());
    let other = pass(true, |p| p["stock"]["chip_floor"] = json!(0.31));
    let v_f = Velocity::from_si(0.08 / 60.0);
    let n = worked(&one).n;
    assert!(Runs::programmed(&one, &one, n, v_f).same_stock());
    assert!(!Runs::programmed(&one, &other, n, v_f).same_stock());
}
