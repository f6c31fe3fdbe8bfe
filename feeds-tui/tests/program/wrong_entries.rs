//! Wrong entries: each told once, all at once, with value, range and what would be right.

use feeds_core::plan::Planner;
use feeds_tui::pass::answered::answered;
use feeds_tui::pass::description::Description;
use feeds_tui::pass::fastest::{asked, fastest};
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
            "stock: no stock is called «unobtainium»",
            "helix: 99 deg is not between 0 deg and 60 deg",
        ],
    );
    // what no cut can have, together with what cannot be read
    check(
        &[("depth", "30 mm"), ("width", "8 mm"), ("tilt", "100 deg")],
        &[
            "tilt: 100 deg is not between 0 deg and 85 deg",
            "depth: a_p is 30 mm; it has to be above 0 mm and at most 18 mm: the cut cannot be \
             deeper",
            "width: a_e is 8 mm; it has to be above 0 mm and at most 6 mm: the cut cannot be wider",
        ],
    );
}

/// What is needed is told once, and half of what belongs together with its other half.
#[test]
fn what_is_missing_is_told_once() {
    check(&[("width", "")], &["width: is needed"]);
    check(&[("wall", "inside")], &["wall-radius: is needed"]);
    check(
        &[("wall", "inside"), ("wall-radius", "x")],
        &["wall-radius: "],
    );
    check(&[("screw-diameter", "6 mm")], &["screw-torque: is needed"]);
    check(&[("neck-length", "6 mm")], &["neck-diameter: is needed"]);
    check(
        &[("kc11", "1700 N/mm2")],
        &["kc11: kc11 and mc belong together"],
    );
    check(&[("kc11", "x"), ("mc", "0.25")], &["kc11: "]);
    check(&[("kc11", "1700 N/mm2"), ("mc", "x")], &["mc: "]);
    let layered = [("stock", "pattern"), ("kc11", "1700 N/mm2"), ("mc", "0.25")];
    check(&layered, &[]);
    let two = [&layered[..], &[("ktc", "1.8 GPa")]].concat();
    check(&two, &["ktc: kc11 and ktc are of two force laws"]);
}

