//! The climb from an air pass to production, in five rungs.
//!
//! Every cutting rung keeps its chip above the floor. Depth is reduced before width, since width
//! thins the chip; spindle speed only with the feed in the same ratio, and only as far as the
//! spindle's torque reaches.

use super::{Dial, DialRange, Runs, Which, find, peak};
use crate::limit::{Check, State};
use crate::notebook::Silent;
use crate::plan::Plan;
use crate::plan::interval::{End, Interval};
use crate::plan::limits as l;
use crate::plan::setup::{Intent, SetupError};
use crate::quantity::{Length, Time};

/// A rung of the ladder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
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

impl Kind {
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
pub struct Setting {
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
    pub capped: Option<End>,
}

impl Setting {
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
        least: End,
        /// The ceiling, and the most it allows.
        most: End,
    },
    /// A number is missing.
    Needs(&'static str),
}

/// A rung, or why there is none.
#[derive(Clone, Debug)]
pub struct Rung {
    /// Which.
    pub kind: Kind,
    /// What it is run at.
    pub setting: Result<Setting, Blocked>,
}

/// Depths of the reduced rung over the full depth, tried in this order (common practice).
const SHARES: [f64; 5] = [0.5, 0.6, 0.7, 0.8, 0.9];

/// The same where production leaves no feed at its full depth.
const SMALLER: [f64; 4] = [0.5, 0.4, 0.3, 0.2];

/// What the ladder is built of.
struct Ladder<'a> {
    runs: &'a Runs,
    range: DialRange,
    /// Production as programmed.
    production: &'a Plan,
}

/// The five rungs.
///
/// # Errors
/// As [`crate::plan::Planner::work_out`].
pub fn ladder(runs: &Runs, range: DialRange, production: &Plan) -> Result<Vec<Rung>, SetupError> {
    let ladder = Ladder {
        runs,
        range,
        production,
    };
    Kind::ALL
        .into_iter()
        .map(|kind| {
            let setting = match kind {
                Kind::Air => ladder.at(Which::StandIn, Dial::FULL).map(Ok),
                Kind::Cautious => ladder.cautious(),
                Kind::EqualForce => ladder.equal_force(),
                Kind::Reduced => ladder.reduced(),
                Kind::Production => ladder.produced(),
            }?;
            Ok(Rung { kind, setting })
        })
        .collect()
}

type Found = Result<Result<Setting, Blocked>, SetupError>;

