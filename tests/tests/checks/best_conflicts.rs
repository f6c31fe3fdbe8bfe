//! Why there is no best cut and what would open one, by hand: one straight edge of 4 mm in a slot
//! that presses 100 N across the cut for each mm of depth, whatever the chip.

use crate::best_by_hand::{FASTEST, held, search_of};
use feeds_core::plan::Planner;
use feeds_core::plan::best::{Conflict, Free, Search, Wish};
use feeds_core::plan::opens::Change;
use feeds_core::quantity::{Quantity, SpindleSpeed, VolumeRate, in_mm};
use serde_json::{Value, json};
use tests::setups::setup;

#[track_caller]
fn conflict(pass: &Value, a_p: bool) -> Conflict {
    match search_of(&setup(pass, false), a_p, false) {
        Search::None(conflict) => *conflict,
        Search::Found(best) => panic!("{best:?}"),
    }
}

/// Opened to so many mm³/min, to a few per cent.
fn opened(then: VolumeRate, q: f64) {
    let got = then.value * 60e9;
    assert!((got / q - 1.0).abs() < 0.03, "{got} is not {q}");
}

#[test]
fn a_hold_that_is_too_weak_is_opened_by_depth() {
    // 0.1 · 550 N may be used: 0.55 mm.
    let weak = held(|p| p["hold"]["clamp_force"] = json!(550.0));
    let told = conflict(&weak, false);
    assert_eq!(told.most.unwrap().limit.name, "hold");
    assert_eq!(told.least.unwrap().limit.name, "chip-floor");
    assert!(!told.extrapolated);
    let [only] = &told.openings[..] else {
        panic!("{:?}", told.openings)
    };
    let Change::Depth(depth, levels) = only.change else {
        panic!("{only:?}")
    };
    assert!((in_mm(depth) / 0.55 - 1.0).abs() < 0.02, "{depth:?}");
    // 1 mm in levels of 0.55 mm.
    assert_eq!(levels, 2);
    opened(only.then, 0.55 * 4.0 * 0.05 * FASTEST);
    let planner = Planner::new(&setup(&weak, false));
    let free = Free {
        a_p: false,
        a_e: false,
    };
    let wish = Wish {
        free,
        guides: false,
    };
    for enough in [0.0, 1e-9] {
        let glance = planner.glance(&setup(&weak, false), wish, VolumeRate::from_si(enough));
        assert_eq!(glance.unwrap(), None);
    }
    // A depth of its own is looked for: nothing to open.
    assert!(matches!(
        search_of(&setup(&weak, false), true, false),
        Search::Found(_)
    ));
}

#[test]
fn flutes_that_are_too_short_are_a_matter_of_depth_alone() {
    let short = held(|p| p["cutter"]["flute_length"] = json!(0.8));
    let told = conflict(&short, false);
    assert_eq!(told.most.unwrap().limit.name, "flute-length");
    assert_eq!(told.least, None);
    let [only] = &told.openings[..] else {
        panic!("{:?}", told.openings)
    };
    assert!(matches!(only.change, Change::Depth(a_p, 2) if (in_mm(a_p) - 0.8).abs() < 0.01));
    opened(only.then, 0.8 * 4.0 * 0.05 * FASTEST);
}

#[test]
fn a_speed_nobody_can_turn_is_opened_by_leaving_it_free() {
    for (n, limit) in [
        (30e3, "spindle-speed-most"),
        (50.0, "spindle-speed-least"),
        (10e3, "cutting-speed"),
    ] {
        let mut fast = setup(&held(|_| ()), false);
        fast.given.n = Some(SpindleSpeed::per_minute(n));
        let Search::None(told) = search_of(&fast, false, false) else {
            panic!("{n}")
        };
        assert_eq!(told.most.unwrap().limit.name, limit);
        assert_eq!(told.least, None);
        let [only] = &told.openings[..] else {
            panic!("{:?}", told.openings)
        };
        assert_eq!(only.change, Change::Pace);
        opened(only.then, 4.0 * 0.05 * FASTEST);
    }
}

#[test]
fn a_shorter_stick_out_opens_what_bends() {
    // Bent by the force of 1 mm, to be off by no more than the tolerance: the wall goes with the
    // cube of the length.
    let bends = |stick_out: f64| {
        held(|p| {
            p["cut"]["path"] = json!("side");
            p["cut"]["direction"] = json!("up");
            p["cut"]["a_e"] = json!(1.0);
            p["cutter"]["stick_out"] = json!(stick_out);
            p["cutter"]["flute_length"] = json!(4.0);
            p["cut"]["tolerance"] = json!(0.01);
        })
    };
    let keeps = |stick_out: f64| {
        let search = search_of(&setup(&bends(stick_out), false), false, false);
        matches!(search, Search::Found(_))
    };
    // From 10 mm on in whole millimetres, below in halves; the longest that keeps is named.
    for start in [60.5, 9.75] {
        let Search::None(told) = search_of(&setup(&bends(start), false), false, false) else {
            // A short one keeps by itself: nothing to open.
            assert!(keeps(start));
            continue;
        };
        let found = told.openings.iter().find_map(|o| match o.change {
            Change::StickOut(length) => Some(in_mm(length)),
            _ => None,
        });
        let longest = found.unwrap();
        let step = if start < 10.0 { 0.5 } else { 1.0 };
        assert!(keeps(longest) && !keeps(longest + step), "{longest}");
        let steps = (start - longest) / step;
        assert!((steps - steps.round()).abs() < 1e-9, "{longest}");
    }
}
