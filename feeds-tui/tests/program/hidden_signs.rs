//! What acts on a terminal instead of being seen never leaves the program.

use crate::shell::{folder, text};
use feeds_tui::Place;
use feeds_tui::store::file::Document;
use feeds_tui::store::job::Job;
use feeds_tui::tui::theme::Theme;
use feeds_tui::visible::acts;
use serde_json::{Value, json};
use std::ffi::OsString;
use std::fs;

/// A name with an escape, CSI as one sign, a bell, a carriage return, a rubbed-out sign and marks
/// of direction: what ISO 6429 and UAX 9 name.
const NAME: &str = "ab\u{1b}[31mc\u{9b}2J\u{7}d\re\u{7f}f\u{202e}g\u{2066}h\u{200f}i\u{61c}j";

/// A programme with such signs in a comment and in what cannot be read.
const POSTED: &str = "G21 G90 G17 G40 G49 G80 G94 G54\n(\u{1b}]0;x\u{7} T1 D5 \u{202e})\nT1 M6\n\
                      S8000 M3\nG43 H1 G0 X0 Y0 Z2\nG1 Z-1 F100\n\u{1b}[2J\u{9b}31m X\n\
                      G1 X9 F300\nM30\n";

/// Exit code, answer, errors.
fn run(place: &Place, args: &[&str]) -> (u8, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = std::iter::once("feeds").chain(args.iter().copied());
    let code = feeds_tui::run_in(place, args.map(OsString::from), &mut out, &mut err);
    (code, text(&out), text(&err))
}

/// A job and a shop in which every text of a person's is [`NAME`].
fn files(name: &str) -> [String; 3] {
    let folder = folder(name);
    let mut job = Job::demo();
    for text in [&mut job.name, &mut job.note] {
        NAME.clone_into(text);
    }
    for pass in &mut job.passes {
        pass.name = format!("{} {NAME}", pass.name);
        NAME.clone_into(&mut pass.note);
        NAME.clone_into(&mut pass.happened);
    }
    let shop = json!({ "feeds": "shop", "schema": 1,
        "cutters": [{ "name": format!("stub {NAME}"), "diameter": "4 mm", "edges": 4,
                      "note": NAME, NAME: 1 }],
        "machines": [{ "name": format!("mill {NAME}"), "spindle-most": NAME }] });
    let paths = ["job.json", "shop.json", "posted.nc"].map(|file| folder.join(file));
    fs::write(&paths[0], job.written()).unwrap();
    fs::write(&paths[1], shop.to_string()).unwrap();
    fs::write(&paths[2], POSTED).unwrap();
    paths.map(|path| path.to_str().unwrap().to_owned())
}

#[track_caller]
fn is_seen(what: &str, text: &str) {
    let hidden = text.chars().find(|c| acts(*c));
    assert_eq!(hidden, None, "{what} wrote {text:?}");
}

