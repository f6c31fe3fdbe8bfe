//! What a shop has found out with its own cuts.
//!
//! A book gives a force law with a wide range. Every cut that was measured - how far the wall was
//! off, the watts of the spindle, a force on a scale, whether there was a chip, whether the cutter
//! broke - says more about this stock with this cutter, and about this machine. All readings
//! together move the inputs of a [range](crate::band) by factors, and narrow what is still unknown
//! of them ([`Joint`]). The factors begin at 1, spread as [`spreads`] has them.
//!
//! Cuts of another stock or cutter share only the machine with a pass: they are another group.

mod trial;

pub use trial::{ChosenTrial, Trial, choose};

use crate::band::{AT_95, Case, Input, change, share_of, spreads};
use crate::kernel::joint::{Joint, Seen};
use crate::plan::setup::Setup;
use crate::plan::{Plan, Planner, limits};
use crate::symbol::{self as s, Symbol};

/// So many inputs are learnt of a stock with a kind of cutter; the last one is the machine's.
const OF_GROUP: usize = OwnFactors::INPUTS.len() - 1;
/// How near a chip and none, or breaking and holding, are told apart, as a logarithm (common
/// practice).
const TOLD_APART: f64 = 0.2;

/// What was seen of a cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sighting {
    /// An answer was measured.
    Measured {
        /// Which: wall error, lateral force or mean power.
        symbol: &'static Symbol,
        /// In SI base units.
        value: f64,
        /// Nine of ten readings lie within this share of the truth either way.
        within: f64,
    },
    /// Whether the edges cut a chip, at the thickest place.
    Chip(bool),
    /// Whether the cutter broke.
    Broke(bool),
}

impl Sighting {
    /// The answers that can be measured.
    pub const MEASURED: [&'static Symbol; 3] = [&s::WALL_ERROR, &s::F_XY, &s::P_MEAN];
}

/// A cut as it was planned, and what was seen of it.
#[derive(Clone, Debug)]
pub struct OwnCut<'a> {
    /// Plans its kind.
    pub planner: &'a Planner,
    /// As the book has it: no own numbers in it.
    pub setup: &'a Setup,
    /// Its plan.
    pub plan: &'a Plan,
    /// Cuts of one stock with one kind of cutter have one number, from 0.
    pub group: usize,
    /// What was seen.
    pub seen: Sighting,
}

/// What all cuts of a shop say together.
#[derive(Clone, Debug, PartialEq)]
pub struct Own {
    joint: Joint,
}

/// What of it concerns a pass: factors on the inputs of its range, and how sure they are.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnFactors {
    /// The logarithms of the factors of [`OwnFactors::INPUTS`].
    joint: Joint,
}

impl OwnFactors {
    /// What is learnt: of a stock with a kind of cutter, and last of the machine.
    pub const INPUTS: [Input; 8] = [
        Input::Cut,
        Input::Edge,
        Input::Across,
        Input::Land,
        Input::Micro,
        Input::EdgeRadius,
        Input::Strength,
        Input::Stiffness,
    ];

    /// The factor of an input, and its range (5 to 95 %); `None` for one that is not learnt.
    pub fn factor(&self, input: Input) -> Option<(f64, [f64; 2])> {
        let k = Self::INPUTS.iter().position(|i| *i == input)?;
        let (mean, off) = (self.joint.mean[k], AT_95 * self.joint.deviation(k));
        Some((mean.exp(), [(mean - off).exp(), (mean + off).exp()]))
    }

    /// The share by which an input is still spread; `None` for one that is not learnt.
    pub(crate) fn spread(&self, input: Input) -> Option<f64> {
        let k = Self::INPUTS.iter().position(|i| *i == input)?;
        Some(share_of(self.joint.deviation(k)))
    }

    /// Moves the inputs of a setup to where the own cuts put them; what is left of their spread
    /// stays with the setup, so that its range is that of the shop.
    #[must_use]
    pub fn applied(&self, setup: &Setup) -> Setup {
        let mut moved = setup.clone();
        for (input, ln) in Self::INPUTS.iter().zip(&self.joint.mean) {
            change(&mut moved, *input, ln.exp());
        }
        let mut rest = self.joint.clone();
        rest.mean.fill(0.0);
        moved.own = Some(Self { joint: rest });
        moved
    }

