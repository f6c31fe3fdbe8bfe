//! The two force laws of a stock: where they are one, they give one answer; a pass by linear
//! coefficients gives the loads of the published turns.

#![allow(clippy::unwrap_used)] // a test fails by panicking

use feeds_core::band::{Input, spreads};
use feeds_core::kernel::seed::Seed;
use feeds_core::limit::Check;
use feeds_core::notebook::{Recorded, Silent};
use feeds_core::plan::setup::Setup;
use feeds_core::plan::{Plan, Planner};
use feeds_core::quantity::{Quantity, Stiffness};
use feeds_core::workpiece::{ForceLaw, Linear};
use feeds_tui::pass::answered::{Answered, answered};
use feeds_tui::pass::description::Description;
use feeds_tui::pass::resolve::TablesOnly;
use serde_json::{Value, json};
use tests::setups::{linear, random, setup};

fn planned(setup: &Setup) -> Plan {
    let planner = Planner::new(setup);
    planner.work_out(setup, &mut Silent).unwrap()
}

#[track_caller]
fn near(what: &str, got: f64, expected: f64, within: f64) {
    let scale = expected.abs().max(1e-12);
    assert!(
        (got - expected).abs() <= within * scale,
        "{what} is {got}, not {expected}"
    );
}

/// Loads, chosen speed and feed, interval and the used share of every bound of two plans that have
/// to be one.
#[track_caller]
fn the_same(a: &Plan, b: &Plan, within: f64) {
    near("n", a.n.si(), b.n.si(), within);
    near("f_z", a.f_z.si(), b.f_z.si(), within);
    for ((_, a), (_, b)) in a.moments.iter().zip(&b.moments) {
        let (a, b) = (a.unwrap(), b.unwrap());
        for (what, a, b) in [
            ("lateral", a.lateral, b.lateral),
            ("torque", a.torque, b.torque),
            ("power", a.power, b.power),
            ("lift", a.lift, b.lift),
            ("along", a.along, b.along),
            ("tip", a.tip, b.tip),
            ("wall at the bottom", a.wall_bottom, b.wall_bottom),
            ("wall at the top", a.wall_top, b.wall_top),
            ("stress", a.stress, b.stress),
        ] {
            near(what, a, b, within);
        }
    }
    near("k_c", a.k_c.unwrap().si(), b.k_c.unwrap().si(), within);
    // The share of the bound that is used: at a wanted margin of nothing the margin is what two
    // equal numbers leave, of which no digit need agree.
    let used = |plan: &Plan| -> Vec<(&str, Option<f64>)> {
        let checks = plan.checks.iter();
        checks
            .map(|c| (c.limit.name, c.margin().map(|m| 1.0 - m)))
            .collect()
    };
    for ((limit, a), (other, b)) in used(a).into_iter().zip(used(b)) {
        assert_eq!((limit, a.is_some()), (other, b.is_some()));
        near(limit, a.unwrap_or(0.0), b.unwrap_or(0.0), within);
    }
    for (a, b) in [(a.feeds.least, b.feeds.least), (a.feeds.most, b.feeds.most)] {
        let (a, b) = (a.unwrap(), b.unwrap());
        assert_eq!(a.limit, b.limit);
        near("an end of the feeds", a.f_z.si(), b.f_z.si(), within);
    }
}

/// Without an exponent Kienzle's law goes straight with the chip: K_tc is k_c1.1, K_rc and K_ac
/// its shares. With its edge force the edge terms are 0.3 k_c1.1 · 0.02 mm, across as along.
#[test]
fn kienzle_without_an_exponent_is_the_linear_law() {
    let mut seed = Seed::new(20_260_501);
    for case in 0..120 {
        let mut pass = random(&mut seed);
        let k = seed.between(500.0, 3200.0);
        let share = f64::from(u8::from(case % 2 == 0));
        let stock = &mut pass["stock"];
        stock["mean"] = json!([k, 0.0]);
        stock["hardest"] = json!([k, 0.0]);
        stock["edge_share"] = json!(share);
        let (k_r, k_a) = (
            stock["k_r"].as_f64().unwrap(),
            stock["k_a"].as_f64().unwrap(),
        );
        let kienzle = planned(&setup(&pass, false));
        let edge = share * 0.3 * k * 0.02;
        pass["stock"]["linear"] =
            json!({ "cut": [k, k_r * k, k_a * k], "edge": [edge, edge, 0.0] });
        let mut straight = planned(&setup(&pass, false));
        if share > 0.0 {
            // The handbook's route by Kienzle does not know the edge force, by the other it does.
            let wear = pass["stock"]["wear"].as_f64().unwrap();
            let h_m = straight.h_m.si() * 1e3;
            let k_c = straight.k_c.unwrap().si() / 1e6;
            near("k_c with its edge", k_c, wear * (k + edge / h_m), 1e-9);
            straight.k_c = kienzle.k_c;
        }
        the_same(&straight, &kienzle, 1e-9);
    }
}

