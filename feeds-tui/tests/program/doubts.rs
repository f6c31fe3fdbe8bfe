//! Typed values that are out of the ordinary are asked about, in words, wherever an answer stands.

use crate::shell::{folder, ran_line, text};
use crate::walk::{demo, press, shows};
use feeds_core::plan::Planner;
use feeds_core::symbol::{D, System};
use feeds_tui::pass::answered::{Answered, answered};
use feeds_tui::pass::decision;
use feeds_tui::pass::description::Description;
use feeds_tui::pass::resolve::{TablesIn, TablesOnly};
use reference_tables::pass::doubt_alone;
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

/// The tables have what loose machines have: a true one has less, and nothing is less than any.
#[test]
fn less_play_than_the_tables_have_is_no_slip() {
    let bench = ("machine", "bench-5000");
    asks(&[bench, ("runout", "0.0016 mm")], &[]);
    asks(&[bench, ("backlash", "0.0021 mm")], &[]);
    asks(&[bench, ("drag", "0 N")], &[]);
}

/// Four times is the most (common practice): 1500 mm/min over 4 are 375 mm/min.
#[test]
fn a_value_four_times_off_its_row_is_asked_about_once() {
    let bench = ("machine", "bench-5000");
    asks(&[bench, ("feed-most", "380 mm/min")], &[]);
    let slow = "fastest cutting feed: «360 mm/min» where the tables have 1500 mm/min: did you mean \
                3600 mm/min?";
    asks(&[bench, ("feed-most", "360 mm/min")], &[slow]);
    // A value that is odd by itself is asked about as that, and hides no other.
    let steep = "helix angle: «3 deg» is unusual, 10.0 deg to 60.0 deg is usual (common \
                 practice): did you mean 30.0 deg?";
    asks(
        &[bench, ("feed-most", "360 mm/min"), ("helix", "3 deg")],
        &[steep, slow],
    );
    let said = answer(&[bench, ("spindle-most", "100000 rpm")])
        .resolved
        .doubts;
    assert_eq!(said.len(), 1, "{said:?}");
}

/// Two that are odd beside the diameter are one slip of it, unless the shank was typed.
#[test]
fn a_shank_that_is_typed_is_no_slip_of_the_diameter() {
    let long = [("flute-length", "30 mm"), ("stick-out", "40 mm")];
    let thin = "cutter diameter: «3 mm» does not go with flute length, stick-out (common \
                practice): did you mean 30.000 mm?";
    asks(&long, &[thin]);
    let flutes = "flute length: «30 mm» is 10 x the diameter, 0.7 to 8 x is usual (common \
                  practice): did you mean 3.0 mm?";
    asks(&[&long[..], &[("shank", "6 mm")]].concat(), &[flutes]);
}

/// A small cutter on a slow machine turns as fast as that can: a quarter of it is asked about.
#[test]
fn a_speed_is_held_against_what_the_machine_can() {
    let bench = [
        ("machine", "bench-5000"),
        ("diameter", "1 mm"),
        ("stick-out", "4 mm"),
    ];
    let at = |spindle| {
        [
            &bench[..],
            &[
                ("spindle", spindle),
                ("depth", "0.1 mm"),
                ("width", "0.3 mm"),
            ],
        ]
        .concat()
    };
    asks(&at("1260 rpm"), &[]);
    let slow = "spindle speed: «1150 rpm» is 0.23 x the slowest that is usual here, at least \
                0.25 x is usual (common practice): did you mean 11500 rpm?";
    asks(&at("1150 rpm"), &[slow]);
    let slow = "cutting speed: «5 m/min» is 0.11 x the slowest that is usual here, at least 0.25 x \
                is usual (common practice): did you mean 50.0 m/min?";
    asks(&[("cutting-speed", "5 m/min")], &[slow]);
}

/// A ratio has two digits, and no nought behind its point.
#[test]
fn a_ratio_is_said_in_two_digits() {
    let long = "flute length: «31.2 mm» is 10 x the diameter, 0.7 to 8 x is usual (common \
                practice): did you mean 3.12 mm?";
    asks(&[("flute-length", "31.2 mm")], &[long]);
    let short = "stick-out: «3.12 mm» is 1 x the diameter, at least 1.2 x is usual (common \
                 practice): did you mean 31.2 mm or 3.12 in?";
    asks(
        &[("stick-out", "3.12 mm"), ("flute-length", "3 mm")],
        &[short],
    );
}

