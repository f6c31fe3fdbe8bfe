//! The best cut where the spindle's power, its steps or the table's speed decides, by hand: one
//! straight edge of 4 mm that takes 100 N along the cut for each mm of depth, whatever the chip.
//!
//! Over half a turn of a slot that is 100 N/mm · 2π mm: 0.2 π J for each mm of depth. The motor
//! gives 0.75 of its power to the cutter, and nine tenths of that may be used (model.md).

use crate::best_by_hand::{FASTEST, check, found, held, search_of};
use feeds_core::kernel::seed::Seed;
use feeds_core::plan::Planner;
use feeds_core::plan::best::{Best, Free, Search, Wish};
use feeds_core::quantity::{SpindleSpeed, in_mm};
use serde_json::{Value, json};
use std::f64::consts::PI;
use tests::setups::setup;

/// Energy of a turn for each mm of depth, J.
const ENERGY: f64 = 0.2 * PI;
/// Share of the motor's power that may be used at the edge.
const USED: f64 = 0.75 * 0.9;

fn along(power: &Value, change: impl Fn(&mut Value)) -> Value {
    held(|pass| {
        pass["stock"]["linear"]["edge"] = json!([100.0, 0.0, 0.0]);
        pass["machine"]["power"] = power.clone();
        change(pass);
    })
}

fn steady(watts: f64) -> Value {
    json!([[1.0, watts], [24e3, watts]])
}

fn of(pass: &Value, a_p: bool) -> Best {
    found(search_of(&setup(pass, false), a_p, false))
}

#[test]
fn a_steady_power_caps_the_turns() {
    let best = of(&along(&steady(40.0), |_| ()), false);
    let n = 40.0 * USED * 60.0 / ENERGY;
    check(&best, [1.0, 4.0, 0.05, n], &["spindle-power", "feed-band"]);
    assert!(best.stops.iter().all(|s| s.limit.name != "cutting-speed"));
    // What each gains by a per cent is a per cent: the rate goes with either.
    for stop in &best.stops {
        assert!((stop.gain - 1.0).abs() < 0.02, "{:?}", best.stops);
    }
    assert!((best.n.in_per_minute() / n - 1.0).abs() < 1e-4);
    // A machine that brings less of it to the cutter turns that much slower.
    let worse = along(&steady(40.0), |p| p["machine"]["efficiency"] = json!(0.6));
    let slower = of(&worse, false);
    assert!((slower.q.value / best.q.value - 0.8).abs() < 1e-4);
}

#[test]
fn a_sloping_power_is_met_where_its_line_crosses() {
    // 20 W at 1000/min and 60 W at 5000: 10 + n/100 between.
    let slope = json!([[1000.0, 20.0], [5000.0, 60.0]]);
    let n = 10.0 * USED / (ENERGY / 60.0 - USED / 100.0);
    assert!(n > 1000.0 && n < 5000.0);
    check(
        &of(&along(&slope, |_| ()), false),
        [1.0, 4.0, 0.05, n],
        &["spindle-power"],
    );
    // Free, the depth is what the fastest turns carry: depth times turns goes with the power.
    let power = 10.0 + FASTEST / 100.0;
    let deep = power * USED * 60.0 / (ENERGY * FASTEST);
    check(
        &of(&along(&slope, |_| ()), true),
        [deep, 4.0, 0.05, FASTEST],
        &["spindle-power", "cutting-speed", "feed-band"],
    );
    // Below its first point torque is steady: what is too much there is too much at any speed.
    let heavy = along(&slope, |p| p["cut"]["a_p"] = json!(2.0));
    let none = search_of(&setup(&heavy, false), false, false);
    let Search::None(conflict) = none else {
        panic!("{none:?}")
    };
    assert_eq!(conflict.most.unwrap().limit.name, "spindle-power");
}

