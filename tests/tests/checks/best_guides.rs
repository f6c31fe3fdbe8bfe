//! The best cut by what is usual, by hand: one straight edge of 4 mm that presses 100 N across the
//! cut for each mm of depth, in a stiff tool well held, so that guidelines alone bound it.

use crate::best_by_hand::{FASTEST, check, found, held};
use feeds_core::plan::Planner;
use feeds_core::plan::best::{Best, Free, Wish};
use feeds_core::plan::guides::WidthGuide;
use feeds_core::plan::setup::Setup;
use feeds_core::quantity::in_mm;
use serde_json::{Value, json};
use tests::setups::setup;

fn stiff(change: impl Fn(&mut Value)) -> Setup {
    let pass = held(|p| {
        p["hold"]["clamp_force"] = json!(1e5);
        p["cutter"]["modulus"] = json!(1e10);
        p["cutter"]["rupture"] = json!(1e8);
        change(p);
    });
    setup(&pass, false)
}

fn best(setup: &Setup, (a_p, a_e): (bool, bool), guides: bool) -> Best {
    let free = Free { a_p, a_e };
    let planner = Planner::new(setup);
    found(planner.best(setup, Wish { free, guides }).unwrap())
}

#[test]
fn a_slot_is_as_deep_as_is_usual_or_as_chips_have_room() {
    let slot = stiff(|_| ());
    // A quarter of the diameter on a light mill.
    let usual = best(&slot, (true, false), true);
    check(&usual, [1.0, 4.0, 0.05, FASTEST], &["depth-guide"]);
    // Without guidelines the flutes end it.
    let deep = best(&slot, (true, false), false);
    check(&deep, [10.5, 4.0, 0.05, FASTEST], &["flute-length"]);
    let mut packed = slot.clone();
    packed.guides.chip_room = Some(0.2);
    let packs = best(&packed, (true, false), true);
    check(&packs, [0.8, 4.0, 0.05, FASTEST], &["chip-room"]);
    // A depth that is fixed is kept, however unusual.
    let mut fixed = packed.clone();
    fixed.cut.a_p = feeds_core::quantity::mm(3.0);
    check(
        &best(&fixed, (false, false), true),
        [3.0, 4.0, 0.05, FASTEST],
        &["feed-band"],
    );
    // Chips leave a side freely.
    let mut side = stiff(|p| {
        p["cut"]["path"] = json!("side");
        p["cut"]["a_e"] = json!(1.0);
    });
    side.guides.chip_room = Some(0.2);
    let along = best(&side, (true, false), true);
    // Three quarters of the diameter along a wall.
    assert!((in_mm(along.a_p) - 3.0).abs() < 3e-3, "{:?}", along.a_p);
}

#[test]
fn a_width_that_steps_with_the_depth_is_tried_on_both_sides() {
    // 0.3 D to one diameter deep, less beyond up to 1.5 D. The arc is acos(1 − a_e/R), and the feed
    // may rise by one over its sine: what is removed at the corner of each area, by hand.
    let rate = |a_p: f64, a_e: f64| {
        let arc: f64 = (1.0 - a_e / 2.0_f64).acos();
        a_p * a_e * 0.05 / arc.sin()
    };
    for (beyond, deeper, expect) in [
        (1.0, 0.1, [4.0, 1.2]),
        (1.0, 0.2, [6.0, 0.8]),
        (0.9, 0.2, [6.0, 0.8]),
        (1.4, 0.2, [5.6, 1.2]),
        // The step lies where the flutes end, or beyond.
        (1.5, 0.2, [6.0, 1.2]),
        (1.6, 0.2, [6.0, 1.2]),
    ] {
        let mut side = stiff(|p| {
            p["cut"]["path"] = json!("side");
            p["cut"]["a_e"] = json!(1.0);
        });
        side.guides.depth = Some(1.5);
        side.guides.width = Some(WidthGuide {
            usual: 0.3,
            deeper: Some((beyond, deeper)),
        });
        let [a_p, a_e] = expect;
        for [deep, wide] in [[4.0 * beyond, 1.2], [6.0, 4.0 * deeper]] {
            let there = if beyond < 1.5 {
                rate(deep.min(6.0), wide)
            } else {
                0.0
            };
            assert!(there <= rate(a_p, a_e) * (1.0 + 1e-9), "{beyond} {deeper}");
        }
        let got = best(&side, (true, true), true);
        assert!(
            (in_mm(got.a_p) / a_p - 1.0).abs() < 1e-3,
            "{:?} not {a_p}",
            got.a_p
        );
        assert!(
            (in_mm(got.a_e) / a_e - 1.0).abs() < 1e-3,
            "{:?} not {a_e}",
            got.a_e
        );
        let q = rate(a_p, a_e) * FASTEST;
        assert!((got.q.value * 60e9 / q - 1.0).abs() < 1e-3);
        assert!(got.stops.iter().any(|s| s.limit.name == "width-guide"));
    }
}

#[test]
fn in_a_corner_no_more_than_half_the_cutter_is_taken() {
    for previous in [false, true] {
        let pocket = stiff(|p| {
            p["cut"]["path"] = json!("side");
            p["cut"]["a_e"] = json!(1.0);
            if previous {
                p["cut"]["previous"] = json!(6.0);
            } else {
                p["cut"]["corner"] = json!(true);
            }
        });
        let got = best(&pocket, (false, true), false);
        assert!((in_mm(got.a_e) - 2.0).abs() < 2e-3, "{:?}", got.a_e);
    }
}

#[test]
fn the_tip_bends_no_more_than_a_hundredth_where_guidelines_count() {
    // A force at the end of a beam bends it in proportion, and the force goes with the depth: half
    // the modulus, twice the bending. So the depth at which the tip is bent by a hundredth of the
    // diameter is below what the hold allows once the modulus is low enough.
    let soft = |modulus: f64| {
        let mut slot = stiff(|p| p["cutter"]["modulus"] = json!(modulus));
        slot.guides.depth = None;
        slot.guides.chip_room = None;
        slot
    };
    let deep = |modulus: f64, guides: bool| best(&soft(modulus), (true, false), guides);
    let bent = deep(2e4, true);
    assert!(
        bent.stops.iter().any(|s| s.limit.name == "tip-deflection"),
        "{:?}",
        bent.stops
    );
    assert!(in_mm(bent.a_p) < 10.0);
    let free = deep(2e4, false);
    assert!((in_mm(free.a_p) - 10.5).abs() < 1e-2, "{:?}", free.a_p);
}
