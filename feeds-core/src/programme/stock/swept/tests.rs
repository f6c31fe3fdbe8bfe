//! What is swept, row by row, against the definition: all places no farther from the way than the
//! radius. The distance is that of a place from a line or a circle, as in any textbook of plane
//! geometry.

use super::super::{Bounds, StockShape};
use super::*;
use crate::kernel::seed::Seed;
use crate::programme::stock::CourseArc;
use std::f64::consts::{PI, TAU};

/// Cells of 0.1 mm; the first node lies beside the block.
pub(in crate::programme::stock) fn field() -> StockField {
    let block = Bounds {
        least: [0.0, 0.0, -2.0],
        most: [7.0, 5.0, 0.0],
    };
    StockField::new(&StockShape::Block(block), 0.1, 1_000_000).unwrap()
}

/// A line in any direction, along an axis, or straight down; or an arc either way round, some of
/// them tighter than the cutter.
pub(in crate::programme::stock) fn drawn(seed: &mut Seed) -> CoursePiece {
    let from = [seed.between(1.0, 6.0), seed.between(1.0, 4.0), -1.0];
    let kind = seed.bits() % 8;
    if kind < 4 {
        let to = [seed.between(1.0, 6.0), seed.between(1.0, 4.0), -1.0];
        let to = match kind {
            0 => [to[0], from[1], -1.0],
            1 => [from[0], to[1], -1.0],
            _ if seed.unit() < 0.1 => [from[0], from[1], -1.5],
            _ => to,
        };
        return CoursePiece::line(from, to);
    }
    let rho = seed.between(0.2, 3.0);
    let (first, sweep) = (seed.between(0.0, TAU), seed.between(0.05, PI / 6.0));
    let sweep = if kind < 6 { sweep } else { -sweep };
    let centre = [from[0] - rho * first.cos(), from[1] - rho * first.sin()];
    let last = first + sweep;
    let to = [
        centre[0] + rho * last.cos(),
        centre[1] + rho * last.sin(),
        -1.0,
    ];
    CoursePiece {
        arc: Some(CourseArc { centre, sweep }),
        ..CoursePiece::line(from, to)
    }
}

/// How far a place is from the way of a piece, mm.
pub(in crate::programme::stock) fn away(piece: &CoursePiece, p: [f64; 2]) -> f64 {
    let apart = |q: [f64; 3]| (p[0] - q[0]).hypot(p[1] - q[1]);
    let ends = apart(piece.from).min(apart(piece.to));
    if let Some(arc) = piece.arc {
        let [o, q] = arc.centre;
        let turned = (p[1] - q).atan2(p[0] - o) - (piece.from[1] - q).atan2(piece.from[0] - o);
        let turned = (turned * arc.sweep.signum()).rem_euclid(TAU);
        let rho = (piece.from[0] - o).hypot(piece.from[1] - q);
        let beside = ((p[0] - o).hypot(p[1] - q) - rho).abs();
        return if turned <= arc.sweep.abs() {
            beside.min(ends)
        } else {
            ends
        };
    }
    let d = [piece.to[0] - piece.from[0], piece.to[1] - piece.from[1]];
    let long = d[0] * d[0] + d[1] * d[1];
    if long == 0.0 {
        return ends;
    }
    let v = [p[0] - piece.from[0], p[1] - piece.from[1]];
    let share = ((v[0] * d[0] + v[1] * d[1]) / long).clamp(0.0, 1.0);
    (v[0] - share * d[0]).hypot(v[1] - share * d[1])
}

/// A place in cells as one in mm, the axes changed if so.
fn in_mm(field: &StockField, [x, y]: [f64; 2], turned: bool) -> [f64; 2] {
    let [x, y] = if turned { [y, x] } else { [x, y] };
    [
        field.start[0] + x * field.cell,
        field.start[1] + y * field.cell,
    ]
}