#[test]
fn an_unknown_cutter_is_told_once_and_not_asked_for_its_diameter() {
    check(
        &[("cutter", "nonsense"), ("diameter", ""), ("edges", "")],
        &["cutter: no cutter is called «nonsense»"],
    );
    check(
        &[("machine", "nonsense")],
        &["machine: no machine is called «nonsense»"],
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
        &["helix-hole: D_m is 5.5 mm; it has to be above 6 mm and at most 1000 mm"],
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
    let long = reference_tables::pass::Caution::Long.to_string();
    assert!(cautions("31 mm").contains(&long));
    assert!(!cautions("18 mm").contains(&long));
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
fn far_beyond_its_bound_a_share_says_how_far() {
    use feeds_core::limit::Bound;
    use feeds_tui::pass::decision::share;
    assert_eq!(share(Bound::AtMost(1.0).used(37.0)), "37 x");
    assert_eq!(share(9.99), "999 %");
    assert_eq!(share(Bound::AtMost(0.0).used(1.0)), "endless");
}

#[test]
fn a_bound_that_a_value_lies_on_is_not_said_to_hold_it() {
    // a cutter of 6 mm does not fit in a wall of its own radius
    let inside = |radius| [("wall", "inside"), ("wall-radius", radius)];
    check(
        &inside("3 mm"),
        &["wall-radius: R_w is 3 mm; it has to be above 3 mm and at most 1000 mm"],
    );
    check(&inside("3.1 mm"), &[]);
    // the cutter before may have been of the same size
    check(&[("previous", "6 mm")], &[]);
    check(
        &[("previous", "5 mm")],
        &["previous: D_prev is 5 mm; it has to be at least 6 mm and at most 500 mm"],
    );
}

#[test]
fn tape_with_a_tested_force_was_refused_for_want_of_one() {
    for (hold, told) in [
        (
            "tape",
            "hold: the force of adhesive tape cannot be printed, its strength depends on area",
        ),
        (
            "tabs",
            "hold: the force of tabs left on the part cannot be printed, their strength",
        ),
    ] {
        check(&[("hold", hold)], &[told]);
        assert!(said(&[("hold", hold)])[0].contains("enter that force as clamp-force"));
        check(&[("hold", hold), ("clamp-force", "300 N")], &[]);
        let pass = Description::default()
            .with(&GOOD)
            .with(&[("hold", hold), ("clamp-force", "300 N")]);
        let held = resolve(&pass, &TablesOnly).unwrap().setup.hold.unwrap();
        // it slips at the force that was pulled at, not at a share of it
        assert!(
            (held.friction - 1.0).abs() < 1e-12 && held.faces == 1,
            "{held:?}"
        );
    }
    // a vise still holds by its two jaws
    let pass = Description::default().with(&GOOD).with(&[("hold", "vise")]);
    let vise = resolve(&pass, &TablesOnly).unwrap().setup.hold.unwrap();
    assert_eq!(vise.faces, 2);
}

#[test]
fn a_missing_condition_is_told_of_the_condition_and_not_of_the_spindle() {
    let said = |entries: &[(&str, &str)]| {
        let pass = Description::default().with(&GOOD).with(entries);
        let errors = answered(&pass, &TablesOnly, &mut Planner::default()).unwrap_err();
        assert_eq!(errors.len(), 1, "{errors:?}");
        errors[0].to_string()
    };
    for condition in ["", "as forged"] {
        let told = said(&[("stock", "O1"), ("condition", condition)]);
        let start = "condition: is needed: no band of cutting speeds is known without the \
                     condition or hardness of O1; anneal it";
        assert!(told.starts_with(start), "{told}");
        let end = "conditions: annealed, hardened; or type the spindle speed or the cutting speed";
        assert!(told.ends_with(end), "{told}");
    }
    let told = said(&[("stock", ""), ("condition", "")]);
    let right = "stock: is needed: no band of cutting speeds is known without it; or type the \
                 spindle speed or the cutting speed";
    assert_eq!(told, right);
    // the search for the fastest cut says it as well
    let pass = Description::default().with(&GOOD).with(&[
        ("stock", "O1"),
        ("condition", ""),
        ("spindle", "5000 rpm"),
    ]);
    let asked = asked(&pass, true, &TablesOnly).unwrap();
    let Err(errors) = fastest(&asked, &mut Planner::default()) else {
        panic!("a cut was found");
    };
    let told = errors[0].to_string();
    assert!(
        told.starts_with("condition: is needed: neither a cutting force nor"),
        "{told}"
    );
}

#[test]
fn choices_that_exclude_each_other_are_refused() {
    check(
        &[
            ("path", "bore"),
            ("wall", "outside"),
            ("wall-radius", "9 mm"),
        ],
        &["wall: the wall of a bore is concave: choose inside"],
    );
    check(
        &[
            ("path", "bore"),
            ("wall", "inside"),
            ("wall-radius", "9 mm"),
        ],
        &[],
    );
    check(
        &[("path", "ball-finish")],
        &["path: ball-finish needs a ball end, and this cutter has a square end"],
    );
    check(
        &[("path", "ball-finish"), ("corner-radius", "1 mm")],
        &["path: ball-finish needs a ball end, and this cutter has a corner end"],
    );
    check(&[("path", "ball-finish"), ("end", "ball")], &[]);
}

#[test]
fn a_carbon_coating_is_cautioned_of_in_steel_alone() {
    let cautions = |entries: &[(&str, &str)]| {
        let pass = Description::default().with(&GOOD).with(entries);
        resolve(&pass, &TablesOnly).unwrap().cautions
    };
    for (coating, told) in [
        ("diamond", "diamond coating: hot iron"),
        ("dlc", "DLC coating: "),
    ] {
        for (stock, condition, wears) in [
            ("1095", "annealed", true),
            ("304", "annealed", true),
            ("1095", "hardened", true),
            ("6061", "T6", false),
            ("Ti64", "annealed", false),
        ] {
            let coating = ("coating", coating);
            let cautions = cautions(&[coating, ("stock", stock), ("condition", condition)]);
            let found = cautions.iter().any(|c| c.starts_with(told));
            assert_eq!(found, wears, "{coating:?} in {stock}: {cautions:?}");
        }
    }
    let usual = cautions(&[("coating", "altin")]);
    assert!(!usual.iter().any(|c| c.contains("carbon")), "{usual:?}");
}

/// Entries that fix the same thing were found by the word «and» in a sentence, and no test held
/// what is said of them. Which two or three they are is in the help of the entries.
#[test]
fn what_is_fixed_twice_is_said_of_every_entry_that_fixes_it() {
    let check = |entries: &[(&str, &str)], right: &str, fixing: &[&str]| {
        let pass = Description::default().with(&GOOD).with(entries);
        let errors = answered(&pass, &TablesOnly, &mut Planner::default()).unwrap_err();
        assert_eq!(errors.len(), 1, "{errors:?}");
        assert_eq!(errors[0].to_string(), right);
        let also: Vec<&str> = errors[0]
            .also_of()
            .iter()
            .map(|symbol| symbol.text)
            .collect();
        assert_eq!(also, fixing);
    };
    let (n, v_c) = (("spindle", "4000 rpm"), ("cutting-speed", "60 m/min"));
    let (f_z, v_f) = (("feed-per-tooth", "0.02 mm"), ("feed", "300 mm/min"));
    check(
        &[n, v_c],
        "spindle speed and cutting speed: fix the same thing: give one of them, the diameter ties \
         them together",
        &["n", "v_c"],
    );
    check(
        &[n, f_z, v_f],
        "spindle speed and feed per tooth and feed speed: fix the same thing: give two of the \
         three",
        &["n", "f_z", "v_f"],
    );
    check(
        &[v_c, f_z, v_f],
        "cutting speed and feed per tooth and feed speed: fix the same thing: give two of the \
         three",
        &["v_c", "f_z", "v_f"],
    );
}
