//! Things from a shelf: named sets of texts, each with the origin of its numbers.

use super::field::{FIELDS, Shelf, Takes, field};
use super::resolve::{Shelves, not_found};
use feeds_core::error::{Cause, EntryError};
use feeds_core::notebook::Origin;
use reference_tables::pass::RowValues;
use reference_tables::{Tables, tables};

/// A thing from a shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// Its name.
    pub name: String,
    /// Its texts by key, with where each is from.
    pub texts: Vec<(&'static str, String, Origin)>,
}

impl Part {
    /// The text under a key.
    pub fn get(&self, key: &str) -> Option<(&str, &Origin)> {
        self.texts
            .iter()
            .find(|(k, ..)| *k == key)
            .map(|(_, text, origin)| (text.as_str(), origin))
    }
}

/// Whether something is called that, if the entry names a thing of a shelf; an empty text names
/// none.
///
/// # Errors
/// When nothing of the shop or the tables, or more than one thing, is called that.
pub fn check_name(key: &str, name: &str, shelves: &impl Shelves) -> Result<(), EntryError> {
    let takes = field(key).map(|f| f.takes);
    let (Some(Takes::Name(shelf)), false) = (takes, name.trim().is_empty()) else {
        return Ok(());
    };
    if shelves.find(shelf, name)?.is_some() {
        return Ok(());
    }
    let tables = tables().map_err(|e| EntryError::because(Cause::NoFile, e.to_string()))?;
    match shelf {
        Shelf::Cutters => cutter(tables, name).map(|_| ()),
        Shelf::Machines => machine(tables, name).map(|_| ()),
        Shelf::Holds => hold(tables, name).map(|_| ()),
        Shelf::Stocks => {
            let found = tables.material(name);
            found.map(|_| ()).map_err(|e| not_found(&e, "stock"))
        }
    }
}

/// The whole name of what an entry calls by a part of a name; any other text as it is.
///
/// # Errors
/// As [`check_name`].
pub fn whole_name(key: &str, name: &str, shelves: &impl Shelves) -> Result<String, EntryError> {
    check_name(key, name, shelves)?;
    let name = name.trim();
    let takes = field(key).map(|f| f.takes);
    let (Some(Takes::Name(shelf)), false) = (takes, name.is_empty()) else {
        return Ok(name.to_owned());
    };
    if let Some(part) = shelves.find(shelf, name)? {
        return Ok(part.name);
    }
    Ok(called(shelf, name).map_or(name, |row| row.whole).to_owned())
}

/// A row of the tables that a name calls.
struct Called {
    /// The name to keep: the shortest that is whole.
    whole: &'static str,
    /// Whether the name was a whole one.
    wholly: bool,
}

/// The row of the tables a name calls. A stock is called by what a standard calls it.
fn called(shelf: Shelf, name: &str) -> Option<Called> {
    let tables = tables().ok()?;
    let names: [&'static str; 2] = match shelf {
        Shelf::Cutters => [tables.cutter(name).ok()?.value.name.as_str(); 2],
        Shelf::Machines => {
            let machine = &tables.machine(name).ok()?.value;
            [&machine.key, &machine.name]
        }
        Shelf::Holds => {
            let hold = tables.hold(name).ok()?;
            [&hold.key, &hold.name]
        }
        Shelf::Stocks => return None,
    };
    let is = |whole: &&&str| whole.to_lowercase() == name.trim().to_lowercase();
    Some(match names.iter().find(is) {
        Some(whole) => Called {
            whole,
            wholly: true,
        },
        None => Called {
            whole: names[0],
            wholly: false,
        },
    })
}

/// Whether a name is that of a row of the tables, or of none: a part of it calls nothing that a
/// job could be cut with, for it may have been the name of something that is gone.
///
/// # Errors
/// When it is a part of the name of a row.
pub fn by_whole_name(shelf: Shelf, name: &str) -> Result<(), EntryError> {
    match called(shelf, name) {
        Some(row) if !row.wholly => {
            let word = shelf.word();
            let text = format!(
                "no {word} is called «{name}»; the tables have «{}»: if you mean that, type its \
                 whole name",
                row.whole
            );
            Err(EntryError::because(Cause::Unknown, text).of(word))
        }
        _ => Ok(()),
    }
}

/// A cutter of the tables.
///
/// # Errors
/// When no cutter, or more than one, is called that.
pub fn cutter(tables: &Tables, name: &str) -> Result<Part, EntryError> {
    let row = tables.cutter(name).map_err(|e| not_found(&e, "cutter"))?;
    let c = &row.value;
    let from = tables.origin(&c.name, &row.origin);
    let words = [
        ("end", c.end.word()),
        ("cutter-material", c.material.word()),
        ("coating", c.coating.word()),
    ];
    let words = words.map(|(key, word)| (key, word.to_owned(), from.clone()));
    Ok(part(&c.name, row.values(tables), words))
}

/// A machine of the tables.
///
/// # Errors
/// When no machine, or more than one, is called that.
pub fn machine(tables: &Tables, name: &str) -> Result<Part, EntryError> {
    let row = tables.machine(name).map_err(|e| not_found(&e, "machine"))?;
    let m = &row.value;
    let from = tables.origin(&m.name, &row.origin);
    let axes = [
        ("axis-feed", m.axis_feed().1),
        ("acceleration", m.axis_acceleration().1),
    ];
    let axes = axes.map(|(key, text)| (key, text, from.clone()));
    Ok(part(&m.name, row.values(tables), axes))
}

/// A hold of the tables.
///
/// # Errors
/// When no hold, or more than one, is called that.
pub fn hold(tables: &Tables, name: &str) -> Result<Part, EntryError> {
    let row = tables.hold(name).map_err(|e| not_found(&e, "hold"))?;
    Ok(part(&row.name, row.values(tables), []))
}

/// A row as it is shown: the texts of its values, and those of what has no symbol.
fn part(
    name: &str,
    values: RowValues,
    more: impl IntoIterator<Item = (&'static str, String, Origin)>,
) -> Part {
    let values = values.into_iter().filter_map(|(symbol, known)| {
        let field = FIELDS.iter().find(|f| f.symbol() == Some(symbol))?;
        Some((field.key, known.text, known.from))
    });
    Part {
        name: name.to_owned(),
        texts: values.chain(more).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pass::field;

    /// Feeds of the axes with a unit each did not fit their column on the screens.
    #[test]
    fn a_unit_that_all_axes_share_stands_once() {
        let machine = machine(tables().unwrap(), "bench-5000").unwrap();
        for (key, shown) in [
            // As `machines.json` has them.
            ("axis-feed", "1500 x 1500 x 800 mm/min"),
            ("acceleration", "0.3 x 0.3 x 0.15 m/s2"),
        ] {
            let (text, _) = machine.get(key).unwrap();
            assert_eq!(text, shown);
            assert!(field::field(key).unwrap().axes(text).is_ok());
        }
    }
}
