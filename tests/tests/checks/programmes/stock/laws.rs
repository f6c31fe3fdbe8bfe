//! Laws of taking away: what is gone is gone, however often, in whatever order, and in however
//! many pieces it is cut.

use super::{Bounds, CourseArc, CoursePiece, Fan, StockEnd, StockField, StockShape, level};
use feeds_core::kernel::seed::Seed;
use std::f64::consts::{PI, TAU};

const CELL: f64 = 0.05;

fn stock() -> StockField {
    let block = Bounds {
        least: [0.013, -0.021, -2.0],
        most: [4.5, 3.6, 0.0],
    };
    StockField::new(&StockShape::Block(block), CELL, 1_000_000).unwrap()
}

/// A line or an arc of at most 30 deg at a height, or down to another.
fn drawn(seed: &mut Seed, sloped: bool) -> CoursePiece {
    let z = -seed.between(0.3, 1.2);
    let from = [seed.between(0.5, 4.0), seed.between(0.5, 3.1), z];
    let last = if sloped {
        z - seed.between(0.05, 0.6)
    } else {
        z
    };
    if seed.unit() < 0.5 {
        let to = [seed.between(0.5, 4.0), seed.between(0.5, 3.1), last];
        return CoursePiece::line(from, to);
    }
    let (rho, first) = (seed.between(0.5, 2.0), seed.between(0.0, TAU));
    let sweep = seed.between(0.2, PI / 6.0) * if seed.unit() < 0.5 { 1.0 } else { -1.0 };
    let centre = [from[0] - rho * first.cos(), from[1] - rho * first.sin()];
    let (sin, cos) = (first + sweep).sin_cos();
    CoursePiece {
        arc: Some(CourseArc { centre, sweep }),
        ..CoursePiece::line(from, [centre[0] + rho * cos, centre[1] + rho * sin, last])
    }
}

fn end(seed: &mut Seed, k: u64) -> StockEnd {
    let radius_mm = seed.between(0.4, 1.0);
    StockEnd {
        radius_mm,
        corner_mm: [0.0, radius_mm, 0.5 * radius_mm][usize::try_from(k % 3).unwrap()],
    }
}

/// Two halves of a piece.
fn halves(piece: &CoursePiece) -> [CoursePiece; 2] {
    let middle = piece.station(0.5).at;
    let arc = piece.arc.map(|arc| CourseArc {
        sweep: arc.sweep / 2.0,
        ..arc
    });
    let part = |from, to| CoursePiece {
        arc,
        ..CoursePiece::line(from, to)
    };
    [part(piece.from, middle), part(middle, piece.to)]
}

fn places(seed: &mut Seed) -> Vec<[f64; 2]> {
    (0..250)
        .map(|_| [seed.between(0.0, 4.6), seed.between(-0.1, 3.7)])
        .collect()
}

/// How many of these heights differ by more than so much.
fn differ(a: &StockField, b: &StockField, places: &[[f64; 2]], by: f64) -> usize {
    let apart = |p: &&[f64; 2]| (a.height(p[0], p[1]) - b.height(p[0], p[1])).abs() > by;
    places.iter().filter(apart).count()
}

/// A second time there is nothing left to take, and nothing changes.
#[test]
fn what_is_gone_is_gone() {
    for number in 0..60 {
        let mut seed = Seed::new(500 + number);
        let (mut stock, end) = (stock(), end(&mut seed, number));
        let cuts: Vec<CoursePiece> = (0..4).map(|k| drawn(&mut seed, k % 2 == 1)).collect();
        let gone: f64 = cuts.iter().map(|piece| stock.remove(piece, &end)).sum();
        let (before, left) = (stock.clone(), stock.volume_mm3());
        let again: f64 = cuts.iter().map(|piece| stock.remove(piece, &end)).sum();
        assert!(
            gone > 0.1 && again.abs() < 1e-4 * gone,
            "{number}: {gone} {again}"
        );
        assert!((stock.volume_mm3() - left).abs() < 1e-4 * gone);
        // A step of the floor below 5 um is no wall: on slopes it may move within a cell.
        assert_eq!(
            differ(&before, &stock, &places(&mut seed), 0.005),
            0,
            "{number}"
        );
        let counted = stock.volume_mm3() + gone + again - self::stock().volume_mm3();
        assert!(
            counted.abs() < 1e-4,
            "{number}: removed and left are the stock: {counted}"
        );
    }
}

/// Whichever cut comes first, the same is left: volumes to what walls within a cell are known, and
/// heights but where two walls cross one cell.
#[test]
fn the_order_of_cuts_does_not_matter() {
    let mut apart = 0;
    for number in 0..40 {
        let mut seed = Seed::new(600 + number);
        let end = end(&mut seed, number);
        let cuts: Vec<CoursePiece> = (0..5).map(|k| drawn(&mut seed, k == 2)).collect();
        let [mut one, mut other] = [stock(), stock()];
        let gone: f64 = cuts.iter().map(|piece| one.remove(piece, &end)).sum();
        let back: f64 = cuts
            .iter()
            .rev()
            .map(|piece| other.remove(piece, &end))
            .sum();
        assert!((gone / back - 1.0).abs() < 2e-3, "{number}: {gone} {back}");
        apart += differ(&one, &other, &places(&mut seed), 0.003);
    }
    // Of ten thousand places.
    assert!(apart < 100, "{apart}");
}

