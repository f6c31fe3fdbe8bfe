//! Files with one fault each, named for it: line, key and hint, and what still loads.
//!
//! `files/invalid/faults.txt` has them as changes of a sound job and a sound shop: the lines that
//! go with `-`, those that come with `+`, and what is to be said, written by hand. One where
//! nothing goes is a whole file.

use feeds_tui::store::file::Document;
use feeds_tui::store::job::Job;
use feeds_tui::store::notice::Notice;
use feeds_tui::store::shop::Shop;
use std::fs;
use std::path::{Path, PathBuf};

fn folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("files")
        .join(name)
}

fn files(name: &str) -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = fs::read_dir(folder(name))
        .unwrap()
        .map(|e| e.unwrap().path())
        .filter(|p| p.extension().is_some_and(|e| e == "json"))
        .collect();
    files.sort();
    files
}

/// How many rows load, what is said, and the text that would be saved.
type Read = Result<(usize, Vec<Notice>, String), Notice>;

fn read(name: &str, text: &str) -> Read {
    if name.starts_with("shop-") {
        Shop::read(text).map(|(shop, said)| (shop.items.len(), said, shop.written()))
    } else {
        Job::read(text).map(|(job, said)| (job.passes.len(), said, job.written()))
    }
}

/// A file with one fault, and what is to be said of it.
struct Fault {
    name: String,
    text: String,
    line: usize,
    key: String,
    hint: String,
    /// How many rows load; none where the file is refused.
    loads: Option<usize>,
}

impl Fault {
    fn of(block: &str) -> Self {
        let mut lines: Vec<&str> = block.lines().collect();
        let (name, said) = (lines.remove(0), lines.pop().unwrap());
        let (places, hint) = said.split_once(": ").unwrap();
        let mut places = places.split(", ");
        let mut word = |word| places.next().unwrap().strip_prefix(word);
        Self {
            name: name.to_owned(),
            text: changed(name, &lines),
            line: word("line ").unwrap().parse().unwrap(),
            key: word("key ").unwrap().replace("(none)", ""),
            loads: word("loads ").map(|rows| rows.parse().unwrap()),
            hint: hint.to_owned(),
        }
    }

    /// What is wrong with what is said of it; `None` if it is as expected.
    fn wrong(&self) -> Option<String> {
        let Self {
            name,
            line,
            key,
            hint,
            ..
        } = self;
        let said = match (read(name, &self.text), self.loads) {
            (Err(notice), None) => vec![notice],
            (Ok((rows, said, _)), Some(loads)) if rows == loads => said,
            (read, _) => {
                let read = read.map(|(rows, said, _)| (rows, said));
                return Some(format!("{name}: {read:?}"));
            }
        };
        let fits = |n: &Notice| n.line == *line && n.key == *key && n.text.contains(hint);
        // One fault is told once, with what follows from it at most.
        if said.len() <= 2 && said.first().is_some_and(fits) {
            return None;
        }
        Some(format!(
            "{name}: wanted line {line}, {key}, {hint}; said {said:?}"
        ))
    }
}

/// The sound file with the lines that go in place of those that come.
fn changed(name: &str, lines: &[&str]) -> String {
    let kind = name.split('-').next().unwrap();
    let path = folder("invalid").join(kind).with_extension("json");
    let mut text = format!("\n{}\n", fs::read_to_string(path).unwrap());
    let starts = |c: char| move |line: &&str| line.starts_with(c);
    if !lines.iter().any(starts('-')) {
        return lines.iter().map(|l| [&l[1..], "\n"].concat()).collect();
    }
    let pieces = lines.chunk_by(|a, b| !(starts('+')(a) && starts('-')(b)));
    for piece in pieces {
        let side = |c| -> String {
            let lines = piece.iter().copied().filter(starts(c));
            lines.map(|l| ["\n", &l[1..]].concat()).collect()
        };
        let (goes, comes) = (side('-') + "\n", side('+') + "\n");
        assert_eq!(text.matches(&goes).count(), 1, "{name}: {goes}");
        text = text.replace(&goes, &comes);
    }
    text[1..text.len() - 1].to_owned()
}

fn faults() -> Vec<Fault> {
    let table = fs::read_to_string(folder("invalid").join("faults.txt")).unwrap();
    let faults: Vec<Fault> = table.split("\n\n").map(Fault::of).collect();
    assert_eq!(faults.len(), 75, "faults are found");
    faults
}

