//! Where the numbers of a pass are from.

use serde::Serialize;

/// What a row gave, where more hangs on that than its line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Gave {
    /// The cutting force.
    Force,
    /// A band that a softer state of the stock bounds.
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
    /// The same for people who read the other system of units, where it was not printed anywhere.
    #[serde(skip)]
    pub read: Option<String>,
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
    /// The value as people read it; scripts have [`Self::value`], whose unit never changes.
    pub fn value_read(&self) -> &str {
        self.read.as_deref().unwrap_or(&self.value)
    }

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
