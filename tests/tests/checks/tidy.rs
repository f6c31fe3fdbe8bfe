//! The house is kept tidy: arrows between crates, registers, files, lines.

use feeds_core::formula::formulas;
use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap()
}

/// Every Rust file below a folder of the workspace.
pub(crate) fn rust_files(folder: &str) -> Vec<PathBuf> {
    fn walk(folder: &Path, files: &mut Vec<PathBuf>) {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() && path.file_name().is_some_and(|n| n != "target") {
                walk(&path, files);
            } else if path.extension().is_some_and(|e| e == "rs") {
                files.push(path);
            }
        }
    }
    let mut files = Vec::new();
    walk(&root().join(folder), &mut files);
    assert!(!files.is_empty(), "no files in {folder}");
    files
}

const CRATES: [&str; 4] = ["feeds-core", "reference-tables", "feeds-tui", "tests"];
pub(crate) const PROGRAM_SOURCES: [&str; 3] =
    ["feeds-core/src", "reference-tables/src", "feeds-tui/src"];

/// Lines of code that ship: no comments, no doc tests, no unit tests (they end the file).
pub(crate) fn shipped(text: &str) -> impl Iterator<Item = (usize, &str)> {
    text.lines()
        .enumerate()
        .take_while(|(_, line)| line.trim() != "#[cfg(test)]")
        .filter(|(_, line)| !line.trim_start().starts_with("//"))
        .map(|(at, line)| (at + 1, line))
}

#[track_caller]
fn none_ships(sources: &[&str], words: &[&str]) {
    let unit_tests = |file: &PathBuf| file.file_name().is_some_and(|n| n == "tests.rs");
    for file in sources
        .iter()
        .flat_map(|s| rust_files(s))
        .filter(|f| !unit_tests(f))
    {
        let text = fs::read_to_string(&file).unwrap();
        for (at, line) in shipped(&text) {
            for word in words {
                assert!(!line.contains(word), "{}:{at}: {word}", file.display());
            }
        }
    }
}

/// Names of the dependencies of each member, of one kind (`null` for the ordinary ones).
fn dependencies(kind: &Value) -> Vec<(String, BTreeSet<String>)> {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
    let output = Command::new(cargo)
        .args([
            "metadata",
            "--no-deps",
            "--offline",
            "--format-version",
            "1",
        ])
        .current_dir(root())
        .output()
        .unwrap();
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    let metadata: Value = serde_json::from_slice(&output.stdout).unwrap();
    let name = |v: &Value| v["name"].as_str().unwrap().to_owned();
    let packages = metadata["packages"].as_array().unwrap().iter();
    let of = |package: &Value| {
        let all = package["dependencies"].as_array().unwrap().iter();
        all.filter(|d| d["kind"] == *kind).map(name).collect()
    };
    packages.map(|p| (name(p), of(p))).collect()
}

fn set(names: &[&str]) -> BTreeSet<String> {
    names.iter().map(|&n| n.to_owned()).collect()
}

#[test]
fn arrows_point_one_way() {
    let members = dependencies(&Value::Null);
    let names: BTreeSet<String> = members.iter().map(|(name, _)| name.clone()).collect();
    assert_eq!(names, set(&CRATES));
    for (name, all) in &members {
        let inside: BTreeSet<String> = all.intersection(&names).cloned().collect();
        let allowed = match name.as_str() {
            "feeds-core" => set(&[]),
            "reference-tables" => set(&["feeds-core"]),
            "feeds-tui" => set(&["feeds-core", "reference-tables"]),
            _ => set(&["feeds-core", "reference-tables", "feeds-tui"]),
        };
        assert!(inside.is_subset(&allowed), "{name} depends on {inside:?}");
        if name == "feeds-core" {
            assert_eq!(*all, set(&["uom", "serde"]), "the core stays small");
        }
    }
}

#[test]
fn one_copy_of_the_terminal_library() {
    let lock = fs::read_to_string(root().join("Cargo.lock")).unwrap();
    assert_eq!(lock.matches("name = \"crossterm\"").count(), 1);
}

#[test]
fn one_place_writes() {
    none_ships(
        &PROGRAM_SOURCES,
        &["println!", "eprintln!", "print!(", "dbg!("],
    );
}

#[test]
fn nothing_shipped_gives_up() {
    none_ships(
        &PROGRAM_SOURCES,
        &[".unwrap()", ".expect(", "panic!(", "unreachable!("],
    );
}

#[test]
fn the_core_does_no_input_or_output() {
    let words = [
        "std::fs",
        "std::io",
        "std::env",
        "std::net",
        "std::process",
        "std::time",
        "std::thread",
    ];
    none_ships(&["feeds-core/src"], &words);
}

#[test]
fn files_are_short_and_lines_narrow() {
    for file in CRATES.iter().flat_map(|c| rust_files(c)) {
        let text = fs::read_to_string(&file).unwrap();
        assert!(
            text.lines().count() <= 500,
            "{} is too long",
            file.display()
        );
        for (at, line) in text.lines().enumerate() {
            // A pattern or an entry that a test types cannot be broken without changing it.
            let typed = file.starts_with(root().join("tests")) && line.trim().starts_with('"');
            assert!(
                typed || line.chars().count() <= 100,
                "{}:{} is too wide",
                file.display(),
                at + 1
            );
        }
        assert!(
            text.starts_with("//!"),
            "{} does not say what it is for",
            file.display()
        );
    }
}

#[test]
fn modules_have_files_of_their_own_name() {
    for file in CRATES.iter().flat_map(|c| rust_files(c)) {
        assert!(
            file.file_name().is_some_and(|n| n != "mod.rs"),
            "{}",
            file.display()
        );
    }
}

/// The documentation above each `formula!` struct; its source comes from the card.
fn formula_docs() -> Vec<(PathBuf, String)> {
    let mut docs = Vec::new();
    for file in rust_files("feeds-core/src/formula") {
        let text = fs::read_to_string(&file).unwrap();
        for block in text.split("\nformula! {\n").skip(1) {
            let doc: Vec<&str> = block
                .lines()
                .map(str::trim)
                .take_while(|l| l.starts_with("///"))
                .collect();
            docs.push((file.clone(), doc.join("\n")));
        }
    }
    docs
}

#[test]
fn every_formula_is_documented() {
    let docs = formula_docs();
    let computed = formulas().filter(|f| f.compute.is_some()).count();
    assert_eq!(docs.len(), computed, "a formula is not in the register");
    for (file, doc) in docs {
        let first = doc.lines().next().unwrap_or_default();
        for heading in ["# Takes", "# Gives", "# Example"] {
            assert!(
                doc.contains(heading),
                "{}: «{first}» has no {heading}",
                file.display()
            );
        }
    }
}
