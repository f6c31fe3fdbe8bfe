//! What is in sight: at every size, in every theme, and whole frames.

use crate::bench::Bench;
use crate::walk::{PLAIN, buffer, demo, frame, open, press};
use feeds_core::limit::State as CheckState;
use feeds_core::quantity::Quantity;
use feeds_core::symbol as s;
use feeds_tui::demo::NamedPass;
use feeds_tui::pass::decision;
use feeds_tui::pass::description::Description;
use feeds_tui::tui::state::ScreenState;
use feeds_tui::tui::theme::Theme;
use feeds_tui::tui::words;
use ratatui::style::Color;

/// Every frame has them, whatever else it shows.
#[track_caller]
fn has_the_answer(state: &ScreenState, width: u16, height: u16) {
    let frame = frame(state, width, height);
    let head = frame[..5].join("\n");
    let answer = state.live.answer.as_ref().unwrap();
    let (plan, system) = (&answer.plan, state.system);
    let verdict = decision::head(plan);
    for word in [
        format!("S {}", s::N.show(plan.n.si(), system)),
        format!("F {}", s::V_F.show(plan.v_f.si(), system)),
        format!("f_z {}", s::F_Z.show(plan.f_z.si(), system)),
        verdict.chars().take(usize::from(width) - 14).collect(),
        words::cautions(answer.cautions()),
        state.station.word().to_owned(),
    ] {
        assert!(
            head.contains(&word),
            "{width}x{height}: no «{word}» in\n{head}"
        );
    }
}

const THEMES: [Theme; 3] = [
    PLAIN,
    Theme {
        colour: true,
        ascii: false,
    },
    Theme {
        colour: false,
        ascii: true,
    },
];

#[test]
fn the_answer_is_never_out_of_sight() {
    for theme in THEMES {
        let mut state = open(feeds_tui::demo::passes(), theme);
        for _pass in 0..state.job.passes.len() {
            for keys in [
                "", "<Tab>", "<Tab>", "<Tab>", "<Tab>", "m", "c", "d", "o", "w", "s", "V",
                "<Right>", "o", "?",
            ] {
                press(&mut state, keys);
                for (width, height) in [
                    (80, 24),
                    (81, 25),
                    (99, 30),
                    (100, 24),
                    (120, 40),
                    (200, 60),
                ] {
                    has_the_answer(&state, width, height);
                }
            }
            press(&mut state, "<Esc><Esc>n<Tab>");
        }
    }
}

#[test]
fn no_size_panics() {
    let mut state = demo();
    for keys in [
        "",
        "<Enter>",
        "<Esc><Down>6",
        "<Esc>?",
        "<Esc>d",
        "c",
        "w",
        "o",
        "s",
        "V",
        "o",
        "<Esc>P",
        "1<Enter>",
        "<Esc>L",
        "w",
    ] {
        press(&mut state, keys);
        for width in [1, 2, 3, 7, 20, 40, 79, 80, 81, 99, 100, 101, 150, 200] {
            for height in [1, 2, 3, 5, 8, 12, 23, 24, 25, 30, 41, 60] {
                buffer(&state, width, height);
            }
        }
    }
    let empty = open(Vec::new(), PLAIN);
    for size in [(1, 1), (80, 24), (200, 60)] {
        buffer(&empty, size.0, size.1);
    }
}

#[test]
fn small_windows_keep_the_figures_and_say_why() {
    let state = demo();
    let frame = frame(&state, 60, 12).join("\n");
    for word in [
        "S 5000 rpm",
        "F ",
        "f_z ",
        "CARE",
        "caution",
        words::TOO_SMALL,
    ] {
        assert!(frame.contains(word), "no «{word}» in\n{frame}");
    }
}

#[test]
fn colour_carries_nothing_that_words_do_not() {
    let mut plain = open(feeds_tui::demo::passes(), PLAIN);
    let mut coloured = open(feeds_tui::demo::passes(), THEMES[1]);
    for keys in ["", "c", "d", "<Esc><Down>6x"] {
        press(&mut plain, keys);
        press(&mut coloured, keys);
        assert_eq!(frame(&plain, 120, 40), frame(&coloured, 120, 40));
        let cells = buffer(&plain, 120, 40).content;
        assert!(
            cells
                .iter()
                .all(|c| c.fg == Color::Reset && c.bg == Color::Reset)
        );
        let cells = buffer(&coloured, 120, 40).content;
        assert!(cells.iter().any(|c| c.fg != Color::Reset));
        assert!(
            cells
                .iter()
                .all(|c| !matches!(c.fg, Color::Rgb(..) | Color::Indexed(_))),
            "the terminal's own sixteen only"
        );
    }
}