#[test]
fn of_steps_the_one_that_removes_most_is_taken() {
    let stepped = |pass: &Value, steps: &[f64]| {
        let mut setup = setup(pass, false);
        let steps = steps.iter().map(|n| SpindleSpeed::per_minute(*n));
        setup.machine.as_mut().unwrap().steps = steps.collect();
        found(search_of(&setup, false, false))
    };
    let steps = [1000.0, 2000.0, 3000.0, 6000.0];
    let plenty = along(&steady(1000.0), |_| ());
    // 60 m/min are 4775/min.
    check(&stepped(&plenty, &steps), [1.0, 4.0, 0.05, 3000.0], &[]);
    // 40 W carry 2578/min.
    let weak = along(&steady(40.0), |_| ());
    check(&stepped(&weak, &steps), [1.0, 4.0, 0.05, 2000.0], &[]);
    // Exactly a step's turns are a step that can be used.
    let exact = along(
        &steady(2000.0 * ENERGY / (60.0 * USED) * (1.0 + 1e-6)),
        |_| {},
    );
    check(&stepped(&exact, &steps), [1.0, 4.0, 0.05, 2000.0], &[]);
    // 160 mm/min at 4000/min remove more than 0.05 mm at 3000/min, and 3000/min more than 0.05 mm
    // at 2000/min.
    let creeps = along(&steady(1000.0), |p| p["machine"]["v_f_max"] = json!(160.0));
    check(
        &stepped(&creeps, &[2000.0, 3000.0, 4000.0]),
        [1.0, 4.0, 0.04, 4000.0],
        &["feed-speed"],
    );
}

/// The depth that hold or flutes leave, the turns of speed or power, the feed of band or table:
/// with F turns of 60 m/min, A the depth, K the depth times turns that the power carries and v the
/// table's feed, Q = 4 mm · min(0.05 F A, 0.05 K, v A).
#[test]
fn whichever_limit_is_least_decides() {
    let mut seed = Seed::new(20_261_129);
    let mut decided = [0; 3];
    for case in 0..24 {
        let clamp = seed.between(300.0, 2000.0);
        let flutes = seed.between(0.3, 2.5);
        let watts = seed.between(5.0, 120.0);
        let table = seed.between(40.0, 500.0);
        let pass = along(&steady(watts), |p| {
            p["hold"]["clamp_force"] = json!(clamp);
            p["cutter"]["flute_length"] = json!(flutes);
            p["machine"]["v_f_max"] = json!(table);
            p["cut"]["a_p"] = json!(0.2);
        });
        // 2 · 0.1 of the clamp holds and half of it may be used: 100 N a mm.
        let depth = flutes.min(clamp * 0.1 / 100.0);
        let carried = watts * USED * 60.0 / ENERGY;
        let each = [0.05 * FASTEST * depth, 0.05 * carried, table * depth];
        let least = each.iter().copied().fold(f64::MAX, f64::min);
        let setup = setup(&pass, false);
        let free = Free {
            a_p: true,
            a_e: false,
        };
        let wish = Wish {
            free,
            guides: false,
        };
        let planner = Planner::new(&setup);
        let best = found(planner.best_alone(&setup, wish).unwrap());
        let q = best.q.value * 60e9;
        assert!(
            (q / (4.0 * least) - 1.0).abs() < 1e-4,
            "{case}: {q}, {each:?}"
        );
        // A twentieth more of one that is not the least changes nothing.
        let others = each.iter().filter(|x| **x < 1.05 * least).count();
        let Some(which) = each
            .iter()
            .position(|x| *x <= least)
            .filter(|_| others == 1)
        else {
            continue;
        };
        decided[which] += 1;
        let told: Vec<&str> = best.stops.iter().map(|s| s.limit.name).collect();
        let deep = if flutes < clamp * 1e-3 {
            "flute-length"
        } else {
            "hold"
        };
        let expect: &[&str] = match which {
            0 => &[deep, "feed-band", "cutting-speed"],
            1 => &["feed-band", "spindle-power"],
            _ => &[deep, "feed-speed"],
        };
        assert!(expect.iter().all(|e| told.contains(e)), "{case}: {told:?}");
        let of = |name: &str| best.stops.iter().find(|s| s.limit.name == name).unwrap();
        for name in expect {
            assert!(
                (of(name).gain - 1.0).abs() < 0.03,
                "{case}: {:?}",
                best.stops
            );
        }
        // The first gains most.
        let gains: Vec<f64> = best.stops.iter().map(|s| s.gain).collect();
        assert!(gains.is_sorted_by(|a, b| a >= b), "{gains:?}");
        assert_eq!(best.governs(), best.stops.first().map(|s| s.limit));
        // A glance comes to the same, and needs no more than enough.
        let glance = |enough: f64| {
            let enough = feeds_core::quantity::Quantity::from_si(enough);
            planner.glance(&setup, wish, enough).unwrap().unwrap().value
        };
        assert!((glance(0.0) / best.q.value - 1.0).abs() < 0.02, "{case}");
        assert!((glance(0.5 * best.q.value) / best.q.value - 1.0).abs() < 0.02);
        assert!(glance(1.5 * best.q.value) <= best.q.value * (1.0 + 1e-4));
    }
    assert!(decided.iter().all(|n| *n > 1), "{decided:?}");
}

