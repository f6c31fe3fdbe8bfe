//! Advice that a practitioner would give otherwise, each with the pass on which it was seen.

use crate::shell::{folder, ran_line};
use serde_json::Value;
use std::path::PathBuf;
use std::sync::atomic::{AtomicUsize, Ordering};

const SIX: &str = "--diameter 6mm --edges 4 --helix 30deg --end square --cutter-material carbide \
                   --coating altin --flute-length 13.2mm --stick-out 18mm --shank 6mm";
const HALF: &str = "--diameter 0.5mm --edges 2 --helix 30deg --end square --cutter-material \
                    carbide --coating altin --flute-length 1.1mm --stick-out 15mm --shank 3mm";

/// A folder of its own for each command: tests run side by side.
fn home() -> PathBuf {
    static COUNT: AtomicUsize = AtomicUsize::new(0);
    folder(&format!("advice-{}", COUNT.fetch_add(1, Ordering::SeqCst)))
}

fn cut(flags: &str) -> Value {
    let output = ran_line(&format!("feeds cut {flags} --json"), &home());
    serde_json::from_slice(&output.stdout).unwrap()
}

fn state<'a>(answer: &'a Value, limit: &str) -> &'a str {
    let checks = answer["checks"].as_array().unwrap();
    let check = checks.iter().find(|c| c["limit"] == limit);
    check.map_or("", |c| c["state"].as_str().unwrap())
}

fn cautions(answer: &Value) -> String {
    answer["cautions"].to_string()
}

fn opens(answer: &Value) -> Vec<&str> {
    let opens = answer["opens"].as_array().unwrap().iter();
    opens.map(|o| o["what"].as_str().unwrap()).collect()
}

/// A half-millimetre mill in hard steel was fed at the floor and refused for being above the
/// table: the edge decides, and a caution names both.
#[test]
fn the_feed_that_the_edge_needs_is_not_refused_by_the_table() {
    let answer = cut(&format!(
        "{HALF} --path slot --depth 0.02mm --stock D2 --condition hardened --hardness 60HRC \
         --machine fast-24000"
    ));
    assert_eq!(state(&answer, "feed-band"), "ok");
    assert!(cautions(&answer).contains("no book covers such a cut"));
    let ordinary = cut(&format!(
        "{SIX} --path slot --depth 0.5mm --stock 1045 --condition annealed --machine bench-5000"
    ));
    assert!(!cautions(&ordinary).contains("no book covers such a cut"));
}

/// A table that is known to be loose was climbed because it was known.
#[test]
fn nobody_is_sent_climbing_on_a_table_that_is_pulled() {
    let side = format!(
        "{SIX} --path side --depth 6mm --width 3mm --stock 1045 --condition annealed --machine \
         bench-5000"
    );
    let loose = cut(&format!("{side} --backlash 0.05mm --drag 20N"));
    assert!(cautions(&loose).contains("would pull the table"));
    assert_eq!(state(&loose, "backlash"), "");
    let tight = cut(&format!("{side} --backlash 0mm --drag 20N"));
    assert!(cautions(&tight).contains("does not pull the table"));
    assert_eq!(state(&tight, "backlash"), "ok");
    let asked = cut(&format!(
        "{side} --backlash 0.05mm --drag 20N --direction up"
    ));
    assert!(!cautions(&asked).contains("direction chosen"));
}

/// A climb cut that pulls the table was offered less depth, which was still pulled.
#[test]
fn a_pull_on_the_table_is_cured_by_milling_conventionally() {
    let answer = cut(&format!(
        "{SIX} --path side --depth 1mm --width 1.5mm --stock 1045 --condition annealed --machine \
         bench-5000 --backlash 0.05mm --drag 20N --direction down --tolerance 0.1mm"
    ));
    assert_eq!(state(&answer, "backlash"), "over");
    assert_eq!(opens(&answer).first(), Some(&"direction"));
    assert_eq!(answer["opens"][0]["to"], "up");
}

/// Clamping shorter does nothing to the stress where the flutes end: shorter flutes do.
#[test]
fn a_cutter_that_may_break_is_cured_by_shorter_flutes() {
    let answer = cut(&format!(
        "{HALF} --path slot --depth 0.02mm --stock D2 --condition hardened --hardness 60HRC \
         --machine fast-24000"
    ));
    assert_eq!(state(&answer, "breakage"), "caution");
    assert!(opens(&answer).contains(&"flute-length"));
    assert!(!opens(&answer).contains(&"stick-out"));
    let checks = answer["checks"].to_string();
    assert!(checks.contains("shorter flutes"));
}

/// A worn edge was said to leave a wall off by more than the cut was wide.
#[test]
fn a_wall_is_never_said_to_be_off_by_more_than_the_cut() {
    let line = format!(
        "feeds cut --all {SIX} --path side --depth 6mm --width 0.1mm --stock A2 --condition \
         annealed --machine bench-5000 --direction up"
    );
    let output = ran_line(&line, &home());
    let said = String::from_utf8(output.stdout).unwrap();
    assert!(said.contains("wall off by more than the width"), "{said}");
}

/// The range of feeds shown left the recommended feed out, without a word of why.
#[test]
fn a_feed_outside_the_wall_nobody_asked_for_says_so() {
    let line = "feeds cut --all --diameter 3mm --edges 4 --helix 30deg --end square \
                --cutter-material carbide --coating altin --flute-length 6.6mm --stick-out 9mm \
                --shank 6mm \
                --path slot --depth 0.5mm --stock O1 --condition annealed --machine bench-5000";
    let output = ran_line(line, &home());
    let said = String::from_utf8(output.stdout).unwrap();
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        said.contains("a wall within 20 um, a guess, would take"),
        "{said}"
    );
    assert!(said.contains("(a guess: nobody gave it)"), "{said}");
}

/// The sheet at the machine said nothing of worn edges and of weak numbers.
#[test]
fn the_sheet_says_what_a_worn_edge_does_and_what_is_weak() {
    let folder = folder("advice-sheet");
    ran_line("feeds job new job.json --demo", &folder);
    let output = ran_line("feeds sheet job.json", &folder);
    let said = String::from_utf8(output.stdout).unwrap();
    assert!(said.contains("with a worn edge: land"), "{said}");
    assert!(said.contains("weak numbers, only a guide: "), "{said}");
}