#[test]
fn a_row_lies_inside_where_the_way_is_no_farther_than_the_radius() {
    let (field, mut seed) = (field(), Seed::new(5));
    let mut inside_seen = [0; 2];
    for _ in 0..250 {
        let (piece, r) = (drawn(&mut seed), seed.between(0.15, 1.2));
        for turned in [false, true] {
            let swept = Swept::of(&field, &piece, r, turned);
            let (least, most) = swept.bounds();
            let (low, high) = (least[1] - 1.0, most[1] + 1.0);
            for k in 0..14 {
                let y = low + (high - low) * (f64::from(k) + seed.unit()) / 14.0;
                let row = swept.row(y);
                for pair in row.list().windows(2) {
                    assert!(pair[0].1 < pair[1].0, "{piece:?}: {row:?}");
                }
                let (first, last) = (least[0] - 1.0, most[0] + 1.0);
                for m in 0..60 {
                    let x = first + (last - first) * (f64::from(m) + seed.unit()) / 60.0;
                    let far = away(&piece, in_mm(&field, [x, y], turned)) - r;
                    if far.abs() < 1e-7 {
                        continue;
                    }
                    let is = row.list().iter().any(|(a, b)| *a <= x && x <= *b);
                    inside_seen[usize::from(is)] += 1;
                    assert_eq!(is, far < 0.0, "{piece:?} {r} {turned} {x} {y}: {row:?}");
                }
            }
        }
    }
    assert!(
        inside_seen[0] > 50_000 && inside_seen[1] > 50_000,
        "{inside_seen:?}"
    );
}

/// The ends of each interval lie at the radius from the way, so that a wall is put where it is.
#[test]
fn the_ends_of_a_row_lie_at_the_radius() {
    let (field, mut seed) = (field(), Seed::new(6));
    for _ in 0..400 {
        let (piece, r) = (drawn(&mut seed), seed.between(0.15, 1.2));
        for turned in [false, true] {
            let swept = Swept::of(&field, &piece, r, turned);
            let (least, most) = swept.bounds();
            for k in 0..8 {
                let y = least[1] + (most[1] - least[1]) * (f64::from(k) + seed.unit()) / 8.0;
                for x in swept.row(y).list().iter().flat_map(|(a, b)| [*a, *b]) {
                    let far = away(&piece, in_mm(&field, [x, y], turned));
                    assert!((far - r).abs() < 1e-6, "{piece:?} {r}: {far}");
                }
            }
        }
    }
}

/// The rows of a line, found all at once, are those found one by one; so is the circle at the
/// start, also where it is the one at the end of the line before.
#[test]
fn rows_found_at_once_are_those_found_one_by_one() {
    let (field, mut seed) = (field(), Seed::new(7));
    let mut spans = RowSpans::default();
    let mut at = [3.0, 2.0, -1.0];
    let mut r = 0.5;
    for k in 0..600 {
        if k % 7 == 0 {
            r = seed.between(0.15, 1.2);
        }
        if k % 5 == 0 {
            at = [seed.between(1.0, 6.0), seed.between(1.0, 4.0), -1.0];
        }
        let to = [seed.between(1.0, 6.0), seed.between(1.0, 4.0), -1.0];
        let turned = k % 11 == 0;
        let swept = Swept::of(&field, &CoursePiece::line(at, to), r, turned);
        let (least, most) = swept.bounds();
        let from = super::super::cells::whole(least[1] + seed.between(-3.0, 5.0));
        let last = super::super::cells::whole(most[1] + seed.between(-5.0, 3.0)).max(from);
        assert!(
            swept.rows((from, last), &mut spans),
            "a line has its rows at once"
        );
        assert_eq!(spans.list.len(), last - from);
        for (row, span) in (from..last).zip(&spans.list) {
            let y = super::super::cells::count(row);
            let same = |a: f64, b: f64| (a - b).abs() < 1e-9;
            match swept.row(y).list() {
                [] => assert!(span.low > span.high, "{span:?}"),
                [(low, high)] => {
                    assert!(same(span.low, *low) && same(span.high, *high), "{span:?}");
                }
                more => panic!("a line has one interval a row: {more:?}"),
            }
            match swept.start_disc(y) {
                None => assert!(span.disc.0 > span.disc.1, "{span:?}"),
                Some((p, q)) => assert!(same(span.disc.0, p) && same(span.disc.1, q), "{span:?}"),
            }
        }
        at = to;
    }
    let arc = CoursePiece {
        arc: Some(CourseArc {
            centre: [0.0; 2],
            sweep: 0.3,
        }),
        ..CoursePiece::line(
            [2.0, 0.0, -1.0],
            [2.0 * 0.3_f64.cos(), 2.0 * 0.3_f64.sin(), -1.0],
        )
    };
    assert!(!Swept::of(&field, &arc, 0.5, false).rows((0, 9), &mut spans));
}

