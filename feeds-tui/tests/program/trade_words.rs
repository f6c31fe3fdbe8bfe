//! Every spelling of the trade, typed into the program, against the word it stands for.
//!
//! A pass with the trade's spelling has to come to the answer of the pass with our own word, to the
//! last byte, and what is written to a file is our own word.

use crate::scratch::scratch;
use feeds_tui::pass::alias::{Alias, of_key};
use feeds_tui::pass::field::{FIELDS, Takes};
use serde_json::Value;
use std::ffi::OsString;
use std::fs;
use std::path::PathBuf;
use std::sync::LazyLock;

/// A pass that answers; an entry of a row below takes the place of the one here.
const PASS: &[(&str, &str)] = &[
    ("diameter", "6mm"),
    ("edges", "4"),
    ("path", "side"),
    ("depth", "2mm"),
    ("width", "0.5mm"),
    ("stick-out", "18mm"),
    ("stock", "1095"),
    ("condition", "annealed"),
    ("direction", "up"),
    ("machine", "bench-5000"),
];

/// Entry, what else the pass needs, what is typed, what it stands for.
type Row = (
    &'static str,
    &'static [(&'static str, &'static str)],
    &'static str,
    &'static str,
);

/// Words: entry, what else the pass needs, what is typed, what it stands for.
#[rustfmt::skip]
const WORDS: &[Row] = &[
    ("direction", &[], "climb", "down"),
    ("direction", &[], "Climb", "down"),
    ("direction", &[], "climb milling", "down"),
    ("direction", &[], "down milling", "down"),
    ("direction", &[], "down-milling", "down"),
    ("direction", &[], "conventional", "up"),
    ("direction", &[], "conventional milling", "up"),
    ("direction", &[], "up milling", "up"),
    ("coating", &[], "TiAlN", "altin"),
    ("coating", &[], "AlTiN", "altin"),
    ("coating", &[], "TiN", "tin"),
    ("coating", &[], "uncoated", "none"),
    ("coating", &[], "bright", "none"),
    ("end", &[], "flat", "square"),
    ("end", &[("corner-radius", "0.5mm")], "bull nose", "corner"),
    ("end", &[("corner-radius", "0.5mm")], "corner radius", "corner"),
    ("end", &[], "ball nose", "ball"),
    ("path", &[], "contour", "side"),
    ("path", &[], "profile", "side"),
    ("path", &[], "wall", "side"),
    ("path", &[], "outside", "side"),
    ("path", &[("end", "ball")], "ball finish", "ball-finish"),
    ("intent", &[], "first cut", "cautious"),
    ("intent", &[], "proven run", "production"),
    ("condition", &[], "soft", "annealed"),
    ("condition", &[], "spheroidized", "annealed"),
    ("condition", &[], "spheroidised", "annealed"),
    ("condition", &[], "normalized", "normalised"),
    ("condition", &[], "Normalised", "normalised"),
    ("condition", &[], "ht", "hardened"),
    ("condition", &[("stock", "1018")], "HR", "hot rolled"),
    ("condition", &[("stock", "1018")], "hot-rolled", "hot rolled"),
    ("condition", &[("stock", "1018")], "cd", "cold drawn"),
];

/// Names in which only a spelling differs.
const NAMES: &[Row] = &[
    ("stock", &[("condition", "T6")], "aluminum 6061", "6061"),
    ("stock", &[("condition", "T6")], "aluminium 6061", "6061"),
    ("stock", &[("condition", "cast")], "aluminum bronze", "ALB"),
    (
        "cutter",
        &[],
        "6 mm square, 4 flutes, TiAlN carbide",
        "6 mm square, 4 edges, AlTiN carbide",
    ),
];

