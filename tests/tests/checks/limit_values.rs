//! What each limit holds against what, worked out by hand for two passes with round numbers: a
//! value or a bound that moves, a limit that is not asked, or one that is asked where there is
//! nothing to ask, is noticed. Formulas and factors: the handbook ones named at each limit.

use feeds_core::limit::{Bound, Check, Found, Moment};
use feeds_core::notebook::Silent;
use feeds_core::plan::Planner;
use feeds_core::plan::checks::At;
use feeds_core::plan::guides::Guides;
use feeds_core::plan::setup::Setup;
use feeds_core::quantity::{Quantity, SpindleSpeed, mm};
use feeds_core::workpiece::ForceLaw;
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::f64::consts::PI;
use tests::setups::{one_edge, setup};

/// Name, value and bound in SI base units; `None` where the hand does not work it out.
type Row = (&'static str, Option<f64>, f64);

#[track_caller]
fn checks(pass: &Value) -> Vec<Check> {
    let setup = setup(pass, true);
    let plan = Planner::new(&setup).work_out(&setup, &mut Silent).unwrap();
    // Nobody knows how the tip swings.
    assert_eq!(plan.check("chatter").unwrap().margin(), None);
    let others = plan.checks.into_iter();
    others.filter(|c| c.limit.name != "chatter").collect()
}

#[track_caller]
fn check(pass: &Value, expected: &[Row]) {
    let got = checks(pass);
    let names: BTreeSet<&str> = got.iter().map(|c| c.limit.name).collect();
    let wanted: BTreeSet<&str> = expected.iter().map(|row| row.0).collect();
    assert_eq!(names, wanted);
    for (name, value, bound) in expected {
        let check = got.iter().find(|c| c.limit.name == *name).unwrap();
        let Found::Known {
            value: got,
            bound: is,
        } = check.found
        else {
            panic!("{check:?}");
        };
        let floors = [
            "spindle-speed-least",
            "machine-limited",
            "feed-band-low",
            "chip-floor",
        ];
        assert_eq!(
            matches!(is, Bound::AtLeast(_)),
            floors.contains(name),
            "{name}"
        );
        let near = |a: f64, b: f64| (a - b).abs() <= 1e-4 * b.abs() + 1e-12;
        assert!(near(is.si(), *bound), "{name}: {is:?}, not {bound}");
        assert!(
            value.is_none_or(|v| near(got, v)),
            "{name}: {got}, not {value:?}"
        );
    }
}

/// Two edges of 4 mm, 8 mm of flutes, 12 mm out, 1 mm deep and 1 mm wide at 4000 1/min and
/// 0.02 mm; each edge is pushed across the cut with 100 N whatever the chip.
fn known() -> Value {
    let mut pass = one_edge();
    pass["cutter"]["edges"] = json!(2);
    pass["cutter"]["flute_length"] = json!(8.0);
    pass["cutter"]["stick_out"] = json!(12.0);
    pass["machine"] = json!({
        "n_min": 100.0, "n_max": 24e3, "efficiency": 0.75, "v_f_max": 2000.0,
        "power": [[1000.0, 500.0], [20e3, 500.0]], "stiffness": 5000.0, "runout": 0.002,
        "backlash": 0.05, "drag": 300.0, "collet_grip": 500.0,
    });
    pass["hold"] = json!({
        "clamp_force": 3000.0, "friction": 0.1, "faces": 2, "grip": 5.0, "height": 8.0,
    });
    pass
}

#[test]
fn a_side_with_a_corner_and_a_helix_is_held_against_what_the_hand_works_out() {
    let mut pass = known();
    pass["cut"] = json!({
        "path": "side", "direction": "down", "a_p": 1.0, "a_e": 1.0, "tolerance": 0.03,
        "entry": ["helix", 6.0, 0.2], "corner": true,
    });
    let thin = 60_f64.to_radians().sin();
    let helix = (0.2 / (2.0 * PI)).atan();
    check(
        &pass,
        &[
            ("spindle-speed-most", Some(4000.0 / 60.0), 400.0),
            ("spindle-speed-least", Some(4000.0 / 60.0), 100.0 / 60.0),
            // v_c = π D n
            ("cutting-speed", Some(PI * 0.004 * 4000.0 / 60.0), 1.0),
            (
                "machine-limited",
                Some(PI * 0.004 * 4000.0 / 60.0),
                20.0 / 60.0,
            ),
            // v_f = f_z z n
            (
                "feed-speed",
                Some(0.00002 * 2.0 * 4000.0 / 60.0),
                2.0 / 60.0,
            ),
            // At full width, of the slot of the way in: no thinning is counted.
            ("feed-band", Some(0.00002), 0.00005),
            // Of the side itself the chip is thinner by sin 60°.
            ("feed-band-low", Some(0.00002 * thin), 0.000_002),
            // h_min = λ r_β
            ("chip-floor", Some(0.00002 * thin), 0.000_003),
            // sin θ < 3/20 of 60°
            ("rubbing", Some(0.15_f64.asin().to_degrees() / 60.0), 0.5),
            // t_r sin(π/z) against f_z/2
            ("runout", Some(0.000_002), 0.000_01),
            ("flute-length", Some(0.001), 0.008),
            // A light mill takes half of 1.5 D, and 0.3 D of width.
            ("depth-guide", Some(0.001), 0.003),
            ("width-guide", Some(0.001), 0.001_2),
            // 12 mm over 4 mm
            ("stick-out", Some(3.0), 5.0),
            ("ramp-angle", Some(helix), 5_f64.to_radians()),
            ("helix-hole", Some(0.006), 0.008),
            ("corner", Some(150_f64.to_radians()), 90_f64.to_radians()),
            ("spindle-power", None, 500.0),
            ("tip-deflection", None, 0.000_04),
            ("wall-error", None, 0.000_03),
            // Half of the runout; along a straight wall no axis turns back.
            ("play", Some(0.000_001), 0.000_03),
            // 32 · 100 N · 7.5 mm/(π 2³ mm3), of an edge that stands alone in the work
            ("breakage", None, 1e11 / 3.0),
            ("rupture", None, 1e11),
            // n_f μ F_cl/2
            ("hold", None, 300.0),
            // F_cl l_g/4
            ("tipping", None, 3.75),
            ("pull-out", Some(0.0), 250.0),
            ("backlash", None, 300.0),
        ],
    );
    // Without the helix nothing asks for its hole or angle, without the corner none for that, and
    // conventional milling none for the backlash.
    pass["cut"]["entry"] = Value::Null;
    pass["cut"]["corner"] = json!(false);
    pass["cut"]["direction"] = json!("up");
    let names: Vec<&str> = checks(&pass).iter().map(|c| c.limit.name).collect();
    for name in [
        "helix-hole",
        "ramp-angle",
        "corner",
        "backlash",
        "chip-room",
        "plunge",
    ] {
        assert!(!names.contains(&name), "{name}");
    }
    let value = |name: &str| {
        let all = checks(&pass);
        all.iter()
            .find(|c| c.limit.name == name)
            .unwrap()
            .value()
            .unwrap()
            .si
    };
    // Now one edge stands alone in the work: 100 N in all.
    let stress = 32.0 * 100.0 * 7.5e-3 / (PI * 0.002_f64.powi(3));
    assert!(
        (value("rupture") / stress - 1.0).abs() < 2e-3,
        "{}",
        value("rupture")
    );
    assert!((value("breakage") / stress - 1.0).abs() < 2e-3);
    assert!(
        (value("hold") / 100.0 - 1.0).abs() < 1e-3,
        "{}",
        value("hold")
    );
    assert!(
        (value("tipping") / 0.8 - 1.0).abs() < 1e-3,
        "{}",
        value("tipping")
    );
    // The side's own chip: 1/sin 60° of thinning is counted.
    assert!((value("feed-band") / (0.00002 * thin) - 1.0).abs() < 1e-6);
}

#[test]
fn a_slot_with_a_plunge_is_held_against_what_the_hand_works_out() {
    let mut pass = known();
    pass["cut"] = json!({
        "path": "slot", "direction": "down", "a_p": 1.0, "tolerance": null, "entry": ["plunge"],
    });
    check(
        &pass,
        &[
            ("spindle-speed-most", Some(4000.0 / 60.0), 400.0),
            ("spindle-speed-least", Some(4000.0 / 60.0), 100.0 / 60.0),
            ("cutting-speed", Some(PI * 0.004 * 4000.0 / 60.0), 1.0),
            (
                "machine-limited",
                Some(PI * 0.004 * 4000.0 / 60.0),
                20.0 / 60.0,
            ),
            (
                "feed-speed",
                Some(0.00002 * 2.0 * 4000.0 / 60.0),
                2.0 / 60.0,
            ),
            ("feed-band", Some(0.00002), 0.00005),
            ("feed-band-low", Some(0.00002), 0.000_002),
            ("chip-floor", Some(0.00002), 0.000_003),
            // sin θ < 3/20 at both ends of half a turn
            (
                "rubbing",
                Some(2.0 * 0.15_f64.asin().to_degrees() / 180.0),
                0.5,
            ),
            ("runout", Some(0.000_002), 0.000_01),
            ("flute-length", Some(0.001), 0.008),
            // A light mill takes half of 0.5 D in a slot; chips get out of 1 D with two edges.
            ("depth-guide", Some(0.001), 0.001),
            ("chip-room", Some(0.001), 0.004),
            ("stick-out", Some(3.0), 5.0),
            ("ramp-angle", Some(PI / 2.0), PI / 2.0),
            ("spindle-power", None, 500.0),
            ("tip-deflection", None, 0.000_04),
            // Nobody gave a tolerance: 20 µm, roughing (common practice).
            ("wall-error", None, 0.000_02),
            ("breakage", None, 1e11 / 3.0),
            ("rupture", None, 1e11),
            ("plunge", None, 1e11 / 3.0),
            ("hold", None, 300.0),
            ("tipping", None, 3.75),
            ("pull-out", Some(0.0), 250.0),
        ],
    );
    let all = checks(&pass);
    let guessed: Vec<&str> = all
        .iter()
        .filter(|c| c.guessed)
        .map(|c| c.limit.name)
        .collect();
    assert_eq!(guessed, ["wall-error"]);
    // An end that does not cut to its centre is held against what a ramp may have.
    let mut setup = setup(&pass, true);
    for (centre, bound) in [(Some(false), Some(2_f64.to_radians())), (None, None)] {
        setup.cutter.centre_cutting = centre;
        setup.guides.steepest = Some(feeds_core::quantity::degrees(2.0));
        let plan = Planner::new(&setup).work_out(&setup, &mut Silent).unwrap();
        let bound_of = plan.check("ramp-angle").unwrap().bound().map(|b| b.si);
        assert!(
            bound_of
                .zip(bound)
                .is_none_or(|(a, b)| (a - b).abs() < 1e-9)
        );
        assert_eq!(bound_of.is_some(), bound.is_some());
    }
}

/// An edge that drags with 100 N along the cut, half a turn of each turn: 100 N · π D n/2 = 41.9 W
/// at the cutter, 55.9 W at a motor of which three quarters arrive.
#[test]
fn power_is_what_the_motor_gives() {
    let mut pass = known();
    pass["cutter"]["edges"] = json!(1);
    pass["stock"]["linear"]["edge"] = json!([100.0, 0.0, 0.0]);
    pass["cut"] = json!({ "path": "slot", "direction": "up", "a_p": 1.0, "tolerance": 1.0 });
    let all = checks(&pass);
    let power = all
        .iter()
        .find(|c| c.limit.name == "spindle-power")
        .unwrap();
    let wanted = 100.0 * PI * 0.004 * 4000.0 / 60.0 / 2.0 / 0.75;
    let got = power.value().unwrap().si;
    assert!((got / wanted - 1.0).abs() < 1e-3, "{got}, not {wanted}");
}

#[test]
fn a_limit_is_held_at_the_first_of_the_tightest_moments_and_where_it_counts() {
    let of = |cut: Value, name: &str| {
        let mut pass = known();
        pass["cut"] = cut;
        checks(&pass).into_iter().find(|c| c.limit.name == name)
    };
    // At full width, in the corner and on the way in the chip is the same.
    let pocket = json!({
        "path": "pocket", "direction": "down", "a_p": 1.0, "a_e": 1.0, "corner": true,
        "entry": ["ramp", 1.0],
    });
    let check = of(pocket.clone(), "feed-band").unwrap();
    assert_eq!(check.moment, Moment::Entry);
    // A ramp of 1° against one of 5°.
    let check = of(pocket, "ramp-angle").unwrap();
    assert!((check.used().unwrap() - 0.2).abs() < 1e-12, "{check:?}");
    // A face and a finished surface have no wall.
    for path in ["face", "ball-finish"] {
        let cut = json!({ "path": path, "direction": "down", "a_p": 1.0, "a_e": 1.0 });
        assert!(of(cut, "wall-error").is_none(), "{path}");
    }
    // Deeper than 1 D a tenth of D is usual, not three.
    for (a_p, usual) in [(3.9, 0.001_2), (4.1, 0.000_4)] {
        let cut = json!({ "path": "side", "direction": "up", "a_p": a_p, "a_e": 0.2 });
        let bound = of(cut, "width-guide").unwrap().bound().unwrap().si;
        assert!((bound - usual).abs() < 1e-12, "{a_p}: {bound}");
    }
}

/// What nobody gave is asked for, and never passes.
#[test]
fn what_is_not_known_is_asked_for() {
    let unknown = |change: &dyn Fn(&mut Setup)| {
        let mut pass = known();
        pass["cut"] = json!({
            "path": "side", "direction": "down", "a_p": 1.0, "a_e": 1.0, "corner": true,
        });
        let mut setup = setup(&pass, true);
        change(&mut setup);
        let plan = Planner::new(&setup).work_out(&setup, &mut Silent).unwrap();
        let open = plan.checks.iter().filter(|c| c.margin().is_none());
        let open = open.map(|c| c.limit.name);
        let mut open: Vec<&str> = open.filter(|name| *name != "chatter").collect();
        open.sort_unstable();
        open
    };
    assert_eq!(unknown(&|_| {}), [""; 0]);
    assert_eq!(unknown(&|s| s.hold = None), ["hold", "tipping"]);
    let grip = |s: &mut Setup| {
        if let Some(hold) = &mut s.hold {
            hold.grip = None;
        }
    };
    assert_eq!(unknown(&grip), ["tipping"]);
    assert_eq!(
        unknown(&|s| s.cutter.edge_radius = None),
        ["chip-floor", "rubbing"]
    );
    assert_eq!(unknown(&|s| s.stock.f_z = None), ["feed-band"]);
    assert_eq!(unknown(&|s| s.stock.v_c = None), ["cutting-speed"]);
    assert_eq!(
        unknown(&|s| s.stock.resistance = None),
        ["breakage", "hold", "rupture", "spindle-power", "wall-error"]
    );
    let bare = |s: &mut Setup| {
        if let Some(machine) = &mut s.machine {
            machine.power.clear();
            machine.backlash = None;
        }
    };
    assert_eq!(unknown(&bare), ["backlash", "spindle-power"]);
    // Nothing pulls at the cutter, so nobody has to know how it is gripped; 50 N/mm along the axis
    // do.
    let loose = |pull: f64| {
        move |s: &mut Setup| {
            if let Some(machine) = &mut s.machine {
                machine.collet_grip = None;
            }
            if let Some(resistance) = &mut s.stock.resistance
                && let ForceLaw::Linear(law) = &mut resistance.law
            {
                law.edge[2] = Quantity::from_si(pull * 1e3);
            }
        }
    };
    assert_eq!(unknown(&loose(0.0)), [""; 0]);
    assert_eq!(unknown(&loose(50.0)), ["pull-out"]);
    let guides = |s: &mut Setup| s.guides = Guides::default();
    assert_eq!(
        unknown(&guides),
        ["corner", "depth-guide", "stick-out", "width-guide"]
    );
}

/// No corner is rounder than half the cutter, and the centre of a bore is inside its wall.
#[test]
fn a_shape_that_no_cutter_has_is_refused() {
    let works = |change: &dyn Fn(&mut Value)| {
        let mut pass = known();
        pass["cut"] = json!({ "path": "side", "direction": "up", "a_p": 1.0, "a_e": 0.5 });
        change(&mut pass);
        let setup = setup(&pass, true);
        Planner::new(&setup).work_out(&setup, &mut Silent).is_ok()
    };
    for (radius, is) in [(1.9, true), (2.1, false)] {
        assert_eq!(
            works(&|p| p["cutter"]["corner_radius"] = json!(radius)),
            is,
            "{radius}"
        );
    }
    for (side, radius, is) in [
        ("inside", 2.1, true),
        ("inside", 1.9, false),
        ("outside", 0.1, true),
        ("outside", -0.1, false),
        ("outside", 999.0, true),
        ("outside", 1001.0, false),
    ] {
        let wall = json!([side, radius]);
        assert_eq!(
            works(&|p| p["cut"]["wall"] = wall.clone()),
            is,
            "{side} {radius}"
        );
    }
    for (hole, is) in [(4.1, true), (3.9, false)] {
        let helix = json!(["helix", hole, 0.2]);
        assert_eq!(works(&|p| p["cut"]["entry"] = helix.clone()), is, "{hole}");
    }
}

/// A shank thinner than the cutter does not make it slender: 12 mm over 4 mm.
#[test]
fn a_cutter_is_as_thick_as_it_is_wide() {
    let mut pass = known();
    pass["cutter"]["shank"] = json!(2.0);
    let slender = setup(&pass, true).cutter.slenderness();
    assert!((slender - 3.0).abs() < 1e-12, "{slender}");
}

/// v_f = f_z z n: 0.02 mm of two edges at 4000 1/min are 160 mm/min.
#[test]
fn the_feed_speed_is_of_all_edges() {
    let mut pass = known();
    pass["cut"] = json!({ "path": "slot", "direction": "up", "a_p": 1.0 });
    let setup = setup(&pass, true);
    let at = At::new(&setup, SpindleSpeed::per_minute(4000.0), mm(0.02));
    assert!((at.v_f.si() * 60e3 - 160.0).abs() < 1e-9);
}