/// The circle at the start: places no farther from it than the radius.
#[test]
fn the_circle_at_the_start_is_what_lies_near_it() {
    let (field, mut seed) = (field(), Seed::new(8));
    for _ in 0..200 {
        let (piece, r) = (drawn(&mut seed), seed.between(0.15, 1.2));
        for turned in [false, true] {
            let swept = Swept::of(&field, &piece, r, turned);
            let start = [0, 1].map(|k| (piece.from[k] - field.start[k]) * field.per_mm);
            let [x, y] = if turned { [start[1], start[0]] } else { start };
            for off in [-1.02, -0.7, 0.0, 0.3, 0.99, 1.01] {
                let off = off * r * field.per_mm;
                let disc = swept.start_disc(y + off);
                let half = (r * field.per_mm).powi(2) - off * off;
                assert_eq!(disc.is_some(), half >= 0.0, "{piece:?} {off}");
                if let Some((p, q)) = disc {
                    let half = half.sqrt();
                    assert!((p - x + half).abs() < 1e-9 && (q - x - half).abs() < 1e-9);
                }
            }
        }
    }
}

/// The least and the most of all places at the radius from the way, found by walking along it; of
/// what is new, those that are outside the circle at the start.
#[test]
fn bounds_are_those_of_the_places_swept() {
    let (field, mut seed) = (field(), Seed::new(9));
    for _ in 0..150 {
        let (piece, r) = (drawn(&mut seed), seed.between(0.15, 1.2));
        let swept = Swept::of(&field, &piece, r, false);
        let mut all = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
        let mut new = all;
        let see = |into: &mut ([f64; 2], [f64; 2]), p: [f64; 2]| {
            for (k, p) in p.into_iter().enumerate() {
                let at = (p - field.start[k]) * field.per_mm;
                into.0[k] = into.0[k].min(at);
                into.1[k] = into.1[k].max(at);
            }
        };
        for step in 0..=240 {
            let o = piece.station(f64::from(step) / 240.0).at;
            for turn in 0..120 {
                let (sin, cos) = (f64::from(turn) * TAU / 120.0).sin_cos();
                let p = [o[0] + r * cos, o[1] + r * sin];
                see(&mut all, p);
                if (p[0] - piece.from[0]).hypot(p[1] - piece.from[1]) > r + 1e-6 {
                    see(&mut new, p);
                }
            }
        }
        // Walking in steps of 3 deg misses r (1 - cos 1.5 deg), and along an arc as little.
        let near = |got: ([f64; 2], [f64; 2]), walked: ([f64; 2], [f64; 2]), slack: f64| {
            for k in 0..2 {
                let (low, high) = (walked.0[k] - got.0[k], got.1[k] - walked.1[k]);
                assert!((-1e-9..slack).contains(&low), "{piece:?} {r}: {low}");
                assert!((-1e-9..slack).contains(&high), "{piece:?} {r}: {high}");
            }
        };
        near(swept.bounds(), all, 0.02);
        if piece.arc.is_none() && piece.way() > 0.0 {
            // The first step along the way is missed, and 1.5 deg of the side beside it.
            near(swept.new_bounds(), new, 0.5);
        }
    }
}