#[test]
fn wear_is_a_factor_on_every_coefficient() {
    let mut seed = Seed::new(20_260_502);
    let mut coefficients = Seed::new(20_260_503);
    for _ in 0..60 {
        let mut pass = linear(random(&mut seed), &mut coefficients);
        let worn = setup(&pass, false);
        let wear = pass["stock"]["wear"].as_f64().unwrap();
        for part in ["cut", "edge"] {
            for i in 0..3 {
                let k = &mut pass["stock"]["linear"][part][i];
                *k = json!(wear * k.as_f64().unwrap());
            }
        }
        pass["stock"]["wear"] = json!(1.0);
        let sharp = setup(&pass, false);
        the_same(&planned(&worn), &planned(&sharp), 1e-9);
    }
}

/// The force goes straight with the chip, so that its mean over the arc is the force on the mean
/// chip: the handbook's route and the sum over a turn are one for a square end that runs true.
#[test]
fn by_linear_coefficients_both_routes_come_to_one_power() {
    let mut seed = Seed::new(20_260_504);
    let mut coefficients = Seed::new(20_260_505);
    let mut met = 0;
    for _ in 0..200 {
        let mut pass = linear(random(&mut seed), &mut coefficients);
        let path = pass["cut"]["path"].as_str().unwrap().to_owned();
        if !["slot", "side", "pocket"].contains(&path.as_str()) || !pass["cut"]["wall"].is_null() {
            continue;
        }
        pass["machine"]["runout"] = Value::Null;
        let setup = setup(&pass, false);
        let mut notes = Recorded::default();
        Planner::new(&setup).work_out(&setup, &mut notes).unwrap();
        let mut steps = notes.steps.iter();
        let ratio = steps.rfind(|s| s.card.symbol.text == "q_P").unwrap();
        near("the ratio of the routes", ratio.si, 1.0, 1e-6);
        met += 1;
    }
    assert!(met > 80, "{met}");
}

/// Published pairs stop at a thickness of the chip, and thinner chips widen the band; linear
/// coefficients state none.
#[test]
fn a_thin_chip_widens_the_band_of_a_published_pair_only() {
    let mut seed = Seed::new(20_260_506);
    let mut pass = random(&mut seed);
    let of = |pass: &Value| {
        let setup = setup(pass, false);
        let plan = planned(&setup);
        assert!(plan.h_m.si() < 0.05e-3, "a thin chip");
        let spread = spreads(&setup, &plan);
        spread
            .iter()
            .find(|s| s.input == Input::Force)
            .unwrap()
            .share
    };
    let kienzle = of(&pass);
    pass = linear(pass, &mut seed);
    // Common practice of this program: 20 %, or 35 % beyond what was measured.
    assert_eq!((kienzle, of(&pass)), (0.35, 0.20));
}

#[test]
fn the_band_spreads_the_edge_terms_as_well() {
    let mut seed = Seed::new(20_260_507);
    let pass = linear(random(&mut seed), &mut seed);
    let mut setup = setup(&pass, false);
    setup.given.n = Some(planned(&setup).n);
    setup.given.f_z = Some(planned(&setup).f_z);
    let power = |setup: &Setup| planned(setup).loads.unwrap().power;
    let resistance = setup.stock.resistance.as_mut().unwrap();
    let ForceLaw::Linear(Linear { cut, .. }) = &mut resistance.law else {
        panic!("linear coefficients")
    };
    // Next to nothing but the edge is left.
    *cut = cut.map(|k| k * 1e-9);
    let before = power(&setup);
    let planner = Planner::new(&setup);
    let plan = planned(&setup);
    let band = feeds_core::band::Band::of(&planner, &setup, &plan, 200, 7);
    let answer = band
        .answers
        .iter()
        .find(|a| a.symbol.text == "P_m")
        .unwrap();
    assert!(
        answer.low < 0.9 * before && answer.high > 1.1 * before,
        "{answer:?}"
    );
}

fn asked(pass: &Description) -> Answered {
    answered(pass, &TablesOnly, &mut Planner::default()).unwrap()
}

