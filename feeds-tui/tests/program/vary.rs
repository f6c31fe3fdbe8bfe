//! One entry varied on the screens: stepped, ranged, taken or left.

use crate::walk::{PLAIN, demo, frame, open, press, shows};
use feeds_core::quantity::Quantity;
use feeds_core::symbol::System;
use feeds_tui::pass::field::{FIELDS, Takes};
use feeds_tui::tui::state::{ScreenState, View};
use feeds_tui::tui::theme::Theme;

/// The demo's corner pass with the cursor on its width, varied.
fn width_varied(theme: Theme) -> ScreenState {
    let mut state = open(feeds_tui::demo::passes(), theme);
    press(&mut state, "n<Tab><Tab><Tab>");
    let row = state
        .fields()
        .iter()
        .position(|f| f.key == "width")
        .unwrap();
    press(&mut state, &"<Down>".repeat(row));
    assert_eq!(state.field().key, "width");
    press(&mut state, "V");
    state
}

fn width(state: &ScreenState) -> String {
    state
        .pass()
        .typed
        .get("width")
        .unwrap_or_default()
        .to_owned()
}

fn chip(state: &ScreenState) -> f64 {
    state.live.answer.as_ref().unwrap().plan.h_max.si()
}

#[test]
fn escape_leaves_the_pass_as_it_was_and_enter_takes_the_value() {
    let mut state = width_varied(PLAIN);
    let (was, thin) = (width(&state), chip(&state));
    press(&mut state, "<Right><Right>");
    // A wider cut makes a thicker chip, up to half the diameter.
    assert!(chip(&state) > thin);
    assert_eq!(width(&state), was, "nothing is taken yet");
    press(&mut state, "<Esc>");
    assert_eq!((width(&state), state.view), (was.clone(), View::Walk));
    assert!((chip(&state) - thin).abs() < 1e-15);
    press(&mut state, "V<Right><Right><Enter>");
    assert_eq!(state.view, View::Walk);
    assert_ne!(width(&state), was);
    assert!(chip(&state) > thin);
    press(&mut state, "u");
    assert_eq!(width(&state), was);
    press(&mut state, "V<Enter>");
    assert_eq!(
        width(&state),
        was,
        "a value that was not stepped stays as typed"
    );
}

#[test]
fn a_range_is_typed_and_a_wrong_one_refused() {
    let mut state = width_varied(PLAIN);
    press(&mut state, "r<Ctrl-u>0.2..0.5<Enter>");
    shows(&state, &["has no unit"]);
    press(&mut state, "<Ctrl-u>0.2mm..0.5mm<Enter><Home>");
    assert_eq!(state.typed(state.field()), Some("0.2 mm"));
    press(&mut state, "<End>");
    assert_eq!(state.typed(state.field()), Some("0.5 mm"));
    press(&mut state, "<Left>");
    assert_eq!(
        state.typed(state.field()),
        Some("0.49 mm"),
        "steps are round"
    );
    press(&mut state, "r<Ctrl-u>depth=0.1mm..1mm<Enter>");
    shows(&state, &["depth of cut a_p"]);
}

/// A feed of 3 um a tooth makes a mean chip thinner than the 3 um its force was measured from.
#[test]
fn the_forces_of_a_thin_chip_are_marked_beside_the_curves() {
    let mut passes = feeds_tui::demo::passes();
    let typed = std::mem::take(&mut passes[0].typed);
    passes[0].typed = typed.with(&[
        ("engagement-angle", ""),
        ("width", "1 mm"),
        ("feed-per-tooth", "0.003 mm"),
    ]);
    let mut state = open(passes, PLAIN);
    press(&mut state, "V");
    shows(&state, &["tip δ", "extrapolated"]);
}

#[test]
fn the_other_intent_and_the_other_passes_are_laid_over() {
    let mut state = demo();
    press(&mut state, "V");
    let value = |state: &ScreenState| state.vary.as_ref().unwrap().value();
    press(&mut state, "<Right>o");
    let stepped = value(&state);
    shows(&state, &["dots: intent=production", "line: as typed"]);
    press(&mut state, "o");
    let name = state.job.passes[1].name.clone();
    shows(&state, &[&format!("dots: {name}")]);
    for _ in 1..state.job.passes.len() {
        press(&mut state, "o");
    }
    assert_eq!(state.vary.as_ref().unwrap().passes.len(), 1);
    assert!((value(&state) - stepped).abs() < 1e-15, "the step stays");
}

#[test]
fn curves_have_axes_units_and_a_mark_at_every_size() {
    for ascii in [false, true] {
        let state = width_varied(Theme {
            colour: false,
            ascii,
        });
        for (w, h) in [(80, 24), (120, 40)] {
            let frame = frame(&state, w, h);
            let frame = frame[..usize::from(h) - 1].join("\n");
            for word in [
                "h_max [um]",
                "F_xy [N]",
                "[um]",
                "used of what is allowed [%]",
                "[mm]",
                "^",
                "f_z ",
            ] {
                assert!(frame.contains(word), "{w}x{h}: no «{word}» in\n{frame}");
            }
            assert!(
                !ascii || frame.is_ascii() && !frame.contains('?'),
                "{frame}"
            );
        }
    }
}

