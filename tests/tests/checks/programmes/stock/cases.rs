//! Cases of `cases/stock.json`, each put up and asked at the usual cell.

use super::case::Case;
use super::{Bench, arc, flat, level, usual_cell};
use feeds_core::programme::{CoursePiece, StockEnd};
use serde_json::Value;
use std::collections::BTreeSet;
use std::f64::consts::{PI, TAU};

/// A place that is no round number: nothing should run along nodes by chance.
const X: f64 = 0.0123;
const Y: f64 = 0.0371;

fn block(end: StockEnd, least: [f64; 3], most: [f64; 3]) -> Bench {
    Bench::new(end, least, most, usual_cell(&end))
}

#[test]
fn cases_of_the_stock() {
    let all: Vec<Value> =
        serde_json::from_str(include_str!("../../../../cases/stock.json")).unwrap();
    let mut run = BTreeSet::new();
    for case in all {
        let case = Case(case);
        let id = case.id().to_owned();
        match id.trim_start_matches("SIM-").parse::<u32>().unwrap() {
            1..=4 => straight(&case),
            5 => slot(&case),
            6 | 7 => strip(&case),
            8 | 9 => hole(&case),
            10 => boss(&case),
            11 | 12 => inside_corner(&case),
            13..=15 => face(&case),
            16 => crossing(&case),
            17 => trochoid(&case),
            18 => helix_depths(&case),
            19 => helix_volume(&case),
            20 | 21 => slots(&case),
            22 => ring(&case),
            23 => ball_slot(&case),
            24 => ball_rings(&case),
            25 => ridge(&case),
            26 => corner_section(&case),
            27 => plunge(&case),
            30 => spring_pass(&case),
            other => panic!("no case {other}"),
        }
        run.insert(id);
    }
    assert_eq!(run.len(), 28, "all cases of the topic are carried");
}

fn straight(case: &Case) {
    let (r, a_e, a_p) = (
        case.input("D_mm") / 2.0,
        case.input("a_e_mm"),
        case.input("a_p_mm"),
    );
    let up = case.0["setup"].as_str().unwrap().contains("up cut");
    let (low, high) = if up {
        (Y + r - a_e, Y + 9.0)
    } else {
        (Y - 9.0, Y - r + a_e)
    };
    let mut bench = block(flat(r), [-9.0, low, -a_p - 1.0], [9.0, high, 0.0]);
    bench.line([-9.0 - r, Y, -a_p], [X - 0.05, Y, -a_p]);
    case.met(bench.look_along([X, Y, -a_p], 0.0));
}

fn slot(case: &Case) {
    let (r, a_p) = (case.input("D_mm") / 2.0, case.input("a_p_mm"));
    for heading in [0.0, 0.7, 2.1] {
        let mut bench = block(flat(r), [-9.0, -9.0, -4.0], [9.0, 9.0, 0.0]);
        let at = |s: f64| [X + s * f64::cos(heading), Y + s * f64::sin(heading), -a_p];
        bench.line(at(-4.0), at(-0.05));
        case.met(bench.look_along(at(0.0), heading));
    }
}

fn strip(case: &Case) {
    let (low, high) = (case.input("y_low_mm"), case.input("y_high_mm"));
    let r = case.input("R_mm");
    let mut bench = block(flat(r), [-9.0, Y + low, -2.0], [12.0, Y + high, 0.0]);
    bench.line([-15.0, Y, -1.0], [X - 0.05, Y, -1.0]);
    case.met(bench.look_along([X, Y, -1.0], 0.0));
}

/// A circle of radius r0, then most of one of r1; looks half a step ahead of it.
fn circles(case: &Case) -> Bench {
    let (r, r0, r1) = (case.input("R_mm"), case.input("r0_mm"), case.input("r1_mm"));
    let side = r0.max(r1) + r + 1.0;
    let mut bench = block(flat(r), [-side, -side, -3.0], [side, side, 0.0]);
    for piece in arc([X, Y], r0, 0.0, TAU, [-2.0, -2.0]) {
        bench.cut(&piece);
    }
    let to = 1.9;
    for piece in arc([X, Y], r1, 0.0, to - 0.05 / r1, [-2.0, -2.0]) {
        bench.cut(&piece);
    }
    let at = [X + r1 * f64::cos(to), Y + r1 * f64::sin(to), -2.0];
    case.met(bench.look_along(at, to + PI / 2.0));
    bench
}

