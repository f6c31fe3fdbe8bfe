//! The joint estimate of own cuts against independent Python (`independent/joint.py`), which finds
//! the most likely place without our derivatives and the spread from the curvature there.
//!
//! Ignored without Python: `.ci/run` runs it, with `FEEDS_PYTHON` naming the interpreter.

use feeds_core::kernel::joint::{Joint, Seen};
use feeds_core::kernel::seed::Seed;
use serde_json::{Value, json};
use tests::independent::{ask, number};

/// As the issue of own numbers asks it.
const NEAR: f64 = 1e-3;
/// Chip, edge, across, stiffness, edge radius.
const FACTORS: usize = 5;

/// The logarithm of what is read, as the script has it.
fn ln(of: &Value, x: &[f64]) -> f64 {
    let key = |key: &str| of[key].as_f64().unwrap();
    let [cut, edge, across, stiff, radius] = [0, 1, 2, 3, 4].map(|k: usize| x[k].exp());
    let force = || key("cut") * cut + key("edge") * edge * radius.powf(key("power"));
    match of["what"].as_str().unwrap() {
        "wall" => {
            let push = key("share") * across * force();
            (push / key("cutter") + push / (key("machine") * stiff)).ln()
        }
        "power" => (force() * key("speed")).ln(),
        _ => (key("chip") / (key("least") * radius)).ln(),
    }
}

/// A random reading: a wall, watts, or a chip that was there or not.
fn reading(seed: &mut Seed) -> Value {
    let mut between = |least: f64, most: f64| least + (most - least) * seed.unit();
    let what = ["wall", "power", "chip"]
        [usize::from(between(0.0, 1.0) > 0.4) + usize::from(between(0.0, 1.0) > 0.7)];
    let of = json!({
        "what": what, "cut": between(5.0, 60.0), "edge": between(5.0, 60.0),
        "power": between(0.2, 0.6), "share": between(0.3, 1.2), "cutter": between(2e6, 2e7),
        "machine": between(4e6, 2e7), "speed": between(0.3, 3.0), "chip": between(1.0, 6.0),
        "least": between(1.0, 6.0),
    });
    let off = (between(-0.5, 0.5)).exp();
    if what == "chip" {
        return json!({
            "kind": "side", "of": of, "above": between(0.0, 1.0) > 0.5, "sd": 0.2
        });
    }
    let at = ln(&of, &[0.0; FACTORS]).exp() * off;
    json!({ "kind": "value", "of": of, "at": at, "sd": between(0.04, 0.15) })
}

fn seen(reading: &Value) -> Seen {
    let deviation = reading["sd"].as_f64().unwrap();
    match reading["kind"].as_str().unwrap() {
        "value" => Seen::Value {
            at: reading["at"].as_f64().unwrap().ln(),
            deviation,
        },
        _ => Seen::Side {
            of: 0.0,
            above: reading["above"].as_bool().unwrap(),
            deviation,
        },
    }
}

#[test]
#[ignore = "needs FEEDS_PYTHON: run .ci/run"]
fn own_factors_are_as_an_independent_minimum_has_them() {
    let mut seed = Seed::new(41);
    let cases: Vec<Value> = (1..=24)
        .map(|count| {
            let sd: Vec<f64> = (0..FACTORS).map(|_| 0.1 + 0.3 * seed.unit()).collect();
            let readings: Vec<Value> = (0..=count / 3).map(|_| reading(&mut seed)).collect();
            json!({ "sd": sd, "readings": readings })
        })
        .collect();
    let answers = ask("joint.py", &[], &cases);
    let mut worst = 0.0_f64;
    for (case, answer) in cases.iter().zip(&answers) {
        let list =
            |value: &Value| -> Vec<f64> { value.as_array().unwrap().iter().map(number).collect() };
        let readings = case["readings"].as_array().unwrap();
        let seen: Vec<Seen> = readings.iter().map(seen).collect();
        let after =
            Joint::independent(&list(&case["sd"])).after(&seen, |k, x| ln(&readings[k]["of"], x));
        for k in 0..FACTORS {
            // Factors, and how sure they are, both as shares.
            let (at, sd) = (list(&answer["at"])[k], list(&answer["sd"])[k]);
            worst = worst.max((after.mean[k] - at).exp_m1().abs());
            worst = worst.max((after.deviation(k) / sd - 1.0).abs());
        }
        let both = number(&answer["first_with_last"]);
        let scale = after.deviation(0) * after.deviation(FACTORS - 1);
        worst = worst.max((after.covariance[FACTORS - 1] - both).abs() / scale);
    }
    println!("worst of {} cases: {worst:.1e}", cases.len());
    assert!(worst < NEAR, "{worst}");
}
