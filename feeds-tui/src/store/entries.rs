//! The entries of one row: texts by key, prose beside them, and whatever else stands there.

use super::node::{Key, Node};
use super::notice::Notice;
use crate::pass::alias::{meant, names_of};
use crate::pass::description::Description;
use crate::pass::field::{FIELDS, Field, Takes, field};
use feeds_core::nearest::nearest;
use reference_tables::hardness::Hardness;
use serde_json::{Map, Value};

/// What a row says, before its prose is handed out.
#[derive(Debug, Default)]
pub(super) struct Entries {
    /// Entries of the register.
    pub(super) texts: Description,
    /// Texts that are no entries, such as a name or a note.
    pub(super) prose: Vec<(&'static str, String)>,
    /// What was not understood, kept as it stands.
    pub(super) rest: Map<String, Value>,
}

/// Which keys a row can have.
pub(super) struct Keys<'k> {
    /// Keys of texts that are no entries.
    pub(super) prose: &'k [&'static str],
    /// Why an entry of the register does not belong here.
    pub(super) refuses: &'k dyn Fn(&Field) -> Option<String>,
}

impl Keys<'_> {
    /// What to say to a key that does not exist.
    fn advice(&self, name: &str) -> String {
        let fields = FIELDS.iter().filter(|f| (self.refuses)(f).is_none());
        let fields = fields.flat_map(|f| names_of(f.id));
        let names = self.prose.iter().copied().chain(fields);
        match nearest(name, names) {
            Some(near) => {
                format!("there is no such key: did you mean «{near}»? It is kept, not used")
            }
            None => "there is no such key here: it is kept, not used".to_owned(),
        }
    }
}

impl Entries {
    /// Reads a row. `None` when it is not an object.
    pub(super) fn read(node: Node<'_>, keys: &Keys<'_>, notices: &mut Vec<Notice>) -> Option<Self> {
        let members = node.members()?;
        let mut entries = Self::default();
        for (key, value) in members {
            entries.member(&key, value, keys, notices);
        }
        Some(entries)
    }

    fn member(
        &mut self,
        key: &Key<'_>,
        node: Node<'_>,
        keys: &Keys<'_>,
        notices: &mut Vec<Notice>,
    ) {
        let name = key.name.as_str();
        let mut say = |text: String| notices.push(Notice::new(key.line(), name, text));
        if let Some(prose) = keys.prose.iter().copied().find(|p| *p == name) {
            if let Some(text) = node.text() {
                self.prose.retain(|(k, _)| *k != prose);
                self.prose.push((prose, text.trim().to_owned()));
                return;
            }
            say("is not text: write it in quotation marks".to_owned());
        } else if let Some(field) = field(name) {
            if let Some(why) = (keys.refuses)(field) {
                say(why);
            } else {
                match typed(field, name, &node.value()) {
                    Ok(_) if name != field.key && self.texts.get(field.key).is_some() => say(
                        format!("names «{}» a second time: it is kept, not used", field.key),
                    ),
                    Ok(text) => {
                        if let Some(wrong) = unreadable(field, &text) {
                            say(wrong);
                        }
                        self.texts.put(field.id, &text);
                        return;
                    }
                    Err(wrong) => say(wrong),
                }
            }
        } else {
            say(keys.advice(name));
        }
        self.rest.insert(name.to_owned(), node.value());
    }

    /// Takes a text that is no entry; empty if it is not there.
    pub(super) fn take(&mut self, key: &str) -> String {
        let at = self.prose.iter().position(|(k, _)| *k == key);
        at.map(|at| self.prose.swap_remove(at).1)
            .unwrap_or_default()
    }
}

/// The text of an entry under its key or another name of it. Plain numbers and yes or no may
/// stand without quotation marks.
fn typed(field: &Field, name: &str, value: &Value) -> Result<String, String> {
    let plain = matches!(field.takes, Takes::Quantity(range) if range.is_plain());
    let example = field.example;
    match value {
        Value::String(text) if text.trim().is_empty() => {
            Err(format!("is empty: write \"{example}\", or leave it out"))
        }
        Value::String(text) => Ok(meant(name, text).into_owned()),
        Value::Number(number) if plain => Ok(number.to_string()),
        Value::Number(number) if field.symbol().is_some() => Err(format!(
            "{number} has no unit: write it as a text, such as \"{example}\""
        )),
        Value::Number(number) if matches!(field.takes, Takes::Name(_)) => Err(format!(
            "{number} is a number, a name is a text: write \"{number}\""
        )),
        Value::Bool(yes) if matches!(field.takes, Takes::YesNo) => {
            Ok(if *yes { "yes" } else { "no" }.to_owned())
        }
        _ => Err(format!("{value} is not text: write \"{example}\"")),
    }
}

/// What is wrong with a text, if it can be told without the rest of the pass.
pub(super) fn unreadable(field: &Field, text: &str) -> Option<String> {
    let wrong = match field.takes {
        Takes::Hardness => text.parse::<Hardness>().err(),
        _ => field.read(text).err().map(|e| e.to_string()),
    }?;
    let head = format!("{}: ", field.key);
    Some(wrong.strip_prefix(&head).unwrap_or(&wrong).to_owned())
}

/// Writes texts that are no entries; empty ones are left out.
pub(super) fn put_prose(map: &mut Map<String, Value>, prose: &[(&str, &str)]) {
    for (key, text) in prose.iter().filter(|(_, text)| !text.is_empty()) {
        map.insert((*key).to_owned(), (*text).into());
    }
}

/// Writes entries as they were typed.
pub(super) fn put_texts(map: &mut Map<String, Value>, texts: &Description) {
    for (field, text) in texts.iter() {
        map.insert(field.key.to_owned(), text.into());
    }
}

/// Writes what was not understood, where nothing else stands.
pub(super) fn put_rest(map: &mut Map<String, Value>, rest: &Map<String, Value>) {
    for (key, value) in rest {
        if !map.contains_key(key) {
            map.insert(key.clone(), value.clone());
        }
    }
}
