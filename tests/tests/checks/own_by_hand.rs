//! What own cuts say, by hand: one straight edge of 4 mm in a slot, whose forces go with one number
//! of the stock alone. A reading that follows inputs by slopes s of the logarithms, with the spread
//! d of its own, leaves of each the variance σ² − (s σ²)²/(Σ s²σ² + d²), and moves it by
//! s σ² r/(Σ s²σ² + d²) for a reading r above what was expected (Bayes' rule for normal numbers).
//!
//! Spreads of carbon steel: cut 0.12, edge 0.30, across 0.28; a machine nobody measured is within
//! 1.5 in nine of ten.

use super::own::cut_of;
use feeds_core::band::Input;
use feeds_core::kernel::joint::Joint;
use feeds_core::notebook::Silent;
use feeds_core::own::{Own, OwnCut, OwnFactors, Sighting, Trial, choose};
use feeds_core::plan::limits::limit;
use feeds_core::plan::setup::Setup;
use feeds_core::plan::{Plan, Planner};
use feeds_core::symbol::{self as s, Symbol};
use serde_json::{Value, json};
use std::f64::consts::PI;
use tests::setups::{one_edge, setup};

const AT_95: f64 = 1.644_853_627;
const CUT: f64 = 0.12;
const EDGE: f64 = 0.30;
const ACROSS: f64 = 0.28;

struct Made {
    setup: Setup,
    planner: Planner,
    plan: Plan,
}

fn made(change: impl Fn(&mut Value)) -> Made {
    let mut pass = one_edge();
    pass["hold"]["clamp_force"] = json!(3000.0);
    change(&mut pass);
    let setup = setup(&pass, true);
    let planner = Planner::new(&setup);
    let plan = planner.work_out(&setup, &mut Silent).unwrap();
    Made {
        setup,
        planner,
        plan,
    }
}

/// Forces that go with the chip alone, along the cut.
fn of_chip() -> Made {
    made(|p| {
        p["stock"]["linear"] = json!({ "cut": [2000.0, 0.0, 0.0], "edge": [0.0, 0.0, 0.0] });
    })
}

impl Made {
    fn cut(&self, seen: Sighting) -> OwnCut<'_> {
        cut_of((&self.planner, &self.setup, &self.plan), seen)
    }

    /// A reading that is so many times what was expected.
    fn read(&self, symbol: &'static Symbol, times: f64, within: f64) -> OwnCut<'_> {
        let loads = self.plan.loads.unwrap();
        let expected = match symbol.name {
            name if name == s::P_MEAN.name => loads.power,
            name if name == s::F_XY.name => loads.lateral,
            _ => loads.wall(),
        };
        let value = times * expected;
        self.cut(Sighting::Measured {
            symbol,
            value,
            within,
        })
    }
}

fn deviation(within: f64) -> f64 {
    within.ln_1p() / AT_95
}

#[track_caller]
fn near(got: f64, expect: f64) {
    assert!((got - expect).abs() < 1e-4, "{got} is not {expect}");
}

/// That an input has moved so far, and is so spread, as logarithms.
#[track_caller]
fn factor(own: &OwnFactors, input: Input, mean: f64, spread: f64) {
    let (factor, [low, high]) = own.factor(input).unwrap();
    near(factor.ln(), mean);
    near(low.ln(), mean - AT_95 * spread);
    near(high.ln(), mean + AT_95 * spread);
}

#[test]
fn a_reading_moves_the_number_it_follows() {
    let pass = of_chip();
    for (symbol, times, within) in [
        (&s::P_MEAN, 1.2, 0.10),
        (&s::P_MEAN, 0.9, 0.30),
        (&s::F_XY, 1.1, 0.05),
    ] {
        let own = Own::of(&[pass.read(symbol, times, within)], &[]);
        let own = own.of_group(Some(0), &pass.setup);
        let d = deviation(within);
        let all = CUT * CUT + d * d;
        let mean = CUT * CUT / all * f64::ln(times);
        factor(&own, Input::Cut, mean, CUT * d / all.sqrt());
        // The others are as they were.
        factor(&own, Input::Edge, 0.0, EDGE);
        factor(&own, Input::Across, 0.0, ACROSS);
        factor(&own, Input::Stiffness, 0.0, deviation(0.5));
        assert!(own.factor(Input::Runout).is_none());
    }
    // Two readings weigh by one over their squares.
    let two = [
        pass.read(&s::P_MEAN, 1.2, 0.1),
        pass.read(&s::F_XY, 1.0, 0.2),
    ];
    let own = Own::of(&two, &[]).of_group(Some(0), &pass.setup);
    let [book, one, other] = [CUT, deviation(0.1), deviation(0.2)].map(|d| 1.0 / (d * d));
    let all = book + one + other;
    factor(
        &own,
        Input::Cut,
        one / all * 1.2_f64.ln(),
        all.sqrt().recip(),
    );
}

