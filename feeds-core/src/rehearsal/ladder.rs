//! The climb from an air pass to production, in five rungs.
//!
//! Every cutting rung keeps its chip above the floor. Depth is reduced before width, since width
//! thins the chip; spindle speed only with the feed in the same ratio, and only as far as the
//! spindle's torque reaches.

mod climb;

use super::{Dial, DialRange, Runs, Which};
use crate::plan::Plan;
use crate::plan::interval::FeedEnd;
use crate::plan::setup::SetupError;
use crate::quantity::{Length, Time};
use climb::{Climb, Stop};

/// A rung of the ladder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RungKind {
    /// The programme above the work.
    Air,
    /// The gentlest run that still cuts the stand-in.
    Cautious,
    /// The stand-in under production's peak force.
    EqualForce,
    /// The good stock at reduced depth, full width and full feed per tooth.
    Reduced,
    /// Production.
    Production,
}

impl RungKind {
    /// In the order they are climbed.
    pub const ALL: [Self; 5] = [
        Self::Air,
        Self::Cautious,
        Self::EqualForce,
        Self::Reduced,
        Self::Production,
    ];

    /// The stock that is cut; none in the air.
    pub fn stock(self) -> Option<Which> {
        match self {
            Self::Air => None,
            Self::Cautious | Self::EqualForce => Some(Which::StandIn),
            Self::Reduced | Self::Production => Some(Which::Production),
        }
    }
}

/// What a rung is run at.
#[derive(Clone, Debug)]
pub struct RungSetting {
    /// The overrides over programmed S and F.
    pub dial: Dial,
    /// Whether the machine's overrides reach that far; if not, the programme is rescaled by
    /// `dial` and run at 100 %.
    pub within: bool,
    /// The answer there. Of the air pass: that of the stand-in, which is not touched.
    pub plan: Plan,
    /// Depth.
    pub a_p: Length,
    /// Width.
    pub a_e: Length,
    /// Largest lateral force over production's.
    pub force_share: Option<f64>,
    /// The check that keeps the rung from production's force.
    pub capped: Option<FeedEnd>,
}

impl RungSetting {
    /// Time for a path of that length at this feed.
    pub fn time(&self, length: Length) -> Time {
        length / self.plan.v_f
    }
}

/// Why a rung cannot be run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Blocked {
    /// No feed keeps both: the chip asks for more than the other check allows.
    NoFeed {
        /// The floor, and the least feed per tooth it asks for.
        least: FeedEnd,
        /// The ceiling, and the most it allows.
        most: FeedEnd,
    },
    /// A number is missing.
    Needs(&'static str),
}

/// A rung, or why there is none.
#[derive(Clone, Debug)]
pub struct Rung {
    /// Which.
    pub kind: RungKind,
    /// What it is run at.
    pub setting: Result<RungSetting, Blocked>,
}

/// The five rungs.
///
/// # Errors
/// As [`crate::plan::Planner::work_out`].
pub fn ladder(runs: &Runs, range: DialRange, production: &Plan) -> Result<Vec<Rung>, SetupError> {
    let climb = Climb {
        runs,
        range,
        production,
    };
    RungKind::ALL
        .into_iter()
        .map(|kind| {
            let setting = match climb.rung(kind) {
                Ok(setting) => Ok(setting),
                Err(Stop::Blocked(blocked)) => Err(blocked),
                Err(Stop::Setup(error)) => return Err(error),
            };
            Ok(Rung { kind, setting })
        })
        .collect()
}
