//! A job: the passes of a fitting, in order.

mod feature;
pub(super) mod kept;
mod order;
mod own;

pub use feature::JobFeature;
pub use kept::{KeptChange, KeptThing, PlannedShelves, Take};

use super::entries::{Entries, Keys, put_prose, put_rest, put_texts};
use super::file::Document;
use super::head::{self, Kind};
use super::node::Node;
use super::notice::Notice;
use crate::pass::alias::{meant, names};
use crate::pass::description::Description;
use crate::pass::field::{Field, Key, Shelf, field};
use crate::pass::law;
use feeds_core::error::{Cause, EntryError};
use feeds_core::nearest::{advice, calls};
use serde_json::{Map, Value};

const DEMO: &str = include_str!("../../data/bolster.json");

/// Keys of a pass that are no entries of the register.
pub const OF_PASS: [&str; 10] = [
    "name",
    "tool",
    "programme",
    "begins-at",
    "depth-in-all",
    "length",
    "follows",
    "feature",
    "note",
    "happened",
];

/// What `follows` says when a pass meets no corners of an earlier one.
pub const NONE: &str = "none";

/// One pass of a job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pass {
    /// What it makes.
    pub name: String,
    /// Its entries as typed; those of the job stand for what is missing.
    pub texts: Description,
    /// The number of its tool in the programme, as typed; may be empty.
    pub tool: String,
    /// The name of its programme; may be empty.
    pub programme: String,
    /// Where it begins in Z, as typed; may be empty.
    pub begins: String,
    /// How deep it goes in all, as typed; may be empty.
    pub in_all: String,
    /// Length of the path at the feed, as typed; may be empty.
    pub length: String,
    /// The pass whose corners it meets, by name or number; empty is found out, `none` is none.
    pub follows: String,
    /// The feature it is planned for, and its stage: `guard slot: rough`; may be empty.
    pub feature: String,
    /// A note.
    pub note: String,
    /// What happened when it was run.
    pub happened: String,
    rest: Map<String, Value>,
}

impl Pass {
    /// A new pass.
    pub fn new(name: &str, texts: Description) -> Self {
        Self {
            name: name.trim().to_owned(),
            texts,
            ..Self::default()
        }
    }

    /// Sets an entry, or a text of the job alone, such as its name or note; empty clears it.
    ///
    /// # Errors
    /// When there is no such entry, or its text cannot be read.
    pub fn set(&mut self, key: &str, text: &str) -> Result<(), EntryError> {
        let text = text.trim();
        match key {
            "name" if text.is_empty() => {
                return Err(EntryError::because(Cause::Wanting, "a pass needs a name").of("name"));
            }
            "name" => text.clone_into(&mut self.name),
            "length" => {
                own::readable(Key::Length.field(), text)?;
                text.clone_into(&mut self.length);
            }
            "tool" => {
                if !text.is_empty() {
                    own::tool(text)?;
                }
                text.clone_into(&mut self.tool);
            }
            "programme" => text.clone_into(&mut self.programme),
            "begins-at" => {
                own::readable(Key::BeginsAt.field(), text)?;
                text.clone_into(&mut self.begins);
            }
            "depth-in-all" => {
                own::readable(Key::DepthInAll.field(), text)?;
                text.clone_into(&mut self.in_all);
            }
            "follows" => text.clone_into(&mut self.follows),
            "feature" => text.clone_into(&mut self.feature),
            "note" => text.clone_into(&mut self.note),
            "happened" => text.clone_into(&mut self.happened),
            _ => {
                if let (Some(field), false) = (field(key), text.is_empty()) {
                    field.read(&meant(key, text))?;
                } else if field(key).is_none() {
                    let keys: Vec<&str> = names().chain(OF_PASS).collect();
                    return Err(EntryError::UnknownName {
                        kind: "entry",
                        name: key.to_owned(),
                        nearest: advice(key, &keys),
                    });
                }
                self.texts.set(key, text)?;
            }
        }
        Ok(())
    }

