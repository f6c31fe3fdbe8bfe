//! Ways, areas and times of random features against plain polygons (`independent/features.py`).
//!
//! Ignored without Python: `.ci/run` runs it, with `FEEDS_PYTHON` naming the interpreter.

use feeds_core::kernel::seed::Seed;
use serde_json::{Value, json};
use tests::independent::{ask, number};
use tests::outlines::value;

/// Chords of the polygons are shorter than their arcs by less.
const NEAR: f64 = 1e-5;

/// The whole part of a number below `count`.
fn picked(number: f64, count: u32) -> usize {
    (1..count).filter(|k| number >= f64::from(*k)).count()
}

/// A random case of one of the questions.
fn random(seed: &mut Seed) -> Value {
    let mut between = |least: f64, most: f64| least + (most - least) * seed.unit();
    let width = between(4.0, 30.0);
    let length = width * between(1.1, 4.0);
    let d = width * between(0.2, 0.7);
    let corner = width * between(0.05, 0.45);
    let left = between(0.0, (width - d) / 4.0);
    let a_e = d * between(0.05, 0.5);
    let ends = picked(between(0.0, 3.0), 3);
    let shared = json!({
        "length": length, "width": width, "corner": corner, "d": d, "left": left, "a_e": a_e,
        "ends": ends, "diameter": width + d, "hole": d * 1.2, "lead": d / 2.0,
        "before": d * 1.4, "radius": width, "levels": 6, "depth": d, "pitch": d / 10.0,
        "angle": between(0.5, 5.0),
    });
    let what = [
        ("cleared", "slot"),
        ("cleared", "rectangle"),
        ("leaves", "rectangle"),
        ("clearing", "slot"),
        ("clearing", "rectangle"),
        ("clearing", "round"),
        ("clearing", "ring"),
        ("clearing", "along"),
        ("clearing", "open"),
        ("loops", "slot"),
        ("wall", "slot"),
        ("wall", "rectangle"),
        ("stairs", ""),
        ("dome", ""),
        ("ramp", ""),
    ];
    let (what, outline) = what[picked(between(0.0, 15.0), 15)];
    let mut case = shared;
    case["what"] = what.into();
    case["outline"] = outline.into();
    case
}

#[test]
#[ignore = "needs FEEDS_PYTHON: run .ci/run"]
fn features_are_as_plain_polygons_have_them() {
    let mut seed = Seed::new(20_261_129);
    let cases: Vec<Value> = (0..300).map(|_| random(&mut seed)).collect();
    let mut worst = 0.0_f64;
    for (case, answer) in cases.iter().zip(ask("features.py", &[], &cases)) {
        let (expect, got) = (number(&answer), value(case));
        let apart = (got - expect).abs() / expect.abs().max(1e-3);
        assert!(apart < NEAR, "{got}, by polygons {expect}: {case}");
        worst = worst.max(apart);
    }
    println!("300 sizes, the worst {worst:.1e} apart");
}
