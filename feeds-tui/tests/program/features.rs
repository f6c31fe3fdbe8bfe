//! From a feature to its passes: the guard slot, every kind, what stays that was typed, refusals.

use crate::shell::{folder, ran_line, text};
use serde_json::Value;
use std::path::{Path, PathBuf};

const NEW: &str = "feeds job new guard.json 'guard in 1095' stock=1095 condition=annealed \
    machine=bench-5000 hold=vise grip=4mm height=3mm clamp-force=5kN";

/// From an empty shop to the printed sheet of a pocket with a pin recess, in six commands, with the
/// plans drawn and another of them taken.
#[test]
fn a_pocket_with_a_pin_recess_is_drawn_taken_and_printed_in_six_commands() {
    let folder = job("features-pictures");
    let pocket = runs(
        "feeds feature guard.json pocket length=24mm width=14mm depth=4mm corner=2mm --picture \
            --svg pocket.svg",
        &folder,
    );
    for line in ["H holder", "in 3 levels", "from above", "# stays uncut"] {
        assert!(pocket.contains(line), "{line}: {pocket}");
    }
    let drawn = std::fs::read_to_string(folder.join("pocket.svg")).unwrap();
    for part in ["class=\"holder\"", "class=\"uncut\"", "class=\"cutter\""] {
        assert_eq!(drawn.matches(part).count(), 1, "{part}");
    }
    runs(
        "feeds feature guard.json round-pocket name='pin recess' diameter=5mm depth=2mm",
        &folder,
    );
    let before = answers("feeds feature guard.json", &folder);
    let title = |features: &Value, at: usize| features["features"][0]["plans"][at].clone();
    let taken = runs("feeds feature guard.json pocket --take 1", &folder);
    assert!(taken.contains("in the job"), "{taken}");
    let after = answers("feeds feature guard.json", &folder);
    assert_eq!(
        title(&after, 0),
        title(&before, 1),
        "the other plan is first"
    );
    assert_eq!(title(&after, 1), title(&before, 0), "the best is left");
    // The choice outlives a plan made anew.
    let anew = answers("feeds feature guard.json --anew", &folder);
    assert_eq!(title(&anew, 0), title(&before, 1));
    let page = runs("feeds sheet guard.json --html", &folder);

    let passes = after["features"].as_array().unwrap().iter();
    let passes: usize = passes
        .map(|f| f["plans"][0]["passes"].as_array().unwrap().len())
        .sum();
    assert_eq!(page.matches("class=\"above\"").count(), passes);
}

/// A folder with an empty job.
fn job(name: &str) -> PathBuf {
    let folder = folder(name);
    runs(NEW, &folder);
    folder
}

#[track_caller]
fn runs(line: &str, folder: &Path) -> String {
    let output = ran_line(line, folder);
    let code = output.status.code();
    assert_eq!(code, Some(0), "{line}: {}", text(&output.stderr));
    text(&output.stdout)
}

#[track_caller]
fn answers(line: &str, folder: &Path) -> Value {
    let output = ran_line(&format!("{line} --json"), folder);
    let code = output.status.code();
    assert!(code < Some(2), "{line}: {}", text(&output.stdout));
    serde_json::from_slice(&output.stdout).unwrap()
}

/// A wall as high as 8 mm in a part whose jaws stand 3 mm below its top: by hand, 5 mm too high.
#[test]
fn jaws_above_the_foot_of_an_outside_wall_are_told() {
    let folder = job("features-jaws");
    runs(
        "feeds job change guard.json common stock-size='40 x 16 x 12 mm' zero='left front top' \
            jaws='X-10mm..50mm,Y-20mm..0,Z-30mm..-3mm'",
        &folder,
    );
    let line = "feeds feature guard.json outside length=90mm height=8mm width=1mm";
    let said = runs(line, &folder);
    assert!(said.contains("the jaws stand 5.000 mm higher"), "{said}");
    let low = runs(
        "feeds feature guard.json outside length=90mm height=2.9mm width=1mm",
        &folder,
    );
    assert!(!low.contains("the jaws stand"), "{low}");
}

