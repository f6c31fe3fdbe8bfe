//! The shop: cutters, stocks, machines and holds that stand on the shelf.

use super::entries::{Entries, Keys, put_prose, put_rest, put_texts, unreadable};
use super::file::Document;
use super::head::{self, Kind};
use super::log::{self, Log, TestCutCards};
use super::node::Node;
use super::notice::Notice;
use crate::own::Learnt;
use crate::pass::alias::{meant, names_of};
use crate::pass::description::Description;
use crate::pass::field::{Field, Key, Shelf, field};
use crate::pass::part::Part;
use crate::pass::resolve::Shelves;
use feeds_core::error::{Cause, EntryError};
use feeds_core::nearest::{advice, calls};
use feeds_core::notebook::Origin;
use feeds_core::symbol::System;
use serde_json::{Map, Value};

/// The key of the system that is kept.
pub const UNITS: &str = "units";

/// A thing that stands on a shelf of the shop.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// Which shelf.
    pub shelf: Shelf,
    /// Its name, unlike any other on that shelf.
    pub name: String,
    /// Its entries as typed.
    pub texts: Description,
    /// A note.
    pub note: String,
    rest: Map<String, Value>,
}

impl Item {
    /// A new thing.
    pub fn new(shelf: Shelf, name: &str, texts: Description) -> Self {
        Self {
            shelf,
            name: name.trim().to_owned(),
            texts,
            note: String::new(),
            rest: Map::new(),
        }
    }

    /// Sets an entry, or with `note` the note; an empty text clears it.
    ///
    /// # Errors
    /// When this shelf's parts have no such entry, or the text cannot be read.
    pub fn set(&mut self, key: &str, text: &str) -> Result<(), EntryError> {
        if key == "note" {
            text.trim().clone_into(&mut self.note);
            return Ok(());
        }
        let own = |field: &&Field| Shelf::of_field(field) == Some(self.shelf);
        let Some(field) = field(key).filter(own) else {
            let keys = self.shelf.fields().map(|f| f.id);
            let keys: Vec<&str> = keys.flat_map(names_of).collect();
            let keys = [&keys[..], &["note"]].concat();
            let word = self.shelf.word();
            let sentence = format!(
                "a {word} does not have such an entry: {}",
                advice(key, &keys)
            );
            return Err(EntryError::because(Cause::Unknown, sentence).of(key));
        };
        let text = &meant(key, text);
        if let (false, Some(wrong)) = (text.is_empty(), unreadable(field, text)) {
            return Err(EntryError::because(Cause::Form, wrong).of(field.key));
        }
        self.texts.put(field.id, text);
        Ok(())
    }

    /// What it still needs to be of use.
    ///
    /// # Errors
    /// The first entry that is missing.
    pub fn complete(&self) -> Result<(), EntryError> {
        let neck = [Key::NeckDiameter, Key::NeckLength];
        let half = neck.iter().any(|key| self.texts.get(*key).is_some());
        let needs = self.shelf.needs().iter();
        let mut all = needs.chain(neck.iter().filter(|_| half));
        let missing = all.find(|key| self.texts.get(**key).is_none());
        match missing.map(|key| key.field()) {
            Some(field) => Err(EntryError::Missing {
                example: field.example,
            }
            .of(field.key)),
            None => Ok(()),
        }
    }

    /// The thing as a pass uses it, each text with its origin.
    pub fn part(&self) -> Part {
        let texts = self.texts.iter().map(|(field, text)| {
            let origin = Origin::Typed {
                text: text.to_owned(),
                field: format!("{} «{}», {}", self.shelf.word(), self.name, field.key),
            };
            (field.key, text.to_owned(), origin)
        });
        Part {
            name: self.name.clone(),
            texts: texts.collect(),
        }
    }

    /// The row as it stands in the file.
    pub fn written(&self) -> Value {
        let mut map = Map::new();
        put_prose(&mut map, &[("name", &self.name)]);
        put_texts(&mut map, &self.texts);
        put_prose(&mut map, &[("note", &self.note)]);
        put_rest(&mut map, &self.rest);
        map.into()
    }
}

/// The shop.
///
/// # Example
/// ```
/// use feeds_tui::store::{file::Document, shop::Shop};
/// let text = r#"{ "feeds": "shop", "schema": 1,
///     "cutters": [ { "name": "1/8 in stub", "diameter": "1/8 in", "edges": 4 },
///                  { "name": "3 mm", "diametre": "3 mm", "edges": 4 } ] }"#;
/// let (shop, notices) = Shop::read(text).unwrap();
/// assert_eq!(shop.items.len(), 2);
/// assert_eq!((notices[0].line, notices[0].key.as_str()), (3, "diametre"));
/// assert!(notices[0].text.contains("«diameter»"));
/// ```
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shop {
    /// What stands on the shelves.
    pub items: Vec<Item>,
    /// The system people read and type in here, if it is kept.
    pub units: Option<System>,
    /// The system in use now: what is kept, unless another was asked for. It is not saved.
    pub typed_in: System,
    /// Cuts that were logged.
    pub log: Log,
    /// Cuts in scrap that were planned.
    pub test_cuts: TestCutCards,
    /// Answers go by the book alone, for now. It is not saved.
    pub by_book: bool,
    /// Rows that could not be read, kept as they stand.
    unread: Vec<(Shelf, Value)>,
    rest: Map<String, Value>,
}