fn hole(case: &Case) {
    let mut bench = circles(case);
    let r1 = case.input("r1_mm");
    let at = [X + r1 * f64::cos(1.9), Y + r1 * f64::sin(1.9), -2.0];
    let met = bench.look_along(at, 1.9 + PI / 2.0);
    assert!(
        (met.spans[0].exit - PI).abs() < 1e-6,
        "the wall is on the right"
    );
}

fn boss(case: &Case) {
    let mut bench = circles(case);
    let r1 = case.input("r1_mm");
    let at = [X + r1 * f64::cos(1.9), Y + r1 * f64::sin(1.9), -2.0];
    let met = bench.look_along(at, 1.9 + PI / 2.0);
    assert!(
        met.spans[0].start.abs() < 1e-6,
        "the boss is on the left: {met:?}"
    );
}

fn inside_corner(case: &Case) {
    let (r, a_e, g) = (case.input("R_mm"), case.input("a_e_mm"), case.input("g_mm"));
    let mut bench = block(flat(r), [-7.0, -7.0, -3.0], [7.0, 7.0, 0.0]);
    // A small cutter clears all before the wall ahead and left of the face on the right.
    let small = flat(0.3);
    let (wall, right) = (X + g - 0.3, Y - r + a_e + 0.3);
    let mut clear = |from: [f64; 2], to: [f64; 2]| {
        let at = |p: [f64; 2]| [p[0], p[1], -2.0];
        bench
            .stock
            .remove(&CoursePiece::line(at(from), at(to)), &small);
    };
    for k in 0..21_i32 {
        let y = right + 0.47 * f64::from(k);
        clear([-8.0, y], [wall, y]);
    }
    clear([wall, right], [wall, 8.0]);
    bench.line([X - 3.0, Y, -2.0], [X - 0.05, Y, -2.0]);
    case.met(bench.look_along([X, Y, -2.0], 0.0));
}

fn face(case: &Case) {
    let (r, s) = (case.input("R_mm"), case.input("s_mm"));
    let out = case.0["setup"].as_str().unwrap().contains("runs out of");
    if out {
        let mut bench = block(flat(r), [-9.0, -9.0, -3.0], [X, 9.0, 0.0]);
        bench.line([-6.0, Y, -2.0], [X + s - 0.05, Y, -2.0]);
        case.met(bench.look_along([X + s, Y, -2.0], 0.0));
        return;
    }
    let mut bench = block(flat(r), [X, -9.0, -3.0], [9.0, 9.0, 0.0]);
    if case.0["inputs"]["a_deg"].is_number() {
        // The normal points along +X, to the left of the feed.
        let a = case.input("a_deg").to_radians();
        case.met(bench.look_along([X - s, Y, -2.0], -a));
    } else {
        case.met(bench.look_along([X + s, Y, -2.0], 0.0));
    }
}

fn crossing(case: &Case) {
    let (r, s) = (case.input("R_mm"), case.input("s_mm"));
    let mut bench = block(flat(r), [-9.0, -9.0, -3.0], [9.0, 9.0, 0.0]);
    bench.line([X, -7.0, -2.0], [X, 7.0, -2.0]);
    bench.line([-6.0, Y, -2.0], [X + s - 0.05, Y, -2.0]);
    case.met(bench.look_along([X + s, Y, -2.0], 0.0));
}

fn trochoid(case: &Case) {
    let (r, rho, s) = (case.input("R_mm"), case.input("rho_mm"), case.input("s_mm"));
    let mut bench = block(flat(r), [-5.0, -5.0, -3.0], [6.0, 5.0, 0.0]);
    for k in 0..5_i32 {
        for piece in arc([X + s * f64::from(k), Y], rho, PI, TAU, [-2.0, -2.0]) {
            bench.cut(&piece);
        }
    }
    let o = X + s * 5.0;
    for piece in arc([o, Y], rho, PI, PI - 0.05, [-2.0, -2.0]) {
        bench.cut(&piece);
    }
    case.met(bench.look_along([o + rho, Y, -2.0], PI / 2.0));
}

/// Depth of the side cut of a helix at an angle of the front.
fn helix_depth(r: f64, rho: f64, pitch: f64, phi: f64) -> f64 {
    let p = (rho * rho + r * r - 2.0 * rho * r * phi.cos()).sqrt();
    pitch * (1.0 - ((rho - r * phi.cos()) / p).clamp(-1.0, 1.0).acos() / PI)
}

