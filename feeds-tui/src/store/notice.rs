//! What a file says that cannot be used, with its place.

use std::fmt;

/// Something in a file that cannot be used: line, key, and what would be right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    /// The line, counted from 1.
    pub line: usize,
    /// The key, as written in the file.
    pub key: String,
    /// What is wrong, and what would be right.
    pub text: String,
}

impl Notice {
    pub(crate) fn new(line: usize, key: &str, text: impl Into<String>) -> Self {
        Self {
            line,
            key: key.to_owned(),
            text: text.into(),
        }
    }
}

impl fmt::Display for Notice {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { line, key, text } = self;
        if key.is_empty() {
            write!(f, "line {line}: {text}")
        } else {
            write!(f, "line {line}, {key}: {text}")
        }
    }
}
