//! What a command gives back: an answer with its exit code, or why there is none.

mod errors;

use crate::spool::Spool;
use feeds_core::error::{Cause, EntryError};
use serde::Serialize;
use std::fmt::Write as _;
use std::io;
use std::path::PathBuf;

/// The version of every JSON document: raised when a key changes its name or its meaning.
const SCHEMA: u32 = 1;

/// How the program ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum Exit {
    /// Everything asked for is answered, and inside its limits.
    Fine = 0,
    /// Answered: a check is over, or the audit found errors.
    Over = 1,
    /// The arguments or the input cannot be read.
    Unreadable = 2,
    /// A file, or the terminal, cannot be read or written.
    NoFile = 3,
}

/// Who reads a text, and what of it must not be changed on its way out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reads {
    /// People: it is spelt as the terminal can show it.
    People,
    /// People, on pages: it has form feeds of the program's own, and no text of anybody else's.
    OnPages,
    /// People, in colours of the program's own that are in it already.
    InColour,
    /// Machines, such as a shell or a browser: it is never respelt.
    Machine,
    /// Machines, as JSON.
    Json,
}

/// An answer: what goes to standard output, and the exit code that goes with it.
#[derive(Clone, Debug)]
pub struct Answer {
    /// The text, with a line end at its end.
    pub text: String,
    /// A list behind it that may be longer than memory.
    pub list: Option<Spool>,
    /// The exit code.
    pub exit: Exit,
    /// Who reads it.
    pub reads: Reads,
    /// What people should know beside it; goes to standard error, a line each.
    pub told: Vec<String>,
}

impl Answer {
    /// A text for people.
    pub fn plain(text: impl Into<String>) -> Self {
        Self {
            text: text.into(),
            list: None,
            exit: Exit::Fine,
            reads: Reads::People,
            told: Vec::new(),
        }
    }

    /// A text of the program's own for people, in which a form feed begins a page.
    pub fn pages(text: impl Into<String>) -> Self {
        Self {
            reads: Reads::OnPages,
            ..Self::plain(text)
        }
    }

    /// A text for machines, such as a completion script.
    pub fn exact(text: impl Into<String>) -> Self {
        Self {
            reads: Reads::Machine,
            ..Self::plain(text)
        }
    }

    /// A JSON document: `"schema": 1`, then the keys of `body` in their order.
    ///
    /// # Errors
    /// If `body` cannot be written as JSON, such as a map with keys that are no text.
    pub fn json(body: &impl Serialize) -> Result<Self, EntryError> {
        Self::document(&Document {
            schema: SCHEMA,
            body,
        })
    }

    /// A JSON document that brings its `schema` with it.
    ///
    /// # Errors
    /// As [`Answer::json`].
    pub fn document(document: &impl Serialize) -> Result<Self, EntryError> {
        let text = serde_json::to_string_pretty(document).map_err(|e| {
            EntryError::because(Cause::NoResult, format!("the answer is not JSON: {e}"))
        })?;
        Ok(Self {
            reads: Reads::Json,
            ..Self::plain(text + "\n")
        })
    }

    /// The same answer with a list behind it.
    #[must_use]
    pub fn listing(self, list: Option<Spool>) -> Self {
        Self { list, ..self }
    }

    /// The same answer, with more told beside it.
    #[must_use]
    pub fn telling(mut self, told: impl IntoIterator<Item = String>) -> Self {
        self.told.extend(told);
        self
    }

    /// The same answer with another exit code.
    #[must_use]
    pub fn ending(self, exit: Exit) -> Self {
        Self { exit, ..self }
    }
}

#[derive(Serialize)]
struct Document<'a, B> {
    schema: u32,
    #[serde(flatten)]
    body: &'a B,
}

/// Why there is no answer.
#[derive(Debug)]
pub enum Failure {
    /// The arguments are not what the command takes.
    Usage(clap::Error),
    /// A value cannot be read or used.
    Entry {
        /// What is wrong.
        error: EntryError,
        /// What would be right, in lines of its own; may be empty.
        advice: String,
    },
    /// Several values cannot be read or used, or are missing.
    Entries(Vec<EntryError>),
    /// A file cannot be read or written.
    File {
        /// Which.
        path: PathBuf,
        /// Why.
        error: io::Error,
    },
    /// The terminal cannot be used.
    Terminal(io::Error),
}

impl Failure {
    /// The exit code.
    pub fn exit(&self) -> Exit {
        match self {
            Self::Usage(_) | Self::Entry { .. } | Self::Entries(_) => Exit::Unreadable,
            Self::File { .. } | Self::Terminal(_) => Exit::NoFile,
        }
    }

    /// What goes to standard error.
    pub fn text(&self, colour: bool) -> String {
        match self {
            Self::Usage(error) if colour => error.render().ansi().to_string(),
            Self::Usage(error) => error.render().to_string(),
            Self::Entry { error, advice } if advice.is_empty() => {
                format!("error: {}\n", error.lines())
            }
            Self::Entry { error, advice } => format!("error: {}\n\n{advice}\n", error.lines()),
            Self::Entries(errors) => errors.iter().fold(String::new(), |mut text, error| {
                let _ = writeln!(text, "error: {}", error.lines());
                text
            }),
            Self::File { path, error } => format!("error: {}: {error}\n", path.display()),
            Self::Terminal(error) => format!("error: the terminal cannot be used: {error}\n"),
        }
    }
}

impl From<EntryError> for Failure {
    fn from(error: EntryError) -> Self {
        Self::Entry {
            error,
            advice: String::new(),
        }
    }
}
