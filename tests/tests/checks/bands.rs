//! How sure an answer is: the spreads of the law, what each draw moves, and the ends of the range.

use feeds_core::band::{Input, LikelyRange, over_width, spreads};
use feeds_core::notebook::Silent;
use feeds_core::plan::setup::Setup;
use feeds_core::plan::{Plan, Planner};
use feeds_core::quantity::mm;
use feeds_core::symbol as s;
use feeds_core::workpiece::ForceSpread;
use serde_json::{Value, json};
use tests::setups::{one_edge, setup};

/// Standard deviations from the middle to the 95 % end of a normal draw (any table of it).
const AT_95: f64 = 1.6449;

#[track_caller]
fn near(got: f64, expect: f64, within: f64) {
    assert!((got - expect).abs() <= within, "{got} is not {expect}");
}

/// One straight edge with what a change of the pass makes of it.
fn pass(change: impl Fn(&mut Value)) -> Setup {
    let mut pass = one_edge();
    change(&mut pass);
    setup(&pass, true)
}

fn plan(setup: &Setup) -> Plan {
    Planner::new(setup).work_out(setup, &mut Silent).unwrap()
}

fn range(setup: &Setup, draws: usize) -> LikelyRange {
    let planner = Planner::new(setup);
    LikelyRange::of(&planner, setup, &plan(setup), draws, 3)
}

/// A stock of which only these parts are unsure.
fn unsure(setup: &mut Setup, cut: f64, edge: f64, across: f64, land: f64) {
    let spread = ForceSpread {
        cut,
        edge,
        across,
        land,
    };
    setup.stock.resistance.as_mut().unwrap().spread = spread;
}

fn share(setup: &Setup, input: Input) -> f64 {
    spreads(setup)
        .iter()
        .find(|s| s.input == input)
        .unwrap()
        .share
}

/// law.md: the deviations are of the logarithm: carbon steel 0.12, 0.28, 0.35; below 1 mm 0.66
/// (tests/README.md); the edge radius 0.205. `e^(1.6449 s) − 1` is the share at the 95 % end.
#[test]
fn spreads_are_those_of_the_law() {
    let at_end = |deviation: f64| (AT_95 * deviation).exp() - 1.0;
    let known = pass(|_| ());
    for (input, expect) in [
        (Input::Cut, at_end(0.12)),
        (Input::Edge, at_end(0.30)),
        (Input::Across, at_end(0.28)),
        (Input::Land, at_end(0.35)),
        (Input::EdgeRadius, at_end(0.205)),
        (Input::Micro, 0.0),
        (Input::Depth, 0.05),
        (Input::Runout, 0.5),
        (Input::Stiffness, 0.5),
        (Input::StickOut, 0.03),
        (Input::Clamp, 0.3),
        (Input::Friction, 0.25),
        (Input::Strength, 0.15),
    ] {
        near(share(&known, input), expect, 1e-4);
    }
    // A depth is set within 0.02 mm or 5 %, the larger: they meet at 0.4 mm.
    for (a_p, expect) in [(0.1, 0.2), (0.39, 0.02 / 0.39), (0.41, 0.05), (2.0, 0.05)] {
        near(
            share(&pass(|p| p["cut"]["a_p"] = json!(a_p)), Input::Depth),
            expect,
            1e-9,
        );
    }
    for (d, expect) in [(0.99, at_end(0.66)), (1.0, 0.0)] {
        let mut small = pass(|_| ());
        small.cutter.diameter = mm(d);
        near(share(&small, Input::Micro), expect, 2e-4);
    }
    // Nothing is known of a stock without a law.
    let mut bare = pass(|_| ());
    bare.stock.resistance = None;
    for input in [Input::Cut, Input::Edge, Input::Across, Input::Land] {
        near(share(&bare, input), 0.0, 0.0);
    }
}

