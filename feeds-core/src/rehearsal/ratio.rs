//! How much of production a rehearsal is, load by load.

use super::peak;
use crate::cutter::Cutter;
use crate::limit::Found;
use crate::plan::Plan;
use std::f64::consts::TAU;

/// Rehearsal over production; `None` where one of them is not known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Ratios {
    /// Largest lateral force, over every moment.
    pub force: Option<f64>,
    /// Largest torque of the nominal engagement.
    pub torque: Option<f64>,
    /// Bending of the tip.
    pub bending: Option<f64>,
    /// Largest chip thickness.
    pub chip: Option<f64>,
    /// Cutting power over the length of edge in the work.
    pub heat: Option<f64>,
    /// Force on the hold, as a share of what it bears.
    pub hold: Option<f64>,
}

impl Ratios {
    /// The ratios of two answers for the same cutter.
    pub fn of(cutter: &Cutter, rehearsal: &Plan, production: &Plan) -> Self {
        let ratio = |of: &dyn Fn(&Plan) -> Option<f64>| {
            let ratio = of(rehearsal)? / of(production)?;
            ratio.is_finite().then_some(ratio)
        };
        Self {
            force: ratio(&peak),
            torque: ratio(&|p| Some(p.loads?.torque)),
            bending: ratio(&|p| Some(p.loads?.tip)),
            chip: ratio(&|p| Some(p.h_max.value)),
            heat: ratio(&|p| heat(cutter, p)),
            hold: ratio(&|p| match p.check("hold")?.found {
                Found::Known { value, bound } => Some(value / bound.si()),
                Found::Needs(_) => None,
            }),
        }
    }
}

/// Cutting power over the mean length of edge in the work, W/m: what warms an edge.
///
/// ```text
/// P_m / (z · φ_s / 360° · a_p / cos λ_s)
/// ```
///
/// A comparison of two runs, not a temperature (common practice).
pub fn heat(cutter: &Cutter, plan: &Plan) -> Option<f64> {
    let (engaged, loads) = plan.moments.first()?;
    let edge = engaged.a_p.value / cutter.helix.value.cos();
    let edges = f64::from(cutter.edges) * engaged.arc.value / TAU;
    Some((*loads)?.power / (edges * edge))
}