impl Ladder<'_> {
    fn setting(&self, dial: Dial, plan: Plan, a_p: Length, a_e: Length) -> Setting {
        let share = peak(&plan).zip(peak(self.production));
        Setting {
            dial,
            within: self.range.holds(dial),
            force_share: share.map(|(rung, production)| rung / production),
            plan,
            a_p,
            a_e,
            capped: None,
        }
    }

    fn at(&self, which: Which, dial: Dial) -> Result<Setting, SetupError> {
        let setup = self.runs.setup(which, dial);
        let plan = self.runs.plan(which, dial)?;
        Ok(self.setting(dial, plan, setup.cut.a_p, setup.a_e()))
    }

    /// Feeds per tooth that may be run: inside every wanted margin of a cautious run; inside the
    /// smaller margins of production where that leaves none.
    fn feeds(
        &self,
        which: Which,
        spindle: f64,
    ) -> Result<Result<(End, Interval), Blocked>, SetupError> {
        let mut setup = self.runs.setup(
            which,
            Dial {
                spindle,
                feed: spindle,
            },
        );
        let mut last = None;
        for intent in [Intent::Cautious, Intent::Production] {
            setup.intent = intent;
            let feeds = self
                .runs
                .planner(which)
                .work_out(&setup, &mut Silent)?
                .feeds;
            let Some(least) = feeds.least else {
                return Ok(Err(Blocked::Needs("the cutting edge radius")));
            };
            match feeds.most {
                Some(most) if feeds.is_empty() => last = Some(Blocked::NoFeed { least, most }),
                _ => return Ok(Ok((least, feeds))),
            }
        }
        Ok(Err(
            last.unwrap_or(Blocked::Needs("the cutting edge radius"))
        ))
    }

    /// The gentlest run above the floor: the low end of the stand-in's speeds, the feed with it.
    fn cautious(&self) -> Found {
        let spindle = self.slow()?;
        let (least, feeds) = match self.feeds(Which::StandIn, spindle)? {
            Ok(found) => found,
            Err(blocked) => return Ok(Err(blocked)),
        };
        let feed = whole_up(self.runs.feed_share(least.f_z, spindle)).max(self.range.least);
        let dial = self.inside(Dial { spindle, feed }, least.f_z, &feeds);
        Ok(Ok(self.at(Which::StandIn, dial)?))
    }

    /// The spindle override of the cautious run: as slow as the stand-in's band of speeds, the
    /// dial and the spindle's torque allow.
    fn slow(&self) -> Result<f64, SetupError> {
        let setup = self.runs.setup(Which::StandIn, Dial::FULL);
        let Some((low, _)) = setup.stock.v_c else {
            return Ok(1.0);
        };
        let machine = setup.machine.as_ref();
        let slowest = machine.map_or(0.0, |m| {
            m.n_min.in_per_minute() / self.runs.n.in_per_minute()
        });
        let low = (low / self.production.v_c).value;
        let spindle = whole_up(low.max(slowest).max(self.range.least)).min(1.0);
        let plan = self.runs.plan(
            Which::StandIn,
            Dial {
                spindle,
                feed: spindle,
            },
        )?;
        let stalls = plan
            .check(l::POWER.name)
            .is_some_and(|c| c.state() == State::Over);
        Ok(if stalls { 1.0 } else { spindle })
    }

    /// A whole percent of override if that stays inside the feeds, the exact one else.
    fn inside(&self, dial: Dial, exact: Length, feeds: &Interval) -> Dial {
        let per_share = self.runs.feed_share(exact, dial.spindle);
        let f_z = exact * (dial.feed / per_share);
        if feeds.most.is_none_or(|m| f_z <= m.f_z) {
            dial
        } else {
            Dial {
                feed: per_share,
                ..dial
            }
        }
    }

    /// The stand-in under production's peak force, or as near as its own checks allow.
    fn equal_force(&self) -> Found {
        let wanted = match self.target()? {
            Ok(wanted) => wanted,
            Err(blocked) => return Ok(Err(blocked)),
        };
        let least = match self.feeds(Which::StandIn, 1.0)? {
            Ok((least, _)) => least,
            Err(blocked) => return Ok(Err(blocked)),
        };
        let f_z = if wanted > least.f_z {
            wanted
        } else {
            least.f_z
        };
        let mut setting = self.at(Which::StandIn, self.dial_for(f_z))?;
        let over = |setting: &Setting, end: End| {
            let check = setting.plan.check(end.limit.name);
            check.is_some_and(|c| c.state() == State::Over)
        };
        // The interval keeps wanted margins; only a broken bound stands in the way of the force.
        if let Some(most) = setting.plan.feeds.most.filter(|m| f_z > m.f_z)
            && over(&setting, most)
        {
            if most.f_z < least.f_z {
                return Ok(Err(Blocked::NoFeed { least, most }));
            }
            let feed = self.runs.feed_share(most.f_z, 1.0);
            let whole = (feed * 100.0).floor() / 100.0;
            let kept = self.runs.feed_share(least.f_z, 1.0);
            let feed = if whole >= kept { whole } else { feed };
            setting = self.at(Which::StandIn, Dial { spindle: 1.0, feed })?;
            setting.capped = Some(most);
        }
        Ok(Ok(setting))
    }

    /// The feed per tooth of equal force.
    fn target(&self) -> Result<Result<Length, Blocked>, SetupError> {
        let climbed = match self.produced()? {
            Ok(setting) => setting.plan,
            Err(_) => self.production.clone(),
        };
        if peak(&climbed).is_none() {
            return Ok(Err(Blocked::Needs(
                "a specific cutting force of the production stock",
            )));
        }
        if self.runs.model(Which::StandIn).is_none() {
            return Ok(Err(Blocked::Needs(
                "a specific cutting force of the stand-in",
            )));
        }
        // Where the edge alone presses harder than production, the floor is the gentlest there is.
        Ok(Ok(self.runs.equal_force(&climbed).unwrap_or_default()))
    }

    /// Overrides for a feed per tooth: the feed alone, or both where the machine's feed ends.
    fn dial_for(&self, f_z: Length) -> Dial {
        let feed = whole_up(self.runs.feed_share(f_z, 1.0));
        let full = Dial { spindle: 1.0, feed };
        let setup = self.runs.setup(Which::StandIn, Dial::FULL);
        let fastest = setup.machine.as_ref().and_then(|m| m.v_f_max);
        let Some(most) = fastest
            .map(|v| (v / self.runs.v_f).value)
            .filter(|m| feed > *m)
        else {
            return full;
        };
        let reached = (most * 100.0).floor() / 100.0;
        let spindle = (reached / self.runs.feed_share(f_z, 1.0) * 100.0).floor() / 100.0;
        if spindle > 0.0 {
            Dial {
                spindle,
                feed: reached,
            }
        } else {
            full
        }
    }

    /// Production as programmed, with the feed turned up where it would rub.
    fn produced(&self) -> Found {
        let setup = self.runs.setup(Which::Production, Dial::FULL);
        let Some((floor, moment)) = find::least_that_cuts(&setup, self.production) else {
            return Ok(Err(Blocked::Needs("the cutting edge radius")));
        };
        let mut feed = 1.0;
        if self.production.f_z < floor {
            let least = End {
                f_z: floor,
                limit: &l::CHIP_FLOOR,
                moment,
            };
            if let Some(most) = self.production.feeds.most.filter(|m| m.f_z < floor) {
                return Ok(Err(Blocked::NoFeed { least, most }));
            }
            feed = whole_up(self.runs.feed_share(floor, 1.0));
        }
        Ok(Ok(self.at(Which::Production, Dial { spindle: 1.0, feed })?))
    }

    /// Production at the least depth, from half upwards, whose chip stays above the floor and that
    /// brings nothing over the full depth has not. Where the full depth leaves no feed, the largest
    /// depth from half downwards that does.
    fn reduced(&self) -> Found {
        match self.produced()? {
            Ok(full) => self.shallower(&full),
            Err(blocked) => self.shallow(blocked),
        }
    }

    fn shallower(&self, full: &Setting) -> Found {
        for share in SHARES {
            let setting = self.at_depth(share, full.dial)?;
            let new = |c: &Check| {
                let before = full.plan.check(c.limit.name);
                c.state() == State::Over && before.is_none_or(|b| b.state() != State::Over)
            };
            if !setting.plan.checks.iter().any(new) {
                return Ok(Ok(setting));
            }
        }
        Ok(Ok(full.clone()))
    }

    fn shallow(&self, blocked: Blocked) -> Found {
        for share in SMALLER {
            let plan = self.at_depth(share, Dial::FULL)?.plan;
            let Some(least) = plan.feeds.least.filter(|_| !plan.feeds.is_empty()) else {
                continue;
            };
            let whole = whole_up(self.runs.feed_share(least.f_z, 1.0));
            let dial = Dial {
                spindle: 1.0,
                feed: whole,
            };
            let dial = self.inside(dial, least.f_z, &plan.feeds);
            return Ok(Ok(self.at_depth(share, dial)?));
        }
        Ok(Err(blocked))
    }

    /// Production at a share of its depth.
    fn at_depth(&self, share: f64, dial: Dial) -> Result<Setting, SetupError> {
        let mut setup = self.runs.setup(Which::Production, dial);
        setup.cut.a_p *= share;
        let planner = self.runs.planner(Which::Production);
        let plan = planner.work_out(&setup, &mut Silent)?;
        Ok(self.setting(dial, plan, setup.cut.a_p, setup.a_e()))
    }
}

/// The next whole percent up.
fn whole_up(share: f64) -> f64 {
    (share * 100.0 - 1e-6).ceil() / 100.0
}
