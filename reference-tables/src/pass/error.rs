//! Why a pass cannot be put together.

use crate::error::{NotFound, Unknown};
use feeds_core::cutter::End;
use feeds_core::plan::setup::SetupError;
use feeds_core::symbol::Symbol;
use std::fmt;

/// Why a pass cannot be put together.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum PassError {
    /// A name that calls nothing, or more than one thing.
    NotFound(NotFound),
    /// A quantity that has to be there.
    Missing(&'static Symbol),
    /// A curved wall has a side.
    NoWallSide,
    /// The condition is not one of the stock, or goes with no hardness the tables can use.
    Condition(Unknown),
    /// A condition and a hardness that cannot both be true, in a sentence.
    Hardness(String),
    /// The force of such a hold cannot be printed: it has to be tested.
    Untested {
        /// The hold.
        name: String,
        /// Why.
        why: String,
    },
    /// Width and engagement angle.
    WidthTwice,
    /// The wall of a bore cannot be convex.
    ConvexBore,
    /// A ball-finish with another end.
    NotABall(End),
    /// Coefficients of two force laws.
    TwoLaws(&'static Symbol, &'static Symbol),
    /// One of Kienzle's pair without the other.
    HalfAPair,
    /// Some of the six linear coefficients without these.
    Lacks(Vec<&'static Symbol>),
    /// What no cut can have.
    Setup(SetupError),
}

impl fmt::Display for PassError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NotFound(error) => return error.fmt(f),
            Self::Missing(of) => return write!(f, "{} is needed: {}", of.text, of.name),
            Self::NoWallSide => "a curved wall has a side: inside or outside",
            Self::Condition(unknown) => return unknown.fmt(f),
            Self::Hardness(sentence) => sentence,
            Self::Untested { name, why } => {
                return write!(
                    f,
                    "the force of {name} cannot be printed, {why}: pull a test part off \
                     sideways, held the same way, and enter that force as clamp-force"
                );
            }
            Self::WidthTwice => {
                "width and engagement angle are two names for one thing: keep one of them"
            }
            Self::ConvexBore => {
                "the wall of a bore is concave: choose inside, or the path side for a convex wall"
            }
            Self::NotABall(end) => {
                let end = end.word();
                return write!(
                    f,
                    "ball-finish needs a ball end, and this cutter has a {end} end: choose the \
                     path side or face, or a ball cutter"
                );
            }
            Self::TwoLaws(kienzle, linear) => {
                return write!(
                    f,
                    "{} and {} are of two force laws, and a stock has one: keep one law",
                    kienzle.text, linear.text
                );
            }
            Self::HalfAPair => "kc11 and mc belong together: enter both, from one source",
            Self::Lacks(symbols) => {
                let all: Vec<_> = symbols.iter().map(|symbol| symbol.text).collect();
                return write!(
                    f,
                    "the six linear edge coefficients belong together: {} missing",
                    all.join(", ")
                );
            }
            Self::Setup(error) => return error.fmt(f),
        })
    }
}

impl std::error::Error for PassError {}

/// Everything that is missing or cannot be so.
#[derive(Clone, Debug, PartialEq)]
pub struct Faults(pub Vec<PassError>);

impl fmt::Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let each: Vec<_> = self.0.iter().map(ToString::to_string).collect();
        f.write_str(&each.join("; "))
    }
}

impl std::error::Error for Faults {}

impl From<NotFound> for PassError {
    fn from(error: NotFound) -> Self {
        Self::NotFound(error)
    }
}

impl From<SetupError> for PassError {
    fn from(error: SetupError) -> Self {
        Self::Setup(error)
    }
}
