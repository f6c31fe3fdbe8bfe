//! A cell that walls cross, against what its words say: straight walls between the places where
//! they cross its edges, and volumes that are the sum of its heights.

use super::super::cells::part;
use super::*;
use crate::kernel::seed::Seed;

const PLACES: u32 = 48;

/// A cell with walls on some of its edges (below, above, left, right).
fn cell(z: [f32; 4], crossed: [bool; 4], at: [f64; 4]) -> [Node; 4] {
    let edge = |k: usize| if crossed[k] { part(at[k]) } else { NONE };
    let node = |z: f32, right: u16, up: u16| Node { z, right, up };
    [
        node(z[0], edge(0), edge(2)),
        node(z[1], NONE, edge(3)),
        node(z[2], edge(1), NONE),
        node(z[3], NONE, NONE),
    ]
}

/// Mirrored in X: left and right, and the corners along X, change places.
fn mirrored(z: [f32; 4], c: [bool; 4], at: [f64; 4]) -> ([f32; 4], [bool; 4], [f64; 4]) {
    (
        [z[1], z[0], z[3], z[2]],
        [c[0], c[1], c[3], c[2]],
        [1.0 - at[0], 1.0 - at[1], at[3], at[2]],
    )
}

/// With X and Y changed.
fn flipped(z: [f32; 4], c: [bool; 4], at: [f64; 4]) -> ([f32; 4], [bool; 4], [f64; 4]) {
    (
        [z[0], z[2], z[1], z[3]],
        [c[2], c[3], c[0], c[1]],
        [at[2], at[3], at[0], at[1]],
    )
}

fn height([a, b, c, d]: [Node; 4], u: f64, v: f64) -> f32 {
    walled(a, b, c, d, (u, v)).0
}

fn excess([a, b, c, d]: [Node; 4]) -> f64 {
    walled_excess(a, b, c, d)
}

fn drawn(seed: &mut Seed) -> ([f32; 4], [f64; 4]) {
    let z = [0; 4].map(|_| kept(seed.between(-3.0, 0.0)));
    (z, [0; 4].map(|_| seed.between(0.03, 0.97)))
}

fn patterns() -> impl Iterator<Item = [bool; 4]> {
    (1..16_u32).map(|k| [0, 1, 2, 3].map(|bit| k >> bit & 1 == 1))
}

/// A cell has no side that is another's: mirrored, or with X and Y changed, it is as high at the
/// mirrored place, and its volume is the same. With two walls that are not one no rule says which
/// comes first.
#[test]
fn a_mirrored_cell_has_mirrored_heights() {
    let mut seed = Seed::new(21);
    for crossed in patterns() {
        for _ in 0..40 {
            let (z, at) = drawn(&mut seed);
            let own = cell(z, crossed, at);
            let (z2, c2, at2) = mirrored(z, crossed, at);
            let left = cell(z2, c2, at2);
            let (z3, c3, at3) = flipped(z, crossed, at);
            let turned = cell(z3, c3, at3);
            let sum = |k: &[bool; 4]| k.iter().filter(|c| **c).count();
            for _ in 0..12 {
                let (u, v) = (seed.unit(), seed.unit());
                let here = height(own, u, v);
                let same = |other: f32| (here - other).abs() < 1e-4;
                assert!(
                    same(height(left, 1.0 - u, v)),
                    "{crossed:?} {z:?} {at:?} {u} {v}"
                );
                assert!(
                    same(height(turned, v, u)),
                    "{crossed:?} {z:?} {at:?} {u} {v}"
                );
            }
            assert!(
                (excess(own) - excess(left)).abs() < 1e-4,
                "{crossed:?} {z:?} {at:?}"
            );
            assert!(
                (excess(own) - excess(turned)).abs() < 1e-4,
                "{crossed:?} {z:?} {at:?}"
            );
            let [a, b, c, d] = own;
            assert_eq!(walled(a, b, c, d, (0.4, 0.6)).1, sum(&crossed) < 3);
        }
    }
}

/// The mean of the heights at the middles of many small parts.
fn summed(own: [Node; 4]) -> f64 {
    let middle = |k: u32| (f64::from(k) + 0.5) / f64::from(PLACES);
    let all = (0..PLACES * PLACES).map(|k| (middle(k / PLACES), middle(k % PLACES)));
    all.map(|(u, v)| f64::from(height(own, u, v))).sum::<f64>() / f64::from(PLACES * PLACES)
}

