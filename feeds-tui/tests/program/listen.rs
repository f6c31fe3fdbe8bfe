//! What a maker hears or sees, and what it is on that pass: the numbers are worked by hand.

use crate::shell::{folder, ran_line, text};
use feeds_core::limit::Limit;
use feeds_core::plan::Planner;
use feeds_core::plan::limits::limit;
use feeds_core::symbol::System;
use feeds_tui::listen::heard;
use feeds_tui::listen::judge::{Likelihood, judged, limits_of};
use feeds_tui::pass::answered::{Answered, answered};
use feeds_tui::pass::description::Description;
use feeds_tui::store::shop::Shop;
use reference_tables::signs::{Cause, Turn};
use reference_tables::tables;
use serde_json::Value;

/// A light side cut with an edge of 10 um, of which mild steel takes 0.3: a chip of 3 um cuts.
/// Its chip is 2 f_z sqrt(q (1 - q)) with q = 0.3 / 6 = 0.05: 0.436 f_z.
const SIDE: &str = "diameter=6mm edges=4 path=side depth=1mm width=0.3mm stock=1018 \
                    condition=hot_rolled edge-radius=10um stick-out=15mm flute-length=13mm";
/// Slots in the same stock.
const SLOT: &str = "path=slot stock=1018 condition=hot_rolled";

fn pass(texts: &[&str]) -> (Answered, Planner) {
    let mut pass = Description::default();
    for entry in texts.iter().flat_map(|text| text.split_whitespace()) {
        let (key, value) = entry.split_once('=').unwrap();
        pass.set(key, &value.replace('_', " ")).unwrap();
    }
    let mut planner = Planner::default();
    let answer = answered(&pass, &Shop::default(), &mut planner).unwrap();
    (answer, planner)
}

/// The cause that comes first, and how likely it is.
fn first(sign: &str, texts: &[&str]) -> (Cause, Likelihood) {
    let (answer, planner) = pass(texts);
    let tables = tables().unwrap();
    let sign = tables.sign(sign).unwrap();
    let heard = heard(
        &tables.signs,
        sign,
        Some((&answer, Some(&planner))),
        System::Metric,
    );
    let first = &heard.causes[0];
    (first.row.cause, first.judged.as_ref().unwrap().verdict)
}

#[test]
fn the_numbers_of_the_pass_say_what_it_is() {
    use Likelihood::{Likely, Unknown};
    let fine = "spindle=5000rpm feed-per-tooth=0.02mm";
    let cases: &[(&str, &[&str], Cause, Likelihood)] = &[
        // 0.436 x 2 um = 0.87 um where 3 um cuts: 3.4 times.
        (
            "squeal",
            &[SIDE, "spindle=5000rpm feed-per-tooth=0.002mm"],
            Cause::Rubbing,
            Likely,
        ),
        (
            "dust",
            &[SIDE, "spindle=5000rpm feed-per-tooth=0.002mm"],
            Cause::Rubbing,
            Likely,
        ),
        // 0.436 x 20 um = 8.7 um where 3 um cuts: it does not rub, and 15 / 6 = 2.5 diameters are
        // not long where five are usual. What no number shows is left: the edge.
        ("squeal", &[SIDE, fine], Cause::Dull, Unknown),
        // Runout of 20 um gives one of four edges 20 x sin(45 deg) = 14.1 um more; half the feed
        // is 10 um.
        (
            "squeal",
            &[SIDE, fine, "spindle-most=6000rpm runout=20um"],
            Cause::Runout,
            Likely,
        ),
        // 20 / 3 = 6.7 diameters where five are usual, 3 mm deep where 0.25 x 3 = 0.75 mm is.
        (
            "hum",
            &[
                SLOT,
                "diameter=3mm edges=3 flute-length=12mm shank=3mm depth=3mm stick-out=20mm \
                 machine=bench-5000",
            ],
            Cause::Chatter,
            Likely,
        ),
        // pi x 6 mm x 20000 = 377 m/min, more than twice what a book has for carbide in it.
        (
            "blue-chip",
            &[SIDE, "spindle=20000rpm feed-per-tooth=0.02mm"],
            Cause::Speed,
            Likely,
        ),
        // acos(1 - 2 x 0.05) = 25.8 deg along the wall and a quarter turn more in the corner: 115.8
        // where 90 are usual.
        ("knock", &[SIDE, fine, "corner=yes"], Cause::Corner, Likely),
        // 6 x 3 mm at 4 x 0.03 x 5000 = 600 mm/min are 180 mm3/s; at 2 J/mm3 and more that is above
        // 360 W, of a spindle of 50 W.
        (
            "stalling",
            &[
                SLOT,
                "diameter=6mm edges=4 depth=3mm spindle=5000rpm feed-per-tooth=0.03mm \
                 spindle-most=6000rpm power=50W",
            ],
            Cause::Power,
            Likely,
        ),
        // Jaws hold 2 x 0.15 x 100 N / 2 = 15 N; a chip of 8.7 um and 1 mm takes 17 N at
        // 2000 N/mm2, before the force on the round edge.
        (
            "wandering size",
            &[SIDE, fine, "clamp-force=100N friction=0.15"],
            Cause::Part,
            Likely,
        ),
        ("burr", &[SIDE, fine], Cause::Dull, Unknown),
        // The edge of 10 um is worn, and rounder: it needs more than 3 um now.
        (
            "polished wall",
            &[SIDE, "spindle=5000rpm feed-per-tooth=0.002mm wear=worn"],
            Cause::Rubbing,
            Likely,
        ),
        // Beside a cutter that gives so much (as above), marks are no riddle.
        (
            "chatter marks",
            &[
                SLOT,
                "diameter=3mm edges=3 flute-length=12mm shank=3mm depth=3mm stick-out=20mm \
                 machine=bench-5000",
            ],
            Cause::Chatter,
            Likely,
        ),
    ];
    for (sign, texts, cause, verdict) in cases {
        assert_eq!(first(sign, texts), (*cause, *verdict), "{sign} {texts:?}");
    }
    // Each sign of the table is in a case.
    for sign in &tables().unwrap().signs.signs {
        let met = |c: &&(&str, &[&str], Cause, Likelihood)| c.0.replace('-', " ") == sign.name;
        assert!(cases.iter().any(|c| met(&c)), "{}", sign.name);
    }
}

