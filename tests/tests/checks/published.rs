//! Published and independently worked cases, asked the same way the command `formula` asks.
//!
//! Each file of `cases/formula/` carries cases with their source, basis and tolerance with its
//! reason, and the cases of the same collections that no single formula answers, with the reason.

use feeds_core::formula::recipe::run;
use feeds_core::notebook::Recorded;
use feeds_core::quantity::read::read_si;
use feeds_core::quantity::{Amount, Dimension};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::path::Path;

#[derive(Deserialize)]
struct Book {
    about: String,
    cases: Vec<Case>,
    #[serde(default)]
    not_by_formula: Vec<Left>,
}

/// A case that is published, or worked out apart from the program.
#[derive(Deserialize)]
pub(super) struct Case {
    pub(super) id: String,
    pub(super) source: String,
    pub(super) basis: String,
    formula: String,
    given: BTreeMap<String, String>,
    expect: BTreeMap<String, Expected>,
    within: String,
    because: String,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum Expected {
    One(String),
    List(Vec<String>),
}

#[derive(Deserialize)]
struct Left {
    id: String,
    reason: String,
}

fn books() -> Vec<(String, Book)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("cases/formula");
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|file| file.unwrap().path())
        .filter(|path| path.extension().is_some_and(|e| e == "json"))
        .collect();
    files.sort();
    files
        .iter()
        .map(|path| {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            let text = std::fs::read_to_string(path).unwrap();
            let book = serde_json::from_str(&text).unwrap_or_else(|e| panic!("{name}: {e}"));
            (name, book)
        })
        .collect()
}

/// A tolerance with a `%` is relative, any other is absolute in its unit.
fn near(got: Amount, expected: f64, within: &str) -> bool {
    let tolerance = if within.ends_with('%') {
        read_si(within, Dimension::Ratio).unwrap() * expected.abs()
    } else {
        read_si(within, got.unit.dimension).unwrap()
    };
    (got.si - expected).abs() <= tolerance
}

/// Every number a case expects beside what the program gives, or why there is none.
pub(super) fn answers(case: &Case) -> Result<Vec<(String, Amount, f64)>, String> {
    let given: Vec<(&str, &str)> = case.given.iter().map(|(k, v)| (&**k, &**v)).collect();
    let results =
        run(&case.formula, &given, &mut Recorded::default()).map_err(|e| e.to_string())?;
    let mut answers = Vec::new();
    for (key, expected) in &case.expect {
        let (got, texts) = match expected {
            Expected::One(text) => (results.one(key).into_iter().collect(), vec![text]),
            Expected::List(texts) => {
                let list = results.list(key).unwrap_or_default();
                (list.to_vec(), texts.iter().collect())
            }
        };
        if got.len() != texts.len() {
            let (got, expected) = (got.len(), texts.len());
            return Err(format!("{key}: {got} results for {expected} values"));
        }
        answers.extend(got.into_iter().zip(texts).map(|(got, text)| {
            let expected = read_si(text, got.unit.dimension).unwrap();
            (format!("{key} {text}"), got, expected)
        }));
    }
    Ok(answers)
}

/// Whether a number is as near as the case allows.
pub(super) fn is_near(case: &Case, got: Amount, expected: f64) -> bool {
    near(got, expected, &case.within)
}

/// Every case of the collections.
pub(super) fn cases() -> impl Iterator<Item = Case> {
    books().into_iter().flat_map(|(_, book)| book.cases)
}

fn faults(case: &Case) -> Vec<String> {
    let answers = match answers(case) {
        Ok(answers) => answers,
        Err(error) => return vec![error],
    };
    let far = answers
        .iter()
        .filter(|(_, got, expected)| !is_near(case, *got, *expected));
    let (within, because) = (&case.within, &case.because);
    far.map(|(what, got, _)| format!("{got} is not {what} within {within} ({because})"))
        .collect()
}

#[test]
fn every_published_case_is_met() {
    let mut faulty = Vec::new();
    let mut asked = 0;
    for (file, book) in books() {
        for case in &book.cases {
            asked += 1;
            for fault in faults(case) {
                faulty.push(format!("{file} {} {}: {fault}", case.id, case.formula));
            }
        }
    }
    assert!(
        faulty.is_empty(),
        "{} faults\n{}",
        faulty.len(),
        faulty.join("\n")
    );
    assert!(asked > 80, "only {asked} cases were found");
}

#[test]
fn every_case_names_source_basis_and_reason() {
    let kinds = ["printed", "memory", "derived independently"];
    for (file, book) in books() {
        assert!(!book.about.is_empty(), "{file}");
        for case in &book.cases {
            let id = &case.id;
            assert!(case.source.len() > 8, "{file} {id}: no source");
            assert!(
                kinds.contains(&&*case.basis),
                "{file} {id}: basis {}",
                case.basis
            );
            assert!(
                case.because.len() > 8,
                "{file} {id}: no reason for the tolerance"
            );
            assert!(!case.expect.is_empty(), "{file} {id}: expects nothing");
        }
        for left in &book.not_by_formula {
            assert!(
                left.reason.len() > 20,
                "{file} {}: left out without a reason",
                left.id
            );
        }
    }
}

/// The runner itself: a wrong value, a wrong key and an unreadable entry are faults.
#[test]
fn a_wrong_case_is_a_fault() {
    let case = |given: &str, expect: &str| -> Case {
        serde_json::from_str(&format!(
            r#"{{"id": "", "source": "", "basis": "", "formula": "removal-rate",
                "given": {given}, "expect": {expect}, "within": "0.1 %", "because": ""}}"#
        ))
        .unwrap()
    };
    let given = r#"{"a_p": "1 mm", "a_e": "1 mm", "v_f": "1000 mm/min"}"#;
    assert!(faults(&case(given, r#"{"Q": "1 cm3/min"}"#)).is_empty());
    assert_eq!(faults(&case(given, r#"{"Q": "1.002 cm3/min"}"#)).len(), 1);
    assert_eq!(faults(&case(given, r#"{"q": "1 cm3/min"}"#)).len(), 1);
    assert_eq!(
        faults(&case(r#"{"a_p": "1"}"#, r#"{"Q": "1 cm3/min"}"#)).len(),
        1
    );
}
