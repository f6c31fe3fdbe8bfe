//! Practice and lessons on the screens.

use crate::walk::{PLAIN, demo, frame, open, press, shows};
use feeds_core::lesson::short::LESSONS;
use feeds_core::lesson::{AskedFor, LEVELS};
use feeds_core::symbol::System;
use feeds_tui::tui::state::{ScreenState, View};
use feeds_tui::tui::theme::Theme;

fn practising() -> ScreenState {
    let mut state = demo();
    press(&mut state, "P");
    assert_eq!(state.view, View::Practice);
    state
}

/// Asked and right, of all kinds.
fn tally(state: &ScreenState) -> (u64, u64) {
    let tallies = state.practice.progress.kinds.values();
    tallies.fold((0, 0), |(a, r), t| (a + t.asked, r + t.right))
}

/// Types the right answer to the question that waits.
fn right(state: &mut ScreenState) {
    let answer = state.practice.asked().unwrap().answer();
    press(state, &format!("{answer}<Enter>"));
}

#[test]
fn right_answers_lead_through_all_levels() {
    let mut state = practising();
    let mut levels = Vec::new();
    while levels.len() < 2 * usize::from(LEVELS) {
        levels.push(state.practice.exercise().unwrap().kind.level);
        while state.practice.asked().is_some() {
            right(&mut state);
        }
        // The working stands below the last mark, and Enter asks the next.
        shows(&state, &["Right: ", "Enter goes on"]);
        press(&mut state, "<Enter>");
    }
    assert!(levels.windows(2).all(|w| w[0] <= w[1]), "{levels:?}");
    assert_eq!((levels[0], levels[13]), (1, LEVELS));
    let (asked, right) = tally(&state);
    assert!(asked >= 14 && asked == right, "{asked}, {right}");
}

#[test]
fn a_slip_is_named_and_only_the_first_answer_is_kept() {
    let mut state = practising();
    let question = state.practice.asked().unwrap();
    let AskedFor::Number {
        right: amount,
        slips,
        ..
    } = &question.wanted
    else {
        panic!("level 1 begins with a number")
    };
    let (slip, si) = slips[0];
    let typed = format!("{} {}", si / amount.unit.size, amount.unit.text);
    press(&mut state, &format!("{typed}<Enter>"));
    shows(&state, &[slip.name, "Not so"]);
    right(&mut state);
    assert_eq!(tally(&state), (1, 0));
}

#[test]
fn what_cannot_be_read_stays_to_be_changed_and_counts_nothing() {
    let mut state = practising();
    press(&mut state, "12<Enter>");
    shows(&state, &["no unit", "answer: 12"]);
    assert_eq!(tally(&state), (0, 0));
    press(&mut state, "<Ctrl-u><Enter>");
    shows(&state, &["It is "]);
    assert_eq!(tally(&state), (1, 0), "given up is a first answer");
}

/// «5 mm66 m/min» stood in the line: the next answer was typed behind the one that cannot be read.
#[test]
fn typing_replaces_what_cannot_be_read_and_keys_of_editing_go_on_with_it() {
    let mut state = practising();
    press(&mut state, "5 mmm<Enter>");
    shows(&state, &["answer: 5 mmm"]);
    assert!(state.practice.line.is_selected());
    press(&mut state, "66");
    shows(&state, &["answer: 66"]);
    assert_eq!(state.practice.line.text(), "66");
    for (keys, expect) in [
        ("<Backspace>", "5 mm"),
        ("<Left><Delete>", "5 mm"),
        ("<End>/min", "5 mmm/min"),
        ("<Home>1", "15 mmm"),
    ] {
        let mut state = practising();
        press(&mut state, &format!("5 mmm<Enter>{keys}"));
        assert_eq!(state.practice.line.text(), expect, "{keys}");
    }
}

#[test]
fn with_inch_units_the_question_is_in_inches() {
    let mut state = demo();
    press(&mut state, "mP");
    // Level 1 asks for a speed, a diameter, a feed: each has an inch unit in its question.
    let text = state.practice.asked().unwrap().text.clone();
    assert!(text.contains(" in") && !text.contains(" mm"), "{text}");
    shows(&state, &["of 7, rising"]);
    right(&mut state);
    assert_eq!(tally(&state), (1, 1));
    // Back in metric units the next question is metric; what was answered stays as it was.
    press(&mut state, "<Esc>mP");
    assert_eq!(state.practice.exercise().unwrap().questions[0].text, text);
    press(&mut state, "<Enter>");
    let text = state.practice.asked().unwrap().text.clone();
    assert!(text.contains(" mm") && !text.contains(" in"), "{text}");
    // A key of its own asks the same question in the other units.
    press(&mut state, "<Ctrl-n>");
    let text = state.practice.asked().unwrap().text.clone();
    assert!(text.contains(" in") && !text.contains(" mm"), "{text}");
}

#[test]
fn a_word_is_chosen_by_its_beginning_or_from_the_list() {
    let mut state = practising();
    // Level 5 asks which way the chip goes.
    press(&mut state, "<Tab><Tab><Tab><Tab><Tab>");
    assert_eq!(state.practice.level, Some(5));
    let question = state.practice.asked().unwrap();
    let AskedFor::Word { choices, .. } = &question.wanted else {
        panic!("a direction is asked first")
    };
    let (first, second) = (choices[0].clone(), choices[1].clone());
    press(&mut state, &first[..4]);
    let before = tally(&state).0;
    press(&mut state, "<Enter>");
    assert_eq!(tally(&state).0, before + 1);
    shows(&state, &[&format!("> {first}")]);
    let mut state = practising();
    press(&mut state, "<Tab><Tab><Tab><Tab><Tab><Down><Down>");
    assert_eq!(state.practice.line.text(), second);
    press(&mut state, "<Ctrl-u>q<Enter>");
    shows(&state, &[&format!("not one of: {first}, {second}")]);
}

#[test]
fn the_record_has_the_line_for_the_master() {
    let mut state = practising();
    right(&mut state);
    press(&mut state, "<Ctrl-r>");
    shows(&state, &["level 1: 1 of 1 right"]);
    press(&mut state, "<PageDown><PageDown><PageDown>");
    shows(&state, &["signed off by the master"]);
    press(&mut state, "<Esc>");
    assert_eq!(state.view, View::Practice);
    press(&mut state, "<Esc>");
    assert_eq!(state.view, View::Walk);
}

#[test]
fn every_lesson_fits_one_screen_and_its_numbers_have_their_working() {
    for ascii in [false, true] {
        let mut state = open(feeds_tui::demo::passes(), Theme { ascii, ..PLAIN });
        press(&mut state, "L");
        for (at, lesson) in LESSONS.iter().enumerate() {
            let shown = frame(&state, 80, 24);
            assert!(
                shown[0].starts_with(&*state.theme.say(lesson.title)),
                "{}",
                shown[0]
            );
            // The last words are there, and a blank line is left below them.
            let told = lesson.told(System::Metric).unwrap();
            let last = told.paragraphs.last().unwrap().last().unwrap();
            let feeds_core::lesson::short::Piece::Words(words) = last else {
                panic!("a text ends with words")
            };
            let end = words.split_whitespace().last().unwrap();
            assert!(shown.join("\n").contains(end), "{at}: no «{end}»");
            assert_eq!(shown[21], "", "{at}");
            press(&mut state, "w");
            shows(&state, &["1. ", "source: "]);
            press(&mut state, "<Right>");
        }
        assert_eq!(state.lesson.at, 0, "after the last comes the first");
        press(&mut state, "<Left>P");
        assert_eq!(state.view, View::Practice);
    }
}
