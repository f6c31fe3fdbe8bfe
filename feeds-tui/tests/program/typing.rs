//! Typing on the screens: what stands there makes way, nothing is read as another size.

use crate::walk::{PLAIN, demo, frame, open, press, shows};
use feeds_tui::demo::NamedPass;
use feeds_tui::pass::description::Description;
use feeds_tui::pass::field::FIELDS;
use feeds_tui::tui::keys::{self, KeyScope};
use feeds_tui::tui::state::ScreenState;

fn typed<'s>(state: &'s ScreenState, key: &str) -> &'s str {
    state.pass().typed.get(key).unwrap_or_default()
}

/// Enter on an entry went on behind what stood there: «14 mm» and «.5 in» came to «14 mm.5 in».
#[test]
fn what_is_typed_after_enter_takes_the_place_of_the_entry() {
    for (keys, kept) in [
        ("<Enter>.5 in<Enter>", ".5 in"),
        (".5 in<Enter>", ".5 in"),
        (",5 in<Enter>", ",5 in"),
        // Keys of the cursor change it.
        ("<Enter><Left><Backspace><Backspace>c<Enter>", "14cm"),
        ("<Enter><Home>1<Enter>", "114 mm"),
        ("<Enter><End>.<Enter>", "14 mm."),
        ("<Enter><Enter>", "14 mm"),
        ("<Enter>9<Esc>", "14 mm"),
    ] {
        let mut s = demo();
        s.rows[0] = s
            .fields()
            .iter()
            .position(|f| f.key == "stick-out")
            .unwrap();
        assert_eq!(typed(&s, "stick-out"), "14 mm");
        press(&mut s, keys);
        assert_eq!(typed(&s, "stick-out"), kept, "{keys}");
    }
}

/// «.02» after «.02 in» was answered with «write 0202 without a mark», a hundred times as much.
#[test]
fn no_advice_is_another_size_than_what_was_typed() {
    for (text, says) in [
        (".02 in", None),
        (".02in", None),
        (".02\"", None),
        (",02 in", None),
        (".02", Some("«.02» has no unit")),
        ("..2 mm", Some("«..2» has too many marks")),
        (".02.02in", Some("«.02.02» has too many marks")),
        ("0.0.2 mm", Some("«0.0.2» has too many marks")),
        ("1.234,5 mm", Some("«1.234,5» has too many marks")),
        ("1,234 mm", Some("write 1234 or 1.234, whichever you mean")),
    ] {
        let depth = FIELDS.iter().find(|f| f.key == "depth").unwrap();
        let read = depth.read(text);
        match says {
            None => assert!(read.is_ok(), "{text}: {read:?}"),
            Some(says) => {
                let wrong = read.unwrap_err().to_string();
                assert!(wrong.contains(says), "{text}: {wrong}");
            }
        }
    }
    let read = FIELDS
        .iter()
        .find(|f| f.key == "depth")
        .unwrap()
        .read(".02in");
    // 0.02 x 25.4 mm
    assert!((read.unwrap().unwrap() - 0.508e-3).abs() < 1e-12);
}

/// Two entries that were missing stood there as «2 wrong».
#[test]
fn missing_and_wrong_are_counted_apart() {
    let pass = NamedPass {
        name: "slot".into(),
        typed: Description::default().with(&[("stock", "1018"), ("condition", "hot rolled")]),
    };
    let mut s = open(vec![pass], PLAIN);
    shows(&s, &["[cutter] 2 missing >"]);
    assert!(!frame(&s, 80, 24)[1].contains("wrong"));
    press(&mut s, "<Down>6 mmm<Enter>");
    shows(&s, &["[cutter] 1 missing 1 wrong >"]);
    press(&mut s, "<Down>4<Enter>");
    shows(&s, &["[cutter] 1 wrong >"]);
}

/// The help of two keys was cut off at the edge of a screen of 80 columns.
#[test]
fn the_help_of_every_key_fits_a_screen() {
    for scope in KeyScope::ALL {
        for key in keys::of(scope) {
            let names: Vec<String> = key.presses.iter().map(|p| p.name()).collect();
            let line = format!("{:<22} {}", names.join(", "), key.words);
            // A box of 80 columns has two for its border and two for the mark.
            assert!(line.chars().count() <= 76, "{line}");
        }
    }
}

/// Many keys at once fill no entry without end.
#[test]
fn an_entry_takes_two_hundred_characters_and_no_more() {
    let mut s = demo();
    press(&mut s, "<Down>");
    for _ in 0..3000 {
        press(&mut s, "9");
    }
    press(&mut s, "<Enter>");
    assert_eq!(typed(&s, "diameter"), "9".repeat(200));
}

/// A word of a practice was refused with a capital letter.
#[test]
fn a_word_of_practice_is_taken_with_a_capital() {
    use feeds_core::lesson::{AskedFor, Mark, Question};
    let question = Question {
        wanted: AskedFor::Word {
            choices: ["more", "less", "same"].map(str::to_owned).to_vec(),
            right: 2,
        },
        text: String::new(),
    };
    assert_eq!(question.mark("Same"), Ok(Mark::Right));
}