/// law.md: what the draw of the edge radius does is taken off the edge force, in squares, where
/// that radius has a part in it: 0.30 and 0.205 leave 0.219.
#[test]
fn the_edge_force_is_not_spread_twice() {
    let class = |edge: Value, usual: Value| {
        pass(|p| {
            p["stock"]["linear"] = Value::Null;
            p["stock"]["class"] = json!({
                "mean": [1500.0, 0.22], "hardest": [1500.0, 0.22], "k_r": 0.35, "k_a": 0.25,
                "edge": edge, "capped": false,
            });
            p["stock"]["hardness"] = json!(180.0);
            p["cutter"]["usual_edge_radius"] = usual.clone();
        })
    };
    let left = (0.30_f64.powi(2) - 0.205_f64.powi(2)).sqrt();
    for (edge, usual, deviation) in [
        (json!(["measured", 46.0, 68.0]), json!(0.008), left),
        (json!(["measured", 46.0, 68.0]), Value::Null, 0.30),
        (json!(["ploughing", 4.0, 7.0]), Value::Null, left),
        (json!(["of row", 0.3]), json!(0.008), 0.30),
    ] {
        let mut setup = class(edge, usual);
        near(
            share(&setup, Input::Edge),
            (AT_95 * deviation).exp() - 1.0,
            1e-4,
        );
        setup.cutter.edge_radius = None;
        near(share(&setup, Input::Edge), (AT_95 * 0.30).exp() - 1.0, 1e-4);
    }
    let mut sure = class(json!(["ploughing", 4.0, 7.0]), Value::Null);
    unsure(&mut sure, 0.12, 0.1, 0.28, 0.35);
    near(share(&sure, Input::Edge), 0.0, 0.0);
}

/// The ends of many draws of one log-normal factor: the middle times and over `e^(1.6449 s)`.
#[track_caller]
fn ends((low, high): (f64, f64), middle: f64, deviation: f64) {
    let end = (AT_95 * deviation).exp();
    // Of 4000 draws the 5 % end lies within 3 % of the deviation, thrice over.
    let within = 1.0 + 0.1 * deviation;
    for (got, expect) in [(low, middle / end), (high, middle * end)] {
        assert!(
            got / expect < within && expect / got < within,
            "{got} is not {expect}"
        );
    }
}

/// 1000 N/mm² along and 350 across at 0.05 mm, 20 and 30 N/mm of edge: each draw moves its part.
#[test]
fn each_part_of_the_force_is_drawn_by_itself() {
    let linear = |edge: [f64; 3]| {
        pass(|p| {
            p["stock"]["linear"] = json!({ "cut": [1000.0, 350.0, 0.0], "edge": edge });
        })
    };
    let at = |setup: &Setup| over_width(setup, mm(0.05), 4000, 5).unwrap();
    let (along, across) = (50e3, 17.5e3);
    let mut chip = linear([0.0; 3]);
    unsure(&mut chip, 0.2, 0.0, 0.0, 0.0);
    ends(at(&chip)[0], along, 0.2);
    ends(at(&chip)[1], across, 0.2);
    unsure(&mut chip, 0.0, 0.0, 0.3, 0.0);
    ends(at(&chip)[1], across, 0.3);
    near(at(&chip)[0].0, along, 1e-6);
    near(at(&chip)[0].1, along, 1e-6);
    // The two parts across are drawn together with the chip and the edge: squares add.
    unsure(&mut chip, 0.2, 0.0, 0.3, 0.0);
    ends(at(&chip)[1], across, 0.2_f64.hypot(0.3));
    let mut edge = linear([20.0, 30.0, 0.0]);
    unsure(&mut edge, 0.0, 0.25, 0.0, 0.0);
    let [(low, high), (low_across, high_across)] = at(&edge);
    ends((low - along, high - along), 20e3, 0.25);
    ends((low_across - across, high_across - across), 30e3, 0.25);
    // A cutter below 1 mm: everything.
    let mut micro = linear([20.0, 30.0, 0.0]);
    unsure(&mut micro, 0.0, 0.0, 0.0, 0.0);
    micro.cutter.diameter = mm(0.8);
    ends(at(&micro)[0], along + 20e3, 0.66);
    let mut bare = linear([0.0; 3]);
    bare.stock.resistance = None;
    assert!(over_width(&bare, mm(0.05), 10, 5).is_none());
}

