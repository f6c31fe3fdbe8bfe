//! The round part and the bottom of an end, against every place asked one by one.

use super::super::swept::tests::{drawn, field};
use super::super::{CoursePiece, CourseStation, Fan, StockField};
use super::*;
use crate::kernel::seed::Seed;

fn station(at: [f64; 3], heading: f64, slope: f64) -> CourseStation {
    CourseStation {
        at,
        ahead: [heading.cos(), heading.sin()],
        slope,
        along_mm: 0.0,
    }
}

fn cut(field: &mut StockField, from: [f64; 3], to: [f64; 3], radius_mm: f64) {
    let flat = StockEnd {
        radius_mm,
        corner_mm: 0.0,
    };
    field.cut_off(&CoursePiece::line(from, to), &flat);
}

/// The share of an end that stands over stock: all, half at the edge of a slot through its middle,
/// a quarter at a corner of two; over a hole of 0.6 and of 0.8 of its radius two thirds and one
/// third, as there are three rings of equal area, at 0.41, 0.71 and 0.91.
#[test]
fn the_share_of_the_bottom_by_hand() {
    let flat = StockEnd {
        radius_mm: 1.0,
        corner_mm: 0.0,
    };
    let mut fan = Fan::new(&flat, Fan::SAMPLES);
    let mut down = |field: &StockField, at: [f64; 3]| {
        let met = fan.look(field, &station(at, 0.7, -0.1));
        assert_eq!(met.plunges, met.end_share > 0.0);
        met.end_share
    };
    let at = [3.0, 2.5, -1.0];
    let whole = field();
    assert!((down(&whole, at) - 1.0).abs() < 1e-12);
    // Its tip above the stock, or in air beside it.
    assert!(down(&whole, [3.0, 2.5, 0.1]) < 1e-12 && down(&whole, [-2.0, 2.5, -1.0]) < 1e-12);
    let mut half = field();
    cut(&mut half, [-5.0, 0.5, -1.5], [12.0, 0.5, -1.5], 2.0);
    assert!((down(&half, at) - 0.5).abs() < 1e-12);
    cut(&mut half, [1.0, -5.0, -1.5], [1.0, 12.0, -1.5], 2.0);
    assert!((down(&half, at) - 0.25).abs() < 1e-12);
    for (hole, share) in [(0.38, 1.0), (0.6, 2.0 / 3.0), (0.8, 1.0 / 3.0), (0.98, 0.0)] {
        let mut drilled = field();
        cut(&mut drilled, at, [3.0, 2.5, -1.4], hole);
        assert!((down(&drilled, at) - share).abs() < 1e-12, "{hole}");
    }
    // Below what stands by less than a fifth of a micrometre nothing is cut.
    let mut floor = field();
    cut(&mut floor, at, [3.0, 2.5, -1.0], 1.5);
    assert!(down(&floor, [3.0, 2.5, -1.000_1]) < 1e-12);
    assert!((down(&floor, [3.0, 2.5, -1.000_3]) - 1.0).abs() < 1e-12);
    // Not below the floor of the stock either.
    let mut through = field();
    cut(&mut through, at, [3.0, 2.5, -2.0], 1.5);
    assert!(down(&through, [3.0, 2.5, -3.0]) < 1e-12);
    let level = fan.look(&whole, &station(at, 0.7, 0.0));
    assert!(!level.plunges && level.end_share < 1e-12);
}

/// Of a ball its rings at 0.41, 0.71 and 0.91 of the radius stand 0.087, 0.293 and 0.592 above the
/// tip: over a floor 0.2 mm above the tip only the first is in stock.
#[test]
fn a_round_bottom_stands_over_a_floor() {
    let ball = StockEnd {
        radius_mm: 1.0,
        corner_mm: 1.0,
    };
    let mut fan = Fan::new(&ball, Fan::SAMPLES);
    for (above, share) in [(0.07, 0.0), (0.1, 1.0 / 3.0), (0.3, 2.0 / 3.0), (0.6, 1.0)] {
        let mut floor = field();
        cut(&mut floor, [3.0, 2.5, 0.0], [3.0, 2.5, -1.0], 1.5);
        let met = fan.look(&floor, &station([3.0, 2.5, -1.0 - above], 0.3, -0.2));
        assert!((met.end_share - share).abs() < 1e-12, "{above}: {met:?}");
    }
}

