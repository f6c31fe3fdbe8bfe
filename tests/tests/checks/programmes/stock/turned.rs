//! What a few lines leave of a block, turned and mirrored in eight ways: every height by the
//! distance from the lines, and every front by the arc that the same lines leave of a circle.

use super::{Bench, flat};
use feeds_core::programme::{CourseStation, StockEnd};
use std::f64::consts::PI;

/// Turned by quarters, and mirrored in X first if so.
pub(super) fn turned([x, y]: [f64; 2], way: u32) -> [f64; 2] {
    let [x, y] = if way >= 4 { [-x, y] } else { [x, y] };
    match way % 4 {
        0 => [x, y],
        1 => [-y, x],
        2 => [-x, -y],
        _ => [y, -x],
    }
}

/// Distance of a place from a line between two others, and the height on it there.
fn away(at: [f64; 2], from: [f64; 3], to: [f64; 3]) -> (f64, f64) {
    let [u, v] = [0, 1].map(|i| to[i] - from[i]);
    let along = (at[0] - from[0]) * u + (at[1] - from[1]) * v;
    let share = (along / (u * u + v * v)).clamp(0.0, 1.0);
    let foot = [from[0] + share * u, from[1] + share * v];
    let far = (at[0] - foot[0]).hypot(at[1] - foot[1]);
    (far, from[2] + share * (to[2] - from[2]))
}

/// Lines at a level each, in a block of 12 by 12 mm from -4 mm up to 0.
const LINES: [[[f64; 3]; 2]; 4] = [
    [[-8.0, -3.3, -1.0], [8.0, -3.3, -1.0]],
    [[2.7, -8.0, -1.6], [2.7, 3.1, -1.6]],
    [[-7.0, 1.2, -0.4], [1.0, 5.0, -0.4]],
    [[-3.9, -1.7, -2.1], [0.3, 0.8, -2.1]],
];

const CELL: f64 = 0.1;
const RADIUS: f64 = 1.5;

fn bench(end: StockEnd, way: u32) -> (Bench, f64) {
    let mut bench = Bench::new(end, [-6.0, -6.0, -4.0], [6.0, 6.0, 0.0], CELL);
    let mut removed = 0.0;
    for [from, to] in LINES {
        let [a, b] = [from, to].map(|[x, y, z]| {
            let [x, y] = turned([x, y], way);
            [x, y, z]
        });
        removed += bench.line(a, b);
    }
    (bench, removed)
}

/// Height left by a flat end or a ball of 1.5 mm; none where a wall or a steep flank is within two
/// cells.
fn left(at: [f64; 2], ball: bool) -> Option<f64> {
    let mut height: f64 = 0.0;
    for [from, to] in LINES {
        let (far, z) = away(at, from, to);
        if (far - RADIUS).abs() < 2.0 * CELL || ball && far > 0.7 * RADIUS && far < RADIUS {
            return None;
        }
        if far < RADIUS {
            let up = if ball {
                RADIUS - (RADIUS * RADIUS - far * far).sqrt()
            } else {
                0.0
            };
            height = height.min(z + up);
        }
    }
    Some(height)
}

#[test]
fn heights_are_those_of_the_lines_whichever_way_they_run() {
    for ball in [false, true] {
        let end = StockEnd {
            radius_mm: RADIUS,
            corner_mm: if ball { RADIUS } else { 0.0 },
        };
        let mut volumes = Vec::new();
        for way in 0..8 {
            let (bench, removed) = bench(end, way);
            let (mut all, mut cut) = (0, 0);
            for (i, j) in (0..47).flat_map(|i| (0..47).map(move |j| (i, j))) {
                let at = [i, j].map(|k| -5.77 + 0.25 * f64::from(k));
                let Some(height) = left(at, ball) else {
                    continue;
                };
                let [x, y] = turned(at, way);
                let got = bench.stock.height(x, y);
                // Between two nodes a circle of 1.5 mm is off its chord by up to 2 µm where its
                // flank is 45° steep, and two flanks meet in a crest within a cell.
                let within = if ball { 0.02 } else { 1e-5 };
                assert!(
                    (got - height).abs() < within,
                    "{got} is not {height} at {at:?}, {way}, ball {ball}"
                );
                all += 1;
                cut += usize::from(height < 0.0);
            }
            assert!(all > 600 && cut > 200, "{all} {cut}");
            volumes.push(removed);
            // Volumes hold within 0.06 % (README of the tests).
            let left = bench.stock.volume_mm3();
            assert!(
                (left + removed - 576.0).abs() < 6e-4 * removed,
                "{left} and {removed}"
            );
        }
        // The same stock is taken, however it lies.
        for volume in &volumes {
            assert!((volume / volumes[0] - 1.0).abs() < 1e-3, "{volumes:?}");
        }
    }
}

/// One line along a block's middle, and a second beside it at a step: the front of the second is
/// the arc acos(1 − step/R) on the side of the stock, whichever way it runs.
#[test]
fn a_front_is_the_same_whichever_way_it_runs() {
    for (step, right) in [
        (0.4, false),
        (0.4, true),
        (1.1, false),
        (1.5, true),
        (2.2, false),
    ] {
        let arc = (1.0 - step / RADIUS).acos();
        for way in 0..8 {
            let mut bench = Bench::new(flat(RADIUS), [-6.0, -6.0, -4.0], [6.0, 6.0, 0.0], 0.05);
            // The stock beside the first line, on the left or on the right of it.
            let side = if right { -1.0 } else { 1.0 };
            let place = |[x, y]: [f64; 2], z: f64| {
                let [x, y] = turned([x, side * y], way);
                [x, y, z]
            };
            bench.line(place([-9.0, 0.0], -1.0), place([9.0, 0.0], -1.0));
            // A line of a programme is looked at before it is cut.
            let [ax, ay] = turned([1.0, 0.0], way);
            let station = CourseStation {
                at: place([0.13, step], -1.0),
                ahead: [ax, ay],
                slope: 0.0,
                along_mm: 0.0,
            };
            let met = bench.look(&station).clone();
            let [span] = &met.spans[..] else {
                panic!("{step} {way}: {met:?}")
            };
            assert!((met.arc() - arc).abs() < 0.01, "{step} {way}: {met:?}");
            assert!((met.depth_mm - 1.0).abs() < 1e-4, "{met:?}");
            assert!(
                (met.radial_width_mm() - step).abs() < 0.01,
                "{step} {way}: {met:?}"
            );
            // Angles run from the left of the feed to its right: a mirror swaps the ends.
            let stock_left = right == (way >= 4);
            let (start, exit) = if stock_left {
                (0.0, arc)
            } else {
                (PI - arc, PI)
            };
            assert!(
                (span.start - start).abs() < 0.01 && (span.exit - exit).abs() < 0.01,
                "{step} {way} {right}: {span:?} is not {start} to {exit}"
            );
            assert!(
                (span.depth_mm - 1.0).abs() < 1e-4 && !met.plunges,
                "{met:?}"
            );
            assert!(
                met.rings.is_empty() && met.end_share.abs() < 1e-2,
                "{met:?}"
            );
        }
    }
}
