//! How each rung finds its setting.

use super::{Blocked, RungKind, RungSetting};
use crate::limit::{Check, State};
use crate::notebook::Silent;
use crate::plan::Plan;
use crate::plan::interval::{FeedEnd, Interval};
use crate::plan::limits as l;
use crate::plan::setup::{Intent, SetupError};
use crate::quantity::Length;
use crate::rehearsal::{Dial, DialRange, Runs, Which, peak};

/// Depths of the reduced rung over the full depth, tried in this order (common practice).
const SHARES: [f64; 5] = [0.5, 0.6, 0.7, 0.8, 0.9];

/// The same where production leaves no feed at its full depth.
const SMALLER: [f64; 4] = [0.5, 0.4, 0.3, 0.2];

/// Why a rung has no setting.
pub(super) enum Stop {
    /// The rung cannot be run.
    Blocked(Blocked),
    /// The cut cannot be as described.
    Setup(SetupError),
}

impl From<SetupError> for Stop {
    fn from(error: SetupError) -> Self {
        Self::Setup(error)
    }
}

impl From<Blocked> for Stop {
    fn from(blocked: Blocked) -> Self {
        Self::Blocked(blocked)
    }
}

/// What the rungs are found from.
pub(super) struct Climb<'a> {
    pub(super) runs: &'a Runs,
    pub(super) range: DialRange,
    /// Production as programmed.
    pub(super) production: &'a Plan,
}

