//! Each limit of the force law and of the first feed, just inside and just outside its bound: the
//! bound is worked out by hand, and a pass lies 4 % on either side, so that a bound that moves by a
//! tenth is noticed.

use feeds_core::limit::{Check, State};
use feeds_core::notebook::{Origin, Recorded, Silent, Step};
use feeds_core::plan::Planner;
use feeds_core::plan::plunge::Plunge;
use feeds_core::quantity::mm;
use feeds_core::symbol as s;
use serde_json::{Value, json};
use tests::setups::{one_edge as pass, setup};

const INSIDE: f64 = 1.04;
const OUTSIDE: f64 = 0.96;

fn check(pass: &Value, limit: &str) -> Check {
    let setup = setup(pass, true);
    let plan = Planner::new(&setup).work_out(&setup, &mut Silent).unwrap();
    *plan
        .check(limit)
        .unwrap_or_else(|| panic!("no {limit} in {pass}"))
}

#[track_caller]
fn state(pass: &Value, limit: &str, expected: State) {
    let check = check(pass, limit);
    assert_eq!(check.state(), expected, "{limit}: {check:?} of {pass}");
}

/// Half of a quarter turn rubs where h_min = f_z sin 45°: 3 µm at 4.2426 µm. At 4.3824 µm 48 % of
/// it does, at 4.1153 µm 52 %.
#[test]
fn rubbing_over_half_of_the_arc_is_a_caution() {
    let mut pass = pass();
    pass["cut"] = json!({ "path": "side", "direction": "up", "a_p": 1.0, "a_e": 2.0 });
    pass["f_z"] = json!(0.004_382_4);
    state(&pass, "rubbing", State::Ok);
    pass["f_z"] = json!(0.004_115_3);
    state(&pass, "rubbing", State::Caution);
    state(&pass, "chip-floor", State::Ok);
}

/// Three edges stand at 0.433, 0 and -0.433 of the runout: the second and the third take 0.433 of
/// it less than 5 µm, which is the least chip of 3 µm at a runout of 4.619 µm.
#[test]
fn more_than_half_of_the_edges_rubbing_is_a_caution() {
    let mut pass = pass();
    pass["cutter"]["edges"] = json!(3);
    pass["f_z"] = json!(0.005);
    for (runout, expected) in [
        (4.619 * OUTSIDE, State::Ok),
        (4.619 * INSIDE, State::Caution),
    ] {
        pass["machine"]["runout"] = json!(runout * 1e-3);
        state(&pass, "rubbing", expected);
    }
}

/// A worn edge is 2.5 times as round: it rubs below 7.5 µm, as a fresh one does below 3 µm.
#[test]
fn a_worn_edge_raises_the_floor_of_the_chip() {
    let mut pass = pass();
    for (rounding, floor) in [(1.0, 0.003), (2.5, 0.0075)] {
        pass["cutter"]["rounding"] = json!(rounding);
        pass["f_z"] = json!(floor * INSIDE);
        state(&pass, "chip-floor", State::Ok);
        pass["f_z"] = json!(floor * OUTSIDE);
        state(&pass, "chip-floor", State::Over);
    }
}

/// 100 N at 10 mm from the flutes' run-out bend a core of 2 mm by 32 · 100 · 10/(π 2³) = 1273.2
/// N/mm2. Beyond the strength it breaks.
#[test]
fn stress_beyond_the_strength_is_over() {
    let mut pass = pass();
    pass["cutter"]["rupture"] = json!(1273.24 * INSIDE);
    state(&pass, "rupture", State::Ok);
    state(&pass, "breakage", State::Caution);
    pass["cutter"]["rupture"] = json!(1273.24 * OUTSIDE);
    state(&pass, "rupture", State::Over);
    // That breakage is beyond its bound, too, is no second refusal.
    state(&pass, "breakage", State::Caution);
}

/// The same stress against a third of the strength, 3 · 1273.2 = 3819.7 N/mm2; a cautious run wants
/// a fifth of that left, 4774.6 N/mm2.
#[test]
fn stress_beyond_a_third_of_the_strength_is_a_caution() {
    let mut pass = pass();
    for (intent, bound) in [("production", 3819.7), ("cautious", 4774.6)] {
        pass["intent"] = json!(intent);
        pass["cutter"]["rupture"] = json!(bound * INSIDE);
        state(&pass, "breakage", State::Ok);
        pass["cutter"]["rupture"] = json!(bound * OUTSIDE);
        state(&pass, "breakage", State::Caution);
        state(&pass, "rupture", State::Ok);
    }
}