#[test]
fn every_state_of_a_check_is_a_word() {
    let mut seen = Vec::new();
    let mut state = demo();
    press(&mut state, "c");
    for _pass in 0..state.job.passes.len() {
        let checks = state.live.answer.as_ref().unwrap().plan.checks.clone();
        let text = frame(&state, 200, 400).join("\n");
        for check in checks {
            let line = text
                .lines()
                .find(|l| l.contains(&format!("  {}", check.limit.title)));
            let line = line.unwrap_or_else(|| panic!("no line for {}", check.limit.title));
            assert!(line.contains(check.state().word()), "{check:?}: {line}");
            seen.push(check.state());
        }
        press(&mut state, "n");
    }
    for state in [CheckState::Ok, CheckState::Caution] {
        assert!(seen.contains(&state));
    }
}

#[test]
fn ascii_frames_are_ascii_and_lose_nothing() {
    let mut plain = open(feeds_tui::demo::passes(), PLAIN);
    let mut ascii = open(feeds_tui::demo::passes(), THEMES[2]);
    for keys in [
        "", "<Tab>", "<Tab>", "<Tab>", "<Tab>", "c", "d", "o", "w", "s", "?",
    ] {
        press(&mut plain, keys);
        press(&mut ascii, keys);
        let (plain, ascii) = (
            frame(&plain, 120, 40).join("\n"),
            frame(&ascii, 120, 40).join("\n"),
        );
        assert!(ascii.is_ascii());
        let asked = |text: &str| text.matches('?').count();
        assert!(
            asked(&ascii) <= asked(&plain),
            "a sign without a spelling:\n{ascii}"
        );
    }
}

/// Whole frames, kept beside this file. `BLESS=1 cargo test` writes them anew.
#[track_caller]
fn looks_like(name: &str, state: &ScreenState, (width, height): (u16, u16)) {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/program/screens")
        .join(format!("{name}-{width}x{height}.txt"));
    let got = frame(state, width, height).join("\n") + "\n";
    if std::env::var_os("BLESS").is_some() {
        std::fs::write(&path, &got).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert_eq!(
        got,
        kept,
        "{} differs from\n{kept}\nit is now\n{got}",
        path.display()
    );
}

/// Everything given by value: no row of a table and no choice moves these frames.
const BY_VALUE: &[(&str, &str)] = &[
    ("diameter", "6 mm"),
    ("edges", "4"),
    ("helix", "30 deg"),
    ("coating", "altin"),
    ("flute-length", "13 mm"),
    ("stick-out", "18 mm"),
    ("shank", "6 mm"),
    ("edge-radius", "5 um"),
    ("modulus", "600 GPa"),
    ("rupture", "3600 N/mm2"),
    ("kc11", "1700 N/mm2"),
    ("mc", "0.25"),
    ("spindle-most", "6000 rpm"),
    ("power", "500 W"),
    ("stiffness", "10 N/um"),
    ("runout", "5 um"),
    ("path", "side"),
    ("direction", "down"),
    ("depth", "3 mm"),
    ("width", "1.5 mm"),
    ("spindle", "4400 rpm"),
    ("feed-per-tooth", "0.02 mm"),
];

#[test]
fn whole_frames() {
    let passes = || {
        vec![NamedPass {
            name: "trial".into(),
            typed: Description::default().with(BY_VALUE),
        }]
    };
    let mut state = open(passes(), PLAIN);
    looks_like("walk", &state, (80, 24));
    looks_like("walk", &state, (120, 40));
    press(&mut state, "d");
    looks_like("drawings", &state, (120, 40));
    let mut ascii = open(passes(), THEMES[2]);
    press(&mut ascii, "<BackTab>");
    looks_like("ascii-answer", &ascii, (80, 24));
    // What is seen first, with the cursor on the answer: the README shows it.
    let mut first = Bench::at("first-frame", None);
    first.press("<BackTab>");
    looks_like("example", &first.state, (80, 24));
}