#[test]
fn a_pass_that_cannot_be_laid_over_leaves_the_curves_and_says_why() {
    let mut state = width_varied(PLAIN);
    press(&mut state, "oo");
    shows(&state, &["h_max [um]", "two names for one thing"]);
}

/// Whatever the cursor is on: a value is found, stepped to both ends, and left.
#[test]
fn every_quantity_of_the_demo_can_be_varied() {
    let mut state = demo();
    press(&mut state, "V");
    let mut met = Vec::new();
    loop {
        let key = state.vary.as_ref().unwrap().range.entry.key;
        if met.contains(&key) {
            break;
        }
        met.push(key);
        press(&mut state, "<Home><End>");
        let text = state.vary.as_ref().unwrap().draft();
        if let Some((key, text)) = text {
            let field = FIELDS.iter().find(|f| f.key == key).unwrap();
            assert!(field.read(text).is_ok(), "{key}: {text}");
        }
        press(&mut state, "<Down>");
    }
    assert!(met.len() > 15, "{met:?}");
    assert!(met.iter().all(|key| {
        let field = FIELDS.iter().find(|f| f.key == *key).unwrap();
        matches!(field.takes, Takes::Quantity(_))
    }));
    state.system = System::Inch;
    press(&mut state, "<Esc>V<Right>");
    shows(&state, &["[in]"]);
}

/// Rows of the frame that belong to plots: those with an axis.
fn plotted(shown: &[String]) -> usize {
    let axis = |row: &&String| row.chars().nth(6).is_some_and(|c| "│|".contains(c));
    shown.iter().filter(axis).count()
}

/// Eight limits took three lines, and the plots had two rows each.
#[test]
fn many_limits_take_one_line_and_the_curves_the_rest() {
    let mut state = demo();
    press(&mut state, "Vo");
    let shown = frame(&state, 80, 24);
    let legend = |shown: &[String]| {
        let named = |row: &&String| row.starts_with("3 ") && row.contains("   4 ");
        shown.iter().filter(named).cloned().collect::<Vec<_>>()
    };
    let [line] = &legend(&shown)[..] else {
        panic!("one line of limits: {shown:#?}")
    };
    assert!(line.contains(" more") && line.contains('+'), "{line}");
    assert!(plotted(&shown) >= 7, "{shown:#?}");
    // The legend follows the marked value: at the smallest diameter the cutter breaks.
    press(&mut state, "<Home>");
    shows(&state, &["1 strength of the cutter   2 "]);
    // Two of the four curves take all the room, then the other two.
    press(&mut state, "c");
    let shown = frame(&state, 80, 24);
    assert_eq!(plotted(&shown), 8, "{shown:#?}");
    shows(
        &state,
        &["largest chip thickness h_max", "peak lateral force F_xy"],
    );
    press(&mut state, "c");
    shows(&state, &["bending of the tip", "used of what is allowed"]);
    press(&mut state, "c");
    shows(
        &state,
        &["largest chip thickness h_max", "used of what is allowed"],
    );
}

/// The chip floor and what is ok had one sign.
#[test]
fn every_plain_sign_of_the_key_is_that_of_its_curve() {
    let ascii = Theme {
        ascii: true,
        ..PLAIN
    };
    // A wall that may be further off leaves production a thicker chip than the first cut.
    let mut passes = feeds_tui::demo::passes();
    let typed = std::mem::take(&mut passes[0].typed);
    passes[0].typed = typed.with(&[("tolerance", "0.06 mm")]);
    let mut state = open(passes, ascii);
    press(&mut state, "Voc");
    let shown = frame(&state, 80, 24);
    let key = shown[20..].join("\n");
    let plots: String = shown
        .iter()
        .filter(|row| row.chars().nth(6) == Some('|'))
        .cloned()
        .collect();
    for (sign, what) in [('o', "as typed"), ('+', "intent="), ('=', "chip floor")] {
        assert!(key.contains(&format!("{sign}: {what}")), "{key}");
        assert!(plots.contains(sign), "{sign}: {plots}");
    }
    for (sign, what) in [('-', "ok"), ('#', "caution"), ('!', "over")] {
        assert!(key.contains(&format!("{sign} {what}")), "{key}");
        let strip = shown
            .iter()
            .find(|row| row.starts_with("       1!"))
            .unwrap();
        assert!(
            strip.contains(sign) && !plots.contains(sign),
            "{sign}: {strip}"
        );
    }
    assert!(key.contains("(shaded)") && plots.contains("::"), "{key}");
}
