//! The log of a shop: passes that were cut, with what was seen of them.

mod card;

pub use card::{CARDS, TestCut, TestCutCards};

use super::entries::{Entries, Keys, put_prose, put_texts};
use super::job::{Job, KeptThing, PlannedShelves, kept};
use super::node::Node;
use super::notice::Notice;
use crate::own::{CutSeen, Learnt, SeenKey};
use crate::pass::description::Description;
use crate::pass::field::{Field, Key};
use crate::pass::resolve::{Shelves, TablesOnly};
use feeds_core::error::{Cause, EntryError};
use feeds_core::quantity::read::read_si;
use serde_json::{Map, Value};
use std::sync::{Arc, OnceLock};

/// The key of the log in a shop.
pub const KEY: &str = "log";

/// A pass that was cut.
#[derive(Clone, Debug, PartialEq)]
pub struct LoggedCut {
    /// Its number in the log, from 1; none has it twice.
    pub number: u64,
    /// The day, as 2026-11-29.
    pub date: String,
    /// The job it was of; may be empty.
    pub job: String,
    /// The pass.
    pub pass: String,
    /// Everything it was cut with.
    pub cut: Description,
    /// What was seen.
    pub seen: CutSeen,
    /// The range that was given of each reading before it was learnt, in SI base units.
    said: Vec<(SeenKey, [f64; 2])>,
    /// What the things of the shop were that it names.
    things: Vec<KeptThing>,
}

impl LoggedCut {
    /// A row that has no number yet, from a job of the one pass.
    pub fn new(job: &Job, date: String, said: Vec<(SeenKey, [f64; 2])>, seen: CutSeen) -> Self {
        let pass = job.passes.first();
        Self {
            number: 0,
            date,
            job: job.name.clone(),
            pass: pass.map_or_else(String::new, |pass| pass.name.clone()),
            cut: pass.map(|pass| pass.texts.clone()).unwrap_or_default(),
            seen,
            said,
            things: job.kept().iter().map(KeptThing::as_own).collect(),
        }
    }

    /// The cutter's name; empty where it was described by values.
    pub fn cutter(&self) -> &str {
        self.cut.get(Key::Cutter).unwrap_or_default()
    }

    /// The things it was cut with, whatever the shelves say now.
    pub fn shelves(&self) -> PlannedShelves<TablesOnly> {
        self.on(TablesOnly)
    }

    /// The same things, in a shop.
    pub fn on<S: Shelves>(&self, shop: S) -> PlannedShelves<S> {
        PlannedShelves::of(self.things.clone(), shop)
    }

    /// The range that was given of a reading before it was learnt.
    pub fn said(&self, key: SeenKey) -> Option<[f64; 2]> {
        self.said.iter().find(|(k, _)| *k == key).map(|(_, r)| *r)
    }

    /// Whether a reading lay inside the range that was given before it was learnt.
    pub fn was_inside(&self, key: SeenKey) -> Option<bool> {
        let ([low, high], value) = (self.said(key)?, self.seen.value(key)?);
        Some((low..=high).contains(&value))
    }

    fn written(&self) -> Value {
        let mut map = Map::new();
        map.insert("number".to_owned(), self.number.into());
        let prose = [
            ("date", &self.date),
            ("job", &self.job),
            ("pass", &self.pass),
        ];
        put_prose(&mut map, &prose.map(|(key, text)| (key, text.as_str())));
        let mut cut = Map::new();
        put_texts(&mut cut, &self.cut);
        map.insert("cut".to_owned(), cut.into());
        let things = kept::written(&self.things);
        if !things.is_empty() {
            map.insert("shelf".to_owned(), things.into());
        }
        let mut seen = Map::new();
        put_prose(
            &mut seen,
            &self
                .seen
                .iter()
                .map(|(k, t)| (k.word(), t))
                .collect::<Vec<_>>(),
        );
        map.insert("seen".to_owned(), seen.into());
        let mut said = Map::new();
        for (key, ends) in &self.said {
            said.insert(key.word().to_owned(), range_text(*key, *ends).into());
        }
        if !said.is_empty() {
            map.insert("said".to_owned(), said.into());
        }
        map.into()
    }

    fn empty() -> Self {
        Self {
            number: 0,
            date: String::new(),
            job: String::new(),
            pass: String::new(),
            cut: Description::default(),
            seen: CutSeen::default(),
            said: Vec::new(),
            things: Vec::new(),
        }
    }

    /// Reads a member; `None` where it is not understood.
    fn member(&mut self, key: &str, value: Node<'_>, notices: &mut Vec<Notice>) -> Option<()> {
        match key {
            "number" => self.number = value.value().as_u64()?,
            "date" => self.date = value.text()?,
            "job" => self.job = value.text()?,
            "pass" => self.pass = value.text()?,
            "cut" => self.cut = cut(value, notices)?,
            "shelf" => self.things = kept::read(value, notices)?,
            "seen" => self.seen = seen(value)?,
            "said" => self.said = said(value)?,
            _ => return None,
        }
        Some(())
    }

