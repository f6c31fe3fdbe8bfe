//! The head of every file: what it is, and in which version.

use super::VERSION;
use super::node::{Key, Node};
use super::notice::Notice;
use serde_json::{Map, Value};

/// The key that says what a file is.
const KIND: &str = "feeds";
/// The key that says in which version.
const SCHEMA: &str = "schema";

/// What a file is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    Shop,
    Job,
}

impl Kind {
    pub(super) fn word(self) -> &'static str {
        match self {
            Self::Shop => "shop",
            Self::Job => "job",
        }
    }

    fn other(self) -> &'static str {
        match self {
            Self::Shop => "this is a job: the commands «job» and «sheet» read it",
            Self::Job => "this is a shop: use it with --shop",
        }
    }
}

/// Reads the head; gives the other members.
///
/// # Errors
/// When the file is of another kind, of a newer version, or no such file at all, or when something
/// in it would be lost by the next save.
pub(super) fn read<'a>(
    whole: &'a str,
    kind: Kind,
    notices: &mut Vec<Notice>,
) -> Result<Vec<(Key<'a>, Node<'a>)>, Notice> {
    let node = Node::of(whole)?;
    let line = node.line();
    let word = kind.word();
    let right = format!("a {word} begins with {{ \"{KIND}\": \"{word}\", \"{SCHEMA}\": {VERSION},");
    let Some(members) = node.members() else {
        return Err(Notice::new(
            line,
            "",
            format!("this is not a {word}: {right}"),
        ));
    };
    let find = |name: &str| members.iter().find(|(k, _)| k.name == name);
    match find(KIND).map(|(k, v)| (k.line(), v.text())) {
        Some((_, Some(text))) if text == word => {}
        Some((line, Some(text))) if text == "shop" || text == "job" => {
            return Err(Notice::new(line, KIND, kind.other()));
        }
        Some((line, _)) => return Err(Notice::new(line, KIND, right)),
        None => return Err(Notice::new(line, KIND, format!("is missing: {right}"))),
    }
    match find(SCHEMA).map(|(k, v)| (k.line(), v.value())) {
        None => {
            let text = format!("is missing: read as version {VERSION}");
            notices.push(Notice::new(line, SCHEMA, text));
        }
        Some((line, value)) => match value.as_u64() {
            Some(1..=VERSION) => {}
            Some(newer) if newer > VERSION => {
                let text = format!(
                    "the file has version {newer}, this program reads up to {VERSION}: use a \
                     newer program; the file is left as it is"
                );
                return Err(Notice::new(line, SCHEMA, text));
            }
            _ => {
                let text = format!("{value} is not a version: write {VERSION}");
                return Err(Notice::new(line, SCHEMA, text));
            }
        },
    }
    if let Some(lost) = node.lost() {
        return Err(lost);
    }
    let mut rest = members;
    rest.retain(|(k, _)| k.name != KIND && k.name != SCHEMA);
    Ok(rest)
}

/// The head as it is written.
pub(super) fn written(kind: Kind) -> Map<String, Value> {
    let mut map = Map::new();
    map.insert(KIND.to_owned(), kind.word().into());
    map.insert(SCHEMA.to_owned(), VERSION.into());
    map
}

/// A document as text, with a line end at its end.
pub(super) fn text(document: &Value) -> String {
    // Keys are texts and numbers finite: nothing here can fail to be written.
    format!("{document:#}\n")
}
