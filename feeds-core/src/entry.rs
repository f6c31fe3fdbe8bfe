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
pub struct Row {
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
    /// In a pass; the main key is the one here.
    pub pass: Option<Row>,
    /// In a formula.
    pub formula: Option<Row>,
    /// What else it is called.
    pub names: &'static [Name],
}

impl Entry {
    const fn row(
        symbol: &'static Symbol,
        key: &'static str,
        (least, most): (f64, f64),
        example: &'static str,
        why: &'static str,
    ) -> Row {
        Row {
            key,
            range: Range::of(symbol, least, most),
            example,
            why,
        }
    }

    /// An entry of a pass.
    const fn pass(
        symbol: &'static Symbol,
        key: &'static str,
        ends: (f64, f64),
        example: &'static str,
        why: &'static str,
    ) -> Self {
        Self {
            symbol,
            pass: Some(Self::row(symbol, key, ends, example, why)),
            formula: None,
            names: &[],
        }
    }

    /// An entry that formulas alone take.
    const fn formula(
        symbol: &'static Symbol,
        key: &'static str,
        ends: (f64, f64),
        example: &'static str,
        why: &'static str,
    ) -> Self {
        Self {
            symbol,
            pass: None,
            formula: Some(Self::row(symbol, key, ends, example, why)),
            names: &[],
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
        Self {
            formula: Some(Self::row(self.symbol, key, ends, example, why)),
            ..self
        }
    }

    /// The same entry, which formulas take in the same range.
    const fn alike(self, key: &'static str, example: &'static str, why: &'static str) -> Self {
        let Some(Row { range, .. }) = self.pass else {
            return self;
        };
        self.wider(key, (range.least, range.most), example, why)
    }

    /// The same entry with other names.
    const fn also(self, names: &'static [Name]) -> Self {
        Self { names, ..self }
    }

    /// The same entry, whole numbers only.
    const fn whole(mut self) -> Self {
        if let Some(row) = &mut self.pass {
            row.range = row.range.whole();
        }
        if let Some(row) = &mut self.formula {
            row.range = row.range.whole();
        }
        self
    }

    /// The same entry; a formula reads a number without a unit in `unit`.
    const fn plain_in(mut self, unit: &'static Unit) -> Self {
        if let Some(row) = &mut self.formula {
            row.range = row.range.plain_in(unit);
        }
        self
    }

    /// Its main key: that of a pass where it has one.
    pub fn key(&self) -> &'static str {
        self.rows().next().map_or(self.symbol.text, |row| row.key)
    }

    /// What the doors take, that of a pass first.
    pub fn rows(&self) -> impl Iterator<Item = &Row> {
        self.pass.iter().chain(&self.formula)
    }

    /// What a pass takes, for constants: one of an entry that no pass takes does not compile.
    ///
    /// # Panics
    /// Where no pass takes it.
    pub const fn of_pass(&self) -> Row {
        match self.pass {
            Some(row) => row,
            None => panic!("no pass takes this entry"),
        }
    }

    /// What a formula takes, for constants: the widest range there is, for any machine.
    ///
    /// # Panics
    /// Where no formula takes it.
    pub const fn of_formula(&self) -> Row {
        match self.formula {
            Some(row) => row,
            None => panic!("no formula takes this entry"),
        }
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
        let own = self.formula.map(|row| row.key);
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
        let own = self.pass.map(|row| (row.key, None));
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
/// let (pass, formula) = (diameter.pass.unwrap(), diameter.formula.unwrap());
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
