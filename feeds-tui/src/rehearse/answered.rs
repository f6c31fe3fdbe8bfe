//! A rehearsal worked out.

use super::asked::RehearsalAsked;
use super::decision::verdict;
use super::order::StockOrder;
use crate::pass::answered::{Answered, answered, worked_out};
use crate::pass::description::Description;
use crate::pass::field::Key;
use crate::pass::resolve::{Resolved, Shelves, resolve};
use feeds_core::error::EntryError;
use feeds_core::limit::{Limit, State};
use feeds_core::plan::setup::SetupError;
use feeds_core::plan::{Plan, Planner};
use feeds_core::quantity::Length;
use feeds_core::rehearsal::find::least_that_cuts;
use feeds_core::rehearsal::ladder::{Rung, ladder};
use feeds_core::rehearsal::measure::{Corrected, Left, corrected, left};
use feeds_core::rehearsal::pair::{CheckPair, pairs};
use feeds_core::rehearsal::ratio::Ratios;
use feeds_core::rehearsal::{Dial, DialRange, Runs, Which};
use feeds_core::verdict::Verdict;

/// A feed that was asked back from a wanted load or chip.
#[derive(Clone, Debug, PartialEq)]
pub struct FeedFound {
    /// Feed per tooth.
    pub f_z: Length,
    /// The feed override that gives it at full spindle speed.
    pub feed: f64,
    /// Whether the override reaches that far.
    pub within: bool,
    /// Limits that are over there.
    pub over: Vec<&'static Limit>,
}

/// What was measured on the stand-in, and what it makes of production.
#[derive(Clone, Debug)]
pub struct Measured {
    /// The wall error that was measured.
    pub measured: Length,
    /// The correction; `None` when the path leaves no wall or the sign is the other one.
    pub corrected: Option<Corrected>,
}

/// A rehearsal worked out.
#[derive(Clone, Debug)]
pub struct Rehearsed {
    /// The production pass as programmed.
    pub production: Answered,
    /// The stand-in with the overrides as they stand.
    pub stand_in: Answered,
    /// The good stock with the overrides as they stand.
    pub now: Plan,
    /// The stand-in as programmed.
    pub as_programmed: Plan,
    /// The two runs.
    pub runs: Runs,
    /// The overrides.
    pub dial: Dial,
    /// What the overrides reach.
    pub range: DialRange,
    /// Each check of both runs.
    pub pairs: Vec<CheckPair>,
    /// How much of production the rehearsal is.
    pub ratios: Ratios,
    /// The feed at which the stand-in takes production's peak force.
    pub equal_force: Option<FeedFound>,
    /// The depth at which it does at the programmed feed per tooth.
    pub equal_depth: Option<Length>,
    /// The lowest feed that still cuts production's stock and the stand-in.
    pub lowest: [Option<FeedFound>; 2],
    /// The climb.
    pub ladder: Vec<Rung>,
    /// What is left in production as programmed, and on the stand-in.
    pub left: [Option<Left>; 2],
    /// What was measured.
    pub measured: Option<Measured>,
    /// Length of the path.
    pub length: Option<Length>,
    /// The usual order of stocks, for this cut.
    pub order: StockOrder,
}