    /// A text of the job alone, as it was typed; empty for any other key.
    pub fn get(&self, key: &str) -> &str {
        match key {
            "name" => &self.name,
            "tool" => &self.tool,
            "programme" => &self.programme,
            "begins-at" => &self.begins,
            "depth-in-all" => &self.in_all,
            "length" => &self.length,
            "follows" => &self.follows,
            "feature" => &self.feature,
            "note" => &self.note,
            "happened" => &self.happened,
            _ => "",
        }
    }

    /// The length in metres, if it was given and can be read.
    pub fn length_si(&self) -> Option<f64> {
        Key::Length.field().read(&self.length).ok().flatten()
    }

    /// The number of its tool, if it was given and can be read.
    pub fn tool_number(&self) -> Option<u32> {
        own::tool(&self.tool).ok()
    }

    /// Where it begins in Z, in metres: nothing said is the top of the part.
    pub fn begins_si(&self) -> f64 {
        Key::BeginsAt
            .field()
            .read(&self.begins)
            .ok()
            .flatten()
            .unwrap_or(0.0)
    }

    /// How deep it goes in all, in metres, if it was given and can be read.
    pub fn in_all_si(&self) -> Option<f64> {
        Key::DepthInAll.field().read(&self.in_all).ok().flatten()
    }

    fn written(&self) -> Value {
        let mut map = Map::new();
        // What it is called and how it is posted stand before its entries.
        let (before, behind) = OF_PASS.split_at(5);
        let text = |key: &&'static str| (*key, self.get(key));
        put_prose(&mut map, &before.iter().map(text).collect::<Vec<_>>());
        put_texts(&mut map, &self.texts);
        put_prose(&mut map, &behind.iter().map(text).collect::<Vec<_>>());
        put_rest(&mut map, &self.rest);
        map.into()
    }
}

/// A job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Job {
    /// What is made.
    pub name: String,
    /// A note.
    pub note: String,
    /// Whether it is the program's example: no passes of a maker's own are put into it.
    pub example: bool,
    /// Entries that all passes share, such as stock, machine and hold.
    pub common: Description,
    /// The passes in order.
    pub passes: Vec<Pass>,
    /// The features that passes are planned for.
    pub features: Vec<JobFeature>,
    /// What the things of the shop were that it is planned with.
    kept: Vec<KeptThing>,
    /// Passes that could not be read, kept as they stand.
    unread: Vec<Value>,
    /// Keys of the common entries that were not understood.
    common_rest: Map<String, Value>,
    rest: Map<String, Value>,
}

impl Job {
    /// A job without passes.
    pub fn new(name: &str, common: Description) -> Self {
        Self {
            name: name.trim().to_owned(),
            common,
            ..Self::default()
        }
    }

    /// The demo: a bolster in layered steel, in seven passes.
    pub fn demo() -> Self {
        Self::read(DEMO).map(|(job, _)| job).unwrap_or_default()
    }

    /// Which pass is called that: its number counted from 1, its name, or a part only one has.
    ///
    /// # Errors
    /// When none is, or several are.
    pub fn position(&self, asked: &str) -> Result<usize, EntryError> {
        let wanted = asked.trim().to_lowercase();
        if let Ok(number) = wanted.parse::<usize>()
            && (1..=self.passes.len()).contains(&number)
        {
            return Ok(number - 1);
        }
        let fits = |test: &dyn Fn(&str) -> bool| -> Vec<usize> {
            let names = self.passes.iter().map(|p| p.name.to_lowercase());
            names
                .enumerate()
                .filter(|(_, n)| test(n))
                .map(|(at, _)| at)
                .collect()
        };
        let exact = fits(&|name| name == wanted);
        let part = if exact.is_empty() {
            fits(&|name| name.contains(&wanted) && calls(&wanted, name))
        } else {
            Vec::new()
        };
        match (&exact[..], &part[..]) {
            ([at], _) | ([], [at]) => Ok(*at),
            ([], []) => {
                let names: Vec<&str> = self.passes.iter().map(|p| p.name.as_str()).collect();
                let nearest = if names.is_empty() {
                    "the job has no passes yet".to_owned()
                } else {
                    advice(asked, &names)
                };
                Err(EntryError::UnknownName {
                    kind: "pass",
                    name: asked.to_owned(),
                    nearest,
                })
            }
            _ => Err(EntryError::because(
                Cause::Clash,
                format!("several passes are called «{asked}»: use the number"),
            )),
        }
    }

