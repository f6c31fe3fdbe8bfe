//! Where a pass chatters, by hand: a slot of one straight edge of 4 mm whose chip takes 2000 N/mm²
//! along and 600 N/mm² across, on a tip that is soft along one axis alone.
//!
//! With one soft axis the two directions part (Altintas and Budak 1995, memory): the depth on a
//! lobe is 2π over z K_t α Re G, with α = −π K_r/K_t of a slot. Re G is least at r² = 1 + 2ζ, where
//! it is −1/(4 k ζ (1 + ζ)): no speed chatters below 8 k ζ (1 + ζ)/(z K_r).

use feeds_core::kernel::seed::Seed;
use feeds_core::limit::{Bound, Found};
use feeds_core::notebook::Silent;
use feeds_core::plan::chatter::{Lobes, ModesFrom, Pocket, StableAt, TipModes};
use feeds_core::plan::loads::LoadModel;
use feeds_core::plan::setup::Setup;
use feeds_core::plan::{Plan, Planner};
use feeds_core::quantity::{Quantity, SpindleSpeed, Stiffness, in_mm, mm};
use serde_json::{Value, json};
use std::f64::consts::{PI, TAU};
use tests::setups::{one_edge, setup};

/// Stiffness in N/mm, damping ratio and natural frequency in Hz of an axis.
pub(crate) type Soft = [f64; 3];

pub(crate) const SOFT: Soft = [5000.0, 0.04, 1000.0];
/// Moves next to nothing beside it, which still couples a ten-thousandth into the depth.
pub(crate) const HARD: Soft = [9e8, 0.04, 1000.0];

fn tip([k, zeta, f_n]: Soft) -> feeds_core::formula::chatter::TipMode {
    feeds_core::formula::chatter::TipMode {
        k: Stiffness::from_si(k * 1e3),
        zeta,
        f_n: Quantity::from_si(f_n),
    }
}

pub(crate) fn modes(along: Soft, across: Soft) -> TipModes {
    TipModes {
        of: [vec![tip(along)], vec![tip(across)]],
        from: ModesFrom::Typed,
    }
}

/// The pass at a spindle speed in 1/min.
fn slot(modes: Option<TipModes>, n: f64, change: impl Fn(&mut Value)) -> Setup {
    let mut pass = one_edge();
    pass["stock"]["linear"] = json!({ "cut": [2000.0, 600.0, 0.0], "edge": [0.0, 0.0, 0.0] });
    pass["n"] = json!(n);
    change(&mut pass);
    let mut setup = setup(&pass, true);
    setup.modes = modes;
    setup
}

pub(crate) fn worked(setup: &Setup) -> (Plan, Option<Lobes>) {
    let planner = Planner::new(setup);
    let plan = planner.work_out(setup, &mut Silent).unwrap();
    let coefficients = planner.model().map(LoadModel::coefficients);
    let lobes = Lobes::of(setup, coefficients, &plan.moments.first().unwrap().0);
    (plan, lobes)
}

pub(crate) fn lobes(modes: TipModes) -> Lobes {
    worked(&slot(Some(modes), 4000.0, |_| ())).1.unwrap()
}

#[track_caller]
fn near(got: f64, expect: f64, within: f64) {
    assert!((got / expect - 1.0).abs() < within, "{got} is not {expect}");
}

fn least([k, zeta, _]: Soft) -> f64 {
    8.0 * k * zeta * (1.0 + zeta) / 600.0
}

pub(crate) fn rpm(n: f64) -> SpindleSpeed {
    SpindleSpeed::per_minute(n)
}

#[test]
fn one_soft_axis_has_its_least_depth_and_tone() {
    for soft in [SOFT, [10_000.0, 0.04, 700.0], [5000.0, 0.08, 1000.0]] {
        for modes in [modes(soft, HARD), modes(HARD, soft)] {
            let (depth, tone) = lobes(modes).least().unwrap();
            near(in_mm(depth), least(soft), 3e-4);
            near(tone.si(), soft[2] * (1.0 + 2.0 * soft[1]).sqrt(), 1e-4);
        }
    }
    // Two edges chatter at half the depth, twice the force across as well.
    for change in [
        (|p: &mut Value| p["cutter"]["edges"] = json!(2)) as fn(&mut Value),
        |p: &mut Value| p["stock"]["linear"]["cut"] = json!([2000.0, 1200.0, 0.0]),
        // The force along alone has no part in it where the slot is symmetric.
        |p: &mut Value| p["stock"]["linear"]["cut"] = json!([1000.0, 1200.0, 0.0]),
    ] {
        let (_, lobes) = worked(&slot(Some(modes(SOFT, HARD)), 4000.0, change));
        near(
            in_mm(lobes.unwrap().least().unwrap().0),
            least(SOFT) / 2.0,
            3e-4,
        );
    }
}

