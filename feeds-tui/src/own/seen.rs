//! What was seen, heard and measured of a cut, as it is typed: `wall=0.012mm edge=used`.

use crate::pass::field::yes;
use feeds_core::entry::DoorRange;
use feeds_core::error::{Cause, EntryError};
use feeds_core::nearest::advice;
use feeds_core::own::Sighting;
use feeds_core::plan::setup::Setup;
use feeds_core::plan::{Plan, limits};
use feeds_core::quantity::{Quantity, Time, unit};
use feeds_core::range::Range;
use feeds_core::symbol::{self as s, Symbol};
use reference_tables::tables;
use std::collections::BTreeMap;

/// What can be said of a cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SeenKey {
    /// What was heard.
    Sound,
    /// How far the wall is off.
    Wall,
    /// Watts of the spindle while cutting, less those while it idles.
    Watts,
    /// The largest force sideways.
    Force,
    /// Whether it cut a chip.
    Chip,
    /// Whether the cutter broke.
    Broke,
    /// How the edge looks under a loupe.
    Edge,
    /// Whether a new cutter was put in before this cut.
    New,
    /// Minutes at the feed.
    Minutes,
}

/// How an edge looks after a cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EdgeSeen {
    /// As new.
    Fresh,
    /// In use.
    Used,
    /// To be changed.
    Worn,
    /// Chipped or broken: the cutter is done.
    Gone,
}

impl EdgeSeen {
    /// All of them, with the word of each.
    pub const ALL: [(&'static str, Self); 4] = [
        ("fresh", Self::Fresh),
        ("used", Self::Used),
        ("worn", Self::Worn),
        ("gone", Self::Gone),
    ];
}

/// What a sound that is as it should be is called.
pub const FINE: &str = "fine";

/// What a row of the four numbers takes.
const fn row(
    key: &'static str,
    range: Range,
    example: &'static str,
    why: &'static str,
) -> DoorRange {
    DoorRange {
        key,
        range,
        example,
        why,
    }
}

const WALL: DoorRange = row(
    "wall",
    Range::of(&s::WALL_ERROR, 0.0005, 1.0),
    "0.012mm",
    "how far the wall is off, without a sign; leave it out where nothing can be measured",
);
const WATTS: DoorRange = row(
    "watts",
    Range::of(&s::P_MEAN, 0.5, 5000.0).plain_in(&unit::WATT),
    "85",
    "watts while cutting less watts while idling; leave it out where the meter does not move",
);
const FORCE: DoorRange = row(
    "force",
    Range::of(&s::F_XY, 0.1, 5000.0).plain_in(&unit::NEWTON),
    "40N",
    "the largest force sideways",
);
const MINUTES: DoorRange = row(
    "minutes",
    Range::of(&s::T_CUT, 0.01, 6000.0).plain_in(&unit::MINUTE),
    "12min",
    "minutes at the feed of this one cut",
);

/// A dial or a micrometer on a wall: the larger of a share and a length, m (common practice).
const WALL_WITHIN: (f64, f64) = (0.15, 2e-6);
/// A watt meter, less the spindle idling, through an efficiency that is a guess: the larger of a
/// share and watts (common practice).
const WATTS_WITHIN: (f64, f64) = (0.15, 2.0);
/// A scale: the larger of a share and newtons (common practice).
const FORCE_WITHIN: (f64, f64) = (0.10, 1.0);

impl SeenKey {
    /// All of them, in the order they are listed.
    pub const ALL: [Self; 9] = [
        Self::Sound,
        Self::Wall,
        Self::Watts,
        Self::Force,
        Self::Chip,
        Self::Broke,
        Self::Edge,
        Self::New,
        Self::Minutes,
    ];
    /// Those that are measured.
    pub const MEASURED: [Self; 3] = [Self::Wall, Self::Watts, Self::Force];

    /// As it is typed.
    pub fn word(self) -> &'static str {
        match self {
            Self::Sound => "sound",
            Self::Wall => "wall",
            Self::Watts => "watts",
            Self::Force => "force",
            Self::Chip => "chip",
            Self::Broke => "broke",
            Self::Edge => "edge",
            Self::New => "new",
            Self::Minutes => "minutes",
        }
    }