/// Where floors are even, the volume is the sum of the heights.
#[test]
fn the_volume_of_a_cell_is_the_sum_of_its_heights() {
    let mut seed = Seed::new(22);
    for crossed in patterns() {
        for _ in 0..12 {
            let (mut z, mut at) = drawn(&mut seed);
            match crossed {
                // One wall across, the floors beside it even.
                [false, false, true, true] => (z[1], z[3]) = (z[0], z[2]),
                [true, true, false, false] => (z[2], z[3]) = (z[0], z[1]),
                // Across it a step ends: then the wall runs along the cell.
                [_, _, true, true] if crossed.contains(&false) => {
                    at[3] = at[2];
                    if crossed[0] { z[3] = z[2] } else { z[1] = z[0] }
                }
                [true, true, ..] if crossed.contains(&false) => {
                    at[1] = at[0];
                    if crossed[2] { z[3] = z[1] } else { z[2] = z[0] }
                }
                [true, true, true, true] => (at[1], at[3]) = (at[0], at[2]),
                // A corner is cut off an even floor.
                [below, _, left, _] if crossed.iter().filter(|c| **c).count() == 2 => {
                    let corner = usize::from(!left) + 2 * usize::from(!below);
                    let floor = z[3 - corner];
                    for k in (0..4).filter(|k| *k != corner) {
                        z[k] = floor;
                    }
                }
                // A step that comes to nothing.
                _ => {}
            }
            if crossed == [true; 4] {
                // Both walls: opposite corners that are alike belong together otherwise.
                z = [-0.1, -1.1, -2.3, -3.2];
            }
            let own = cell(z, crossed, at);
            let mean = 0.25 * z.iter().map(|z| f64::from(*z)).sum::<f64>();
            let (got, by_sum) = (excess(own), summed(own) - mean);
            // A wall is known to a part of the 48 rows.
            assert!(
                (got - by_sum).abs() < 0.04,
                "{crossed:?} {z:?} {at:?}: {got} {by_sum}"
            );
        }
    }
}

/// By hand: a wall at 0.25 and 0.75 of the sides, 0 before and -2 beyond; a corner with both edges
/// crossed at half, an eighth of the cell; two corners; and a cross of two walls.
#[test]
fn volumes_by_hand() {
    let t = true;
    for (z, crossed, at, volume) in [
        (
            [0.0, 0.0, -2.0, -2.0],
            [false, false, t, t],
            [0.0, 0.0, 0.25, 0.75],
            -1.0,
        ),
        (
            [0.0, 0.0, -2.0, -2.0],
            [false, false, t, t],
            [0.0, 0.0, 0.25, 0.25],
            -1.5,
        ),
        (
            [0.0, -2.0, 0.0, -2.0],
            [t, t, false, false],
            [0.25, 0.35, 0.0, 0.0],
            -1.4,
        ),
        (
            [-2.0, 0.0, 0.0, 0.0],
            [t, false, t, false],
            [0.5, 0.0, 0.5, 0.0],
            -0.25,
        ),
        (
            [0.0, 0.0, 0.0, -2.0],
            [false, t, false, t],
            [0.0, 0.5, 0.0, 0.5],
            -0.25,
        ),
        // Opposite corners, each 0.25 by 0.5 of their edges: 1/16 of the cell at -1 and at -3.
        (
            [0.0, -1.0, -3.0, 0.0],
            [t, t, t, t],
            [0.75, 0.5, 0.75, 0.5],
            -0.25,
        ),
        (
            [-1.0, 0.0, 0.0, -3.0],
            [t, t, t, t],
            [0.5, 0.75, 0.25, 0.5],
            -0.25,
        ),
        // Quarters of 0, -1, -3 and -4 on a cross at 0.2 and 0.6.
        (
            [0.0, -1.0, -3.0, -4.0],
            [t, t, t, t],
            [0.2, 0.2, 0.6, 0.6],
            -2.0,
        ),
    ] {
        let mean = 0.25 * z.iter().map(|z| f64::from(*z)).sum::<f64>();
        let got = excess(cell(z, crossed, at)) + mean;
        assert!(
            (got - volume).abs() < 1e-4,
            "{z:?} {crossed:?} {at:?}: {got}, not {volume}"
        );
    }
}

/// Which side of the line from one place to another a place is on.
fn side(from: [f64; 2], to: [f64; 2], p: [f64; 2]) -> f64 {
    (to[0] - from[0]) * (p[1] - from[1]) - (to[1] - from[1]) * (p[0] - from[0])
}

