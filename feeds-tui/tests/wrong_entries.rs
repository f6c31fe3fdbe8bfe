//! Wrong entries: each told once, all at once, with value, range and what would be right.

use feeds_tui::pass::description::Description;
use feeds_tui::pass::resolve::{TablesOnly, resolve};

const GOOD: [(&str, &str); 7] = [
    ("diameter", "6 mm"),
    ("edges", "4"),
    ("depth", "1 mm"),
    ("width", "0.5 mm"),
    ("path", "side"),
    ("stock", "1095"),
    ("condition", "annealed"),
];

/// What is said of the good pass with these entries in place of its own; empty clears one.
fn said(entries: &[(&str, &str)]) -> Vec<String> {
    let pass = Description::default().with(&GOOD).with(entries);
    match resolve(&pass, &TablesOnly) {
        Ok(_) => Vec::new(),
        Err(errors) => errors.iter().map(ToString::to_string).collect(),
    }
}

#[track_caller]
fn check(entries: &[(&str, &str)], expected: &[&str]) {
    let said = said(entries);
    assert_eq!(said.len(), expected.len(), "{said:#?}");
    for (said, start) in said.iter().zip(expected) {
        assert!(
            said.starts_with(start),
            "«{said}» does not start with «{start}»"
        );
    }
}

#[test]
fn one_wrong_entry_does_not_hide_the_others() {
    check(
        &[
            ("diameter", "6"),
            ("helix", "99 deg"),
            ("depth", "0 mm"),
            ("stock", "unobtainium"),
        ],
        &[
            "diameter: «6» has no unit",
            "depth: 0 mm is not between 0.001 mm and 100 mm",
            "stock: no stock is called 'unobtainium'",
            "helix: 99 deg is not between 0 deg and 60 deg",
        ],
    );
    // what no cut can have, together with what cannot be read
    check(
        &[("depth", "30 mm"), ("width", "8 mm"), ("tilt", "100 deg")],
        &[
            "tilt: 100 deg is not between 0 deg and 85 deg",
            "depth: a_p is 30 mm, which is not between 0 mm and 18 mm: the cut cannot be deeper",
            "width: a_e is 8 mm, which is not between 0 mm and 6 mm: the cut cannot be wider",
        ],
    );
}

#[test]
fn an_unknown_cutter_is_told_once_and_not_asked_for_its_diameter() {
    check(
        &[("cutter", "nonsense"), ("diameter", ""), ("edges", "")],
        &["cutter: no cutter is called 'nonsense'"],
    );
    check(
        &[("machine", "nonsense")],
        &["machine: no machine is called 'nonsense'"],
    );
}

#[test]
fn a_tiny_bound_keeps_its_digits() {
    // the least width the register takes is half a micrometre
    check(&[("width", "1 nm")], &["width: «nm» measures a torque"]);
    check(
        &[("width", "0.0001 mm")],
        &["width: 0.0001 mm is not between 0.0005 mm and 50 mm"],
    );
    // the hole of a helix is named itself, not the cutter's diameter
    check(
        &[("entry", "helix"), ("helix-hole", "5.5 mm")],
        &["helix-hole: D_m is 5.5 mm, which is not between 6 mm and 1000 mm"],
    );
}

#[test]
fn annealed_and_60_hrc_cannot_both_be_true() {
    // the row of the stock: annealed 185-207 HB, hardened 58-62 HRC
    check(
        &[("hardness", "60 HRC")],
        &["hardness: 60 HRC is not 1095 annealed, which has 185-207"],
    );
    assert!(said(&[("hardness", "60 HRC")])[0].contains("give the condition hardened"));
    // 150 HB lies more than 25 HB below both ends
    check(
        &[("hardness", "150 HB")],
        &["hardness: 150 HB is not 1095 annealed"],
    );
    for (condition, hardness) in [
        ("annealed", "207 HB"),
        ("annealed", "230 HB"), // within the 25 HB that measuring may be off
        ("hardened", "60 HRC"),
        ("", "60 HRC"),
    ] {
        check(&[("condition", condition), ("hardness", hardness)], &[]);
    }
}

#[test]
fn only_a_long_cutter_is_said_to_whip() {
    // carbide is usual to 5 diameters
    let cautions = |stick_out: &str| {
        let pass = Description::default()
            .with(&GOOD)
            .with(&[("stick-out", stick_out)]);
        resolve(&pass, &TablesOnly)
            .map(|r| r.cautions)
            .unwrap_or_default()
    };
    let long = feeds_tui::words::LONG;
    assert!(cautions("31 mm").iter().any(|c| c == long));
    assert!(!cautions("18 mm").iter().any(|c| c == long));
}

#[test]
fn guidelines_come_from_rows_with_a_source() {
    let pass = Description::default().with(&GOOD);
    let resolved = resolve(&pass, &TablesOnly).unwrap_or_else(|e| panic!("{e:?}"));
    for what in ["usual depth", "usual width", "usual stick-out"] {
        let row = resolved.sources.iter().find(|s| s.what == what);
        let row = row.unwrap_or_else(|| panic!("{what}"));
        assert!(row.weak && row.basis == "common practice", "{row:?}");
    }
}

#[test]
fn far_beyond_its_bound_a_margin_says_how_far() {
    use feeds_core::limit::Bound;
    use feeds_tui::words::{margin, percent};
    // 37 times the bound: 1 - 37
    let share = Bound::AtMost(1.0).margin(37.0);
    assert!((share + 36.0).abs() < 1e-12);
    assert_eq!(margin(share), "far beyond (×37)");
    assert_eq!(percent(-9.99), "-999 %");
    assert_eq!(margin(Bound::AtMost(0.0).margin(1.0)), "endlessly beyond");
}