impl Shop {
    /// What stands on one shelf.
    pub fn on(&self, shelf: Shelf) -> impl Iterator<Item = &Item> {
        self.items.iter().filter(move |i| i.shelf == shelf)
    }

    /// Where the thing of that name stands: the whole name, or a part that only one has.
    ///
    /// # Errors
    /// When nothing, or more than one thing, is called that.
    pub fn position(&self, shelf: Option<Shelf>, name: &str) -> Result<usize, EntryError> {
        let wanted = name.trim().to_lowercase();
        let all = || {
            let items = self.items.iter().enumerate();
            items.filter(|(_, i)| shelf.is_none_or(|s| s == i.shelf))
        };
        let exact: Vec<usize> = all()
            .filter(|(_, i)| i.name.to_lowercase() == wanted)
            .map(|(at, _)| at)
            .collect();
        let part: Vec<usize> = all()
            .filter(|(_, i)| calls(&wanted, &i.name.to_lowercase()))
            .map(|(at, _)| at)
            .collect();
        let kind = shelf.map_or("thing", Shelf::word);
        match (&exact[..], &part[..]) {
            ([at], _) | ([], [at]) => Ok(*at),
            ([], []) => {
                let names: Vec<&str> = all().map(|(_, i)| i.name.as_str()).collect();
                let nearest = if names.is_empty() {
                    "the shelf is empty".to_owned()
                } else {
                    advice(name, &names)
                };
                Err(EntryError::UnknownName {
                    kind,
                    name: name.to_owned(),
                    nearest,
                })
            }
            (several, part) => {
                let several = if several.is_empty() { part } else { several };
                let names: Vec<String> = several
                    .iter()
                    .map(|&at| format!("{} «{}»", self.items[at].shelf.word(), self.items[at].name))
                    .collect();
                Err(EntryError::because(
                    Cause::Clash,
                    format!("«{name}» can be {}: add the kind", names.join(", ")),
                ))
            }
        }
    }

    /// Puts a new thing on its shelf.
    ///
    /// # Errors
    /// When its name is empty or taken.
    pub fn add(&mut self, item: Item) -> Result<(), EntryError> {
        if item.name.is_empty() {
            return Err(EntryError::because(Cause::Wanting, "it needs a name").of("name"));
        }
        if self
            .on(item.shelf)
            .any(|i| i.name.to_lowercase() == item.name.to_lowercase())
        {
            let (word, name) = (item.shelf.word(), &item.name);
            let sentence =
                format!("there is a {word} «{name}» already: change it, or choose another name");
            return Err(EntryError::because(Cause::Clash, sentence).of("name"));
        }
        self.items.push(item);
        Ok(())
    }

    /// Puts `item` in the place of another.
    ///
    /// # Errors
    /// When its name is empty or taken; nothing is changed then.
    pub fn change(&mut self, at: usize, item: Item) -> Result<(), EntryError> {
        let mut others = self.clone();
        others.items.remove(at);
        others.add(item.clone())?;
        self.items[at] = item;
        Ok(())
    }

    /// The rows of one shelf as they stand in the file.
    pub fn rows(&self, shelf: Shelf) -> Vec<Value> {
        let unread = self.unread.iter().filter(|(s, _)| *s == shelf);
        self.on(shelf)
            .map(Item::written)
            .chain(unread.map(|(_, value)| value.clone()))
            .collect()
    }

    fn list(&mut self, shelf: Shelf, node: Node<'_>, notices: &mut Vec<Notice>) {
        let Some(rows) = node.list() else {
            let text = format!("is not a list: write [ ... ] around the {}", shelf.plural());
            notices.push(Notice::new(node.line(), shelf.plural(), text));
            self.unread.push((shelf, node.value()));
            return;
        };
        for row in rows {
            if let Err(notice) = self.row(shelf, row, notices) {
                notices.push(notice);
                self.unread.push((shelf, row.value()));
            }
        }
    }

