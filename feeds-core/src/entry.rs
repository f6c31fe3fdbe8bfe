//! The register of entries: every quantity that can be typed, each once.
//!
//! An entry has one symbol, one main key, and the range that a pass on a light mill takes. Where a
//! formula takes it too, its key there and its wider range stand beside: a formula is arithmetic
//! for any machine. Flags, screens, files, CSV, schemas and help refer to the rows of this list;
//! nothing else has a range for a quantity that stands here.

/// Entries, each a static of its own and a row of the list.
macro_rules! register {
    ($($(#[$doc:meta])+ $id:ident = $made:expr;)+) => {
        $($(#[$doc])+ pub static $id: Entry = $made;)+
        /// The entries of this file, in its order.
        pub(super) static ENTRIES: &[&Entry] = &[$(&$id),+];
    };
}

mod chatter;
mod cut;
mod cutter;
mod life;
mod machine;
mod shape;
mod stock;

pub use chatter::*;
pub use cut::*;
pub use cutter::*;
pub use life::*;
pub use machine::*;
pub use shape::*;
pub use stock::*;

use crate::nearest::same;
use crate::quantity::Unit;
use crate::range::Range;
use crate::symbol::Symbol;

/// What one door takes: a pass, or a formula.
#[derive(Clone, Copy, Debug)]
pub struct DoorRange {
    /// The key it is typed with.
    pub key: &'static str,
    /// What can be typed.
    pub range: Range,
    /// A text that would be right.
    pub example: &'static str,
    /// What it is for, or why its range is what it is. A pass fills in `{...}`.
    pub why: &'static str,
}

/// Another name of an entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Name {
    /// As the trade says it.
    Trade(&'static str),
    /// As the trade says it, and a plain number under it has this unit.
    Unit(&'static str, &'static str),
    /// The heading of a column, a symbol of ISO 13399.
    Heading(&'static str),
    /// The key in a formula that takes the quantity of another place, such as a bore for a wall.
    Formula(&'static str),
}

/// A quantity that can be typed.
#[derive(Debug)]
pub struct Entry {
    /// Its symbol.
    pub symbol: &'static Symbol,
    /// What else it is called.
    pub names: &'static [Name],
    /// At its main door, which has its main key.
    row: DoorRange,
    /// Whether that is a pass, or formulas alone.
    of_pass: bool,
    /// In a formula, where its main door is a pass.
    wider: Option<DoorRange>,
}

impl Entry {
    /// An entry of a pass.
    const fn of_pass(
        symbol: &'static Symbol,
        key: &'static str,
        (least, most): (f64, f64),
        example: &'static str,
        why: &'static str,
    ) -> Self {
        let row = DoorRange {
            key,
            range: Range::of(symbol, least, most),
            example,
            why,
        };
        Self {
            symbol,
            names: &[],
            row,
            of_pass: true,
            wider: None,
        }
    }

    /// An entry that formulas alone take.
    const fn of_formula(
        symbol: &'static Symbol,
        key: &'static str,
        ends: (f64, f64),
        example: &'static str,
        why: &'static str,
    ) -> Self {
        Self {
            of_pass: false,
            ..Self::of_pass(symbol, key, ends, example, why)
        }
    }

    /// The same entry, which formulas take in a wider range.
    const fn wider(
        self,
        key: &'static str,
        ends: (f64, f64),
        example: &'static str,
        why: &'static str,
    ) -> Self {
        let other = Self::of_pass(self.symbol, key, ends, example, why);
        Self {
            wider: Some(other.row),
            ..self
        }
    }

    /// The same entry, which formulas take in the same range.
    const fn alike(self, key: &'static str, example: &'static str, why: &'static str) -> Self {
        let ends = (self.row.range.least, self.row.range.most);
        self.wider(key, ends, example, why)
    }

    /// The same entry with other names.
    const fn also(self, names: &'static [Name]) -> Self {
        Self { names, ..self }
    }

    /// The same entry, whole numbers only.
    const fn whole(mut self) -> Self {
        self.row.range = self.row.range.whole();
        if let Some(row) = &mut self.wider {
            row.range = row.range.whole();
        }
        self
    }

    /// The same entry, which reads a number without a unit in `unit`.
    const fn plain_in(mut self, unit: &'static Unit) -> Self {
        self.row.range = self.row.range.plain_in(unit);
        self
    }

    /// What its main door takes: a pass, if passes take it at all.
    pub const fn row(&self) -> DoorRange {
        self.row
    }

    /// What its widest door takes, for values that are of no one machine.
    pub const fn widest(&self) -> DoorRange {
        match self.wider {
            Some(row) => row,
            None => self.row,
        }
    }

    /// What a pass takes.
    pub fn pass(&self) -> Option<DoorRange> {
        self.of_pass.then_some(self.row)
    }

    /// What a formula takes.
    pub fn formula(&self) -> Option<DoorRange> {
        self.wider.or((!self.of_pass).then_some(self.row))
    }

    /// Its main key.
    pub fn key(&self) -> &'static str {
        self.row.key
    }

    /// What else the trade calls it, each with the unit it tells.
    pub fn of_trade(&self) -> impl Iterator<Item = (&'static str, Option<&'static str>)> + use<> {
        self.names.iter().filter_map(|name| match *name {
            Name::Trade(text) => Some((text, None)),
            Name::Unit(text, unit) => Some((text, Some(unit))),
            Name::Heading(_) | Name::Formula(_) => None,
        })
    }

    /// The keys it has in formulas.
    pub fn of_formulas(&self) -> impl Iterator<Item = &'static str> + use<> {
        let own = self.formula().map(|row| row.key);
        let others = self.names.iter().filter_map(|name| match *name {
            Name::Formula(key) => Some(key),
            _ => None,
        });
        own.into_iter().chain(others)
    }

    /// The headings a column of it has.
    pub fn headings(&self) -> impl Iterator<Item = &'static str> + use<> {
        self.names.iter().filter_map(|name| match *name {
            Name::Heading(text) => Some(text),
            _ => None,
        })
    }

    /// Whether it is called so in a pass or by the trade, and the unit that this tells.
    ///
    /// # Example
    /// ```
    /// use feeds_core::entry::SPINDLE;
    /// assert_eq!(SPINDLE.called("spindle"), Some(None));
    /// assert_eq!(SPINDLE.called("rpm"), Some(Some("rpm")));
    /// assert_eq!(SPINDLE.called("feed"), None);
    /// ```
    pub fn called(&self, name: &str) -> Option<Option<&'static str>> {
        let own = self.pass().map(|row| (row.key, None));
        let mut all = own.into_iter().chain(self.of_trade());
        all.find(|(text, _)| same(text, name)).map(|(_, unit)| unit)
    }
}

/// Every entry, in the order of this register.
///
/// # Example
/// ```
/// use feeds_core::entry::entries;
/// let diameter = entries().find(|e| e.key() == "diameter").unwrap();
/// let (pass, formula) = (diameter.row(), diameter.widest());
/// assert_eq!((pass.range.most, formula.range.most, formula.key), (50.0, 1000.0, "D"));
/// ```
pub fn entries() -> impl Iterator<Item = &'static Entry> {
    [
        cutter::ENTRIES,
        stock::ENTRIES,
        machine::ENTRIES,
        cut::ENTRIES,
        shape::ENTRIES,
        chatter::ENTRIES,
        life::ENTRIES,
    ]
    .into_iter()
    .flatten()
    .copied()
}
