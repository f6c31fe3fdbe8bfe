//! Teeth in cut at once.

use core::f64::consts::TAU;

/// Number of teeth in contact over a turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InCut {
    /// Fewest at any angle.
    pub min: f64,
    /// Most at any angle.
    pub max: f64,
    /// Mean over the turn.
    pub mean: f64,
}

/// Teeth in cut for `z` teeth, engaged arc and helix lag over the depth, both rad.
///
/// ```text
/// mean = z (φ_s + lag) / 2π       min, max: whole numbers around it
/// ```
///
/// When the mean is whole, a tooth leaves as the next enters and all three agree.
pub fn in_cut(z: u32, arc: f64, lag: f64) -> InCut {
    let mean = f64::from(z) * (arc + lag) / TAU;
    // Closer than this to a whole number is rounding: angles come in through degrees.
    let whole = mean.round();
    if (mean - whole).abs() < 1e-9 {
        InCut {
            min: whole,
            max: whole,
            mean,
        }
    } else {
        InCut {
            min: mean.floor(),
            max: mean.ceil(),
            mean,
        }
    }
}
