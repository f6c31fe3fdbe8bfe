//! Entries that cannot be read, and setups that no cut can have.

use crate::plan::setup::SetupError;
use crate::quantity::{Amount, Dimension};
use crate::symbol::Symbol;
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
        /// What would be right, for example.
        like: &'static str,
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
    /// Another entry that cannot be used.
    Other {
        /// Why.
        cause: Cause,
        /// What is wrong, in a sentence of its own.
        sentence: String,
    },
    /// A name that calls nothing, or more than one thing.
    NotCalled {
        /// What is wrong.
        sentence: String,
        /// Names that would be right, best first.
        offers: Vec<Offer>,
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
    /// Entries that are right one by one, and together no cut can be.
    NoCut(SetupError),
    /// Something is not known for want of this entry.
    Wanting {
        /// What is not known, as a clause.
        unknown: &'static str,
        /// What it is not known without.
        without: String,
        /// What could be typed in its place.
        instead: &'static str,
    },
    /// An error of a named field.
    In {
        /// The field.
        field: String,
        /// What is wrong.
        error: Box<EntryError>,
    },
}

/// Why an entry cannot be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// It is not written in a form that is read.
    Form,
    /// It, or what it comes to with others, lies beyond what is allowed.
    Bound,
    /// Nothing is known by that name, or it may be several things.
    Unknown,
    /// Something is needed that is not there.
    Wanting,
    /// It cannot stand beside another entry, or it stands twice.
    Clash,
    /// It has no part here.
    Idle,
    /// It can be read, and leads to no answer.
    NoResult,
    /// A file or the tables cannot be used.
    NoFile,
}

impl Cause {
    /// The word for scripts.
    pub fn word(self) -> &'static str {
        match self {
            Self::Form => "form",
            Self::Bound => "bound",
            Self::Unknown => "unknown",
            Self::Wanting => "wanting",
            Self::Clash => "clash",
            Self::Idle => "idle",
            Self::NoResult => "no-result",
            Self::NoFile => "no-file",
        }
    }
}

/// A name that would be right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offer {
    /// The name to type.
    pub take: String,
    /// What that is, in a few words; may be empty.
    pub what: String,
}

impl Offer {
    /// A name that needs no words.
    pub fn named(take: impl Into<String>) -> Self {
        Self {
            take: take.into(),
            what: String::new(),
        }
    }

    /// Names in one line.
    ///
    /// # Example
    /// ```
    /// use feeds_core::error::Offer;
    /// let brass = |take: &str| Offer { take: take.to_owned(), what: "brass".to_owned() };
    /// assert_eq!(Offer::list(&[brass("C360"), brass("C260")]), "C360 (brass); C260 (brass)");
    /// assert_eq!(Offer::list(&[Offer::named("vise")]), "vise");
    /// ```
    pub fn list(offers: &[Self]) -> String {
        let each = offers.iter().map(|offer| match offer.what.as_str() {
            "" => offer.take.clone(),
            what => format!("{} ({what})", offer.take),
        });
        each.collect::<Vec<_>>().join("; ")
    }

    /// Names in a numbered list, a line each.
    ///
    /// # Example
    /// ```
    /// use feeds_core::error::Offer;
    /// let vise = Offer { take: "vise".to_owned(), what: "two jaws".to_owned() };
    /// let lines = Offer::lines(&[vise, Offer::named("toe clamps")]);
    /// assert_eq!(lines, "\n  1  vise        two jaws\n  2  toe clamps");
    /// ```
    pub fn lines(offers: &[Self]) -> String {
        let widest = offers.iter().map(|o| o.take.chars().count()).max();
        let widest = widest.unwrap_or_default();
        let each = offers.iter().zip(1..).map(|(Self { take, what }, number)| {
            let line = format!("  {number}  {take:widest$}  {what}");
            format!("\n{}", line.trim_end())
        });
        each.collect()
    }
}

impl EntryError {
    /// The names that would be right, where a name was wrong.
    pub fn offers(&self) -> &[Offer] {
        match self {
            Self::NotCalled { offers, .. } => offers,
            Self::In { error, .. } => error.offers(),
            _ => &[],
        }
    }

    /// The same, with the names that would be right in lines of their own.
    pub fn lines(&self) -> String {
        let inline = Offer::list(self.offers());
        let said = self.to_string();
        match said.strip_suffix(&inline) {
            Some(head) if !inline.is_empty() => {
                format!("{}{}", head.trim_end(), Offer::lines(self.offers()))
            }
            _ => said,
        }
    }

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

