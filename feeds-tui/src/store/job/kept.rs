//! What the named things of a job were when it was planned, and what became of them since.

use super::Job;
use crate::own::Learnt;
use crate::pass::description::Description;
use crate::pass::field::{Field, Shelf};
use crate::pass::part::{self, Part};
use crate::pass::resolve::Shelves;
use crate::store::entries::{Entries, Keys, put_prose, put_rest, put_texts};
use crate::store::node::Node;
use crate::store::notice::Notice;
use feeds_core::error::{Cause, EntryError};
use feeds_core::notebook::Origin;
use feeds_core::symbol::System;
use serde_json::{Map, Value};
use std::fmt;

/// The key of a job under which they stand.
pub(super) const KEY: &str = "shelf";
/// The key of one that the job goes by whatever the shelf says.
const OWN: &str = "own";

/// A thing of the shop as it was when a job was planned with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptThing {
    /// Which shelf it stood on.
    pub shelf: Shelf,
    /// Its name there.
    pub name: String,
    /// Its entries.
    pub texts: Description,
    /// Whether the job goes by these, whatever the shelf says now.
    pub own: bool,
    rest: Map<String, Value>,
}

/// Which of two a job takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub enum Take {
    /// The thing as it was when the job was planned.
    Was,
    /// The thing as it stands on the shelf now.
    Now,
}

/// What became of a thing that a job was planned with.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptChange {
    /// Which shelf.
    pub shelf: Shelf,
    /// Its name.
    pub name: String,
    /// Whether it is off the shelf.
    pub gone: bool,
    /// Each entry that is another now: its key, what it was and what it is.
    pub entries: Vec<(&'static str, String, String)>,
}

impl fmt::Display for KeptChange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (word, name) = (self.shelf.word(), &self.name);
        let was = |(key, was, _): &(&str, String, String)| format!("{key} {was}");
        let both = |(key, was, now): &(&str, String, String)| format!("{key} was {was}, is {now}");
        let said: Vec<String> = if self.gone {
            self.entries.iter().map(was).collect()
        } else {
            self.entries.iter().map(both).collect()
        };
        let said = said.join("; ");
        if self.gone {
            write!(f, "the {word} «{name}» is off the shelf; it was: {said}")
        } else {
            write!(f, "the {word} «{name}» has changed on the shelf: {said}")
        }
    }
}

impl KeptThing {
    fn of(shelf: Shelf, part: &Part) -> Self {
        let mut texts = Description::default();
        for (key, text, _) in &part.texts {
            // What is no entry, such as the faces of a hold, nobody can change.
            let _ = texts.set(key, text);
        }
        Self {
            shelf,
            name: part.name.clone(),
            texts,
            own: false,
            rest: Map::new(),
        }
    }

    /// The same, which goes by what it was whatever the shelf says.
    pub(in crate::store) fn as_own(&self) -> Self {
        Self {
            own: true,
            ..self.clone()
        }
    }

    fn is(&self, shelf: Shelf, name: &str) -> bool {
        self.shelf == shelf && same(&self.name, name)
    }

    /// The thing as a pass uses it.
    fn part(&self) -> Part {
        let texts = self.texts.iter().map(|(field, text)| {
            let (word, name) = (self.shelf.word(), &self.name);
            let origin = Origin::Typed {
                text: text.to_owned(),
                field: format!("{word} «{name}» as planned, {}", field.key),
            };
            (field.key, text.to_owned(), origin)
        });
        Part {
            name: self.name.clone(),
            texts: texts.collect(),
        }
    }

    /// What became of it; nothing if it stands on the shelf as it was.
    fn change(&self, now: Option<&Part>) -> Option<KeptChange> {
        let of = |texts: &Description, key: &str| texts.get(key).unwrap_or("not given").to_owned();
        let stands = now.map(|part| Self::of(self.shelf, part).texts);
        let there = stands.clone().unwrap_or_default();
        let entries: Vec<_> = self
            .shelf
            .fields()
            .filter(|f| self.texts.get(f.key).is_some() || there.get(f.key).is_some())
            .map(|f| (f.key, of(&self.texts, f.key), of(&there, f.key)))
            .filter(|(_, was, now)| was != now)
            .collect();
        (stands.is_none() || !entries.is_empty()).then(|| KeptChange {
            shelf: self.shelf,
            name: self.name.clone(),
            gone: stands.is_none(),
            entries,
        })
    }

    fn written(&self) -> Value {
        let mut map = Map::new();
        put_prose(&mut map, &[("name", &self.name)]);
        put_texts(&mut map, &self.texts);
        put_prose(&mut map, &[(OWN, if self.own { "yes" } else { "" })]);
        put_rest(&mut map, &self.rest);
        map.into()
    }

    fn read(shelf: Shelf, node: Node<'_>, notices: &mut Vec<Notice>) -> Option<Self> {
        let refuses = |field: &Field| {
            let own = Shelf::of_field(field) == Some(shelf);
            (!own).then(|| {
                format!(
                    "is not an entry of a {}: it is kept, not used",
                    shelf.word()
                )
            })
        };
        let keys = Keys {
            prose: &["name", OWN],
            refuses: &refuses,
        };
        let mut entries = Entries::read(node, &keys, notices)?;
        Some(Self {
            shelf,
            name: Some(entries.take("name")).filter(|name| !name.is_empty())?,
            own: entries.take(OWN) == "yes",
            texts: entries.texts,
            rest: entries.rest,
        })
    }
}

fn same(a: &str, b: &str) -> bool {
    a.trim().to_lowercase() == b.trim().to_lowercase()
}

