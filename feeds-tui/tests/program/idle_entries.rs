//! Entries that are typed and have no part in the pass: told, never left out silently.

use feeds_core::notebook::Silent;
use feeds_core::plan::{Plan, Planner};
use feeds_core::quantity::in_mm;
use feeds_tui::pass::answered::answered;
use feeds_tui::pass::description::Description;
use feeds_tui::pass::fastest::asked;
use feeds_tui::pass::field::FIELDS;
use feeds_tui::pass::resolve::{Resolved, TablesOnly, resolve};

const BALL: [(&str, &str); 9] = [
    ("diameter", "6 mm"),
    ("edges", "2"),
    ("end", "ball"),
    ("depth", "0.3 mm"),
    ("width", "0.3 mm"),
    ("path", "ball-finish"),
    ("stock", "1095"),
    ("condition", "annealed"),
    ("spindle", "5000 rpm"),
];

fn read(entries: &[(&str, &str)]) -> Resolved {
    let pass = Description::default().with(&BALL).with(entries);
    resolve(&pass, &TablesOnly).unwrap_or_else(|errors| panic!("{entries:?}: {errors:?}"))
}

fn plan(entries: &[(&str, &str)]) -> Plan {
    let setup = read(entries).setup;
    let plan = Planner::new(&setup).work_out(&setup, &mut Silent);
    plan.unwrap_or_else(|e| panic!("{e}"))
}

/// What is said to be not used.
#[track_caller]
fn check(entries: &[(&str, &str)], idle: &[&str]) {
    let told = read(entries).idle;
    assert_eq!(told.len(), idle.len(), "{told:#?}");
    for (told, start) in told.iter().zip(idle) {
        assert!(told.to_string().starts_with(start), "{told}");
    }
}

#[test]
fn an_entry_that_nothing_asks_for_is_told() {
    let square = ("end", "square");
    check(&[], &[]);
    check(&[("slope", "30 deg"), ("tilt", "10 deg")], &[]);
    check(
        &[
            square,
            ("path", "side"),
            ("slope", "30 deg"),
            ("tilt", "10 deg"),
        ],
        &[
            "tilt 10 deg: only for the ends",
            "slope 30 deg: only for a ball on the path «ball-finish»",
        ],
    );
    check(
        &[("corner-radius", "0.5 mm")],
        &["corner-radius 0.5 mm: only the end «corner» has one"],
    );
    check(
        &[("path", "slot")],
        &["width 0.3 mm: a slot has the whole diameter"],
    );
    check(
        &[
            square,
            ("path", "side"),
            ("width", ""),
            ("engagement-angle", "40 deg"),
            ("wall", "inside"),
            ("wall-radius", "9 mm"),
        ],
        &["wall inside: only for a width", "wall-radius 9 mm"],
    );
    check(
        &[("ramp-angle", "3 deg"), ("helix-hole", "9 mm")],
        &["ramp-angle 3 deg", "helix-hole 9 mm"],
    );
    check(
        &[
            ("entry", "helix"),
            ("ramp-angle", "3 deg"),
            ("helix-hole", "9 mm"),
        ],
        &["ramp-angle 3 deg"],
    );
    check(
        &[
            ("spindle-most", "9000 rpm"),
            ("base-speed", "1500 rpm"),
            ("efficiency", "0.8"),
        ],
        &[
            "base-speed 1500 rpm: only with the motor power",
            "efficiency 0.8",
        ],
    );
    check(
        &[("clamp-force", "3 kN"), ("screw-torque", "20 N m")],
        &["screw-torque 20 N m: the clamping force is typed"],
    );
    check(
        &[("stock", ""), ("condition", "annealed")],
        &["condition annealed: only with a stock"],
    );
}

