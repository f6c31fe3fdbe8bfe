//! Laws of the best cut: inside every margin, never beaten by a random cut, and honest when empty.

use feeds_core::kernel::best::{Area, FINE, Ground, Worth, search};
use feeds_core::kernel::seed::Seed;
use feeds_core::limit::State;
use feeds_core::notebook::Silent;
use feeds_core::plan::Planner;
use feeds_core::plan::best::{Best, Conflict, Free, Search, Wish};
use feeds_core::plan::limits::{BACKLASH, STRESS};
use feeds_core::plan::opens::Change;
use feeds_core::plan::room::Variable;
use feeds_core::plan::setup::Setup;
use feeds_tui::pass::description::Description;
use feeds_tui::pass::fastest::{FastestAsked, asked};
use feeds_tui::pass::resolve::TablesOnly;
use serde_json::Value;

const WALL: [(&str, &str); 7] = [
    ("cutter", "3 mm square, 3 edges, AlTiN carbide"),
    ("stock", "1095"),
    ("condition", "annealed"),
    ("machine", "bench-5000"),
    ("clamp-force", "3 kN"),
    ("path", "side"),
    ("direction", "up"),
];

fn ask(pairs: &[(&str, &str)]) -> FastestAsked {
    let pass = Description::default().with(&WALL).with(pairs);
    asked(&pass, true, &TablesOnly).unwrap()
}

fn outcome(asked: &FastestAsked) -> Search {
    let setup = &asked.resolved.setup;
    Planner::new(setup).best(setup, asked.wish).unwrap()
}

#[track_caller]
fn found(asked: &FastestAsked) -> Best {
    match outcome(asked) {
        Search::Found(best) => *best,
        Search::None(conflict) => panic!("no cut: {conflict:?}"),
    }
}

#[track_caller]
fn none(asked: &FastestAsked) -> Conflict {
    match outcome(asked) {
        Search::Found(best) => panic!("a cut: {best:?}"),
        Search::None(conflict) => *conflict,
    }
}

#[test]
fn the_best_cut_keeps_every_margin() {
    for pairs in [
        &[][..],
        &[("path", "pocket"), ("corner", "yes")],
        &[("path", "slot"), ("runout", "0 um")],
        &[("depth", "2 mm")],
        &[("width", "0.3 mm"), ("spindle", "3000 rpm")],
        &[("engagement-angle", "40 deg"), ("feed", "200 mm/min")],
        &[
            ("cutter", "3 mm ball, 2 edges, AlTiN carbide"),
            ("path", "ball-finish"),
        ],
    ] {
        let asked = ask(pairs);
        let best = found(&asked);
        let plan = Planner::new(&best.setup)
            .work_out(&best.setup, &mut Silent)
            .unwrap();
        for check in plan
            .checks
            .iter()
            .filter(|c| c.limit.hard() || c.limit == &STRESS)
        {
            assert!(check.holds(), "{pairs:?}: {check:?}");
        }
        assert_eq!(plan.count(State::Over), 0);
        assert!(
            (plan.q.value / best.q.value - 1.0).abs() < 1e-9,
            "{pairs:?}"
        );
        assert!(best.governs().is_some(), "something always stops it");
    }
}

/// Down milling at more than twice the backlash a tooth, the table is not pulled; the spindle then
/// carries less, at which it would be.
#[test]
fn a_feed_that_power_lowers_does_not_pull_the_table() {
    let pass: Value =
        serde_json::from_str(include_str!("../../files/lowered_by_power.json")).unwrap();
    let setup = tests::setups::setup(&pass, false);
    let free = Free {
        a_p: true,
        a_e: true,
    };
    let wish = Wish { free, guides: true };
    let of = |setup: &Setup| {
        let Search::Found(best) = Planner::new(setup).best(setup, wish).unwrap() else {
            panic!("no cut")
        };
        best.setup
    };
    let backlash = |setup: &Setup| {
        let plan = Planner::new(setup).work_out(setup, &mut Silent).unwrap();
        *plan.checks.iter().find(|c| c.limit == &BACKLASH).unwrap()
    };
    let check = backlash(&of(&setup));
    assert!(check.holds(), "{check:?}");
    // Where nobody knows the backlash the best cut pulls the table.
    let mut unknown = setup.clone();
    unknown.machine.as_mut().unwrap().backlash = None;
    let mut pulls = of(&unknown);
    pulls.machine.clone_from(&setup.machine);
    let check = backlash(&pulls);
    assert!(!check.holds(), "{check:?}");
}

#[test]
fn what_was_fixed_is_kept() {
    let asked = ask(&[("width", "0.3 mm"), ("spindle", "3000 rpm")]);
    let best = found(&asked);
    assert!(
        (best.a_e.value - 0.3e-3).abs() < 1e-15 && (best.n.in_per_minute() - 3000.0).abs() < 1e-9
    );
    let asked = ask(&[("depth", "1 mm"), ("feed", "200 mm/min")]);
    let best = found(&asked);
    let v_f = best.f_z.value * 3.0 * best.n.turns().value * 60e3;
    assert!(
        (best.a_p.value - 1e-3).abs() < 1e-15 && (v_f - 200.0).abs() < 1e-6,
        "{v_f}"
    );
}

