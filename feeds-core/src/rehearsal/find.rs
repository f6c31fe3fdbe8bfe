//! The inverse: which feed loads the stand-in as production, which feed still cuts.

use super::{Runs, Which};
use crate::kernel::root;
use crate::limit::Moment;
use crate::notebook::Silent;
use crate::plan::loads::LoadModel;
use crate::plan::moments::{Engaged, Moments};
use crate::plan::setup::Setup;
use crate::plan::start::least_chip;
use crate::plan::{Plan, effective_diameter};
use crate::quantity::{Length, Quantity};

/// Feeds are searched between these shares of the diameter.
const RANGE: (f64, f64) = (1e-7, 1.0);

/// The feed per tooth whose largest lateral force over the moments is `force` (N).
///
/// # Gives
/// `None` when the stock has no known force, or when even the thinnest chip presses harder: the
/// edge alone does.
///
/// # Accuracy
/// 1e-10 of the feed.
pub fn feed_for_peak(
    setup: &Setup,
    model: &LoadModel,
    moments: &[Engaged],
    force: f64,
) -> Option<Length> {
    let d = setup.cutter.diameter;
    let log = root::bracketed(RANGE.0.ln(), RANGE.1.ln(), 1e-10, |log| {
        (peak(setup, model, moments.iter(), d * log.exp()) / force).ln()
    })?;
    Some(d * log.exp())
}

/// The largest lateral force over some moments, N.
fn peak<'a>(
    setup: &Setup,
    model: &LoadModel,
    moments: impl Iterator<Item = &'a Engaged>,
    f_z: Length,
) -> f64 {
    // The force of a turn does not depend on how fast it turns.
    moments.fold(0.0, |most, m| {
        most.max(model.at(setup, m, f_z, 1.0).lateral)
    })
}

/// The least feed per tooth whose chip reaches the floor at every moment, and the moment that asks
/// for it; `None` when the edge radius is not known.
pub fn least_that_cuts(setup: &Setup, plan: &Plan) -> Option<(Length, Moment)> {
    let floor = least_chip(setup)?;
    let thinnest = plan
        .moments
        .iter()
        .map(|(engaged, _)| engaged)
        .min_by(|a, b| a.chip.total_cmp(&b.chip))?;
    Some((floor / thinnest.chip, thinnest.moment))
}

impl Runs {
    /// The lowest feed override at which that stock is still cut, with the spindle override at
    /// `spindle`; `None` when the edge radius is not known.
    pub fn lowest_feed(&self, which: Which, plan: &Plan, spindle: f64) -> Option<f64> {
        let setup = &self.of(which).0;
        let (least, _) = least_that_cuts(setup, plan)?;
        Some(self.feed_share(least, spindle))
    }

    /// The feed override that gives a feed per tooth with the spindle override at `spindle`.
    pub fn feed_share(&self, f_z: Length, spindle: f64) -> f64 {
        let (setup, _) = self.of(Which::Production);
        let z = f64::from(setup.cutter.edges);
        (f_z * z * self.n.turns() * spindle / self.v_f).si()
    }

    /// The feed per tooth at which the stand-in takes the largest force of `production`.
    pub fn equal_force(&self, production: &Plan) -> Option<Length> {
        let force = super::peak(production)?;
        let (setup, planner) = self.of(Which::StandIn);
        let moments: Vec<Engaged> = production.moments.iter().map(|(m, _)| *m).collect();
        feed_for_peak(setup, planner.model()?, &moments, force)
    }

    /// The depth at which the stand-in takes the largest force of `production` at the programmed
    /// feed per tooth: the chip stays what it is. `None` when a force is unknown or when no depth
    /// of the flutes is enough.
    ///
    /// # Accuracy
    /// 1e-6 of the depth.
    pub fn equal_depth(&self, production: &Plan) -> Option<Length> {
        let force = super::peak(production)?;
        let (setup, planner) = self.of(Which::StandIn);
        let (mut setup, model) = (setup.clone(), planner.model()?);
        let full = setup.cut.a_p;
        let most = (setup.cutter.fluted() / full).value;
        let share = root::bracketed(SHALLOWEST, most.max(SHALLOWEST), 1e-6, |share| {
            setup.cut.a_p = full * share;
            let moments = Moments::of(&setup, effective_diameter(&setup, &mut Silent));
            (peak(&setup, model, moments.iter(), production.f_z) / force).ln()
        })?;
        Some(full * share)
    }
}

/// Depths are searched from this share of the full one.
const SHALLOWEST: f64 = 0.05;
