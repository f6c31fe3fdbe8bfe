//! Where the numbers of a pass are from, for those who read the answer.

use super::Reader;
use crate::pass::field::Field;
use feeds_core::notebook::Origin;
use feeds_core::symbol::Symbol;
use serde::Serialize;

/// What a row gave, where more hangs on that than its line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Gave {
    /// The cutting force.
    Force,
    /// A band that a softer stock bounds.
    Capped,
    /// Anything else.
    #[default]
    Other,
}

/// A row that was used.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SourceLine {
    /// What it gave.
    pub what: String,
    /// The value as printed.
    pub value: String,
    /// Source and page.
    pub source: String,
    /// `printed`, `memory` or `common practice`.
    pub basis: String,
    /// Not to be presented as data.
    pub weak: bool,
    /// Used beyond what it was measured for.
    pub extrapolated: bool,
    /// Why this row and no other.
    pub why: String,
    /// What else hangs on it.
    #[serde(skip)]
    pub gave: Gave,
}

impl SourceLine {
    /// What to mind about it, as it stands behind the basis.
    pub fn marks(&self) -> &'static str {
        match (self.weak, self.extrapolated) {
            (true, true) => ", weak, extrapolated",
            (true, false) => ", weak",
            (false, true) => ", extrapolated",
            (false, false) => "",
        }
    }

    /// Whether it tells of the row of that text.
    pub fn is_of(&self, row: &str) -> bool {
        self.what.contains(row) || self.value.contains(row)
    }
}

/// How a reason ends that has nothing but the custom of the trade behind it.
const CUSTOM: &str = "(common practice)";

impl Reader<'_> {
    /// Cites the row of a machine, a hold or a cutter that an entry was taken from. Entries of one
    /// row share a line.
    pub(super) fn taken(&mut self, field: &Field, text: &str, from: &Origin) {
        let Origin::Row {
            source,
            basis,
            weak,
            ..
        } = from
        else {
            return;
        };
        let what = field.station.word();
        let value = format!("{} {text}", field.name);
        let same = |s: &&mut SourceLine| {
            s.what == what && s.source == *source && s.basis == *basis && s.weak == *weak
        };
        if let Some(line) = self.sources.iter_mut().find(same) {
            if !line.value.contains(&value) {
                line.value = format!("{}, {value}", line.value);
            }
            return;
        }
        self.sources.push(SourceLine {
            what: what.to_owned(),
            value,
            source: source.clone(),
            basis: basis.clone(),
            weak: *weak,
            extrapolated: false,
            why: String::new(),
            gave: Gave::Other,
        });
    }

    /// Cites the custom that a value is taken by which nobody gave.
    pub(super) fn assumed(&mut self, key: &'static str, symbol: &Symbol, si: f64, why: &str) {
        let Some(custom) = why.strip_suffix(CUSTOM) else {
            return;
        };
        let value = format!("{}, not given", symbol.show(si, self.typed_in));
        self.sources.push(SourceLine {
            what: Self::field(key).name.to_owned(),
            value,
            source: custom.trim_end().to_owned(),
            basis: "common practice".to_owned(),
            weak: true,
            extrapolated: false,
            why: String::new(),
            gave: Gave::Other,
        });
    }
}
