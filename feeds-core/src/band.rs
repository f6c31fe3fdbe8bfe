//! How sure an answer is: bands from uncertain inputs, and which input matters most.
//!
//! Each input is spread about its value, the pass is worked out again for many draws with one
//! seed, and the 5 % and 95 % ends of what comes out are told. Same seed, same digits.
//!
#![doc = include_str!("band/example.md")]

mod case;
mod worn;

pub(crate) use case::Case;
pub use worn::Worn;

use case::Outcome;

use crate::kernel::seed::Seed;
use crate::limit::{Limit, SLACK};
use crate::notebook::Silent;
use crate::own::OwnFactors;
use crate::plan::law::OverWidth;
use crate::plan::limits::CHATTER;
use crate::plan::setup::Setup;
use crate::plan::{Plan, Planner};
use crate::quantity::Length;
use crate::symbol::Symbol;
use crate::workpiece::{EdgeTerms, Factors, ForceSpread, Resistance};

/// An input that is not known exactly.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Input {
    /// The force of the chip.
    Cut,
    /// The force of the edge, whatever its radius.
    Edge,
    /// What chip and edge push across the cut.
    Across,
    /// The force of a wear land.
    Land,
    /// Whether any of it holds for a cutter below 1 mm.
    Micro,
    /// Depth as it is set.
    Depth,
    /// Runout at the tip.
    Runout,
    /// Stick-out of the cutter.
    StickOut,
    /// Cutting edge radius: of the least chip, and of the force of the edge.
    EdgeRadius,
    /// Stiffness of the machine.
    Stiffness,
    /// Clamping force.
    Clamp,
    /// Friction of the jaws.
    Friction,
    /// Strength of the cutter's grade.
    Strength,
}

/// How many inputs are spread.
pub const INPUTS: usize = 13;

impl Input {
    /// Every input that is spread.
    pub const ALL: [Self; INPUTS] = [
        Self::Cut,
        Self::Edge,
        Self::Across,
        Self::Land,
        Self::Micro,
        Self::Depth,
        Self::Runout,
        Self::StickOut,
        Self::EdgeRadius,
        Self::Stiffness,
        Self::Clamp,
        Self::Friction,
        Self::Strength,
    ];

    /// Its name in words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Cut => "force of the chip",
            Self::Edge => "force of the edge",
            Self::Across => "force across the cut",
            Self::Land => "force of the wear land",
            Self::Micro => "force on so small a cutter",
            Self::Depth => "depth as it is set",
            Self::Runout => "runout",
            Self::StickOut => "stick-out",
            Self::EdgeRadius => "edge radius",
            Self::Stiffness => "stiffness of the machine",
            Self::Clamp => "clamping force",
            Self::Friction => "friction of the jaws",
            Self::Strength => "strength of the cutter",
        }
    }
}

/// How far an input may lie from its value: 90 % of the draws lie within a factor of `1 + share`
/// either way. Those of the forces come from how far measured sources disagree; the others are
/// common practice.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// The input.
    pub input: Input,
    /// Share, 0 or more.
    pub share: f64,
}

/// Standard deviation of the logarithm of the edge radius: a share of 0.40.
pub const EDGE_RADIUS_SD: f64 = 0.205;
/// Standard deviation of the logarithm of every force on a cutter below [`SMALL`]: the least that
/// holds nine of ten measured points there (two sources; see the tables).
pub const MICRO_SD: f64 = 0.66;
/// Below this diameter, m, no model is sure.
pub const SMALL: f64 = 1e-3;
/// How far a depth that is set may be off, m, and as a share of it: the larger counts.
const DEPTH_OFF: (f64, f64) = (20e-6, 0.05);

/// The share of a standard deviation of the logarithm.
pub(crate) fn share_of(deviation: f64) -> f64 {
    (AT_95 * deviation).exp_m1()
}

/// The spreads of a pass.
pub fn spreads(setup: &Setup) -> [Spread; INPUTS] {
    let force = setup.stock.resistance.as_ref();
    let of = |part: fn(&ForceSpread) -> f64| force.map_or(0.0, |r| share_of(part(&r.spread)));
    let (off, share) = DEPTH_OFF;
    let known = setup.own.as_ref();
    Input::ALL.map(|input| Spread {
        input,
        share: match input {
            input if known.is_some_and(|own| own.spread(input).is_some()) => {
                known.and_then(|own| own.spread(input)).unwrap_or(0.0)
            }
            Input::Cut => of(|spread| spread.cut),
            Input::Edge => force.map_or(0.0, |r| share_of(edge_alone(setup, r))),
            Input::Across => of(|spread| spread.across),
            Input::Land => of(|spread| spread.land),
            Input::Micro if setup.cutter.diameter.value < SMALL => share_of(MICRO_SD),
            Input::Micro => 0.0,
            Input::Depth => (off / setup.cut.a_p.value).max(share),
            Input::Runout | Input::Stiffness => 0.50,
            Input::StickOut => 0.03,
            Input::EdgeRadius => share_of(EDGE_RADIUS_SD),
            Input::Clamp => 0.30,
            Input::Friction => 0.25,
            Input::Strength => 0.15,
        },
    })
}