/// With two crossed edges the wall is the straight line between the crossings: on each side of it
/// stand the corners of that side, and what [`Cell::wall`] says is nought on it.
#[test]
fn a_wall_is_the_line_between_two_crossings() {
    let mut seed = Seed::new(23);
    let corners = [[0.0, 0.0], [1.0, 0.0], [0.0, 1.0], [1.0, 1.0]];
    for crossed in patterns() {
        let own = |k: &usize| crossed[*k];
        let edges: Vec<usize> = (0..4).filter(own).collect();
        for _ in 0..60 {
            let (mut z, at) = drawn(&mut seed);
            let crossing = |k: usize| [[at[0], 0.0], [at[1], 1.0], [0.0, at[2]], [1.0, at[3]]][k];
            let &[first, last] = &edges[..] else {
                let wall = Cell::new(cell(z, crossed, at)).wall();
                assert!(wall.is_none(), "{crossed:?}");
                continue;
            };
            let (p, q) = (crossing(first), crossing(last));
            let high = side(p, q, corners[0]) > 0.0;
            let with_first = corners.map(|c| (side(p, q, c) > 0.0) == high);
            // Even on both sides.
            let (low, other) = (z[0], kept(seed.between(-3.0, 0.0)));
            for k in 0..4 {
                z[k] = if with_first[k] { low } else { other };
            }
            let nodes = cell(z, crossed, at);
            let wall = Cell::new(nodes).wall().unwrap();
            let beyond = |p: [f64; 2]| wall[0] + wall[1] * p[0] + wall[2] * p[1];
            assert!(
                beyond(p).abs() < 1e-4 && beyond(q).abs() < 1e-4,
                "{crossed:?} {at:?}"
            );
            for _ in 0..20 {
                let place = [seed.unit(), seed.unit()];
                let far = side(p, q, place);
                if far.abs() < 1e-3 {
                    continue;
                }
                let expected = if (far > 0.0) == high { low } else { other };
                let got = height(nodes, place[0], place[1]);
                assert!(
                    (got - expected).abs() < 1e-4,
                    "{crossed:?} {at:?} {place:?}"
                );
                let same = (beyond(place) > 0.0) == (beyond(corners[0]) > 0.0);
                assert_eq!(same, (far > 0.0) == high, "{crossed:?} {at:?} {place:?}");
            }
        }
    }
}

/// Along a wall from side to side the floor of its own side goes evenly from corner to corner.
#[test]
fn beside_a_wall_the_floor_slopes_evenly() {
    let mut seed = Seed::new(24);
    for _ in 0..200 {
        let (z, at) = drawn(&mut seed);
        let (u, v) = (seed.unit(), seed.unit());
        let even = |a: f32, b: f32, t: f64| f64::from(a) + t * f64::from(b - a);
        let rows = cell(z, [false, false, true, true], at);
        let wall = at[2] + u * (at[3] - at[2]);
        let expected = if v > wall {
            even(z[2], z[3], u)
        } else {
            even(z[0], z[1], u)
        };
        let near = |a: f64, b: f64| (a - b).abs() < 1e-3;
        if !near(v, wall) {
            assert!(
                near(f64::from(height(rows, u, v)), expected),
                "{z:?} {at:?} {u} {v}"
            );
        }
        let columns = cell(z, [true, true, false, false], at);
        let wall = at[0] + v * (at[1] - at[0]);
        let expected = if u > wall {
            even(z[1], z[3], v)
        } else {
            even(z[0], z[2], v)
        };
        if !near(u, wall) {
            assert!(
                near(f64::from(height(columns, u, v)), expected),
                "{z:?} {at:?} {u} {v}"
            );
        }
    }
}

/// Where one wall and nothing else crosses, the quick way is the long one.
#[test]
fn the_quick_way_gives_the_same_height() {
    let mut seed = Seed::new(25);
    let mut quick = 0;
    for crossed in patterns() {
        for k in 0..80_usize {
            let (mut z, at) = drawn(&mut seed);
            if k % 2 == 0 {
                z = [z[0], z[1], z[1], z[1]];
                z.swap(0, k / 2 % 4);
            }
            let [a, b, c, d] = cell(z, crossed, at);
            let place = (seed.unit(), seed.unit());
            if let Some(height) = plainly(a, b, c, d, place) {
                quick += 1;
                let long = Cell::new([a, b, c, d]).height(place.0, place.1);
                assert!(
                    (height - long).abs() < 1e-4,
                    "{crossed:?} {z:?} {at:?} {place:?}"
                );
            }
        }
    }
    assert!(quick > 200, "{quick}");
}
