//! One register of entries: every name of one is read at every door, and code names none that is
//! not there.

use feeds_core::formula::recipe::{Recipe, recipes, run as work_out};
use feeds_core::notebook::Recorded;
use feeds_tui::pass::alias::others;
use feeds_tui::pass::description::Description;
use feeds_tui::pass::field::{FIELDS, Key, OF_JOB, Shelf, field};
use feeds_tui::pass::law::{KIENZLE, LINEAR};
use feeds_tui::pass::part;
use feeds_tui::store::file::Document;
use feeds_tui::store::job::{Job, Pass};
use feeds_tui::store::shop::Item;
use reference_tables::tables;
use serde_json::json;
use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};

fn run(args: &[&str]) -> (u8, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = ["feeds"].iter().chain(args).map(OsString::from);
    let code = feeds_tui::run(args, &mut out, &mut err);
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (code, text(out), text(err))
}

#[test]
fn keys_and_entries_belong_together() {
    for (at, key) in Key::ALL.iter().enumerate() {
        assert_eq!((*key as usize, key.field().id), (at, *key));
    }
    assert_eq!(Key::ALL.len(), FIELDS.len() + OF_JOB.len());
    for own in FIELDS.iter().chain(OF_JOB) {
        let row = own.entry.map(|e| e.pass().unwrap().key);
        assert_eq!(row.unwrap_or(own.key), own.key);
    }
    for own in FIELDS {
        assert_eq!(Key::of(own.key), Some(own.id), "{}", own.key);
        assert_eq!(field(own.key).unwrap().id, own.id, "{}", own.key);
    }
    for shelf in Shelf::ALL {
        assert_eq!(shelf.key().text(), shelf.word());
    }
}

/// `--tir` of the formulas was not a flag of `feeds cut`, which calls it `--runout`.
#[test]
fn every_other_name_of_an_entry_is_read_at_every_door() {
    let mut read = 0;
    for own in FIELDS {
        for alias in others(own.id) {
            let (name, text) = (alias.typed, own.example);
            let cut = |name: &str| run(&["cut", &format!("--{name}={text}"), "--json"]);
            let (code, ..) = cut(name);
            assert_eq!(cut(name), cut(own.key), "--{name}");
            let said = run(&["cut", &format!("--{name}s={text}"), "--json"]);
            assert!(
                code != said.0 || said != cut(name),
                "--{name} is not a flag"
            );

            let mut typed = Description::default();
            typed.set(name, text).unwrap();
            assert_eq!(typed.get(own.id), Some(text), "{name}");

            let mut pass = Pass::new("one", Description::default());
            pass.set(name, text).unwrap();
            assert_eq!(pass.texts.get(own.id), Some(text), "{name}");

            let row = json!({ "name": "a", name: text });
            let json = json!({ "feeds": "job", "schema": 1, "passes": [row] }).to_string();
            let (job, notices) = Job::read(&json).unwrap();
            assert!(notices.is_empty(), "{name}: {notices:?}");
            assert_eq!(job.passes[0].texts.get(own.id), Some(text));

            if let Some(shelf) = Shelf::of_field(own) {
                let mut item = Item::new(shelf, "thing", Description::default());
                item.set(name, text).unwrap();
                assert_eq!(item.texts.get(own.id), Some(text), "{name}");
            }
            read += 1;
        }
    }
    assert!(read > 40, "{read}");
}

/// What a formula says with one of its keys spelt otherwise.
fn outcome(recipe: &Recipe, key: &str, name: &str) -> String {
    let fields = recipe.fields.iter().filter(|f| f.required || f.key == key);
    let entries: Vec<(&str, &str)> = fields
        .map(|f| (if f.key == key { name } else { f.key }, f.example))
        .collect();
    let said = work_out(recipe.name, &entries, &mut Recorded::default());
    said.map_or_else(
        |e| e.to_string(),
        |results| format!("{:?}", results.entries),
    )
}

#[test]
fn a_formula_reads_the_keys_of_a_pass() {
    let mut read = 0;
    for recipe in recipes() {
        for own in recipe.fields {
            let Some(entry) = own.entry else { continue };
            let pass = entry.pass().map(|row| row.key).into_iter();
            let trade = entry.of_trade().filter(|(_, unit)| unit.is_none());
            for name in pass.chain(trade.map(|(text, _)| text)) {
                // The formula's own entries go before the names of a pass.
                if recipe.fields.iter().any(|f| f.key == name) {
                    continue;
                }
                let said = outcome(recipe, own.key, name);
                assert_eq!(
                    said,
                    outcome(recipe, own.key, own.key),
                    "{} {name}",
                    recipe.name
                );
                read += 1;
            }
        }
    }
    assert!(read > 100, "{read}");
}

