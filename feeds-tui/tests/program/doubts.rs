//! Typed values that are out of the ordinary are asked about, in words, wherever an answer stands.

use crate::shell::{folder, ran_line, text};
use crate::walk::{demo, press, shows};
use feeds_core::plan::Planner;
use feeds_core::symbol::System;
use feeds_tui::pass::answered::{Answered, answered};
use feeds_tui::pass::decision;
use feeds_tui::pass::description::Description;
use feeds_tui::pass::resolve::{TablesIn, TablesOnly};
use serde_json::Value;

/// A sane pocket with a cutter of 3 mm.
const SANE: [(&str, &str); 8] = [
    ("diameter", "3 mm"),
    ("edges", "3"),
    ("stick-out", "9 mm"),
    ("path", "pocket"),
    ("depth", "0.3 mm"),
    ("width", "1 mm"),
    ("stock", "1095"),
    ("condition", "annealed"),
];

fn answer(entries: &[(&str, &str)]) -> Answered {
    let pass = Description::default().with(&SANE).with(entries);
    answered(&pass, &TablesOnly, &mut Planner::default()).unwrap_or_else(|e| panic!("{e:?}"))
}

#[track_caller]
fn asks(entries: &[(&str, &str)], expected: &[&str]) {
    let answer = answer(entries);
    let said: Vec<&str> = answer
        .resolved
        .doubts
        .iter()
        .map(|d| d.text.as_str())
        .collect();
    assert_eq!(said, expected);
}

#[test]
fn a_value_that_is_far_from_usual_is_asked_about_with_what_was_probably_meant() {
    asks(&[], &[]);
    let long = "stick-out: «85 mm» is 28 x the shank, at most 10 x is usual (common practice): \
                did you mean 8.5 mm?";
    asks(&[("stick-out", "85 mm")], &[long]);
    // 0.3 in was meant, and is a tenth of an inch in mm.
    let inch = "stick-out: «0.5 mm» is 0.17 x the diameter, at least 1.2 x is usual (common \
                practice): did you mean 5.0 mm or 0.50 in?";
    asks(&[("stick-out", "0.5 mm"), ("depth", "0.2 mm")], &[inch]);
    let steep = "helix angle: «3 deg» is unusual, 10.0 deg to 60.0 deg is usual (common \
                 practice): did you mean 30.0 deg?";
    asks(&[("helix", "3 deg")], &[steep]);
    let thin = "shank diameter: «30 mm» is unusual, 2.00 mm to 25.40 mm is usual (shanks of DIN \
                6535, memory): did you mean 3.00 mm?";
    asks(&[("shank", "30 mm"), ("stick-out", "9 mm")], &[thin]);
}

#[test]
fn one_slip_of_the_diameter_is_asked_about_once() {
    let one = "cutter diameter: «30 mm» does not go with depth of cut a_p, width of cut a_e, \
               stick-out (common practice): did you mean 3.000 mm?";
    let answer = answer(&[("diameter", "30 mm")]);
    let [doubt] = &answer.resolved.doubts[..] else {
        panic!("{:?}", answer.resolved.doubts);
    };
    // In whatever order the others are named.
    let words = |text: &str| {
        let mut words: Vec<String> = text.split([' ', ',']).map(str::to_owned).collect();
        words.sort();
        words.join(" ").trim().to_owned()
    };
    assert_eq!(words(&doubt.text), words(one), "{}", doubt.text);
}

#[test]
fn a_value_far_from_that_of_the_machine_that_is_named_is_asked_about() {
    let answer = answer(&[("machine", "bench-5000"), ("spindle-most", "50000 rpm")]);
    let said = &answer.resolved.doubts[0].text;
    let right = "highest spindle speed: «50000 rpm» where the tables have 5000 rpm: did you mean \
                 5000 rpm?";
    assert_eq!(said, right);
}

#[test]
fn a_doubt_stands_in_the_decision_in_json_and_on_the_screens() {
    let long = answer(&[("stick-out", "85 mm")]);
    let text_of = decision::text(&long, None, System::Metric);
    assert!(
        text_of.contains("is it so      stick-out: «85 mm» is 28 x"),
        "{text_of}"
    );
    let at = folder("doubts");
    let line = "feeds cut --diameter 3mm --edges 3 --stick-out 85mm --path pocket --depth 0.3mm \
                --width 1mm --stock 1095 --condition annealed";
    let output = ran_line(&format!("{line} --json"), &at);
    let document: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(document["doubts"][0]["entry"], "stick-out");
    let said = text(&ran_line(line, &at).stdout);
    assert_eq!(said.matches("did you mean 8.5 mm?").count(), 1, "{said}");
    let mut state = demo();
    press(&mut state, "<Down><Down><Down>3 deg<Enter>");
    shows(&state, &["helix angle: «3 deg» is unusual"]);
}

#[test]
fn the_example_leaves_no_doubt_in_either_system() {
    for system in System::ALL {
        for pass in feeds_tui::demo::passes() {
            let answer = answered(&pass.typed, &TablesIn(system), &mut Planner::default());
            let doubts = answer.unwrap().resolved.doubts;
            assert!(doubts.is_empty(), "{}: {doubts:?}", pass.name);
        }
    }
}