/// Two edges of 4 mm go down at 0.3 of 0.0333 mm, 0.01 mm a tooth: thrust 2 · 2 · (7 + 68) = 300 N,
/// torque 2 · 16/8 · (20 + 46) = 264 N mm. In a core of 2 mm 300/π = 95.49 N/mm2 and 16 · 264/(8 π)
/// = 168.07 N/mm2 come to 47.75 + √(47.75² + 168.07²) = 222.5 N/mm2, three times 667.4.
#[test]
fn a_plunge_beyond_a_third_of_the_strength_is_a_caution() {
    let mut pass = plunge();
    for (intent, bound) in [("production", 667.4), ("cautious", 834.3)] {
        pass["intent"] = json!(intent);
        pass["cutter"]["rupture"] = json!(bound * INSIDE);
        state(&pass, "plunge", State::Ok);
        pass["cutter"]["rupture"] = json!(bound * OUTSIDE);
        state(&pass, "plunge", State::Caution);
    }
}

fn plunge() -> Value {
    let mut pass = pass();
    pass["cutter"]["edges"] = json!(2);
    pass["stock"]["linear"] = json!({ "cut": [2000.0, 700.0, 0.0], "edge": [46.0, 68.0, 0.0] });
    pass["cut"]["entry"] = json!(["plunge"]);
    pass["f_z"] = json!(0.01 / 0.3);
    pass
}

/// 0.3 of 0.015 mm is less than twice the least chip of 3 µm: 6 µm go down.
#[test]
fn a_plunge_is_fed_so_that_it_cuts() {
    let mut pass = plunge();
    for (f_z, down) in [(0.01 / 0.3, 0.01), (0.015, 0.006)] {
        pass["f_z"] = json!(f_z);
        let setup = setup(&pass, true);
        let of = Plunge::of(&setup, mm(f_z), &mut Silent).unwrap();
        assert!((of.f_z.value * 1e3 - down).abs() < 1e-12, "{of:?}");
        let thrust = 4.0 * (700.0 * down + 68.0);
        assert!((of.thrust - thrust).abs() < 1e-9, "{of:?} {thrust}");
        let torque = 4.0e-3 * (2000.0 * down + 46.0);
        assert!((of.torque - torque).abs() < 1e-12, "{of:?} {torque}");
    }
}

#[test]
fn a_plunge_of_unknown_force_asks_for_it() {
    let mut pass = plunge();
    pass["stock"]["linear"] = Value::Null;
    pass["stock"]["class"] = json!({
        "mean": [4700.0, 0.24], "hardest": [4700.0, 0.24], "k_r": 0.35, "k_a": 0.25,
        "edge": ["ploughing", 4.0, 7.0], "capped": true,
    });
    // Hardened steel of which no hardness is known.
    state(&pass, "plunge", State::Unknown);
}

/// An edge that drags with 100 N pulls the table along with all of it where it leaves a slot.
#[test]
fn a_pull_beyond_the_drag_of_a_loose_table_is_over() {
    let mut pass = pass();
    pass["stock"]["linear"]["edge"] = json!([100.0, 0.0, 0.0]);
    pass["cut"] = json!({ "path": "side", "direction": "down", "a_p": 1.0, "a_e": 2.0 });
    pass["machine"]["backlash"] = json!(0.05);
    pass["machine"]["drag"] = json!(100.0 * INSIDE);
    state(&pass, "backlash", State::Ok);
    pass["machine"]["drag"] = json!(100.0 * OUTSIDE);
    state(&pass, "backlash", State::Over);
    let none = |pass: &Value| {
        let setup = setup(pass, true);
        let plan = Planner::new(&setup).work_out(&setup, &mut Silent).unwrap();
        assert!(plan.check("backlash").is_none(), "{pass}");
    };
    // Conventional milling pushes it back, and so does a slot over a turn, which has no direction.
    pass["cut"]["direction"] = json!("up");
    none(&pass);
    for direction in ["up", "down"] {
        pass["cut"] = json!({ "path": "slot", "direction": direction, "a_p": 1.0 });
        none(&pass);
    }
}

/// At 0.02 mm a tooth the table is loose from a backlash of 0.01 mm on.
#[test]
fn backlash_below_half_a_feed_pulls_nothing() {
    let mut pass = pass();
    pass["stock"]["linear"]["edge"] = json!([100.0, 0.0, 0.0]);
    pass["cut"] = json!({ "path": "side", "direction": "down", "a_p": 1.0, "a_e": 2.0 });
    pass["machine"]["drag"] = json!(50.0);
    for (backlash, expected) in [(0.01 * OUTSIDE, State::Ok), (0.01 * INSIDE, State::Over)] {
        pass["machine"]["backlash"] = json!(backlash);
        state(&pass, "backlash", expected);
    }
}

