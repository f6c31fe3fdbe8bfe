//! Entries that cannot be read, and setups that no cut can have.

use crate::quantity::{Amount, Dimension};
use std::fmt;

/// An entry that cannot be read or used. One sentence, with what would be right.
///
/// # Example
/// ```
/// use feeds_core::quantity::{Length, read::read};
/// let e = read::<Length>("3 mmm").unwrap_err();
/// assert_eq!(e.to_string(), "«mmm» is not a unit of a length: use mm, um, in, thou");
/// ```
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum EntryError {
    /// Nothing was typed.
    Empty {
        /// What was wanted.
        wanted: Dimension,
    },
    /// There is no number at the start.
    NoNumber {
        /// What was typed.
        text: String,
    },
    /// A comma before three digits could be a decimal mark or a thousands mark.
    TwoReadings {
        /// The digits before the comma.
        whole: String,
        /// The digits behind it.
        places: String,
    },
    /// A mark that no number has: a second one, or one with nothing behind it.
    StrayMark {
        /// The number as typed.
        number: String,
    },
    /// A number without its unit.
    NoUnit {
        /// What was typed.
        text: String,
        /// What was wanted.
        wanted: Dimension,
    },
    /// A unit nobody knows.
    UnknownUnit {
        /// The unit as typed.
        unit: String,
        /// What was wanted.
        wanted: Dimension,
    },
    /// A unit of something else.
    WrongKind {
        /// The unit as typed.
        unit: String,
        /// What it measures.
        is: Dimension,
        /// What was wanted.
        wanted: Dimension,
    },
    /// Too large to be a number, or divided by zero.
    NotFinite {
        /// What was typed.
        text: String,
    },
    /// Read, but outside what the field can hold.
    OutOfRange {
        /// The value, in the field's unit.
        value: Amount,
        /// The least the field takes.
        least: Amount,
        /// The most the field takes.
        most: Amount,
        /// Why.
        why: &'static str,
    },
    /// Not one of the words the field takes.
    NotAChoice {
        /// What was typed.
        text: String,
        /// The words it takes.
        choices: String,
    },
    /// Another kind of entry that cannot be used, in a sentence of its own.
    Other {
        /// The sentence.
        sentence: String,
    },
    /// A field that has to be filled.
    Missing {
        /// An example of what would be right.
        example: &'static str,
    },
    /// A name that does not exist here.
    UnknownName {
        /// What kind of name.
        kind: &'static str,
        /// What was typed.
        name: String,
        /// The nearest names there are.
        nearest: String,
    },
    /// An error of a named field.
    In {
        /// The field.
        field: String,
        /// What is wrong.
        error: Box<EntryError>,
    },
}

impl EntryError {
    /// The same error, said of a field.
    #[must_use]
    pub fn of(self, field: &str) -> Self {
        match self {
            inner @ Self::In { .. } => inner,
            inner => Self::In {
                field: field.to_owned(),
                error: Box::new(inner),
            },
        }
    }

    /// A sentence of its own.
    pub fn sentence(text: impl Into<String>) -> Self {
        Self::Other {
            sentence: text.into(),
        }
    }

    /// What is wrong, without the field it is said of.
    pub fn what(&self) -> String {
        match self {
            Self::In { error, .. } => error.to_string(),
            error => error.to_string(),
        }
    }

    /// What would be right, where that can be said in a few words.
    ///
    /// # Example
    /// ```
    /// use feeds_core::quantity::{Length, read::read};
    /// let e = read::<Length>("3 mmm").unwrap_err();
    /// assert_eq!(e.would_be_right().as_deref(), Some("mm, um, in, thou"));
    /// ```
    pub fn would_be_right(&self) -> Option<String> {
        Some(match self {
            Self::Empty { wanted }
            | Self::NoUnit { wanted, .. }
            | Self::UnknownUnit { wanted, .. }
            | Self::WrongKind { wanted, .. } => wanted.offer().to_owned(),
            Self::NoNumber { .. } => "a number, such as 6, 0.25 or 3/16".to_owned(),
            Self::TwoReadings { .. } => {
                "a number without a mark, or a decimal point with other than three places"
                    .to_owned()
            }
            Self::StrayMark { .. } => "a number with one decimal point at most".to_owned(),
            Self::NotFinite { .. } => "a finite number".to_owned(),
            Self::OutOfRange { least, most, .. } => format!("{least} to {most}"),
            Self::NotAChoice { choices, .. } => choices.clone(),
            Self::Missing { example } => (*example).to_owned(),
            Self::UnknownName { nearest, .. } => nearest.clone(),
            Self::In { error, .. } => return error.would_be_right(),
            Self::Other { .. } => return None,
        })
    }

    /// The field it belongs to, if it is known.
    pub fn field(&self) -> Option<&str> {
        match self {
            Self::In { field, .. } => Some(field),
            _ => None,
        }
    }
}

impl fmt::Display for EntryError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty { wanted } => {
                write!(
                    f,
                    "nothing typed: give {} in {}",
                    wanted.word(),
                    wanted.offer()
                )
            }
            Self::NoNumber { text } => {
                write!(
                    f,
                    "«{text}» does not start with a number, such as 6, 0.25 or 3/16"
                )
            }
            Self::TwoReadings { whole, places } => write!(
                f,
                "«{whole},{places}» can be read in two ways: write {whole}{places} or \
                 {whole}.{places}, whichever you mean"
            ),
            // What was meant is not known: no number is offered in its place.
            Self::StrayMark { number } => write!(
                f,
                "«{number}» has a mark too many: a number has one decimal point at most, and no \
                 other mark, such as 0.25"
            ),
            Self::NoUnit { text, wanted } => {
                write!(f, "«{text}» has no unit: add one of {}", wanted.offer())
            }
            Self::UnknownUnit { unit, wanted } => {
                write!(
                    f,
                    "«{unit}» is not a unit of {}: use {}",
                    wanted.word(),
                    wanted.offer()
                )
            }
            Self::WrongKind { unit, is, wanted } => write!(
                f,
                "«{unit}» measures {}, here {} is wanted: use {}",
                is.word(),
                wanted.word(),
                wanted.offer()
            ),
            Self::NotFinite { text } => write!(f, "«{text}» is not a finite number"),
            Self::OutOfRange {
                value,
                least,
                most,
                why,
            } => {
                write!(f, "{value} is not between {least} and {most}: {why}")
            }
            Self::NotAChoice { text, choices } => {
                write!(f, "«{text}» is not one of: {choices}")
            }
            Self::Other { sentence } => f.write_str(sentence),
            Self::Missing { example } => write!(f, "is needed, for example {example}"),
            Self::UnknownName {
                kind,
                name,
                nearest,
            } => {
                write!(f, "there is no {kind} «{name}»: {nearest}")
            }
            Self::In { field, error } => write!(f, "{field}: {error}"),
        }
    }
}

impl std::error::Error for EntryError {}
