//! The stock as it is put up, by hand.

use super::super::{Bounds, CoursePiece, StockEnd};
use super::*;
use std::f64::consts::{PI, TAU};

fn block(most: [f64; 3]) -> StockShape {
    StockShape::Block(Bounds {
        least: [0.0, 0.0, -2.0],
        most,
    })
}

/// A block of 3 by 2 mm at 0.1: 30 and 20 cells, two wider on each side and 2.3137 beside that,
/// 38.6 and 28.6: 41 by 31 nodes with the one at the end.
#[test]
fn as_many_nodes_as_it_needs() {
    let shape = block([3.0, 2.0, 0.0]);
    let field = StockField::new(&shape, 0.1, 41 * 31).unwrap();
    assert_eq!(field.nodes(), [41, 31]);
    assert!((field.cell_mm() - 0.1).abs() < 1e-12);
    let few = StockField::fits(&shape, 0.1, 41 * 31 - 1).unwrap_err();
    assert_eq!(few.nodes, 41 * 31);
    assert!(StockField::fits(&shape, 0.1, 41 * 31).is_ok());
    for most in [200, 500, 1000, 1270] {
        let told = StockField::fits(&shape, 0.1, most).unwrap_err();
        // It fits, and one a twentieth finer does not: no coarser than it has to be.
        assert!(
            StockField::fits(&shape, told.fits_mm, most).is_ok(),
            "{most}"
        );
        assert!(told.fits_mm > 0.1);
        let finer = told.fits_mm / 1.02 / 1.001;
        assert!(
            finer < 0.1 || StockField::fits(&shape, finer, most).is_err(),
            "{most} {told:?}"
        );
    }
    // However small the cell, there is an answer.
    let told = StockField::fits(&shape, 1e-9, 1_000_000).unwrap_err();
    assert!(told.fits_mm > 1e-3 && StockField::fits(&shape, told.fits_mm, 1_000_000).is_ok());
    // More than 2^32 nodes are never allowed.
    assert!(StockField::fits(&shape, 1e-5, u64::MAX).is_err());
}

/// Volumes of a block and of a bar, w h d and pi r^2 h, wherever they lie between the nodes.
#[test]
fn the_volume_is_that_of_the_shape() {
    for k in 0..8 {
        let off = 0.013 * f64::from(k);
        for cell in [0.05, 0.11, 0.2] {
            let shape = StockShape::Block(Bounds {
                least: [off, -off, -1.5],
                most: [3.0 + 2.0 * off, 2.0, 0.5],
            });
            let field = StockField::new(&shape, cell, 1_000_000).unwrap();
            let volume = (3.0 + off) * (2.0 + off) * 2.0;
            let share = field.volume_mm3() / volume;
            assert!((share - 1.0).abs() < 1e-5, "{off} {cell}: {share}");
            let bar = StockShape::Round {
                least_z: -1.5,
                most_z: 0.5,
                centre: [off, 2.0 - off],
                radius_mm: 1.7 + off,
            };
            let field = StockField::new(&bar, cell, 1_000_000).unwrap();
            let share = field.volume_mm3() / (PI * (1.7 + off).powi(2) * 2.0);
            // Strips of an eighth of a cell: their ends are off by the square of that.
            assert!((share - 1.0).abs() < 4e-4, "{off} {cell}: {share}");
        }
    }
}

/// Within the outline stands the top, beyond it the floor, up to a thousandth of a cell.
#[test]
fn it_stands_within_its_outline() {
    let field = StockField::new(&block([3.0, 2.0, 0.0]), 0.1, 100_000).unwrap();
    let (bar, r) = ([1.0, 1.0], 0.9);
    let round = StockShape::Round {
        least_z: -2.0,
        most_z: 0.0,
        centre: bar,
        radius_mm: r,
    };
    let round = StockField::new(&round, 0.1, 100_000).unwrap();
    for k in 0..60 {
        let t = f64::from(k) / 59.0;
        for (x, y, stands) in [
            (3.0 * t, 1e-4, true),
            (3.0 * t, -1e-4, false),
            (3.0 * t, 2.0 - 1e-4, true),
            (3.0 * t, 2.0 + 1e-4, false),
            (1e-4, 2.0 * t, true),
            (-1e-4, 2.0 * t, false),
            (3.0 - 1e-4, 2.0 * t, true),
            (3.0 + 1e-4, 2.0 * t, false),
        ] {
            let inside = (0.0..=3.0).contains(&x) && (0.0..=2.0).contains(&y);
            let expected = if stands && inside { 0.0 } else { -2.0 };
            assert!((field.height(x, y) - expected).abs() < 1e-6, "{x} {y}");
        }
        let (sin, cos) = (TAU * t).sin_cos();
        for (far, expected) in [(r - 1e-4, 0.0), (r + 1e-4, -2.0)] {
            let got = round.height(bar[0] + far * cos, bar[1] + far * sin);
            assert!((got - expected).abs() < 1e-6, "{t} {far}: {got}");
        }
    }
    for (x, y) in [(-50.0, 1.0), (1.0, -50.0), (99.0, 1.0), (1.0, 99.0)] {
        assert!((field.height(x, y) + 2.0).abs() < 1e-6);
    }
}

/// A slot along X with its sides at Y 0.7 and 1.3: between two places on both sides of one, the
/// wall is where it is, to a thousandth of a cell; where there is none, there is none.
#[test]
fn a_wall_is_found_between_two_places() {
    let flat = StockEnd {
        radius_mm: 0.3,
        corner_mm: 0.0,
    };
    for turned in [false, true] {
        let size = if turned {
            [2.0, 6.0, 0.0]
        } else {
            [6.0, 2.0, 0.0]
        };
        let mut field = StockField::new(&block(size), 0.1, 100_000).unwrap();
        let flip = |p: [f64; 2]| if turned { [p[1], p[0]] } else { p };
        let [from, to] = [[-1.0, 1.0], [7.0, 1.0]].map(flip);
        field.remove(
            &CoursePiece::line([from[0], from[1], -1.0], [to[0], to[1], -1.0]),
            &flat,
        );
        let at = |p: [f64; 2]| {
            let [x, y] = flip(p);
            ((x - field.start[0]) * 10.0, (y - field.start[1]) * 10.0)
        };
        for k in 0..40 {
            let x = 1.0 + 0.1 * f64::from(k);
            for (low, high, wall) in [(0.67, 0.74, 0.7), (1.33, 1.27, 1.3), (1.24, 1.31, 1.3)] {
                let share = field
                    .wall_between(at([x, low]), at([x + 0.03, high]))
                    .unwrap();
                let expected = (wall - low) / (high - low);
                assert!(
                    (share - expected).abs() < 1e-3,
                    "{x} {low}: {share} {expected}"
                );
            }
            for (low, high) in [(0.5, 0.56), (0.95, 1.05), (1.4, 1.46)] {
                assert!(field.wall_between(at([x, low]), at([x, high])).is_none());
            }
        }
        // Beyond the outline nothing is known.
        assert!(
            field
                .wall_between(at([-0.02, 0.67]), at([0.02, 0.74]))
                .is_none()
        );
    }
}