#[test]
fn every_sign_has_a_cause_every_cause_a_judge_and_every_row_a_source() {
    let tables = tables().unwrap();
    let (answer, _) = pass(&[SIDE, "spindle=5000rpm feed-per-tooth=0.02mm"]);
    assert!(tables.signs.signs.len() >= 10);
    for sign in &tables.signs.signs {
        assert!(tables.signs.causes_of(sign).count() > 0, "{}", sign.name);
        assert!(tables.source(&sign.origin.source).is_some());
        for name in sign.also.iter().chain([&sign.name]) {
            assert_eq!(tables.sign(name).unwrap().name, sign.name, "{name}");
        }
    }
    for row in &tables.signs.causes {
        assert!(tables.source(&row.step.origin.source).is_some());
        assert!(!row.next.is_empty(), "{}: {}", row.sign, row.cause.key());
    }
    for cause in Cause::ALL {
        let rows = tables.signs.causes.iter();
        assert!(rows.filter(|r| r.cause == *cause).count() > 0, "{cause:?}");
        let judged = judged(*cause, &answer, System::Metric);
        assert!(!judged.because.is_empty(), "{cause:?}");
        let limits: Vec<Option<&Limit>> = limits_of(*cause).iter().map(|l| limit(l)).collect();
        assert!(limits.iter().all(Option::is_some), "{cause:?}");
    }
}

/// Nobody is told to stop by a feed hold alone, which rubs, and to turn a dial by odd steps.
#[test]
fn dials_go_in_tens_and_a_stop_is_a_stop() {
    for row in &tables().unwrap().signs.causes {
        let percent = row.step.value.printed().0;
        assert!(percent % 10.0 == 0.0, "{}: {percent}", row.sign);
        assert!(row.turn == Turn::Feed || percent > -100.0, "{}", row.sign);
    }
}

