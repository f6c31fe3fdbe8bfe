//! Teeth in cut at once, by the formulas of the register.

use feeds_core::formula::Formula;
use feeds_core::formula::teeth::{TeethLeast, TeethMean, TeethMost};
use feeds_core::quantity::{Angle, Quantity};

/// Mean, fewest and most teeth in cut of `z`, for an arc and the lag of the helix, both rad.
pub fn in_cut(z: f64, arc: f64, lag: f64) -> [f64; 3] {
    let [phi_s, lag] = [arc, lag].map(Angle::from_si);
    let teeth = TeethMean { z, phi_s, lag }.value();
    let (least, most) = (TeethLeast { teeth }, TeethMost { teeth });
    [teeth, least.value(), most.value()]
}
