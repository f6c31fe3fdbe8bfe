//! `feeds shop`: cutters, stocks, machines and holds on the shelf.

use super::files::{Files, told};
use super::pairs::pairs;
use crate::answer::{Answer, Failure};
use crate::arguments::{Example, Look, TEMPLATE, examples, shown};
use crate::pass::description::Description;
use crate::pass::field::Shelf;
use crate::pass::part;
use crate::pass::resolve::TablesOnly;
use crate::pass::text::line;
use crate::store::csv;
use crate::store::file::{FileError, Opened};
use crate::store::save::SaveError;
use crate::store::schema;
use crate::store::shop::{Item, Shop, UNITS};
use crate::words::count;
use clap::{Args, Subcommand};
use feeds_core::error::{Cause, EntryError};
use feeds_core::nearest::advice;
use feeds_core::symbol::System;
use serde_json::json;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

const EXAMPLES: &[Example] = examples! {
    "feeds shop add cutter '4 mm stub' diameter=4mm edges=4 coating=altin flute-length=8mm \
        stick-out=12mm shank=6mm --shop shop.json" =>
        "put a cutter on the shelf, as it is clamped";
    "feeds shop add stock 'bolster billet' stock=1095 condition=annealed hardness='195 HB' \
        --shop shop.json" =>
        "a stock: its row of the tables, with what is known of this piece";
    "feeds shop change '4 mm' stick-out=14mm note='second drawer' --shop shop.json" =>
        "a part of a name is enough";
    "feeds shop list cutters --shop shop.json" => "what is there";
    "feeds shop remove 'bolster billet' --shop shop.json" => "take something off the shelf";
    "feeds shop schema" => "the JSON Schema of the file, for an editor";
};

/// What `feeds shop` takes.
#[derive(Args, Debug)]
#[command(
    help_template = TEMPLATE,
    before_help = shown(EXAMPLES),
    disable_help_subcommand = true,
    subcommand_help_heading = "What to do",
)]
pub struct Flags {
    #[command(subcommand)]
    action: Option<Action>,
}

#[derive(Debug, Subcommand)]
enum Action {
    /// List what is on the shelves
    List {
        /// Only one shelf: cutters, stocks, machines or holds
        #[arg(value_name = "SHELF")]
        shelf: Option<String>,
    },
    /// Show one thing with all its entries
    Show {
        /// Its name, or part of it
        name: String,
    },
    /// Put something new on its shelf
    Add {
        /// What it is: cutter, stock, machine or hold
        #[arg(value_name = "KIND")]
        shelf: String,
        /// Its name
        name: String,
        /// Entries, such as diameter=4mm; `feeds cut --help` lists them
        #[arg(value_name = "ENTRY=VALUE")]
        entries: Vec<String>,
    },
    /// Change entries of a thing; an empty value clears one
    Change {
        /// Its name, or part of it
        name: String,
        /// Entries, such as stick-out=14mm, or name=... or note=...
        #[arg(value_name = "ENTRY=VALUE", required = true)]
        entries: Vec<String>,
    },
    /// Take a thing off its shelf
    Remove {
        /// Its name, or part of it
        name: String,
    },
    /// Keep a setting: the units this shop reads and types
    Set {
        /// What is kept: units
        #[arg(value_name = "SETTING")]
        setting: String,
        /// metric or inch
        #[arg(value_name = "VALUE")]
        value: String,
    },
    /// Import cutters from CSV whose headings are symbols of ISO 13399: DC, ZEFP, RE, FHA ...
    Import {
        /// The list; lengths without a unit are mm, or in with --units inch
        file: PathBuf,
    },
    /// Say where the files of this program are
    Paths,
    /// Print the JSON Schema of a shop file
    Schema,
}

/// Carries out what was asked.
///
/// # Errors
/// If the shop cannot be read or saved, or a name or an entry is wrong.
pub fn answer(flags: &Flags, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    match &flags.action {
        None => list(None, look, files),
        Some(Action::List { shelf }) => {
            let shelf = shelf.as_deref().map(shelf_of).transpose()?;
            list(shelf, look, files)
        }
        Some(Action::Show { name }) => show(name, look, files),
        Some(Action::Add {
            shelf,
            name,
            entries,
        }) => add(shelf_of(shelf)?, name, entries, files),
        Some(Action::Change { name, entries }) => change(name, entries, files),
        Some(Action::Remove { name }) => remove(name, files),
        Some(Action::Set { setting, value }) => keep(setting, value, files),
        Some(Action::Import { file }) => import(file, look, files),
        Some(Action::Paths) => paths(look, files),
        Some(Action::Schema) => Ok(Answer::document(&schema::shop())?),
    }
}

