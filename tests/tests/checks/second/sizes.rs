//! Sizes of features against plain polygons (`independent/features.py`), and own factors against a
//! minimum that scipy finds (`independent/joint.py`).

use super::{Of, number, numbers};
use feeds_core::kernel::joint::{Joint, Seen};
use tests::asked;
use tests::outlines::value;
use tests::readings::{FACTORS, ln, seen};
use tests::second::{alike, cases};

#[test]
fn features_are_as_polygons_have_them() {
    let asked = asked::features();
    let kept = cases("features");
    assert_eq!(asked.len(), kept.len());
    for (told, case) in asked.iter().zip(&kept) {
        assert!(alike(told, &case.told), "ask Python anew: {told}");
        let wanted = number(&case.answer);
        let of = Of(told);
        // Chords are shorter than their arcs by less.
        of.near("size", (value(told), wanted), wanted.abs().max(1e-3), 1e-5);
    }
}

#[test]
fn own_factors_are_as_a_minimum_has_them() {
    let asked = asked::readings();
    let kept = cases("readings");
    assert_eq!(asked.len(), kept.len());
    for (told, case) in asked.iter().zip(&kept) {
        assert!(alike(told, &case.told), "ask Python anew: {told}");
        let of = Of(told);
        let readings = told["readings"].as_array().unwrap();
        let seen: Vec<Seen> = readings.iter().map(seen).collect();
        let before = Joint::independent(&numbers(&told["sd"]));
        let after = before.after(&seen, |k, x| ln(&readings[k]["of"], x));
        let [at, sd] = ["at", "sd"].map(|key| numbers(&case.answer[key]));
        for k in 0..FACTORS {
            of.near(
                "factor",
                (after.mean[k].exp(), at[k].exp()),
                at[k].exp(),
                1e-5,
            );
            of.same("how sure", after.deviation(k), sd[k], 1e-5);
        }
        let both = number(&case.answer["first_with_last"]);
        let scale = sd[0] * sd[FACTORS - 1];
        of.near("both", (after.covariance[FACTORS - 1], both), scale, 1e-5);
    }
}
