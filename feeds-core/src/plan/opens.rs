//! What would open a pass that is over, or that rubs: the smallest single change of each kind.
//!
//! Forces go with the depth, bending with the cube of the stick-out and stress with the stick-out,
//! so those two come first. Every change is worked out anew, feed and all: what is told here runs.

use super::limits as l;
use super::setup::{Given, Setup};
use super::{Plan, Planner};
use crate::cut::{Direction, Path, Width};
use crate::kernel::root;
use crate::limit::{Check, Limit, SLACK};
use crate::notebook::Silent;
use crate::quantity::{Length, Quantity, mm};
use crate::verdict::Verdict;

/// What can be changed, the cheapest first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Change {
    /// Raise the feed per tooth to this.
    Feed(Length),
    /// Mill conventionally, or climb.
    Direction(Direction),
    /// Take this depth, in so many levels.
    Depth(Length, u32),
    /// Clamp the cutter at this stick-out.
    StickOut(Length),
    /// Take a cutter with flutes of this length.
    Flutes(Length),
    /// Take this width.
    Width(Length),
    /// Take a cutter of this diameter, as long as this one.
    Diameter(Length),
    /// Leave speed and feed free.
    Pace,
}

/// A change that opens a pass or a search, with what it then comes to: the pass, or the removal
/// rate of the best cut to a few per cent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Opening<T> {
    /// The change.
    pub change: Change,
    /// What it then comes to.
    pub then: T,
}

/// In how many levels of one depth another is cut.
pub(super) fn levels(whole: Length, level: Length) -> u32 {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "1 to 51: no depth is looked at below 0.02 of the whole"
    )]
    let levels = ((whole / level).value - SLACK).ceil() as u32;
    levels
}

/// Limits that have to hold: what they bound breaks, comes loose, is spoilt, or only rubs.
pub static OPENED: [&Limit; 10] = [
    &l::RUPTURE,
    &l::STRESS,
    &l::HOLD,
    &l::TIPPING,
    &l::PULL_OUT,
    &l::BACKLASH,
    &l::WALL,
    &l::POWER,
    &l::CHIP_FLOOR,
    &l::RUBBING,
];

/// Whether a check of [`OPENED`] is beyond a bound that somebody gave.
pub fn is_shut(check: &Check) -> bool {
    let beyond = check.margin().is_some_and(|m| m < -SLACK);
    OPENED.contains(&check.limit) && beyond && !check.guessed
}

/// Least depth, width and stick-out that are looked at, over what the pass has.
const LEAST: f64 = 0.02;
/// Widths over what the pass has from where one that opens is looked for, one after the other.
const NARROW: [f64; 5] = [LEAST, 0.1, 0.25, 0.5, 0.75];
/// Logarithm to which a change is looked for.
const EXACT: f64 = 1e-3;
/// How far the holder stays above the wall, m (common practice).
const CLEARANCE: f64 = 2e-3;
/// Diameters that cutters are sold in, mm.
const SOLD: [f64; 14] = [
    0.5, 0.8, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0,
];

/// Whether a pass runs: nothing of [`OPENED`] is shut, and nothing else stops it.
fn runs(plan: &Plan) -> bool {
    !plan.checks.iter().any(is_shut) && Verdict::of(&plan.checks) != Verdict::Stop
}

/// The changes that open a pass, the cheapest first; none where it runs.
pub fn openings(planner: &Planner, setup: &Setup, plan: &Plan) -> Vec<Opening<Plan>> {
    if runs(plan) {
        return Vec::new();
    }
    let pass = Pass {
        planner,
        setup: Setup {
            origins: Vec::new(),
            ..setup.clone()
        },
        plan,
    };
    [
        pass.feed(),
        pass.pace(),
        pass.conventional(),
        pass.depth(),
        pass.stick_out(),
        pass.flutes(),
        pass.width(),
        pass.diameter(),
    ]
    .into_iter()
    .flatten()
    .collect()
}

struct Pass<'a> {
    planner: &'a Planner,
    setup: Setup,
    plan: &'a Plan,
}

