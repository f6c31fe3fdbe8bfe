//! What runout gives each tooth to cut.

use core::f64::consts::TAU;

use super::turn::{Load, Tooth};

/// Chip feed of each tooth in the order they cut, mm, the most loaded first.
///
/// Radii of an axis set off by TIR/2: tooth j takes
///
/// ```text
/// f_j = max(0, min over m = 1..z of (m f_z + r_j - r_(j-m)))
/// ```
///
/// so with a small runout the worst tooth takes `f_z + TIR sin(π/z)`, with a large one teeth drop
/// out, and the sum stays `z f_z`. The chip is taken as `f_j sin φ`, and the edge force as in
/// [`TOUCH`].
pub fn chip_feeds(z: u32, f_z: f64, tir: f64) -> Vec<f64> {
    let step = TAU / f64::from(z);
    // The phase puts the largest rise from the tooth before at tooth 0.
    let r = |j: f64| 0.5 * tir * (step * (j + 0.5)).sin();
    (0..z)
        .map(f64::from)
        .map(|j| {
            let chip = |m: u32| f64::from(m) * f_z + r(j) - r(j - f64::from(m));
            (1..=z).map(chip).fold(f64::INFINITY, f64::min).max(0.0)
        })
        .collect()
}

/// A tooth that takes less than this share of the feed presses with its edge in proportion
/// (common practice): one that only begins to touch adds no force at a stroke, so that the load is
/// continuous in the feed.
pub const TOUCH: f64 = 0.1;

/// Adds what each of `z` teeth takes at a feed per tooth and a runout, mm; p = 1 - `m_c`. Teeth
/// that are alike have one between them.
pub(super) fn teeth(teeth: &mut Vec<Tooth>, (z, f_z, tir): (u32, f64, f64), power: f64) {
    if tir > 0.0 && z > 1 {
        teeth.extend(chip_feeds(z, f_z, tir).into_iter().map(|f| Tooth {
            share: f.powf(power),
            cuts: (f / (TOUCH * f_z)).min(1.0),
        }));
    } else {
        teeth.push(Tooth {
            share: f_z.powf(power),
            cuts: 1.0,
        });
    }
}

/// Mean over the turn, by that of the chip at a share of 1 and that of the edge.
pub(super) fn mean(teeth: &[Tooth], cut: Load, edge: Load) -> Load {
    let count = f64::from(u32::try_from(teeth.len()).unwrap_or(1));
    let of = |part: fn(&Tooth) -> f64| teeth.iter().map(part).sum::<f64>() / count;
    cut * of(|t| t.share) + edge * of(|t| t.cuts)
}
