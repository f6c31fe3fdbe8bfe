//! `feeds card`: tests of the machine, their readings, and where they are kept.

use crate::shell::{folder, ran_line, text};
use feeds_tui::card::CARDS;
use serde_json::Value;
use std::path::Path;

#[track_caller]
fn said(line: &str, folder: &Path) -> String {
    let output = ran_line(line, folder);
    assert_eq!(
        output.status.code(),
        Some(0),
        "{line}: {}",
        text(&output.stderr)
    );
    text(&output.stdout)
}

#[test]
fn every_card_is_printed_and_its_own_example_is_worked_out() {
    let folder = folder("cards-all");
    let list = said("feeds card", &folder);
    for card in &CARDS {
        assert!(list.contains(card.word), "{list}");
        let printed = said(&format!("feeds card {}", card.word), &folder);
        assert!(
            printed.lines().all(|l| l.chars().count() <= 80),
            "{printed}"
        );
        for part in ["you need", "formula", "spread", "enters", "______"] {
            assert!(printed.contains(part), "{printed}");
        }
        let page = said(&format!("feeds card {} --html", card.word), &folder);
        assert!(page.starts_with("<!DOCTYPE html>") && page.contains("<table>"));
        assert_eq!(page.matches("<td>").count(), card.rows * card.columns.len());
        let worked = said(card.type_in, &folder);
        assert!(
            worked.contains('±') && worked.contains("enters"),
            "{worked}"
        );
    }
}

/// By hand: 3175/538 N/µm through zero; mean and spread of 0.04, 0.05, 0.05, 0.06; 20 moves of
/// 5 mm in 6.1 s are 0.305 s each, where 2000 mm/min is never reached: 4 · 5 mm/0.305² = 0.215;
/// √6 µm/0.3; means of 69, 67 and 70.
#[test]
fn readings_come_to_what_they_do_by_hand() {
    let folder = folder("cards-worked");
    let of = |line: &str| -> (f64, f64) {
        let json: Value = serde_json::from_str(&said(&format!("{line} --json"), &folder)).unwrap();
        let number = |key: &str| json[key]["value"].as_f64().unwrap();
        (number("value"), number("deviation"))
    };
    let near = |got: f64, expected: f64| {
        assert!((got / expected - 1.0).abs() < 1e-4, "{got} for {expected}");
    };
    near(
        of("feeds card stiffness 25N:4um 50N:8um 75N:13um 100N:17um").0,
        5901.487,
    );
    let (lost, spread) = of("feeds card backlash 0.04mm 0.05mm 0.05mm 0.06mm");
    near(lost, 0.05);
    near(spread, 0.008_165);
    near(of("feeds card runout 8um 12um 10um 10um").0, 0.01);
    let moves = "feeds card acceleration length=5mm feed=2000mm/min moves=20 6.1s";
    near(of(moves).0, 0.214_996);
    near(of("feeds card edge-radius width=0.5 2um:3um").0, 0.008_165);
    near(
        of("feeds card watts 62W:131W 61W:128W 63W:133W").0,
        68.666_67,
    );
}

#[test]
fn a_reading_is_kept_in_the_shop_and_used_there() {
    let folder = folder("cards-kept");
    said(
        "feeds shop add machine 'the mill' spindle-least=100rpm spindle-most=5000rpm",
        &folder,
    );
    for line in [
        "feeds card stiffness 25N:4um 50N:8um 75N:13um 100N:17um",
        "feeds card backlash 0.04mm 0.05mm 0.05mm 0.06mm",
        "feeds card runout 8um 12um 10um 10um",
        "feeds card acceleration length=5mm feed=2000mm/min moves=20 6.1s",
    ] {
        let kept = said(&format!("{line} --keep 'the mill'"), &folder);
        assert!(kept.contains("now has"), "{kept}");
    }
    said("feeds shop add cutter mine diameter=6mm edges=4", &folder);
    said(
        "feeds card edge-radius width=0.5 2um:3um --keep mine",
        &folder,
    );
    let line = "feeds cut --cutter mine --machine 'the mill' --path side --depth 1mm --width \
                0.3mm --stock 1018 --condition 'hot rolled' --sources --working";
    let output = ran_line(line, &folder);
    let used = text(&output.stdout);
    assert!(
        output.status.code().is_some_and(|c| c < 2),
        "{}",
        text(&output.stderr)
    );
    assert!(
        used.contains("the mill") && used.contains("stiffness"),
        "{used}"
    );
}

#[test]
fn what_is_no_reading_is_refused() {
    let folder = folder("cards-wrong");
    for (line, expected) in [
        ("feeds card stifness", "stiffness"),
        ("feeds card stiffness 25N", "pair"),
        ("feeds card stiffness 25N:4um", "too few"),
        // By hand: 10 N/um and then 25 differ by more than a third of any line through zero.
        ("feeds card stiffness 25N:4um 50N:3um", "disagree"),
        ("feeds card stiffness 25kN:4um 50kN:8um", "N/mm"),
        ("feeds card backlash 0.05", "mm"),
        ("feeds card backlash 0mm", "above zero"),
        ("feeds card backlash width=3 0.05mm", "not asked"),
        (
            "feeds card acceleration length=5mm feed=2000mm/min 6.1s",
            "moves",
        ),
        (
            "feeds card acceleration length=5mm feed=2000mm/min moves=20 2s",
            "no longer",
        ),
        ("feeds card edge-radius width=0.5 3um:2um", "higher"),
        (
            "feeds card watts 62W:131W 61W:128W --keep 'the mill'",
            "feeds log",
        ),
        ("feeds card backlash 0.05mm 0.06mm --keep nobody", "nobody"),
    ] {
        let output = ran_line(line, &folder);
        let said = text(&output.stderr).replace('\n', " ");
        assert_eq!(output.status.code(), Some(2), "{line}: {said}");
        assert!(said.contains(expected), "{line}: {said}");
    }
}

/// By hand: readings m - d, m, m + d deviate by d. 2.85 of 10 um is below three tenths, 3.15 above.
#[test]
fn readings_that_disagree_are_no_measurement() {
    let folder = folder("cards-apart");
    for (readings, code) in [("7.15um 10um 12.85um", 0), ("6.85um 10um 13.15um", 2)] {
        let output = ran_line(&format!("feeds card runout {readings}"), &folder);
        assert_eq!(output.status.code(), Some(code), "{readings}");
    }
    let one = ran_line("feeds card runout 12um", &folder);
    let said = text(&one.stdout);
    assert!(
        said.contains("one reading: its spread is not known"),
        "{said}"
    );
}