/// A piece in two halves cuts what the whole cuts.
#[test]
fn a_piece_may_be_cut_in_two() {
    let mut apart = 0;
    for number in 0..60 {
        let mut seed = Seed::new(700 + number);
        let end = end(&mut seed, number);
        let [mut one, mut other] = [stock(), stock()];
        for k in 0..3 {
            let piece = drawn(&mut seed, k == 1);
            let whole = one.remove(&piece, &end);
            let parts: f64 = halves(&piece)
                .iter()
                .map(|half| other.remove(half, &end))
                .sum();
            assert!(
                (whole - parts).abs() < 2e-3 * whole + 1e-3,
                "{number}: {whole} {parts}"
            );
        }
        apart += differ(&one, &other, &places(&mut seed), 0.003);
    }
    // Of fifteen thousand places.
    assert!(apart < 100, "{apart}");
}

/// What is cut off without being counted leaves what is counted.
#[test]
fn counting_changes_nothing() {
    for number in 0..20 {
        let mut seed = Seed::new(800 + number);
        let end = end(&mut seed, number);
        let [mut one, mut other] = [stock(), stock()];
        for k in 0..5 {
            let piece = drawn(&mut seed, k % 2 == 1);
            one.remove(&piece, &end);
            other.cut_off(&piece, &end);
        }
        assert_eq!(one.volume_mm3().to_bits(), other.volume_mm3().to_bits());
        assert_eq!(differ(&one, &other, &places(&mut seed), 0.0), 0);
    }
}

/// Beside a cut that is all air the front meets nothing, whatever was cut before; in the full block
/// it meets half a turn, all of its depth and the whole width.
#[test]
fn air_is_air_and_a_slot_is_a_slot() {
    for number in 0..30 {
        let mut seed = Seed::new(900 + number);
        let end = end(&mut seed, number);
        let (mut own, depth) = (stock(), seed.between(1.1, 1.8));
        let mut fan = Fan::new(&end, Fan::SAMPLES);
        let heading = seed.between(0.0, TAU);
        let at = [2.2, 1.8, -depth];
        let met = fan.look(&own, &level(at, heading));
        let whole = 2.0 * end.radius_mm * depth;
        assert!(
            (met.arc() - PI).abs() < 1e-6 && (met.depth_mm - depth).abs() < 1e-6,
            "{met:?}"
        );
        // Of the round part, two quarters of c (2 - pi/2) are not there; eight rings tell it to
        // a hundredth.
        let c = end.corner_mm;
        let section = whole - c * c * (2.0 - PI / 2.0);
        assert!(
            (met.section_mm2 / section - 1.0).abs() < 0.01,
            "{met:?} {section}"
        );
        own.remove(
            &CoursePiece::line([-2.0, 1.8, -1.9], [7.0, 1.8, -1.9]),
            &StockEnd {
                radius_mm: 4.0,
                corner_mm: 0.0,
            },
        );
        let met = fan.look(&own, &level(at, heading));
        assert!(
            met.spans.is_empty() && met.arc() < 1e-9 && met.section_mm2 < 1e-9,
            "{met:?}"
        );
    }
}

/// What a piece takes away does not hang on the piece before it: the same cuts, one after the
/// other from where the last one ended, with ends of other sizes between, and with a cut far away
/// after each of them.
#[test]
fn a_cut_does_not_hang_on_the_one_before() {
    let away = CoursePiece::line([90.0, 90.0, -1.0], [91.0, 90.0, -1.0]);
    for number in 0..60 {
        let mut seed = Seed::new(1100 + number);
        let ends = [end(&mut seed, 0), end(&mut seed, number)];
        let [mut one, mut other] = [stock(), stock()];
        let mut at = drawn(&mut seed, false).from;
        for k in 0..6 {
            let mut piece = drawn(&mut seed, false);
            let shift = [0, 1].map(|a| at[a] - piece.from[a]);
            for (a, by) in shift.into_iter().enumerate() {
                piece.from[a] += by;
                piece.to[a] += by;
                if let Some(arc) = &mut piece.arc {
                    arc.centre[a] += by;
                }
            }
            let rise = [0.0, 0.0, 0.3, -0.2][usize::try_from(seed.bits() % 4).unwrap()];
            (piece.from[2], piece.to[2]) = (at[2] + rise, at[2] + rise);
            let end = ends[usize::from(k % 3 == 2)];
            one.remove(&piece, &end);
            other.remove(&piece, &end);
            other.remove(&away, &end);
            at = piece.to;
        }
        assert!(
            (one.volume_mm3() - other.volume_mm3()).abs() < 1e-5,
            "{number}"
        );
        assert_eq!(
            differ(&one, &other, &places(&mut seed), 1e-6),
            0,
            "{number}"
        );
    }
}