/// A lobe passes through the turns n = 2π f/(z (ε + 2πk)), ε = π − 2 atan κ, κ = 2ζr/(1 − r²).
#[test]
fn at_the_speeds_of_the_least_tone_no_speed_is_worse() {
    let lobes = lobes(modes(SOFT, HARD));
    let [_, zeta, f_n] = SOFT;
    let r = (1.0 + 2.0 * zeta).sqrt();
    let phase = PI - 2.0 * (2.0 * zeta * r / (1.0 - r * r)).atan();
    for k in 1..6 {
        let n = 60.0 * TAU * f_n * r / (phase + TAU * f64::from(k));
        near(
            in_mm(lobes.at(rpm(n)).zero_order.unwrap()),
            least(SOFT),
            1e-3,
        );
        let next = 60.0 * TAU * f_n * r / (phase + TAU * f64::from(k + 1));
        let between = lobes.at(rpm((n * next).sqrt())).zero_order.unwrap();
        assert!(in_mm(between) > 1.05 * least(SOFT), "{k} {between:?}");
    }
}

/// Depth goes with stiffness, and turns with frequency.
#[test]
fn twice_the_stiffness_is_twice_the_depth_and_frequency_moves_the_speeds() {
    let [k, zeta, f_n] = SOFT;
    let both = |k: f64, f_n: f64| lobes(modes([k, zeta, f_n], [1.5 * k, zeta, 1.2 * f_n]));
    let (one, stiff, fast) = (both(k, f_n), both(2.0 * k, f_n), both(k, 1.5 * f_n));
    for n in [7300.0, 11_900.0, 21_000.0] {
        let at = one.at(rpm(n));
        assert!(at.is_followed);
        let depth = |at: StableAt| in_mm(at.depth().unwrap());
        near(depth(stiff.at(rpm(n))), 2.0 * depth(at), 1e-3);
        near(depth(fast.at(rpm(1.5 * n))), depth(at), 1e-3);
        assert!(depth(at) >= in_mm(one.least().unwrap().0) * 0.5);
    }
}

/// One wave of 1000 Hz is 60 000/min between two teeth: ten of them are followed, and with more
/// than fifty the lobes are one edge.
#[test]
fn how_many_waves_stand_between_two_teeth_decides_the_method() {
    let lobes = lobes(modes(SOFT, HARD));
    assert!(lobes.at(rpm(6010.0)).is_followed);
    let coarse = lobes.at(rpm(5990.0));
    assert!(!coarse.is_followed && coarse.followed.is_none() && !coarse.by_following());
    assert_eq!(coarse.depth(), coarse.zero_order);
    let dense = lobes.at(rpm(1190.0)).zero_order.unwrap();
    near(in_mm(dense), least(SOFT), 3e-4);
    // With 49 of them the lobes still part somewhere.
    let parted = (0..8).map(|k| lobes.at(rpm(1210.0 + 3.0 * f64::from(k))).zero_order);
    assert!(parted.flatten().any(|d| in_mm(d) > 1.003 * least(SOFT)));
    // The slowest and the highest mode each decide of their own.
    let [k, zeta, _] = SOFT;
    let two = self::lobes(modes([k, zeta, 900.0], [k, zeta, 1500.0]));
    assert!(!two.at(rpm(8990.0)).is_followed);
    assert!(two.at(rpm(9010.0)).is_followed);
}

fn at(zero_order: Option<f64>, followed: Option<f64>) -> StableAt {
    StableAt {
        zero_order: zero_order.map(mm),
        followed: followed.map(mm),
        is_followed: true,
    }
}

#[test]
fn the_lower_of_both_methods_counts() {
    let check = |zero: Option<f64>, followed: Option<f64>, depth: Option<f64>, by: bool| {
        let at = at(zero, followed);
        assert_eq!(at.depth(), depth.map(mm));
        assert_eq!(at.by_following(), by, "{at:?}");
    };
    check(Some(2.0), Some(1.0), Some(1.0), true);
    check(Some(1.0), Some(2.0), Some(1.0), false);
    check(Some(1.0), None, Some(1.0), false);
    check(None, Some(1.0), Some(1.0), true);
    check(None, None, None, false);
}

