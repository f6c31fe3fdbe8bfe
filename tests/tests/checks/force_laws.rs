//! The two force laws of a stock: where they are one, they give one answer, and both routes to the
//! power agree; a pass by linear coefficients gives the loads of the published turns.

use feeds_core::band::{Input, LikelyRange, spreads};
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

/// A row without an exponent goes straight with the chip: K_tc is k_c1.1, and what its edge takes
/// is a share of k_c1.1 · 0.02 mm, across as along.
#[test]
fn a_class_whose_row_has_no_exponent_is_the_linear_law() {
    let mut seed = Seed::new(20_260_501);
    for case in 0..120 {
        let mut pass = random(&mut seed);
        let k = seed.between(500.0, 3200.0);
        let share = 0.3 * f64::from(case % 2);
        let class = &mut pass["stock"]["class"];
        class["mean"] = json!([k, 0.0]);
        class["hardest"] = json!([k, 0.0]);
        class["edge"] = json!(["of-row", share]);
        class["capped"] = json!(false);
        let (k_r, k_a) = (
            class["k_r"].as_f64().unwrap(),
            class["k_a"].as_f64().unwrap(),
        );
        let by_class = planned(&setup(&pass, false));
        let edge = share * k * 0.02;
        pass["stock"]["linear"] =
            json!({ "cut": [k, k_r * k, k_a * k], "edge": [edge, edge, 0.0] });
        the_same(&planned(&setup(&pass, false)), &by_class, 1e-9);
    }
}

/// A land adds `p_w VB` across and a quarter of it along, p_w = min(0.62 H √(43 H/E), 0.7 H).
#[test]
fn a_land_adds_to_linear_coefficients() {
    let mut seed = Seed::new(20_260_502);
    let mut coefficients = Seed::new(20_260_503);
    let mut worn = 0;
    for _ in 0..60 {
        let mut pass = linear(random(&mut seed), &mut coefficients);
        let with_land = planned(&setup(&pass, false));
        let of = |key: &str| pass["stock"][key].as_f64();
        let land = of("land").unwrap();
        if let Some((points, modulus)) = of("hardness").zip(of("modulus")) {
            let hardness = 9.81 * points;
            let root = 0.62 * hardness * (43.0 * hardness / modulus).sqrt();
            let flank = root.min(0.7 * hardness) * land;
            worn += usize::from(flank > 0.0);
            for (i, more) in [0.25 * flank, flank].into_iter().enumerate() {
                let k = &mut pass["stock"]["linear"]["edge"][i];
                *k = json!(k.as_f64().unwrap() + more);
            }
        }
        pass["stock"]["land"] = json!(0.0);
        the_same(&planned(&setup(&pass, false)), &with_land, 1e-9);
    }
    assert!(worn > 15, "{worn}");
}

/// The force goes straight with the chip, so that its mean over the arc is the force on the mean
/// chip: (K_tc + K_te/h_m) Q, with h_m = 2 f_z a_e/(D φ_s), is the power over a turn for a square
/// end that runs true and whose end edge does not count.
#[test]
fn mean_power_by_the_removal_rate_is_that_of_the_turn() {
    let mut seed = Seed::new(20_260_504);
    let mut coefficients = Seed::new(20_260_505);
    let (mut classes, mut linears) = (0, 0);
    for case in 0..400 {
        let mut pass = random(&mut seed);
        if case % 2 == 0 {
            pass = linear(pass, &mut coefficients);
        }
        let of = |part: &str, key: &str| pass[part][key].as_f64().unwrap();
        let path = pass["cut"]["path"].as_str().unwrap().to_owned();
        let straight = ["slot", "side", "pocket"].contains(&path.as_str());
        let (d, a_p) = (of("cutter", "diameter"), of("cut", "a_p"));
        if !straight || !pass["cut"]["wall"].is_null() || d < 1.0 || a_p < 0.1 {
            continue;
        }
        pass["machine"]["runout"] = Value::Null;
        let setup = setup(&pass, false);
        let mut notes = Recorded::default();
        let planner = Planner::new(&setup);
        let plan = planner.work_out(&setup, &mut notes).unwrap();
        let told = notes.steps.iter().rfind(|s| s.card.symbol.text == "q_P");
        near("the ratio of the routes", told.unwrap().si, 1.0, 1e-9);
        // By hand, from the coefficients of the mean over the layers.
        let mean = planner.model().unwrap().coefficients().mean;
        let a_e = pass["cut"]["a_e"].as_f64().unwrap_or(d);
        let arc = (1.0 - 2.0 * a_e / d).acos();
        let f_z = plan.f_z.si() * 1e3;
        let h_m = 2.0 * f_z * a_e / (d * arc);
        let k = mean.cut[0].si() * 1e-6 + mean.edge[0].si() * 1e-3 / h_m;
        let n = plan.n.in_per_minute();
        let q = a_p * a_e * f_z * f64::from(setup.cutter.edges) * n / 60.0;
        near("P_m", plan.loads.unwrap().power, k * q * 1e-3, 1e-9);
        *(if case % 2 == 0 {
            &mut linears
        } else {
            &mut classes
        }) += 1;
    }
    assert!(classes > 60 && linears > 60, "{classes} {linears}");
}

