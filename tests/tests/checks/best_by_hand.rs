//! The best cut of one straight edge of 4 mm that takes 100 N for each mm of depth whatever the
//! chip: hold, feed and speed stop it one by one, so that what it removes can be worked by hand.

use feeds_core::notebook::Silent;
use feeds_core::plan::Planner;
use feeds_core::plan::best::{Best, Free, Search, Wish};
use feeds_core::plan::setup::Setup;
use feeds_core::quantity::in_mm;
use serde_json::{Value, json};
use std::f64::consts::PI;
use tests::setups::{one_edge, setup};

/// 2 · 0.1 · 1500 N hold and half of it may be used (model.md): 150 N, 1.5 mm.
pub(crate) fn held(change: impl Fn(&mut Value)) -> Value {
    let mut pass = one_edge();
    pass["hold"]["clamp_force"] = json!(1500.0);
    change(&mut pass);
    pass
}

fn search(pass: &Value, a_p: bool, a_e: bool) -> Search {
    search_of(&setup(pass, false), a_p, a_e)
}

pub(crate) fn search_of(setup: &Setup, a_p: bool, a_e: bool) -> Search {
    let free = Free { a_p, a_e };
    let wish = Wish {
        free,
        guides: false,
    };
    Planner::new(setup).best(setup, wish).unwrap()
}

fn best(pass: &Value, a_p: bool, a_e: bool) -> Best {
    found(search(pass, a_p, a_e))
}

#[track_caller]
pub(crate) fn found(search: Search) -> Best {
    match search {
        Search::Found(best) => *best,
        Search::None(conflict) => panic!("{conflict:?}"),
    }
}

/// 60 m/min round a circle of 4 mm, in 1/min.
pub(crate) const FASTEST: f64 = 60e3 / (PI * 4.0);

#[track_caller]
pub(crate) fn check(best: &Best, [a_p, a_e, f_z, n]: [f64; 4], stops: &[&str]) {
    let near = |got: f64, expect: f64, what: &str| {
        assert!(
            (got / expect - 1.0).abs() < 1e-3,
            "{what} {got} is not {expect}"
        );
    };
    near(in_mm(best.a_p), a_p, "a_p");
    near(in_mm(best.a_e), a_e, "a_e");
    near(best.q.value * 60e9, a_p * a_e * f_z * n, "Q");
    // What it stands at can only be less sure than what it removes.
    let told: Vec<&str> = best.stops.iter().map(|stop| stop.limit.name).collect();
    for stop in stops {
        assert!(told.contains(stop), "{stop} is none of {told:?}");
    }
    let plan = Planner::new(&best.setup)
        .work_out(&best.setup, &mut Silent)
        .unwrap();
    near(plan.q.value, best.q.value, "Q of the plan");
}

#[test]
fn a_slot_goes_as_deep_as_the_hold_and_as_fast_as_the_band() {
    let stops = ["hold", "feed-band", "cutting-speed"];
    check(
        &best(&held(|_| ()), true, false),
        [1.5, 4.0, 0.05, FASTEST],
        &stops,
    );
    // A fixed depth stays.
    let fixed = best(&held(|_| ()), false, false);
    check(
        &fixed,
        [1.0, 4.0, 0.05, FASTEST],
        &["feed-band", "cutting-speed"],
    );
    // What the machine does not turn, or not move.
    let slow = held(|p| p["machine"]["n_max"] = json!(3000.0));
    check(
        &best(&slow, true, false),
        [1.5, 4.0, 0.05, 3000.0],
        &["hold", "spindle-speed-most"],
    );
    let creeps = held(|p| p["machine"]["v_f_max"] = json!(160.0));
    check(
        &best(&creeps, true, false),
        [1.5, 4.0, 160.0 / FASTEST, FASTEST],
        &["hold", "feed-speed"],
    );
    let short = held(|p| p["cutter"]["flute_length"] = json!(0.8));
    check(
        &best(&short, true, false),
        [0.8, 4.0, 0.05, FASTEST],
        &["flute-length"],
    );
}

#[test]
fn a_side_is_cut_as_wide_as_the_cutter() {
    let side = held(|p| {
        p["cut"]["path"] = json!("side");
        p["cut"]["a_e"] = json!(1.0);
    });
    check(
        &best(&side, true, true),
        [1.5, 4.0, 0.05, FASTEST],
        &["hold", "cutting-speed"],
    );
    // At a quarter of the diameter the arc is 60°, and the feed may rise by 1/sin 60° (law.md).
    let thinned = 0.05 / (PI / 3.0).sin();
    check(
        &best(&side, true, false),
        [1.5, 1.0, thinned, FASTEST],
        &["hold", "feed-band"],
    );
}

#[test]
fn where_the_floor_lies_above_the_band_there_is_no_cut() {
    // law.md: no feed below twice the least chip, 2 · 0.3 r_β; the band ends at 50 µm, so a radius
    // of 83.3 µm is the last.
    for (radius, there) in [(0.0830, true), (0.0836, false)] {
        let blunt = held(|p| p["cutter"]["edge_radius"] = json!(radius));
        let found = search(&blunt, true, false);
        assert_eq!(matches!(found, Search::Found(_)), there, "{found:?}");
    }
}