/// The pockets of a curve with a depth at each 1000/min, as (speed, stable from, stable to).
fn pockets(depths: &[f64], a_p: f64) -> Vec<(f64, Option<[f64; 2]>)> {
    let curve = depths.iter().zip(1..).map(|(depth, k): (&f64, i32)| {
        let depth = depth.is_finite().then_some(*depth);
        (rpm(1000.0 * f64::from(k)), at(depth, None))
    });
    let curve: Vec<(SpindleSpeed, StableAt)> = curve.collect();
    let found = lobes(modes(SOFT, HARD)).pockets(&curve, &[], mm(a_p));
    let ends = |p: &Pocket| p.holds.map(|e| e.map(|n| n.in_per_minute().round()));
    let pockets = found.iter();
    pockets
        .map(|p| (p.n.in_per_minute().round(), ends(p)))
        .collect()
}

/// A pocket is deeper than what is beside it by 15 %, and is stable as far as the pass is not
/// deeper than its curve: read off each list.
#[test]
fn pockets_are_read_off_a_curve() {
    let check = |depths: &[f64], a_p: f64, expect: &[(f64, Option<[f64; 2]>)]| {
        assert_eq!(pockets(depths, a_p), expect, "{depths:?} {a_p}");
    };
    let two = [1.0, 2.0, 5.0, 2.0, 1.0, 3.0, 1.0];
    check(
        &two,
        1.5,
        &[(3e3, Some([2e3, 4e3])), (6e3, Some([6e3, 6e3]))],
    );
    check(&two, 3.5, &[(3e3, Some([3e3, 3e3])), (6e3, None)]);
    check(
        &two,
        0.5,
        &[(3e3, Some([1e3, 7e3])), (6e3, Some([1e3, 7e3]))],
    );
    // A depth of just the curve is stable.
    check(
        &two,
        2.0,
        &[(3e3, Some([2e3, 4e3])), (6e3, Some([6e3, 6e3]))],
    );
    // 2 · 1.15 = 2.3 beside it, on the higher side.
    check(&[2.0, 2.29, 1.0], 9.0, &[]);
    check(&[2.0, 2.31, 1.0], 9.0, &[(2e3, None)]);
    check(&[1.0, 2.29, 2.0, 4.0, 1.0], 9.0, &[(4e3, None)]);
    check(
        &[1.0, 2.31, 2.0, 4.0, 1.0],
        9.0,
        &[(4e3, None), (2e3, None)],
    );
    // At either end, on a flat top its first, and where nothing limits.
    check(&[3.0, 1.0, 2.0], 9.0, &[(1e3, None), (3e3, None)]);
    check(&[1.0, 3.0, 3.0, 1.0], 2.0, &[(2e3, Some([2e3, 3e3]))]);
    let endless = f64::INFINITY;
    check(&[1.0, endless, 1.0], 9.0, &[(2e3, Some([2e3, 2e3]))]);
    check(&[], 1.0, &[]);
    // The five deepest, the deepest first.
    let six = [
        1.0, 4.0, 1.0, 9.0, 1.0, 6.0, 1.0, 8.0, 1.0, 5.0, 1.0, 7.0, 1.0,
    ];
    let deepest = [4e3, 8e3, 12e3, 6e3, 10e3].map(|n| (n, None));
    check(&six, 20.0, &deepest);
}

#[test]
fn of_a_belt_each_step_is_a_pocket() {
    let lobes = lobes(modes(SOFT, HARD));
    let steps = [7000.0, 9000.0, 14_000.0, 16_000.0, 20_000.0, 23_000.0].map(rpm);
    let depth = |n: SpindleSpeed| in_mm(lobes.at(n).depth().unwrap());
    let mut deepest = steps;
    deepest.sort_by(|a, b| depth(*b).total_cmp(&depth(*a)));
    let a_p = depth(deepest[2]);
    let found = lobes.pockets(&[], &steps, mm(a_p));
    let told: Vec<SpindleSpeed> = found.iter().map(|p| p.n).collect();
    assert_eq!(told, deepest[..5]);
    for (pocket, k) in found.iter().zip(0..) {
        let holds = (k <= 2).then_some([pocket.n, pocket.n]);
        assert_eq!(pocket.holds, holds, "{k}");
    }
}