/// Reads what a job keeps of the shop; `None` where it is not written as such.
pub(in crate::store) fn read(node: Node<'_>, notices: &mut Vec<Notice>) -> Option<Vec<KeptThing>> {
    let mut kept = Vec::new();
    for (key, rows) in node.members()? {
        let shelf = Shelf::ALL.into_iter().find(|s| s.plural() == key.name)?;
        for row in rows.list()? {
            kept.push(KeptThing::read(shelf, row, notices)?);
        }
    }
    Some(kept)
}

/// What a job keeps of the shop, as it is written.
pub(in crate::store) fn written(kept: &[KeptThing]) -> Map<String, Value> {
    let mut map = Map::new();
    for shelf in Shelf::ALL {
        let rows = kept.iter().filter(|k| k.shelf == shelf);
        let rows: Vec<Value> = rows.map(KeptThing::written).collect();
        if !rows.is_empty() {
            map.insert(shelf.plural().to_owned(), rows.into());
        }
    }
    map
}

/// The shelves as a job sees them: nothing it was planned with becomes another thing unsaid.
#[derive(Clone, Debug)]
pub struct PlannedShelves<S> {
    kept: Vec<KeptThing>,
    /// What stands on the shelves now.
    pub shop: S,
}

impl<S: Shelves> PlannedShelves<S> {
    /// Things that are kept, on shelves.
    pub(in crate::store) fn of(kept: Vec<KeptThing>, shop: S) -> Self {
        Self { kept, shop }
    }

    /// What is kept, on other shelves.
    pub fn on<T>(&self, shop: T) -> PlannedShelves<T> {
        PlannedShelves {
            kept: self.kept.clone(),
            shop,
        }
    }

    /// What the job keeps of the shop.
    pub fn kept(&self) -> &[KeptThing] {
        &self.kept
    }

    /// What became of the thing of that name since the job was planned with it.
    pub fn change(&self, shelf: Shelf, name: &str) -> Option<KeptChange> {
        let kept = self.kept.iter().find(|k| k.is(shelf, name))?;
        let now = self.shop.find(shelf, name).ok().flatten();
        let now = now.filter(|part| same(&part.name, name));
        kept.change(now.as_ref()).filter(|_| !kept.own)
    }
}

impl<S: Shelves> Shelves for PlannedShelves<S> {
    fn find(&self, shelf: Shelf, name: &str) -> Result<Option<Part>, EntryError> {
        let kept = self.kept.iter().find(|k| k.is(shelf, name));
        if let Some(kept) = kept.filter(|k| k.own) {
            return Ok(Some(kept.part()));
        }
        if let Some(change) = self.change(shelf, name) {
            return Err(EntryError::because(Cause::Clash, change.to_string()).of(shelf.word()));
        }
        let found = self.shop.find(shelf, name)?;
        if found.is_none() {
            part::by_whole_name(shelf, name)?;
        }
        Ok(found)
    }

    fn cutters(&self) -> Vec<String> {
        self.shop.cutters()
    }

    fn typed_in(&self) -> System {
        self.shop.typed_in()
    }

    fn learnt(&self) -> Option<&Learnt> {
        self.shop.learnt()
    }
}

impl Job {
    /// The shelves as this job sees them.
    pub fn planned<S: Shelves>(&self, shop: S) -> PlannedShelves<S> {
        PlannedShelves {
            kept: self.kept.clone(),
            shop,
        }
    }

    /// Keeps what the things of the shop are that it names, and forgets those it names no more.
    /// What it keeps already stays as it is: only [`take`](Self::take) changes that.
    pub fn keep(&mut self, shop: &impl Shelves) {
        let mut named = Vec::new();
        let passes = self.passes.iter_mut().map(|p| &mut p.texts);
        for texts in std::iter::once(&mut self.common).chain(passes) {
            for shelf in Shelf::ALL {
                let Some(name) = texts.get(shelf.word()).map(str::to_owned) else {
                    continue;
                };
                if self.kept.iter().any(|k| k.is(shelf, &name)) {
                    named.push((shelf, name));
                    continue;
                }
                let Ok(Some(part)) = shop.find(shelf, &name) else {
                    continue;
                };
                if part.name != name {
                    // The key is of the register.
                    let _ = texts.set(shelf.word(), &part.name);
                }
                if !self.kept.iter().any(|k| k.is(shelf, &part.name)) {
                    self.kept.push(KeptThing::of(shelf, &part));
                }
                named.push((shelf, part.name));
            }
        }
        let is_named = |k: &KeptThing| named.iter().any(|(shelf, name)| k.is(*shelf, name));
        self.kept.retain(is_named);
    }

    /// Takes a thing as it was when the job was planned, or as it stands on the shelf now.
    ///
    /// # Errors
    /// When the job was planned with nothing of that name, or it is off the shelf.
    pub fn take(
        &mut self,
        shelf: Shelf,
        name: &str,
        which: Take,
        shop: &impl Shelves,
    ) -> Result<(), EntryError> {
        let word = shelf.word();
        let Some(kept) = self.kept.iter_mut().find(|k| k.is(shelf, name)) else {
            let text = format!("the job was planned with no {word} «{name}» of the shop");
            return Err(EntryError::because(Cause::Unknown, text).of(word));
        };
        match which {
            Take::Was => kept.own = true,
            Take::Now => {
                let now = shop.find(shelf, name)?;
                let Some(now) = now.filter(|part| same(&part.name, name)) else {
                    let text = format!("«{name}» is off the shelf: take it as it was, or another");
                    return Err(EntryError::because(Cause::Unknown, text).of(word));
                };
                *kept = KeptThing::of(shelf, &now);
            }
        }
        Ok(())
    }

    /// The things it keeps, in the order it came to name them.
    pub fn kept(&self) -> &[KeptThing] {
        &self.kept
    }
}