/// Where power alone decides, depth and turns can be traded one for the other.
#[test]
fn a_trade_of_depth_for_turns_costs_nothing() {
    // At the 1.5 mm of the hold the power carries half of the fastest turns.
    let watts = 1.5 * 0.5 * FASTEST * ENERGY / (60.0 * USED);
    let best = of(&along(&steady(watts), |_| ()), true);
    let (from, to) = best.flat.a_p.unwrap();
    assert!((in_mm(from) / 0.75 - 1.0).abs() < 5e-3, "{from:?}");
    assert!((in_mm(to) / 1.5 - 1.0).abs() < 5e-3, "{to:?}");
    assert_eq!(best.flat.a_e, None, "a slot has one width");
    // With the depth held, slower turns remove less.
    assert_eq!(best.flat.n, None, "{:?}", best.flat);
    // With the table's feed at its end, slower turns of a thicker chip remove as much: down to
    // the end of the band.
    let creeps = along(&steady(1000.0), |p| p["machine"]["v_f_max"] = json!(120.0));
    let best = of(&creeps, false);
    let (from, to) = best.flat.n.unwrap();
    assert!(
        (from.in_per_minute() / 2400.0 - 1.0).abs() < 5e-3,
        "{from:?}"
    );
    assert!((to.in_per_minute() / FASTEST - 1.0).abs() < 5e-3, "{to:?}");
    assert_eq!(best.flat.a_p, None, "the depth was fixed");
}

/// A side cut, over a small grid of depths and widths: the arc is acos(1 − a_e/R), the feed of the
/// band may rise by one over the sine of an arc below a quarter turn, and the energy of a turn goes
/// with depth and arc.
#[test]
fn no_place_of_a_grid_removes_more() {
    for (watts, clamp) in [(12.0, 1500.0), (30.0, 900.0), (200.0, 2500.0)] {
        let pass = along(&steady(watts), |p| {
            p["hold"]["clamp_force"] = json!(clamp);
            p["cut"]["path"] = json!("side");
            p["cut"]["a_e"] = json!(1.0);
        });
        let rate = |a_p: f64, a_e: f64| {
            if a_p > clamp * 1e-3 * (1.0 + 1e-9) {
                return 0.0;
            }
            let arc = (1.0 - a_e / 2.0).acos();
            let credit = if arc < 0.5 * PI { 1.0 / arc.sin() } else { 1.0 };
            let energy = 0.1 * a_p * 2.0 * arc;
            let n = (watts * USED * 60.0 / energy).min(FASTEST);
            a_p * a_e * 0.05 * credit * n
        };
        let best = found(search_of(&setup(&pass, false), true, true));
        let q = best.q.value * 60e9;
        let own = rate(in_mm(best.a_p), in_mm(best.a_e));
        assert!((q / own - 1.0).abs() < 1e-3, "{q} is not {own} at {best:?}");
        for (i, j) in (1..=40).flat_map(|i| (4..=40).map(move |j| (i, j))) {
            let (a_p, a_e) = (clamp * 1e-3 * f64::from(i) / 40.0, 0.1 * f64::from(j));
            let there = rate(a_p, a_e);
            assert!(there <= q * (1.0 + 1e-4), "{there} at {a_p} {a_e}, not {q}");
        }
    }
}
