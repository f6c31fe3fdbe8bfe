//! Laws of the interval of feeds, on random passes.

use feeds_core::kernel::seed::Seed;
use feeds_core::notebook::Silent;
use feeds_core::plan::interval::FeedEnd;
use feeds_core::plan::setup::Setup;
use feeds_core::plan::{Plan, Planner};
use feeds_core::quantity::{Length, Quantity};
use serde_json::Value;
use tests::setups::{random, setup};

/// Far enough from an end for the margin to tell, near enough for no other check to come first.
const STEP: f64 = 1e-6;

fn at(setup: &Setup, plan: &Plan, f_z: Length) -> Plan {
    let mut fixed = setup.clone();
    fixed.given.n = Some(plan.n);
    fixed.given.f_z = Some(f_z);
    Planner::new(&fixed)
        .work_out(&fixed, &mut Silent)
        .expect("a feed changes nothing else")
}

fn kept(plan: &Plan, end: &FeedEnd) -> bool {
    let check = plan.check(end.limit.name);
    check.is_some_and(feeds_core::limit::Check::holds)
}

/// Near zero feed the edge pushes the wall one way and the chip the other, so that the wall error
/// may fall before it rises. Such a pass was once taken to have no feed at all.
#[test]
fn a_wall_that_is_off_at_next_to_no_feed_does_not_empty_the_interval() {
    every_interval_ends_where_it_says(2000);
}

#[test]
fn a_wall_that_is_off_at_next_to_no_feed_does_not_empty_the_interval_a_few() {
    every_interval_ends_where_it_says(20);
}

fn every_interval_ends_where_it_says(cases: u32) {
    let mut seed = Seed::new(20_260_302);
    let (mut ends, mut walls) = (0, 0);
    for _ in 0..cases {
        let setup = setup(&random(&mut seed), false);
        let plan = Planner::new(&setup)
            .work_out(&setup, &mut Silent)
            .expect("random passes can be worked out");
        if plan.feeds.is_empty() {
            // Slower would only add rubbing to what is over.
            let floor = plan
                .check("chip-floor")
                .and_then(feeds_core::limit::Check::margin);
            assert!(
                floor.is_none_or(|m| m > -1e-9),
                "{setup:?} is given a chip that rubs"
            );
            continue;
        }
        // Next to no feed leaves the wall off, although feeds exist that keep it.
        let d = setup.cutter.diameter;
        let thin = at(&setup, &plan, d * 1e-6);
        walls += usize::from(thin.check("wall-error").is_some_and(|c| !c.holds()));
        for (end, out) in [(plan.feeds.least, -STEP), (plan.feeds.most, STEP)] {
            let Some(end) = end else { continue };
            ends += 1;
            let inside = at(&setup, &plan, end.f_z * (1.0 - out));
            assert!(kept(&inside, &end), "{end:?} lies outside of {setup:?}");
            // With runout, a tooth that begins to cut brings its edge at once: the load jumps, and
            // may fall.
            let runout = setup.machine.as_ref().and_then(|m| m.runout);
            if runout.is_none() {
                let beyond = at(&setup, &plan, end.f_z * (1.0 + out));
                assert!(!kept(&beyond, &end), "{end:?} is no end of {setup:?}");
            }
        }
    }
    assert!(
        ends > cases / 10 && (cases < 2000 || walls > 0),
        "{ends} ends, {walls} walls off at no feed"
    );
}

/// On this slot the wall is off at every low feed, the more so the higher it is, until a tooth that
/// the runout holds back begins to cut and its edge presses the other way; at high feeds it is off
/// again. It was once taken that none between them keeps the wall. The feed is the `kept_at` of
/// `independent/judge.py` for this pass.
#[test]
fn a_wall_kept_only_once_a_late_tooth_cuts_has_its_feeds() {
    let pass: Value = serde_json::from_str(include_str!("../../files/late_tooth.json"))
        .expect("the file is a pass");
    let setup = setup(&pass, false);
    let plan = Planner::new(&setup)
        .work_out(&setup, &mut Silent)
        .expect("the pass can be worked out");
    let by_python = Length::from_si(0.007_430_180e-3);
    assert!(plan.feeds.holds(by_python), "{:?}", plan.feeds);
    // Twice the least chip and what runout takes are more than that: no lower feed is advised.
    let floor = 2.0 * 0.322_021_7 * 0.007_747_464 + 0.015_983_259 * 0.75_f64.sqrt();
    assert!(
        plan.f_z > Length::from_si(floor * 0.999e-3),
        "{:?}",
        plan.f_z
    );
    let there = at(&setup, &plan, by_python);
    for check in ["wall-error", "breakage", "spindle-power", "chip-floor"] {
        assert!(
            there
                .check(check)
                .is_some_and(feeds_core::limit::Check::holds),
            "{check}"
        );
    }
}
