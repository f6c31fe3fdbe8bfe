//! The rehearsal of a pass on the screens: what is asked, and what it shows.

use crate::walk::{demo, frame, press};
use feeds_tui::tui::rows;
use feeds_tui::tui::state::{ScreenState, View};

/// Every line of the view, with single blanks.
fn told(state: &ScreenState) -> String {
    let rows = rows::of(state);
    let words: Vec<&str> = rows
        .iter()
        .flat_map(|r| r.text.split_whitespace())
        .collect();
    words.join(" ")
}

#[test]
fn the_rehearsal_answers_to_what_is_asked() {
    let mut state = demo();
    press(&mut state, "R");
    assert_eq!(state.view, View::Rehearsal);
    let text = told(&state);
    for words in [
        "at these overrides",
        "not proven",
        "5. production:",
        "never proven",
        "So the stand-in",
    ] {
        assert!(text.contains(words), "no «{words}» in {text}");
    }
    // Half the feed at full speed runs at half of production's 113 mm/min.
    press(&mut state, "o100 50<Enter>");
    let text = told(&state);
    assert!(
        text.contains("rehearsed in 1018; spindle 100 %, feed 50 %"),
        "{text}"
    );
    assert!(text.contains("it rubs"), "{text}");
    press(&mut state, "v0.01mm<Enter>");
    assert!(
        told(&state).contains("measured: 10.0 um"),
        "{}",
        told(&state)
    );
    press(&mut state, "t440C<Enter>cannealed<Enter>");
    assert!(told(&state).contains("harder to cut"), "{}", told(&state));
    press(&mut state, "<Esc>");
    assert_eq!(state.view, View::Walk);
}

/// «50%, 0%» was refused for its comma, and not for the 0 %.
#[test]
fn overrides_are_taken_with_a_comma_between() {
    let mut state = demo();
    press(&mut state, "Ro100%, 50%<Enter>");
    assert!(
        told(&state).contains("spindle 100 %, feed 50 %"),
        "{}",
        told(&state)
    );
    press(&mut state, "o<Ctrl-u>50%, 0%<Enter>");
    let shown = frame(&state, 120, 40).join("\n");
    assert!(
        shown.contains("breaks the cutter") && !shown.contains("no unit"),
        "{shown}"
    );
}

#[test]
fn what_cannot_be_taken_is_said_and_changes_nothing() {
    let mut state = demo();
    press(&mut state, "R");
    let before = told(&state);
    for (keys, word) in [
        ("tunobtainium<Enter>", "is named by its designation"),
        ("o50<Enter>", "both overrides"),
        ("o0 50<Enter>", "in percent of"),
    ] {
        press(&mut state, keys);
        let frame = frame(&state, 120, 40).join("\n");
        assert!(frame.contains(word), "{keys}:\n{frame}");
        press(&mut state, "<Esc>");
        assert_eq!(told(&state), before, "{keys}");
    }
}

#[test]
fn every_size_keeps_the_figures() {
    let mut state = demo();
    press(&mut state, "R<PageDown><PageDown>");
    for (width, height) in [(80, 24), (120, 40)] {
        let frame = frame(&state, width, height).join("\n");
        for word in ["S 5000", "F 300", "f_z 0.0200", "CARE", "cautions"] {
            assert!(frame.contains(word), "{word}:\n{frame}");
        }
    }
}

/// The head showed the open pass above a rehearsal that only rubs.
#[test]
fn the_head_is_of_the_rehearsal() {
    let mut state = demo();
    let head = |state: &ScreenState| {
        let lines = frame(state, 80, 24);
        lines[..5].join("\n")
    };
    assert!(!head(&state).contains("STOP"), "{}", head(&state));
    press(&mut state, "Ro100 5<Enter>");
    assert!(
        head(&state).contains("STOP  stand-in: it only rubs"),
        "{}",
        head(&state)
    );
    press(&mut state, "<Esc>");
    assert!(!head(&state).contains("STOP"), "{}", head(&state));
}
