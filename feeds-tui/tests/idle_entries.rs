//! Entries that are typed and have no part in the pass: told, never left out silently.

use feeds_core::notebook::Silent;
use feeds_core::plan::Planner;
use feeds_core::quantity::in_mm;
use feeds_tui::pass::description::Description;
use feeds_tui::pass::field::FIELDS;
use feeds_tui::pass::resolve::{Resolved, TablesOnly, resolve};

const BALL: [(&str, &str); 9] = [
    ("diameter", "6 mm"),
    ("edges", "2"),
    ("end", "ball"),
    ("depth", "0.3 mm"),
    ("width", "0.3 mm"),
    ("path", "side"),
    ("stock", "1095"),
    ("condition", "annealed"),
    ("spindle", "5000 rpm"),
];

fn read(entries: &[(&str, &str)]) -> Resolved {
    let pass = Description::default().with(&BALL).with(entries);
    resolve(&pass, &TablesOnly).unwrap_or_else(|errors| panic!("{entries:?}: {errors:?}"))
}

/// What is said to be not used.
#[track_caller]
fn check(entries: &[(&str, &str)], idle: &[&str]) {
    let cautions = read(entries).cautions;
    let told: Vec<&String> = cautions
        .iter()
        .filter(|c| c.contains("is not used"))
        .collect();
    assert_eq!(told.len(), idle.len(), "{told:#?}");
    for (told, start) in told.iter().zip(idle) {
        assert!(told.starts_with(start), "{told}");
    }
}

#[test]
fn an_entry_without_a_part_in_the_pass_is_told() {
    check(&[], &[]);
    check(&[("slope", "30 deg"), ("tilt", "10 deg")], &[]);
    check(
        &[("end", "square"), ("slope", "30 deg"), ("tilt", "10 deg")],
        &[
            "tilt of the cutter 10 deg is not used: it counts for the ends",
            "slope of the surface 30 deg is not used: it counts for a ball",
        ],
    );
    check(
        &[("corner-radius", "0.5 mm")],
        &["corner radius 0.5 mm is not used: only the end «corner» has one"],
    );
    check(
        &[("path", "slot")],
        &["width of cut a_e 0.3 mm is not used: a slot has the whole diameter"],
    );
    check(
        &[("ramp-angle", "3 deg"), ("helix-hole", "9 mm")],
        &["angle of the ramp 3 deg", "hole of the helix 9 mm"],
    );
    check(
        &[
            ("entry", "helix"),
            ("ramp-angle", "3 deg"),
            ("helix-hole", "9 mm"),
        ],
        &["angle of the ramp 3 deg"],
    );
    check(
        &[("spindle-most", "9000 rpm"), ("base-speed", "1500 rpm")],
        &["base speed 1500 rpm is not used: it counts with the motor power"],
    );
    check(
        &[("clamp-force", "3 kN"), ("screw-torque", "20 N m")],
        &["torque on the clamping screw 20 N m is not used: the clamping force is given"],
    );
}

/// Whatever is typed is read, refused, or said to be not used: its words are never lost.
#[test]
fn no_entry_is_left_out_silently() {
    let plain = read(&[]);
    for field in FIELDS {
        let taken = BALL.iter().any(|(key, _)| *key == field.key);
        if taken || field.is_of_programme() {
            continue;
        }
        let pass = Description::default()
            .with(&BALL)
            .with(&[(field.key, field.example)]);
        let Ok(read) = resolve(&pass, &TablesOnly) else {
            continue;
        };
        let same = format!("{read:?}") == format!("{plain:?}");
        // What is meant when nothing is said; 200 HB lies in the band of the annealed rows.
        let usual = [
            "cutter-material",
            "centre-cutting",
            "direction",
            "hardness",
            "intent",
        ];
        assert!(
            !same || usual.contains(&field.key),
            "{} {} changes nothing and is not told",
            field.key,
            field.example
        );
    }
}

#[test]
fn a_corner_radius_alone_makes_a_corner_end() {
    let pass = [("end", ""), ("corner-radius", "0.5 mm")];
    assert_eq!(read(&pass).setup.cutter.end.word(), "corner");
}

#[test]
fn a_neck_is_whole_and_lies_outside_the_holder() {
    let wrong = |entries: &[(&str, &str)]| -> String {
        let pass = Description::default().with(&BALL).with(entries);
        resolve(&pass, &TablesOnly)
            .err()
            .map(|errors| errors[0].to_string())
            .unwrap_or_default()
    };
    let alone = wrong(&[("neck-diameter", "5 mm")]);
    assert!(alone.starts_with("neck-length: is needed"), "{alone}");
    let alone = wrong(&[("neck-length", "5 mm")]);
    assert!(alone.starts_with("neck-diameter: is needed"), "{alone}");
    let thick = wrong(&[("neck-diameter", "7 mm"), ("neck-length", "5 mm")]);
    assert!(
        thick.contains("a neck thicker than its cutter rubs"),
        "{thick}"
    );
    let thick = wrong(&[("core", "7 mm")]);
    assert!(thick.contains("the core lies inside the flutes"), "{thick}");
    let told = |length: &str| {
        let cautions = read(&[("neck-diameter", "5 mm"), ("neck-length", length)]).cautions;
        cautions.iter().any(|c| c.contains("the neck reaches into"))
    };
    // Flutes of two diameters and a stick-out of three leave 6 mm.
    assert!(!told("6 mm") && told("6.1 mm"));
}

/// Ball of 3 mm radius, paths 0.3 mm apart in plan. On a flat 3 − √(9 − 0.15²) = 0.003 752 mm; on
/// 60° the paths are 0.6 mm apart, 3 − √(9 − 0.3²) = 0.015 038 mm: two circles, by hand.
#[test]
fn a_ball_is_told_the_ridges_its_paths_leave() {
    let cusp = |entries: &[(&str, &str)]| {
        let setup = read(entries).setup;
        let plan = Planner::new(&setup).work_out(&setup, &mut Silent);
        plan.unwrap_or_else(|e| panic!("{e}")).cusp.map(in_mm)
    };
    let near = |ours: Option<f64>, by_hand: f64| {
        let ours = ours.unwrap_or_else(|| panic!("no ridge"));
        assert!((ours - by_hand).abs() < 1e-6, "{ours}");
    };
    near(cusp(&[]), 0.003_752);
    near(cusp(&[("slope", "60 deg")]), 0.015_038);
    assert_eq!(cusp(&[("end", "square")]), None);
    assert_eq!(cusp(&[("path", "slot")]), None);
    // 0.6 mm in plan are 6.9 mm on 85°: more than the ball is wide.
    let apart = [("width", "0.6 mm"), ("slope", "85 deg")];
    assert_eq!(cusp(&apart), None);
    let told = read(&apart).cautions;
    assert!(
        told.iter().any(|c| c.contains("ribs stay between")),
        "{told:?}"
    );
}