/// A wall of 100 N of the edge across, on a rod of 4 mm that gives 10² (3 · 10.5 − 10)/(6 E I) a
/// newton and a machine of 500 N/mm: the machine's share is that of the error that goes with it.
#[test]
fn a_wall_tells_force_and_machine_apart_by_what_else_is_known() {
    let pass = made(|p| {
        p["cutter"]["core"] = json!(3.25);
        p["machine"]["stiffness"] = json!(20_000.0);
    });
    let rod = 100.0 * 21.5 / (6.0 * 6e5 * PI * 256.0 / 64.0);
    let share = 5e-5 / (rod + 5e-5);
    let (within, times) = (0.08, 1.002);
    let own = Own::of(&[pass.read(&s::WALL_ERROR, times, within)], &[]);
    let own = own.of_group(Some(0), &pass.setup);
    let spreads = [EDGE, ACROSS, deviation(0.5)];
    let slopes = [1.0, 1.0, -share];
    let variances: Vec<f64> = spreads.iter().map(|d| d * d).collect();
    let each = slopes.iter().zip(&variances).map(|(s, v)| s * s * v);
    let all = each.sum::<f64>() + deviation(within).powi(2);
    for (k, input) in [Input::Edge, Input::Across, Input::Stiffness]
        .into_iter()
        .enumerate()
    {
        let moved = slopes[k] * variances[k] / all;
        let left = variances[k] - slopes[k] * variances[k] * moved;
        factor(&own, input, moved * f64::ln(times), left.sqrt());
    }
    factor(&own, Input::Cut, 0.0, CUT);
}

/// Three cuts that could be made: watts to 10 and to 20 %, and whether there is a chip, which says
/// nothing of the force.
#[test]
fn the_cut_that_narrows_most_is_chosen_first() {
    let pass = of_chip();
    let blunt = pass.cut(Sighting::Chip(true));
    let cuts = [
        pass.read(&s::P_MEAN, 1.0, 0.20),
        blunt,
        pass.read(&s::P_MEAN, 1.0, 0.10),
    ];
    let wanted = Trial {
        pass: pass.read(&s::F_XY, 1.0, 0.1),
        limits: vec![limit("hold").unwrap()],
    };
    let (before, chosen) = choose(&[], &cuts, &wanted, 3);
    let within = |weights: &[f64]| (AT_95 / weights.iter().sum::<f64>().sqrt()).exp();
    let [book, rough, fine] = [CUT, deviation(0.2), deviation(0.1)].map(|d| 1.0 / (d * d));
    near(before[0], within(&[book]));
    let order: Vec<usize> = chosen.iter().map(|c| c.cut).collect();
    assert_eq!(order, [2, 0, 1]);
    near(chosen[0].within[0], within(&[book, fine]));
    near(chosen[1].within[0], within(&[book, fine, rough]));
    near(chosen[2].within[0], within(&[book, fine, rough]));
    // No more than are asked for, and no more than there are.
    assert_eq!(choose(&[], &cuts, &wanted, 1).1.len(), 1);
    assert_eq!(choose(&[], &cuts, &wanted, 9).1.len(), 3);
    // What was made before counts.
    let learnt = choose(&[pass.read(&s::P_MEAN, 1.0, 0.1)], &cuts, &wanted, 1);
    near(learnt.0[0], within(&[book, fine]));
    near(learnt.1[0].within[0], within(&[book, fine, fine]));
}

#[test]
fn a_group_nobody_cut_has_the_spreads_of_the_book() {
    let pass = of_chip();
    let own = Own::of(&[pass.read(&s::P_MEAN, 1.3, 0.1)], &[]);
    for group in [None, Some(1), Some(7)] {
        let other = own.of_group(group, &pass.setup);
        factor(&other, Input::Cut, 0.0, CUT);
        factor(&other, Input::Edge, 0.0, EDGE);
        factor(&other, Input::Stiffness, 0.0, deviation(0.5));
    }
}

/// Of the covariance (4 2; 2 5) the root is (2 0; 1 2): a draw is the mean and the root times it.
#[test]
fn numbers_are_drawn_as_they_go_together() {
    let joint = Joint {
        mean: vec![10.0, 20.0],
        covariance: vec![4.0, 2.0, 2.0, 5.0],
    };
    for (normal, expect) in [
        ([0.0, 0.0], [10.0, 20.0]),
        ([1.0, 0.0], [12.0, 21.0]),
        ([0.0, 1.0], [10.0, 22.0]),
        ([-1.0, 3.0], [8.0, 25.0]),
    ] {
        let drawn = joint.draw(&normal);
        assert_eq!(drawn.len(), 2);
        for (got, expect) in drawn.iter().zip(expect) {
            assert!((got - expect).abs() < 1e-9, "{drawn:?}");
        }
    }
    assert!((joint.deviation(0) - 2.0).abs() < 1e-9);
    assert!((joint.deviation(1) - 5.0_f64.sqrt()).abs() < 1e-9);
}
