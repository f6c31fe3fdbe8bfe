//! The published JSON Schema of the files, made from the register of entries.

use super::VERSION;
use super::log;
use super::shop::UNITS;
use crate::own::SeenKey;
use crate::pass::field::{FIELDS, Field, OF_JOB, Shelf, Takes};
use feeds_core::feature::FeatureKind;
use feeds_core::feature::size::FeatureSize;
use feeds_core::symbol::System;
use serde_json::{Map, Value, json};

/// The schema of shop files.
pub fn shop() -> Value {
    let mut properties = head("shop");
    let units = json!({
        "enum": System::ALL.map(System::word),
        "description": "the units this shop reads and types",
    });
    put(&mut properties, UNITS, &units);
    properties.extend(shelves("note", "a note"));
    put(&mut properties, log::KEY, &log_rows(false));
    put(&mut properties, log::CARDS, &log_rows(true));
    document("A shop", &properties, &["feeds", "schema"])
}

/// The shelves; beside its name and its entries a thing has one more text.
fn shelves(more: &str, says: &str) -> Map<String, Value> {
    let mut shelves = Map::new();
    for shelf in Shelf::ALL {
        let mut row = Map::new();
        put(&mut row, "name", &text("unlike any other of its kind"));
        for field in shelf.fields() {
            put(&mut row, field.key, &entry(field));
        }
        put(&mut row, more, &text(says));
        let row = json!({ "type": "object", "required": ["name"], "properties": row });
        let rows = json!({ "type": "array", "items": row });
        put(&mut shelves, shelf.plural(), &rows);
    }
    shelves
}

/// The schema of job files.
pub fn job() -> Value {
    let mut properties = head("job");
    put(&mut properties, "name", &text("what is made"));
    put(&mut properties, "note", &text("a note"));
    let example = json!({ "type": "boolean", "description": "whether it is the example" });
    put(&mut properties, "example", &example);
    let mut entries = Map::new();
    for field in FIELDS {
        put(&mut entries, field.key, &entry(field));
    }
    let common = json!({
        "type": "object",
        "description": "entries that all passes share",
        "properties": entries,
    });
    put(&mut properties, "common", &common);
    let mut pass = Map::new();
    put(&mut pass, "name", &text("what the pass makes"));
    pass.extend(entries);
    put(
        &mut pass,
        "tool",
        &text("the number of its tool, such as T3"),
    );
    put(&mut pass, "programme", &text("the name of its programme"));
    for field in OF_JOB {
        put(&mut pass, field.key, &entry(field));
    }
    let follows = "the earlier pass whose corners this one cuts, by name or number, or «none»";
    put(&mut pass, "follows", &text(follows));
    let planned = "the feature it is planned for and its stage, as «guard slot: rough»";
    put(&mut pass, "feature", &text(planned));
    put(&mut pass, "note", &text("a note"));
    put(
        &mut pass,
        "happened",
        &text("what happened when it was run"),
    );
    let passes = json!({
        "type": "array",
        "items": { "type": "object", "required": ["name"], "properties": pass },
    });
    put(&mut properties, "passes", &passes);
    put(&mut properties, "features", &features());
    let why = "what the things of the shop were when the job was planned with them";
    put(&mut properties, "shelf", &kept_things(why));
    document("A job", &properties, &["feeds", "schema", "passes"])
}

/// Things of the shop as they were.
fn kept_things(description: &str) -> Value {
    let own = "yes where these values count whatever the shelf says now";
    json!({
        "type": "object",
        "description": description,
        "properties": shelves("own", own),
    })
}

