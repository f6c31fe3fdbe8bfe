//! Limits as data, and checks against them.
//!
//! A check always exists, held or not. What is unknown is said to be unknown and never passes.

use crate::quantity::Amount;
use crate::symbol::{Symbol, System};
use std::fmt::Write as _;

/// A limit a pass is checked against.
#[derive(Debug)]
pub struct Limit {
    /// Its name, as scripts see it.
    pub name: &'static str,
    /// Its name, as people read it.
    pub title: &'static str,
    /// What is compared.
    pub symbol: &'static Symbol,
    /// What it is compared with.
    pub bound: &'static Symbol,
    /// What happens beyond it.
    pub why: &'static str,
    /// What to do about it.
    pub remedy: &'static str,
    /// Where the limit is from.
    pub source: &'static str,
    /// What it means to be beyond it.
    pub kind: LimitKind,
    /// What is harmed beyond it.
    pub harm: Harm,
    /// What is near, in a word or two.
    pub short: &'static str,
    /// What happens beyond it, in a clause.
    pub beyond: &'static str,
    /// What the clause counts in: what is allowed.
    pub allowed: &'static str,
    /// Margin that a cautious and a production run want.
    pub wanted: [f64; 2],
}

/// A limit is known by its name: no other has it.
impl PartialEq for Limit {
    fn eq(&self, other: &Self) -> bool {
        std::ptr::eq(self, other) || self.name == other.name
    }
}

/// What it means to be beyond a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LimitKind {
    /// It is over. Unknown data are a question of their own, before any caution.
    Bound,
    /// It is over, but few know the data and nobody is asked for them.
    Minor,
    /// It may go wrong: a caution that stands with the bounds. Unknown data are asked for.
    Warning,
    /// A caution after all others: what is usual is passed.
    Guide,
    /// Nothing is harmed: it never governs.
    Mild,
}

/// What is harmed beyond a limit, the worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Harm {
    /// A person: the part or the cutter is thrown.
    Person,
    /// The billet: it moves, or is cut where it should not be.
    Billet,
    /// The cutter: it rubs, burns, or its edge is overloaded.
    Cutter,
    /// Nothing: the machine does not do it.
    Machine,
    /// Nothing that is sure: the book would not.
    Book,
    /// Nothing at all: slower than it could be.
    Nothing,
}

impl Harm {
    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Person => "person",
            Self::Billet => "billet",
            Self::Cutter => "cutter",
            Self::Machine => "machine",
            Self::Book => "book",
            Self::Nothing => "no-harm",
        }
    }
}

impl Limit {
    /// Whether a pass is over beyond it.
    pub fn hard(&self) -> bool {
        matches!(self.kind, LimitKind::Bound | LimitKind::Minor)
    }

    /// Whether unknown data are a question of its own, before any caution.
    pub fn asks(&self) -> bool {
        matches!(self.kind, LimitKind::Bound | LimitKind::Warning)
    }

    /// Whether nothing is harmed beyond it.
    pub fn mild(&self) -> bool {
        self.kind == LimitKind::Mild
    }

    /// Whether it only says what is usual.
    pub fn guides(&self) -> bool {
        matches!(self.kind, LimitKind::Guide | LimitKind::Mild)
    }
}

/// Stands for the margin of something against a bound of nothing, which no number can tell.
pub const ENDLESS_MARGIN: f64 = -1e9;

/// What a value is held against.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Bound {
    /// A ceiling.
    AtMost(f64),
    /// A floor.
    AtLeast(f64),
}

impl Bound {
    /// The bound itself, in SI base units.
    pub fn si(self) -> f64 {
        match self {
            Self::AtMost(b) | Self::AtLeast(b) => b,
        }
    }

    /// How far inside: ceiling `1 - value/bound`, floor `1 - bound/value`; 0 at the bound, and
    /// [`ENDLESS_MARGIN`] beyond a bound of nothing.
    ///
    /// # Example
    /// ```
    /// use feeds_core::limit::Bound;
    /// assert!((Bound::AtMost(4.0).margin(3.0) - 0.25).abs() < 1e-12);
    /// assert!((Bound::AtLeast(3.0).margin(4.0) - 0.25).abs() < 1e-12);
    /// assert!(Bound::AtMost(4.0).margin(5.0) < 0.0);
    /// ```
    pub fn margin(self, value: f64) -> f64 {
        (1.0 - self.used(value)).max(ENDLESS_MARGIN)
    }

    /// The share of the bound that is used: ceiling `value/bound`, floor `bound/value`; 1 at the
    /// bound, more beyond.
    pub fn used(self, value: f64) -> f64 {
        let used = match self {
            Self::AtMost(bound) => value / bound,
            Self::AtLeast(bound) => bound / value,
        };
        // Nothing taken against a bound of nothing is at the bound.
        if used.is_nan() { 1.0 } else { used }
    }
}

/// How a check stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    /// The wanted margin is there.
    Ok,
    /// Inside the bound, but not by the wanted margin; or beyond a guideline.
    Caution,
    /// Not known.
    Unknown,
    /// Beyond the bound.
    Over,
}

