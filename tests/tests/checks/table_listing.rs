//! The list of the tables that is read and searched: every figure of a data file stands in it
//! once, as the file has it, and no other. What a figure looks like is worked out here from the
//! file alone.

use crate::table_files::data_files;
use reference_tables::listing::Listed;
use reference_tables::tables;
use serde_json::{Map, Value};
use std::collections::HashMap;

/// A figure as the list shows it: one value or two ends, the unit, where to start.
fn shown(figure: &Map<String, Value>) -> Option<String> {
    let number = |key: &str| figure.get(key)?.as_f64();
    let text = match (number("value"), number("min"), number("max")) {
        (Some(value), ..) => format!("{value}"),
        (None, Some(least), Some(most)) => format!("{least}-{most}"),
        _ => return None,
    };
    let unit = figure.get("unit").and_then(Value::as_str);
    let unit = unit.map_or_else(String::new, |unit| format!(" {unit}"));
    let start = number("start").map_or_else(String::new, |start| format!(", start {start}"));
    Some(text + &unit + &start)
}

/// Whether a figure only says what a row is for, and stands in its subject: «at f_z of 0.1 mm».
fn of_subject(key: &str, row: &Map<String, Value>) -> bool {
    let factor = row.contains_key("value") && row.contains_key("subject");
    factor && ["f_z", "below"].contains(&key)
}

/// Every figure below a value. What an object leaves out stands in the default it is called `as`.
fn gather(value: &Value, defaults: &Map<String, Value>, figures: &mut Vec<String>) {
    match value {
        Value::Array(list) => list.iter().for_each(|v| gather(v, defaults, figures)),
        Value::Object(object) => {
            let of = object.get("as").and_then(Value::as_str);
            let of = of.and_then(|of| defaults.get(of)?.as_object());
            let mut whole = of.cloned().unwrap_or_default();
            whole.extend(object.clone());
            figures.extend(shown(&whole));
            for (key, unit) in [("hbw", "HB"), ("hv", "HV")] {
                let number = object.get(key).and_then(Value::as_f64);
                figures.extend(number.map(|number| format!("{number} {unit}")));
            }
            let listed = object.iter().filter(|(key, _)| !of_subject(key, object));
            listed.for_each(|(_, v)| gather(v, defaults, figures));
        }
        _ => {}
    }
}

/// The defaults of a file by what they are called.
fn defaults(file: &mut Value) -> Map<String, Value> {
    let taken = file
        .as_object_mut()
        .and_then(|file| file.remove("defaults"));
    let rows = taken.iter().filter_map(Value::as_array).flatten();
    let called = |row: &Value| Some((row.get("called")?.as_str()?.to_owned(), row.clone()));
    rows.filter_map(called).collect()
}

#[test]
fn every_figure_of_a_data_file_stands_in_the_list() {
    let listed: Vec<Listed> = tables().unwrap().listing().collect();
    let mut missing = Vec::new();
    for (file, text) in data_files() {
        let table = file.trim_end_matches(".json");
        let mut file: Value = serde_json::from_str(&text).unwrap();
        let defaults = defaults(&mut file);
        let mut figures = Vec::new();
        gather(&file, &defaults, &mut figures);
        let mut counts: HashMap<&str, usize> = HashMap::new();
        for row in listed.iter().filter(|row| row.table == table) {
            *counts.entry(&row.value).or_default() += 1;
        }
        for figure in &figures {
            match counts.get_mut(figure.as_str()) {
                Some(left) if *left > 0 => *left -= 1,
                _ => missing.push(format!("{table}: {figure}")),
            }
        }
        let left = counts.into_iter().filter(|(_, count)| *count > 0);
        missing.extend(left.map(|(figure, _)| format!("{table}: {figure} is in no file")));
    }
    assert!(missing.is_empty(), "{}: {missing:#?}", missing.len());
}