/// Rings go up from the tip without a gap, and their windows are where the ring is in stock: asked
/// at two hundred angles, but beside the ends of what stands.
#[test]
fn windows_are_where_a_ring_is_in_stock() {
    let (mut asked, mut inside) = (0, 0);
    for number in 0..24 {
        let (mut field, mut seed) = (field(), Seed::new(90 + number));
        for _ in 0..3 {
            let radius_mm = seed.between(0.4, 1.0);
            let end = StockEnd {
                radius_mm,
                corner_mm: if seed.unit() < 0.5 { 0.0 } else { radius_mm },
            };
            field.cut_off(&drawn(&mut seed), &end);
        }
        let radius_mm = seed.between(0.6, 1.3);
        let corner_mm = radius_mm * [1.0, 0.5][usize::try_from(number % 2).unwrap()];
        let end = StockEnd {
            radius_mm,
            corner_mm,
        };
        let mut fan = Fan::new(&end, Fan::SAMPLES);
        let tip = -seed.between(0.1, 1.6);
        let at = [seed.between(0.5, 6.5), seed.between(0.5, 4.5), tip];
        let station = station(at, seed.between(0.0, 6.2), 0.0);
        let met = fan.look(&field, &station).clone();
        if met.rings.is_empty() {
            continue;
        }
        let front = Front::new(&field, &station);
        assert_eq!(met.rings.len(), RINGS);
        assert!(met.rings[0].low_mm.abs() < 1e-12);
        for pair in met.rings.windows(2) {
            assert!((pair[0].high_mm - pair[1].low_mm).abs() < 1e-12);
            assert!(pair[1].high_mm > pair[1].low_mm);
        }
        let top = met.rings[RINGS - 1].high_mm;
        // As high as the round part where stock stands at the full radius, and no higher.
        let whole = (top - corner_mm).abs() < 1e-9;
        assert!(
            top <= corner_mm + 1e-9 && (met.spans.is_empty() || whole),
            "{met:?}"
        );
        let mut section: f64 = 0.0;
        for ring in &met.rings {
            let height = f64::midpoint(ring.low_mm, ring.high_mm);
            let beyond = corner_mm - height;
            let q = radius_mm - corner_mm + (corner_mm * corner_mm - beyond * beyond).sqrt();
            let stands = |phi: f64| {
                let seen = f64::from(front.seen(q, phi.sin_cos()));
                let level = tip + height + field.cell_mm().powi(2) / (8.0 * corner_mm);
                seen > level.max(f64::from(field.floor))
            };
            for k in 0..200 {
                let phi = PI * (f64::from(k) + 0.5) / 200.0;
                // What is narrower than two directions of the fan may be missed.
                let near = [-0.11, -0.05, 0.05, 0.11].map(|d| stands((phi + d).clamp(0.0, PI)));
                let here = stands(phi);
                if near.iter().all(|n| *n == here) {
                    let got = ring.windows.iter().any(|(a, b)| *a <= phi && phi <= *b);
                    assert_eq!(got, here, "{number} {phi} {ring:?}");
                    asked += 1;
                    inside += i32::from(here);
                }
                let part = (ring.high_mm - ring.low_mm) * q * phi.sin() * PI / 200.0;
                section += if here { part } else { 0.0 };
            }
        }
        if met.spans.is_empty() {
            // A window is known to a hundredth of a turn, and so is the sum.
            let slack = 0.02 * corner_mm * radius_mm;
            assert!(
                (met.section_mm2 - section).abs() < slack,
                "{met:?} {section}"
            );
            let met_rings = met.rings.iter().filter(|r| !r.windows.is_empty());
            let highest = met_rings.map(|r| r.high_mm).fold(0.0, f64::max);
            assert!((met.depth_mm - highest).abs() < 1e-12);
        }
    }
    assert!(asked > 10_000 && inside > 3000, "{asked} {inside}");
}