/// 100 N/mm on one straight edge 1 mm deep: 100 N across, whatever the chip, in a slot.
#[test]
fn the_range_of_a_pass_is_that_of_its_inputs() {
    let mut pass = pass(|p| {
        p["hold"] = json!({ "clamp_force": 2000.0, "friction": 0.1, "faces": 2 });
    });
    unsure(&mut pass, 0.0, 0.0, 0.2, 0.0);
    let found = range(&pass, 1500);
    assert_eq!(found.draws, 1500);
    let answer = |symbol: &s::Symbol| {
        let hit = found.answers.iter().find(|a| a.symbol.name == symbol.name);
        let hit = hit.unwrap();
        (hit.low, hit.high)
    };
    // The depth has a part: within 5 % at the 95 % end.
    let deviation = 0.2_f64.hypot(1.05_f64.ln() / AT_95);
    ends(answer(&s::F_RADIAL), 100.0, deviation);
    ends(answer(&s::F_XY), 100.0, deviation);
    // Friction holds 2 · 0.1 · 2000 N, of which half may be used (model.md: a safety of 2).
    let hold = found.check("hold").unwrap();
    let inputs = [1.3_f64, 1.25].map(|end| end.ln() / AT_95);
    let all = deviation.hypot(inputs[0].hypot(inputs[1]));
    ends((1.0 - hold.high, 1.0 - hold.low), 100.0 / 200.0, all);
    // It is over where the draw is twice the middle: ln 2 lies 2.38 deviations out, and a normal
    // table leaves 0.87 % beyond that; of 1500 draws that is 13, give or take thrice 3.6.
    let out = 2.0_f64.ln() / all;
    assert!((out - 2.38).abs() < 0.01, "{out}");
    assert!((0.0015..0.016).contains(&hold.over), "{}", hold.over);
    assert_eq!(hold.matters, Some(Input::Across));
}

/// What moves a check most has its name.
#[test]
fn the_input_that_matters_most_is_named() {
    let pass = |across: f64, clamp: Value| {
        let mut pass = pass(|p| {
            p["hold"] = json!({ "clamp_force": clamp, "friction": 0.1, "faces": 2 });
            p["machine"]["stiffness"] = json!(0.05);
            p["machine"]["runout"] = json!(0.001);
        });
        unsure(&mut pass, 0.0, 0.0, across, 0.0);
        range(&pass, 20)
    };
    let matters = |range: &LikelyRange, check: &str| range.check(check).unwrap().matters;
    // A soft machine of 50 N/mm bends far more than the cutter; 1.5 times is more than the force.
    let sure = pass(0.0, json!(2000.0));
    assert_eq!(matters(&sure, "tip-deflection"), Some(Input::Stiffness));
    assert_eq!(matters(&sure, "hold"), Some(Input::Clamp));
    assert_eq!(matters(&sure, "breakage"), Some(Input::Strength));
    let unsure = pass(0.5, json!(2000.0));
    for check in ["tip-deflection", "hold", "breakage"] {
        assert_eq!(matters(&unsure, check), Some(Input::Across), "{check}");
    }
}

/// law.md: a land takes p_w VB across and a quarter of it along, and nothing of a new edge is
/// lost: the worn pass is the pass with that land.
#[test]
fn the_worn_edge_is_the_same_pass_with_its_land() {
    let with_land = |land: f64| {
        pass(|p| {
            p["stock"]["hardness"] = json!(200.0);
            p["stock"]["modulus"] = json!(210e3);
            p["stock"]["land"] = json!(land);
        })
    };
    let new = with_land(0.0);
    let worn = range(&new, 10).worn.unwrap();
    // 0.3 mm, at most 0.08 D: 0.08 · 4 mm is 0.32 mm.
    near(worn.land.value, 0.3e-3, 1e-12);
    // H = 9.81 · 200 N/mm², p_w = 0.62 H √(43 H / E).
    let h = 9.81 * 200.0;
    let pressure = 0.62 * h * (43.0 * h / 210e3_f64).sqrt();
    let (across, along) = (100.0 + pressure * 0.3, 0.25 * pressure * 0.3);
    near(worn.loads.lateral, along.hypot(across), 1e-3);
    near(worn.width.value, 4e-3, 1e-12);
    let same = plan(&with_land(0.3));
    let named = |name: &str| same.check(name).unwrap().margin();
    assert!(worn.checks.len() >= 3);
    for check in &worn.checks {
        let (got, expect) = (check.margin(), named(check.limit.name));
        assert!(
            got == expect || (got.unwrap() - expect.unwrap()).abs() < 1e-9,
            "{}: {got:?} {expect:?}",
            check.limit.name
        );
    }
    for as_worn in [0.3, 0.4] {
        assert!(range(&with_land(as_worn), 10).worn.is_none());
    }
    assert!(range(&with_land(0.29), 10).worn.is_some());
    let mut nothing_known = with_land(0.0);
    nothing_known.stock.resistance.as_mut().unwrap().body = None;
    assert!(range(&nothing_known, 10).worn.is_none());
}
