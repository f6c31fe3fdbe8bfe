//! What can go wrong: a broken table, a name nobody knows, a question no row answers.

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

/// A name that fits no row, or several.
#[derive(Clone, Debug, PartialEq)]
pub struct NotFound {
    /// What was looked for: `stock`, `cutter`, `machine`, `hold`, `sign`.
    pub kind: &'static str,
    /// What was asked.
    pub asked: String,
    /// Whether several rows fit.
    pub several: bool,
    /// Names that would be right, best first.
    pub nearest: Vec<String>,
}

impl fmt::Display for NotFound {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self {
            kind,
            asked,
            several,
            nearest,
        } = self;
        let near = nearest.join("; ");
        if *several {
            write!(f, "'{asked}' fits more than one {kind}: {near}")
        } else {
            write!(f, "no {kind} is called '{asked}'; nearest: {near}")
        }
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

impl fmt::Display for Unknown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "unknown: {}", self.needs)?;
        if let Some(row) = &self.nearest {
            write!(f, "; nearest row: {row}")?;
        }
        write!(f, "; {}", self.advice)
    }
}

impl std::error::Error for Unknown {}