fn helix_depths(case: &Case) {
    let (r, rho, pitch) = (case.input("R_mm"), case.input("rho_mm"), case.input("P_mm"));
    let angles = case.0["inputs"]["phi_deg"].as_array().unwrap();
    let depths = case.0["outputs"]["a_p_mm"].as_array().unwrap();
    let allowed = case.0["tolerance"]["a_p_mm"]["of_P"].as_f64().unwrap() * pitch;
    // ∫ a_p R sin φ dφ by the same closed form
    let n = 20_000;
    let part = |k: i32| {
        let phi = PI * (f64::from(k) + 0.5) / f64::from(n);
        helix_depth(r, rho, pitch, phi) * r * phi.sin() * PI / f64::from(n)
    };
    let section: f64 = (0..n).map(part).sum();
    let mut bench = block(flat(r), [-4.0, -4.0, -5.0], [4.0, 4.0, 0.0]);
    let pieces = arc([X, Y], rho, 0.3, 4.0 * TAU, [0.0, -4.0 * pitch]);
    for (k, piece) in pieces.iter().enumerate() {
        if k > 50 {
            let station = piece.station(0.5);
            let [cos, sin] = station.ahead;
            for (angle, depth) in angles.iter().zip(depths) {
                let (s, c) = angle.as_f64().unwrap().to_radians().sin_cos();
                let x = station.at[0] + r * (s * cos - c * sin);
                let y = station.at[1] + r * (s * sin + c * cos);
                let got = bench.stock.height(x, y) - station.at[2];
                let expected = depth.as_f64().unwrap();

                assert!(
                    (got - expected).abs() <= allowed,
                    "{angle}: {got} for {expected}"
                );
            }
            let met = bench.look(&station);
            // No deeper than one turn goes down, though its own wall stands to the top.
            assert!(met.depth_mm < 1.02 * pitch, "{k}: {met:?}");
            assert!(
                (met.section_mm2 / section - 1.0).abs() < 0.02,
                "{k}: {met:?} {section}"
            );
            assert!(met.plunges);
        }
        bench.cut(piece);
    }
}

/// The same helix as an audit follows it, in steps of two cells: its own wall, the front just made
/// and the floor of the turn before meet in every other cell beside the wall.
#[test]
fn a_helix_is_followed_without_its_own_wall() {
    let (r, rho, pitch) = (1.5, 0.9, 0.3);
    let n = 20_000;
    let part = |k: i32| {
        let phi = PI * (f64::from(k) + 0.5) / f64::from(n);
        helix_depth(r, rho, pitch, phi) * r * phi.sin() * PI / f64::from(n)
    };
    let section: f64 = (0..n).map(part).sum();
    let mut bench = block(flat(r), [-4.0, -4.0, -5.0], [4.0, 4.0, 0.0]);
    let (mut looks, mut sum) = (0.0, 0.0);
    for (k, piece) in arc([X, Y], rho, 0.3, 4.0 * TAU, [0.0, -4.0 * pitch])
        .iter()
        .enumerate()
    {
        let Bench { stock, end, fan } = &mut bench;
        stock.follow(piece, end, fan, 0.1, |_, met| {
            if k > 30 {
                assert!(met.depth_mm < 1.1 * pitch, "{met:?}");
                assert!(
                    (met.section_mm2 / section - 1.0).abs() < 0.05,
                    "{met:?} {section}"
                );
                looks += 1.0;
                sum += met.section_mm2;
            }
        });
    }
    assert!(
        looks > 100.0 && (sum / looks / section - 1.0).abs() < 0.02,
        "{} {section}",
        sum / looks
    );
}

fn helix_volume(case: &Case) {
    let (r, rho, depth) = (
        case.input("R_mm"),
        case.input("rho_mm"),
        case.input("depth_mm"),
    );
    let mut bench = block(flat(r), [-4.0, -4.0, -5.0], [4.0, 4.0, 0.0]);
    let mut removed = 0.0;
    for piece in arc([X, Y], rho, 0.3, 4.0 * TAU, [0.0, -depth]) {
        removed += bench.cut(&piece);
    }
    for piece in arc([X, Y], rho, 0.3, TAU, [-depth, -depth]) {
        removed += bench.cut(&piece);
    }
    case.near("volume_mm3", "volume", removed);
}

