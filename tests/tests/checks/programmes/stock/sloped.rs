//! What ramps, arcs and helices leave of a block, turned and mirrored in eight ways: every height
//! by the lowest of the cutter's end over its way, looked at in small steps.

use super::turned::turned;
use super::{Bench, arc};
use feeds_core::programme::{CourseArc, CoursePiece, StockEnd};
use std::f64::consts::PI;

const CELL: f64 = 0.1;
const RADIUS: f64 = 1.5;
/// Steps of a piece.
const STEPS: u32 = 60;

/// A ramp down and a level way back, half a turn of a helix, and a level arc the other way round.
fn pieces() -> Vec<CoursePiece> {
    let mut all = vec![
        CoursePiece::line([-7.0, -4.0, 0.3], [4.2, -2.2, -1.3]),
        CoursePiece::line([4.2, -2.2, -1.3], [5.1, 3.4, -0.9]),
    ];
    all.extend(arc([-1.5, 2.0], 1.9, 0.3, 1.2 * PI, [-0.2, -1.7]));
    all.extend(arc([2.5, 4.5], 2.6, 2.4, -0.9 * PI, [-1.1, -1.1]));
    all
}

/// Where the axis stands at a share of a piece.
fn place(piece: &CoursePiece, share: f64) -> [f64; 3] {
    let z = piece.from[2] + share * (piece.to[2] - piece.from[2]);
    let Some(CourseArc { centre, sweep }) = piece.arc else {
        let [x, y] = [0, 1].map(|i| piece.from[i] + share * (piece.to[i] - piece.from[i]));
        return [x, y, z];
    };
    let [u, v] = [0, 1].map(|i| piece.from[i] - centre[i]);
    let (sin, cos) = (sweep * share).sin_cos();
    [
        centre[0] + u * cos - v * sin,
        centre[1] + u * sin + v * cos,
        z,
    ]
}

/// How far the end of a cutter stands above its tip, so far from its axis.
fn lift(far: f64, corner: f64) -> f64 {
    let beyond = far - (RADIUS - corner);
    if beyond <= 0.0 {
        0.0
    } else {
        corner - (corner * corner - beyond * beyond).max(0.0).sqrt()
    }
}

/// Height left, and how much it changes within a cell and a half: at a wall by all of its depth.
fn left(at: [f64; 2], path: &[[f64; 3]], corner: f64) -> (f64, f64) {
    let height = |off: f64| {
        let each = path.iter().filter_map(|[x, y, z]| {
            let far = ((at[0] - x).hypot(at[1] - y) + off).max(0.0);
            (far < RADIUS).then(|| z + lift(far, corner))
        });
        each.fold(0.0, f64::min)
    };
    let near = 1.5 * CELL;
    (height(0.0), height(near) - height(-near))
}

#[test]
fn heights_are_those_of_ramps_arcs_and_helices_whichever_way_they_run() {
    let path: Vec<[f64; 3]> = pieces()
        .iter()
        .flat_map(|piece| {
            let shares = (0..=STEPS).map(|k| f64::from(k) / f64::from(STEPS));
            shares
                .map(move |share| place(piece, share))
                .collect::<Vec<_>>()
        })
        .collect();
    let places = (0..24).flat_map(|i| (0..24).map(move |j| [i, j]));
    let places: Vec<[f64; 2]> = places
        .map(|at| at.map(|k| -5.77 + 0.5 * f64::from(k)))
        .collect();
    for corner in [0.0, 0.5, RADIUS] {
        let expected: Vec<([f64; 2], f64)> = places
            .iter()
            .filter_map(|at| {
                let (height, steep) = left(*at, &path, corner);
                (steep < 0.1).then_some((*at, height))
            })
            .collect();
        let cut = expected.iter().filter(|(_, height)| *height < -0.1).count();
        assert!(expected.len() > 150 && cut > 25, "{} {cut}", expected.len());
        let end = StockEnd {
            radius_mm: RADIUS,
            corner_mm: corner,
        };
        for way in 0..8 {
            let mut bench = Bench::new(end, [-6.0, -6.0, -4.0], [6.0, 6.0, 0.0], CELL);
            let mut removed = 0.0;
            for piece in pieces() {
                let [from, to] = [piece.from, piece.to].map(|[x, y, z]| {
                    let [x, y] = turned([x, y], way);
                    [x, y, z]
                });
                let arc = piece.arc.map(|CourseArc { centre, sweep }| CourseArc {
                    centre: turned(centre, way),
                    sweep: if way >= 4 { -sweep } else { sweep },
                });
                removed += bench.cut(&CoursePiece {
                    arc,
                    ..CoursePiece::line(from, to)
                });
            }
            for (at, height) in &expected {
                let [x, y] = turned(*at, way);
                let got = bench.stock.height(x, y);
                // A crest between two flanks lies within a cell.
                assert!(
                    (got - height).abs() < 0.03,
                    "{got} is not {height} at {at:?}, {way}, corner {corner}"
                );
            }
            // What is gone is what is missing.
            let left = bench.stock.volume_mm3();
            assert!(
                (left + removed - 576.0).abs() < 2e-3 * removed,
                "{left} and {removed}, {way}, corner {corner}"
            );
        }
    }
}
