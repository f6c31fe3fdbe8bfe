//! Which cuts in scrap would narrow an answer most.

use super::{OF_GROUP, Own, OwnCut, OwnFactors, places};
use crate::band::{AT_95, Case, change};
use crate::kernel::joint::Seen;
use crate::limit::Limit;

/// How far a number is changed to see what follows, as a logarithm.
const NUDGE: f64 = 1e-3;

/// What is to be known better: how much of these limits a pass uses.
#[derive(Clone, Debug)]
pub struct Trial<'a> {
    /// The pass; what was seen of it does not count.
    pub pass: OwnCut<'a>,
    /// What decides about it.
    pub limits: Vec<&'static Limit>,
}

/// A cut that was chosen, and how far it narrows the answer.
#[derive(Clone, Debug, PartialEq)]
pub struct ChosenTrial {
    /// Its place in the list.
    pub cut: usize,
    /// The factor within which nine of ten answers lie, of each limit, once it is made as well.
    pub within: Vec<f64>,
}

/// Chooses, one after the other, the cuts that narrow the answer most, up to so many, beside what
/// was learnt before. The factors before any of them come first.
pub fn choose(
    made: &[OwnCut<'_>],
    cuts: &[OwnCut<'_>],
    wanted: &Trial<'_>,
    most: usize,
) -> (Vec<f64>, Vec<ChosenTrial>) {
    let beside: Vec<_> = cuts
        .iter()
        .chain([&wanted.pass])
        .map(|c| (c.group, c.setup))
        .collect();
    let own = Own::of(made, &beside);
    let targets: Vec<Vec<f64>> = wanted
        .limits
        .iter()
        .map(|limit| {
            slopes(&own, &wanted.pass, |case, setup| {
                case.used(setup, limit).ln()
            })
        })
        .collect();
    let trials: Vec<(Vec<f64>, f64)> = cuts
        .iter()
        .map(|cut| {
            let slopes = slopes(&own, cut, |case, setup| cut.seen.ln(case, setup));
            let deviation = match cut.seen.reading() {
                Seen::Value { deviation, .. } | Seen::Side { deviation, .. } => deviation,
            };
            (slopes, deviation)
        })
        .collect();
    let mut covariance = own.joint.covariance.clone();
    let within = |covariance: &[f64]| -> Vec<f64> {
        let each = targets.iter().map(|t| variance(covariance, t));
        each.map(|v| (AT_95 * v.sqrt()).exp()).collect()
    };
    let before = within(&covariance);
    let mut chosen: Vec<ChosenTrial> = Vec::new();
    while chosen.len() < most {
        let left = (0..trials.len()).filter(|k| chosen.iter().all(|c| c.cut != *k));
        let after = left.map(|k| {
            let narrower = narrowed(&covariance, &trials[k]);
            let spread = targets
                .iter()
                .map(|t| variance(&narrower, t).max(1e-12).ln());
            (k, spread.sum::<f64>(), narrower)
        });
        let Some((cut, _, narrower)) = after.min_by(|a, b| a.1.total_cmp(&b.1)) else {
            break;
        };
        covariance = narrower;
        chosen.push(ChosenTrial {
            cut,
            within: within(&covariance),
        });
    }
    (before, chosen)
}

/// How a logarithm follows all the numbers that are learnt.
fn slopes(
    own: &Own,
    cut: &OwnCut<'_>,
    ln: impl Fn(&mut Case<'_>, &crate::plan::setup::Setup) -> f64,
) -> Vec<f64> {
    let all = own.joint.mean.len();
    let mut slopes = vec![0.0; all];
    let groups = all / OF_GROUP;
    let mut case = Case::of(cut.planner, cut.setup, cut.plan);
    let mut at = |moved: Option<(usize, f64)>| {
        let mut setup = cut.setup.clone();
        for (input, place) in OwnFactors::INPUTS.iter().zip(places(cut.group, groups)) {
            let off = moved.filter(|(k, _)| *k == place).map_or(0.0, |m| m.1);
            change(&mut setup, *input, (own.joint.mean[place] + off).exp());
        }
        ln(&mut case, &setup)
    };
    for place in places(cut.group, groups) {
        let ends = [NUDGE, -NUDGE].map(|off| at(Some((place, off))));
        slopes[place] = (ends[0] - ends[1]) / (2.0 * NUDGE);
    }
    slopes
}

/// The covariance times a vector.
fn times(covariance: &[f64], slopes: &[f64]) -> Vec<f64> {
    let rows = covariance.chunks(slopes.len());
    rows.map(|row| row.iter().zip(slopes).map(|(c, s)| c * s).sum())
        .collect()
}

fn variance(covariance: &[f64], slopes: &[f64]) -> f64 {
    let along = times(covariance, slopes);
    along.iter().zip(slopes).map(|(a, s)| a * s).sum()
}

/// What is left of the spread after a reading that follows these slopes.
fn narrowed(covariance: &[f64], (slopes, deviation): &(Vec<f64>, f64)) -> Vec<f64> {
    let n = slopes.len();
    let along = times(covariance, slopes);
    let all = variance(covariance, slopes) + deviation * deviation;
    let mut rest = covariance.to_vec();
    for (i, a) in along.iter().enumerate() {
        for (j, b) in along.iter().enumerate() {
            rest[i * n + j] -= a * b / all;
        }
    }
    rest
}
