//! What can go wrong: a broken table, a name nobody knows, a question no row answers.

use crate::family::Family;
use feeds_core::error::Offer;
use std::fmt;

/// A data file that does not load.
#[derive(Clone, Debug, PartialEq)]
pub struct TableError {
    /// The data file.
    pub file: &'static str,
    /// The row, counted from 1 within its list; 0 for the file as a whole.
    pub row: usize,
    /// What is wrong with it.
    pub what: String,
}

impl fmt::Display for TableError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.row {
            0 => write!(f, "{}: {}", self.file, self.what),
            row => write!(f, "{}, row {row}: {}", self.file, self.what),
        }
    }
}

impl std::error::Error for TableError {}

/// How a name that was not found stands to the rows there are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NameFit {
    /// Several rows fit; all of them are offered.
    Several,
    /// None fits; those spelt most like it are offered.
    Near,
    /// None fits; it reads like one of a family, of which the nearest rows are offered.
    Like(Family),
    /// None fits, and none is near.
    Far,
}

/// A name that fits no row, or several.
#[derive(Clone, Debug, PartialEq)]
pub struct NotFound {
    /// What was looked for: `stock`, `cutter`, `machine`, `hold`, `sign`.
    pub kind: &'static str,
    /// What was asked.
    pub asked: String,
    /// How it stands to the rows.
    pub fit: NameFit,
    /// Names that would be right, best first.
    pub offers: Vec<Offer>,
    /// How many more fit.
    pub more: usize,
}

impl NotFound {
    /// What is wrong, without the names that would be right.
    pub fn sentence(&self) -> String {
        let Self {
            kind, asked, more, ..
        } = self;
        match self.fit {
            NameFit::Several if *more > 0 => {
                format!("«{asked}» fits {more} more stocks than these; add a word, or name one:")
            }
            NameFit::Several => format!("«{asked}» fits more than one {kind}; name one:"),
            NameFit::Near => format!("no {kind} is called «{asked}»; nearest:"),
            NameFit::Like(family) => {
                let like = family.word();
                let classes = if self.offers.len() > 1 {
                    "classes"
                } else {
                    "class"
                };
                format!("no {kind} is called «{asked}»; it looks like {like}. Nearest {classes}:")
            }
            NameFit::Far => format!(
                "no {kind} is called «{asked}»; a stock is named by its designation (AISI, SAE, \
                 EN, UNS) or its class: powder steel, stainless, tool steel, carbon steel, \
                 layered steel, titanium, aluminium, brass, bronze, nickel silver, copper, \
                 nickel, laminate"
            ),
        }
    }
}

impl fmt::Display for NotFound {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.sentence())?;
        if !self.offers.is_empty() {
            write!(f, " {}", Offer::list(&self.offers))?;
        }
        Ok(())
    }
}

impl std::error::Error for NotFound {}

/// A question the tables cannot answer. Never a pass: the check stays unknown.
#[derive(Clone, Debug, PartialEq)]
pub struct Unknown {
    /// What would have to be known, or which row is missing.
    pub needs: String,
    /// The nearest row, where one exists.
    pub nearest: Option<String>,
    /// What to do about it.
    pub advice: String,
}

impl Unknown {
    /// What would have to be known, the nearest row and what to do.
    pub fn said(&self) -> String {
        let nearest = self
            .nearest
            .iter()
            .map(|row| format!("; nearest row: {row}"));
        let nearest: String = nearest.collect();
        format!("{}{nearest}; {}", self.needs, self.advice)
    }
}

impl fmt::Display for Unknown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "not known: {}", self.said())
    }
}

impl std::error::Error for Unknown {}
