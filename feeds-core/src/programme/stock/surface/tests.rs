//! The surface left behind against its definition: of all places of the axis, a place keeps the
//! height of the lowest one that covered it. The places are tried one by one along the way.

use super::super::swept::tests::{away, drawn};
use super::*;
use crate::kernel::seed::Seed;
use crate::programme::stock::CourseArc;
use std::f64::consts::PI;

/// A piece that goes up, down or level.
fn sloped(seed: &mut Seed) -> CoursePiece {
    loop {
        let mut piece = drawn(seed);
        let rise = [0.0, 0.7, -0.9, 0.1, -2.0][usize::try_from(seed.bits() % 5).unwrap()];
        piece.to[2] = piece.from[2] + rise * seed.between(0.3, 1.0);
        if piece.way() > 0.02 {
            return piece;
        }
    }
}

/// Height of the end above its tip at a distance from the axis.
fn lift(far: f64, end: &StockEnd) -> f64 {
    let beyond = far - (end.radius_mm - end.corner_mm);
    if beyond <= 0.0 {
        return 0.0;
    }
    let c = end.corner_mm;
    c - (c * c - beyond * beyond).max(0.0).sqrt()
}

/// The lowest over a place of all places of the axis at which the end covers it.
fn lowest(piece: &CoursePiece, end: &StockEnd, p: [f64; 2]) -> f64 {
    const STEPS: u32 = 4000;
    let mut least = f64::INFINITY;
    for k in 0..=STEPS {
        let at = piece.at(f64::from(k) / f64::from(STEPS));
        let far = (p[0] - at[0]).hypot(p[1] - at[1]);
        if far <= end.radius_mm {
            least = least.min(at[2] + lift(far, end));
        }
    }
    least
}

/// How far from the truth walking in such steps can be: what the tip rises in a step, and at a
/// place near the edge of the region in the steps that miss it.
fn slack(piece: &CoursePiece, inside: f64) -> f64 {
    let rise = (piece.to[2] - piece.from[2]).abs();
    let steep = rise / piece.way();
    rise / 2000.0 + 1e-5 + if inside < 1e-3 { steep * 0.1 } else { 0.0 }
}

fn places(seed: &mut Seed, piece: &CoursePiece, r: f64, mut each: impl FnMut([f64; 2], f64)) {
    for _ in 0..25 {
        let at = piece.at(seed.unit());
        let (sin, cos) = (seed.between(0.0, 2.0 * PI)).sin_cos();
        let far = r * seed.unit().sqrt();
        let p = [at[0] + far * cos, at[1] + far * sin];
        let inside = r - away(piece, p);
        if inside > 1e-3 {
            each(p, inside);
        }
    }
}

#[test]
fn a_flat_end_leaves_the_lowest_of_its_places() {
    let mut seed = Seed::new(31);
    for _ in 0..150 {
        let (piece, r) = (sloped(&mut seed), seed.between(0.2, 1.2));
        let end = StockEnd {
            radius_mm: r,
            corner_mm: 0.0,
        };
        let helix = piece
            .arc
            .map(|arc| Helix::of(&piece, arc.centre, arc.sweep, r));
        let ramp = Ramp::of(&piece, r);
        let low = piece.from[2].min(piece.to[2]);
        places(&mut seed, &piece, r, |p, inside| {
            let got = match &helix {
                Some(helix) => helix.at(p[0], p[1]),
                None => ramp.at(p[0], p[1]),
            };
            let (expected, slack) = (lowest(&piece, &end, p), slack(&piece, inside));
            assert!(
                (got - expected).abs() < slack,
                "{piece:?} {r} {p:?}: {got}, not {expected}"
            );
            assert!(got >= low - 1e-9);
        });
        let lowest = helix
            .as_ref()
            .map_or_else(|| ramp.lowest(), Surface::lowest);
        assert!((lowest - low).abs() < 1e-12);
        let from = piece.from;
        let rim = helix.map_or_else(|| ramp.rim(from[0], from[1]), |h| h.rim(from[0], from[1]));
        assert!((rim - self::lowest(&piece, &end, [from[0], from[1]])).abs() < 1e-3);
    }
}