#[track_caller]
fn fails(line: &str, folder: &Path, says: &[&str]) {
    let before = std::fs::read(folder.join("guard.json")).unwrap();
    let output = ran_line(line, folder);
    assert_eq!(output.status.code(), Some(2), "{}", text(&output.stdout));
    let told = text(&output.stderr)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    for word in says {
        assert!(told.contains(word), "{line}: «{told}» lacks «{word}»");
    }
    let after = std::fs::read(folder.join("guard.json")).unwrap();
    assert_eq!(before, after, "{line} changed the job");
}

fn of(value: &Value) -> f64 {
    value["value"].as_f64().unwrap()
}

const GUARD: &str = "feeds feature guard.json slot name='guard slot' width=3.2mm depth=9.5mm \
    length=28mm closed=one wall=0.02mm";

/// A finish pass cuts from 0.02 of the diameter (the table; common practice): of 3.175 mm that is
/// 0.0635 mm. A slot of 3.30 mm leaves 0.0625 on each wall, one of 3.31 leaves 0.0675.
#[test]
fn a_wall_too_thin_to_finish_is_to_be_watched() {
    let folder = job("features-thin");
    let line = |width: &str| {
        format!(
            "feeds feature guard.json slot name=thin width={width} depth=9.5mm length=28mm \
             closed=one wall=0.02mm"
        )
    };
    let thin = "is left on the walls, so it rubs; take a thinner cutter";
    let flat = |said: String| said.split_whitespace().collect::<Vec<_>>().join(" ");
    let said = flat(runs(&line("3.30mm"), &folder));
    assert!(said.contains("with 1/8 in square"), "{said}");
    assert!(
        said.contains("in the job: CARE") && said.contains(thin),
        "{said}"
    );
    assert!(
        said.contains("walls: only 1.0 x what a finish pass cuts"),
        "{said}"
    );
    let said = flat(runs(&line("3.31mm"), &folder));
    assert!(
        said.contains("with 1/8 in square") && !said.contains(thin),
        "{said}"
    );
}

/// From an empty shop to a printed sheet: five commands.
#[test]
fn a_guard_with_slot_pocket_and_pin_recess_takes_five_commands() {
    let folder = job("features-guard");
    let said = runs(GUARD, &folder);
    // By hand: 28 · 3.2 less (2 − π/2) · 1.6² of the round end, times 9.5.
    assert!(
        said.contains("guard slot: slot, 840.8 mm3 to remove"),
        "{said}"
    );
    // Only a cutter whose shank is no wider gets down 9.5 mm between walls of 3.2.
    assert!(said.contains("with 1/8 in square"), "{said}");
    assert!(said.contains("from the open side"), "{said}");
    runs(
        "feeds feature guard.json pocket length=20mm width=12mm depth=3mm corner=1.5mm",
        &folder,
    );
    runs(
        "feeds feature guard.json round-pocket name='pin recess' diameter=5mm depth=2mm",
        &folder,
    );
    let sheet = runs("feeds sheet guard.json", &folder);
    for pass in [
        "guard slot: rough",
        "guard slot: walls",
        "pocket: corners",
        "pin recess: rough",
    ] {
        assert!(sheet.contains(pass), "{pass} is missing: {sheet}");
    }
    let all = answers("feeds feature guard.json", &folder);
    assert_eq!(all["features"].as_array().unwrap().len(), 3);
    // Every pass has a verdict and a time of its own in the job, and none of them stops.
    let shown = answers("feeds job show guard.json", &folder);
    for pass in shown["passes"].as_array().unwrap() {
        assert_ne!(pass["answer"]["verdict"], "STOP", "{}", pass["pass"]);
        assert!(of(&pass["time"]) > 0.0, "{}", pass["pass"]);
    }
}