/// 100 N on a machine that gives 1 mm for 5000 N, with a cutter that does not: 0.02 mm. Nobody
/// asked for that, so it is a caution; what was asked for is over.
#[test]
fn a_wall_is_over_only_beyond_a_tolerance_that_was_asked_for() {
    let mut pass = pass();
    pass["cutter"]["modulus"] = json!(1e15);
    pass["cut"] = json!({ "path": "side", "direction": "up", "a_p": 1.0, "a_e": 2.0 });
    for (tolerance, beyond) in [(Value::Null, State::Caution), (json!(0.02), State::Over)] {
        pass["cut"]["tolerance"] = tolerance;
        pass["machine"]["stiffness"] = json!(5000.0 * INSIDE);
        state(&pass, "wall-error", State::Ok);
        pass["machine"]["stiffness"] = json!(5000.0 * OUTSIDE);
        state(&pass, "wall-error", beyond);
    }
}

/// The end edge counts below a diameter of 1 mm or a depth of 0.1 mm, where the end makes a floor:
/// K_re L_end = 100 · 0.3 · 10 µm/tan 2.5° = 6.87 N press it up, and nothing pulls.
#[test]
fn the_end_edge_counts_on_a_shallow_floor_only() {
    let lift = |change: &dyn Fn(&mut Value)| {
        let mut pass = pass();
        // The edge pulls with 50 N/mm, so that what the end edge takes off it shows.
        pass["stock"]["linear"]["edge"] = json!([0.0, 100.0, 50.0]);
        change(&mut pass);
        let setup = setup(&pass, true);
        let plan = Planner::new(&setup).work_out(&setup, &mut Silent).unwrap();
        (plan.loads.unwrap().lift, setup.cut.a_p.value * 1e3 * 50.0)
    };
    let pressed = 100.0 * 0.3 * 0.01 / 2.5_f64.to_radians().tan();
    let shallow = |pass: &mut Value| {
        pass["cut"]["a_p"] = json!(0.199);
        pass["cutter"]["diameter"] = json!(0.96);
        pass["cutter"]["core"] = json!(0.6);
    };
    let depth = |a_p: f64| move |pass: &mut Value| pass["cut"]["a_p"] = json!(a_p);
    let (got, pull) = lift(&shallow);
    assert!((got - (pull - pressed)).abs() < 1e-3, "{got}");
    let (got, pull) = lift(&depth(1.0));
    assert!((got - pull).abs() < 1e-3, "{got}");
    // 50 N/mm over less than 0.1 mm is less than what presses.
    let (got, _) = lift(&depth(0.1 * OUTSIDE));
    assert!(got.abs() < 1e-9, "{got}");
    let (got, pull) = lift(&depth(0.1 * INSIDE));
    assert!((got - pull).abs() < 1e-3, "{got}");
    let wide = |pass: &mut Value| {
        shallow(pass);
        pass["cutter"]["diameter"] = json!(1.04);
    };
    let (got, pull) = lift(&wide);
    assert!((got - pull).abs() < 1e-3, "{got}");
    let bore = |pass: &mut Value| {
        shallow(pass);
        pass["cut"]["path"] = json!("bore");
        pass["cut"]["a_e"] = json!(0.3);
        pass["cut"]["wall"] = json!(["inside", 2.0]);
    };
    let (got, pull) = lift(&bore);
    assert!((got - pull).abs() < 1e-3, "{got}");
    // On a ball the edge lies flat. One that is drawn down with 100 N/mm takes over 0.48 mm dκ of
    // it 0.48 (50 (1 - cos κ) + 100 sin κ) N up to cos κ = 1 - 0.199/0.48, and no end adds to that.
    let ball = |pass: &mut Value| {
        shallow(pass);
        pass["cutter"]["corner_radius"] = json!(0.48);
        pass["stock"]["linear"]["edge"] = json!([0.0, -100.0, 50.0]);
    };
    let (got, _) = lift(&ball);
    let cos: f64 = 1.0 - 0.199 / 0.48;
    let pull = 0.48 * (50.0 * (1.0 - cos) + 100.0 * (1.0 - cos * cos).sqrt());
    assert!((got - pull).abs() < 0.05, "{got} {pull}");
}