fn slots(case: &Case) {
    let (r, long, a_p) = (case.input("R_mm"), case.input("L_mm"), case.input("a_p_mm"));
    for heading in [0.0, 0.35_f64] {
        let mut bench = block(flat(r), [-13.0, -13.0, -4.0], [13.0, 13.0, 0.0]);
        let (sin, cos) = heading.sin_cos();
        let at = |s: f64, b: f64| [X + s * cos - b * sin, Y + s * sin + b * cos, -a_p];
        let mut removed = bench.line(at(-0.5 * long, 0.0), at(0.5 * long, 0.0));
        if let Some(b) = case.0["inputs"]["b_mm"].as_f64() {
            removed = bench.line(at(-0.5 * long, b), at(0.5 * long, b));
        }
        case.near("volume_mm3", "volume", removed);
    }
}

fn ring(case: &Case) {
    let (r, rho, a_p) = (
        case.input("R_mm"),
        case.input("rho_mm"),
        case.input("a_p_mm"),
    );
    let mut bench = block(flat(r), [-7.0, -7.0, -4.0], [7.0, 7.0, 0.0]);
    let pieces = arc([X, Y], rho, 0.3, TAU, [-a_p, -a_p]);
    let removed = pieces.iter().map(|p| bench.cut(p)).sum();
    case.near("volume_mm3", "volume", removed);
}

fn ball(r: f64) -> StockEnd {
    StockEnd {
        radius_mm: r,
        corner_mm: r,
    }
}

fn ball_slot(case: &Case) {
    let (r, a, long) = (case.input("R_mm"), case.input("a_mm"), case.input("L_mm"));
    let mut bench = block(ball(r), [-13.0, -13.0, -4.0], [13.0, 13.0, 0.0]);
    let at = |s: f64| [X + s * f64::cos(0.35), Y + s * f64::sin(0.35), -a];
    let removed = bench.line(at(-0.5 * long), at(0.5 * long));
    case.near("volume_mm3", "volume", removed);
}

/// The rings of a look lie at heights of their own, so the formula is asked at these, and the depth
/// is chosen so that one of them is the height of the case.
fn ball_rings(case: &Case) {
    let (r, b) = (case.input("R_mm"), case.input("b_mm"));
    let formula = |l: f64| {
        let q = (2.0 * r * l - l * l).sqrt();
        if q <= 0.5 * b {
            180.0
        } else {
            180.0 - (b / q - 1.0).acos().to_degrees()
        }
    };
    let heights = case.0["inputs"]["l_mm"].as_array().unwrap();
    let arcs = case.0["outputs"]["arc_deg"].as_array().unwrap();
    let allowed = case.0["tolerance"]["arc_deg"].as_f64().unwrap();
    for (l, arc) in heights.iter().zip(arcs) {
        let (l, expected) = (l.as_f64().unwrap(), arc.as_f64().unwrap());
        assert!(
            (formula(l) - expected).abs() < 1e-5,
            "the formula is that of the case"
        );
        // Ring 5 of 8 has its middle half way between the heights at 5/8 and 6/8 of the radius.
        let (mut low, mut high) = (0.0, 0.9 * r);
        for _ in 0..60 {
            let a = f64::midpoint(low, high);
            let outer = (2.0 * r * a - a * a).sqrt();
            let lift = |share: f64| r - (r * r - (share * outer).powi(2)).sqrt();
            if f64::midpoint(lift(0.625), lift(0.75)) < l {
                low = a;
            } else {
                high = a;
            }
        }
        let a = low;
        let mut bench = block(ball(r), [-7.0, -4.0, -4.0], [7.0, 4.0, 0.0]);
        let (sin, cos) = 0.3_f64.sin_cos();
        let at = |s: f64, v: f64| [X + s * cos - v * sin, Y + s * sin + v * cos, -a];
        bench.line(at(-5.0, b), at(5.0, b));
        bench.line(at(-5.0, 2.0 * b), at(5.0, 2.0 * b));
        bench.line(at(-5.0, 0.0), at(-0.05, 0.0));
        let met = bench.look_along(at(0.0, 0.0), 0.3);
        assert_eq!(met.rings.len(), 8);
        let ring = &met.rings[5];
        let middle = f64::midpoint(ring.low_mm, ring.high_mm);
        assert!((middle / l - 1.0).abs() < 0.02, "{middle} {l}");
        let got = ring.arc().to_degrees();
        assert!((got - formula(middle)).abs() <= allowed, "l {l}: {got}");
        for ring in &met.rings {
            let middle = f64::midpoint(ring.low_mm, ring.high_mm);
            // Lower rings meet the groove so flatly that 0.2 µm is more than is allowed.
            let q = (2.0 * r * middle - middle * middle).sqrt();
            if q < 1.1 * b {
                continue;
            }
            let got = ring.arc().to_degrees();
            assert!(
                (got - formula(middle)).abs() <= allowed,
                "a {a} l {middle}: {got}"
            );
        }
    }
}