/// Every kind, with its volume worked by hand.
const KINDS: &[(&str, f64)] = &[
    // 28 · 4.2 less (2 − π/2) · 2.1², times 3.
    (
        "slot width=4.2mm depth=3mm length=28mm closed=one wall=0.03mm",
        347.121_9,
    ),
    // 20 · 12 less (4 − π) · 1.5², times 3.
    (
        "pocket length=20mm width=12mm depth=3mm corner=1.5mm wall=0.03mm",
        714.205_8,
    ),
    // π / 4 · 25 · 2.
    ("round-pocket diameter=5mm depth=2mm", 39.269_9),
    (
        "area-pocket area=200mm2 perimeter=60mm inside=2mm depth=2mm",
        400.0,
    ),
    ("outside length=90mm height=6mm width=2mm", 1080.0),
    // π / 4 · (64 − 36) · 6.
    (
        "bore diameter=8mm hole=6mm depth=6mm wall=0.02mm",
        131.946_9,
    ),
    // 20 · 8 less (4 − π) · 4, times 3.
    (
        "window length=20mm width=8mm corner=2mm depth=3mm",
        469.699_1,
    ),
    ("face length=34mm width=16mm depth=0.5mm", 272.0),
    // 34 · (16 · h − segment) = 34 · (12.9306 − 8.6380), with h = 40 − √(1600 − 64) and a segment
    // of 1600 · asin 0.2 − 8 · √1536.
    (
        "surface length=34mm width=16mm radius=40mm cusp=5um",
        145.949_7,
    ),
];

#[test]
fn passes_of_every_kind_sum_to_its_volume() {
    let folder = job("features-kinds");
    for (typed, volume) in KINDS {
        let all = answers(&format!("feeds feature guard.json {typed}"), &folder);
        let feature = &all["features"][0];
        assert!(
            (of(&feature["volume"]) / volume - 1.0).abs() < 1e-5,
            "{typed}: {feature}"
        );
        assert_eq!(feature["volume"]["unit"], "mm3");
        let plans = feature["plans"].as_array().unwrap();
        assert!((1..=4).contains(&plans.len()), "{typed}");
        let mut before = (0, 0, 0.0);
        for plan in plans {
            let passes = plan["passes"].as_array().unwrap();
            let removed: f64 = passes.iter().map(|p| of(&p["removes"])).sum();
            let whole = removed + of(&plan["leaves"]);
            assert!(
                (whole / volume - 1.0).abs() < 0.01,
                "{typed}: {whole} in {plan}"
            );
            let minutes: f64 = passes.iter().map(|p| of(&p["minutes"])).sum();
            assert!((minutes / of(&plan["minutes"]) - 1.0).abs() < 1e-9);
            // Ranked by verdict, by how much there is to mind, then by minutes.
            let held = passes
                .iter()
                .filter(|pass| pass["verdict"] != "RUN")
                .count();
            let minds = plan["minds"].as_array().unwrap().iter();
            let weight = |mind: &Value| {
                let none = mind["says"]
                    .as_str()
                    .unwrap()
                    .starts_with("nothing is left");
                if none {
                    3
                } else {
                    usize::from(mind["care"] == true)
                }
            };
            let cares = held + minds.map(weight).sum::<usize>();
            let words = ["RUN", "CARE", "STOP"];
            let verdict = words
                .iter()
                .position(|word| plan["verdict"] == *word)
                .unwrap();
            let now = (verdict, cares, minutes);
            assert!(
                verdict == 2 || now >= before,
                "{typed}: {now:?} behind {before:?}"
            );
            before = now;
            for pass in passes {
                assert!(!pass["cutter"].as_str().unwrap().is_empty());
                // All levels and rounds take longer than the length over the feed.
                let least = of(&pass["way"]) / of(&pass["feed_speed"]);
                assert!(of(&pass["minutes"]) >= least * 0.999, "{typed}: {pass}");
                // A level is the depth over their number, rounded up at the third place.
                assert!(of(&pass["depth"]) > 0.0 && pass["levels"].as_u64().unwrap() >= 1);
            }
        }
    }
}

