//! One word for one thing: every public type has a name of its own, and nothing public is dead.

use crate::tidy::{PROGRAM_SOURCES, rust_files, shipped};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;

/// Names that several public types share on purpose, with why no reader takes one for another.
const SHARED: [(&str, &str); 1] = [(
    "Flags",
    "what a command takes: each stands in the file of its command, and nothing else sees it",
)];

/// Public, and used by nothing that ships: what a programmer or a published case asks for.
const FOR_OTHERS: [(&str, &str); 7] = [
    (
        "arc_of",
        "published cases and benches make a cut of a width with it",
    ),
    (
        "with_edge",
        "laws and benches put an edge force beside a pair",
    ),
    (
        "micro_spread",
        "the row that the core's share for small cutters is held against",
    ),
    (
        "edge_radius_spread",
        "the row that the core's share for edge radii is held against",
    ),
    (
        "rake_share",
        "the row that the rake formula's 1.5 % a degree is held against",
    ),
    (
        "light_feed_share",
        "a row that is kept to show what a light machine does not do to a feed",
    ),
    (
        "directional",
        "published cases give these coefficients of the lobes",
    ),
];

/// Kinds of items that have a name.
const ITEMS: [&str; 7] = ["struct", "enum", "trait", "type", "fn", "static", "const"];

/// A public item: its kind, its name, and the file.
struct Item {
    kind: String,
    name: String,
    file: String,
}

/// Words of Rust code: names and key words.
fn words(line: &str) -> impl Iterator<Item = &str> {
    line.split(|c: char| !(c.is_alphanumeric() || c == '_'))
        .filter(|word| !word.is_empty())
}

/// Every item that is `pub` without a reach, and how often each word occurs in what ships.
fn house() -> (Vec<Item>, BTreeMap<String, usize>) {
    let (mut items, mut uses) = (Vec::new(), BTreeMap::new());
    for file in PROGRAM_SOURCES.iter().flat_map(|s| rust_files(s)) {
        if file.file_name().is_some_and(|n| n == "tests.rs") {
            continue;
        }
        let text = fs::read_to_string(&file).unwrap();
        for (_, line) in shipped(&text) {
            for word in words(line) {
                *uses.entry(word.to_owned()).or_default() += 1;
            }
            let Some(after) = line.trim_start().strip_prefix("pub ") else {
                continue;
            };
            let mut rest = words(after).skip_while(|w| ["const", "unsafe"].contains(w));
            let mut first = rest.next().unwrap_or_default();
            let mut name = rest.next().unwrap_or_default();
            if !ITEMS.contains(&first) {
                // `pub const NAME` lost its only word.
                (first, name) = ("const", first);
                if !after.starts_with("const ") {
                    continue;
                }
            }
            items.push(Item {
                kind: first.to_owned(),
                name: name.to_owned(),
                file: file.display().to_string(),
            });
        }
    }
    assert!(items.len() > 1000, "items are found");
    (items, uses)
}

#[test]
fn no_two_public_types_share_a_name() {
    let mut places: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let types = house().0;
    for item in types
        .into_iter()
        .filter(|i| ITEMS[..4].contains(&i.kind.as_str()))
    {
        places.entry(item.name).or_default().push(item.file);
    }
    assert!(places.len() > 300, "types are found");
    let shared: BTreeMap<_, _> = places.iter().filter(|(_, files)| files.len() > 1).collect();
    for (name, files) in &shared {
        let allowed = SHARED.iter().any(|(shared, _)| shared == name);
        assert!(
            allowed,
            "{name} is the name of {} types: {files:#?}",
            files.len()
        );
    }
    for (name, _) in SHARED {
        assert!(
            shared.contains_key(&name.to_owned()),
            "{name} has one type now"
        );
    }
}

#[test]
fn nothing_public_is_unused() {
    let (items, uses) = house();
    let mut defined: BTreeMap<&str, usize> = BTreeMap::new();
    for item in &items {
        *defined.entry(&item.name).or_default() += 1;
    }
    let dead = items
        .iter()
        .filter(|i| uses[&i.name] <= defined[i.name.as_str()]);
    let dead: BTreeSet<&str> = dead.map(|item| item.name.as_str()).collect();
    let allowed: BTreeSet<&str> = FOR_OTHERS.iter().map(|(name, _)| *name).collect();
    assert_eq!(dead, allowed);
}

/// Ways to ask a text what it says.
const ASKS: [&str; 8] = [
    "starts_with(",
    "ends_with(",
    "contains(",
    "strip_prefix(",
    "strip_suffix(",
    "split_once(",
    "trim_end_matches(",
    "trim_start_matches(",
];

/// Texts of others that are asked, and marks of a notation: no sentence of our own.
const OF_OTHERS: [(&str, &str); 8] = [
    ("TEMPORARY", "the ending of a file that is being written"),
    (
        " / ",
        "a symbol over another, in the names of what a lesson works out",
    ),
    (" ~ ", "a symbol beside another, there"),
    (" ...", "where a long line is cut"),
    ("error: ", "how clap begins"),
    (" to ", "a range as it is typed and shown: 3 mm to 6 mm"),
    ("the ", "an article makes way for «a guessed»"),
    ("N m", "a unit"),
];

/// The sentence that is asked for: a text with a blank in it, or one that stands under a name.
fn sentence(after: &str) -> Option<&str> {
    if let Some(literal) = after.strip_prefix('"') {
        return literal.split('"').next().filter(|text| text.contains(' '));
    }
    let name = words(after).next()?;
    let constant = name.len() > 1 && name.chars().all(|c| c.is_uppercase() || c == '_');
    (constant && after.starts_with(name)).then_some(name)
}

#[test]
fn no_sentence_is_a_condition() {
    // Two that stood there: a changed word in a text changed what the program did.
    let seen = |line| {
        let after = str::split(line, "starts_with(").nth(1);
        after.and_then(sentence).is_some()
    };
    assert!(seen("c.starts_with(THIN_CHIP)"));
    assert!(seen("s.starts_with(\"specific cutting force\")"));
    assert!(!seen("s.starts_with(\"clause\")"));
    assert!(!seen("s.starts_with(name)"));
    for file in PROGRAM_SOURCES.iter().flat_map(|s| rust_files(s)) {
        let text = fs::read_to_string(&file).unwrap();
        for (at, line) in shipped(&text) {
            for ask in ASKS {
                for after in line.split(ask).skip(1) {
                    let asked = sentence(after);
                    let known = |text: &&str| !OF_OTHERS.iter().any(|(other, _)| other == text);
                    if let Some(text) = asked.filter(known) {
                        panic!("{}:{at}: «{text}» decides something", file.display());
                    }
                }
            }
        }
    }
}
