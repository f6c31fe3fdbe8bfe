//! Files with one fault each, named for it: line, key and hint, and what still loads.
//!
//! Beside each file stands what is to be said of it, written by hand.

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

fn read(path: &Path) -> Read {
    let text = fs::read_to_string(path).unwrap();
    let name = path.file_name().unwrap().to_str().unwrap();
    if name.starts_with("shop-") {
        Shop::read(&text).map(|(shop, said)| (shop.items.len(), said, shop.written()))
    } else {
        Job::read(&text).map(|(job, said)| (job.passes.len(), said, job.written()))
    }
}

/// What is wrong with what is said of a file; `None` if it is as expected.
fn wrong(path: &Path) -> Option<String> {
    let expected = fs::read_to_string(path.with_extension("txt")).unwrap();
    let expect = |word: &str| {
        let line = expected.lines().find_map(|l| l.strip_prefix(word));
        line.map(str::trim)
    };
    let name = path.file_name().unwrap().to_str().unwrap();
    let line: usize = expect("line").unwrap().parse().unwrap();
    let (key, hint) = (expect("key").unwrap(), expect("hint").unwrap());
    let said = match (read(path), expect("loads")) {
        (Err(notice), None) => vec![notice],
        (Ok((rows, said, _)), Some(loads)) if rows.to_string() == loads => said,
        (read, _) => {
            return Some(format!(
                "{name}: {:?}",
                read.map(|(rows, said, _)| (rows, said))
            ));
        }
    };
    let fits = |n: &Notice| n.line == line && n.key == key && n.text.contains(hint);
    // One fault is told once, with what follows from it at most.
    if said.len() <= 2 && said.first().is_some_and(fits) {
        return None;
    }
    Some(format!(
        "{name}: wanted line {line}, {key}, {hint}; said {said:?}"
    ))
}

#[test]
fn each_fault_is_told_with_line_key_and_hint() {
    let files = files("invalid");
    assert!(files.len() >= 60, "{} files", files.len());
    let wrong: Vec<String> = files.iter().filter_map(|f| wrong(f)).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn what_is_not_understood_is_kept_through_a_save() {
    for file in files("invalid") {
        let Ok((rows, _, written)) = read(&file) else {
            continue;
        };
        let before: serde_json::Value =
            serde_json::from_str(&fs::read_to_string(&file).unwrap()).unwrap();
        let after: serde_json::Value = serde_json::from_str(&written).unwrap();
        let (mut wanted, mut kept) = (Vec::new(), Vec::new());
        leaves(&before, &mut wanted);
        leaves(&after, &mut kept);
        let name = file.file_name().unwrap();
        for leaf in &wanted {
            assert!(kept.contains(leaf), "{name:?} lost {leaf}");
        }
        // What loaded loads again.
        let copy = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
        fs::write(&copy, &written).unwrap();
        assert!(read(&copy).unwrap().0 >= rows, "{name:?}");
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
            let (rows, said, written) = read(&file).unwrap();
            assert!(rows > 0 && said.is_empty(), "{}: {said:?}", file.display());
            // Nothing is lost by a save in the form of today.
            let copy = Path::new(env!("CARGO_TARGET_TMPDIR")).join(file.file_name().unwrap());
            fs::write(&copy, &written).unwrap();
            assert_eq!(read(&copy).unwrap(), (rows, said, written));
        }
    }
}