    /// Everything a pass is described with: the common entries, and over them its own.
    ///
    /// A pass that names another thing of a shelf takes none of the common entries of that shelf,
    /// and of entries that say the same thing twice, as the two force laws do, only its own.
    pub fn description(&self, pass: &Pass) -> Description {
        let mut all = Description::default();
        let own = |key: &str| pass.texts.get(key).is_some();
        for (field, text) in self.common.iter() {
            let shelf = Shelf::of_field(field).filter(|_| field.id != Key::Stock);
            let other_thing = shelf.is_some_and(|s| own(s.word()));
            let said = ALIKE
                .iter()
                .filter(|keys| keys.contains(&field.key))
                .any(|keys| keys.iter().any(|key| own(key)))
                || law::other(field.key).iter().any(|key| own(key));
            if !other_thing && !said {
                all.keep(field, text);
            }
        }
        for (field, text) in pass.texts.iter() {
            all.keep(field, text);
        }
        all
    }

    fn pass(&mut self, node: Node<'_>, notices: &mut Vec<Notice>) -> Result<(), Notice> {
        let keys = Keys {
            prose: &OF_PASS,
            refuses: &|_| None,
        };
        let Some(mut entries) = Entries::read(node, &keys, notices) else {
            let text = "a pass is written as { \"name\": ... }: this pass is not used";
            return Err(Notice::new(node.line(), "passes", text));
        };
        let mut pass = Pass {
            name: entries.take("name"),
            tool: entries.take("tool"),
            programme: entries.take("programme"),
            begins: entries.take("begins-at"),
            in_all: entries.take("depth-in-all"),
            length: entries.take("length"),
            follows: entries.take("follows"),
            feature: entries.take("feature"),
            note: entries.take("note"),
            happened: entries.take("happened"),
            texts: entries.texts,
            rest: entries.rest,
        };
        if pass.name.is_empty() {
            pass.name = format!("pass {}", self.passes.len() + 1);
            let text = format!("is missing or empty: called «{}»", pass.name);
            notices.push(Notice::new(node.line(), "name", text));
        }
        let read = |field: &'static Field, text: &str| field.read(text).map(|_| ());
        for (key, text, wrong) in [
            ("tool", &pass.tool, own::tool(&pass.tool).map(|_| ())),
            (
                Key::BeginsAt.text(),
                &pass.begins,
                read(Key::BeginsAt.field(), &pass.begins),
            ),
            (
                Key::DepthInAll.text(),
                &pass.in_all,
                read(Key::DepthInAll.field(), &pass.in_all),
            ),
            (
                Key::Length.text(),
                &pass.length,
                read(Key::Length.field(), &pass.length),
            ),
        ] {
            if let (false, Err(error)) = (text.is_empty(), wrong) {
                let at = key_line(node, key).unwrap_or_else(|| node.line());
                notices.push(Notice::new(at, key, error.what()));
            }
        }
        self.passes.push(pass);
        Ok(())
    }