/// The log of a shop, or the cuts in scrap that were planned.
fn log_rows(planned: bool) -> Value {
    let mut row = Map::new();
    let number = json!({ "type": "integer", "minimum": 1, "description": "unlike any other" });
    put(&mut row, "number", &number);
    put(&mut row, "date", &text("the day, as 2026-11-29"));
    put(&mut row, "job", &text("the job it was of"));
    put(&mut row, "pass", &text("the pass"));
    let mut entries = Map::new();
    for field in FIELDS {
        put(&mut entries, field.key, &entry(field));
    }
    let cut = json!({
        "type": "object",
        "description": "everything it was cut with",
        "properties": entries,
    });
    put(&mut row, "cut", &cut);
    let were = "what the things of the shop were when it was cut";
    put(&mut row, "shelf", &kept_things(were));
    let mut seen = Map::new();
    let mut said = Map::new();
    for key in SeenKey::ALL {
        put(&mut seen, key.word(), &text(key.says()));
        if key.answer().is_some() {
            put(&mut said, key.word(), &text("such as 0.009 mm to 0.041 mm"));
        }
    }
    let of = |says: &str, properties: Map<String, Value>| {
        let kind = "object";
        json!({ "type": kind, "description": says, "properties": properties })
    };
    put(&mut row, "seen", &of("what was seen", seen));
    let before = "the range that was given of each reading before it was learnt";
    put(&mut row, "said", &of(before, said));
    let item = |row: &Map<String, Value>| {
        let needs = ["number", "cut", "seen"];
        json!({ "type": "object", "required": needs, "properties": row })
    };
    let says = if planned {
        let measure = json!({
            "type": "array",
            "items": { "enum": SeenKey::ALL.map(SeenKey::word) },
            "description": "what to measure of it",
        });
        put(&mut row, "measure", &measure);
        let wanted = row["cut"].clone();
        put(&mut row, "wanted", &wanted);
        row["wanted"]["description"] = "the pass it is made for".into();
        "cuts in scrap that were planned"
    } else {
        "passes that were cut, with what was seen of them"
    };
    json!({
        "type": "array",
        "description": says,
        "items": item(&row),
    })
}

/// The features of a job: beside name and kind each has its sizes, as typed.
fn features() -> Value {
    let texts = json!({ "type": "object", "additionalProperties": { "type": "string" } });
    let mut feature = Map::new();
    put(&mut feature, "name", &text("what it is called"));
    let kinds = FeatureKind::ALL.map(FeatureKind::word);
    put(&mut feature, "kind", &json!({ "enum": kinds }));
    for size in FeatureSize::ALL {
        let says = format!("{}: {}", size.name(), size.why());
        put(&mut feature, size.key(), &text(&says));
    }
    let planned = json!({
        "type": "object",
        "description": "what each pass was planned with, to tell what was typed by hand since",
        "additionalProperties": texts,
    });
    put(&mut feature, "planned", &planned);
    let says = json!({ "type": "array", "items": { "type": "string" } });
    let advice = json!({
        "type": "object",
        "description": "what the plan says of each pass: what to leave, what to mind",
        "additionalProperties": says,
    });
    put(&mut feature, "advice", &advice);
    json!({
        "type": "array",
        "description": "the features that passes are planned for",
        "items": { "type": "object", "required": ["name", "kind"], "properties": feature },
    })
}

fn put(map: &mut Map<String, Value>, key: &str, value: &Value) {
    map.insert(key.to_owned(), value.clone());
}

fn head(kind: &str) -> Map<String, Value> {
    let mut map = Map::new();
    put(&mut map, "$schema", &text("this schema"));
    put(&mut map, "feeds", &json!({ "const": kind }));
    let version = json!({ "type": "integer", "minimum": 1, "maximum": VERSION });
    put(&mut map, "schema", &version);
    map
}

fn document(title: &str, properties: &Map<String, Value>, required: &[&str]) -> Value {
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": title,
        "type": "object",
        "required": required,
        "properties": properties,
    })
}

fn text(description: &str) -> Value {
    json!({ "type": "string", "description": description })
}

/// A text with its unit; plain numbers and yes or no may stand without quotation marks.
fn entry(field: &Field) -> Value {
    let description = format!("{}: {} ({})", field.name, field.accepts(), field.about());
    let kind = match field.takes {
        Takes::Quantity(range) if range.is_plain() => json!(["string", "number"]),
        Takes::YesNo => json!(["string", "boolean"]),
        _ => json!("string"),
    };
    json!({
        "type": kind,
        "minLength": 1,
        "description": description,
        "examples": [field.example],
    })
}
