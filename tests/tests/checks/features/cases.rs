//! Areas, ways and times against plain polygons.
//!
//! The expected values of `cases/features.json` come from `independent/features.py`, which draws
//! every outline and path in short chords and adds them up; the simplest were worked by hand beside
//! it, see the second test.

use serde_json::{Value, json};
use tests::outlines::value;

/// Values are written with seven digits, and chords are shorter than their arcs by less.
const NEAR: f64 = 1e-6;

#[test]
fn sixty_sizes_are_those_of_plain_polygons() {
    let text = include_str!("../../../cases/features.json");
    let cases: Vec<Value> = serde_json::from_str(text).unwrap();
    assert!(cases.len() >= 60, "{} cases", cases.len());
    for case in &cases {
        let (expect, got) = (case["expect"].as_f64().unwrap(), value(case));
        let apart = (got - expect).abs();
        assert!(apart <= NEAR * expect.max(1e-3), "{got} for {case}");
    }
}

/// By hand, one of each kind.
#[test]
fn sizes_worked_by_hand() {
    for (case, expect, sum) in [
        (
            json!({"what": "cleared", "outline": "slot", "length": 28, "width": 3.2, "ends": 1}),
            88.501_23,
            "28 · 3.2 less (2 − π/2) · 1.6²",
        ),
        (
            json!({"what": "leaves", "outline": "rectangle", "length": 20, "width": 12,
                "corner": 1, "d": 4}),
            2.575_222,
            "(4 − π) · (2² − 1²)",
        ),
        (
            json!({"what": "along", "length": 28, "width": 3.2, "ends": 1, "d": 3, "left": 0.1}),
            27.9,
            "one radius more at the open end, one and 0.1 less at the closed one",
        ),
        (
            json!({"what": "clearing", "outline": "open", "length": 34, "width": 16, "d": 10,
                "left": 0, "a_e": 8}),
            96.0,
            "two rows of 34 + 10 and one step of 8",
        ),
        (
            json!({"what": "clearing", "outline": "round", "diameter": 5, "d": 3, "left": 0,
                "a_e": 0.5}),
            10.424_778,
            "rings of 0.5 and 1: 2π · 1.5, and two steps of 0.5",
        ),
        (
            json!({"what": "wall", "outline": "round", "diameter": 8, "d": 5, "lead": 1}),
            12.566_371,
            "π · (8 − 5) around, π · 1 in and off",
        ),
        (
            json!({"what": "corners", "length": 20, "width": 12, "corner": 1, "outline":
                "rectangle", "before": 4, "d": 2, "left": 0, "a_e": 0.5}),
            8.0,
            "R − r is 1, 0.41 along the diagonal is one round: four times 2 · 1",
        ),
        (
            json!({"what": "time", "length": 100, "legs": 10, "feed": 600, "acceleration": 0.1}),
            11.0,
            "ten legs of 1 s, each 0.1 s longer for starting and stopping",
        ),
    ] {
        let got = value(&case);
        assert!((got - expect).abs() < 1e-5, "{got}, by hand {sum}: {case}");
    }
}
