//! What an entry of a pass is, what it takes, and how it is read. The entries stand in [`Key`].

use super::alias::Words;
pub use super::key::{FIELDS, Key, Named, OF_JOB, field};
use super::{modes, reason, wear};
use crate::axes;
use feeds_core::entry::Entry;
use feeds_core::error::{Cause, EntryError};
use feeds_core::range::Range;
use feeds_core::symbol::Symbol;
use std::sync::OnceLock;

/// The stations of the walk; every entry belongs to one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Station {
    /// The cutter and how it is clamped.
    Cutter,
    /// The stock and its condition.
    Stock,
    /// The machine, and how the part is held.
    Machine,
    /// Where the cutter goes and how much it takes.
    Engagement,
    /// What is fixed, and the answer.
    Answer,
}

impl Station {
    /// In the order they are walked.
    pub const ALL: [Self; 5] = [
        Self::Cutter,
        Self::Stock,
        Self::Machine,
        Self::Engagement,
        Self::Answer,
    ];

    /// The name on the screen.
    pub fn word(self) -> &'static str {
        match self {
            Self::Cutter => "cutter",
            Self::Stock => "stock",
            Self::Machine => "hold and machine",
            Self::Engagement => "engagement",
            Self::Answer => "answer",
        }
    }
}

/// The shelves names are looked up on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shelf {
    /// Cutters.
    Cutters,
    /// Stocks.
    Stocks,
    /// Machines.
    Machines,
    /// Holds.
    Holds,
}

/// What can be typed into an entry.
#[derive(Clone, Copy, Debug)]
pub enum Takes {
    /// A quantity with its unit.
    Quantity(Range),
    /// One of some words.
    Choice(Words),
    /// A name from a shelf, or a part of one.
    Name(Shelf),
    /// A condition of the stock.
    Condition,
    /// A hardness: `58 HRC`, `200 HB`.
    Hardness,
    /// How worn the edge is: a word or a wear land.
    Wear(Range),
    /// Yes or no.
    YesNo,
    /// A quantity for each axis: `34 x 16 x 9 mm`.
    Axes(Range),
    /// Where on the stock the zero of the programme lies.
    Zero,
    /// Boxes in the coordinates of the programme.
    Boxes,
    /// Vibration modes of the tip.
    Modes,
}

/// An entry of a pass.
#[derive(Debug)]
pub struct Field {
    /// Which it is.
    pub id: Key,
    /// Its key as text, which is the flag without its dashes.
    pub key: &'static str,
    /// What it is, in words.
    pub name: &'static str,
    /// Where it is asked.
    pub station: Station,
    /// What can be typed.
    pub takes: Takes,
    /// A text that would be right.
    pub example: &'static str,
    /// What it is for, or why its range is what it is; without a digit, `{...}` stands for every
    /// number, see [`reason`].
    pub reason: &'static str,
    /// Its row in the register, of a quantity.
    pub entry: Option<&'static Entry>,
}

impl Field {
    /// What it is for, or why its range is what it is, with its numbers.
    pub fn why(&self) -> &'static str {
        static REASONS: [OnceLock<String>; Key::ALL.len()] =
            [const { OnceLock::new() }; Key::ALL.len()];
        REASONS
            .get(self.id as usize)
            .map_or(self.reason, |why| why.get_or_init(|| reason::of(self)))
    }

    /// The symbol, if it is a quantity.
    pub fn symbol(&self) -> Option<&'static Symbol> {
        match self.takes {
            Takes::Quantity(range) | Takes::Wear(range) => Some(range.symbol),
            _ => None,
        }
    }

    /// What can be typed, in a few words.
    pub fn accepts(&self) -> String {
        match self.takes {
            Takes::Quantity(range) => {
                let (least, most) = range.ends();
                format!("{least} to {most}")
            }
            Takes::Choice(words) => (words.all)().join(", "),
            Takes::Name(_) => "a name, or part of one".to_owned(),
            Takes::Condition => "a condition of the stock".to_owned(),
            Takes::Hardness => "a number with HB, HRC, HRB or HV".to_owned(),
            Takes::Wear(range) => {
                let (least, most) = range.ends();
                format!("fresh, used or worn, or a wear land of {least} to {most}")
            }
            Takes::YesNo => "yes or no".to_owned(),
            Takes::Axes(range) => {
                let (least, most) = range.ends();
                format!("{least} to {most} along X, Y and Z each")
            }
            Takes::Zero => "left, middle or right, front or back, top or bottom; or lengths from \
                            the left front bottom corner, such as X17mm,Y8mm,Z9mm"
                .to_owned(),
            Takes::Boxes => "a box, or several with ; between them".to_owned(),
            Takes::Modes => "stiffness, damping ratio and frequency of one or two modes".to_owned(),
        }
    }

    /// The reason of its range, and what happens where it is left out, as help says it.
    pub fn about(&self) -> String {
        let why = self.why();
        if self.id.is_worked_out() {
            format!("{why}; worked out if left out")
        } else {
            why.to_owned()
        }
    }

    /// Whether only the audit of a programme makes use of it: no cut changes with it.
    pub fn is_of_programme(&self) -> bool {
        self.id.is_of_programme()
    }

    /// Reads an entry of a quantity for each axis; gives SI base units.
    ///
    /// # Errors
    /// When it cannot be read, or is no such entry.
    pub fn axes(&self, text: &str) -> Result<[f64; 3], EntryError> {
        match self.takes {
            Takes::Axes(range) => {
                self.with_reason(|why| axes::values(text, range, self.example, why))
            }
            _ => Err(
                EntryError::because(Cause::Idle, "does not have a value for each axis")
                    .of(self.key),
            ),
        }
    }

    /// Reads again where it went wrong: the numbers of the reason come from a list of all tables,
    /// which only an error needs.
    fn with_reason<T>(
        &self,
        read: impl Fn(&'static str) -> Result<T, EntryError>,
    ) -> Result<T, EntryError> {
        read(self.reason).or_else(|_| read(self.why()))
    }

    /// Reads the entry as far as it can be read alone; gives SI base units for quantities.
    ///
    /// # Errors
    /// What is wrong with it, said of this field.
    pub fn read(&self, text: &str) -> Result<Option<f64>, EntryError> {
        match self.takes {
            Takes::Quantity(range) => self.with_reason(|why| range.read(text, why)).map(Some),
            Takes::Choice(words) => {
                let wrong = || EntryError::NotAChoice {
                    text: text.trim().to_owned(),
                    choices: words.told(),
                };
                words.meant(text).map(|_| None).ok_or_else(wrong)
            }
            Takes::Wear(_) => self.with_reason(|why| wear::read(text, why)).map(|_| None),
            Takes::YesNo => yes(text).map(|_| None),
            Takes::Axes(_) => self.axes(text).map(|_| None),
            Takes::Zero => axes::zero(text).map(|_| None),
            Takes::Boxes => axes::boxes(text).map(|_| None),
            Takes::Modes => modes::read(text).map(|_| None),
            Takes::Name(_) | Takes::Condition | Takes::Hardness => Ok(None),
        }
        .map_err(|e| e.of(self.key))
    }
}

/// Reads yes or no.
///
/// # Errors
/// When it is neither.
pub fn yes(text: &str) -> Result<bool, EntryError> {
    match text.trim().to_ascii_lowercase().as_str() {
        "yes" | "y" | "true" => Ok(true),
        "no" | "n" | "false" => Ok(false),
        _ => Err(EntryError::NotAChoice {
            text: text.trim().to_owned(),
            choices: "yes, no".to_owned(),
        }),
    }
}