#[test]
fn no_name_note_or_typed_text_acts_on_the_terminal() {
    let [job, shop, posted] = files("hidden-texts");
    let cut = [
        "cut",
        "--cutter",
        "stub",
        "--stock",
        "1095",
        "--condition",
        "annealed",
        "--depth",
        "1mm",
        "--width",
        "1mm",
        "--spindle-most",
        "5000rpm",
    ];
    let sweep = [&cut[..], &["--sweep", "width=1mm..2mm"]].concat();
    let lines: Vec<Vec<&str>> = vec![
        vec!["job", "show", &job],
        vec!["sheet", &job],
        vec!["sheet", &job, "--working"],
        vec!["sheet", &job, "--html"],
        vec!["sheet", &job, "--html", "--working"],
        vec![
            "sheet",
            &job,
            "--stand-in",
            "1018",
            "--stand-in-condition",
            "hot rolled",
        ],
        vec!["rehearse", "--job", &job, "--stand-in", "1018"],
        vec!["shop", "list"],
        vec!["shop", "show", "stub"],
        vec!["shop", "show", "mill"],
        vec!["shop", "show", NAME],
        vec!["shop", "add", NAME, "x"],
        vec!["shop", "change", "stub", NAME],
        vec!["job", "change", &job, NAME, "depth=1mm"],
        vec!["job", "show", NAME],
        vec!["audit", &posted, "--job", &job],
        vec!["audit", &posted, "--tool", NAME],
        vec!["audit", NAME],
        vec!["cut", "--stock", NAME],
        vec!["cut", "--width", NAME],
        vec!["fastest", "--cutter", NAME],
        vec!["formula", NAME],
        vec!["formula", "cutting-speed", NAME],
        vec!["tables", NAME],
        vec!["practice", "--seed", NAME],
        vec!["man", NAME],
        vec![NAME],
        vec!["--units", NAME],
        cut.to_vec(),
        sweep,
    ];
    let colours = Place {
        out: true,
        err: true,
        ..Place::default()
    };
    for line in &lines {
        for place in [&Place::default(), &colours] {
            for more in [&[][..], &["--ascii"], &["--color", "always"]] {
                let args = [line, &["--shop", &shop][..], more].concat();
                let (_, out, err) = run(place, &args);
                is_seen(&format!("{args:?}"), &out);
                is_seen(&format!("{args:?}"), &err);
                assert!(!out.is_empty() || !err.is_empty(), "{args:?}");
            }
        }
    }
    // What is left of a name is still read, and a page is no other page by it.
    let (_, out, _) = run(&Place::default(), &["job", "show", &job]);
    assert!(out.contains("ab\u{fffd}[31mc\u{fffd}2J"), "{out}");
    let (_, out, _) = run(&Place::default(), &["sheet", &job, "--html", "--ascii"]);
    assert!(out.contains("ab\u{fffd}[31mc\u{fffd}2J"), "{out}");
}

#[test]
fn json_says_every_sign_of_a_name_by_its_escape() {
    let [job, shop, _] = files("hidden-json");
    for (line, place) in [
        (vec!["job", "show", &job], "/job"),
        (vec!["sheet", &job], "/job"),
        (vec!["shop", "list"], "/cutters/0/note"),
        (vec!["shop", "show", "stub"], "/entries/note"),
    ] {
        let args = [&line, &["--json", "--shop", &shop][..]].concat();
        let (_, out, err) = run(&Place::default(), &args);
        is_seen(&format!("{args:?}"), &out);
        is_seen(&format!("{args:?}"), &err);
        let document: Value = serde_json::from_str(&out).unwrap();
        let said = document.pointer(place).and_then(Value::as_str);
        assert_eq!(said, Some(NAME), "{args:?}");
    }
}

#[test]
fn colours_of_the_program_itself_stay() {
    let (_, out, _) = run(&Place::default(), &["--help", "--color", "always"]);
    assert!(out.contains("\u{1b}["), "{out}");
    let (code, _, err) = run(&Place::default(), &["--nonsense", "--color", "always"]);
    assert!(code == 2 && err.contains("\u{1b}["), "{err}");
}

#[test]
fn screens_show_no_sign_that_acts() {
    let mut passes = feeds_tui::demo::passes();
    passes[0].name = format!("relief {NAME}");
    for ascii in [false, true] {
        let theme = Theme {
            colour: false,
            ascii,
        };
        let mut state = crate::walk::open(passes.clone(), theme);
        for keys in ["", "J", "<Esc>O", "<Esc>S", "<Esc>n\u{202e}"] {
            crate::walk::press(&mut state, keys);
            for (width, height) in [(80, 24), (120, 40)] {
                let frame = crate::walk::frame(&state, width, height).join("\n");
                is_seen(&format!("{keys} {width}"), &frame);
            }
        }
        let state = crate::walk::open(passes.clone(), theme);
        crate::walk::shows(
            &state,
            &[if ascii {
                "relief ab?"
            } else {
                "relief ab\u{fffd}"
            }],
        );
    }
}
