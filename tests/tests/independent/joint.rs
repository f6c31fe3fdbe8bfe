//! The joint estimate of own cuts against independent Python (`independent/joint.py`), which finds
//! the most likely place without our derivatives and the spread from the curvature there.
//!
//! Ignored without Python: `.ci/run` runs it, with `FEEDS_PYTHON` naming the interpreter.

use feeds_core::kernel::joint::{Joint, Seen};
use feeds_core::kernel::seed::Seed;
use serde_json::{Value, json};
use tests::independent::{ask, number};
use tests::readings::{FACTORS, ln, reading, seen};

/// As the issue of own numbers asks it.
const NEAR: f64 = 1e-3;
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