/// Values: entry, what is typed, what it stands for.
const VALUES: &[(&str, &str, &str)] = &[
    ("spindle", "4400 rpm", "4400 rpm"),
    ("spindle", "4400 RPM", "4400 rpm"),
    ("spindle", "4400 rev/min", "4400 rpm"),
    ("spindle", "4400 r/min", "4400 rpm"),
    ("spindle", "4400 min-1", "4400 rpm"),
    ("feed-per-tooth", "0.001 ipt", "0.001 in"),
    ("feed-per-tooth", "0.001ipt", "0.001 in"),
    ("feed-per-tooth", "0.001 in/tooth", "0.001 in"),
    ("feed-per-tooth", "0.02 mm/tooth", "0.02 mm"),
    ("feed-per-tooth", "0.02mm per tooth", "0.02 mm"),
];

/// What is typed under another name of an entry; a plain number has the unit that the name tells.
const KEYS: &[(&str, &str, &str)] = &[
    ("flutes", "3", "3"),
    ("teeth", "3", "3"),
    ("z", "3", "3"),
    ("overhang", "21mm", "21mm"),
    ("reach-out", "21mm", "21mm"),
    ("depth-of-cut", "1mm", "1mm"),
    ("width-of-cut", "0.4mm", "0.4mm"),
    ("doc", "1mm", "1mm"),
    ("a-p", "1mm", "1mm"),
    ("woc", "0.4mm", "0.4mm"),
    ("stepover", "0.4mm", "0.4mm"),
    ("step", "0.4mm", "0.4mm"),
    ("a-e", "0.4mm", "0.4mm"),
    ("fz", "0.02mm", "0.02mm"),
    ("f-z", "0.02mm", "0.02mm"),
    ("chip-load", "0.02mm", "0.02mm"),
    ("ipt", "0.001", "0.001 in"),
    ("ipt", "0.02 mm/tooth", "0.02 mm/tooth"),
    ("rpm", "4400", "4400 rpm"),
    ("rpm", "4400 rpm", "4400 rpm"),
];

fn run(args: &[String]) -> (u8, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = std::iter::once("feeds").chain(args.iter().map(String::as_str));
    let code = feeds_tui::run(args.map(OsString::from), &mut out, &mut err);
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (code, text(out), text(err))
}

fn file(name: &str) -> PathBuf {
    let folder = scratch().join("trade-words");
    fs::create_dir_all(&folder).unwrap();
    let file = folder.join(name);
    let _ = fs::remove_file(&file);
    file
}

/// A shop with nothing in it, so that no name is found in somebody's own.
static EMPTY: LazyLock<PathBuf> = LazyLock::new(|| {
    let shop = file("empty.json");
    fs::write(&shop, "{ \"feeds\": \"shop\", \"schema\": 1 }").unwrap();
    shop
});

/// `feeds cut` for the pass, with some entries under their names and without those of `instead`.
fn cut(instead: &str, more: &[(&str, &str)], name: &str, text: &str) -> (u8, String, String) {
    let own = |key: &str| key != instead && !more.iter().any(|(k, _)| *k == key);
    let entries = PASS.iter().filter(|(key, _)| own(key)).chain(more);
    let mut args = vec!["cut".to_owned(), "--json".to_owned()];
    for (key, value) in entries.chain(&[(name, text)]) {
        args.extend([format!("--{key}"), (*value).to_owned()]);
    }
    args.extend(["--shop".to_owned(), EMPTY.display().to_string()]);
    let (code, out, err) = run(&args);
    // An error is an answer to a script: on standard output.
    match code {
        2 => (code, String::new(), out + &err),
        _ => (code, out, err),
    }
}

#[track_caller]
fn answers(instead: &str, more: &[(&str, &str)], name: &str, text: &str) -> String {
    let (code, out, err) = cut(instead, more, name, text);
    assert!(code < 2, "--{name} '{text}' said: {err}");
    out
}

