//! How far speed, feed, depth or width can go alone: the interval that keeps every wanted margin
//! with the other three fixed, and the check that closes each end.
//!
//! | limit | n | f_z | a_p | a_e |
//! | --- | --- | --- | --- | --- |
//! | spindle range, cutting speed | x | | (round end) | |
//! | feed of the machine | x | x | | |
//! | power | x | x | x | x |
//! | chip floor, feed band | | x | (round end) | x |
//! | wall, breakage, hold, tipping, pull-out | | x | x | x |
//! | flutes | | | x | |
//!
//! Depth and width are not monotone everywhere: the wall error follows which tooth makes the wall,
//! so ends are sought outwards from the value that is there, and what lies beyond is not told.

use super::Plan;
use super::checks::{self, At, Checks};
use super::effective_diameter;
use super::interval::Feeds;
use super::loads::LoadModel;
use super::moments::Moments;
use super::setup::Setup;
use crate::cut::{Path, Width};
use crate::kernel::root;
use crate::limit::{Check, Limit, Moment};
use crate::notebook::Silent;
use crate::quantity::{Length, Quantity, SpindleSpeed};
use crate::symbol::{self as s, Symbol};

/// What is varied.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Variable {
    /// Spindle speed, feed per tooth held.
    Speed,
    /// Feed per tooth, spindle speed held.
    Feed,
    /// Depth.
    Depth,
    /// Width.
    Width,
}

impl Variable {
    /// All four.
    pub const ALL: [Self; 4] = [Self::Speed, Self::Feed, Self::Depth, Self::Width];

    /// Its symbol; values of it are in SI base units (turns a second for the speed).
    pub fn symbol(self) -> &'static Symbol {
        match self {
            Self::Speed => &s::N,
            Self::Feed => &s::F_Z,
            Self::Depth => &s::A_P,
            Self::Width => &s::A_E,
        }
    }
}

/// One end of an interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoomEnd {
    /// The value there, in SI base units.
    pub value: f64,
    /// The limit that closes it.
    pub limit: &'static Limit,
    /// The moment at which it does.
    pub moment: Moment,
}

/// The interval around a value within which every check keeps its wanted margin.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Room {
    /// Below it a check is broken; `None` when none is, however small it gets.
    pub least: Option<RoomEnd>,
    /// Above it a check is broken; `None` when none is, as far as it can go.
    pub most: Option<RoomEnd>,
    /// The check that the value itself already breaks: then there is no interval around it.
    pub broken: Option<Check>,
}

/// Steps outwards, as a logarithm, in which an end is looked for.
const STEP: f64 = 0.05;
/// How far outwards it is looked for, as a logarithm.
const FAR: f64 = 9.2;
/// Logarithm to which an end is known.
const EXACT: f64 = 1e-10;

/// The interval of one variable around the value a plan has.
pub(super) fn room(
    setup: &Setup,
    model: Option<&LoadModel>,
    plan: &Plan,
    variable: Variable,
) -> Room {
    let here = match variable {
        Variable::Speed => plan.n.turns().value,
        Variable::Feed => plan.f_z.value,
        Variable::Depth => setup.cut.a_p.value,
        Variable::Width => setup.a_e().value,
    };
    if variable == Variable::Width && setup.cut.path == Path::Slot {
        return Room::default();
    }
    let mut varied = Setup {
        origins: Vec::new(),
        ..setup.clone()
    };
    let far = match variable {
        Variable::Depth => (setup.cutter.stick_out.value / here).ln(),
        Variable::Width => (widest(setup) / here).ln().max(0.0),
        Variable::Speed | Variable::Feed => FAR,
    };
    match variable {
        Variable::Speed | Variable::Feed => {
            // The engagement stays as it is, so its loads are made ready once.
            let pass = Shared::of(&varied);
            let mut feeds = Feeds::new(&varied, &pass.moments, model);
            sought(here, far, |value| {
                let (n, f_z) = match variable {
                    Variable::Speed => (SpindleSpeed::from_si(value), plan.f_z),
                    _ => (plan.n, Length::from_si(value)),
                };
                pass.checks(&varied, &mut feeds, At::new(&varied, n, f_z))
            })
        }
        Variable::Depth | Variable::Width => sought(here, far, |value| {
            if variable == Variable::Depth {
                varied.cut.a_p = Length::from_si(value);
            } else {
                let a_e = value.min(varied.cutter.diameter.value);
                varied.cut.width = Some(Width::Across(Length::from_si(a_e)));
            }
            let pass = Shared::of(&varied);
            let mut feeds = Feeds::new(&varied, &pass.moments, model);
            pass.checks(&varied, &mut feeds, At::new(&varied, plan.n, plan.f_z))
        }),
    }
}

/// What the checks of a pass share at every speed and feed.
struct Shared {
    d_eff: Length,
    moments: Moments,
}

impl Shared {
    fn of(setup: &Setup) -> Self {
        let d_eff = effective_diameter(setup, &mut Silent);
        Self {
            d_eff,
            moments: Moments::of(setup, d_eff),
        }
    }

    fn checks(&self, setup: &Setup, feeds: &mut Feeds<'_>, at: At) -> Checks {
        checks::all(setup, &self.moments, feeds.loads(at), self.d_eff, at)
    }
}

/// The interval around a value, sought outwards as far as a logarithm above it, by the checks at
/// any other.
fn sought(here: f64, far: f64, mut checks: impl FnMut(f64) -> Checks) -> Room {
    let mut broken = |value: f64| {
        checks(value)
            .iter()
            .filter_map(|c| Some((c.margin()? - c.wanted, *c)))
            .filter(|(_, c)| c.limit.hard())
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .filter(|(spare, _)| *spare < -crate::limit::SLACK)
            .map(|(_, c)| c)
    };
    if let Some(check) = broken(here) {
        return Room {
            broken: Some(check),
            ..Room::default()
        };
    }
    let mut end = |sign: f64, far: f64| {
        let mut inside = 0.0;
        while inside < far {
            let out = (inside + STEP).min(far);
            if broken(here * (sign * out).exp()).is_some() {
                let kept = |log: f64| broken(here * (sign * log).exp()).is_none();
                let edge = root::last(inside, out, EXACT, kept).unwrap_or(inside);
                let closing = broken(here * (sign * (edge + 2.0 * EXACT)).exp())?;
                return Some(RoomEnd {
                    value: here * (sign * edge).exp(),
                    limit: closing.limit,
                    moment: closing.moment,
                });
            }
            inside = out;
        }
        None
    };
    Room {
        least: end(-1.0, FAR),
        most: end(1.0, far),
        broken: None,
    }
}

/// The widest cut a pass can have.
fn widest(setup: &Setup) -> f64 {
    let d = setup.cutter.diameter.value;
    if setup.cut.corner || setup.cut.previous.is_some() {
        d / 2.0
    } else {
        d
    }
}