/// Whatever is typed is asked for, refused, or told to be not used.
#[test]
fn no_entry_is_left_out_silently() {
    let plain = format!("{:?}", read(&[]));
    // With what an entry is of no use without, but for what is meant when nothing is said; 200 HB
    // lies in the band of the annealed rows.
    let machine = ("spindle-most", "9000 rpm");
    let mut refused = Vec::new();
    for field in FIELDS {
        let taken = BALL.iter().any(|(key, _)| *key == field.key);
        if taken || field.is_of_programme() {
            continue;
        }
        let with: &[(&str, &str)] = match field.key {
            "base-speed" | "feed-most" | "power" | "efficiency" | "stiffness" | "runout"
            | "backlash" | "drag" | "collet-grip" | "spindle-least" => &[machine],
            "wall" => &[("wall-radius", "9 mm")],
            "wall-radius" => &[("wall", "inside")],
            "neck-diameter" => &[("neck-length", "5 mm")],
            "neck-length" => &[("neck-diameter", "5 mm")],
            "screw-torque" => &[("screw-diameter", "8 mm")],
            "screw-diameter" => &[("screw-torque", "8 N m")],
            "kc11" => &[("mc", "0.25")],
            "mc" => &[("kc11", "1800 N/mm2")],
            "engagement-angle" => &[("width", "")],
            "previous" => &[("diameter", "4 mm")],
            _ => &[],
        };
        let pass = Description::default()
            .with(&BALL)
            .with(with)
            .with(&[(field.key, field.example)]);
        match resolve(&pass, &TablesOnly) {
            Err(_) => refused.push(field.key),
            Ok(read) => {
                let usual = [
                    "cutter-material",
                    "centre-cutting",
                    "direction",
                    "hardness",
                    "intent",
                ];
                assert!(
                    format!("{read:?}") != plain || usual.contains(&field.key),
                    "{} {} changes nothing and is not told",
                    field.key,
                    field.example
                );
            }
        }
    }
    // Six belong together, and the cutting speed to no spindle speed.
    assert_eq!(
        refused,
        ["ktc", "krc", "kac", "kte", "kre", "kae", "cutting-speed"]
    );
}

#[test]
fn a_corner_radius_alone_tells_the_end() {
    for (radius, end) in [("0 mm", "square"), ("0.5 mm", "corner"), ("3 mm", "ball")] {
        let read = read(&[("path", "side"), ("end", ""), ("corner-radius", radius)]);
        assert_eq!(read.setup.cutter.end.word(), end);
        assert_eq!(read.idle, []);
    }
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
fn a_ball_that_finishes_is_told_the_ridges_its_paths_leave() {
    let cusp = |entries: &[(&str, &str)]| plan(entries).cusp.map(in_mm);
    let near = |ours: Option<f64>, by_hand: f64| {
        let ours = ours.unwrap_or_else(|| panic!("no ridge"));
        assert!((ours - by_hand).abs() < 1e-6, "{ours}");
    };
    near(cusp(&[]), 0.003_752);
    near(cusp(&[("slope", "60 deg")]), 0.015_038);
    // Along a wall the ridges come of the depth, which is none of the width.
    assert_eq!(cusp(&[("path", "side")]), None);
    assert_eq!(cusp(&[("path", "slot")]), None);
    // 0.6 mm in plan are 6.9 mm on 85°: more than the ball is wide. 0.3 mm deep it cuts a groove
    // of 2 √(0.3 · 5.7) = 2.6 mm, so that paths 4 mm apart do not meet.
    for apart in [
        [("width", "0.6 mm"), ("slope", "85 deg")],
        [("width", "4 mm"), ("slope", "0 deg")],
    ] {
        let pass = Description::default().with(&BALL).with(&apart);
        let answer = answered(&pass, &TablesOnly, &mut Planner::default());
        let answer = answer.unwrap_or_else(|e| panic!("{e:?}"));
        assert_eq!(answer.plan.cusp, None);
        let told = answer.resolved.cautions;
        assert!(told.iter().any(|c| c.contains("do not meet")), "{told:?}");
    }
    near(cusp(&[("width", "2.5 mm")]), 0.272_822);
}

/// The width that stands in for one to be found is nobody's entry.
#[test]
fn a_slot_to_be_found_has_no_idle_width() {
    let slot = [("path", "slot"), ("width", ""), ("depth", "")];
    let pass = Description::default().with(&BALL).with(&slot);
    let asked = asked(&pass, true, &TablesOnly).unwrap_or_else(|e| panic!("{e:?}"));
    assert_eq!(asked.resolved.idle, []);
}