/// Where the lobes are one edge, the depth goes with k, ζ, one over the force and what the method
/// is off by: the variances of the logarithms add up. Shares of chatter.rs: 0.10, 0.15 typed, 0.20
/// with a stiffness that is guessed, 0.30 and 0.49 of a beam; carbon steel 0.12; method 0.15.
#[test]
fn the_likely_depths_are_as_wide_as_what_they_rest_on() {
    for (from, k, zeta) in [
        (ModesFrom::Typed, 0.10, 0.15),
        (ModesFrom::Tapped, 0.20, 0.15),
        (ModesFrom::Beam, 0.30, 0.49),
    ] {
        let lobes = lobes(TipModes {
            from,
            ..modes(SOFT, HARD)
        });
        let n = rpm(500.0);
        let at = lobes.at(n);
        let depths = lobes.drawn(n, &at, 20_000, 7);
        let logs: Vec<f64> = depths.iter().map(|d| (d / least(SOFT)).ln()).collect();
        let count = 20_000.0;
        let mean = logs.iter().sum::<f64>() / count;
        let var = logs.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / count;
        let expect = [k, zeta, 0.12, 0.15].iter().map(|s| s * s).sum::<f64>();
        assert!(mean.abs() < 0.02, "{mean}");
        near(var, expect, 0.04);
        assert!(depths.is_sorted());
        // 1.645 deviations hold nine of ten.
        let [low, high] = lobes.likely(n, &at, 20_000, 7).unwrap();
        near(
            (in_mm(high) / in_mm(low)).ln(),
            2.0 * 1.645 * expect.sqrt(),
            0.03,
        );
    }
    // Nothing limits, nothing is drawn.
    let lobes = lobes(modes(SOFT, HARD));
    assert!(lobes.drawn(rpm(500.0), &at(None, None), 10, 7).is_empty());
    assert_eq!(lobes.likely(rpm(500.0), &at(None, Some(1.0)), 10, 7), None);
}

#[test]
fn the_check_holds_the_depth_against_the_lobes() {
    let open = slot(None, 4000.0, |_| ());
    let (plan, lobes) = worked(&open);
    assert!(lobes.is_none() && plan.stable.is_none());
    let check = plan.check("chatter").unwrap();
    assert_eq!(check.found, Found::Needs("the modes of the tip"));
    for (from, guessed) in [
        (ModesFrom::Typed, false),
        (ModesFrom::Tapped, false),
        (ModesFrom::Beam, true),
    ] {
        for (intent, wanted) in [("cautious", 0.3), ("production", 0.1)] {
            let soft = TipModes {
                from,
                ..modes(SOFT, HARD)
            };
            let setup = slot(Some(soft), 1000.0, |p| p["intent"] = json!(intent));
            let (plan, _) = worked(&setup);
            let check = plan.check("chatter").unwrap();
            assert_eq!((check.guessed, check.wanted), (guessed, wanted));
            let Found::Known { value, bound } = check.found else {
                panic!("{check:?}")
            };
            assert!(matches!(bound, Bound::AtMost(_)));
            near(value, 1e-3, 1e-12);
            near(bound.si(), least(SOFT) * 1e-3, 3e-4);
        }
    }
}

/// A plain rod of 4 mm: k = 3 E I/L³, and 33/140 of its mass swings at the tip (Rayleigh, any text
/// on vibrations). A core of 0.65/0.80 of the shank makes the flutes bend like it; carbide weighs
/// 14.5 g/cm³.
#[test]
fn a_plain_rod_has_the_mode_of_a_beam() {
    let mut seed = Seed::new(29);
    for flutes in [4.0, 15.0] {
        let length = seed.between(20.0, 45.0);
        let rod = slot(None, 4000.0, |p| {
            p["cutter"]["core"] = json!(4.0 * 0.65 / 0.80);
            p["cutter"]["stick_out"] = json!(length);
            p["cutter"]["flute_length"] = json!(flutes);
        });
        let found = TipModes::of_beam(&rod, 0.03);
        assert_eq!(found.from, ModesFrom::Beam);
        let [along, across] = [0, 1].map(|axis| found.of[axis][0]);
        assert_eq!((found.of[0].len(), along), (1, across));
        let inertia = PI * 4.0_f64.powi(4) / 64.0;
        let k = 3.0 * 6e5 * inertia / length.powi(3);
        near(along.k.si(), k * 1e3, 1e-9);
        let mass = 33.0 / 140.0 * 14.5e-6 * PI * 4.0 * length;
        near(along.f_n.si(), (k * 1e3 / mass).sqrt() / TAU, 1e-3);
        assert!((along.zeta - 0.03).abs() < 1e-12);
        // A machine of the same stiffness halves it.
        let mut soft = rod;
        soft.machine.as_mut().unwrap().stiffness = Some(Stiffness::from_si(k * 1e3));
        near(
            TipModes::of_beam(&soft, 0.03).of[0][0].k.si(),
            k * 500.0,
            1e-9,
        );
    }
}
