//! The feed a pass starts with, on random passes by every law, with every end and path: never below
//! the floor of the chip, and production never below cautious.

use feeds_core::kernel::seed::Seed;
use feeds_core::limit::{Check, State};
use feeds_core::notebook::Silent;
use feeds_core::plan::setup::{Intent, Setup};
use feeds_core::plan::{Plan, Planner};
use feeds_core::quantity::{Length, Quantity};
use serde_json::Value;
use std::f64::consts::PI;
use tests::setups::{linear, random, rounded, setup};

/// Limits whose breach breaks the cutter, frees the part or the cutter, or only rubs.
const FIRST: [&str; 5] = ["rupture", "hold", "tipping", "pull-out", "chip-floor"];

fn planned(setup: &Setup) -> Plan {
    Planner::new(setup).work_out(setup, &mut Silent).unwrap()
}

/// At the spindle speed of a plan and another feed.
fn at(setup: &Setup, plan: &Plan, f_z: Length) -> Plan {
    let mut fixed = setup.clone();
    fixed.given.n = Some(plan.n);
    fixed.given.f_z = Some(f_z);
    planned(&fixed)
}

fn margin(plan: &Plan, limit: &str) -> Option<f64> {
    plan.check(limit).and_then(Check::margin)
}

fn keeps_the_first(plan: &Plan) -> bool {
    FIRST
        .iter()
        .all(|limit| margin(plan, limit).is_none_or(|m| m >= -1e-9))
}

/// The least chip, χ of each moment and what runout takes: χ = 1/sin(min(φ_s, 90°)), 2.3 at most.
fn parts(setup: &Setup, plan: &Plan) -> (Length, Vec<f64>, Length) {
    let h_min = setup.cutter.edge_radius.unwrap() * setup.stock.chip_floor * setup.cutter.rounding;
    let thinned = setup.stock.f_z.unwrap().thinned;
    let credit = |chip: f64| {
        if thinned {
            1.0
        } else {
            chip.recip().clamp(1.0, 2.3)
        }
    };
    let credits = plan
        .moments
        .iter()
        .map(|(m, _)| credit(m.chip / m.sin_kappa));
    let tir = setup.machine.as_ref().and_then(|m| m.runout);
    let gain = tir.unwrap_or_default() * (PI / f64::from(setup.cutter.edges)).sin();
    (h_min, credits.collect(), gain)
}

/// χ · 2 `h_min`, and a chip that cuts at every moment.
fn cleared(setup: &Setup, plan: &Plan) -> Length {
    let (h_min, credits, _) = parts(setup, plan);
    let moments = plan.moments.iter().zip(credits);
    let each = moments.map(|((m, _), credit)| (2.0 * credit).max(1.0 / (0.9 * m.chip)));
    h_min * each.fold(0.0, f64::max)
}

fn has_room_for_runout(setup: &Setup, plan: &Plan) -> bool {
    let (_, credits, gain) = parts(setup, plan);
    let least = credits.iter().fold(2.3, |a: f64, c| a.min(*c));
    cleared(setup, plan) + gain <= setup.stock.f_z.unwrap().most * least
}

/// What clears every moment, with what runout takes while the band has room.
fn floor(setup: &Setup, plan: &Plan) -> Length {
    let (_, _, gain) = parts(setup, plan);
    let gain = if has_room_for_runout(setup, plan) {
        gain
    } else {
        gain * 0.0
    };
    cleared(setup, plan) + gain
}

fn pass(seed: &mut Seed, case: usize) -> Value {
    let mut pass = random(seed);
    if case % 3 == 2 {
        pass = linear(pass, seed);
    }
    if case % 8 == 7 {
        pass = rounded(pass, seed);
    }
    pass
}

#[test]
fn no_recommended_feed_rubs_and_production_is_never_below_cautious() {
    no_feed_rubs(5000);
}

#[test]
fn no_recommended_feed_rubs_and_production_is_never_below_cautious_a_few() {
    no_feed_rubs(40);
}

fn no_feed_rubs(cases: usize) {
    let mut seed = Seed::new(20_260_601);
    let (mut raised, mut kept, mut rubbing, mut ends) = (0, 0, 0, [0; 2]);
    let mut broken = 0;
    for case in 0..cases {
        let pass = pass(&mut seed, case);
        let mut setup = setup(&pass, false);
        setup.intent = Intent::Cautious;
        let cautious = planned(&setup);
        setup.intent = Intent::Production;
        let production = planned(&setup);
        assert!(
            production.f_z >= cautious.f_z * (1.0 - 1e-9),
            "{:?} below {:?} in {pass}",
            production.f_z,
            cautious.f_z
        );
        raised += usize::from(production.f_z > cautious.f_z * 1.01);
        let (h_min, ..) = parts(&setup, &cautious);
        for plan in [&cautious, &production] {
            let floor = floor(&setup, plan);
            assert!(plan.f_z >= floor * (1.0 - 1e-9), "{:?} in {pass}", plan.f_z);
            // The chip is thick enough at every moment, whatever else is over.
            for (m, _) in &plan.moments {
                assert!(m.h_max(plan.f_z) >= h_min, "{pass} rubs at {:?}", plan.f_z);
            }
            let rubs = margin(plan, "rubbing").unwrap() < -1e-9;
            rubbing += usize::from(rubs);
            // Half of the arc cuts but for a cut so narrow that its thinning is more than 2.3
            // times, a round end in so shallow a cut that its edge lies flat, or a runout for
            // which the band of the table has no room.
            let narrow = |chip: f64, sin_kappa: f64| sin_kappa / chip > 2.3 || sin_kappa < 1.0;
            let narrow = plan
                .moments
                .iter()
                .any(|(m, _)| narrow(m.chip, m.sin_kappa));
            let thinned = setup.stock.f_z.unwrap().thinned;
            let runs_out = !has_room_for_runout(&setup, plan);
            assert!(
                !rubs || narrow || thinned || runs_out,
                "{pass}: more than half rubs at {:?}",
                plan.f_z
            );
        }
        kept += usize::from(keeps_the_first(&production));
        if !keeps_the_first(&cautious) {
            broken += 1;
            let floor = floor(&setup, &cautious);
            for share in [0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3] {
                let lower = cautious.f_z * share;
                let kept = lower >= floor && keeps_the_first(&at(&setup, &cautious, lower));
                assert!(
                    !kept,
                    "{pass}: {lower:?} keeps what {:?} breaks",
                    cautious.f_z
                );
            }
        }
        let radius = setup.cutter.corner_radius;
        ends[0] += usize::from(radius.si() > 0.0 && radius < setup.cutter.radius());
        ends[1] += usize::from(radius >= setup.cutter.radius());
        assert!(
            cautious
                .checks
                .iter()
                .all(|c| !c.guessed || c.state() != State::Over),
            "a tolerance that nobody gave is over in {pass}"
        );
    }
    println!(
        "{cases} passes: {raised} are fed more in production, {kept} keep the first limits there, \
         {rubbing} rub over more than half; {broken} break one of them even with the cautious \
         feed; corner radii and balls {ends:?}"
    );
    assert!(cases < 5000 || raised > 1000 && kept > 2500 && ends[0] > 200 && ends[1] > 200);
}