/// The spread of the edge force without what the draw of the edge radius does to it.
fn edge_alone(setup: &Setup, force: &Resistance) -> f64 {
    let edge = force.spread.edge;
    let drawn = setup.cutter.edge_radius.is_some()
        && force.class_law().is_some_and(|law| match law.edge {
            EdgeTerms::Measured { .. } => setup.cutter.usual_edge_radius.is_some(),
            EdgeTerms::Ploughing { .. } => true,
            EdgeTerms::OfRow { .. } => false,
        });
    if drawn {
        (edge * edge - EDGE_RADIUS_SD * EDGE_RADIUS_SD)
            .max(0.0)
            .sqrt()
    } else {
        edge
    }
}

/// The band of an answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AnswerBand {
    /// Which answer.
    pub symbol: &'static Symbol,
    /// The 5 % end, in SI base units.
    pub low: f64,
    /// The 95 % end.
    pub high: f64,
}

/// The band of a check.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CheckBand {
    /// Which check.
    pub limit: &'static Limit,
    /// The 5 % end of its margin.
    pub low: f64,
    /// The 95 % end.
    pub high: f64,
    /// Share of the draws in which it is over.
    pub over: f64,
    /// The input that moves it most, if any does.
    pub matters: Option<Input>,
}

/// How sure a plan is.
#[derive(Clone, Debug, PartialEq)]
pub struct LikelyRange {
    /// Number of draws.
    pub draws: usize,
    /// The spreads.
    pub spreads: [Spread; INPUTS],
    /// The answers that move.
    pub answers: Vec<AnswerBand>,
    /// The checks that have a margin, in the plan's order.
    pub checks: Vec<CheckBand>,
    /// The same settings with a worn edge; `None` where the edge is as worn already, or its force
    /// is not known.
    pub worn: Option<Worn>,
}

impl LikelyRange {
    /// The band of a check.
    pub fn check(&self, name: &str) -> Option<&CheckBand> {
        self.checks.iter().find(|c| c.limit.name == name)
    }

    /// The band of a plan from `draws` draws (200 are plenty) of one seed.
    pub fn of(planner: &Planner, setup: &Setup, plan: &Plan, draws: usize, seed: u64) -> Self {
        let spreads = spreads(setup);
        // Where the numbers are from does not matter here, and is much to copy.
        let setup = &Setup {
            origins: Vec::new(),
            ..setup.clone()
        };
        let mut case = Case::of(planner, setup, plan);
        let drawn = drawn(setup, draws, seed);
        let rows: Vec<Outcome> = drawn.map(|setup| case.outcome(&setup)).collect();
        let answers = case
            .outcome(setup)
            .answers
            .iter()
            .enumerate()
            .map(|(i, (symbol, _))| {
                let (low, high) = ends(rows.iter().map(|r| r.answers[i].1));
                AnswerBand { symbol, low, high }
            })
            .collect();
        let worn = case.worn(setup);
        let swings = case.swings(setup, &spreads);
        let checks = plan
            .checks
            .iter()
            .enumerate()
            .filter(|(_, check)| check.margin().is_some())
            .map(|(i, check)| {
                // The lobes are drawn apart: they are far slower than the loads.
                let lobes = (check.limit == &CHATTER).then(|| case.chatter(setup, draws, seed));
                let lobes = lobes.unwrap_or_default();
                let loads = rows.iter().filter_map(move |r| r.margins[i]);
                let margins = || loads.clone().chain(lobes.iter().copied());
                let (low, high) = ends(margins());
                CheckBand {
                    limit: check.limit,
                    low,
                    high,
                    over: share(margins().filter(|m| *m < -SLACK).count(), draws),
                    matters: swings.matters(i),
                }
            })
            .collect();
        Self {
            draws,
            spreads,
            answers,
            checks,
            worn,
        }
    }
}

/// A setup with every input drawn, so many times by one seed.
pub(crate) fn drawn(setup: &Setup, draws: usize, seed: u64) -> impl Iterator<Item = Setup> + '_ {
    let spreads = spreads(setup);
    let mut seed = Seed::new(seed);
    (0..draws).map(move |_| {
        let mut setup = setup.clone();
        for spread in alone(&setup, &spreads) {
            let factor = factor(spread, seed.normal() / AT_95);
            change(&mut setup, spread.input, factor);
        }
        together(&mut setup, &mut seed);
        setup
    })
}