    /// An error that no other variant says.
    pub fn because(cause: Cause, sentence: impl Into<String>) -> Self {
        Self::Other {
            cause,
            sentence: sentence.into(),
        }
    }

    /// Why the entry cannot be used, in one of a few words for scripts.
    ///
    /// # Example
    /// ```
    /// use feeds_core::error::Cause;
    /// use feeds_core::quantity::{Length, read::read};
    /// assert_eq!(read::<Length>("3 mmm").unwrap_err().cause(), Cause::Form);
    /// ```
    pub fn cause(&self) -> Cause {
        match self {
            Self::NoNumber { .. }
            | Self::TwoReadings { .. }
            | Self::StrayMark { .. }
            | Self::NoUnit { .. }
            | Self::UnknownUnit { .. }
            | Self::WrongKind { .. } => Cause::Form,
            Self::NotFinite { .. }
            | Self::OutOfRange { .. }
            | Self::NoCut(SetupError::Outside { .. }) => Cause::Bound,
            Self::NotAChoice { .. } | Self::NotCalled { .. } | Self::UnknownName { .. } => {
                Cause::Unknown
            }
            Self::Empty { .. }
            | Self::Missing { .. }
            | Self::Wanting { .. }
            | Self::NoCut(SetupError::Needs { .. } | SetupError::NoBand { .. }) => Cause::Wanting,
            Self::NoCut(SetupError::FixedTwice { .. }) => Cause::Clash,
            Self::In { error, .. } => error.cause(),
            Self::Other { cause, .. } => *cause,
        }
    }

    /// The entries it concerns beside the field it is said of, where several fix the same thing.
    pub fn also_of(&self) -> &[&'static Symbol] {
        match self {
            Self::In { error, .. } => error.also_of(),
            Self::NoCut(SetupError::FixedTwice { entries, .. }) => entries,
            _ => &[],
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
            Self::NoNumber { like, .. } => format!("a number, such as {like}"),
            Self::TwoReadings { .. } => {
                "a number without a mark, or with a decimal point and not three decimals".to_owned()
            }
            Self::StrayMark { .. } => "a number with one decimal point at most".to_owned(),
            Self::NotFinite { .. } => "a finite number".to_owned(),
            Self::OutOfRange { least, most, .. } => format!("{least} to {most}"),
            Self::NotAChoice { choices, .. } => choices.clone(),
            Self::Missing { example } => (*example).to_owned(),
            Self::UnknownName { nearest, .. } => nearest.clone(),
            Self::NotCalled { offers, .. } if offers.is_empty() => return None,
            Self::NotCalled { offers, .. } => {
                let takes: Vec<&str> = offers.iter().map(|o| o.take.as_str()).collect();
                takes.join("; ")
            }
            Self::In { error, .. } => return error.would_be_right(),
            Self::Wanting { instead, .. } => (*instead).to_owned(),
            Self::NoCut(_) | Self::Other { .. } => return None,
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
                    "nothing typed: type {} in {}",
                    wanted.word(),
                    wanted.offer()
                )
            }
            Self::NoNumber { text, like } => {
                write!(f, "«{text}» does not start with a number, such as {like}")
            }
            Self::TwoReadings { whole, places } => write!(
                f,
                "«{whole},{places}» can be read in two ways: write {whole}{places} or \
                 {whole}.{places}, whichever you mean"
            ),
            // What was meant is not known: no number is offered in its place.
            Self::StrayMark { number } => write!(
                f,
                "«{number}» has too many marks: a number has at most one decimal point and no \
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
            Self::Other { sentence, .. } => f.write_str(sentence),
            Self::NotCalled { sentence, offers } if offers.is_empty() => f.write_str(sentence),
            Self::NotCalled { sentence, offers } => {
                write!(f, "{sentence} {}", Offer::list(offers))
            }
            Self::Missing { example } => write!(f, "is needed, for example {example}"),
            Self::UnknownName {
                kind,
                name,
                nearest,
            } => {
                write!(f, "there is no {kind} «{name}»: {nearest}")
            }
            Self::NoCut(error) => f.write_str(&error.sentence()),
            Self::Wanting {
                unknown,
                without,
                instead,
            } => write!(
                f,
                "is needed: {unknown} without {without}; or type {instead}"
            ),
            Self::In { field, error } => write!(f, "{field}: {error}"),
        }
    }
}

impl std::error::Error for EntryError {}