/// With no edge force the energy is K_tc for each volume removed. The pass before left the shape of
/// this ball moved sideways by a_e, so that at each height a_e is taken, below the height where the
/// ball is that wide all its width: a segment of the circle and a rectangle. The arc of a ball was
/// once its arc on the effective diameter, taken at the full one: up to 2.3 times as much.
#[test]
fn the_power_of_a_ball_is_the_energy_of_what_it_removes() {
    let mut seed = Seed::new(20_260_506);
    for case in 0..40 {
        let mut pass = random(&mut seed);
        let d = pass["cutter"]["diameter"].as_f64().unwrap();
        let (a_p, a_e) = (d * seed.between(0.01, 0.5), d * seed.between(0.01, 0.5));
        let (radius, k) = (0.5 * d, 1500.0);
        pass["cutter"]["corner_radius"] = json!(radius);
        pass["stock"]["linear"] = json!({ "cut": [k, 400.0, 100.0], "edge": [0.0, 0.0, 0.0] });
        pass["stock"]["land"] = json!(0.0);
        pass["machine"]["runout"] = Value::Null;
        let path = ["ball-finish", "side"][case % 2];
        let direction = ["up", "down"][case / 2 % 2];
        pass["cut"] = json!({ "path": path, "direction": direction, "a_p": a_p, "a_e": a_e });
        let plan = planned(&setup(&pass, false));
        let full = (radius - (radius * radius - 0.25 * a_e * a_e).sqrt()).min(a_p);
        let cos = 1.0 - full / radius;
        let segment = radius * radius * (cos.acos() - cos * (1.0 - cos * cos).sqrt());
        let section = segment + a_e * (a_p - full);
        let v_f = plan.v_f.si() * 1e3;
        let power = plan.loads.unwrap().power;
        // Within what is promised for the torque of a round end, which rests on its bands.
        near("P_m", power, k * section * v_f * 1e-3, 1.5e-3);
    }
}

/// Nine in ten draws lie within a factor of exp(1.645 s) for a standard deviation s of the
/// logarithm. The parts of carbon steel: 0.12, 0.30 and 0.28; a land that nobody measured 0.35. The
/// draw of the edge radius, 0.205, is taken off that of the edge force in squares.
#[test]
fn the_spreads_are_those_between_sources() {
    let mut seed = Seed::new(20_260_506);
    let mut pass = random(&mut seed);
    pass["stock"]["class"]["edge"] = json!(["measured", 46.0, 68.0, null]);
    let spread = |pass: &Value, input: Input| {
        let spreads = spreads(&setup(pass, false));
        spreads.iter().find(|s| s.input == input).unwrap().share
    };
    let share = |deviation: f64| (1.644_853_6 * deviation).exp() - 1.0;
    pass["cutter"]["usual_edge_radius"] = json!(0.006);
    let radius = 0.205_f64;
    for (input, deviation) in [
        (Input::Cut, 0.12),
        (Input::Across, 0.28),
        (Input::Land, 0.35),
        (Input::EdgeRadius, radius),
        (Input::Edge, (0.30_f64.powi(2) - radius.powi(2)).sqrt()),
    ] {
        near(input.words(), spread(&pass, input), share(deviation), 1e-3);
    }
    // Nothing says what is usual: the radius is not in the force of the edge.
    pass["cutter"]["usual_edge_radius"] = Value::Null;
    near("edge", spread(&pass, Input::Edge), share(0.30), 1e-3);
    // 0.02 mm or 5 % of the depth, the larger.
    for (a_p, off) in [(0.05, 0.4), (0.39, 0.02 / 0.39), (0.41, 0.05)] {
        pass["cut"]["a_p"] = json!(a_p);
        near("depth", spread(&pass, Input::Depth), off, 1e-9);
    }
    for (d, small) in [(0.99, true), (1.01, false)] {
        pass["cutter"]["diameter"] = json!(d);
        assert_eq!(spread(&pass, Input::Micro) > 0.0, small, "{d} mm");
    }
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
    let band = LikelyRange::of(&planner, &setup, &plan, 200, 7);
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
        serde_json::from_str(include_str!("../../cases/turn-forces.json")).unwrap();
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
        serde_json::from_str(include_str!("../../cases/turn-forces.json")).unwrap();
    // Thinner than 0.003 mm, which no class was measured at.
    let thin = pass_of(&cases[0]).with(&[("feed-per-tooth", "0.002 mm")]);
    let of_stock = [("stock", "1095"), ("condition", "annealed")];
    let marks = |pass: &Description| {
        let answer = asked(pass);
        let said = answer.careful();
        let said = said.filter(|c| c.text().contains("a mean chip")).count();
        let sources = answer.resolved.sources.iter();
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
        serde_json::from_str(include_str!("../../cases/turn-forces.json")).unwrap();
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
