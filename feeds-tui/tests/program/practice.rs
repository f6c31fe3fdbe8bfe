//! Practice from outside: questions, marks, sheets, lessons.

use crate::shell::{folder, ran_line, text};
use feeds_core::lesson::short::LESSONS;
use feeds_core::lesson::{LEVELS, kinds};
use serde_json::Value;
use std::sync::atomic::{AtomicUsize, Ordering};

#[track_caller]
fn said(line: &str) -> String {
    // Tests run at once: each line has a folder of its own.
    static LINES: AtomicUsize = AtomicUsize::new(0);
    let number = LINES.fetch_add(1, Ordering::Relaxed);
    let output = ran_line(line, &folder(&format!("practice-{number}")));
    assert_eq!(
        output.status.code(),
        Some(0),
        "{line}: {}",
        text(&output.stderr)
    );
    text(&output.stdout)
}

#[test]
fn a_pipe_gets_the_questions() {
    let out = said("feeds practice --count 14");
    assert!(out.contains("level 1") && out.contains("level 7"), "{out}");
    assert!(
        out.contains("right within") && out.contains("one of: "),
        "{out}"
    );
    assert!(out.lines().all(|l| l.chars().count() <= 80), "{out}");
    assert_eq!(out, said("feeds practice --count 14"));
    assert_ne!(out, said("feeds practice --count 14 --seed 2"));
}

#[test]
fn answers_are_marked_and_slips_named() {
    let asked: Value =
        serde_json::from_str(&said("feeds practice --level 2 --count 6 --json")).unwrap();
    let questions = asked["questions"].as_array().unwrap();
    assert!(
        questions.iter().all(|q| q["answer"].is_null()),
        "no answer is given away"
    );
    let line = "feeds practice --level 2 --count 6 --json --answer nonsense";
    let marked: Value = serde_json::from_str(&said(line)).unwrap();
    assert_eq!(marked["questions"][0]["answer"]["mark"], "unreadable");
    let right = marked["questions"][0]["answer"]["right"].as_str().unwrap();
    let line = format!("feeds practice --level 2 --count 6 --answer '{right}'");
    let out = said(&line);
    assert!(out.contains("Right: "), "{out}");
}

#[test]
fn a_sheet_has_its_answers_on_a_second_page() {
    let sheet = said("feeds practice --sheet --count 9");
    let pages: Vec<&str> = sheet.split('\u{c}').collect();
    let [questions, answers] = pages[..] else {
        panic!("two pages")
    };
    let numbered = |page: &str| {
        let numbers = page.lines().filter_map(|l| {
            let (number, _) = l.trim_start().split_once("  ")?;
            (l.starts_with("  ") && !l.starts_with("      ")).then(|| number.parse().ok())?
        });
        numbers.collect::<Vec<usize>>()
    };
    assert_eq!(numbered(questions), numbered(answers));
    assert!(numbered(answers).len() >= 9);
    assert!(questions.contains("master"));
    assert!(questions.lines().all(|l| l.chars().count() <= 80));
    let html = said("feeds practice --sheet --count 9 --html");
    let items = html.matches("<li>").count();
    assert_eq!(
        (items, html.matches("</li>").count()),
        (2 * numbered(answers).len(), items)
    );
    assert!(html.contains("break-before:page"));
}

#[test]
fn an_inch_sheet_asks_and_answers_in_inches() {
    let sheet = said("feeds practice --sheet --level 1 --count 9 --units inch");
    assert!(
        sheet.contains("seed 1, inch") && !sheet.contains(" mm"),
        "{sheet}"
    );
    assert!(
        sheet.contains("ft/min") && sheet.contains("such as in"),
        "{sheet}"
    );
    // Scripts read units that never change.
    let asked = |units| said(&format!("feeds practice --count 9 --json --units {units}"));
    assert_eq!(asked("inch"), asked("metric"));
}

/// The example marked an answer in millimetres against a question that takes a word.
#[test]
fn the_example_of_help_marks_a_slip() {
    let help = said("feeds practice --help");
    let line = help.lines().find(|l| l.contains("--answer '")).unwrap();
    let out = said(line.trim());
    assert!(out.contains("Not so: forgot the teeth"), "{out}");
}

#[test]
fn each_lesson_fits_a_screen() {
    let list = said("feeds practice --lesson");
    assert_eq!(list.lines().count(), 10);
    for lesson in LESSONS {
        assert!(list.contains(lesson.name));
        let out = said(&format!("feeds practice --lesson {}", lesson.name));
        assert!(
            out.lines().count() <= 23,
            "{}: {}",
            lesson.name,
            out.lines().count()
        );
        assert!(out.lines().all(|l| l.chars().count() <= 80), "{out}");
    }
}

#[test]
fn help_names_the_levels_there_are() {
    let help = said("feeds practice --help");
    assert!(help.contains(&format!("1 to {LEVELS}")), "{help}");
}

#[test]
fn an_unknown_lesson_is_told_with_its_nearest() {
    let output = ran_line("feeds practice --lesson thining", &folder("practice-typo"));
    assert_eq!(output.status.code(), Some(2));
    assert!(text(&output.stderr).contains("«thinning»"));
}

#[test]
fn without_any_practice_the_record_is_empty_and_has_its_line() {
    let out = said("feeds practice --progress");
    assert!(
        out.contains("level 1: 0 of 0 right") && out.contains("master"),
        "{out}"
    );
    assert!(kinds().count() > 40);
}