    fn row(
        &mut self,
        shelf: Shelf,
        node: Node<'_>,
        notices: &mut Vec<Notice>,
    ) -> Result<(), Notice> {
        let refuses = |field: &Field| belongs_elsewhere(shelf, field);
        let keys = Keys {
            prose: &["name", "note"],
            refuses: &refuses,
        };
        let not = format!("this {} is not used", shelf.word());
        let Some(mut entries) = Entries::read(node, &keys, notices) else {
            let text = format!(
                "a {} is written as {{ \"name\": ... }}: {not}",
                shelf.word()
            );
            return Err(Notice::new(node.line(), shelf.plural(), text));
        };
        let name = entries.take("name");
        if name.is_empty() {
            let text = format!("is missing or empty: {not}");
            return Err(Notice::new(node.line(), "name", text));
        }
        let item = Item {
            shelf,
            name,
            note: entries.take("note"),
            texts: entries.texts,
            rest: entries.rest,
        };
        if let Err(error) = item.complete() {
            let key = error.field().unwrap_or_default().to_owned();
            let text = error.to_string();
            let text = text.strip_prefix(&format!("{key}: ")).unwrap_or(&text);
            // A key that is there and cannot be read has been told already.
            if !item.rest.contains_key(&key) {
                notices.push(Notice::new(node.line(), &key, text));
            }
        }
        let taken = format!("there is a {} «{}» already: {not}", shelf.word(), item.name);
        self.add(item)
            .map_err(|_| Notice::new(node.line(), "name", taken))
    }
}

fn belongs_elsewhere(shelf: Shelf, field: &Field) -> Option<String> {
    match Shelf::of_field(field) {
        Some(of) if of == shelf => None,
        Some(of) => Some(format!(
            "belongs to a {}, not to a {}: it is kept, not used",
            of.word(),
            shelf.word()
        )),
        None => Some(format!(
            "belongs to a pass, not to a {}: it is kept, not used",
            shelf.word()
        )),
    }
}

/// The log, if a key names it and it is a list.
fn log_of(key: &str, node: Node<'_>, notices: &mut Vec<Notice>) -> Option<Log> {
    (key == log::KEY)
        .then(|| Log::read(node, notices))
        .flatten()
}

/// The planned cuts in scrap, likewise.
fn test_cuts_of(key: &str, node: Node<'_>, notices: &mut Vec<Notice>) -> Option<TestCutCards> {
    (key == log::CARDS)
        .then(|| TestCutCards::read(node, notices))
        .flatten()
}

impl Document for Shop {
    fn read(text: &str) -> Result<(Self, Vec<Notice>), Notice> {
        let mut notices = Vec::new();
        let mut shop = Self::default();
        for (key, node) in head::read(text, Kind::Shop, &mut notices)? {
            if key.name == "$schema" {
                shop.rest.insert(key.name, node.value());
            } else if key.name == UNITS {
                if let Some(system) = node.value().as_str().and_then(System::of_word) {
                    shop.units = Some(system);
                } else {
                    let text = "must be metric or inch: this one is kept, not used";
                    notices.push(Notice::new(key.line(), UNITS, text));
                    shop.rest.insert(key.name, node.value());
                }
            } else if let Some(shelf) = Shelf::ALL.into_iter().find(|s| s.plural() == key.name) {
                shop.list(shelf, node, &mut notices);
            } else if let Some(log) = log_of(&key.name, node, &mut notices) {
                shop.log = log;
            } else if let Some(cards) = test_cuts_of(&key.name, node, &mut notices) {
                shop.test_cuts = cards;
            } else if key.name == log::KEY || key.name == log::CARDS {
                let text = "is not a list: write [ ... ] around the cuts; it is kept, not used";
                notices.push(Notice::new(key.line(), &key.name, text));
                shop.rest.insert(key.name, node.value());
            } else {
                let names = Shelf::ALL.map(Shelf::plural);
                let text = format!("there is no such shelf: {}", advice(&key.name, &names));
                notices.push(Notice::new(key.line(), &key.name, text));
                shop.rest.insert(key.name, node.value());
            }
        }
        Ok((shop, notices))
    }

    fn written(&self) -> String {
        let mut map = head::written(Kind::Shop);
        if let Some(units) = self.units {
            map.insert(UNITS.to_owned(), units.word().into());
        }
        for shelf in Shelf::ALL {
            map.insert(shelf.plural().to_owned(), self.rows(shelf).into());
        }
        if !self.log.is_empty() {
            map.insert(log::KEY.to_owned(), self.log.written());
        }
        if !self.test_cuts.is_empty() {
            map.insert(log::CARDS.to_owned(), self.test_cuts.written());
        }
        put_rest(&mut map, &self.rest);
        head::text(&map.into())
    }
}

impl Shelves for Shop {
    fn typed_in(&self) -> System {
        self.typed_in
    }

    fn find(&self, shelf: Shelf, name: &str) -> Result<Option<Part>, EntryError> {
        match self.position(Some(shelf), name) {
            Ok(at) => Ok(Some(self.items[at].part())),
            Err(EntryError::UnknownName { .. }) => Ok(None),
            Err(several) => Err(several.of(shelf.word())),
        }
    }

    fn learnt(&self) -> Option<&Learnt> {
        (!self.by_book).then(|| self.log.learnt()).flatten()
    }

    fn cutters(&self) -> Vec<String> {
        self.on(Shelf::Cutters)
            .map(|item| item.name.clone())
            .collect()
    }
}
