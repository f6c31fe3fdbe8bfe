//! What the trade calls an entry, and the words that an entry takes: read, never written.

use super::field::{FIELDS, Field, Key, Takes};
use feeds_core::entry::Entry;
use feeds_core::nearest::same;
use feeds_core::quantity::read::is_plain;
use reference_tables::state::condition_word;
use std::borrow::Cow;

/// Another name of an entry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Alias {
    /// As it is typed, which is the flag without its dashes.
    pub typed: &'static str,
    /// The entry.
    pub key: Key,
    /// The unit that the name tells; a plain number typed under it has that unit.
    pub unit: Option<&'static str>,
}

/// What the trade calls an entry.
pub fn of_key(key: Key) -> impl Iterator<Item = Alias> {
    let names = key.field().entry.into_iter().flat_map(Entry::of_trade);
    names.map(move |(typed, unit)| Alias { typed, key, unit })
}

/// What formulas call an entry, where that is another name.
fn of_formulas(key: Key) -> impl Iterator<Item = Alias> {
    let field = key.field();
    let names = field.entry.into_iter().flat_map(Entry::of_formulas);
    let others = names.filter(move |name| names_of(key).all(|other| other != *name));
    others.map(move |typed| Alias {
        typed,
        key,
        unit: None,
    })
}

/// The other names of an entry: what the trade calls it, then what formulas do.
pub fn others(key: Key) -> impl Iterator<Item = Alias> {
    of_key(key).chain(of_formulas(key))
}

/// Every other name of an entry. None is the key of an entry, none means two of them.
pub fn aliases() -> impl Iterator<Item = Alias> {
    FIELDS.iter().flat_map(|f| others(f.id))
}

/// The entry that is called so, and the alias if it is one.
pub(super) fn called(name: &str) -> Option<(&'static Field, Option<Alias>)> {
    let own = FIELDS.iter().find(|f| same(f.key, name));
    let other = || aliases().find(|a| same(a.typed, name));
    own.map(|field| (field, None))
        .or_else(|| other().map(|alias| (alias.key.field(), Some(alias))))
}

/// The key of an entry, and what the trade calls it.
pub fn names_of(key: Key) -> impl Iterator<Item = &'static str> {
    [key.text()].into_iter().chain(of_key(key).map(|a| a.typed))
}

/// The keys of the entries, and what the trade calls them.
pub fn names() -> impl Iterator<Item = &'static str> {
    let keys = FIELDS.iter().map(|f| f.key);
    keys.chain(FIELDS.iter().flat_map(|f| of_key(f.id)).map(|a| a.typed))
}

/// The text of an entry that was typed under a name: the word of the register for a word of the
/// trade, and the unit that the name tells. Any other text is as it was typed.
///
/// # Example
/// ```
/// use feeds_tui::pass::alias::meant;
/// assert_eq!(meant("direction", "Climb"), "down");
/// assert_eq!(meant("condition", "soft"), "annealed");
/// assert_eq!(meant("rpm", "4400"), "4400 rpm");
/// assert_eq!(meant("spindle", "4400"), "4400");
/// ```
pub fn meant<'t>(name: &str, text: &'t str) -> Cow<'t, str> {
    let text = text.trim();
    let (takes, alias) = called(name).map_or((None, None), |(f, a)| (Some(f.takes), a));
    let word = match takes {
        Some(Takes::Choice(words)) => words.meant(text),
        Some(Takes::Condition) => condition_word(text),
        _ => None,
    };
    match (word, alias.and_then(|a| a.unit)) {
        (Some(word), _) => word.into(),
        (None, Some(unit)) if is_plain(text) => format!("{text} {unit}").into(),
        _ => text.into(),
    }
}

/// The words that an entry takes.
#[derive(Clone, Copy, Debug)]
pub struct Words {
    /// Each as it is shown and written.
    pub all: fn() -> Vec<&'static str>,
    /// What the trade says, each with the word it means.
    pub also: fn() -> Vec<(&'static str, &'static str)>,
}

impl Words {
    /// The word that is meant, if there is one.
    pub fn meant(&self, text: &str) -> Option<&'static str> {
        let own = (self.all)().into_iter().find(|word| same(word, text));
        let also = || (self.also)().into_iter().find(|(says, _)| same(says, text));
        own.or_else(|| also().map(|(_, word)| word))
    }

    /// All of them, each with the first that the trade says for it.
    pub fn told(&self) -> String {
        let also = (self.also)();
        let told = |word: &'static str| match also.iter().find(|(_, means)| *means == word) {
            Some((says, _)) => format!("{word} ({says})"),
            None => word.to_owned(),
        };
        let all: Vec<String> = (self.all)().into_iter().map(told).collect();
        all.join(", ")
    }
}

/// What help says of the other names of an entry and of its words; empty if it has none.
pub fn also(field: &Field) -> String {
    let keys: Vec<String> = of_key(field.id).map(|a| format!("--{}", a.typed)).collect();
    let mut said = String::new();
    if !keys.is_empty() {
        said = format!("; also typed as {}", keys.join(", "));
    }
    if let Takes::Choice(words) = field.takes {
        let also: Vec<String> = (words.also)()
            .into_iter()
            .map(|(says, word)| format!("{says} = {word}"))
            .collect();
        if !also.is_empty() {
            said = format!("{said}; also read: {}", also.join(", "));
        }
    }
    said
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_name_means_two_things() {
        let all: Vec<Alias> = aliases().collect();
        for alias in &all {
            // A formula may spell a key or an alias in its own letters, but of the same entry.
            let keys = FIELDS.iter().filter(|f| same(f.key, alias.typed));
            let others = all.iter().filter(|o| same(o.typed, alias.typed));
            let mut meant = keys.map(|f| f.id).chain(others.map(|o| o.key));
            assert!(meant.all(|key| key == alias.key), "{alias:?}");
        }
        for field in FIELDS {
            let Takes::Choice(words) = field.takes else {
                continue;
            };
            let also = (words.also)();
            for (at, (says, word)) in also.iter().enumerate() {
                let own = (words.all)();
                assert!(
                    own.contains(word) && !own.iter().any(|w| same(w, says)),
                    "{says}"
                );
                assert!(!also[at + 1..].iter().any(|(s, _)| same(s, says)), "{says}");
            }
        }
    }
}