    /// Reads a row.
    fn read(node: Node<'_>, notices: &mut Vec<Notice>) -> Result<Self, Notice> {
        let wrong = |text: &str| Notice::new(node.line(), KEY, text);
        let members = node.members().ok_or_else(|| {
            wrong("a row of the log is written as { \"number\": 1, ... }: this one is not used")
        })?;
        let mut row = Self::empty();
        for (key, value) in members {
            if row.member(&key.name, value, notices).is_none() {
                let text = "is not understood in a row of the log: this row is not used";
                return Err(Notice::new(key.line(), &key.name, text));
            }
        }
        if row.number == 0 || row.cut.is_empty() {
            return Err(wrong(
                "needs a number and what was cut: this row is not used",
            ));
        }
        Ok(row)
    }
}

fn cut(node: Node<'_>, notices: &mut Vec<Notice>) -> Option<Description> {
    let none = |_: &Field| None;
    let keys = Keys {
        prose: &[],
        refuses: &none,
    };
    let entries = Entries::read(node, &keys, notices)?;
    entries.rest.is_empty().then_some(entries.texts)
}

fn seen(node: Node<'_>) -> Option<CutSeen> {
    let mut seen = CutSeen::default();
    for (key, value) in node.members()? {
        seen.set(SeenKey::of_word(&key.name)?, &value.text()?)
            .ok()?;
    }
    Some(seen)
}

fn said(node: Node<'_>) -> Option<Vec<(SeenKey, [f64; 2])>> {
    let mut said = Vec::new();
    for (key, value) in node.members()? {
        let key = SeenKey::of_word(&key.name)?;
        let text = value.text()?;
        let (low, high) = text.split_once(" to ")?;
        let dimension = key.answer()?.unit.dimension;
        let read = |text: &str| read_si(text, dimension).ok();
        said.push((key, [read(low)?, read(high)?]));
    }
    Some(said)
}

/// Both ends in the unit of what is read, with every digit.
fn range_text(key: SeenKey, ends: [f64; 2]) -> String {
    let unit = key.answer().map(|symbol| symbol.unit);
    let end = |si: f64| {
        unit.map_or_else(String::new, |unit| {
            format!("{} {}", si / unit.size, unit.text)
        })
    };
    format!("{} to {}", end(ends[0]), end(ends[1]))
}

/// The log.
#[derive(Clone, Debug, Default)]
pub struct Log {
    cuts: Vec<LoggedCut>,
    /// Rows that could not be read, kept as they stand.
    unread: Vec<Value>,
    /// What it says, once somebody has asked; shared with copies of the shop.
    learnt: Arc<OnceLock<Learnt>>,
}

impl PartialEq for Log {
    fn eq(&self, other: &Self) -> bool {
        self.cuts == other.cuts && self.unread == other.unread
    }
}

impl Log {
    /// The cuts, the oldest first.
    pub fn cuts(&self) -> &[LoggedCut] {
        &self.cuts
    }

    /// What the cuts say; `None` without any.
    pub fn learnt(&self) -> Option<&Learnt> {
        (!self.cuts.is_empty()).then(|| self.learnt.get_or_init(|| Learnt::of(&self.cuts)))
    }

    /// Puts a cut at the end; gives its number.
    pub fn add(&mut self, mut cut: LoggedCut) -> u64 {
        let last = self.cuts.iter().map(|c| c.number).max().unwrap_or(0);
        cut.number = last + 1;
        self.cuts.push(cut);
        self.learnt = Arc::default();
        last + 1
    }

    /// Takes a cut back: the one of that number, or the last.
    ///
    /// # Errors
    /// When there is none.
    pub fn take_back(&mut self, number: Option<u64>) -> Result<LoggedCut, EntryError> {
        let missing = |text: String| EntryError::because(Cause::Unknown, text).of("log");
        let at = match number {
            None => self.cuts.len().checked_sub(1),
            Some(number) => self.cuts.iter().position(|c| c.number == number),
        };
        let Some(at) = at else {
            let numbers: Vec<String> = self.cuts.iter().map(|c| c.number.to_string()).collect();
            return Err(missing(match number {
                Some(number) if !numbers.is_empty() => {
                    format!(
                        "no cut has the number {number}: there are {}",
                        numbers.join(", ")
                    )
                }
                _ => "the log is empty: there is nothing to take back".to_owned(),
            }));
        };
        self.learnt = Arc::default();
        Ok(self.cuts.remove(at))
    }

    /// Whether nothing stands in it.
    pub(super) fn is_empty(&self) -> bool {
        self.cuts.is_empty() && self.unread.is_empty()
    }

    pub(super) fn written(&self) -> Value {
        let cuts = self.cuts.iter().map(LoggedCut::written);
        cuts.chain(self.unread.iter().cloned())
            .collect::<Vec<_>>()
            .into()
    }

    pub(super) fn read(node: Node<'_>, notices: &mut Vec<Notice>) -> Option<Self> {
        let mut log = Self::default();
        for row in node.list()? {
            match LoggedCut::read(row, notices) {
                Ok(cut) if log.cuts.iter().any(|c| c.number == cut.number) => {
                    let text = format!("another cut has the number {}: not used", cut.number);
                    notices.push(Notice::new(row.line(), "number", text));
                    log.unread.push(row.value());
                }
                Ok(cut) => log.cuts.push(cut),
                Err(notice) => {
                    notices.push(notice);
                    log.unread.push(row.value());
                }
            }
        }
        Some(log)
    }
}