    /// The key of a word.
    pub fn of_word(word: &str) -> Option<Self> {
        let word = word.trim();
        Self::ALL
            .into_iter()
            .find(|key| key.word().eq_ignore_ascii_case(word))
    }

    /// What it is, in a few words with an example.
    pub fn says(self) -> &'static str {
        match self {
            Self::Sound => "what you heard: fine, or a sign of «feeds listen» such as squeal",
            Self::Wall => "how far the wall is off, such as 0.012mm",
            Self::Watts => "watts while cutting less watts while idling, such as 85",
            Self::Force => "largest force sideways, on a scale, such as 40N",
            Self::Chip => "yes if it cut chips, no if it only made dust",
            Self::Broke => "yes if the cutter broke",
            Self::Edge => "the edge under a loupe: fresh, used, worn or gone",
            Self::New => "yes if a new cutter went in before this cut",
            Self::Minutes => "minutes at the feed; if left out, from the length of the pass",
        }
    }

    /// The answer it measures.
    pub fn answer(self) -> Option<&'static Symbol> {
        match self {
            Self::Wall => Some(&s::WALL_ERROR),
            Self::Watts => Some(&s::P_MEAN),
            Self::Force => Some(&s::F_XY),
            _ => None,
        }
    }

    /// What can be typed of a number.
    fn row(self) -> Option<DoorRange> {
        match self {
            Self::Wall => Some(WALL),
            Self::Watts => Some(WATTS),
            Self::Force => Some(FORCE),
            Self::Minutes => Some(MINUTES),
            _ => None,
        }
    }

    /// Nine of ten readings lie within this share of the truth.
    pub fn within(self, value: f64) -> f64 {
        let (share, least) = match self {
            Self::Wall => WALL_WITHIN,
            Self::Watts => WATTS_WITHIN,
            _ => FORCE_WITHIN,
        };
        share.max(least / value)
    }
}

/// What was seen of a cut, as typed.
///
/// # Example
/// ```
/// use feeds_tui::own::{CutSeen, SeenKey};
/// let mut seen = CutSeen::default();
/// seen.set(SeenKey::Watts, "85").unwrap();
/// seen.set(SeenKey::Edge, "used").unwrap();
/// assert_eq!(seen.value(SeenKey::Watts), Some(85.0));
/// assert!(seen.set(SeenKey::Edge, "blunt").unwrap_err().to_string().contains("worn"));
/// ```
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CutSeen {
    texts: BTreeMap<SeenKey, String>,
}

impl CutSeen {
    /// Keeps a text; an empty one clears it.
    ///
    /// # Errors
    /// When it cannot be read; says what would be right.
    pub fn set(&mut self, key: SeenKey, text: &str) -> Result<(), EntryError> {
        let text = text.trim();
        if text.is_empty() {
            self.texts.remove(&key);
            return Ok(());
        }
        let kept = kept(key, text).map_err(|e| e.of(key.word()))?;
        self.texts.insert(key, kept);
        Ok(())
    }

    /// The text under a key.
    pub fn get(&self, key: SeenKey) -> Option<&str> {
        self.texts.get(&key).map(String::as_str)
    }

    /// Everything that was said, in order.
    pub fn iter(&self) -> impl Iterator<Item = (SeenKey, &str)> {
        self.texts.iter().map(|(key, text)| (*key, text.as_str()))
    }

    /// Whether nothing was said.
    pub fn is_empty(&self) -> bool {
        self.texts.is_empty()
    }

    /// A number, in SI base units.
    pub fn value(&self, key: SeenKey) -> Option<f64> {
        let row = key.row()?;
        row.range.read(self.get(key)?, row.why).ok()
    }

    /// Minutes at the feed.
    pub fn minutes(&self) -> Option<Time> {
        self.value(SeenKey::Minutes).map(Time::from_si)
    }