#[test]
fn what_was_typed_by_hand_stays_and_is_marked() {
    let folder = job("features-typed");
    let slot = "feeds feature guard.json slot width=4.2mm depth=3mm length=28mm closed=one";
    runs(&format!("{slot} wall=0.03mm"), &folder);
    runs(
        "feeds job change guard.json 'slot: rough' depth=0.6mm note='mind the clamp'",
        &folder,
    );
    let all = answers("feeds feature guard.json --anew", &folder);
    let passes = &all["features"][0]["plans"][0]["passes"];
    assert_eq!(passes[0]["typed"], serde_json::json!(["depth"]));
    assert!((of(&passes[0]["depth"]) - 0.6).abs() < 1e-9, "{passes}");
    // 3 mm in levels of 0.6 mm.
    assert_eq!(passes[0]["levels"], 5, "{passes}");
    assert_eq!(passes[1]["typed"], serde_json::json!([]));
    // The same again, and with another size: it still stays, and so does the note.
    let said = runs(&format!("{slot} wall=0.04mm"), &folder);
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("typed by hand: depth"), "{said}");
    let all = answers("feeds feature guard.json", &folder);
    let passes = &all["features"][0]["plans"][0]["passes"];
    let file = std::fs::read_to_string(folder.join("guard.json")).unwrap();
    let file: Value = serde_json::from_str(&file).unwrap();
    let rough = &file["passes"][0];
    assert_eq!(
        (&rough["depth"], &rough["note"]),
        (&"0.6mm".into(), &"mind the clamp".into())
    );
    assert_eq!(
        file["passes"].as_array().unwrap().len(),
        passes.as_array().unwrap().len()
    );
    assert_eq!(file["features"].as_array().unwrap().len(), 1);
}

/// Every cutter lacks the same: that is said, and not that none gets in.
#[test]
fn a_missing_condition_is_asked_for() {
    let folder = folder("features-condition");
    runs(
        "feeds job new guard.json x stock=1095 machine=bench-5000",
        &folder,
    );
    let face = "feeds feature guard.json face length=30mm width=12mm depth=0.3mm";
    fails(face, &folder, &["condition: is needed"]);
}

#[test]
fn what_cannot_be_made_is_refused_with_numbers() {
    let folder = job("features-refused");
    let feature = |typed: &str| format!("feeds feature guard.json {typed}");
    // No cutter of 3 mm or less has a shank so thin and sticks out so far: 1 mm, shank 4 mm.
    fails(
        &feature("slot width=1.4mm depth=9.5mm length=28mm closed=one"),
        &folder,
        &[
            "cutter",
            "at most 1.400 mm",
            "reaches 9.500 mm",
            "nearest: 1 mm",
        ],
    );
    fails(
        &feature("pocket length=20mm width=12mm depth=3mm corner=7mm"),
        &folder,
        &["corner", "7 mm", "6 mm"],
    );
    fails(
        &feature("pocket length=20mm width=12mm depth=3mm corner=2mm entry=open"),
        &folder,
        &["entry", "no open side"],
    );
    fails(
        &feature("trench depth=3mm"),
        &folder,
        &["kind", "slot, pocket, round-pocket"],
    );
    fails(
        &feature("face depth=1mm depth=2mm"),
        &folder,
        &["depth", "twice"],
    );
    fails("feeds feature guard.json", &folder, &["no features yet"]);
}

/// A wall finer than bending and runout allow: the best that is reached, and what would open it.
#[test]
fn a_wall_nobody_reaches_says_what_is_reached() {
    let folder = job("features-fine");
    let line = "feeds feature guard.json slot width=4.2mm depth=9mm length=28mm closed=one \
        wall=0.001mm";
    let all = answers(line, &folder);
    let feature = &all["features"][0];
    let plan = &feature["plans"][0];
    // The runout alone is 20 um at the tip: no wall of 1 um.
    assert_eq!(plan["verdict"], "STOP", "{plan}");
    let opens = feature["opens"].to_string();
    assert!(opens.contains("walls stops at: wall error"), "{opens}");
    let minds = plan["minds"].to_string();
    assert!(minds.contains("at best a wall comes out"), "{minds}");
    assert_eq!(feature["stops"], true);
    // What the program says opens it does, and a tenth less does not.
    let tolerance = opening(feature, "a wall tolerance of ");
    assert!(tolerance > 1.0, "{opens}");
    let with = |um: f64| {
        let line = line.replace("wall=0.001mm", &format!("wall={um:.0}um"));
        answers(&line, &folder)["features"][0]["plans"][0]["verdict"].clone()
    };
    assert_ne!(with(tolerance), "STOP", "{tolerance}");
    assert_eq!(with((tolerance / 1.1).floor() - 1.0), "STOP", "{tolerance}");
}

