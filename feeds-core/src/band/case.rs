//! A plan worked out again with inputs changed.

use super::{Input, Spread, Worn, change, factor, worn};
use crate::limit::{Check, Limit};
use crate::plan::chatter::Lobes;
use crate::plan::checks::{self, At};
use crate::plan::law::Coefficients;
use crate::plan::loads::{LoadModel, Loadings};
use crate::plan::moments::Moments;
use crate::plan::setup::Setup;
use crate::plan::{Plan, Planner};
use crate::quantity::in_mm;
use crate::symbol::{self as s, Symbol};

/// What one draw comes to.
pub(super) struct Outcome {
    pub(super) answers: Vec<(&'static Symbol, f64)>,
    /// In the order of the plan's checks.
    pub(super) margins: Vec<Option<f64>>,
}

/// What stays the same from draw to draw.
pub(crate) struct Case<'a> {
    plan: &'a Plan,
    /// No input that is spread changes how the cutter is engaged.
    moments: Moments,
    loadings: Option<Loadings<'a>>,
    coefficients: Option<&'a Coefficients>,
    at: At,
}

impl<'a> Case<'a> {
    pub(crate) fn of(planner: &'a Planner, setup: &Setup, plan: &'a Plan) -> Self {
        let moments = Moments::of(setup, plan.d_eff);
        Self {
            plan,
            loadings: planner.model().map(|m| m.ready_all(setup, &moments)),
            moments,
            coefficients: planner.model().map(LoadModel::coefficients),
            at: At {
                n: plan.n,
                f_z: plan.f_z,
                v_f: plan.v_f,
            },
        }
    }

    /// The margin of chatter in each of so many draws of one seed.
    pub(super) fn chatter(&self, setup: &Setup, draws: usize, seed: u64) -> Vec<f64> {
        let (n, nominal) = (self.plan.n, self.moments.iter().next());
        let lobes = nominal.and_then(|m| Lobes::of(setup, self.coefficients, m));
        let Some((lobes, at)) = lobes.zip(self.plan.stable) else {
            return Vec::new();
        };
        let a_p = in_mm(setup.cut.a_p);
        let depths = lobes.drawn(n, &at, draws, seed);
        depths.iter().map(|most| 1.0 - a_p / most).collect()
    }

    /// One of its answers in SI base units; not a number where the force is not known.
    pub(crate) fn answer(&mut self, setup: &Setup, symbol: &Symbol) -> f64 {
        let answers = self.outcome(setup).answers;
        let found = answers.iter().find(|(s, _)| s.name == symbol.name);
        found.map_or(f64::NAN, |(_, value)| *value)
    }

    /// How much of a limit is used; not a number where that is not known.
    pub(crate) fn used(&mut self, setup: &Setup, limit: &Limit) -> f64 {
        let place = self.plan.checks.iter().position(|c| c.limit == limit);
        let margin = place.and_then(|k| self.outcome(setup).margins[k]);
        margin.map_or(f64::NAN, |margin| 1.0 - margin)
    }

    pub(super) fn outcome(&mut self, setup: &Setup) -> Outcome {
        let loads = self.loadings.as_mut().map(|l| {
            l.take(setup);
            l.at(self.at)
        });
        let all = checks::all(setup, &self.moments, loads, self.plan.d_eff, self.at);
        let margins = self
            .plan
            .checks
            .iter()
            .map(|c| {
                all.iter()
                    .find(|o| o.limit == c.limit)
                    .and_then(Check::margin)
            })
            .collect();
        let nominal = loads.and_then(|l| l.first().copied());
        let radial = self.loadings.as_mut().map_or(0.0, Loadings::radial);
        let answers = nominal.map_or_else(Vec::new, |l| {
            vec![
                (&s::F_XY, l.lateral),
                (&s::F_RADIAL, radial),
                (&s::M_MAX, l.torque),
                (&s::P_MEAN, l.power),
                (&s::DEFLECTION, l.tip),
                (&s::WALL_ERROR, l.wall()),
                (&s::SIGMA, l.stress),
            ]
        });
        Outcome { answers, margins }
    }

    /// The same settings with a worn edge.
    pub(super) fn worn(&mut self, setup: &Setup) -> Option<Worn> {
        let land = setup.guides.worn_land?;
        let mut setup = setup.clone();
        let resistance = setup.stock.resistance.as_mut()?;
        if resistance.land >= land || resistance.body.is_none() {
            return None;
        }
        resistance.land = land;
        let at = self.at;
        let loadings = self.loadings.as_mut()?;
        loadings.take(&setup);
        let loads = loadings.at(at);
        let all = checks::all(&setup, &self.moments, Some(loads), self.plan.d_eff, at);
        Some(Worn {
            land,
            loads: *loads.first()?,
            checks: worn::checks(&all),
            width: setup.a_e(),
        })
    }

    /// Margins with one input after the other at either end of its spread.
    pub(super) fn swings(&mut self, setup: &Setup, spreads: &[Spread]) -> Swings {
        let of = |spread: &Spread| {
            let mut ends = [-1.0, 1.0].map(|end| {
                let mut setup = setup.clone();
                change(&mut setup, spread.input, factor(*spread, end));
                self.outcome(&setup).margins
            });
            let [low, high] = &mut ends;
            let swing = low
                .iter()
                .zip(high.iter())
                .map(|(a, b)| a.zip(*b).map_or(0.0, |(a, b)| (a - b).abs()))
                .collect();
            (spread.input, swing)
        };
        Swings(spreads.iter().map(of).collect())
    }
}

/// How far each input moves each margin.
pub(super) struct Swings(Vec<(Input, Vec<f64>)>);

impl Swings {
    pub(super) fn matters(&self, check: usize) -> Option<Input> {
        let most = self
            .0
            .iter()
            .max_by(|a, b| a.1[check].total_cmp(&b.1[check]))?;
        (most.1[check] > 1e-9).then_some(most.0)
    }
}