#[test]
fn a_round_end_leaves_the_lowest_of_its_places() {
    let mut seed = Seed::new(32);
    for k in 0..150 {
        let (mut piece, r) = (sloped(&mut seed), seed.between(0.2, 1.2));
        if piece.arc.is_some() {
            // Round arcs are level; the others are cut as chords.
            piece.to[2] = piece.from[2];
        }
        let corner = if k % 2 == 0 {
            r
        } else {
            r * seed.between(0.1, 0.9)
        };
        let end = StockEnd {
            radius_mm: r,
            corner_mm: corner,
        };
        let arc = piece
            .arc
            .map(|arc| RoundArc::of(&piece, arc.centre, arc.sweep, &end));
        let line = RoundLine::of(&piece, &end);
        let low = piece.from[2].min(piece.to[2]);
        places(&mut seed, &piece, r * 0.97, |p, inside| {
            let (got, least, bound) = match &arc {
                Some(arc) => (arc.at(p[0], p[1]), arc.lowest(), arc.at_least(p[0], p[1])),
                None => (
                    line.at(p[0], p[1]),
                    line.lowest(),
                    line.at_least(p[0], p[1]),
                ),
            };
            let expected = lowest(&piece, &end, p);
            // The lowest place is sought to a thousandth of the radius.
            let slack = slack(&piece, inside) + 2e-4 * r;
            assert!(
                (got - expected).abs() < slack,
                "{piece:?} {end:?} {p:?}: {got} {expected}"
            );
            assert!((least - low).abs() < 1e-12);
            assert!(
                bound <= got + 1e-9 && bound >= low - 1e-12,
                "{piece:?} {end:?} {p:?}"
            );
        });
        // Beside the full radius the wall begins above the round part.
        let from = [piece.from[0], piece.from[1]];
        let rim = arc.map_or_else(|| line.rim(from[0], from[1]), |a| a.rim(from[0], from[1]));
        assert!((rim - piece.from[2] - corner).abs() < 1e-9, "{piece:?}");
    }
}

/// Straight down, a round end leaves its own shape, however it got there.
#[test]
fn straight_down_an_end_leaves_its_shape() {
    let end = StockEnd {
        radius_mm: 1.0,
        corner_mm: 0.4,
    };
    for ends in [[-0.2, -1.5], [-1.5, -0.2]] {
        let piece = CoursePiece::line([2.0, 3.0, ends[0]], [2.0, 3.0, ends[1]]);
        let surface = RoundLine::of(&piece, &end);
        for far in [0.0, 0.3, 0.61, 0.8, 0.95] {
            let expected = -1.5 + lift(far, &end);
            assert!(
                (surface.at(2.0, 3.0 + far) - expected).abs() < 1e-9,
                "{far}"
            );
            assert!(
                (surface.at(2.0 - far, 3.0) - expected).abs() < 1e-9,
                "{far}"
            );
        }
        assert!((surface.lowest() + 1.5).abs() < 1e-12);
    }
    assert!((Level(-1.25).at(7.0, 8.0) + 1.25).abs() < 1e-12 && Level::LEVEL);
    assert!((Level(-1.25).lowest() + 1.25).abs() < 1e-12);
}

/// The cheap bound of a round end lies at the height of the end beside the line: worth having.
#[test]
fn the_bound_of_a_round_line_is_that_of_its_groove() {
    let end = StockEnd {
        radius_mm: 1.0,
        corner_mm: 1.0,
    };
    let piece = CoursePiece::line([0.0, 0.0, -1.0], [4.0, 0.0, -1.0]);
    let line = RoundLine::of(&piece, &end);
    // 1 - sqrt(1 - 0.36) = 0.2
    assert!((line.at_least(2.0, 0.6) + 0.8).abs() < 1e-9);
    assert!((line.at_least(2.0, -0.6) + 0.8).abs() < 1e-9);
}

/// A hair outside, a place has the height of the nearest one inside: the first place of the axis
/// beside the start, the last one beside the end.
#[test]
fn a_hair_outside_a_helix_is_as_high_as_inside() {
    let mut seed = Seed::new(33);
    for _ in 0..60 {
        let (rho, sweep) = (seed.between(0.4, 2.0), seed.between(0.1, PI / 6.0));
        let sweep = if seed.unit() < 0.5 { sweep } else { -sweep };
        let first = seed.between(0.0, 2.0 * PI);
        let at = |angle: f64, z: f64| [rho * angle.cos(), rho * angle.sin(), z];
        let piece = CoursePiece {
            arc: Some(CourseArc {
                centre: [0.0; 2],
                sweep,
            }),
            ..CoursePiece::line(at(first, -1.0), at(first + sweep, -1.3))
        };
        let r = seed.between(0.1, 0.35);
        let helix = Helix::of(&piece, [0.0; 2], sweep, r);
        for (end, behind) in [(piece.from, -sweep.signum()), (piece.to, sweep.signum())] {
            // Straight back from the start, or on from the end, by the radius and a hair.
            let way = [-end[1] / rho * behind, end[0] / rho * behind];
            let p = |far: f64| [end[0] + far * way[0], end[1] + far * way[1]];
            let out = p(r * (1.0 + 1e-7));
            let expected = if end[2] < -1.2 { -1.3 } else { -1.0 };
            let got = helix.at(out[0], out[1]);
            assert!(
                (got - expected).abs() < 1e-6,
                "{piece:?} {r}: {got}, not {expected}"
            );
        }
    }
}