/// The number behind some words among what would open a feature.
fn opening(feature: &Value, words: &str) -> f64 {
    let opens = feature["opens"].as_array().unwrap().iter();
    let mut opens = opens.filter_map(|text| text.as_str()?.split_once(words));
    let (_, rest) = opens
        .next()
        .unwrap_or_else(|| panic!("{words}: {feature:#}"));
    rest.split(' ').next().unwrap().parse().unwrap()
}

/// A vise that hardly holds: the force that would do, found by planning again.
#[test]
fn a_hold_that_is_too_weak_says_which_would_do() {
    let folder = folder("features-weak");
    runs(&NEW.replace("clamp-force=5kN", "clamp-force=10N"), &folder);
    let line = "feeds feature guard.json face 20 x 10 x 0.2 mm";
    let all = answers(line, &folder);
    let feature = &all["features"][0];
    assert_eq!(feature["plans"][0]["verdict"], "STOP", "{feature:#}");
    let force = opening(feature, "a clamping force of ");
    let with = |newton: f64| {
        let force = format!("feeds job change guard.json common clamp-force={newton:.0}N");
        runs(&force, &folder);
        let anew = answers("feeds feature guard.json --anew", &folder);
        anew["features"][0]["plans"][0]["verdict"].clone()
    };
    assert_ne!(with(force), "STOP", "{force}");
    assert_eq!(with((force / 1.1).floor() - 10.0), "STOP", "{force}");
}

#[test]
fn plans_are_read_in_inches_and_in_eighty_columns() {
    let folder = job("features-inch");
    runs(GUARD, &folder);
    for units in ["metric", "inch"] {
        let said = runs(
            &format!("feeds feature guard.json --units {units}"),
            &folder,
        );
        for line in said.lines() {
            assert!(line.chars().count() <= 80, "{line}");
        }
        let unit = if units == "inch" { " in3" } else { " mm3" };
        assert!(said.contains(unit), "{said}");
    }
}

/// A bore 20 mm deep was planned in a blank of 7 mm, and a second slot took the place of the first
/// without a word.
#[test]
fn a_feature_fits_its_blank_and_a_second_one_says_what_it_replaces() {
    let folder = folder("features-blank");
    ran_line(
        "feeds job new b.json 'a guard' stock=1095 condition=annealed machine=bench-5000 hold=vise \
         grip=4mm height=3mm clamp-force=5kN stock-size='40 x 20 x 7 mm'",
        &folder,
    );
    let slot = |sizes: &str| {
        let output = ran_line(
            &format!("feeds feature b.json slot {sizes} closed=one"),
            &folder,
        );
        (text(&output.stderr), output.status.code())
    };
    for (sizes, must) in [
        (
            "width=4.2mm depth=20mm length=28mm",
            "more than the blank has, 7 mm",
        ),
        (
            "width=4.2mm depth=3mm length=48mm",
            "more than the blank has, 40 mm",
        ),
    ] {
        let (err, code) = slot(sizes);
        assert!(
            err.contains(must) && code == Some(2),
            "{sizes}: {code:?} {err}"
        );
    }
    let (err, _) = slot("width=4.2mm depth=3mm length=28mm");
    assert!(!err.contains("takes the place"), "{err}");
    let (err, _) = slot("width=4.2mm depth=2mm length=28mm");
    assert!(
        err.contains("takes the place of the one planned before"),
        "{err}"
    );
}
