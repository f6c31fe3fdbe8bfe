//! The answers that are kept in `cases/second` are still those of independent Python; with
//! `FEEDS_SECOND=write` they are written.
//!
//! Ignored without Python: `.ci/run` runs it, with `FEEDS_PYTHON` naming the interpreter.

use serde_json::Value;
use tests::asked;
use tests::independent::ask;
use tests::lookups::{apart, ours};
use tests::second::{cases, renewed};

#[test]
#[ignore = "needs FEEDS_PYTHON: run .ci/run"]
fn whole_passes() {
    let sets = (0..asked::SETS).flat_map(asked::whole);
    let told: Vec<Value> = sets.map(|(whole, _)| whole.told()).collect();
    renewed("whole", ("answers.py", &[]), &told, 2);
}

#[test]
#[ignore = "needs FEEDS_PYTHON: run .ci/run"]
fn cuts() {
    for (name, round) in [("square", false), ("round", true)] {
        let told: Vec<Value> = asked::cuts(round).into_iter().map(|c| c.told).collect();
        renewed(name, ("loads.py", &[]), &told, 1);
    }
}

#[test]
#[ignore = "needs FEEDS_PYTHON: run .ci/run"]
fn features() {
    renewed("features", ("features.py", &[]), &asked::features(), 1);
}

#[test]
#[ignore = "needs FEEDS_PYTHON: run .ci/run"]
fn readings() {
    renewed("readings", ("joint.py", &[]), &asked::readings(), 1);
}

#[test]
#[ignore = "needs FEEDS_PYTHON: run .ci/run"]
fn tips() {
    renewed("tips", ("chatter.py", &[]), &asked::tips(), 1);
}

#[test]
#[ignore = "needs FEEDS_PYTHON: run .ci/run"]
fn free_passes() {
    renewed("free", ("recommend.py", &[]), &asked::free(), 1);
}

#[test]
#[ignore = "needs FEEDS_PYTHON: run .ci/run"]
fn best_cuts() {
    renewed("open", ("best.py", &["11"]), &asked::open(), 8);
}

#[test]
#[ignore = "needs FEEDS_PYTHON: run .ci/run"]
fn searches() {
    renewed("searches", ("searches.py", &[]), &asked::searches(), 1);
}

#[test]
#[ignore = "needs FEEDS_PYTHON: run .ci/run"]
fn lookups() {
    let told: Vec<Value> = cases("lookups").into_iter().map(|c| c.told).collect();
    renewed("lookups", ("lookups.py", &[]), &told, 1);
}

/// A hundred of each kind, whatever is shown by others.
#[test]
#[ignore = "needs FEEDS_PYTHON: run .ci/run"]
fn lookups_drawn_anew() {
    let seed = serde_json::json!(20_261_281);
    for lists in ask("lookups_asked.py", &["100"], &[seed]) {
        for case in lists.as_array().expect("a list of cases") {
            let asked = &case["case"];
            assert_eq!(apart(&ours(asked), &case["answer"]), None, "{asked}");
        }
    }
}
