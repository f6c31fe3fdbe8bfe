//! Published and independently computed cases the kernel must answer. Each case in `cases/`
//! carries its source, its basis and its tolerance.

use std::f64::consts::TAU;

use feeds_core::kernel::arc::ArcTable;
use feeds_core::kernel::beam::{Beam, Segment};
use feeds_core::kernel::joint::{Joint, Seen};
use feeds_core::kernel::lobes::{Mode, Stability};
use feeds_core::kernel::taylor;
use feeds_core::kernel::turn::{Law, Turn, TurnCut, TurnPart, arc_of};
use serde_json::Value;
use tests::teeth::in_cut;

fn cases(text: &str) -> Vec<Value> {
    serde_json::from_str(text).unwrap()
}

/// A number of a case, by name and then key.
#[track_caller]
fn number(case: &Value, part: &str, key: &str) -> f64 {
    case[part][key]
        .as_f64()
        .unwrap_or_else(|| panic!("{}: no {part}.{key}", case["id"]))
}

/// Within `rel` of the expected output, and at least half a digit of five printed figures.
#[track_caller]
fn near(case: &Value, key: &str, got: f64, rel: f64, scale: f64) {
    let expected = number(case, "outputs", key);
    let allowed = rel * expected.abs().max(scale);
    assert!(
        (got - expected).abs() <= allowed,
        "{} {key}: got {got}, expected {expected} ± {allowed}",
        case["id"]
    );
}

fn path(name: &str) -> TurnPart {
    match name {
        "slot" => TurnPart::Slot,
        "up" => TurnPart::Up,
        "down" => TurnPart::Down,
        other => panic!("path {other}"),
    }
}

#[test]
fn forces_over_a_turn() {
    let cases = cases(include_str!("../../cases/turn-forces.json"));
    assert_eq!(cases.len(), 7, "all cases of the topic are carried");
    for case in &cases {
        let input = |key: &str| number(case, "inputs", key);
        let cut = TurnCut {
            d: input("D"),
            z: case["inputs"]["N"].as_u64().unwrap().try_into().unwrap(),
            helix: input("helix").to_radians(),
            r_e: 0.0,
            a_p: input("ap"),
            arc: arc_of(input("D"), input("ae")),
            path: path(case["inputs"]["mode"].as_str().unwrap()),
            f_z: input("fz"),
            tir: 0.0,
        };
        let law = if case["inputs"]["kc11"].is_number() {
            Law::kienzle(input("kc11"), input("mc"), input("kr_ratio"), 0.0)
        } else {
            Law::linear(
                [input("Ktc"), input("Krc"), input("Kac")],
                [input("Kte"), input("Kre"), input("Kae")],
            )
        };
        let arc = ArcTable::new(law.m_c);
        let turn = Turn::new(&arc, &cut, &law);
        let (mean, peak) = (
            number(case, "tolerance", "mean"),
            number(case, "tolerance", "peak"),
        );
        // Components near zero are held to the lateral force, as their printed digits are.
        let scale = 1e-3 * number(case, "outputs", "Fxy_peak");
        let load = turn.mean();
        let omega = input("n_rpm") * TAU / 60.0;
        near(case, "Fx_mean", load.x, mean, scale);
        near(case, "Fy_mean", load.y, mean, scale);
        if case["outputs"]["Fz_mean"].is_number() {
            near(case, "Fz_mean", load.z, mean, scale);
        }
        near(case, "T_mean_Nm", load.torque / 1000.0, mean, 0.0);
        near(case, "P_mean_W", load.torque / 1000.0 * omega, mean, 0.0);
        let e = turn.extremes();
        near(case, "Fx_min", e.least.x, peak, scale);
        near(case, "Fx_max", e.most.x, peak, scale);
        near(case, "Fy_min", e.least.y, peak, scale);
        near(case, "Fy_max", e.most.y, peak, scale);
        near(case, "Fxy_peak", e.lateral_peak(), peak, 0.0);
        near(case, "T_peak_Nm", e.most.torque / 1000.0, peak, 0.0);
        near(case, "P_peak_W", e.most.torque / 1000.0 * omega, peak, 0.0);
        let quick = turn.peaks();
        near(case, "Fxy_peak", quick.lateral, peak, 0.0);
        near(case, "T_peak_Nm", quick.torque / 1000.0, peak, 0.0);
    }
}

#[test]
fn teeth_in_cut() {
    let cases = cases(include_str!("../../cases/teeth-in-cut.json"));
    assert_eq!(cases.len(), 3, "all cases of the topic are carried");
    for case in &cases {
        let input = |key: &str| number(case, "inputs", key);
        let lag = 2.0 * input("ap_mm") * input("helix_deg").to_radians().tan() / input("D_mm");
        let arc = arc_of(input("D_mm"), input("ae_mm"));
        let [mean, least, most] = in_cut(input("z"), arc, lag);
        near(case, "helix_lag_deg", lag.to_degrees(), 1e-5, 0.0);
        near(case, "min", least, 0.0, 0.0);
        near(case, "max", most, 0.0, 0.0);
        near(case, "mean", mean, number(case, "tolerance", "mean"), 0.0);
    }
}

