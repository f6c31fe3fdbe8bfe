//! The published schemas fit every file the program writes, and no other.

use feeds_tui::pass::description::Description;
use feeds_tui::pass::field::{FIELDS, Shelf};
use feeds_tui::store::file::Document;
use feeds_tui::store::job::{Job, JobFeature, Pass};
use feeds_tui::store::schema;
use feeds_tui::store::shop::{Item, Shop};
use jsonschema::Validator;
use serde_json::{Value, json};
use std::fs;
use std::path::Path;

fn validator(schema: &Value) -> Validator {
    jsonschema::meta::validate(schema).unwrap();
    jsonschema::validator_for(schema).unwrap()
}

#[track_caller]
fn fits(schema: &Value, text: &str) {
    let value: Value = serde_json::from_str(text).unwrap();
    let errors: Vec<String> = validator(schema)
        .iter_errors(&value)
        .map(|e| format!("{}: {e}", e.instance_path()))
        .collect();
    assert!(errors.is_empty(), "{errors:?} in {text}");
}

/// A text for every entry, its example.
fn all(fields: impl Iterator<Item = &'static feeds_tui::pass::field::Field>) -> Description {
    let mut texts = Description::default();
    for field in fields {
        texts.set(field.key, field.example).unwrap();
    }
    texts
}

#[test]
fn what_is_written_fits() {
    fits(&schema::shop(), &Shop::default().written());
    let mut shop = Shop::default();
    for shelf in Shelf::ALL {
        let mut item = Item::new(shelf, "one", all(shelf.fields()));
        item.set("note", "on the left").unwrap();
        shop.add(item).unwrap();
        shop.add(Item::new(shelf, "two", Description::default()))
            .unwrap();
    }
    fits(&schema::shop(), &shop.written());
    fits(&schema::job(), &Job::default().written());
    fits(&schema::job(), &Job::demo().written());
    let mut job = Job::new("all", all(FIELDS.iter()));
    let mut pass = Pass::new("first", all(FIELDS.iter()));
    for (key, text) in [
        ("length", "1 m"),
        ("follows", "none"),
        ("feature", "slot: rough"),
        ("note", "n"),
        ("happened", "h"),
    ] {
        pass.set(key, text).unwrap();
    }
    job.passes.push(pass);
    job.features.push(slot());
    fits(&schema::job(), &job.written());
    let (read, _) = Job::read(&job.written()).unwrap();
    assert_eq!(read.features, job.features);
}

/// A feature with what its pass was planned with.
fn slot() -> JobFeature {
    let text = |(key, text): (&str, &str)| (key.to_owned(), text.to_owned());
    JobFeature {
        name: "slot".to_owned(),
        kind: "slot".to_owned(),
        sizes: vec![text(("width", "3.2mm")), text(("closed", "one"))],
        taken: "wide, in levels with 3 mm square".to_owned(),
        planned: vec![("rough".to_owned(), vec![text(("depth", "1 mm"))])],
        advice: vec![("rough".to_owned(), vec!["once more around".to_owned()])],
    }
}

#[test]
fn files_of_every_version_fit() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("files/v1");
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let text = fs::read_to_string(&path).unwrap();
        let shop = path
            .file_name()
            .unwrap()
            .to_str()
            .unwrap()
            .starts_with("shop-");
        // Nothing in them is told to be wrong, and they are written as they were read.
        if shop {
            round_trip::<Shop>(&text);
        } else {
            round_trip::<Job>(&text);
        }
        fits(&if shop { schema::shop() } else { schema::job() }, &text);
    }
}

#[track_caller]
fn round_trip<T: Document + PartialEq + std::fmt::Debug>(text: &str) {
    let (read, notices) = T::read(text).unwrap();
    assert!(notices.is_empty(), "{notices:?}");
    let (again, notices) = T::read(&read.written()).unwrap();
    assert!(notices.is_empty(), "{notices:?}");
    assert_eq!(again, read);
}

#[test]
fn what_could_not_be_read_does_not_fit() {
    let shop = validator(&schema::shop());
    for wrong in [
        json!([]),
        json!({ "schema": 1 }),
        json!({ "feeds": "job", "schema": 1 }),
        json!({ "feeds": "shop", "schema": 2 }),
        json!({ "feeds": "shop", "schema": 1, "cutters": {} }),
        json!({ "feeds": "shop", "schema": 1, "cutters": [{ "diameter": "4 mm" }] }),
        json!({ "feeds": "shop", "schema": 1, "cutters": [{ "name": "a", "diameter": 4 }] }),
        json!({ "feeds": "shop", "schema": 1, "cutters": [{ "name": "a", "coating": "" }] }),
    ] {
        assert!(!shop.is_valid(&wrong), "{wrong}");
    }
}