/// Depth and width of each path over the diameter, three hundredths inside and outside of what is
/// usual on a light mill (common practice, as stated beside the rows).
#[test]
fn depth_and_width_of_each_path_have_their_own_bounds() {
    let long = [
        ("diameter", "4 mm"),
        ("flute-length", "20 mm"),
        ("stick-out", "22 mm"),
    ];
    let asked = |path: &[(&str, &str)], entry: &str, times: f64| {
        let value = format!("{} mm", 4.0 * times);
        let entries = [&long[..], path, &[(entry, value.as_str())]].concat();
        let doubts = answer(&entries).resolved.doubts;
        doubts
            .iter()
            .any(|d| d.text.starts_with(entry) || d.text.contains(&format!("{entry} of cut")))
    };
    let slot: &[_] = &[("path", "slot"), ("width", "")];
    let pocket: &[_] = &[("path", "pocket")];
    let side: &[_] = &[("path", "side")];
    let hard: &[_] = &[("path", "side"), ("condition", ""), ("hardness", "60 HRC")];
    let face: &[_] = &[("path", "face"), ("depth", "0.2 mm")];
    let ball: &[_] = &[
        ("path", "ball finish"),
        ("end", "ball"),
        ("depth", "0.2 mm"),
        ("width", "0.2 mm"),
    ];
    for (path, entry, least, most) in [
        (slot, "depth", 0.03, 1.5),
        (pocket, "depth", 0.03, 1.5),
        (pocket, "width", 0.08, 1.0),
        (side, "depth", 0.05, 4.0),
        (hard, "depth", 0.05 / 3.0, 4.0),
        (side, "width", 0.01, 1.0),
        (face, "depth", 0.01, 0.6),
        (face, "width", 0.12, 1.0),
        (ball, "depth", 0.005, 0.5),
        (ball, "width", 0.005, 0.45),
    ] {
        let at = |times| asked(path, entry, times);
        assert!(
            !at(1.03 * least) && at(0.97 * least),
            "{path:?} {entry} {least}"
        );
        assert!(!at(0.97 * most), "{path:?} {entry} {most}");
        // No cut is wider than its cutter.
        assert!(most <= 1.0 || at(1.03 * most), "{path:?} {entry} {most}");
    }
}

/// What is usual of a ball's finish and of a corner radius, a step inside and outside of it.
#[test]
fn a_finish_and_a_corner_radius_have_their_own_bounds() {
    let ball = [
        ("path", "ball finish"),
        ("end", "ball"),
        ("corner-radius", ""),
    ];
    let cut = |depth, width| [&ball[..], &[("depth", depth), ("width", width)]].concat();
    // 0.005 of 3 mm is 0.015 mm, 0.45 of it 1.35 mm, half of it 1.5 mm
    asks(&cut("0.0155 mm", "0.0155 mm"), &[]);
    asks(&cut("0.1 mm", "1.34 mm"), &[]);
    let wide = "width of cut a_e: «1.4 mm» is 0.47 x the diameter, 0.005 to 0.45 x is usual \
                (common practice): did you mean 0.140 mm?";
    asks(&cut("0.1 mm", "1.4 mm"), &[wide]);
    let corner = |radius| [("end", "corner"), ("corner-radius", radius)];
    asks(&corner("0.05 mm"), &[]);
    let sharp = "corner radius: «0.02 mm» is 0.007 x the diameter, 0.015 to 0.3 x is usual \
                 (common practice): did you mean 0.200 mm or 0.0200 in?";
    asks(&corner("0.02 mm"), &[sharp]);
    // Once, though the shape of the end is read off it as well.
    asks(&[("corner-radius", "0.02 mm")], &[sharp]);
    asks(&[("end", "ball"), ("corner-radius", "1.5 mm")], &[]);
}

/// The range of a value by itself is said in the unit it was typed in.
#[test]
fn what_is_usual_is_said_in_inches_of_a_value_in_inches() {
    let asked = doubt_alone(&D, "diameter", "3.175in", 0.080_645).unwrap();
    assert!(
        asked.text.contains(" in to 1.0000 in is usual"),
        "{}",
        asked.text
    );
    let asked = doubt_alone(&D, "diameter", "80mm", 0.08).unwrap();
    assert!(
        asked.text.contains(" mm to 25.400 mm is usual"),
        "{}",
        asked.text
    );
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