/// A pass by the inputs of a turn of `cases/turn-forces.json`.
fn pass_of(case: &Value) -> Description {
    let input = |key: &str| case["inputs"][key].as_f64().unwrap();
    let slot = case["inputs"]["mode"] == "slot";
    let mm = |key: &str| format!("{} mm", input(key));
    let mut pass = Description::default()
        .with(&[("path", if slot { "slot" } else { "side" })])
        .with(&[
            ("direction", "down"),
            ("stick-out", "40 mm"),
            ("shank", "12 mm"),
        ])
        .with(&[("edges", &input("N").to_string()), ("diameter", &mm("D"))])
        .with(&[("helix", &format!("{} deg", input("helix")))])
        .with(&[("depth", &mm("ap")), ("feed-per-tooth", &mm("fz"))])
        .with(&[("flute-length", "30 mm")])
        .with(&[("spindle", &format!("{} rpm", input("n_rpm")))]);
    if !slot {
        pass = pass.with(&[("width", &mm("ae"))]);
    }
    for (key, of, unit) in [
        ("ktc", "Ktc", "N/mm2"),
        ("krc", "Krc", "N/mm2"),
        ("kac", "Kac", "N/mm2"),
        ("kte", "Kte", "N/mm"),
        ("kre", "Kre", "N/mm"),
        ("kae", "Kae", "N/mm"),
    ] {
        pass = pass.with(&[(key, &format!("{} {unit}", input(of)))]);
    }
    pass
}

/// Expected values from the file: numeric integration, written apart from this project.
#[test]
fn a_pass_by_linear_coefficients_has_the_loads_of_the_worked_turns() {
    let cases: Vec<Value> =
        serde_json::from_str(include_str!("../cases/turn-forces.json")).unwrap();
    let linear = cases.iter().filter(|c| c["inputs"]["Ktc"].is_number());
    let mut met = 0;
    for case in linear {
        let answer = asked(&pass_of(case));
        let loads = answer.plan.loads.unwrap();
        let output = |key: &str| case["outputs"][key].as_f64().unwrap();
        let within = |key: &str| case["tolerance"][key].as_f64().unwrap();
        near("F_xy", loads.lateral, output("Fxy_peak"), within("peak"));
        near("M_max", loads.torque, output("T_peak_Nm"), within("peak"));
        near("P_m", loads.power, output("P_mean_W"), within("mean"));
        // By hand: the force on the mean chip, and what a turn of every edge takes of it.
        let k_c = answer.plan.k_c.unwrap().si();
        let q = answer.plan.q.si();
        near("k_c · Q", k_c * q, output("P_mean_W"), within("mean"));
        met += 1;
    }
    assert_eq!(met, 6);
}

#[test]
fn no_chip_is_called_extrapolated_by_linear_coefficients() {
    let cases: Vec<Value> =
        serde_json::from_str(include_str!("../cases/turn-forces.json")).unwrap();
    let thin = pass_of(&cases[0]).with(&[("feed-per-tooth", "0.01 mm")]);
    let of_stock = [("stock", "1095"), ("condition", "annealed")];
    let marks = |pass: &Description| {
        let resolved = asked(pass).resolved;
        let cautions = resolved.cautions.iter();
        let said = cautions.filter(|c| c.contains("extrapolated")).count();
        let sources = resolved.sources.iter();
        (
            said,
            sources.filter(|s| s.what.contains("cutting force")).count(),
        )
    };
    // Nor is a row of the tables named whose place they take.
    assert_eq!(marks(&thin.clone().with(&of_stock)), (0, 0));
    let table = ["ktc", "krc", "kac", "kte", "kre", "kae"].map(|key| (key, ""));
    assert_eq!(marks(&thin.with(&of_stock).with(&table)), (1, 1));
}

/// The six as typed, on the way out and back in, and what they come to.
#[test]
fn the_edge_terms_may_be_nothing() {
    let cases: Vec<Value> =
        serde_json::from_str(include_str!("../cases/turn-forces.json")).unwrap();
    let none = pass_of(&cases[1]).with(&[
        ("krc", "0 MPa"),
        ("kac", "0 MPa"),
        ("kte", "0 N/mm"),
        ("kre", "0 N/mm"),
        ("kae", "0 N/mm"),
    ]);
    let answer = asked(&none);
    let ForceLaw::Linear(linear) = answer.resolved.setup.stock.resistance.unwrap().law else {
        panic!("linear coefficients")
    };
    assert_eq!(linear.edge, [Stiffness::from_si(0.0); 3]);
    // k_c is K_tc whatever the chip: 1800 N/mm2 of 16 cm3/min are 480 W.
    near("P_m", answer.plan.loads.unwrap().power, 480.0, 1e-9);
    assert!(answer.plan.checks.iter().filter_map(Check::margin).count() > 5);
}