#[test]
fn stepped_cantilevers() {
    let cases = cases(include_str!("../../cases/bending.json"));
    let beams = || cases.iter().filter(|c| c["id"] != "DF-B8");
    assert_eq!(beams().count(), 5, "all beams are carried");
    for case in beams() {
        let segments: Vec<Segment> = case["inputs"]["segments_clamp_to_tip_mm_LxD"]
            .as_array()
            .unwrap()
            .iter()
            .map(|s| Segment {
                length: s[0].as_f64().unwrap(),
                diameter: s[1].as_f64().unwrap(),
            })
            .collect();
        let beam = Beam {
            modulus: number(case, "inputs", "E_MPa"),
            segments: &segments,
        };
        let force = number(case, "inputs", "P_N");
        let rel = number(case, "tolerance", "rel");
        near(case, "tip_mm", beam.tip(force, 0.0), rel, 0.0);
        near(case, "stiffness_N_mm", beam.stiffness(), rel, 0.0);
        near(
            case,
            "tip_mm_when_load_2mm_above_tip",
            beam.tip(force, 2.0),
            rel,
            0.0,
        );
        let expected = case["outputs"]["bending_stress_at_segment_start_MPa"]
            .as_array()
            .unwrap();
        let got: Vec<f64> = beam.stresses(force, 0.0).collect();
        assert_eq!(got.len(), expected.len(), "{}", case["id"]);
        for (got, expected) in got.iter().zip(expected) {
            let expected = expected.as_f64().unwrap();
            assert!(
                (got / expected - 1.0).abs() <= rel,
                "{}: {got} {expected}",
                case["id"]
            );
        }
    }
}

#[test]
fn stability_lobes() {
    let cases = cases(include_str!("../../cases/chatter.json"));
    let milling = || {
        cases
            .iter()
            .filter(|c| c["topic"].as_str().unwrap().starts_with("milling"))
    };
    assert_eq!(milling().count(), 6, "all milling cases are carried");
    for case in milling() {
        let modes = ["x_k_zeta_fn", "y_k_zeta_fn"].map(|axis| {
            let list = case["inputs"][axis].as_array().unwrap();
            let mode = |m: &serde_json::Value| Mode {
                k: m[0].as_f64().unwrap(),
                zeta: m[1].as_f64().unwrap(),
                f_n: m[2].as_f64().unwrap(),
            };
            list.iter().map(mode).collect::<Vec<_>>()
        });
        let cut = Stability::new(
            [&modes[0], &modes[1]],
            number(case, "inputs", "Kt_MPa"),
            number(case, "inputs", "Kr"),
            case["inputs"]["z"].as_u64().unwrap().try_into().unwrap(),
            number(case, "inputs", "ae_over_D"),
            path(case["inputs"]["mode"].as_str().unwrap()),
        );
        let rel = number(case, "tolerance", "zero_order");
        let list = |key: &str| case["outputs"][key].as_array().unwrap().clone();
        for (got, expected) in cut.directional().iter().zip(list("alpha_xx_xy_yx_yy")) {
            assert!(
                (got - expected.as_f64().unwrap()).abs() < 1e-4,
                "{}: {got}",
                case["id"]
            );
        }
        let least = cut.least().unwrap();
        near(case, "zero_order_min_mm", least.a_p, rel, 0.0);
        near(case, "at_fc_Hz", least.f_c, rel, 0.0);
        let speeds = case["tolerance"]["speeds"].as_f64().unwrap_or(rel);
        for (k, expected) in (0..).zip(list("lobe_speeds_at_min_rpm_k0to3")) {
            let (got, expected) = (cut.speed(&least, k), expected.as_f64().unwrap());
            assert!(
                (got / expected - 1.0).abs() <= speeds,
                "{} k {k}: {got}",
                case["id"]
            );
        }
        for row in list("table") {
            let n = row["n_rpm"].as_f64().unwrap();
            let (got, expected) = (
                cut.at_speed(n).unwrap().a_p,
                row["zoa_mm"].as_f64().unwrap(),
            );
            assert!(
                (got / expected - 1.0).abs() <= rel,
                "{} n {n}: {got}",
                case["id"]
            );
            let rel = number(case, "tolerance", "semi_discretization");
            for steps in [40, 64, 90] {
                let Some(expected) = row[format!("sd_m{steps}_mm")].as_f64() else {
                    continue;
                };
                let got = cut.first_unstable(0.4 * least.a_p, n, steps).unwrap();
                assert!(
                    (got / expected - 1.0).abs() <= 0.5 * rel,
                    "{} n {n}, {steps} steps: {got}",
                    case["id"]
                );
            }
        }
    }
}