    /// `follows` has to name a pass that comes before; told once all are read.
    fn check_follows(&self, rows: &[Node<'_>], notices: &mut Vec<Notice>) {
        for ((at, pass), row) in self.passes.iter().enumerate().zip(rows) {
            if pass.follows.is_empty() || pass.follows.eq_ignore_ascii_case(NONE) {
                continue;
            }
            let wrong = match self.position(&pass.follows) {
                Ok(before) if before < at => continue,
                Ok(_) => format!("«{}» does not come before this pass", pass.follows),
                Err(error) => error.to_string(),
            };
            let line = key_line(*row, "follows").unwrap_or_else(|| row.line());
            notices.push(Notice::new(line, "follows", wrong));
        }
    }
}

/// Entries that fix the same thing: the pass's own goes before the job's.
const ALIKE: [&[&str]; 3] = [
    &["width", "engagement-angle"],
    &["spindle", "cutting-speed"],
    &["feed", "feed-per-tooth"],
];

fn key_line(node: Node<'_>, name: &str) -> Option<usize> {
    let members = node.members()?;
    members
        .iter()
        .rfind(|(k, _)| k.name == name)
        .map(|(k, _)| k.line())
}

impl Document for Job {
    fn read(text: &str) -> Result<(Self, Vec<Notice>), Notice> {
        let mut notices = Vec::new();
        let mut job = Self::default();
        let mut rows_read = Vec::new();
        for (key, node) in head::read(text, Kind::Job, &mut notices)? {
            let mut say = |text: String| notices.push(Notice::new(key.line(), &key.name, text));
            match (key.name.as_str(), node.text(), node.list()) {
                ("$schema", ..) => {}
                ("name", Some(text), _) => {
                    text.trim().clone_into(&mut job.name);
                    continue;
                }
                ("note", Some(text), _) => {
                    text.trim().clone_into(&mut job.note);
                    continue;
                }
                ("name" | "note", None, _) => {
                    say("is not text: write it in quotation marks".to_owned());
                }
                ("example", ..) if node.value().is_boolean() => {
                    job.example = node.value() == Value::Bool(true);
                    continue;
                }
                ("common", ..) => {
                    let keys = Keys {
                        prose: &[],
                        refuses: &|_| None,
                    };
                    if let Some(entries) = Entries::read(node, &keys, &mut notices) {
                        job.common = entries.texts;
                        job.common_rest = entries.rest;
                        continue;
                    }
                    let text = "is not an object: write { \"stock\": ... }";
                    notices.push(Notice::new(key.line(), "common", text));
                }
                ("passes", _, Some(rows)) => {
                    for row in rows {
                        match job.pass(row, &mut notices) {
                            Ok(()) => {
                                rows_read.push(row);
                            }
                            Err(notice) => {
                                notices.push(notice);
                                job.unread.push(row.value());
                            }
                        }
                    }
                    continue;
                }
                ("passes", _, None) => {
                    say("is not a list: write [ ... ] around the passes".to_owned());
                    job.unread.push(node.value());
                    continue;
                }
                (feature::KEY, ..) => {
                    if let Some(features) = feature::read(node, &mut notices) {
                        job.features = features;
                        continue;
                    }
                    let text = "is not a list of features: it is kept, not used";
                    notices.push(Notice::new(key.line(), feature::KEY, text));
                }
                (kept::KEY, ..) => {
                    if let Some(kept) = kept::read(node, &mut notices) {
                        job.kept = kept;
                        continue;
                    }
                    let text = "is not a set of shelves: it is kept, not used";
                    notices.push(Notice::new(key.line(), kept::KEY, text));
                }
                (name, ..) => {
                    let names = ["name", "note", "example", "common", "passes"];
                    let names = [&names[..], &[feature::KEY, kept::KEY]].concat();
                    say(format!("there is no such key: {}", advice(name, &names)));
                }
            }
            job.rest.insert(key.name, node.value());
        }
        job.check_follows(&rows_read, &mut notices);
        Ok((job, notices))
    }

    fn written(&self) -> String {
        let mut map = head::written(Kind::Job);
        put_prose(&mut map, &[("name", &self.name), ("note", &self.note)]);
        if self.example {
            map.insert("example".to_owned(), true.into());
        }
        let mut common = Map::new();
        put_texts(&mut common, &self.common);
        put_rest(&mut common, &self.common_rest);
        if !common.is_empty() {
            map.insert("common".to_owned(), common.into());
        }
        let passes = self.passes.iter().map(Pass::written);
        let passes: Vec<Value> = passes.chain(self.unread.iter().cloned()).collect();
        map.insert("passes".to_owned(), passes.into());
        if !self.features.is_empty() {
            map.insert(feature::KEY.to_owned(), feature::written(&self.features));
        }
        let kept = kept::written(&self.kept);
        if !kept.is_empty() {
            map.insert(kept::KEY.to_owned(), kept.into());
        }
        put_rest(&mut map, &self.rest);
        head::text(&map.into())
    }
}