#[test]
fn each_fault_is_told_with_line_key_and_hint() {
    for sound in ["job", "shop"] {
        let path = folder("invalid").join(sound).with_extension("json");
        let read = read(&format!("{sound}-"), &fs::read_to_string(path).unwrap());
        assert!(read.unwrap().1.is_empty(), "{sound} is sound");
    }
    let wrong: Vec<String> = faults().iter().filter_map(Fault::wrong).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn what_is_not_understood_is_kept_through_a_save() {
    for Fault { name, text, .. } in faults() {
        let Ok((rows, _, written)) = read(&name, &text) else {
            continue;
        };
        let before: serde_json::Value = serde_json::from_str(&text).unwrap();
        let after: serde_json::Value = serde_json::from_str(&written).unwrap();
        let (mut wanted, mut kept) = (Vec::new(), Vec::new());
        leaves(&before, &mut wanted);
        leaves(&after, &mut kept);
        for leaf in &wanted {
            assert!(kept.contains(leaf), "{name} lost {leaf}");
        }
        // What loaded loads again.
        assert!(read(&name, &written).unwrap().0 >= rows, "{name}");
    }
}

/// Every text and number of a document, spelt as texts.
fn leaves(value: &serde_json::Value, into: &mut Vec<String>) {
    match value {
        serde_json::Value::Array(list) => list.iter().for_each(|v| leaves(v, into)),
        serde_json::Value::Object(map) => map.values().for_each(|v| leaves(v, into)),
        serde_json::Value::String(text) => into.push(text.trim().to_owned()),
        other => into.push(other.to_string()),
    }
}

/// At the top of a job the first of two values was lost at the next save, without a word.
#[test]
fn a_key_that_stands_twice_at_any_level_is_an_error_with_its_line() {
    let job = |inside: &str| format!("{{\"feeds\": \"job\", \"schema\": 1,\n{inside}}}");
    let shop = |inside: &str| format!("{{\"feeds\": \"shop\", \"schema\": 1,\n{inside}}}");
    let pass = |inside: &str| job(&format!("\"passes\": [{{\"name\": \"a\"}}, {{{inside}}}]"));
    for (key, text) in [
        ("name", job("\"name\": \"a\",\n\"name\": \"b\"")),
        ("feeds", job("\"name\": \"a\",\n\"feeds\": \"job\"")),
        ("schema", job("\"name\": \"a\",\n\"schema\": 1")),
        ("passes", job("\"passes\": [],\n\"passes\": []")),
        ("not known", job("\"not known\": 1,\n\"not known\": 2")),
        (
            "depth",
            job("\"common\": {\"depth\": \"1 mm\",\n\"depth\": \"2 mm\"}"),
        ),
        (
            "width",
            pass("\"width\": \"1 mm\",\n\"\\u0077idth\": \"2 mm\""),
        ),
        ("b", job("\"x\": [{}, {\"a\": [{\"b\": 1,\n\"b\": 2}]}]")),
        ("cutters", shop("\"cutters\": [],\n\"cutters\": []")),
        (
            "note",
            shop("\"holds\": [{\"name\": \"a\", \"note\": \"b\",\n\"note\": \"c\"}]"),
        ),
    ] {
        let read = if text.contains("\"shop\"") {
            Shop::read(&text).map(|_| ())
        } else {
            Job::read(&text).map(|_| ())
        };
        let notice = read.unwrap_err();
        assert_eq!((notice.line, notice.key.as_str()), (3, key), "{text}");
        assert!(notice.text.contains("twice"), "{notice}");
    }
    // The same key in two objects is none that stands twice.
    assert!(Job::read(&job("\"a\": [{\"b\": 1}, {\"b\": 2}], \"b\": {\"b\": 3}")).is_ok());
}

#[test]
fn what_lies_too_deep_to_be_kept_is_an_error() {
    let deep = |n| {
        let (open, close) = ("[".repeat(n), "]".repeat(n));
        Job::read(&format!(
            "{{\"feeds\": \"job\", \"schema\": 1,\n\"x\": {open}{close}}}"
        ))
    };
    assert_eq!(deep(90).unwrap().0.written().matches('[').count(), 91);
    for n in [100, 50_000] {
        let notice = deep(n).unwrap_err();
        assert_eq!(notice.line, 2, "{notice}");
        assert!(notice.text.contains("too many brackets"), "{notice}");
    }
}

#[test]
fn every_version_there_was_still_loads() {
    for version in 1..=feeds_tui::store::VERSION {
        let files = files(&format!("v{version}"));
        assert!(!files.is_empty(), "no files of version {version}");
        for file in files {
            let name = file.file_name().unwrap().to_str().unwrap();
            let (rows, said, written) = read(name, &fs::read_to_string(&file).unwrap()).unwrap();
            assert!(rows > 0 && said.is_empty(), "{name}: {said:?}");
            // Nothing is lost by a save in the form of today.
            assert_eq!(read(name, &written).unwrap(), (rows, said, written.clone()));
        }
    }
}