fn shelf_of(word: &str) -> Result<Shelf, EntryError> {
    Shelf::of_word(word).ok_or_else(|| EntryError::NotAChoice {
        text: word.to_owned(),
        choices: Shelf::ALL.map(Shelf::word).join(", "),
    })
}

fn list(shelf: Option<Shelf>, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let file = files.shop_to_change()?;
    let shelves = Shelf::ALL
        .into_iter()
        .filter(|s| shelf.is_none_or(|only| only == *s));
    if look.json {
        let mut document = serde_json::Map::new();
        for shelf in shelves {
            let rows = file.content.rows(shelf);
            document.insert(shelf.plural().to_owned(), rows.into());
        }
        return Ok(told(Answer::json(&document)?, &file));
    }
    let mut text = String::new();
    for shelf in shelves {
        let items: Vec<&Item> = file.content.on(shelf).collect();
        if items.is_empty() {
            continue;
        }
        let _ = writeln!(text, "{}", shelf.plural());
        for item in items {
            line(&mut text, &format!("  {}: ", item.name), &entries_of(item));
        }
    }
    if text.is_empty() {
        let path = file.path.display();
        text = format!("nothing is on the shelf yet ({path}): feeds shop add\n");
    }
    Ok(told(Answer::plain(text), &file))
}

fn entries_of(item: &Item) -> String {
    let entries = item
        .texts
        .iter()
        .map(|(field, text)| format!("{} {text}", field.key));
    let mut all: Vec<String> = entries.collect();
    if !item.note.is_empty() {
        all.push(format!("({})", item.note));
    }
    all.join(", ")
}

fn show(name: &str, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let file = files.shop_to_change()?;
    let item = &file.content.items[file.content.position(None, name)?];
    if look.json {
        let document = json!({ "kind": item.shelf.word(), "entries": item.written() });
        return Ok(told(Answer::json(&document)?, &file));
    }
    let mut text = format!("{} {}\n", item.shelf.word(), item.name);
    for (field, entry) in item.texts.iter() {
        let _ = writeln!(text, "  {:<16} {entry}", field.key);
    }
    if !item.note.is_empty() {
        line(&mut text, "  note             ", &item.note);
    }
    Ok(told(Answer::plain(text), &file))
}

fn add(shelf: Shelf, name: &str, entries: &[String], files: &Files<'_>) -> Result<Answer, Failure> {
    let mut item = Item::new(shelf, name, Description::default());
    set(&mut item, entries)?;
    let (file, ()) = edited(files, |shop| Ok(shop.add(item.clone())?))?;
    let text = format!(
        "{} «{}» is on the shelf ({})\n",
        shelf.word(),
        name.trim(),
        file.path.display()
    );
    Ok(told(Answer::plain(text), &file))
}

/// Sets all entries; tells all that are wrong at once.
fn set(item: &mut Item, entries: &[String]) -> Result<(), Failure> {
    let mut errors = Vec::new();
    for parted in pairs(entries, "diameter=4mm") {
        let set = parted.and_then(|(key, text)| {
            // A stock of the shop names its row of the tables.
            part::check_name(key, text, &TablesOnly)?;
            item.set(key, text)
        });
        errors.extend(set.err());
    }
    errors.extend(item.complete().err().filter(|_| errors.is_empty()));
    if errors.is_empty() {
        Ok(())
    } else {
        Err(Failure::Entries(errors))
    }
}

/// How often a change is made anew because another copy of the program was faster.
const TRIES: usize = 200;

/// Changes the shop and saves it. Who was faster meanwhile keeps what they did: the shop is read
/// again and changed again.
pub(super) fn edited<T>(
    files: &Files<'_>,
    edit: impl Fn(&mut Shop) -> Result<T, Failure>,
) -> Result<(Opened<Shop>, T), Failure> {
    for _ in 0..TRIES {
        let mut file = files.shop_to_change()?;
        let given = edit(&mut file.content)?;
        match file.save(files.disk, None) {
            Ok(()) => return Ok((file, given)),
            Err(FileError::NotSaved(_, SaveError::Changed | SaveError::Busy, _)) => {}
            Err(_) => break,
        }
    }
    let mut file = files.shop_to_change()?;
    let given = edit(&mut file.content)?;
    files.save(&mut file)?;
    Ok((file, given))
}