    /// How the edge looked.
    pub fn edge(&self) -> Option<EdgeSeen> {
        let text = self.get(SeenKey::Edge)?;
        let found = EdgeSeen::ALL.iter().find(|(word, _)| *word == text);
        found.map(|(_, edge)| *edge)
    }

    /// The same as an entry of a pass; `None` where nobody looked, or nothing is left of the edge.
    pub fn wear(&self) -> Option<&str> {
        let left = self.edge().is_some_and(|edge| edge != EdgeSeen::Gone);
        self.get(SeenKey::Edge).filter(|_| left)
    }

    /// Yes or no under a key.
    pub fn says(&self, key: SeenKey) -> Option<bool> {
        yes(self.get(key)?).ok()
    }

    /// What of it the estimate learns from, in the order of the keys.
    pub fn sightings(&self, setup: &Setup) -> Vec<(SeenKey, Sighting)> {
        self.iter()
            .filter_map(|(key, _)| Some((key, self.sighting(key, setup)?)))
            .collect()
    }

    fn sighting(&self, key: SeenKey, setup: &Setup) -> Option<Sighting> {
        match key {
            SeenKey::Chip => self.says(key).map(Sighting::Chip),
            SeenKey::Broke => self.says(key).map(Sighting::Broke),
            key => {
                let (symbol, value) = (key.answer()?, self.value(key)?);
                Some(Sighting::Measured {
                    symbol,
                    value: value * at_cutter(key, setup)?,
                    within: key.within(value),
                })
            }
        }
    }
}

/// The answer at the cutter over what is read: a watt meter reads what the motor draws.
pub fn at_cutter(key: SeenKey, setup: &Setup) -> Option<f64> {
    match key {
        SeenKey::Watts => setup.machine.as_ref().map(|m| m.efficiency),
        _ => Some(1.0),
    }
}

/// The book's answer to what is read; `None` where it has none, as without a force or a chip.
pub fn expected(key: SeenKey, setup: &Setup, plan: &Plan) -> Option<f64> {
    let loads = plan.loads.as_ref();
    let value = match key {
        SeenKey::Wall => loads?.wall(),
        SeenKey::Watts => loads?.power / at_cutter(key, setup)?,
        SeenKey::Force => loads?.lateral,
        SeenKey::Chip => plan.check(limits::CHIP_FLOOR.name)?.used()?,
        SeenKey::Broke => plan.check(limits::RUPTURE.name)?.used()?,
        _ => return None,
    };
    (value.is_finite() && value > 0.0).then_some(value)
}

/// The text to keep of what was typed.
fn kept(key: SeenKey, text: &str) -> Result<String, EntryError> {
    if let Some(row) = key.row() {
        row.range.read(text, row.why)?;
        return Ok(text.to_owned());
    }
    match key {
        SeenKey::Edge => {
            let words = EdgeSeen::ALL.map(|(word, _)| word);
            let found = words.iter().find(|w| w.eq_ignore_ascii_case(text));
            let choices = words.join(", ");
            let wrong = || EntryError::NotAChoice {
                text: text.to_owned(),
                choices,
            };
            found.map(|w| (*w).to_owned()).ok_or_else(wrong)
        }
        SeenKey::Sound => sound(text),
        _ => yes(text).map(|y| if y { "yes" } else { "no" }.to_owned()),
    }
}

/// A sound: fine, or a sign of the tables.
fn sound(text: &str) -> Result<String, EntryError> {
    if text.eq_ignore_ascii_case(FINE) {
        return Ok(FINE.to_owned());
    }
    let tables = tables().map_err(|e| EntryError::because(Cause::NoFile, e.to_string()))?;
    tables
        .sign(text)
        .map(|sign| sign.name.clone())
        .map_err(|_| {
            let names: Vec<&str> = tables
                .signs
                .signs
                .iter()
                .map(|sign| sign.name.as_str())
                .collect();
            let words = [&[FINE][..], &names].concat();
            EntryError::because(
                Cause::Unknown,
                format!("«{text}» is not a sound or sign: {}", advice(text, &words)),
            )
        })
}
