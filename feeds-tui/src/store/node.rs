//! JSON in which every key and value knows its line.

use super::notice::Notice;
use serde::de::{Deserialize, Deserializer, MapAccess, Visitor};
use serde_json::Value;
use serde_json::value::RawValue;
use std::collections::HashMap;
use std::fmt;

/// How many brackets may lie inside each other: fewer than the reader of JSON takes.
const DEEPEST: usize = 100;

/// A value with its place in the text.
#[derive(Clone, Copy, Debug)]
pub(super) struct Node<'a> {
    whole: &'a str,
    raw: &'a RawValue,
}

/// A key with its place. Lines are counted only when something is to be told.
#[derive(Clone, Debug)]
pub(super) struct Key<'a> {
    pub(super) name: String,
    node: Node<'a>,
}

impl Key<'_> {
    /// The line it stands on.
    pub(super) fn line(&self) -> usize {
        self.node.line()
    }
}

impl<'a> Node<'a> {
    /// Reads a whole text.
    pub(super) fn of(whole: &'a str) -> Result<Self, Notice> {
        match serde_json::from_str(whole) {
            Ok(raw) => Ok(Self { whole, raw }),
            Err(error) => {
                let text = format!(
                    "this is not JSON: {}; look at column {} and just before it",
                    unplaced(&error),
                    error.column()
                );
                Err(Notice::new(error.line().max(1), "", text))
            }
        }
    }

    /// The line it begins on.
    pub(super) fn line(&self) -> usize {
        // The raw text is a part of the whole: its address tells where it begins.
        let at = self
            .raw
            .get()
            .as_ptr()
            .addr()
            .saturating_sub(self.whole.as_ptr().addr());
        self.whole
            .get(..at)
            .map_or(1, |before| 1 + before.matches('\n').count())
    }

    /// The value alone.
    pub(super) fn value(&self) -> Value {
        serde_json::from_str(self.raw.get()).unwrap_or(Value::Null)
    }

    /// Why something in it would be lost, if anything would: a key that stands twice in one object,
    /// a value that cannot be kept.
    pub(super) fn lost(&self) -> Option<Notice> {
        self.lost_below(DEEPEST)
    }

    fn lost_below(&self, deepest: usize) -> Option<Notice> {
        let Some(deeper) = deepest.checked_sub(1) else {
            let text = "is nested in too many brackets: remove some";
            return Some(Notice::new(self.line(), "", text));
        };
        if let Some(members) = self.members() {
            let mut names: HashMap<String, usize> = HashMap::new();
            for (key, value) in members {
                if let Some(first) = names.insert(key.name.clone(), key.line()) {
                    let text = format!(
                        "appears twice in the same object, first on line {first}: one would be \
                         lost, so remove one"
                    );
                    return Some(Notice::new(key.line(), &key.name, text));
                }
                if let Some(notice) = value.lost_below(deeper) {
                    return Some(notice);
                }
            }
            return None;
        }
        let mut list = self.list()?.into_iter();
        list.find_map(|node| node.lost_below(deeper))
    }

    /// Its keys and values in order, if it is an object.
    pub(super) fn members(&self) -> Option<Vec<(Key<'a>, Node<'a>)>> {
        let Members(pairs) = serde_json::from_str(self.raw.get()).ok()?;
        let node = |raw| Node {
            whole: self.whole,
            raw,
        };
        let members = pairs.into_iter().map(|(key, value)| {
            let key = node(key);
            let name = key.text().unwrap_or_default();
            (Key { name, node: key }, node(value))
        });
        Some(members.collect())
    }

    /// Its values, if it is a list.
    pub(super) fn list(&self) -> Option<Vec<Node<'a>>> {
        let list: Vec<&RawValue> = serde_json::from_str(self.raw.get()).ok()?;
        let whole = self.whole;
        Some(list.into_iter().map(|raw| Node { whole, raw }).collect())
    }

    /// The text, if it is one.
    pub(super) fn text(&self) -> Option<String> {
        serde_json::from_str(self.raw.get()).ok()
    }
}

/// What a reader's error says without its place, which is told apart.
fn unplaced(error: &serde_json::Error) -> String {
    let text = error.to_string();
    let text = text
        .rfind(" at line ")
        .map_or(&text[..], |end| &text[..end]);
    match text {
        "key must be a string" => {
            "expected a key in quotation marks; is there a comma too many before it?".to_owned()
        }
        text => text.to_owned(),
    }
}

/// Keys and values as they stand in the text.
struct Members<'a>(Vec<(&'a RawValue, &'a RawValue)>);

impl<'de> Deserialize<'de> for Members<'de> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Pairs;
        impl<'de> Visitor<'de> for Pairs {
            type Value = Members<'de>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("an object")
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
                let mut pairs = Vec::new();
                while let Some(pair) = map.next_entry()? {
                    pairs.push(pair);
                }
                Ok(Members(pairs))
            }
        }
        deserializer.deserialize_map(Pairs)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)] // a test fails by panicking
mod tests {
    use super::Node;

    #[test]
    fn keys_and_values_know_their_lines() {
        let text = "\n{ \"a\": 1,\n\n\"b\\u0063\" :\n [true,\n\"x\"] }\n";
        let members = Node::of(text).unwrap().members().unwrap();
        let seen: Vec<(&str, usize, usize)> = members
            .iter()
            .map(|(k, v)| (k.name.as_str(), k.line(), v.line()))
            .collect();
        assert_eq!(seen, [("a", 2, 2), ("bc", 4, 5)]);
        let list = members[1].1.list().unwrap();
        assert_eq!(list[1].line(), 6);
        assert_eq!(list[1].text().as_deref(), Some("x"));
        assert!(list[0].members().is_none() && list[0].text().is_none());
    }

    #[test]
    fn what_is_no_json_is_told_with_its_line() {
        let notice = Node::of("{\n \"a\": 1\n \"b\": 2\n}").unwrap_err();
        assert_eq!(notice.line, 3);
        assert!(notice.text.contains("not JSON"), "{notice}");
    }
}
