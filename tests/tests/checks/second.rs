//! The program beside the answers of the independent Python that are kept in `cases/second`:
//! drawn by seeds, worked out from the published law and mechanics by `independent/*.py`. The run
//! that has Python asks for them anew (`independent/kept.rs`).

mod cuts;
mod free;
mod lookups;
mod searches;
mod sizes;
mod tips;
mod whole;

use serde_json::Value;

fn number(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("no number: {value}"))
}

fn numbers(value: &Value) -> Vec<f64> {
    let list = value
        .as_array()
        .unwrap_or_else(|| panic!("no list: {value}"));
    list.iter().map(number).collect()
}

/// What is asked, in words for a fault.
struct Of<'a>(&'a Value);

impl Of<'_> {
    #[track_caller]
    fn near(&self, what: &str, (ours, theirs): (f64, f64), scale: f64, allowed: f64) {
        let off = (ours - theirs).abs();
        assert!(
            off <= allowed * scale.abs() || off == 0.0,
            "{what} is {ours}, by Python {theirs}, {:.1e} apart: {}",
            off / scale.abs(),
            self.0
        );
    }

    #[track_caller]
    fn same(&self, what: &str, ours: f64, theirs: f64, allowed: f64) {
        self.near(what, (ours, theirs), theirs, allowed);
    }
}
