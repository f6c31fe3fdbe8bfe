//! Fields: the entries a recipe takes, each with its range and an example.

use crate::entry::Entry;
use crate::range::Range;
use crate::symbol::Symbol;

/// An entry a recipe takes.
#[derive(Clone, Copy, Debug)]
pub struct RecipeField {
    /// The key it is typed with.
    pub key: &'static str,
    /// What it is, in words.
    pub name: &'static str,
    /// What can be typed.
    pub kind: Kind,
    /// Whether the recipe needs it in every case.
    pub required: bool,
    /// A text that would be right, without the key.
    pub example: &'static str,
    /// Why the range is what it is, or what the entry is for.
    pub why: &'static str,
    /// The row of the register, of a quantity.
    pub entry: Option<&'static Entry>,
}

/// What can be typed into a field.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    /// One quantity.
    Quantity(Range),
    /// One of these words.
    Choice(&'static [&'static str]),
    /// Sections of a cutter from the holder to the tip: length x diameter.
    Sections,
    /// Logged lives: cutting speed : tool life.
    Lives,
}

impl RecipeField {
    /// What formulas take of an entry of the register.
    pub(super) const fn of(entry: &'static Entry) -> Self {
        let row = entry.widest();
        Self {
            entry: Some(entry),
            ..Self::of_kind(
                row.key,
                entry.symbol.name,
                Kind::Quantity(row.range),
                row.example,
                row.why,
            )
        }
    }

    pub(super) const fn of_kind(
        key: &'static str,
        name: &'static str,
        kind: Kind,
        example: &'static str,
        why: &'static str,
    ) -> Self {
        Self {
            key,
            name,
            kind,
            required: true,
            example,
            why,
            entry: None,
        }
    }

    /// The same field, not needed.
    pub(super) const fn optional(self) -> Self {
        Self {
            required: false,
            ..self
        }
    }

    /// The same field under another key that the entry has in formulas.
    pub(super) const fn keyed(self, key: &'static str) -> Self {
        Self { key, ..self }
    }

    /// The same field with another example.
    pub(super) const fn such_as(self, example: &'static str) -> Self {
        Self { example, ..self }
    }

    /// The same field, whose value stands for `symbol` in the formulas.
    pub(super) const fn standing_for(self, symbol: &'static Symbol) -> Self {
        match self.kind {
            Kind::Quantity(range) => Self {
                name: symbol.name,
                kind: Kind::Quantity(Range { symbol, ..range }),
                ..self
            },
            _ => self,
        }
    }

    /// What can be typed, in a few words, for help and manual.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::recipe::recipe;
    /// let field = recipe("cutting-speed").unwrap().fields[1];
    /// assert_eq!(field.takes(), "0.1 1/min to 1000000 1/min");
    /// ```
    pub fn takes(&self) -> String {
        match self.kind {
            Kind::Quantity(range) => {
                let (least, most) = range.ends();
                format!("{least} to {most}")
            }
            Kind::Choice(words) => words.join(" or "),
            Kind::Sections => "length x diameter, from the holder to the tip".to_owned(),
            Kind::Lives => "cutting speed : tool life, two or more".to_owned(),
        }
    }
}
