//! Fields: the entries a recipe takes, each with its range and an example.

use crate::quantity::Unit;
use crate::range::Range;
use crate::symbol::Symbol;

/// An entry a recipe takes.
#[derive(Clone, Copy, Debug)]
pub struct Field {
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

impl Field {
    pub(super) const fn quantity(
        key: &'static str,
        symbol: &'static Symbol,
        range: (f64, f64),
        example: &'static str,
        why: &'static str,
    ) -> Self {
        let kind = Kind::Quantity(Range::of(symbol, range.0, range.1));
        Self::of_kind(key, symbol.name, kind, example, why)
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
        }
    }

    /// The same field, not needed.
    pub(super) const fn optional(self) -> Self {
        Self {
            required: false,
            ..self
        }
    }

    /// The same field, taking whole numbers only.
    pub(super) const fn whole(self) -> Self {
        match self.kind {
            Kind::Quantity(range) => Self {
                kind: Kind::Quantity(range.whole()),
                ..self
            },
            _ => self,
        }
    }

    /// The same field, reading a number without a unit in `unit`.
    pub(super) const fn plain_in(self, unit: &'static Unit) -> Self {
        match self.kind {
            Kind::Quantity(range) => Self {
                kind: Kind::Quantity(range.plain_in(unit)),
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