/// The spreads that are drawn one by one: what own cuts say is drawn together.
fn alone(setup: &Setup, spreads: &[Spread]) -> Vec<Spread> {
    let own = setup.own.as_ref();
    let known = |s: &&Spread| own.is_some_and(|own| own.spread(s.input).is_some());
    spreads.iter().filter(|s| !known(s)).copied().collect()
}

/// Draws what own cuts say.
fn together(setup: &mut Setup, seed: &mut Seed) {
    if let Some(own) = setup.own.take() {
        own.draw(setup, &OwnFactors::INPUTS.map(|_| seed.normal()));
        setup.own = Some(own);
    }
}

/// The 5 % and 95 % ends of the force over the width of an edge, along and across the cut; `None`
/// where the force is not known.
pub fn over_width(setup: &Setup, h: Length, draws: usize, seed: u64) -> Option<[(f64, f64); 2]> {
    let spreads = spreads(setup);
    // How deep it cuts has no part in it.
    let mut spreads = alone(setup, &spreads);
    spreads.retain(|s| s.input != Input::Depth);
    let mut seed = Seed::new(seed);
    let mut along = Vec::with_capacity(draws);
    let mut across = Vec::with_capacity(draws);
    for _ in 0..draws {
        let mut drawn = setup.clone();
        for spread in &spreads {
            change(
                &mut drawn,
                spread.input,
                factor(*spread, seed.normal() / AT_95),
            );
        }
        together(&mut drawn, &mut seed);
        let force = drawn.stock.resistance.as_ref()?;
        let width = OverWidth::of(force, &drawn.cutter, h, &mut Silent)?;
        along.push(width.along.value);
        across.push(width.across.value);
    }
    Some([ends(along.into_iter()), ends(across.into_iter())])
}

/// Standard deviations from the middle to the 95 % end of a normal draw.
pub(crate) const AT_95: f64 = 1.644_853_627;

/// The factor of a draw: 1 in the middle, `1 + share` at the 95 % end.
fn factor(spread: Spread, deviations: f64) -> f64 {
    (deviations * spread.share.ln_1p()).exp()
}

/// Changes one input by a factor.
pub(crate) fn change(setup: &mut Setup, input: Input, factor: f64) {
    let machine = setup.machine.as_mut();
    let hold = setup.hold.as_mut();
    let mut force = |part: fn(&mut Factors) -> &mut f64| {
        if let Some(resistance) = &mut setup.stock.resistance {
            *part(&mut resistance.factors) *= factor;
        }
    };
    match input {
        Input::Cut => force(|f| &mut f.cut),
        Input::Edge => force(|f| &mut f.edge),
        Input::Across => force(|f| &mut f.across),
        Input::Land => force(|f| &mut f.land),
        // Forces go with the depth.
        Input::Micro | Input::Depth => force(|f| &mut f.all),
        Input::Runout => {
            if let Some(runout) = machine.and_then(|m| m.runout.as_mut()) {
                *runout *= factor;
            }
        }
        Input::StickOut => setup.cutter.stick_out *= factor,
        Input::EdgeRadius => {
            if let Some(radius) = &mut setup.cutter.edge_radius {
                *radius *= factor;
            }
        }
        Input::Stiffness => {
            if let Some(stiffness) = machine.and_then(|m| m.stiffness.as_mut()) {
                *stiffness *= factor;
            }
        }
        Input::Clamp => {
            if let Some(force) = hold.and_then(|h| h.clamp_force.as_mut()) {
                *force *= factor;
            }
        }
        Input::Friction => {
            if let Some(hold) = hold {
                hold.friction *= factor;
            }
        }
        Input::Strength => setup.cutter.rupture *= factor,
    }
}

/// The 5 % and 95 % ends of what was drawn.
pub(crate) fn ends(values: impl Iterator<Item = f64>) -> (f64, f64) {
    let mut sorted: Vec<f64> = values.collect();
    sorted.sort_by(f64::total_cmp);
    let last = sorted.len().saturating_sub(1);
    let at = |hundredths: usize| {
        sorted
            .get(last * hundredths / 100)
            .copied()
            .unwrap_or(f64::NAN)
    };
    (at(5), at(95))
}

fn share(count: usize, of: usize) -> f64 {
    let number = |n: usize| f64::from(u32::try_from(n).unwrap_or(u32::MAX));
    number(count) / number(of.max(1))
}
