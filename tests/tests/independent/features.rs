//! Ways, areas and times of random features against plain polygons (`independent/features.py`).
//!
//! Ignored without Python: `.ci/run` runs it, with `FEEDS_PYTHON` naming the interpreter.

use feeds_core::kernel::seed::Seed;
use serde_json::Value;
use tests::independent::{ask, number};
use tests::outlines::{random, value};

/// Chords of the polygons are shorter than their arcs by less.
const NEAR: f64 = 1e-5;

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