#[test]
fn every_word_of_the_trade_is_the_word_it_stands_for() {
    for (key, more, typed, word) in WORDS {
        let one = answers(key, more, key, typed);
        assert_eq!(one, answers(key, more, key, word), "{key} {typed}");
    }
    // No word of the register is left out above.
    for field in FIELDS {
        if let Takes::Choice(words) = field.takes {
            for pair in (words.also)() {
                let here =
                    |row: &&(&str, _, &str, &str)| (row.0, (row.2, row.3)) == (field.key, pair);
                let low = |row: &&(&str, _, &str, &str)| {
                    row.0 == field.key && row.2.to_lowercase() == pair.0 && row.3 == pair.1
                };
                let found = WORDS.iter().find(here).or(WORDS.iter().find(low));
                assert!(found.is_some(), "{} {pair:?}", field.key);
            }
        }
    }
}

/// What is computed, without the texts as they were typed and the names things were called by.
fn numbers(answer: &str) -> Vec<(String, String)> {
    fn walk(at: &str, value: &Value, into: &mut Vec<(String, String)>) {
        match value {
            Value::Object(map) => map
                .iter()
                .for_each(|(key, value)| walk(&format!("{at}/{key}"), value, into)),
            Value::Array(list) => list.iter().for_each(|value| walk(at, value, into)),
            Value::Number(number) => into.push((at.to_owned(), number.to_string())),
            Value::Bool(yes) => into.push((at.to_owned(), yes.to_string())),
            _ => {}
        }
    }
    let mut found = Vec::new();
    walk("", &serde_json::from_str(answer).unwrap(), &mut found);
    assert!(found.len() > 20, "{answer}");
    found
}

#[test]
fn names_are_found_in_every_spelling() {
    for (key, more, typed, name) in NAMES {
        let one = numbers(&answers(key, more, key, typed));
        assert_eq!(one, numbers(&answers(key, more, key, name)), "{typed}");
    }
    // Two alloys and a bronze are called so.
    let (code, _, err) = cut("stock", &[], "stock", "aluminum");
    assert_eq!(code, 2);
    assert!(err.contains("6061") && err.contains("2011"), "{err}");
}

#[test]
fn every_unit_of_the_trade_is_the_unit_it_stands_for() {
    for (key, typed, value) in VALUES {
        let one = numbers(&answers(key, &[], key, typed));
        assert_eq!(one, numbers(&answers(key, &[], key, value)), "{typed}");
    }
    // A depth is not one of each tooth.
    let (code, _, err) = cut("depth", &[], "depth", "0.01 ipt");
    assert_eq!(code, 2);
    assert!(err.contains("«ipt» is not a unit of a length"), "{err}");
}

/// `--flutes` was answered with `--flute-length`.
#[test]
fn every_other_name_of_an_entry_is_a_flag() {
    let aliases: Vec<Alias> = FIELDS.iter().flat_map(|f| of_key(f.id)).collect();
    for (name, typed, value) in KEYS {
        let key = aliases
            .iter()
            .find(|a| a.typed == *name)
            .unwrap()
            .key
            .text();
        let one = answers(key, &[], name, typed);
        assert_eq!(one, answers(key, &[], key, value), "--{name}");
    }
    for alias in aliases {
        assert!(
            KEYS.iter().any(|(name, ..)| *name == alias.typed),
            "{alias:?}"
        );
    }
}