fn change(name: &str, entries: &[String], files: &Files<'_>) -> Result<Answer, Failure> {
    let (names, entries): (Vec<String>, Vec<String>) = entries
        .iter()
        .cloned()
        .partition(|e| e.starts_with("name="));
    let (file, at) = edited(files, |shop| {
        let at = shop.position(None, name)?;
        let mut item = shop.items[at].clone();
        set(&mut item, &entries)?;
        if let Some((_, new)) = names.last().and_then(|n| n.split_once('=')) {
            new.trim().clone_into(&mut item.name);
        }
        shop.change(at, item)?;
        Ok(at)
    })?;
    let item = &file.content.items[at];
    let mut text = String::new();
    let head = format!("{} {}: ", item.shelf.word(), item.name);
    line(&mut text, &head, &entries_of(item));
    Ok(told(Answer::plain(text), &file))
}

fn remove(name: &str, files: &Files<'_>) -> Result<Answer, Failure> {
    let (file, item) = edited(files, |shop| {
        let at = shop.position(None, name)?;
        Ok(shop.items.remove(at))
    })?;
    let mut text = String::new();
    let word = item.shelf.word();
    let head = format!("{word} «{}» is off the shelf; it was: ", item.name);
    line(&mut text, &head, &entries_of(&item));
    Ok(told(Answer::plain(text), &file))
}

/// Keeps a setting of the shop.
fn keep(setting: &str, value: &str, files: &Files<'_>) -> Result<Answer, Failure> {
    if setting != UNITS {
        return Err(EntryError::UnknownName {
            kind: "setting",
            name: setting.to_owned(),
            nearest: advice(setting, &[UNITS]),
        }
        .into());
    }
    let system = System::of_word(value).ok_or_else(|| {
        let words = System::ALL.map(System::word);
        EntryError::UnknownName {
            kind: "system of units",
            name: value.to_owned(),
            nearest: advice(value, &words),
        }
        .of(UNITS)
    })?;
    let (file, ()) = edited(files, |shop| {
        shop.units = Some(system);
        Ok(())
    })?;
    let text = format!(
        "units: {}, for every answer, screen and sheet; --units overrides it\n",
        system.word()
    );
    Ok(told(Answer::plain(text), &file))
}

fn import(from: &Path, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let no_file = |error| Failure::File {
        path: from.to_owned(),
        error,
    };
    let bytes = files.disk.read(from).map_err(no_file)?;
    let mut file = files.shop_to_change()?;
    let unit = match look.system {
        System::Metric => "mm",
        System::Inch => "in",
    };
    let list = String::from_utf8_lossy(&bytes);
    let report = csv::read(&list, unit, &file.content)
        .map_err(|e| EntryError::because(Cause::NoFile, format!("{}: {e}", from.display())))?;
    for item in &report.added {
        file.content.add(item.clone())?;
    }
    if !report.added.is_empty() {
        files.save(&mut file)?;
    }
    let mut text = String::new();
    for item in &report.added {
        line(&mut text, &format!("{}: ", item.name), &entries_of(item));
    }
    let cutters = count(report.added.len(), "cutter", "cutters");
    let _ = writeln!(text, "{cutters} imported into {}", file.path.display());
    let place = from.display();
    let said = report.said.iter().map(|s| format!("{place}: {s}"));
    Ok(told(Answer::plain(text).telling(said), &file))
}

fn paths(look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let shop = files.shop_path().ok();
    let shown = |path: &Option<PathBuf>| path.as_ref().map(|p| p.display().to_string());
    let rows = [
        ("shop", shown(&shop)),
        ("config", shown(&files.folders.config)),
        ("data", shown(&files.folders.data)),
        ("state", shown(&files.folders.state)),
        ("drafts", shown(&files.folders.drafts())),
    ];
    if look.json {
        let document: serde_json::Map<_, _> = rows
            .into_iter()
            .map(|(key, path)| (key.to_owned(), path.into()))
            .collect();
        return Ok(Answer::json(&document)?);
    }
    let mut text = String::new();
    for (key, path) in rows {
        let path = path.unwrap_or_else(|| "nowhere: HOME is not set".to_owned());
        let _ = writeln!(text, "{key:<8} {path}");
    }
    Ok(Answer::plain(text))
}
