//! What turning the overrides does to a pass: chip load and margins from 50 to 150 %.

use super::answered::Answered;
use super::feed_dial::FeedDial;
use feeds_core::limit::{Check, State};
use feeds_core::notebook::Silent;
use feeds_core::plan::setup::{Given, Setup};
use feeds_core::plan::{Plan, Planner};
use feeds_core::quantity::{Length, SpindleSpeed};

/// The overrides of the table, in per cent.
pub const STEPS: [u32; 5] = [50, 75, 100, 125, 150];

/// Checks that tell of something breaking or coming loose.
const BREAKS: [&str; 4] = ["breakage", "hold", "tipping", "pull-out"];

/// The check of how far the cutter bends off the wall.
const WALL: &str = "wall-error";

/// What is beyond its bound at some overrides.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[allow(
    clippy::struct_excessive_bools,
    reason = "five limits, none of which follows from another"
)]
pub struct Beyond {
    /// The chip is thinner than the edge can lift, at its thickest or over most of the arc or of
    /// the edges.
    pub rubs: bool,
    /// The wall ends up further off than it may.
    pub bends: bool,
    /// The cutter breaks, or the part or the cutter comes loose.
    pub breaks: bool,
    /// The edge is loaded more than the book gives it: small edges break.
    pub edge: bool,
    /// The machine does not turn or feed that fast, or that slowly.
    pub machine: bool,
}

/// The pass at one spindle override and one feed override.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cell {
    /// Spindle override in per cent.
    pub spindle: u32,
    /// Feed override in per cent.
    pub feed: u32,
    /// Feed per tooth.
    pub f_z: Length,
    /// Largest chip thickness.
    pub h_max: Length,
    /// Margin to the chip floor; `None` if it is not known.
    pub floor: Option<f64>,
    /// The least margin against breaking or coming loose; `None` if none is known.
    pub strength: Option<f64>,
    /// The least margin against rubbing, over the arc and of the edges too; `None` if not known.
    pub against_rubbing: Option<f64>,
    /// The least margin against breaking, of the edges too, or coming loose; `None` if not known.
    pub against_breaking: Option<f64>,
    /// Whether there is a wall, and how far it ends up off is not known.
    pub bends_unknown: bool,
    /// Whether nobody gave how far the wall may be off.
    pub bends_guessed: bool,
    /// What is beyond its bound.
    pub beyond: Beyond,
}

/// Where something begins when one override is turned, in per cent; `None` is not within the table.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Begins {
    /// Rubbing: at this override and beyond it, away from 100 %.
    pub rubs: Option<u32>,
    /// Breaking or coming loose.
    pub breaks: Option<u32>,
}

/// The table of a pass.
#[derive(Clone, Debug, PartialEq)]
pub struct Overrides {
    /// Rows of feed overrides, columns of spindle overrides.
    pub cells: Vec<[Cell; STEPS.len()]>,
    /// What happens when the feed override alone is turned.
    pub feed: FeedDial,
    /// Where things begin when the spindle override alone is turned.
    pub spindle: Begins,
}

impl Overrides {
    /// Works out the table; `None` if some override cannot be worked out.
    pub fn of(answer: &Answered, planner: &Planner) -> Option<Self> {
        let dials = Dials { answer, planner };
        let mut cells = Vec::new();
        for feed in STEPS {
            let row: Vec<Cell> = STEPS
                .iter()
                .map(|&spindle| dials.at(spindle, feed))
                .collect::<Option<_>>()?;
            cells.push(row.try_into().ok()?);
        }
        Some(Self {
            cells,
            feed: FeedDial::of(|percent| dials.at(100, percent)),
            spindle: Dials::begins(|percent| dials.at(percent, 100)),
        })
    }

    /// The cells with the spindle at 100 %, by feed override.
    pub fn along_feed(&self) -> impl Iterator<Item = &Cell> {
        self.cells.iter().flatten().filter(|c| c.spindle == 100)
    }

    /// The cells with the feed at 100 %, by spindle override.
    pub fn along_spindle(&self) -> impl Iterator<Item = &Cell> {
        self.cells.iter().flatten().filter(|c| c.feed == 100)
    }
}

/// The pass at one spindle override and one feed override, in per cent; the planner is the one that
/// worked it out.
pub fn turned(answer: &Answered, planner: &Planner, spindle: u32, feed: u32) -> Option<Cell> {
    Dials { answer, planner }.at(spindle, feed)
}

struct Dials<'a> {
    answer: &'a Answered,
    planner: &'a Planner,
}

impl Dials<'_> {
    fn at(&self, spindle: u32, feed: u32) -> Option<Cell> {
        let share = |percent: u32| f64::from(percent) / 100.0;
        let plan = &self.answer.plan;
        let given = Given {
            n: Some(SpindleSpeed::of_turns(plan.n.turns() * share(spindle))),
            v_f: Some(plan.v_f * share(feed)),
            ..Given::default()
        };
        let setup = Setup {
            given,
            origins: Vec::new(),
            ..self.answer.resolved.setup.clone()
        };
        let plan = self.planner.work_out(&setup, &mut Silent).ok()?;
        Some(cell(spindle, feed, &plan))
    }

    /// Goes from 100 % both ways. Chips and loads only rise or only fall with one override, so
    /// that halving finds where something begins.
    fn begins(at: impl Fn(u32) -> Option<Cell>) -> Begins {
        let first = |beyond: fn(Beyond) -> bool| {
            let is = |percent: u32| at(percent).is_some_and(|c| beyond(c.beyond));
            if is(100) {
                return Some(100);
            }
            [STEPS[0], STEPS[STEPS.len() - 1]]
                .into_iter()
                .find(|end| is(*end))
                .map(|end| between(100, end, is))
        };
        Begins {
            rubs: first(|b| b.rubs),
            breaks: first(|b| b.breaks || b.edge),
        }
    }
}

/// The whole number nearest to `fine` that is beyond, given that `beyond` is and `fine` is not.
fn between(mut fine: u32, mut beyond: u32, is: impl Fn(u32) -> bool) -> u32 {
    while fine.abs_diff(beyond) > 1 {
        let middle = u32::midpoint(fine, beyond);
        if is(middle) {
            beyond = middle;
        } else {
            fine = middle;
        }
    }
    beyond
}

fn cell(spindle: u32, feed: u32, plan: &Plan) -> Cell {
    let margin = |name: &str| plan.check(name).and_then(Check::margin);
    let below = |margin: Option<f64>| margin.is_some_and(|m| m < 0.0);
    let floor = margin("chip-floor");
    let strength = BREAKS.into_iter().filter_map(margin).min_by(f64::total_cmp);
    let least = |margins: [Option<f64>; 2]| margins.into_iter().flatten().min_by(f64::total_cmp);
    let (arc, edge) = (margin("rubbing"), margin("feed-band"));
    let wall = plan.check(WALL);
    let machine = ["spindle-speed-most", "spindle-speed-least", "feed-speed"];
    Cell {
        spindle,
        feed,
        f_z: plan.f_z,
        h_max: plan.h_max,
        floor,
        strength,
        against_rubbing: floor.and_then(|_| least([floor, arc])),
        against_breaking: strength.and_then(|_| least([strength, edge])),
        bends_unknown: wall.is_some_and(|c| c.state() == State::Unknown),
        bends_guessed: wall.is_some_and(|c| c.guessed),
        beyond: Beyond {
            rubs: below(floor) || below(arc),
            bends: below(margin(WALL)),
            breaks: below(strength),
            edge: below(edge),
            machine: machine.into_iter().any(|name| below(margin(name))),
        },
    }
}
