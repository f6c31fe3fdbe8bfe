//! Loads of engagements that something outside says, with the forces and the clamping of a pass.

use std::f64::consts::{PI, TAU};

use feeds_core::band::LikelyRange;
use feeds_core::kernel::front::EngagedBand;
use feeds_core::kernel::seed::Seed;
use feeds_core::notebook::Silent;
use feeds_core::plan::Planner;
use feeds_core::plan::loads::Loads;
use feeds_core::plan::met::Fronts;
use feeds_core::plan::met::classes::Classes;
use feeds_core::plan::setup::Setup;
use feeds_core::quantity::{Quantity, in_mm, mm};
use feeds_core::symbol as s;
use serde_json::{Value, json};
use tests::setups::{linear, one_edge, random, rounded, setup};

/// A straight pass with one moment, of one of the ends.
fn pass(seed: &mut Seed, round: bool) -> Value {
    loop {
        let mut pass = random(seed);
        let path = pass["cut"]["path"].as_str().unwrap().to_owned();
        if !["slot", "side", "face"].contains(&path.as_str()) || !pass["cut"]["wall"].is_null() {
            continue;
        }
        if seed.unit() < 0.3 {
            pass = linear(pass, seed);
        }
        for none in ["entry", "previous", "corner"] {
            pass["cut"][none] = Value::Null;
        }
        return if round { rounded(pass, seed) } else { pass };
    }
}

/// The engaged angles of the pass at a radius, mm; stock of this cutter's own shape.
fn window(pass: &Value, d: f64, radius: f64) -> [f64; 2] {
    let cut = &pass["cut"];
    let a_e = cut["a_e"].as_f64().unwrap_or(d);
    match cut["path"].as_str().unwrap() {
        "slot" => [0.0, PI],
        "face" => {
            let half = (0.5 * a_e / radius).min(1.0).asin();
            [0.5 * PI - half, 0.5 * PI + half]
        }
        _ => {
            let arc = (1.0 - a_e / radius).max(-1.0).acos();
            if cut["direction"] == "up" {
                [0.0, arc]
            } else {
                [PI - arc, PI]
            }
        }
    }
}

/// The pass as a field of stock meets it, in eight rings of equal steps of radius.
fn met(pass: &Value) -> Vec<EngagedBand> {
    let d = pass["cutter"]["diameter"].as_f64().unwrap();
    let r_e = pass["cutter"]["corner_radius"].as_f64().unwrap_or(0.0);
    let a_p = pass["cut"]["a_p"].as_f64().unwrap();
    let curved = a_p.min(r_e);
    let wide = (curved * (2.0 * r_e - curved)).sqrt();
    let height = |share: f64| r_e - (r_e * r_e - (share * wide).powi(2)).max(0.0).sqrt();
    let mut bands = Vec::new();
    for k in 0..if curved > 0.0 { 8 } else { 0 } {
        let [low, high] = [k, k + 1].map(|k| height(f64::from(k) / 8.0));
        let middle = 0.5 * (low + high);
        let radius = 0.5 * d - r_e + (middle * (2.0 * r_e - middle)).sqrt();
        bands.push(EngagedBand::new(low, high, &[window(pass, d, radius)]));
    }
    if a_p > r_e {
        bands.push(EngagedBand::new(r_e, a_p, &[window(pass, d, 0.5 * d)]));
    }
    bands
}

/// How far two loads lie apart, forces as shares of the lateral one.
fn apart(a: &Loads, b: &Loads) -> Vec<(&'static str, f64)> {
    let wall = a.wall().max(a.tip).max(1e-12);
    vec![
        ("lateral", (a.lateral - b.lateral) / a.lateral),
        ("torque", (a.torque - b.torque) / a.torque),
        ("power", (a.power - b.power) / a.power),
        ("lift", (a.lift - b.lift) / a.lateral),
        ("along", (a.along - b.along) / a.lateral),
        ("tip", (a.tip - b.tip) / a.tip),
        ("stress", (a.stress - b.stress) / a.stress),
        ("wall at the bottom", (a.wall_bottom - b.wall_bottom) / wall),
        ("wall at the top", (a.wall_top - b.wall_top) / wall),
    ]
}