impl Climb<'_> {
    /// The setting of a rung.
    pub(super) fn rung(&self, kind: RungKind) -> Result<RungSetting, Stop> {
        match kind {
            RungKind::Air => Ok(self.at(Which::StandIn, 1.0, Dial::FULL)?),
            RungKind::Cautious => self.cautious(),
            RungKind::EqualForce => self.equal_force(),
            RungKind::Reduced => self.reduced(),
            RungKind::Production => self.produced(),
        }
    }

    /// One of the stocks, at a share of its depth.
    fn at(&self, which: Which, depth: f64, dial: Dial) -> Result<RungSetting, SetupError> {
        let mut setup = self.runs.setup(which, dial);
        setup.cut.a_p *= depth;
        let plan = self.runs.planner(which).work_out(&setup, &mut Silent)?;
        let share = peak(&plan).zip(peak(self.production));
        Ok(RungSetting {
            dial,
            within: self.range.holds(dial),
            force_share: share.map(|(rung, production)| rung / production),
            plan,
            a_p: setup.cut.a_p,
            a_e: setup.a_e(),
            capped: None,
        })
    }

    /// Feeds per tooth that may be run, with their least: inside every wanted margin of a cautious
    /// run; inside the smaller margins of production where that leaves none. A tolerance that
    /// nobody gave bounds none.
    fn feeds(&self, which: Which, depth: f64, spindle: f64) -> Result<(FeedEnd, Interval), Stop> {
        let feed = spindle;
        let mut setup = self.runs.setup(which, Dial { spindle, feed });
        setup.cut.a_p *= depth;
        let planner = self.runs.planner(which);
        let mut of = |intent| {
            setup.intent = intent;
            // A bound that nobody gave keeps nobody from rehearsing.
            let plan = planner.work_out(&setup, &mut Silent)?;
            Ok::<_, SetupError>(plan.feeds_by_given)
        };
        let mut feeds = of(Intent::Cautious)?;
        if feeds.is_empty() {
            feeds = of(Intent::Production)?;
        }
        match (feeds.least, feeds.most) {
            (None, _) => Err(Blocked::Needs("the cutting edge radius").into()),
            (Some(least), Some(most)) if feeds.is_empty() => {
                Err(Blocked::NoFeed { least, most }.into())
            }
            (Some(least), _) => Ok((least, feeds)),
        }
    }

    /// The gentlest run above the floor: the low end of the stand-in's speeds, the feed with it.
    fn cautious(&self) -> Result<RungSetting, Stop> {
        let spindle = self.slow()?;
        let (least, feeds) = self.feeds(Which::StandIn, 1.0, spindle)?;
        let mut dial = self.just_above(&least, &feeds, spindle);
        if dial.feed < self.range.least {
            let reached = Dial {
                feed: self.range.least,
                ..dial
            };
            if self.holds(&feeds, reached) {
                dial = reached;
            }
        }
        Ok(self.at(Which::StandIn, 1.0, dial)?)
    }

    /// The spindle override of the cautious run: as slow as the stand-in's band of speeds, the
    /// dial and the spindle's torque allow.
    fn slow(&self) -> Result<f64, SetupError> {
        let setup = self.runs.setup(Which::StandIn, Dial::FULL);
        let Some((low, _)) = setup.stock.v_c else {
            return Ok(1.0);
        };
        let slowest = setup.machine.as_ref().map_or(0.0, |m| {
            m.n_min.in_per_minute() / self.runs.n.in_per_minute()
        });
        let low = (low / self.production.v_c).value;
        let spindle = whole_up(low.max(slowest).max(self.range.least)).min(1.0);
        let feed = spindle;
        let plan = self.runs.plan(Which::StandIn, Dial { spindle, feed })?;
        let stalls = plan.check(l::POWER.name).is_some_and(over);
        Ok(if stalls { 1.0 } else { spindle })
    }

    /// The least feed as a whole percent of override if that stays inside the feeds, else exactly.
    fn just_above(&self, least: &FeedEnd, feeds: &Interval, spindle: f64) -> Dial {
        let exact = self.runs.feed_share(least.f_z, spindle);
        let feed = whole_up(exact);
        let dial = Dial { spindle, feed };
        if self.holds(feeds, dial) {
            dial
        } else {
            Dial {
                spindle,
                feed: exact,
            }
        }
    }

    /// Whether the feed per tooth that a dial gives stays below the end of the feeds.
    fn holds(&self, feeds: &Interval, dial: Dial) -> bool {
        let share = |f_z: Length| self.runs.feed_share(f_z, dial.spindle);
        feeds.most.is_none_or(|m| dial.feed <= share(m.f_z))
    }

    /// The stand-in under production's peak force, or as near as its own checks allow.
    fn equal_force(&self) -> Result<RungSetting, Stop> {
        let wanted = self.wanted()?;
        let (least, _) = self.feeds(Which::StandIn, 1.0, 1.0)?;
        let f_z = if wanted > least.f_z {
            wanted
        } else {
            least.f_z
        };
        let setting = self.at(Which::StandIn, 1.0, self.dial_for(f_z))?;
        // The interval keeps wanted margins; only a broken bound stands in the way of the force.
        let broken = |end: &FeedEnd| setting.plan.check(end.limit.name).is_some_and(over);
        let Some(most) = setting
            .plan
            .feeds_by_given
            .most
            .filter(|m| f_z > m.f_z && broken(m))
        else {
            return Ok(setting);
        };
        if most.f_z < least.f_z {
            return Err(Blocked::NoFeed { least, most }.into());
        }
        let exact = self.runs.feed_share(most.f_z, 1.0);
        let whole = (exact * 100.0).floor() / 100.0;
        let cuts = whole >= self.runs.feed_share(least.f_z, 1.0);
        let dial = Dial {
            spindle: 1.0,
            feed: if cuts { whole } else { exact },
        };
        Ok(RungSetting {
            capped: Some(most),
            ..self.at(Which::StandIn, 1.0, dial)?
        })
    }

    /// The feed per tooth of equal force; nothing where the edge alone presses harder, so that the
    /// floor is the gentlest there is.
    fn wanted(&self) -> Result<Length, Stop> {
        let needs = |stock: Which| {
            let what = match stock {
                Which::Production => "a specific cutting force of the production stock",
                Which::StandIn => "a specific cutting force of the stand-in",
            };
            Err(Stop::from(Blocked::Needs(what)))
        };
        if self.runs.model(Which::Production).is_none() {
            return needs(Which::Production);
        }
        if self.runs.model(Which::StandIn).is_none() {
            return needs(Which::StandIn);
        }
        let climbed = match self.produced() {
            Ok(setting) => setting.plan,
            Err(Stop::Blocked(_)) => self.production.clone(),
            Err(stop) => return Err(stop),
        };
        Ok(self.runs.equal_force(&climbed).unwrap_or_default())
    }

    /// Overrides for a feed per tooth: the feed alone, or both where the machine's feed ends.
    fn dial_for(&self, f_z: Length) -> Dial {
        let alone = self.runs.feed_share(f_z, 1.0);
        let full = Dial {
            spindle: 1.0,
            feed: whole_up(alone),
        };
        let setup = self.runs.setup(Which::StandIn, Dial::FULL);
        let fastest = setup.machine.as_ref().and_then(|m| m.v_f_max);
        let most = fastest.map_or(f64::MAX, |v| (v / self.runs.v_f).value);
        let feed = (most * 100.0).floor() / 100.0;
        let spindle = (feed / alone * 100.0).floor() / 100.0;
        if full.feed > most && spindle > 0.0 {
            Dial { spindle, feed }
        } else {
            full
        }
    }

    /// Production as programmed, with the feed turned up where it would rub.
    fn produced(&self) -> Result<RungSetting, Stop> {
        let floor = self.production.check(l::CHIP_FLOOR.name);
        let dial = match floor.map_or(State::Unknown, Check::state) {
            State::Unknown => return Err(Blocked::Needs("the cutting edge radius").into()),
            State::Over => {
                let (least, feeds) = self.feeds(Which::Production, 1.0, 1.0)?;
                self.just_above(&least, &feeds, 1.0)
            }
            State::Ok | State::Caution => {
                if self.production.feeds_by_given.is_empty() {
                    self.feeds(Which::Production, 1.0, 1.0)?;
                }
                Dial::FULL
            }
        };
        Ok(self.at(Which::Production, 1.0, dial)?)
    }

    /// Production at the least depth, from half upwards, that brings nothing over which the full
    /// depth has not. Where the full depth leaves no feed, the largest depth from half downwards
    /// that does.
    fn reduced(&self) -> Result<RungSetting, Stop> {
        let full = match self.produced() {
            Ok(full) => full,
            Err(Stop::Blocked(blocked)) => return self.shallow(blocked),
            Err(stop) => return Err(stop),
        };
        for share in SHARES {
            let setting = self.at(Which::Production, share, full.dial)?;
            let new = |c: &Check| over(c) && !full.plan.check(c.limit.name).is_some_and(over);
            if !setting.plan.checks.iter().any(new) {
                return Ok(setting);
            }
        }
        Ok(full)
    }

    fn shallow(&self, blocked: Blocked) -> Result<RungSetting, Stop> {
        for share in SMALLER {
            match self.feeds(Which::Production, share, 1.0) {
                Ok((least, feeds)) => {
                    let dial = self.just_above(&least, &feeds, 1.0);
                    return Ok(self.at(Which::Production, share, dial)?);
                }
                Err(Stop::Blocked(_)) => {}
                Err(stop) => return Err(stop),
            }
        }
        Err(blocked.into())
    }
}

/// Whether a check is broken.
fn over(check: &Check) -> bool {
    check.state() == State::Over
}

/// The next whole percent up.
fn whole_up(share: f64) -> f64 {
    (share * 100.0 - 1e-6).ceil() / 100.0
}