#[test]
fn no_random_cut_inside_every_margin_removes_more() {
    no_cut_removes_more(2500);
}

#[test]
fn no_random_cut_inside_every_margin_removes_more_a_few() {
    no_cut_removes_more(60);
}

fn no_cut_removes_more(cases: u32) {
    let mut seed = Seed::new(20_260_301);
    for pairs in [
        &[][..],
        &[("path", "pocket"), ("corner", "yes")],
        &[
            ("cutter", "6 mm square, 4 edges, AlTiN carbide"),
            ("power", "60 W"),
        ],
        // Coefficients invented for arithmetic.
        &[
            ("ktc", "1800 N/mm2"),
            ("krc", "700 N/mm2"),
            ("kac", "300 N/mm2"),
            ("kte", "15 N/mm"),
            ("kre", "10 N/mm"),
            ("kae", "1 N/mm"),
        ],
    ] {
        let asked = ask(pairs);
        let best = found(&asked);
        let planner = Planner::new(&best.setup);
        let mut inside = 0;
        for _ in 0..cases {
            let mut near = |x: f64| x * (0.7 * (seed.unit() - 0.5)).exp();
            let texts = [
                ("depth", near(best.a_p.value * 1e3)),
                ("width", near(best.a_e.value * 1e3)),
                ("feed-per-tooth", near(best.f_z.value * 1e3)),
            ];
            let n = near(best.n.in_per_minute()).min(5000.0);
            let mut setup = best.setup.clone();
            let mm = feeds_core::quantity::mm;
            setup.cut.a_p = mm(texts[0].1);
            setup.cut.width = Some(feeds_core::cut::Width::Across(mm(texts[1].1)));
            setup.given.f_z = Some(mm(texts[2].1));
            setup.given.n = Some(feeds_core::quantity::SpindleSpeed::per_minute(n));
            let Ok(plan) = planner.work_out(&setup, &mut Silent) else {
                continue;
            };
            let guides = [
                "depth-guide",
                "width-guide",
                "chip-room",
                "tip-deflection",
                "breakage",
            ];
            let counts = |name: &str, hard: bool| hard || guides.contains(&name);
            let checks = plan.checks.iter();
            if checks
                .filter(|c| counts(c.limit.name, c.limit.hard()))
                .all(feeds_core::limit::Check::holds)
            {
                inside += 1;
                assert!(
                    plan.q.value <= best.q.value * (1.0 + 1e-4),
                    "{pairs:?}: {:?} removes {} times as much",
                    setup.cut,
                    plan.q.value / best.q.value
                );
            }
        }
        assert!(
            inside > 0 && (cases < 2500 || inside > 50),
            "{pairs:?}: only {inside} cuts were inside"
        );
    }
}

#[test]
fn an_empty_result_names_both_checks_and_what_opens_it() {
    // A slot 3 mm deep with a 3 mm cutter bends it far beyond the wall's tolerance.
    let conflict = none(&ask(&[
        ("path", "slot"),
        ("depth", "3 mm"),
        ("stick-out", "20 mm"),
    ]));
    assert_eq!(conflict.least.unwrap().limit.name, "chip-floor");
    assert!(["wall-error", "breakage"].contains(&conflict.most.unwrap().limit.name));
    let opening = conflict
        .openings
        .iter()
        .find(|o| matches!(o.change, Change::Depth(..)));
    let Some(Change::Depth(a_p, _)) = opening.map(|o| o.change) else {
        panic!("less depth opens it: {conflict:?}")
    };
    let depth = format!("{} mm", a_p.value * 1e3);
    found(&ask(&[
        ("path", "slot"),
        ("depth", &depth),
        ("stick-out", "20 mm"),
    ]));
}

#[test]
fn a_shorter_stick_out_that_is_offered_opens_it() {
    let fixed = [
        ("path", "slot"),
        ("depth", "0.3 mm"),
        ("stick-out", "50 mm"),
    ];
    let conflict = none(&ask(&fixed));
    let change = conflict.openings.iter().find_map(|o| match o.change {
        Change::StickOut(l) => Some(l.value * 1e3),
        _ => None,
    });
    let length = change.unwrap_or_else(|| panic!("clamping shorter opens it: {conflict:?}"));
    let at = |mm: f64| {
        let text = format!("{mm} mm");
        ask(&[("path", "slot"), ("depth", "0.3 mm"), ("stick-out", &text)])
    };
    found(&at(length));
    none(&at(length + 1.0));
}

#[test]
fn a_check_that_nothing_free_can_change_stands_alone() {
    let conflict = none(&ask(&[("depth", "9 mm"), ("flute-length", "8 mm")]));
    assert_eq!(conflict.most.unwrap().limit.name, "flute-length");
    assert!(conflict.least.is_none());
}

