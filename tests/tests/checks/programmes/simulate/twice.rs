//! A line that is run twice, once cutting up and once cutting down: what each run comes to, joined.

use super::{line, pass, planned, read};
use std::f64::consts::PI;

/// The same line beside the near wall, 0.5 mm wide, and beside the far one, 1 mm wide. The block is
/// on its left and then on its right, and the spindle turns clockwise: up, then down.
const MOVES: &str = "#1=0\n#2=-1.5\nWHILE [#1 LT 2] DO1\nG0 Z5\nX-5 Y#2\nZ-1\nG1 X45 F80\n\
                     #2=21\n#1=[#1+1]\nEND1";

#[track_caller]
fn near(got: f64, expect: f64, within: f64) {
    assert!((got - expect).abs() < within, "{got} is not {expect}");
}

#[test]
fn a_line_that_is_run_twice_is_told_as_one() {
    let cut = read(MOVES, &planned(&pass())).simulation.unwrap();
    let line = line(&cut, 11);
    // From X-5 to X45 twice; of it the 40 mm of the block and what the circle reaches before it:
    // its edge is √(R² − (R − a_e)²) ahead of the centre where it meets the corner.
    near(line.way, 100.0, 0.01);
    let ahead = |a_e: f64| (4.0_f64 - (2.0 - a_e) * (2.0 - a_e)).sqrt();
    let (up, down) = (40.0 + ahead(0.5), 40.0 + ahead(1.0));
    near(line.cuts, up + down, 0.3);
    // While the circle comes into the corner it cuts up, down or neither: 1.5 mm of 83 at most.
    near(line.up_share, up / (up + down), 0.02);
    near(line.width_most, 1.0, 2e-3);
    near(line.depth_most, 1.0, 1e-6);
    // acos(1 − 2 a_e/D), 20 µm a tooth: sin 60° of it at most.
    near(line.arc_most, PI / 3.0, 5e-3);
    near(line.chip_most.unwrap(), 0.02 * (PI / 3.0).sin(), 1e-4);
    // Below 3 µm of 20 the edge rubs, so over the first 8.6° of 41.4° and of 60°.
    let rubs = |a_e: f64| 0.15_f64.asin() / (1.0_f64 - a_e / 2.0).acos();
    let share = (rubs(0.5) * up + rubs(1.0) * down) / (up + down);
    near(line.rubbing_share.unwrap(), share, 0.01);
    // 100 N over 1 mm of depth, whatever the chip.
    near(line.force_most.unwrap(), 100.0, 0.1);
    near(line.force_99.unwrap(), 100.0, 0.1);
    near(cut.removed, 40.0 * 0.5 + 40.0 * 1.0, 0.1);
}
