//! What the trade calls an entry, and the words that an entry takes: read, never written.

use super::field::{FIELDS, Field, Takes, field};
use feeds_core::nearest::same;
use feeds_core::quantity::Dimension;
use feeds_core::quantity::read::read_si;
use reference_tables::state::condition_word;
use std::borrow::Cow;

/// Another name of an entry.
#[derive(Debug, PartialEq)]
pub struct Alias {
    /// As it is typed, which is the flag without its dashes.
    pub typed: &'static str,
    /// The key of the entry.
    pub key: &'static str,
    /// The unit that the name tells; a plain number typed under it has that unit.
    pub unit: Option<&'static str>,
}

const fn of(typed: &'static str, key: &'static str) -> Alias {
    Alias {
        typed,
        key,
        unit: None,
    }
}

const fn told(typed: &'static str, key: &'static str, unit: &'static str) -> Alias {
    Alias {
        typed,
        key,
        unit: Some(unit),
    }
}

/// Every other name of an entry. None is the key of an entry, none means two of them.
pub static ALIASES: &[Alias] = &[
    of("flutes", "edges"),
    of("teeth", "edges"),
    of("z", "edges"),
    of("overhang", "stick-out"),
    of("reach-out", "stick-out"),
    of("depth-of-cut", "depth"),
    of("doc", "depth"),
    of("a-p", "depth"),
    of("width-of-cut", "width"),
    of("woc", "width"),
    of("stepover", "width"),
    of("step", "width"),
    of("a-e", "width"),
    of("fz", "feed-per-tooth"),
    of("f-z", "feed-per-tooth"),
    of("chip-load", "feed-per-tooth"),
    told("ipt", "feed-per-tooth", "in"),
    told("rpm", "spindle", "rpm"),
];

/// The alias that was typed, if it is one.
pub fn alias(typed: &str) -> Option<&'static Alias> {
    ALIASES.iter().find(|a| same(a.typed, typed))
}

/// The other names of an entry.
pub fn of_key(key: &str) -> impl Iterator<Item = &'static Alias> {
    ALIASES.iter().filter(move |a| a.key == key)
}

/// The key of an entry, and its other names.
pub fn names_of(key: &'static str) -> impl Iterator<Item = &'static str> {
    [key].into_iter().chain(of_key(key).map(|a| a.typed))
}

/// Every name an entry can be called by.
pub fn names() -> impl Iterator<Item = &'static str> {
    let keys = FIELDS.iter().map(|f| f.key);
    keys.chain(ALIASES.iter().map(|a| a.typed))
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
    let word = field(name).and_then(|field| match field.takes {
        Takes::Choice(words) => words.meant(text),
        Takes::Condition => condition_word(text),
        _ => None,
    });
    let plain = || !text.ends_with('%') && read_si(text, Dimension::Ratio).is_ok();
    match (word, alias(name).and_then(|a| a.unit)) {
        (Some(word), _) => word.into(),
        (None, Some(unit)) if plain() => format!("{text} {unit}").into(),
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
    let keys: Vec<String> = of_key(field.key)
        .map(|a| format!("--{}", a.typed))
        .collect();
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
        for (at, alias) in ALIASES.iter().enumerate() {
            assert!(FIELDS.iter().any(|f| f.key == alias.key), "{alias:?}");
            assert!(
                !FIELDS.iter().any(|f| same(f.key, alias.typed)),
                "{alias:?}"
            );
            let others = &ALIASES[at + 1..];
            assert!(
                !others.iter().any(|o| same(o.typed, alias.typed)),
                "{alias:?}"
            );
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