impl Pass<'_> {
    /// The pass changed, if it runs then.
    fn opened(&self, change: impl FnOnce(&mut Setup)) -> Option<Plan> {
        let mut setup = self.setup.clone();
        change(&mut setup);
        let mut planner = self.planner.clone();
        planner.keep_up(&setup);
        let plan = planner.work_out(&setup, &mut Silent).ok()?;
        runs(&plan).then_some(plan)
    }

    /// The largest value below what the pass has that opens it, rounded down to a step.
    fn most_below(
        &self,
        least: f64,
        here: f64,
        step: f64,
        change: impl Fn(&mut Setup, Length),
    ) -> Option<(Length, Plan)> {
        let opens = |log: f64| self.opened(|setup| change(setup, of_log(log))).is_some();
        let most = root::last(least.ln(), here.ln(), EXACT, opens)?.exp();
        let steps = (most / step).floor();
        let round = if steps >= 1.0 { steps * step } else { most };
        [round, most].into_iter().find_map(|value| {
            let value = Length::from_si(value);
            Some((value, self.opened(|setup| change(setup, value))?))
        })
    }

    /// A feed raised until enough of the arc cuts; only where nothing else is shut.
    fn feed(&self) -> Option<Opening<Plan>> {
        let rubs = |c: &Check| [&l::CHIP_FLOOR, &l::RUBBING].contains(&c.limit);
        if !self.plan.checks.iter().filter(|c| is_shut(c)).all(rubs) {
            return None;
        }
        let here = self.plan.f_z;
        let given = |setup: &mut Setup, f_z: Length| {
            setup.given.v_f = None;
            setup.given.v_c = None;
            setup.given.n = Some(self.plan.n);
            setup.given.f_z = Some(f_z);
        };
        (1..=30).find_map(|step: u32| {
            let f_z = here * (1.0 + 0.1 * f64::from(step));
            let plan = self.opened(|setup| given(setup, f_z))?;
            Some(Opening {
                change: Change::Feed(f_z),
                then: plan,
            })
        })
    }

    /// Feed, or speed and feed, left free where they were given.
    fn pace(&self) -> Option<Opening<Plan>> {
        let given = self.setup.given;
        let without_feed = Given {
            v_f: None,
            f_z: None,
            ..given
        };
        let free = [without_feed, Given::default()];
        let plan = free
            .into_iter()
            .filter(|free| *free != given)
            .find_map(|free| self.opened(|setup| setup.given = free))?;
        Some(Opening {
            change: Change::Pace,
            then: plan,
        })
    }

    /// The other way round, where climbing pulls the table.
    fn conventional(&self) -> Option<Opening<Plan>> {
        let pulls = |c: &Check| c.limit == &l::BACKLASH && is_shut(c);
        if !self.plan.checks.iter().any(pulls) {
            return None;
        }
        let plan = self.opened(|setup| setup.cut.direction = Direction::Up)?;
        Some(Opening {
            change: Change::Direction(Direction::Up),
            then: plan,
        })
    }

    fn depth(&self) -> Option<Opening<Plan>> {
        let here = self.setup.cut.a_p;
        let step = if here < mm(0.5) { 1e-6 } else { 10e-6 };
        let (a_p, plan) = self.most_below(here.value * LEAST, here.value, step, |setup, a_p| {
            setup.cut.a_p = a_p;
        })?;
        Some(Opening {
            change: Change::Depth(a_p, levels(here, a_p)),
            then: plan,
        })
    }

    fn stick_out(&self) -> Option<Opening<Plan>> {
        let cutter = &self.setup.cutter;
        let here = cutter.stick_out;
        let least = cutter.fluted().max(self.clear_of_the_wall());
        if least >= here {
            return None;
        }
        let (stick_out, plan) =
            self.most_below(least.value, here.value, 0.1e-3, |setup, stick_out| {
                setup.cutter.stick_out = stick_out;
            })?;
        Some(Opening {
            change: Change::StickOut(stick_out),
            then: plan,
        })
    }

    /// Shorter flutes on a cutter that sticks out as far: it breaks and bends where they end.
    fn flutes(&self) -> Option<Opening<Plan>> {
        let here = self.setup.cutter.fluted();
        let least = self.setup.cut.a_p;
        if least >= here || self.setup.cutter.neck.is_some() {
            return None;
        }
        let (length, plan) =
            self.most_below(least.value, here.value, 0.5e-3, |setup, length| {
                setup.cutter.flute_length = length;
            })?;
        Some(Opening {
            change: Change::Flutes(length),
            then: plan,
        })
    }

    /// The least that has to stick out for the holder to stay clear of the work.
    fn clear_of_the_wall(&self) -> Length {
        self.setup.cut.a_p + Length::from_si(CLEARANCE)
    }

    fn width(&self) -> Option<Opening<Plan>> {
        if self.setup.cut.path == Path::Slot {
            return None;
        }
        let here = self.setup.a_e();
        let change = |setup: &mut Setup, a_e: Length| setup.cut.width = Some(Width::Across(a_e));
        // A narrow cut thins its chip until it rubs: what opens may lie further up alone.
        let (a_e, plan) = NARROW
            .into_iter()
            .find_map(|least| self.most_below(here.value * least, here.value, 10e-6, change))?;
        Some(Opening {
            change: Change::Width(a_e),
            then: plan,
        })
    }

    /// The next thicker cutter that is sold and opens it; a slot has the width of its cutter.
    fn diameter(&self) -> Option<Opening<Plan>> {
        if self.setup.cut.path == Path::Slot {
            return None;
        }
        let here = self.setup.cutter.diameter;
        let width = self.setup.a_e();
        SOLD.into_iter()
            .map(mm)
            .filter(|d| *d > here)
            .find_map(|d| {
                let grown = (d / here).value;
                let plan = self.opened(|setup| {
                    let cutter = &mut setup.cutter;
                    cutter.diameter = d;
                    cutter.shank = cutter.shank.max(d);
                    cutter.corner_radius *= grown;
                    cutter.core = cutter.core.map(|core| core * grown);
                    cutter.neck = None;
                    setup.cut.width = Some(Width::Across(width));
                    if let Some(band) = &mut setup.stock.f_z {
                        for feed in [&mut band.least, &mut band.start, &mut band.most] {
                            *feed *= grown;
                        }
                    }
                })?;
                Some(Opening {
                    change: Change::Diameter(d),
                    then: plan,
                })
            })
    }
}

fn of_log(log: f64) -> Length {
    Length::from_si(log.exp())
}
