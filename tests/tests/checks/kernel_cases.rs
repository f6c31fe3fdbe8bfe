//! Published and independently computed cases the kernel must answer. Each case in `cases/`
//! carries its source, its basis and its tolerance.

use std::f64::consts::TAU;

use feeds_core::kernel::arc::ArcTable;
use feeds_core::kernel::beam::{Beam, Segment};
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
            .filter(|c| c["id"].as_str().unwrap().starts_with("CH-S"))
    };
    assert_eq!(milling().count(), 3, "all milling cases are carried");
    for case in milling() {
        let mode = |axis: &str| {
            let m = &case["inputs"][axis];
            let value = |i: usize| m[i].as_f64().unwrap();
            Mode {
                k: value(0),
                zeta: value(1),
                f_n: value(2),
            }
        };
        let cut = Stability::new(
            [mode("x_k_zeta_fn"), mode("y_k_zeta_fn")],
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
        for (k, expected) in (0..).zip(list("lobe_speeds_at_min_rpm_k0to3")) {
            let (got, expected) = (cut.speed(&least, k), expected.as_f64().unwrap());
            assert!(
                (got / expected - 1.0).abs() <= rel,
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