    /// Changes a setup by factors drawn together.
    pub(crate) fn draw(&self, setup: &mut Setup, normal: &[f64]) {
        for (input, ln) in Self::INPUTS.iter().zip(self.joint.draw(normal)) {
            change(setup, *input, ln.exp());
        }
    }
}

/// Where in the joint numbers the inputs of a group lie, and the machine's.
fn places(group: usize, groups: usize) -> impl Iterator<Item = usize> {
    let first = group * OF_GROUP;
    (first..first + OF_GROUP).chain([groups * OF_GROUP])
}

/// The standard deviation of the logarithm of an input before any own cut.
fn prior(setup: &Setup, k: usize) -> f64 {
    let spread = spreads(setup);
    let share = spread.iter().find(|s| s.input == OwnFactors::INPUTS[k]);
    share.map_or(0.0, |s| s.share.ln_1p() / AT_95)
}

impl Own {
    /// What cuts say together of their own groups, and of those of other passes.
    pub fn of(cuts: &[OwnCut<'_>], beside: &[(usize, &Setup)]) -> Self {
        let all = || {
            let cuts = cuts.iter().map(|c| (c.group, c.setup));
            cuts.chain(beside.iter().copied())
        };
        let groups = all().map(|(group, _)| group + 1).max().unwrap_or(0);
        let mut deviations = vec![0.0; groups * OF_GROUP + 1];
        for (group, setup) in all() {
            for (k, place) in places(group, groups).enumerate() {
                // Inputs that one cut does not know may be known of another.
                deviations[place] = prior(setup, k).max(deviations[place]);
            }
        }
        let mut cases: Vec<Case<'_>> = cuts
            .iter()
            .map(|cut| Case::of(cut.planner, cut.setup, cut.plan))
            .collect();
        let readings: Vec<Seen> = cuts.iter().map(|cut| cut.seen.reading()).collect();
        let joint = Joint::independent(&deviations).after(&readings, |k, numbers| {
            let cut = &cuts[k];
            let mut setup = cut.setup.clone();
            for (input, place) in OwnFactors::INPUTS.iter().zip(places(cut.group, groups)) {
                change(&mut setup, *input, numbers[place].exp());
            }
            cut.seen.ln(&mut cases[k], &setup)
        });
        Self { joint }
    }

    /// What concerns a group; of one without cuts only the machine.
    pub fn of_group(&self, group: Option<usize>, setup: &Setup) -> OwnFactors {
        let groups = self.joint.mean.len() / OF_GROUP;
        let all = self.joint.mean.len();
        let picked: Vec<Option<usize>> = match group.filter(|g| *g < groups) {
            Some(group) => places(group, groups).map(Some).collect(),
            None => [None; OF_GROUP]
                .into_iter()
                .chain([Some(all - 1)])
                .collect(),
        };
        let mean = picked.iter().map(|p| p.map_or(0.0, |p| self.joint.mean[p]));
        let mean: Vec<f64> = mean.collect();
        let mut covariance = Vec::with_capacity(picked.len() * picked.len());
        for (i, a) in picked.iter().enumerate() {
            for (j, b) in picked.iter().enumerate() {
                covariance.push(match (a, b) {
                    (Some(a), Some(b)) => self.joint.covariance[a * all + b],
                    _ if i == j => prior(setup, i).powi(2),
                    _ => 0.0,
                });
            }
        }
        OwnFactors {
            joint: Joint { mean, covariance },
        }
    }
}

impl Sighting {
    fn reading(self) -> Seen {
        match self {
            Self::Measured { value, within, .. } => Seen::Value {
                at: value.ln(),
                deviation: within.ln_1p() / AT_95,
            },
            Self::Chip(above) | Self::Broke(above) => Seen::Side {
                of: 0.0,
                above,
                deviation: TOLD_APART,
            },
        }
    }

    /// The logarithm of what is read, as predicted: of a chip, over the least one; of the stress,
    /// over the strength.
    fn ln(self, case: &mut Case<'_>, setup: &Setup) -> f64 {
        match self {
            Self::Measured { symbol, .. } => case.answer(setup, symbol).ln(),
            Self::Chip(_) => -case.used(setup, &limits::CHIP_FLOOR).ln(),
            Self::Broke(_) => case.used(setup, &limits::RUPTURE).ln(),
        }
    }
}