#[test]
fn taylor_through_two_lives() {
    // TL-03 as a fit: with n = 1/4, half the speed lasts 16 times as long.
    let case = &cases(include_str!("../../cases/tool-life.json"))[2];
    assert_eq!(case["id"], "TL-03");
    let v = 80.0;
    let ratio = number(case, "inputs", "v_ratio");
    let t = number(case, "outputs", "T_ratio");
    let fit = taylor::fit(&[(v, 1.0), (ratio * v, t)]).unwrap();
    assert!((fit.n - number(case, "inputs", "n")).abs() < 1e-12);
    assert!((fit.c - v).abs() < 1e-9);
    // TL-02's two lives at one feed: p = 1/n = ln 2 / ln(4/3).
    let fit = taylor::fit(&[(300.0, 30.0), (400.0, 15.0)]).unwrap();
    assert!((1.0 / fit.n - 2.409_42).abs() < 1e-5);
    assert_eq!(taylor::fit(&[(300.0, 30.0)]), None);
    assert_eq!(taylor::fit(&[(300.0, 30.0), (300.0, 15.0)]), None);
    assert_eq!(taylor::fit(&[(300.0, 30.0), (400.0, 30.0)]), None);
}

/// SLN-06: a factor known to 1.35 in 9 of 10, read as 1.42, 1.31 and 1.55, each to 1.15. By the
/// conjugate rule for a normal mean (A. Gelman et al., Bayesian Data Analysis, ch. 2, memory).
#[test]
fn readings_of_a_factor_narrow_it() {
    let at_95 = 1.644_853_627_f64;
    let before = Joint::independent(&[1.35_f64.ln() / at_95]);
    let reading = |value: f64| Seen::Value {
        at: value.ln(),
        deviation: 1.15_f64.ln() / at_95,
    };
    let expect = |readings: &[f64], expected: [f64; 3]| {
        let seen: Vec<Seen> = readings.iter().map(|v| reading(*v)).collect();
        let after = before.after(&seen, |_, x| x[0]);
        let off = at_95 * after.deviation(0);
        for (got, expected) in [0.0, -off, off].into_iter().zip(expected) {
            let got = (after.mean[0] + got).exp();
            assert!((got / expected - 1.0).abs() < 1e-4, "{got} for {expected}");
        }
    };
    expect(&[1.42], [1.334, 1.1752, 1.5142]);
    expect(&[1.42, 1.31, 1.55], [1.3898, 1.2856, 1.5025]);
    expect(&[1.55, 1.42, 1.31], [1.3898, 1.2856, 1.5025]);
}

/// SLN-08: chip and edge coefficient from the spindle power of two cuts; a linear update of two
/// normal numbers, worked out apart from this project (A. Cornelius et al. 2024, constants of the
/// authors' code).
#[test]
fn readings_of_power_part_chip_and_edge() {
    let mut before = Joint::independent(&[333.79, 12.5]);
    before.mean = vec![1668.93, 50.0];
    // z π D n b · 90°/360°: 4 · π · 0.012 m · 83.33/s · 0.5 mm · 0.25.
    let edge = core::f64::consts::FRAC_PI_2;
    let rows = [[0.03, edge], [0.06, edge]];
    let seen = [138.621, 198.703].map(|watts| Seen::Value {
        at: watts,
        deviation: 0.05 * watts,
    });
    let after = before.after(&seen, |k, x| rows[k][0] * x[0] + rows[k][1] * x[1]);
    let got = [
        after.mean[0],
        after.mean[1],
        after.deviation(0),
        after.deviation(1),
    ];
    for (got, expected) in got.into_iter().zip([1844.2, 53.707, 230.0, 6.4051]) {
        assert!((got / expected - 1.0).abs() < 1e-3, "{got} for {expected}");
    }
}

/// A number about 0 ± 1 that was seen above 0.5, told apart to 0.3: the most likely place and the
/// curvature there, by scipy (minimize_scalar on x²/2 - norm.logcdf((x - 0.5)/0.3)).
#[test]
fn a_side_that_was_seen_counts() {
    let seen = Seen::Side {
        of: 0.5,
        above: true,
        deviation: 0.3,
    };
    let after = Joint::independent(&[1.0]).after(&[seen], |_, x| x[0]);
    assert!((after.mean[0] - 0.832_126_644).abs() < 1e-7, "{after:?}");
    assert!(
        (after.deviation(0) - 0.458_193_89).abs() < 1e-6,
        "{after:?}"
    );
}