/// With a square end the means are those of the pass, and the peaks within what the few angles of
/// either miss; in eight rings all is within a hundredth but one of fifty.
#[test]
fn a_straight_pass_met_from_outside_has_its_loads() {
    let mut seed = Seed::new(20_260_601);
    let (mut all, mut far) = (0, 0);
    for case in 0..240 {
        let round = case % 2 == 0;
        let pass = pass(&mut seed, round);
        let setup = setup(&pass, false);
        let plan = Planner::new(&setup).work_out(&setup, &mut Silent).unwrap();
        let fronts = Fronts::of(&setup).unwrap();
        let of_pass = plan.loads.unwrap();
        let mut loads = fronts.meet(&met(&pass)).at(plan.f_z, plan.n.turns().si());
        if ["ball-finish", "face"].contains(&pass["cut"]["path"].as_str().unwrap()) {
            // A pass that leaves a surface states no wall.
            (loads.wall_bottom, loads.wall_top) = (0.0, 0.0);
        }
        for (what, off) in apart(&of_pass, &loads) {
            let within = match (round, what) {
                (true, _) => 2e-2,
                (false, "power" | "wall at the bottom" | "wall at the top") => 1e-9,
                (false, _) => 2e-3,
            };
            assert!(
                off.abs() < within,
                "{case}: {what} is off by {off} in {pass}"
            );
            all += 1;
            far += usize::from(off.abs() > 1e-2);
        }
    }
    assert!(far * 50 < all, "{far} of {all}");
}

/// The range is that of the pass: the same inputs drawn by the same seed.
#[test]
fn the_range_is_that_of_the_pass() {
    let mut seed = Seed::new(20_260_602);
    for case in 0..12 {
        let pass = pass(&mut seed, case % 4 == 0);
        let setup = setup(&pass, false);
        let planner = Planner::new(&setup);
        let plan = planner.work_out(&setup, &mut Silent).unwrap();
        let likely = LikelyRange::of(&planner, &setup, &plan, 200, 1);
        let fronts = Fronts::of(&setup).unwrap();
        let at = (plan.f_z, plan.n.turns().si());
        let range = fronts.meet(&met(&pass)).range(&fronts, at, (200, 1));
        let within = if case % 4 == 0 { 2e-2 } else { 2e-3 };
        let surface = ["ball-finish", "face"].contains(&pass["cut"]["path"].as_str().unwrap());
        for (symbol, (low, high)) in [(&s::F_XY, range.lateral), (&s::WALL_ERROR, range.wall)] {
            let band = likely.answers.iter().find(|a| a.symbol == symbol).unwrap();
            if symbol == &s::F_XY || !surface {
                let scale = band.high.max(1e-12);
                assert!(
                    (band.low - low).abs() < within * scale,
                    "{case} {}",
                    symbol.name
                );
                assert!(
                    (band.high - high).abs() < within * scale,
                    "{case} {}",
                    symbol.name
                );
            }
            assert!(low <= high);
        }
    }
}

/// One straight edge of 4 mm that takes 100 N/mm across the cut and nothing else, 1.5 mm deep from
/// 0.2 to 0.9 rad and 1 mm deep from there to the wall on the right: 150 N and then 100 N, and
/// 100 N off that wall, up to 1 mm.
#[test]
fn a_wall_is_off_where_a_window_reaches_it() {
    let mut pass = one_edge();
    pass["machine"]["stiffness"] = json!(1.0);
    let fronts = Fronts::of(&setup(&pass, true)).unwrap();
    let (left, right) = ([0.2, 0.9], [0.9, PI]);
    let bands = [
        EngagedBand::new(0.0, 1.0, &[left, right]),
        EngagedBand::new(1.0, 1.5, &[left]),
    ];
    let loads = fronts.meet(&bands).at(mm(0.02), 60.0);
    assert!((loads.lateral - 150.0).abs() < 1e-3, "{loads:?}");
    // The machine gives 1 mm for each newton, the cutter less than a thousandth of that.
    for wall in [loads.wall_bottom, loads.wall_top] {
        assert!((wall / 0.1 - 1.0).abs() < 1e-3, "{loads:?}");
    }
    let free = fronts.meet(&[EngagedBand::new(0.0, 1.5, &[left])]);
    let free = free.at(mm(0.02), 60.0);
    assert!(
        free.wall().abs() < 1e-15 && free.lateral > 149.0,
        "{free:?}"
    );
}

