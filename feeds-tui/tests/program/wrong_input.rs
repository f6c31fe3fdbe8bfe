//! Wrong input, case by case: every entry and every command, each with what is to be said of it.
//!
//! `tests/cases/wrong-input.tsv` has a line a case: its name, the line that is typed, the exit
//! code, and pieces that the error has to say, parted by ` | `: the entry, the value as typed, the
//! range and what would be right. The ends of ranges are those of `checks/entry_ranges.rs`. Nothing
//! goes to the answer's stream, and no file is touched.

use crate::shell::{folder, ran_line, text};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use std::thread;

const CASES: &str = include_str!("../../../tests/cases/wrong-input.tsv");
/// How many there are at least.
const LEAST: usize = 300;

struct Case {
    name: &'static str,
    line: &'static str,
    code: i32,
    says: Vec<&'static str>,
}

fn cases() -> Vec<Case> {
    let lines = CASES.lines().filter(|line| !line.starts_with('#'));
    let case = |line: &'static str| {
        let parts: Vec<&str> = line.split('\t').collect();
        let [name, line, code, says] = parts[..] else {
            panic!("«{line}» has no four parts");
        };
        Case {
            name,
            line,
            code: code.parse().unwrap(),
            says: says.split(" | ").collect(),
        }
    };
    lines.map(case).collect()
}

/// A folder with a job, a shop, and files that are none.
fn bench(name: &str) -> std::path::PathBuf {
    let at = folder(name);
    ran_line("feeds job new demo.json --demo", &at);
    ran_line(
        "feeds shop add cutter short diameter=3mm edges=2 --shop shop.json",
        &at,
    );
    let job = fs::read_to_string(at.join("demo.json")).unwrap();
    let later = job.replacen("\"schema\": 1", "\"schema\": 99", 1);
    assert_ne!(job, later);
    fs::write(at.join("later.json"), later).unwrap();
    fs::write(at.join("short.json"), &job[..200]).unwrap();
    fs::write(at.join("text.txt"), "no json\n").unwrap();
    fs::write(at.join("empty.json"), "").unwrap();
    fs::write(at.join("binary.json"), b"{\"a\xff\xfe\0").unwrap();
    fs::create_dir(at.join("folder")).unwrap();
    at
}

fn files(at: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = fs::read_dir(at).unwrap().map(|entry| entry.unwrap().path());
    let read = |path: std::path::PathBuf| (path.display().to_string(), fs::read(&path).unwrap());
    entries.filter(|path| path.is_file()).map(read).collect()
}

/// What is wrong with what is said to some cases.
fn faults(cases: &[Case], at: &Path) -> Vec<String> {
    let before = files(at);
    let mut faults = Vec::new();
    for case in cases {
        let output = ran_line(&format!("feeds {}", case.line), at);
        let said = text(&output.stderr);
        let mut fault = |what: &str| faults.push(format!("{}: {what}\n  {said}", case.name));
        if output.status.code() != Some(case.code) {
            fault(&format!("ends with {:?}", output.status.code()));
        }
        for says in case.says.iter().filter(|says| !said.contains(**says)) {
            fault(&format!("does not say «{says}»"));
        }
        if !output.stdout.is_empty() {
            fault("an error is no answer");
        }
        if files(at) != before {
            fault("changes a file");
        }
    }
    faults
}

#[test]
fn every_wrong_input_is_refused_with_what_is_wrong_and_what_would_be_right() {
    let cases = cases();
    let names: BTreeSet<&str> = cases.iter().map(|case| case.name).collect();
    assert_eq!(names.len(), cases.len(), "a name stands twice");
    assert!(cases.len() >= LEAST, "{}", cases.len());
    let half = cases.len() / 2;
    let faults: Vec<String> = thread::scope(|scope| {
        let halves = [(&cases[..half], "wrong-a"), (&cases[half..], "wrong-b")];
        let halves = halves.map(|(of, name)| scope.spawn(move || faults(of, &bench(name))));
        halves
            .into_iter()
            .flat_map(|half| half.join().unwrap())
            .collect()
    });
    assert!(
        faults.is_empty(),
        "{} faults:\n{}",
        faults.len(),
        faults.join("\n")
    );
}
