//! What is asked of a rehearsal, read from what was typed.

use crate::pass::description::Description;
use crate::pass::field::Key;
use crate::pass::law::without_law;
use feeds_core::entry::{self, DoorRange};
use feeds_core::error::{Cause, EntryError};
use feeds_core::filled::filled;
use feeds_core::quantity::{Amount, Length, Quantity, unit};
use feeds_core::rehearsal::{Dial, DialRange};

/// An entry of a rehearsal, beside those of its production pass.
#[derive(Debug)]
pub struct RehearsalEntry {
    /// Which it is.
    pub id: Ask,
    /// Its key as text, which is the flag without its dashes.
    pub key: &'static str,
    /// What it is.
    pub name: &'static str,
    /// A text that would be right.
    pub example: &'static str,
    /// What it is for; without a digit, `{default}` stands for what is taken if nothing is given.
    pub reason: &'static str,
}

impl RehearsalEntry {
    /// What it is for, with its numbers.
    pub fn why(&self) -> String {
        let default = |name: &str| (name == "default").then(|| default(self.id))?;
        filled(self.reason, &default).unwrap_or_else(|_| self.reason.to_owned())
    }
}

/// What the program takes when nothing is given.
fn default(ask: Ask) -> Option<String> {
    let percent = |share: f64| Amount::of(share, &unit::PERCENT);
    match ask {
        Ask::StandIn => Some(format!("{} {}", STAND_IN.1, STAND_IN.0)),
        Ask::SpindleOverride => Some(percent(Dial::FULL.spindle).to_string()),
        Ask::FeedOverride => Some(percent(Dial::FULL.feed).to_string()),
        Ask::OverrideRange => {
            let DialRange { least, most } = DialRange::default();
            Some(format!("{} to {}", percent(least).number(), percent(most)))
        }
        _ => None,
    }
}

macro_rules! entries {
    ($($id:ident $key:literal $name:literal, $example:literal, $reason:literal;)+) => {
        /// Which entry of a rehearsal.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        #[allow(missing_docs, reason = "each is described by its entry")]
        pub enum Ask { $($id,)+ }

        /// Every entry, in the order it is asked.
        pub static ENTRIES: &[RehearsalEntry] = &[$(RehearsalEntry {
            id: Ask::$id,
            key: $key,
            name: $name,
            example: $example,
            reason: $reason,
        }),+];
    };
}

entries! {
    StandIn "stand-in" "stock that is cut first", "1018",
        "cheap and softer than the good one; {default} if left out";
    StandInCondition "stand-in-condition" "its condition", "'hot rolled'",
        "without it the stand-in's force is not known";
    StandInHardness "stand-in-hardness" "its hardness", "120HB",
        "a measured hardness counts before the condition";
    SpindleOverride "spindle-override" "spindle override at the rehearsal", "100%",
        "{default} if left out";
    FeedOverride "feed-override" "feed override at the rehearsal", "50%", "{default} if left out";
    OverrideRange "override-range" "range of the override dials", "50..150",
        "{default} if left out (common practice)";
    Measured "measured" "wall error measured on the stand-in where it is largest", "0.012mm",
        "positive where stock was left; it estimates how much the machine gives";
    Length "length" "length of the path", "850mm", "to work out the minutes of each step";
}

impl Ask {
    /// Its key as text.
    pub fn text(self) -> &'static str {
        ENTRIES[self as usize].key
    }
}

/// Stand-in where none is named, with its condition.
pub const STAND_IN: (&str, &str) = ("1018", "hot rolled");

/// What is asked of a rehearsal.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct RehearsalAsked {
    /// The production pass as typed.
    pub production: Description,
    /// What was typed for the entries of the rehearsal, by key.
    pub texts: Vec<(Ask, String)>,
}

/// The entries as they were read.
#[derive(Clone, Copy, Debug)]
pub(super) struct Read {
    pub(super) dial: Dial,
    pub(super) range: DialRange,
    pub(super) measured: Option<Length>,
    pub(super) length: Option<Length>,
}

const MEASURED: DoorRange = entry::MEASURED.row();
const LENGTH: DoorRange = entry::LENGTH.row();
const OVERRIDE: DoorRange = entry::OVERRIDE.row();

impl RehearsalAsked {
    /// What was typed for an entry.
    pub fn get(&self, ask: Ask) -> Option<&str> {
        let found = self.texts.iter().find(|(a, _)| *a == ask);
        found.map(|(_, text)| text.trim()).filter(|t| !t.is_empty())
    }

    /// The pass on the stand-in: production's, with another stock.
    pub fn stand_in(&self) -> Description {
        let (stock, condition) = match self.get(Ask::StandIn) {
            Some(stock) => (stock, self.get(Ask::StandInCondition).unwrap_or_default()),
            None => STAND_IN,
        };
        let hardness = self.get(Ask::StandInHardness).unwrap_or_default();
        let own = [
            (Key::Stock, stock),
            (Key::Condition, condition),
            (Key::Hardness, hardness),
        ];
        without_law(self.production.clone()).with(&own)
    }

    /// Reads the entries.
    pub(super) fn read(&self) -> Result<Read, Vec<EntryError>> {
        let mut errors = Vec::new();
        let mut share = |ask: Ask| {
            self.get(ask).map_or(1.0, |text| {
                read_override(text).unwrap_or_else(|e| {
                    errors.push(e.of(ask.text()));
                    1.0
                })
            })
        };
        let dial = Dial {
            spindle: share(Ask::SpindleOverride),
            feed: share(Ask::FeedOverride),
        };
        let range = self.range().unwrap_or_else(|e| {
            errors.push(e.of(Ask::OverrideRange.text()));
            DialRange::default()
        });
        let mut length_of = |ask: Ask, row: DoorRange, why| {
            let read = self.get(ask).map(|text| row.range.read(text, why));
            match read.transpose() {
                Ok(si) => si.map(Length::from_si),
                Err(error) => {
                    errors.push(error.of(ask.text()));
                    None
                }
            }
        };
        let measured = length_of(Ask::Measured, MEASURED, MEASURED.why);
        let length = length_of(Ask::Length, LENGTH, "a path has a length");
        if errors.is_empty() {
            Ok(Read {
                dial,
                range,
                measured,
                length,
            })
        } else {
            Err(errors)
        }
    }

    fn range(&self) -> Result<DialRange, EntryError> {
        let Some(text) = self.get(Ask::OverrideRange) else {
            return Ok(DialRange::default());
        };
        let Some((least, most)) = text.split_once("..") else {
            return Err(EntryError::because(
                Cause::Form,
                format!(
                    "«{text}» is not a range: type two overrides with two dots between, such as \
                 50..150"
                ),
            ));
        };
        let (least, most) = (read_override(least)?, read_override(most)?);
        if least > 1.0 || most < 1.0 {
            return Err(EntryError::because(
                Cause::Bound,
                format!(
                    "«{text}» leaves out 100 %, where the programme runs as written: such as \
                     50..150"
                ),
            ));
        }
        Ok(DialRange { least, most })
    }
}

/// Reads an override; a plain number is percent.
fn read_override(text: &str) -> Result<f64, EntryError> {
    let text = text.trim();
    let plain = text.trim_end_matches('%').trim_end();
    OVERRIDE.range.read(&format!("{plain} %"), OVERRIDE.why)
}