/// The dial is never sent where the pass breaks, and a step that is too small says so.
#[test]
fn the_step_is_held_back_by_the_pass() {
    let said = |line: &str| {
        let output = ran_line(line, &folder("listen-steps"));
        assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
        let said = text(&output.stdout);
        assert!(said.lines().all(|l| l.chars().count() <= 80), "{said}");
        said.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    // 3 / 0.87 = 3.44.
    let rubs = "--diameter 6mm --edges 4 --path side --depth 1mm --width 0.3mm --stock 1018 \
                --condition 'hot rolled' --edge-radius 10um --spindle 5000rpm";
    let small = said(&format!(
        "feeds listen squeal {rubs} --feed-per-tooth 0.002mm"
    ));
    assert!(
        small.contains("chip 0.9 um where 3.0 um cuts (3.4 x the limit)"),
        "{small}"
    );
    assert!(small.contains("feed up 20 %: to 120 %, where it still rubs: it needs 344 %"));
    // 5000 x 4 / 60 = 333 Hz, and 5000 / 60 = 83 Hz.
    assert!(small.contains("the teeth sound at 333 Hz; another, louder note is chatter"));
    assert!(small.contains("it beats at 83 Hz, once a turn"));
    // 30 mm of 3 mm carbide in a slot of 3 mm is past its strength: no dial goes on from there.
    let weak = "--diameter 3mm --edges 3 --flute-length 12mm --shank 3mm --path slot --depth 3mm \
                --stick-out 20mm --stock 1018 --condition 'hot rolled' --machine bench-5000";
    let weak = said(&format!("feeds listen hum {weak} --units inch"));
    assert!(
        weak.contains("STOP over its limit: strength of the cutter"),
        "{weak}"
    );
    assert!(
        weak.contains("spindle down 10 %: not on this pass"),
        "{weak}"
    );
    // Four fifths of 3 mm, which is 0.1181 in.
    assert!(
        weak.contains("depth down 20 %: from 0.1181 in to 0.0945 in"),
        "{weak}"
    );
    // Full speed stays full speed.
    let top = said(&format!(
        "feeds listen burr {rubs} --feed-per-tooth 0.02mm --spindle-most 5000rpm"
    ));
    assert!(
        top.contains("spindle up 10 %: not on this pass: the machine goes no further"),
        "{top}"
    );
    for said in [small, weak, top] {
        assert!(said.contains("stop the spindle before you touch"), "{said}");
        assert!(said.contains("Eye protection"), "{said}");
        assert!(!said.contains("margin"), "{said}");
    }
}

#[test]
fn a_pass_of_a_job_is_listened_to_as_any_other() {
    let folder = folder("listen-job");
    ran_line("feeds job new demo.json --demo", &folder);
    let line = "feeds listen chatter marks --job demo.json --pass pocket --json";
    let output = ran_line(line, &folder);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    let said: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(said["signs"][0]["sign"], "chatter marks");
    assert_eq!(said["pass"]["tooth_frequency"]["unit"], "Hz");
    for cause in said["signs"][0]["causes"].as_array().unwrap() {
        assert_eq!(cause["basis"], "common practice");
        assert!(cause["used"].as_f64().is_none_or(|used| used >= 0.0));
        assert!(cause["because"].as_str().is_some_and(|b| !b.is_empty()));
        assert_eq!(cause["step"]["unit"], "%");
    }
    let both = "feeds listen hum --job demo.json --pass pocket --depth 1mm";
    let output = ran_line(both, &folder);
    assert_eq!(output.status.code(), Some(2));
    assert!(text(&output.stderr).contains("with --job, cutter, stock, path"));
    // A job without a pass could be any of them.
    let output = ran_line("feeds listen hum --job demo.json", &folder);
    assert_eq!(output.status.code(), Some(2));
}

#[test]
fn without_a_sign_they_are_listed_and_a_wrong_one_names_the_nearest() {
    let folder = folder("listen-list");
    let output = ran_line("feeds listen", &folder);
    let list = text(&output.stdout);
    for sign in &tables().unwrap().signs.signs {
        assert!(list.contains(&sign.name), "{list}");
    }
    let output = ran_line("feeds listen --json", &folder);
    let said: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert!(said["pass"].is_null());
    assert!(said["signs"].as_array().unwrap().len() >= 10);
    assert!(said["signs"][0]["causes"][0]["verdict"].is_null());
    let output = ran_line("feeds listen sqeal", &folder);
    assert_eq!(output.status.code(), Some(2));
    let said = text(&output.stderr);
    assert!(said.contains("nearest: squeal"), "{said}");
    // What is missing of a pass is named as `feeds cut` names it.
    let output = ran_line("feeds listen squeal --diameter 6mm", &folder);
    assert_eq!(output.status.code(), Some(2));
    assert!(text(&output.stderr).contains("edges"));
}

/// The sheet has its lines from the same table.
#[test]
fn the_sheet_says_what_the_table_says() {
    let folder = folder("listen-sheet");
    ran_line("feeds job new demo.json --demo", &folder);
    let sheet = text(&ran_line("feeds sheet demo.json", &folder).stdout);
    let sheet = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(sheet.contains("another, louder note is chatter"), "{sheet}");
    let limits = &tables().unwrap().signs.limits;
    let said = limits.iter().filter(|row| sheet.contains(&row.says));
    assert!(said.count() > 0, "{sheet}");
}
