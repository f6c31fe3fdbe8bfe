//! Every number of the tables, with its unit, source, basis and the stocks it is read for, against
//! a second list of them: `tests/cases/tables.tsv`, a line for each object of the data files. So
//! no digit and no stock changes by mistake. A line marked `twice` agrees with a transcription of
//! the source that was made apart from the tables; the others are copies, and hold a figure only
//! against slips. Whoever changes a figure on purpose writes it down in both, from the source.

use crate::table_files::data_files;
use serde_json::{Map, Value};
use std::path::Path;

/// What a row is called by.
const LABELS: [&str; 8] = [
    "subject",
    "id",
    "called",
    "key",
    "name",
    "sign",
    "cause",
    "designation",
];
/// Words about a figure, which may be put better.
const WORDS: [&str; 6] = ["note", "url", "title", "plain", "says", "text"];

fn number(value: &Value) -> Option<String> {
    let value = value.as_f64()?;
    Some(format!("{value}"))
}

/// A scalar, or a list of them.
fn shown(value: &Value) -> Option<String> {
    match value {
        Value::Number(_) => number(value),
        Value::Bool(yes) => Some(yes.to_string()),
        Value::String(text) => Some(text.clone()),
        Value::Array(list) if !list.is_empty() => {
            let all_alike = list.iter().all(Value::is_number) || list.iter().all(Value::is_string);
            let shown: Option<Vec<String>> = list.iter().map(shown).collect();
            shown.filter(|_| all_alike).map(|list| list.join("/"))
        }
        _ => None,
    }
}

/// Whether there is a number in it, a source, or what it is read for: the wrong stock is as bad as
/// the wrong number.
fn counts(object: &Map<String, Value>) -> bool {
    let mut figures = object.iter().filter(|(key, _)| !WORDS.contains(&&***key));
    figures.any(|(_, value)| shown(value).is_some())
}

fn gather(file: &str, value: &Value, label: &str, path: &str, lines: &mut Vec<String>) {
    match value {
        Value::Array(list) => {
            for value in list {
                gather(file, value, label, path, lines);
            }
        }
        Value::Object(object) => {
            let own = LABELS.iter().find_map(|key| object.get(*key)?.as_str());
            let label = own.unwrap_or(label);
            if counts(object) {
                let figures = object.iter().filter(|(key, _)| !WORDS.contains(&&***key));
                let figures: Vec<String> = figures
                    .filter_map(|(key, value)| Some(format!("{key}={}", shown(value)?)))
                    .collect();
                lines.push(format!("{file}\t{label}\t{path}\t{}", figures.join(" ")));
            }
            for (key, value) in object {
                let path = if path.is_empty() {
                    key.clone()
                } else {
                    format!("{path}.{key}")
                };
                gather(file, value, label, &path, lines);
            }
        }
        _ => {}
    }
}

#[test]
fn every_figure_is_the_one_that_was_written_down() {
    let mut lines = Vec::new();
    for (name, text) in data_files() {
        let value = serde_json::from_str(&text).unwrap();
        gather(name.trim_end_matches(".json"), &value, "", "", &mut lines);
    }
    let list = Path::new(env!("CARGO_MANIFEST_DIR")).join("cases/tables.tsv");
    let written = std::fs::read_to_string(list).unwrap();
    let written: Vec<(&str, &str)> = written
        .lines()
        .map(|line| line.rsplit_once('\t').unwrap())
        .collect();
    let wrong = lines.iter().zip(&written).find(|(a, b)| a != &b.0);
    assert_eq!(wrong, None, "the tables say one, the list another");
    assert_eq!(lines.len(), written.len());
    let marks: Vec<&str> = written.iter().map(|(_, mark)| *mark).collect();
    assert!(marks.iter().all(|mark| ["", "twice"].contains(mark)));
    assert!(marks.iter().filter(|mark| **mark == "twice").count() >= 748);
}