#[test]
fn the_unit_that_a_name_tells_counts_in_a_formula() {
    let by = |entry| run(&["formula", "cutting-speed", "diameter=6mm", entry]).1;
    assert_eq!(by("rpm=4400"), by("n=4400rpm"));
    // pi x 6 mm x 4400 rpm
    assert!(by("rpm=4400").contains("82.9"), "{}", by("rpm=4400"));
}

/// All files of a folder and below it.
fn files(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).unwrap().map(|e| e.unwrap().path());
    let of = |path: PathBuf| {
        if path.is_dir() {
            files(&path)
        } else {
            vec![path]
        }
    };
    entries.flat_map(of).collect()
}

/// Whether a text ends with one of these words, as a whole word.
fn ends_with_word(text: &str, words: &[&str]) -> bool {
    let part_of_word = |c: char| c.is_alphanumeric() || c == '_';
    let rests = words
        .iter()
        .filter_map(|word| text.trim_end().strip_suffix(word));
    rests.into_iter().any(|rest| !rest.ends_with(part_of_word))
}

/// The literals that code hands to functions which name an entry by its text: what reads a pass,
/// and what was typed.
fn literals(code: &str) -> Vec<&str> {
    const READS: [&str; 9] = [
        "quantity",
        "quantity_or",
        "need",
        "has",
        "text",
        "word",
        "yes",
        "read",
        "field",
    ];
    const READERS: [&str; 4] = ["self", "Self:", "reader", "r"];
    const TEXTS: [&str; 9] = [
        "pass",
        "part",
        "typed",
        "texts",
        "description",
        "production",
        "filled",
        "own",
        "p",
    ];
    let reads_a_pass = code.contains("Reader<'");
    let mut found = Vec::new();
    for (at, _) in code.match_indices('(') {
        let before = code[..at].trim_end();
        let before = match before.strip_suffix('>') {
            Some(generic) => generic.rsplit_once("::<").map_or("", |(name, _)| name),
            None => before,
        };
        let (before, name) = before.rsplit_once(['.', ':']).unwrap_or_default();
        let reads = reads_a_pass && READS.contains(&name) && ends_with_word(before, &READERS);
        let gets = name == "get" && ends_with_word(before, &TEXTS);
        let after = code[at + 1..].trim_start().strip_prefix('"');
        if let (true, Some(after)) = (reads || gets, after) {
            found.push(after.split('"').next().unwrap());
        }
    }
    found
}

/// The literals that code tells the key of an entry from.
fn arms(code: &str) -> Vec<&str> {
    let bodies = code.match_indices("match field.key {").map(|(at, _)| {
        let body = &code[at..];
        &body[..body.find("\n    }").unwrap()]
    });
    let arms = bodies.flat_map(|body| body.lines().filter_map(|l| l.split_once("=>")));
    arms.flat_map(|(arm, _)| arm.split('"').skip(1).step_by(2))
        .collect()
}

/// A text that is no key was read as the first entry of all.
#[test]
fn every_literal_in_the_code_is_a_key() {
    let code = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut found = 0;
    for file in files(&code) {
        let code = fs::read_to_string(&file).unwrap();
        for literal in literals(&code).into_iter().chain(arms(&code)) {
            assert!(
                Key::of(literal).is_some(),
                "{}: «{literal}»",
                file.display()
            );
            found += 1;
        }
        let compares = code.contains(".key == \"") || code.contains(".key != \"");
        assert!(
            !compares,
            "{}: compare with a Key, not with a text",
            file.display()
        );
    }
    assert!(found > 0, "texts at the edges are found");
    for key in KIENZLE.iter().chain(&LINEAR) {
        assert!(Key::of(key).is_some(), "{key}");
    }
}

#[test]
fn a_literal_that_is_no_key_is_found() {
    let code = "impl Reader<'_> { self.need::<Length>(\"diametre\"); self.pass.get(\"edge\"); \
                other.text(\"no entry\"); }";
    assert_eq!(literals(code), ["diametre", "edge"]);
    let code = "match field.key {\n        \"widht\" | \"depth\" => \"a\",\n    }";
    assert_eq!(arms(code), ["widht", "depth"]);
}

#[test]
fn what_the_tables_give_are_entries() {
    let tables = tables().unwrap();
    let cutters = tables
        .cutters
        .iter()
        .map(|c| part::cutter(tables, &c.value.name));
    let machines = tables
        .machines
        .iter()
        .map(|m| part::machine(tables, &m.value.key));
    for part in cutters.chain(machines) {
        let part = part.unwrap();
        for (key, text, _) in &part.texts {
            let own = Key::of(key).unwrap_or_else(|| panic!("{}: {key}", part.name));
            own.field().read(text).unwrap();
        }
    }
}