/// Reads what is asked and works it out. Without an intent the production pass goes as far as
/// every margin allows.
///
/// # Errors
/// Every entry that is wrong or missing, or such that no cut can be so.
pub fn rehearsed(
    asked: &RehearsalAsked,
    shelves: &impl Shelves,
) -> Result<Rehearsed, Vec<EntryError>> {
    let read = asked.read()?;
    let mut typed = asked.production.clone();
    if typed.get(Key::Intent).is_none() {
        typed = typed.with(&[(Key::Intent, "production")]);
    }
    let mut production = answered(&typed, shelves, &mut Planner::default())?;
    let stand_in = stand_in(asked, shelves)?;
    let of = |e: SetupError| {
        let field = e.field();
        vec![EntryError::NoCut(e).of(&field)]
    };
    let runs = Runs::new(&production.resolved.setup, &stand_in.setup).map_err(of)?;
    let (dial, range) = (read.dial, read.range);
    let stand_in = with_dial(&runs, stand_in, dial).map_err(of)?;
    let plan = |which, dial| runs.plan(which, dial).map_err(of);
    let now = plan(Which::Production, dial)?;
    let as_programmed = plan(Which::StandIn, Dial::FULL)?;
    let cutter = &production.resolved.setup.cutter;
    let found = |which, f_z: Option<Length>| feed_found(&runs, which, f_z, range).map_err(of);
    let least = |which, plan: &Plan| {
        let setup = runs.setup(which, Dial::FULL);
        found(which, least_that_cuts(&setup, plan).map(|(f_z, _)| f_z))
    };
    let of_left = |which, dial, plan: &Plan| left(&runs, which, &runs.setup(which, dial), plan);
    let measured = read.measured.map(|measured| {
        corrected(&runs, &stand_in.plan, dial, measured)
            .map(|corrected| Measured {
                measured,
                corrected,
            })
            .map_err(of)
    });
    let measured = measured.transpose()?;
    let ladder = ladder(&runs, range, &production.plan).map_err(of)?;
    let predicted = of_left(Which::Production, Dial::FULL, &production.plan);
    // What was measured is surer than what was predicted: production is judged by it.
    if let Some(c) = measured.as_ref().and_then(|m| m.corrected.as_ref()) {
        production.plan = c.plan.clone();
    }
    Ok(Rehearsed {
        pairs: pairs(&runs, &production.plan.checks, &stand_in.plan.checks),
        ratios: Ratios::of(cutter, &stand_in.plan, &production.plan),
        equal_force: found(Which::StandIn, runs.equal_force(&production.plan))?,
        equal_depth: runs.equal_depth(&production.plan),
        lowest: [
            least(Which::Production, &production.plan)?,
            least(Which::StandIn, &as_programmed)?,
        ],
        ladder,
        left: [predicted, of_left(Which::StandIn, dial, &stand_in.plan)],
        measured,
        length: read.length,
        order: StockOrder::of(&typed, shelves, &production),
        now,
        as_programmed,
        dial,
        range,
        stand_in,
        production,
        runs,
    })
}

impl Rehearsed {
    /// Whether production, as programmed or as measured, or the rehearsal itself stops.
    pub fn stops(&self) -> bool {
        verdict(self) == Verdict::Stop
    }

    /// Whether production is judged by what was measured.
    pub fn is_measured(&self) -> bool {
        let measured = self.measured.as_ref();
        measured.is_some_and(|m| m.corrected.is_some())
    }
}

/// The stand-in read; what is wrong is said of the stand-in's own entries.
fn stand_in(asked: &RehearsalAsked, shelves: &impl Shelves) -> Result<Resolved, Vec<EntryError>> {
    let pass: Description = asked.stand_in();
    resolve(&pass, shelves).map_err(|errors| {
        let own = |error: EntryError| match error {
            EntryError::In { field, error } => {
                let field = match field.as_str() {
                    "stock" => "stand-in".to_owned(),
                    "condition" | "hardness" => format!("stand-in-{field}"),
                    _ => field,
                };
                EntryError::In { field, error }
            }
            error => error,
        };
        errors.into_iter().map(own).collect()
    })
}

/// A feed per tooth as an override at full spindle speed, with what is over there.
fn feed_found(
    runs: &Runs,
    which: Which,
    f_z: Option<Length>,
    range: DialRange,
) -> Result<Option<FeedFound>, SetupError> {
    let Some(f_z) = f_z else { return Ok(None) };
    let feed = runs.feed_share(f_z, 1.0);
    let dial = Dial { spindle: 1.0, feed };
    let plan = runs.plan(which, dial)?;
    let over = plan.checks.iter().filter(|c| c.state() == State::Over);
    Ok(Some(FeedFound {
        f_z,
        feed,
        within: range.holds(dial),
        over: over.map(|c| c.limit).collect(),
    }))
}

/// The stand-in's answer with the overrides as they stand.
fn with_dial(runs: &Runs, resolved: Resolved, dial: Dial) -> Result<Answered, SetupError> {
    let setup = runs.setup(Which::StandIn, dial);
    worked_out(Resolved { setup, ..resolved }, runs.planner(Which::StandIn))
}