/// The same names are typed in a shop, in a job, in a list, in a file and for an entry to vary.
#[test]
fn other_names_are_kept_as_the_register_has_them() {
    let path = file("job.json");
    let job = path.display().to_string();
    let shop = file("shop.json").display().to_string();
    let said = |line: &[&str]| {
        let args: Vec<String> = line.iter().map(|arg| (*arg).to_owned()).collect();
        let (code, out, err) = run(&[args, vec!["--shop".to_owned(), shop.clone()]].concat());
        assert!(code < 2, "{line:?} said: {err}");
        out
    };
    let stub = "diameter=6mm flutes=4 coating=TiAlN overhang=18mm end=flat";
    let stub: Vec<&str> = stub.split(' ').collect();
    said(&[&["shop", "add", "cutter", "stub"], &stub[..]].concat());
    said(&["shop", "change", "stub", "z=3"]);
    let shown: Value = serde_json::from_str(&said(&["shop", "show", "stub", "--json"])).unwrap();
    let expect = [
        ("edges", "3"),
        ("coating", "altin"),
        ("stick-out", "18mm"),
        ("end", "square"),
    ];
    for (key, text) in expect {
        assert_eq!(shown["entries"][key], text, "{shown}");
    }
    assert!(!fs::read_to_string(&shop).unwrap().contains("flutes"));

    said(&[
        "job",
        "new",
        &job,
        "stock=1095",
        "condition=soft",
        "cutter=stub",
        "rpm=4400",
    ]);
    let pass = "path=contour direction=climb doc=1mm stepover=0.4mm ipt=0.001 length=20mm";
    let pass: Vec<&str> = pass.split(' ').collect();
    said(&[&["job", "add", &job, "wall"], &pass[..]].concat());
    let text = fs::read_to_string(&path).unwrap();
    let written: Value = serde_json::from_str(&text).unwrap();
    let common = [("condition", "annealed"), ("spindle", "4400 rpm")];
    for (key, text) in common {
        assert_eq!(written["common"][key], text, "{written}");
    }
    let own = [
        ("path", "side"),
        ("direction", "down"),
        ("depth", "1mm"),
        ("width", "0.4mm"),
        ("feed-per-tooth", "0.001 in"),
    ];
    for (key, text) in own {
        assert_eq!(written["passes"][0][key], text, "{written}");
    }

    // A file that somebody wrote by hand.
    let by_hand = text
        .replace("\"direction\": \"down\"", "\"direction\": \"climb\"")
        .replace("\"depth\"", "\"doc\"");
    assert_ne!(by_hand, text);
    let before = said(&["job", "show", &job, "--json"]);
    fs::write(&path, by_hand).unwrap();
    assert_eq!(said(&["job", "show", &job, "--json"]), before);

    let list = file("list.csv");
    fs::write(&list, "NAME,DC,flutes,coating\nlisted,4,3,TiAlN\n").unwrap();
    said(&["shop", "import", &list.display().to_string()]);
    let shown: Value = serde_json::from_str(&said(&["shop", "show", "listed", "--json"])).unwrap();
    assert_eq!(
        (&shown["entries"]["edges"], &shown["entries"]["coating"]),
        (&"3".into(), &"altin".into())
    );

    for (typed, key) in [
        ("woc=0.1mm..1mm", "width=0.1mm..1mm"),
        ("rpm=3000..5000", "spindle=3000rpm..5000rpm"),
    ] {
        let vary = |range: &str| answers("", &[], "sweep", range);
        assert_eq!(vary(typed), vary(key), "{typed}");
    }
}

/// Nobody is told one thing where two were said, or where a word means nothing here.
#[test]
fn what_is_not_clear_is_refused() {
    let refused = |instead: &str, more: &[(&str, &str)], name: &str, text: &str, says: &str| {
        let (code, _, err) = cut(instead, more, name, text);
        assert_eq!(code, 2, "--{name} {text}");
        assert!(err.contains(says), "--{name} {text} said: {err}");
    };
    refused("", &[], "flutes", "3", "cannot be used with");
    refused(
        "edges",
        &[("teeth", "4")],
        "flutes",
        "3",
        "cannot be used with",
    );
    refused(
        "direction",
        &[],
        "direction",
        "clmb",
        "down (climb), up (conventional)",
    );
    refused(
        "coating",
        &[],
        "coating",
        "gold",
        "none (uncoated), altin (tialn), tin",
    );
    refused("spindle", &[], "spindle", "4400", "has no unit");
    // Hardened through, or only at the surface?
    let stock = [("stock", "1045")];
    refused("condition", &stock, "condition", "ht", "surface hardened");
    refused(
        "condition",
        &[],
        "condition",
        "hr",
        "choose one of: annealed",
    );
}