/// A crest between nodes looks lower by up to its slope times half a cell: at 50 µm that is
/// 0.1 · 25 = 2.5 µm, so the tolerance of the case asks for cells of 10 µm.
fn ridge(case: &Case) {
    let (r, b) = (case.input("R_mm"), case.input("b_mm"));
    let crest = |cell: f64| {
        let mut bench = Bench::new(ball(r), [-3.0, -3.0, -4.0], [3.0, 3.0, 0.0], cell);
        let (sin, cos) = 0.3_f64.sin_cos();
        let at = |s: f64, v: f64| [X + s * cos - v * sin, Y + s * sin + v * cos, -0.25];
        for v in [0.0, b] {
            bench.line(at(-3.0, v), at(3.0, v));
        }
        let heights = (0..200_i32).map(|k| {
            let p = at(-1.5 + 0.015 * f64::from(k), 0.5 * b);
            bench.stock.height(p[0], p[1]) + 0.25
        });
        let (sum, n) = heights.fold((0.0, 0.0), |(sum, n), h| (sum + h, n + 1.0));
        sum / n * 1e3
    };
    case.near("height_um", "height_um", crest(0.01));
    let expected = case.0["outputs"]["height_um"].as_f64().unwrap();
    assert!((crest(0.05) - expected).abs() < 2.5, "{}", crest(0.05));
}

fn corner_section(case: &Case) {
    let end = StockEnd {
        radius_mm: case.input("D_mm") / 2.0,
        corner_mm: case.input("r_e_mm"),
    };
    let a = case.input("a_mm");
    // Two slots of different length: their difference is free of the ends.
    let volume = |long: f64| {
        let mut bench = block(end, [-12.0, -12.0, -4.0], [12.0, 12.0, 0.0]);
        let at = |s: f64| [X + s * f64::cos(0.35), Y + s * f64::sin(0.35), -a];
        bench.line(at(-0.5 * long), at(0.5 * long))
    };
    case.near(
        "section_mm2",
        "section",
        (volume(15.0) - volume(5.0)) / 10.0,
    );
    let mut bench = block(end, [-12.0, -12.0, -4.0], [12.0, 12.0, 0.0]);
    let met = bench.look_along([X, Y, -a], 0.4);
    // Rings are steps: the spandrels are known to a twentieth.
    let expected = case.0["outputs"]["section_mm2"].as_f64().unwrap();
    assert!(
        (met.section_mm2 - expected).abs() < 0.05 * 0.1073,
        "{}",
        met.section_mm2
    );
}

fn plunge(case: &Case) {
    let (r, a) = (case.input("R_mm"), case.input("a_mm"));
    let mut bench = block(flat(r), [-4.0, -4.0, -4.0], [4.0, 4.0, 0.0]);
    let piece = CoursePiece::line([X, Y, 1.0], [X, Y, -a]);
    let met = bench.look(&piece.station(0.9));
    assert!(met.plunges && met.spans.is_empty());
    let share = met.end_share;
    case.near("end_share", "end_share", share);
    let removed = bench.cut(&piece);
    case.near("volume_mm3", "volume", removed);
    let up = CoursePiece::line([X, Y, -a], [X, Y, 1.0]);
    assert!(!bench.look(&up.station(0.5)).plunges);
    assert!(bench.cut(&up).abs() < 1e-9, "going up removes nothing");
}

fn spring_pass(case: &Case) {
    let r = case.input("R_mm");
    for heading in [0.0, 0.43, 2.0] {
        let mut bench = block(flat(r), [-7.0, -7.0, -4.0], [7.0, 7.0, 0.0]);
        let at = |s: f64| [X + s * f64::cos(heading), Y + s * f64::sin(heading), -2.0];
        bench.line(at(-4.0), at(4.0));
        for k in 0..100_i32 {
            let met = bench.look(&level(at(-3.0 + 0.06 * f64::from(k)), heading));
            case.near("a_e_um", "a_e_um", met.radial_width_mm() * 1e3);
        }
        assert!(bench.line(at(-4.0), at(4.0)).abs() < 1e-9);
    }
}