/// A setup with an engagement: straight passes of a round end in rings, and of a square end any
/// window, the upper part of which may have another. None where teeth exchange: a window within
/// 0.1 rad of one or more pitches, with edges that lag by less than 0.6 rad.
fn engagement(seed: &mut Seed, case: u32) -> Option<(Setup, Vec<EngagedBand>)> {
    let round = seed.unit() < 0.5;
    let pass = pass(seed, round);
    let setup = setup(&pass, false);
    let d = in_mm(setup.cutter.diameter);
    let depth = d * seed.between(0.03, 1.2);
    let width = seed.between(-5.0, 1.1).exp();
    let start = seed.between(0.0, 2.5);
    let bands = if round {
        met(&pass)
    } else {
        let [from, to] = match case % 3 {
            0 => [0.0, width.min(PI)],
            1 => [(PI - width).max(0.0), PI],
            _ => [start, (start + width).min(PI - 0.01)],
        };
        let (middle, end) = (
            0.6 * depth,
            if case.is_multiple_of(5) {
                0.5 * (from + to)
            } else {
                to
            },
        );
        vec![
            EngagedBand::new(0.0, middle, &[[from, to]]),
            EngagedBand::new(middle, depth, &[[from, end]]),
        ]
    };
    let pitch = TAU / f64::from(setup.cutter.edges);
    let lag = 2.0 * bands.last()?.high / d * setup.cutter.helix.si().tan();
    let exchange = bands.iter().flat_map(EngagedBand::open).any(|[from, to]| {
        let pitches = ((to - from) / pitch).round().max(1.0);
        (to - from - pitches * pitch).abs() < 0.1
    });
    (lag > 0.6 || !exchange).then_some((setup, bands))
}

/// An engagement a little deeper and wider: heights and places by one share each, and the windows
/// that leave a wall free by another.
fn moved(bands: &[EngagedBand], seed: &mut Seed) -> Vec<EngagedBand> {
    let [depth, wider, aside] = [(); 3].map(|()| seed.between(-0.003, 0.003));
    let top = bands.last().unwrap().high;
    let end = |at: f64, from: f64| {
        let free = at > 0.0 && at < PI;
        if free {
            (at + wider * (at - from) + aside * at.min(PI - at)).clamp(1e-4, PI - 1e-4)
        } else {
            at
        }
    };
    let moved = |band: &EngagedBand| {
        let windows: Vec<[f64; 2]> = band.open().map(|[a, b]| [end(a, b), end(b, a)]).collect();
        // Rings lie where the cutter has them.
        let ring = bands.len() > 2 && band.high < top;
        let height = |h: f64| {
            if ring || h < top {
                h
            } else {
                h * (1.0 + depth)
            }
        };
        EngagedBand::new(band.low, height(band.high), &windows)
    };
    bands.iter().map(moved).collect()
}

/// What was worked out for one engagement holds for every other of its class: within a hundredth,
/// its walls within three, since they hang on one angle of the turn.
#[test]
fn engagements_of_a_class_have_the_same_loads() {
    let mut seed = Seed::new(20_260_603);
    let (mut round, mut square) = (0, 0);
    for case in 0..6000 {
        let Some((setup, bands)) = engagement(&mut seed, case) else {
            continue;
        };
        let fronts = Fronts::of(&setup).unwrap();
        let mut classes = fronts.classes(8);
        let other = moved(&bands, &mut seed);
        classes.at(&bands, || ());
        classes.at(&other, || ());
        if classes.made() > 1 {
            continue;
        }
        *(if bands.len() > 2 {
            &mut round
        } else {
            &mut square
        }) += 1;
        let f_z = setup.cutter.diameter * 0.004;
        let [first, second] = [&bands, &other].map(|bands| fronts.meet(bands).at(f_z, 60.0));
        for (what, off) in apart(&first, &second) {
            let within = if what.starts_with("wall") { 3e-2 } else { 1e-2 };
            assert!(
                off.abs() < within,
                "{case}: {what} is off by {off} of {bands:?}"
            );
        }
    }
    assert!(round > 100 && square > 400, "{round} {square}");
}

/// An arc of 0.02 rad and one of 0.03 are not one class, nor one that reaches the wall and one that
/// stays clear of it; a thousandth more of either is.
#[test]
fn narrow_arcs_are_told_apart() {
    let mut classes = Classes::new(0.0, 100);
    let mut made = |window: [f64; 2]| {
        classes.at(&[EngagedBand::new(0.0, 1.0, &[window])], || ());
        classes.made()
    };
    assert_eq!(made([PI - 0.02, PI]), 1);
    assert_eq!(made([PI - 0.03, PI]), 2);
    assert_eq!(made([PI - 0.03, PI - 1e-4]), 3);
    assert_eq!(made([PI - 0.020_02, PI]), 3);
}

/// Never more than there is room for, and each made once while it is kept.
#[test]
fn classes_are_bounded() {
    let mut classes = Classes::new(0.0, 10);
    let band = |k: u32| [EngagedBand::new(0.0, 1.0 + f64::from(k), &[[1.0, 2.0]])];
    for k in 0..10 {
        assert_eq!(*classes.at(&band(k), || k), k);
    }
    for k in 0..10 {
        assert_eq!(*classes.at(&band(k), || 99), k);
    }
    assert_eq!(classes.made(), 10);
    classes.at(&band(10), || 10);
    assert_eq!(*classes.at(&band(0), || 99), 99);
    assert_eq!(classes.made(), 12);
}
