//! What was typed, by key.

use super::alias::{meant, names};
use super::field::{Field, Key, Named, field};
use feeds_core::error::EntryError;
use feeds_core::nearest::advice;
use std::collections::BTreeMap;

/// What was typed, by key. Empty entries are not kept.
///
/// # Example
/// ```
/// use feeds_tui::pass::description::Description;
/// let mut pass = Description::default();
/// pass.set("diameter", "1/8 in").unwrap();
/// assert_eq!(pass.get("diameter"), Some("1/8 in"));
/// pass.set("flutes", "4").unwrap();
/// assert_eq!(pass.get("edges"), Some("4"));
/// assert!(pass.set("diametre", "3 mm").unwrap_err().to_string().contains("«diameter»"));
/// ```
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Description {
    texts: BTreeMap<Key, String>,
}

impl Description {
    /// Keeps a text under a key; an empty text clears it. What the trade calls a key or a word is
    /// kept as the register has it, so that files and answers have one word for one thing.
    ///
    /// # Errors
    /// When there is no such key; the nearest one is named.
    pub fn set(&mut self, key: &str, text: &str) -> Result<(), EntryError> {
        let field = field(key).ok_or_else(|| {
            let keys: Vec<&str> = names().collect();
            EntryError::UnknownName {
                kind: "entry",
                name: key.to_owned(),
                nearest: advice(key, &keys),
            }
        })?;
        self.keep(field, &meant(key, text));
        Ok(())
    }

    /// The same, under a key that is known.
    pub fn put(&mut self, key: Key, text: &str) {
        self.keep(key.field(), &meant(key.text(), text));
    }

    /// Keeps a text of another description, which needs no reading again.
    pub fn keep(&mut self, field: &'static Field, text: &str) {
        if text.is_empty() {
            self.texts.remove(&field.id);
        } else {
            self.texts.insert(field.id, text.to_owned());
        }
    }

    /// The same, with a text that is known to belong to a key of the register.
    #[must_use]
    pub fn with<K: Named + Copy>(mut self, pairs: &[(K, &str)]) -> Self {
        for (key, text) in pairs {
            let key = key.key();
            debug_assert!(key.is_some(), "no entry for «{text}»");
            if let Some(key) = key {
                self.put(key, text);
            }
        }
        self
    }

    /// What was typed under a key.
    pub fn get(&self, key: impl Named) -> Option<&str> {
        self.texts.get(&key.key()?).map(String::as_str)
    }

    /// Everything that was typed, in the order it is asked.
    pub fn iter(&self) -> impl Iterator<Item = (&'static Field, &str)> {
        let texts = self.texts.iter();
        texts.map(|(key, text)| (key.field(), text.as_str()))
    }

    /// Whether nothing was typed.
    pub fn is_empty(&self) -> bool {
        self.texts.is_empty()
    }
}
