//! Each bound of what is found along the cut, a hair on both sides.

use super::{check, pass, planned};
use serde_json::json;

/// Back along the near side with the axis at a height: a width of that plus 2 mm.
fn along(y: f64) -> String {
    format!("G0 X45\nY{y}\nZ-1\nG1 X-5 F80")
}

/// 0.97 of 4 mm is 3.88 mm.
#[test]
fn a_slot_is_nearly_as_wide_as_the_cutter() {
    check(
        "slot-unplanned",
        &planned(&pass()),
        &along(1.92),
        &along(1.84),
    );
}

/// Of what is planned wider than 0.9 of the cutter, 3.6 mm, a slot is no news.
#[test]
fn a_plan_nearly_as_wide_as_a_slot_is_a_slot() {
    for (a_e, told) in [(3.55, true), (3.65, false)] {
        let mut pass = pass();
        pass["cut"]["a_e"] = json!(a_e);
        let report = super::read(&along(10.0), &planned(&pass));
        let is = report.findings.iter().any(|f| f.code == "slot-unplanned");
        assert_eq!(is, told, "{a_e}");
    }
}

/// Planned 0.5 mm, so 0.65 mm is the most that is no news: the axis 0.15 mm further in.
#[test]
fn a_cut_is_wider_by_three_tenths() {
    check(
        "wider-than-planned",
        &planned(&pass()),
        &along(-1.34),
        &along(-1.36),
    );
    // A slot is called that.
    check(
        "wider-than-planned",
        &planned(&pass()),
        &along(1.8),
        &along(10.0),
    );
}

/// A rapid move right through, 4 mm by 40 mm: 0.0128 and 0.0088 mm³ at 0.08 and 0.055 um.
#[test]
fn a_rapid_move_that_cuts_cuts_more_than_rounding() {
    let at = |z: f64| format!("G0 Y10 Z-{z}\nX45");
    check(
        "cut-at-rapid",
        &planned(&pass()),
        &at(0.000_08),
        &at(0.000_055),
    );
}

/// The front meets the corner of the block 1.323 mm before the axis does (2² - 1.5² = 1.323²), and
/// is out of it as the axis is: from 45 to X there are 3.677 mm of air and those beyond zero.
#[test]
fn air_is_said_from_a_tenth_and_ten_millimetres_on() {
    let to = |x: f64| format!("G0 X45\nY-1.5\nZ-1\nG1 X-{x} F80");
    check("air", &planned(&pass()), &to(6.7), &to(5.9));
    // Three times, 13.8 mm and more: a tenth of the way where it ends 0.91 mm beyond zero.
    let thrice = |x: f64| {
        let each = [0.3, 0.6, 0.9].map(|z| format!("G0 Z5\nX45\nY-1.5\nZ-{z}\nG1 X-{x} F80"));
        each.join("\n")
    };
    check("air", &planned(&pass()), &thrice(1.4), &thrice(0.5));
}

/// Up from the left: the left wall begins where the axis is over the edge, and ends where the
/// cutter is lifted; 1 mm, a quarter of the cutter, is worth saying.
#[test]
fn short_stretches_are_not_worth_saying() {
    let to = |x: f64| format!("G0 Y-1.5 Z-1\nG1 X{x} F80");
    check(
        "conventional-unplanned",
        &planned(&pass()),
        &to(1.3),
        &to(0.8),
    );
}

/// A first pass ends at X 20, so that the second one meets its round end. How far the width rises
/// within half a millimetre was worked out point by point along the front (numpy): 1.33 mm where
/// the first lies at Y -0.12, 1.13 mm at Y -0.25; a quarter of the cutter is 1 mm, and of half a
/// millimetre four fifths lie between two looks.
#[test]
fn the_width_rises_by_a_quarter_of_the_cutter() {
    let after =
        |y: f64| format!("G0 X45\nY{y}\nZ-1\nG1 X20 F80\nG0 Z5\nX45\nY0.5\nZ-1\nG1 X-5 F80");
    check(
        "engagement-sudden",
        &planned(&pass()),
        &after(-0.12),
        &after(-0.25),
    );
}

/// Half of the planned depth of 1 mm: less is a way in, not a slot.
#[test]
fn a_shallow_slot_is_a_way_in() {
    let at = |z: f64| format!("G0 X45\nY10\nZ-{z}\nG1 X-5 F80");
    check("slot-unplanned", &planned(&pass()), &at(0.53), &at(0.47));
}

/// Less than 0.02 mm of width is a wall that is grazed, however high: nobody left stock there.
#[test]
fn a_grazed_wall_is_not_a_deeper_cut() {
    let at = |width: f64| format!("G0 X45\nY{}\nZ-1.5\nG1 X-5 F80", width - 2.0);
    check(
        "deeper-than-planned",
        &planned(&pass()),
        &at(0.021),
        &at(0.019),
    );
}

/// Down a slope that ends in the block, its depth is known to a tenth: 1.1 mm where 1 mm is
/// planned.
#[test]
fn a_depth_on_the_way_down_is_known_to_a_tenth() {
    let to = |z: f64| format!("G0 X45\nY10\nZ0\nG1 X5 Z-{z} F80");
    check(
        "deeper-than-planned",
        &planned(&pass()),
        &to(1.14),
        &to(1.07),
    );
}
