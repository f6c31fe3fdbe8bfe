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
const FOR_OTHERS: [(&str, &str); 2] = [
    (
        "directional",
        "published cases give these coefficients of the lobes",
    ),
    (
        "at_speed",
        "published cases give the limit at a spindle speed",
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
    for item in types.into_iter().filter(|i| ITEMS[..4].contains(&i.kind.as_str())) {
        places.entry(item.name).or_default().push(item.file);
    }
    assert!(places.len() > 300, "types are found");
    let shared: BTreeMap<_, _> = places.iter().filter(|(_, files)| files.len() > 1).collect();
    for (name, files) in &shared {
        let allowed = SHARED.iter().any(|(shared, _)| shared == name);
        assert!(allowed, "{name} is the name of {} types: {files:#?}", files.len());
    }
    for (name, _) in SHARED {
        assert!(shared.contains_key(&name.to_owned()), "{name} has one type now");
    }
}

#[test]
fn nothing_public_is_unused() {
    let (items, uses) = house();
    let mut defined: BTreeMap<&str, usize> = BTreeMap::new();
    for item in &items {
        *defined.entry(&item.name).or_default() += 1;
    }
    let dead = items.iter().filter(|i| uses[&i.name] <= defined[i.name.as_str()]);
    let dead: BTreeSet<&str> = dead.map(|item| item.name.as_str()).collect();
    let allowed: BTreeSet<&str> = FOR_OTHERS.iter().map(|(name, _)| *name).collect();
    assert_eq!(dead, allowed);
}
