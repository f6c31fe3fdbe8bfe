//! What somebody who sees the program for the first time stumbled over: each fault by its story.

use crate::shell::{folder, ran_line, text};
use crate::walk::{demo, frame, press, shows};
use feeds_core::quantity::Quantity;
use feeds_tui::tui::words;
use serde_json::Value;

/// A cut with an inch cutter on the small machine of the tables.
const INCH: &str = "feeds cut --diameter 1/8in --flutes 4 --stock 1018 --condition 'hot rolled' \
                    --machine bench-5000 --units inch";

fn said(line: &str, name: &str) -> (String, Option<i32>) {
    let output = ran_line(line, &folder(name));
    let said = text(&output.stdout) + &text(&output.stderr);
    let words: Vec<&str> = said.split_whitespace().collect();
    (words.join(" "), output.status.code())
}

/// The spindle of that machine ends at 5000 rpm (its row in the tables): 9000 are 1.8 times that.
/// A wall off by a guessed tolerance is the greater harm and stops nothing: it read like the
/// reason.
#[test]
fn what_stops_a_pass_is_said_behind_a_greater_harm_that_only_may_be() {
    let line = format!("{INCH} --path side --depth 0.02in --width 0.1in --spindle 9000rpm");
    let (said, code) = said(&line, "first-look-order");
    assert_eq!(code, Some(1));
    let reason = "what stops it: the spindle does not turn that fast: 1.80 x its top speed";
    assert!(said.contains(reason), "{said}");
}

/// A feed typed ten times too high: the machine's axes go 59 in/min (1500 mm/min, its row), so no
/// depth and no other cutter opens that pass. What is offered is worked out anew and does not
/// stop.
#[test]
fn a_feed_beyond_the_axes_is_opened_by_leaving_it_free_and_by_nothing_that_stops() {
    let line = format!("{INCH} --path slot --depth 0.02in --spindle 5000rpm --feed 90in/min");
    let (text, _) = said(&line, "first-look-feed");
    assert!(
        text.contains("runs with: speed and feed left free at F "),
        "{text}"
    );
    assert!(!text.contains("left free; or"), "{text}");
    let free = line.replace(" --feed 90in/min", " --json");
    let output = ran_line(&free, &folder("first-look-free"));
    let json: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_ne!(json["verdict"], "STOP");
}

/// 50 mm are 1.969 in and 0.5 mm 0.01969 in: a value just beyond was said to be the end itself.
#[test]
fn a_value_just_beyond_its_range_does_not_read_like_the_end_of_it_in_inches() {
    let cut = "feeds cut --flutes 4 --units inch --stock 1018 --depth 1mm --path side --width 1mm";
    let (text, code) = said(&format!("{cut} --diameter 1.98in"), "first-look-ends");
    assert_eq!(code, Some(2));
    assert!(text.contains("1.98 in is not between"), "{text}");
    assert!(text.contains("and 1.969 in"), "{text}");
    let runout = format!("{cut} --diameter 1/4in --runout 0.0199in");
    let (text, _) = said(&runout, "first-look-runout");
    assert!(
        text.contains("0.0199 in is not between 0 in and 0.01969 in"),
        "{text}"
    );
}

/// It was «unexpected argument '-3' found», with no field and no range.
#[test]
fn a_negative_value_is_refused_by_its_field_and_range() {
    for value in ["-3mm", "-.5mm"] {
        let line = format!("feeds cut --flutes 4 --depth 1mm --diameter {value}");
        let (text, code) = said(&line, "first-look-negative");
        assert_eq!(code, Some(2));
        assert!(
            text.contains("diameter: ") && text.contains("0.05 mm"),
            "{text}"
        );
    }
    // What is no value of a flag stays as it is.
    let (text, _) = said("feeds formula -3mm", "first-look-no-flag");
    assert!(text.contains("'-3'"), "{text}");
}

/// Read from across the shop, the earlier setting was taken for that of what was typed.
#[test]
fn no_earlier_setting_is_shown_large_or_copied_while_an_entry_is_wrong() {
    let mut state = demo();
    press(&mut state, "<Tab><Tab><Tab>");
    while state.field().key != "depth" {
        press(&mut state, "<Down>");
    }
    press(&mut state, "9q<Enter>");
    assert!(state.live.is_old());
    press(&mut state, "F");
    let shown = frame(&state, 80, 24);
    // Below the head and its rule.
    let body = shown[6..20].join("\n");
    assert!(body.contains(words::TO_PUT_RIGHT), "{body}");
    assert!(!body.contains('█'), "{body}");
    let small = frame(&state, 60, 15).join("\n");
    assert!(small.contains("NOT READY"), "{small}");
    assert!(!small.contains("RUN") && !small.contains("CARE"), "{small}");
    press(&mut state, "Fy");
    shows(&state, &[words::TO_PUT_RIGHT]);
    assert!(!frame(&state, 80, 24).join(" ").contains(words::COPIED));
}

/// A feed is rounded to what is typed at the machine: undo went back to metric with the inch one.
#[test]
fn to_undo_other_units_plans_in_the_units_of_before() {
    let mut state = demo();
    let feed = |state: &feeds_tui::tui::state::ScreenState| {
        let answer = state.live.answer.as_ref().unwrap();
        answer.plan.v_f.si()
    };
    let before = feed(&state);
    press(&mut state, "m");
    let inch = feed(&state);
    assert!(
        (inch - before).abs() > 0.0,
        "both round alike: take another pass"
    );
    press(&mut state, "u");
    assert!((feed(&state) - before).abs() <= 0.0);
    press(&mut state, "<Ctrl-r>");
    assert!((feed(&state) - inch).abs() <= 0.0);
}