/// An edge sold at 20 µm, in a stock of which it lifts no less than 0.3 of that, needs 12 µm
/// at twice its least chip, and a tenth more to make a round feed of it: 13.2 µm, where the table
/// ends at 10.
#[test]
fn the_band_of_feeds_reaches_to_what_the_edge_needs() {
    let mut pass = pass();
    pass["cutter"]["usual_edge_radius"] = json!(0.02);
    pass["stock"]["f_z"] = json!([0.002, 0.005, 0.010]);
    pass["f_z"] = json!(0.0132 / INSIDE);
    state(&pass, "feed-band", State::Ok);
    pass["f_z"] = json!(0.0132 / OUTSIDE);
    state(&pass, "feed-band", State::Over);
    // A table that reaches further holds as it is.
    pass["stock"]["f_z"] = json!([0.002, 0.005, 0.020]);
    pass["f_z"] = json!(0.020 / INSIDE);
    state(&pass, "feed-band", State::Ok);
    pass["f_z"] = json!(0.020 / OUTSIDE);
    state(&pass, "feed-band", State::Over);
}

/// A mill of 0.5 mm with flutes of 1.1 mm and a neck of 0.9 mm on a shank of 3 mm, 12 mm out:
/// (1.1 + 0.9)/0.5 = 4 where it is thin, and 12/3 = 4 where it is thick; at 15 mm 5.
#[test]
fn a_thick_shank_does_not_make_a_small_cutter_slender() {
    let mut pass = pass();
    pass["cutter"]["diameter"] = json!(0.5);
    pass["cutter"]["core"] = json!(0.3);
    pass["cutter"]["shank"] = json!(3.0);
    pass["cutter"]["flute_length"] = json!(1.1);
    pass["cut"]["a_p"] = json!(0.1);
    for (neck, stick_out, slender) in [
        (0.9, 12.0, 4.0),
        (0.9, 15.0, 5.0),
        (1.9, 12.0, 6.0),
        (0.0, 1.1, 2.2),
    ] {
        pass["cutter"]["neck"] = match neck {
            0.0 => Value::Null,
            length => json!([0.4, length]),
        };
        pass["cutter"]["stick_out"] = json!(stick_out);
        let of = setup(&pass, true).cutter.slenderness();
        assert!((of - slender).abs() < 1e-9, "{of}, not {slender}");
    }
}

/// 10 um of runout and 30 um of backlash leave a circled wall 35 um off, and a straight one 5 um:
/// no axis turns back along it.
#[test]
fn play_beyond_the_tolerance_is_a_caution() {
    let mut pass = pass();
    pass["machine"]["runout"] = json!(0.010);
    pass["machine"]["backlash"] = json!(0.030);
    for (path, off) in [("bore", 0.035), ("side", 0.005)] {
        pass["cut"] = json!({ "path": path, "direction": "up", "a_p": 1.0, "a_e": 0.5 });
        pass["cut"]["tolerance"] = json!(off * INSIDE);
        state(&pass, "play", State::Ok);
        pass["cut"]["tolerance"] = json!(off * OUTSIDE);
        state(&pass, "play", State::Caution);
    }
    // Where nobody asked for a size none is judged, and on a face there is none.
    let none = |pass: &Value| {
        let setup = setup(pass, true);
        let plan = Planner::new(&setup).work_out(&setup, &mut Silent).unwrap();
        assert!(plan.check("play").is_none(), "{pass}");
    };
    pass["cut"]["tolerance"] = Value::Null;
    none(&pass);
    pass["cut"] = json!({ "path": "face", "direction": "up", "a_p": 1.0, "a_e": 0.5 });
    pass["cut"]["tolerance"] = json!(0.001);
    none(&pass);
    // Around a hole backlash decides: where it is not known it is asked for.
    pass["machine"]["backlash"] = Value::Null;
    pass["cut"]["path"] = json!("bore");
    state(&pass, "play", State::Unknown);
    pass["cut"]["path"] = json!("side");
    state(&pass, "play", State::Caution);
}

/// The working says why a straight wall has no backlash, and of a circled one it is the machine's.
#[test]
fn only_a_straight_wall_is_met_from_one_side() {
    for (path, chosen) in [("bore", false), ("side", true)] {
        let mut pass = pass();
        pass["machine"]["runout"] = json!(0.010);
        pass["machine"]["backlash"] = json!(0.030);
        pass["cut"] = json!({ "path": path, "direction": "up", "a_p": 1.0, "a_e": 0.5 });
        pass["cut"]["tolerance"] = json!(0.1);
        let setup = setup(&pass, true);
        let mut notes = Recorded::default();
        Planner::new(&setup).work_out(&setup, &mut notes).unwrap();
        let play = |step: &&Step| step.card.name == "play at a wall";
        let step = notes.steps.iter().find(play).unwrap();
        let backlash = step
            .inputs
            .iter()
            .find(|i| i.symbol == &s::BACKLASH)
            .unwrap();
        let by_us = matches!(backlash.origin, Some(Origin::Chosen { .. }));
        assert_eq!(by_us, chosen, "{path}: {:?}", backlash.origin);
    }
}
