//! What the program is made of besides its own code: where packages come from, under which
//! licences, and what each that is named here is for. `deny.toml` says the same for who has
//! `cargo deny`.

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

/// Licences of which a package must offer one; all let a program be given away in either form.
const LICENCES: [&str; 6] = ["MIT", "Apache-2.0", "Zlib", "MIT-0", "BSL-1.0", "Unlicense"];

/// Every package that is asked for, and why.
const WHY: [(&str, &str); 22] = [
    (
        "approx",
        "compares floats in tests, each with a stated tolerance",
    ),
    (
        "clap",
        "reads the command line; help, completions and manual come from one declaration",
    ),
    ("clap_complete", "completion in the shells"),
    ("clap_mangen", "the manual page"),
    (
        "crossterm",
        "keys and colours of terminals; the one ratatui uses",
    ),
    ("csv", "lists that go to a spreadsheet, quoted rightly"),
    (
        "fasteval",
        "a peer: expressions of programmes against another reader of them",
    ),
    (
        "gcode",
        "a peer: the speed of reading programmes against another reader",
    ),
    ("hound", "reads recordings of the cut"),
    (
        "jsonschema",
        "judges the published schemas by rules that are not ours; no features, no net; brings 43 \
            packages that only the tests get",
    ),
    (
        "portable-pty",
        "a real terminal for the tests of the screens",
    ),
    (
        "proptest",
        "laws held over random inputs, with the failing one made small",
    ),
    ("ratatui", "the screens"),
    ("rustfft", "finds tones in recordings"),
    (
        "rustix",
        "waits for the hang-up of a terminal without unsafe code",
    ),
    ("serde", "data in and out"),
    (
        "serde_json",
        "data files, jobs, shops and answers for scripts",
    ),
    (
        "signal-hook",
        "restores the terminal when the program is asked to end",
    ),
    ("stats_alloc", "counts allocations in the benches"),
    ("uom", "quantities whose dimensions the compiler checks"),
    ("vt100", "reads what the screens draw in that terminal"),
    ("feeds-core reference-tables feeds-tui tests", "our own"),
];

/// Packages that come in two versions, since those we use have not agreed yet.
const TWICE: [&str; 11] = [
    "bit-set",
    "bit-vec",
    "bitflags",
    "cfg_aliases",
    "getrandom",
    "proc-macro2",
    "quote",
    "r-efi",
    "syn",
    "thiserror",
    "thiserror-impl",
];

/// What the packages that this machine builds say of themselves; those of other systems are not
/// there on every machine.
fn metadata() -> Value {
    let rustc = std::env::var("RUSTC").unwrap_or_else(|_| "rustc".to_owned());
    let about = Command::new(rustc).arg("-vV").output().unwrap();
    let about = String::from_utf8(about.stdout).unwrap();
    let host = about.lines().find_map(|line| line.strip_prefix("host: "));
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked"])
        .args(["--filter-platform", host.unwrap()])
        .current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
        .output()
        .unwrap();
    assert!(output.status.success(), "{output:?}");
    serde_json::from_slice(&output.stdout).unwrap()
}

/// Name and source of every package of any system.
fn locked() -> Vec<(&'static str, Option<&'static str>)> {
    let lock = include_str!("../../../Cargo.lock");
    let packages = lock.split("[[package]]").skip(1);
    let key = |package: &'static str, key: &str| {
        let of = |line: &'static str| line.strip_prefix(key)?.strip_prefix(" = \"");
        let value = package.lines().find_map(of)?;
        value.strip_suffix('"')
    };
    packages
        .map(|package| (key(package, "name").unwrap(), key(package, "source")))
        .collect()
}

/// Whether one of the licences offered is among ours, and every one that is demanded.
fn fits(licence: &str) -> bool {
    let licence = licence.replace(['(', ')'], "").replace('/', " OR ");
    licence.split(" AND ").all(|demanded| {
        let mut offered = demanded.split(" OR ").map(str::trim);
        demanded == "Unicode-3.0" || offered.any(|one| LICENCES.contains(&one))
    })
}

#[test]
fn every_package_is_from_the_registry_under_a_licence_that_fits() {
    let metadata = metadata();
    let packages = metadata["packages"].as_array().unwrap();
    assert!(packages.len() > 100);
    for package in packages {
        let (name, licence) = (&package["name"], package["license"].as_str().unwrap());
        assert!(fits(licence), "{name}: {licence}");
    }
    for (name, source) in locked() {
        let fits = source.is_none_or(|s| s.starts_with("registry+"));
        assert!(fits, "{name}: {source:?}");
    }
    for (licence, expected) in [
        ("GPL-3.0-only", false),
        ("MIT AND GPL-3.0-only", false),
        ("LGPL-2.1-or-later OR MIT", true),
        ("(MIT OR Apache-2.0) AND Unicode-3.0", true),
    ] {
        assert_eq!(fits(licence), expected, "{licence}");
    }
}

#[test]
fn every_package_asked_for_has_its_reason() {
    let metadata = metadata();
    let ours = metadata["packages"].as_array().unwrap().iter();
    let ours = ours.filter(|package| package["source"].is_null());
    let asked: BTreeSet<&str> = ours
        .flat_map(|package| package["dependencies"].as_array().unwrap())
        .map(|asked| asked["name"].as_str().unwrap())
        .collect();
    let reasons = WHY.iter().flat_map(|(names, _)| names.split(' '));
    let mut reasons: BTreeSet<&str> = reasons.collect();
    // Nobody asks for the program itself but its tests.
    reasons.remove("tests");
    assert_eq!(asked, reasons);
}

#[test]
fn no_other_package_comes_in_two_versions() {
    let mut versions: BTreeMap<&str, usize> = BTreeMap::new();
    for (name, _) in locked() {
        *versions.entry(name).or_default() += 1;
    }
    let twice: Vec<&str> = versions.iter().filter(|v| *v.1 > 1).map(|v| *v.0).collect();
    assert_eq!(twice, TWICE);
}
