//! Roots and tops as the published searches find them (`independent/searches.py`): they ask at the
//! same places, so no look is spent that the method does not need.

use super::{Of, number, numbers};
use feeds_core::kernel::root::{bracketed, golden};
use serde_json::Value;
use tests::asked;
use tests::second::{alike, cases};

fn value(told: &Value, x: f64) -> f64 {
    let powers = numbers(&told["powers"]);
    let total = powers.iter().rev().fold(0.0, |total, c| total * x + c);
    match told["step"].as_f64() {
        Some(step) if x >= step => total + number(&told["jump"]),
        _ => total,
    }
}

#[test]
fn roots_and_tops_are_asked_for_where_the_methods_ask() {
    let asked = asked::searches();
    let kept = cases("searches");
    assert_eq!(asked.len(), kept.len());
    let (mut roots, mut none) = (0, 0);
    for (told, case) in asked.iter().zip(&kept) {
        assert!(alike(told, &case.told), "ask Python anew: {told}");
        let of = Of(told);
        let ends = numbers(&told["ends"]);
        let (from, to) = (ends[0], ends[1]);
        let tolerance = number(&told["tolerance"]);
        let mut places = Vec::new();
        let look = |x: f64| {
            places.push(x);
            value(told, x)
        };
        let found = &case.answer["found"];
        if told["what"] == "root" {
            let got = bracketed(from, to, tolerance, look);
            assert_eq!(got.is_some(), !found.is_null(), "{told}");
            match got {
                Some(got) => of.near("root", (got, number(found)), tolerance, 1e-3),
                None => none += 1,
            }
            roots += 1;
        } else {
            let got = golden(from, to, tolerance, look);
            let [x, y] = [0, 1].map(|k| number(&found[k]));
            of.near("top", (got.0, x), to - from, 1e-9);
            of.near("its height", (got.1, y), y.abs().max(1.0), 1e-9);
        }
        let wanted = numbers(&case.answer["asked"]);
        assert_eq!(places.len(), wanted.len(), "{places:?}: {told}");
        for (place, wanted) in places.iter().zip(&wanted) {
            of.near("place", (*place, *wanted), to - from, 1e-9);
        }
    }
    assert!(roots > 100 && none > 20, "{roots} {none}");
}
