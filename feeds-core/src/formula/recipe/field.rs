//! Fields: the entries a recipe takes, each with its range and an example.

use crate::quantity::{Amount, Unit};
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
    Quantity {
        /// Its symbol; its unit is the unit of the range.
        symbol: &'static Symbol,
        /// The least value, in the symbol's unit.
        least: f64,
        /// The most, in the symbol's unit.
        most: f64,
        /// Only whole numbers.
        whole: bool,
        /// The unit of a number typed without one.
        plain: Option<&'static Unit>,
    },
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
        let kind = Kind::Quantity {
            symbol,
            least: range.0,
            most: range.1,
            whole: false,
            plain: None,
        };
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
        let Kind::Quantity {
            symbol,
            least,
            most,
            plain,
            ..
        } = self.kind
        else {
            return self;
        };
        let kind = Kind::Quantity {
            symbol,
            least,
            most,
            whole: true,
            plain,
        };
        Self { kind, ..self }
    }

    /// The same field, reading a number without a unit in `unit`.
    pub(super) const fn plain_in(self, unit: &'static Unit) -> Self {
        let Kind::Quantity {
            symbol,
            least,
            most,
            whole,
            ..
        } = self.kind
        else {
            return self;
        };
        let kind = Kind::Quantity {
            symbol,
            least,
            most,
            whole,
            plain: Some(unit),
        };
        Self { kind, ..self }
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
            Kind::Quantity {
                symbol,
                least,
                most,
                ..
            } => {
                let end = |number: f64| Amount::of(number * symbol.unit.size, symbol.unit);
                format!("{} to {}", end(least), end(most))
            }
            Kind::Choice(words) => words.join(" or "),
            Kind::Sections => "length x diameter, from the holder to the tip".to_owned(),
            Kind::Lives => "cutting speed : tool life, two or more".to_owned(),
        }
    }
}