impl State {
    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Ok => "ok",
            Self::Caution => "caution",
            Self::Unknown => "unknown",
            Self::Over => "over",
        }
    }
}

/// The moments one feed must survive.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Moment {
    /// The engagement that was asked for.
    Nominal,
    /// Getting down to depth.
    Entry,
    /// The first cut, before there is room beside it.
    FullWidth,
    /// A sharp inside corner.
    Corner,
    /// What a larger cutter left in a corner.
    LeftOver,
}

impl Moment {
    /// The words for it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Nominal => "nominal",
            Self::Entry => "entry",
            Self::FullWidth => "first full-width cut",
            Self::Corner => "sharp corner",
            Self::LeftOver => "left by the cutter before",
        }
    }
}

/// What a check found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Found {
    /// A value against a bound, both in SI base units.
    Known {
        /// The value.
        value: f64,
        /// The bound.
        bound: Bound,
    },
    /// What would have to be known.
    Needs(&'static str),
}

/// A limit with what was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Check {
    /// The limit.
    pub limit: &'static Limit,
    /// The moment at which it is tightest.
    pub moment: Moment,
    /// What was found.
    pub found: Found,
    /// The margin that is wanted.
    pub wanted: f64,
    /// Nobody gave the bound: beyond it is a caution, never over.
    pub guessed: bool,
}

/// Rounding in the last digits never turns a check: a share of the bound.
pub const SLACK: f64 = 1e-9;

/// Stands for the logarithm of nothing, so that searches can reckon with it.
const ENDLESS: f64 = 50.0;

impl Check {
    /// How far inside the bound, as a share: 0 at the bound, negative beyond.
    pub fn margin(&self) -> Option<f64> {
        match self.found {
            Found::Known { value, bound } => Some(bound.margin(value)),
            Found::Needs(_) => None,
        }
    }

    /// How much of what is allowed is used: 1 at the bound, more beyond.
    pub fn used(&self) -> Option<f64> {
        match self.found {
            Found::Known { value, bound } => Some(bound.used(value).min(-ENDLESS_MARGIN)),
            Found::Needs(_) => None,
        }
    }

    /// How far inside the wanted margin, as a logarithm: straight over that of the feed where a
    /// power of it governs, and never cut short. 0 at the wanted margin, negative beyond.
    pub(crate) fn spare(&self) -> Option<f64> {
        match self.found {
            Found::Known { value, bound } => {
                let spare = ((1.0 - self.wanted) / bound.used(value)).ln();
                Some(spare.clamp(-ENDLESS, ENDLESS))
            }
            Found::Needs(_) => None,
        }
    }

    /// How it stands.
    pub fn state(&self) -> State {
        match self.margin() {
            None => State::Unknown,
            Some(m) if m < -SLACK && self.limit.hard() && !self.guessed => State::Over,
            Some(m) if m < self.wanted - SLACK => State::Caution,
            Some(_) => State::Ok,
        }
    }

    /// Whether the wanted margin is there.
    pub fn holds(&self) -> bool {
        self.margin().is_none_or(|m| m >= self.wanted - SLACK)
    }

    /// The value in the unit scripts see.
    pub fn value(&self) -> Option<Amount> {
        match self.found {
            Found::Known { value, .. } => Some(self.limit.symbol.amount(value)),
            Found::Needs(_) => None,
        }
    }

    /// The bound in the unit scripts see.
    pub fn bound(&self) -> Option<Amount> {
        match self.found {
            Found::Known { bound, .. } => Some(self.limit.symbol.amount(bound.si())),
            Found::Needs(_) => None,
        }
    }

    /// One sentence: value, bound, margin, and what to do when it does not hold.
    pub fn text(&self, system: System) -> String {
        let symbol = self.limit.symbol;
        match self.found {
            Found::Needs(what) => format!("{}: not known, needs {what}", self.limit.title),
            Found::Known { value, bound } => {
                let show = |si: f64| symbol.show(si, system);
                let sense = match bound {
                    Bound::AtMost(_) => "at most",
                    Bound::AtLeast(_) => "at least",
                };
                let moment = match self.moment {
                    Moment::Nominal => String::new(),
                    moment => format!(" ({})", moment.words()),
                };
                let mut text = format!(
                    "{}{moment}: {} is {}, {sense} {}",
                    self.limit.title,
                    symbol.text,
                    show(value),
                    show(bound.si()),
                );
                if self.guessed {
                    text.push_str(" (a guess: nobody gave it)");
                }
                if self.state() == State::Caution && self.margin() >= Some(0.0) {
                    let _ = write!(text, " with {:.0} % to spare", 100.0 * self.wanted);
                }
                if self.state() == State::Over && bound.si() > 0.0 {
                    let times = match bound {
                        Bound::AtMost(b) => value / b,
                        Bound::AtLeast(b) => b / value,
                    };
                    let _ = write!(text, ", {times:.1} times the limit");
                }
                if self.state() != State::Ok {
                    let _ = write!(text, " - {}; {}", self.limit.why, self.limit.remedy);
                }
                text
            }
        }
    }
}
