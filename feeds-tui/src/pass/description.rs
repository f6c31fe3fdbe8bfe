//! What was typed, by key.

use super::alias::{meant, names};
use super::field::{FIELDS, Field, field};
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
    texts: BTreeMap<&'static str, String>,
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
        let text = meant(key, text);
        if text.is_empty() {
            self.texts.remove(field.key);
        } else {
            self.texts.insert(field.key, text.into_owned());
        }
        Ok(())
    }

    /// Keeps a text of another description, which needs no reading again.
    pub fn keep(&mut self, field: &'static Field, text: &str) {
        self.texts.insert(field.key, text.to_owned());
    }

    /// The same, with a text that is known to belong to a key of the register.
    #[must_use]
    pub fn with(mut self, pairs: &[(&str, &str)]) -> Self {
        for (key, text) in pairs {
            debug_assert!(field(key).is_some(), "no entry {key}");
            let _ = self.set(key, text);
        }
        self
    }

    /// What was typed under a key.
    pub fn get(&self, key: &str) -> Option<&str> {
        self.texts.get(key).map(String::as_str)
    }

    /// Everything that was typed, in the order it is asked.
    pub fn iter(&self) -> impl Iterator<Item = (&'static Field, &str)> {
        FIELDS.iter().filter_map(|f| Some((f, self.get(f.key)?)))
    }

    /// Whether nothing was typed.
    pub fn is_empty(&self) -> bool {
        self.texts.is_empty()
    }
}