/// An edge of 40 µm needs 2 · 0.3 · 40 = 24 µm a tooth not to rub over half of its arc, more than a
/// cutter of 3 mm is given. Such a cut was once found, far beyond the band of feeds.
#[test]
fn an_edge_too_dull_for_the_band_of_feeds_has_no_cut() {
    let conflict = none(&ask(&[("edge-radius", "40 um")]));
    assert_eq!(conflict.least.unwrap().limit.name, "chip-floor");
    assert_eq!(conflict.most.unwrap().limit.name, "feed-band");
}

#[test]
fn easing_a_stop_gains_and_flat_tops_are_told() {
    // The spindle's power alone stops it: then depth can be traded for feed and speed.
    let weak = [
        ("cutter", "6 mm square, 4 edges, AlTiN carbide"),
        ("power", "40 W"),
        ("tolerance", "1 mm"),
        ("runout", "0 um"),
    ];
    let best = found(&ask(&weak));
    let power = best
        .stops
        .iter()
        .find(|s| s.limit.name == "spindle-power")
        .unwrap();
    assert!(power.gain > 0.5, "{:?}", best.stops);
    let (from, to) = best.flat.a_p.or(best.flat.a_e).unwrap();
    assert!(to > from, "{:?}", best.flat);
}

#[test]
fn the_room_of_each_variable_ends_where_a_check_breaks() {
    let best = found(&ask(&[("direction", "up"), ("depth", "1.2 mm")]));
    let planner = Planner::new(&best.setup);
    let plan = planner.work_out(&best.setup, &mut Silent).unwrap();
    for variable in Variable::ALL {
        let room = planner.room(&best.setup, &plan, variable);
        assert!(room.broken.is_none());
        for (end, outwards) in [(room.least, -1.0), (room.most, 1.0)] {
            let Some(end) = end else { continue };
            let holds = |value: f64| {
                let mut setup = best.setup.clone();
                match variable {
                    Variable::Speed => {
                        setup.given.n = Some(feeds_core::quantity::Quantity::from_si(value));
                    }
                    Variable::Feed => {
                        setup.given.f_z = Some(feeds_core::quantity::Quantity::from_si(value));
                    }
                    Variable::Depth => setup.cut.a_p = feeds_core::quantity::mm(value * 1e3),
                    Variable::Width => {
                        let a_e = feeds_core::quantity::mm(value * 1e3);
                        setup.cut.width = Some(feeds_core::cut::Width::Across(a_e));
                    }
                }
                let plan = planner.work_out(&setup, &mut Silent).unwrap();
                plan.check(end.limit.name).unwrap().holds()
            };
            assert!(holds(end.value), "{variable:?} {end:?}");
            assert!(
                !holds(end.value * (1.0 + outwards * 1e-6)),
                "{variable:?} {end:?}"
            );
        }
    }
}

/// Holds that a search over depths, and widths up to 1, finds the most there is.
#[track_caller]
fn finds(ground: &mut impl Ground, a_p: (f64, f64), most: f64) {
    let a_e = (0.01, 1.0);
    let place = search(ground, &Area { a_p, a_e }, &FINE);
    let Worth::Cut { q, .. } = place.worth else {
        panic!("{place:?}")
    };
    assert!(q > most * (1.0 - 1e-4), "{place:?}");
}

/// Narrow cuts remove more the deeper they are, 1.2 at most. Full width removes 1.27 at a depth of
/// 1.27, just short of the grid's ninth depth, where it is over; at the eighth the narrow cuts of
/// the ninth seem better.
struct WideRidge;

impl Ground for WideRidge {
    fn worth(&mut self, a_p: f64, a_e: f64, _: f64) -> Worth {
        let q = if a_e <= 0.3 {
            1.2 * (a_p / 3.0).powf(0.2) * a_e / 0.3
        } else if a_p <= 1.27 {
            a_p * a_e
        } else {
            return Worth::Out(1.0 - a_p / 1.27);
        };
        Worth::Cut {
            q,
            n: 1.0,
            f_z: 1.0,
        }
    }
}

#[test]
fn a_ridge_at_full_width_between_two_depths_of_the_grid_is_not_missed() {
    finds(&mut WideRidge, (0.1, 3.0), 1.27);
}

/// All cuts of one area are alike but for a ripple, and a tilt towards as deep as wide.
struct LongRidge;

impl Ground for LongRidge {
    fn worth(&mut self, a_p: f64, a_e: f64, _: f64) -> Worth {
        let area = a_p * a_e;
        if area > 0.1 {
            return Worth::Out(1.0 - area / 0.1);
        }
        let ripple = 0.01 * (12.0 * (a_p / a_e).ln()).cos();
        let tilt = -0.002 * (a_p / a_e).ln().powi(2);
        let q = area * (1.0 + ripple + tilt);
        Worth::Cut {
            q,
            n: 1.0,
            f_z: 1.0,
        }
    }
}

#[test]
fn the_highest_ripple_of_a_ridge_of_one_area_is_found() {
    // As deep as wide, where ripple and tilt are both at their best.
    finds(&mut LongRidge, (0.01, 3.0), 0.1 * 1.01);
}
