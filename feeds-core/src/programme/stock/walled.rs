//! A cell that walls cross: its height at a place, its volume, its wall.

use super::cells::{NONE, Node, kept, share};

// Nodes one by one come in registers, which an array of them does not.

/// The height at a place in a cell that walls cross, and whether it is sure.
#[inline(never)]
pub(super) fn walled(a: Node, b: Node, c: Node, d: Node, (u, v): (f64, f64)) -> (f32, bool) {
    plainly(a, b, c, d, (u, v)).map_or_else(
        || {
            let cell = Cell::new([a, b, c, d]);
            (cell.height(u, v), cell.walls() < 3)
        },
        |height| (height, true),
    )
}

/// The same where one wall goes from side to side, or cuts one corner off an even floor: along a
/// front nearly every cell is so, and all that [`Cell`] finds out is not needed then.
#[inline]
fn plainly(a: Node, b: Node, c: Node, d: Node, (u, v): (f64, f64)) -> Option<f32> {
    let across = |(low, high): (u16, u16), at: f64| share(low) + at * (share(high) - share(low));
    let between = |low: Node, high: Node, at: f64| low.z + kept(at) * (high.z - low.z);
    let [below, above, left, right] = [a.right, c.right, a.up, b.up].map(|edge| edge != NONE);
    match (below, above, left, right) {
        (false, false, true, true) => {
            let beyond = v >= across((a.up, b.up), u);
            let (low, high) = if beyond { (c, d) } else { (a, b) };
            Some(between(low, high, u))
        }
        (true, true, false, false) => {
            let beyond = u >= across((a.right, c.right), v);
            let (low, high) = if beyond { (b, d) } else { (a, c) };
            Some(between(low, high, v))
        }
        _ if below != above && left != right => {
            // As if the corner were the first one.
            let (row, edge) = if below {
                ([a, b], a.right)
            } else {
                ([c, d], c.right)
            };
            let (other, v) = if below {
                ([c, d], v)
            } else {
                ([a, b], 1.0 - v)
            };
            let up = if left { a.up } else { b.up };
            let tv = if below { share(up) } else { 1.0 - share(up) };
            let (k, u) = if left { (0, u) } else { (1, 1.0 - u) };
            let tu = if left { share(edge) } else { 1.0 - share(edge) };
            if u * tv + v * tu < tu * tv {
                return Some(row[k].z);
            }
            let rest = row[1 - k].z;
            let even =
                rest.to_bits() == other[0].z.to_bits() && rest.to_bits() == other[1].z.to_bits();
            even.then_some(rest)
        }
        _ => None,
    }
}

/// What the volume of such a cell has over the mean of its corners, in heights.
#[inline(never)]
pub(super) fn walled_excess(a: Node, b: Node, c: Node, d: Node) -> f64 {
    Cell::new([a, b, c, d]).excess()
}

/// A cell that walls cross: its corners (along X first), which of its edges below, above, left and
/// right are crossed, and where.
pub(super) struct Cell {
    z: [f32; 4],
    crossed: [bool; 4],
    at: [f64; 4],
}

/// How walls divide a cell.
#[derive(Clone, Copy)]
enum Split {
    /// A wall from left to right; a step may end at it from below or above.
    Rows,
    /// A wall from below to above.
    Columns,
    /// Both, crossing.
    Both,
    /// One corner is cut off, or opposite ones are; the others belong together.
    Corners(usize, Option<usize>),
    /// By none.
    None,
}

/// Opposite corners belong together where they differ by this much less than the other two.
const ALIKE: f32 = 0.3;

impl Cell {
    #[inline]
    pub(super) fn new([a, b, c, d]: [Node; 4]) -> Self {
        let edges = [a.right, c.right, a.up, b.up];
        Self {
            z: [a.z, b.z, c.z, d.z],
            crossed: edges.map(|e| e != NONE),
            at: edges.map(share),
        }
    }

    fn walls(&self) -> usize {
        self.crossed.iter().filter(|c| **c).count()
    }

    fn split(&self) -> Split {
        let [a, b, c, d] = self.z;
        let alone = |corner: usize| Split::Corners(corner, None);
        match self.crossed {
            [true, true, true, true] => {
                let (rising, falling) = ((a - d).abs(), (b - c).abs());
                if rising < ALIKE * falling {
                    Split::Corners(1, Some(2))
                } else if falling < ALIKE * rising {
                    Split::Corners(0, Some(3))
                } else {
                    Split::Both
                }
            }
            [true, false, true, false] => alone(0),
            [true, false, false, true] => alone(1),
            [false, true, true, false] => alone(2),
            [false, true, false, true] => alone(3),
            // Of three, the two that face each other are one wall; the third is a step that ends
            // there. One alone is a step that comes to nothing.
            [true, true, ..] => Split::Columns,
            [_, _, true, true] => Split::Rows,
            _ => Split::None,
        }
    }

    /// The one straight wall in it: nought along it, of different signs beside it, from the corner
    /// and along X and Y.
    #[inline]
    pub(super) fn wall(&self) -> Option<[f64; 3]> {
        if self.walls() != 2 {
            return None;
        }
        let [below, above, left, right] = self.at;
        match self.split() {
            Split::Rows => Some([-left, left - right, 1.0]),
            Split::Columns => Some([-below, 1.0, below - above]),
            Split::Corners(corner, _) => {
                let (tu, tv) = self.cut_off(corner);
                let from = |high: usize| if high == 1 { (1.0, -1.0) } else { (0.0, 1.0) };
                let ((u, du), (v, dv)) = (from(corner & 1), from(corner >> 1));
                Some([u * tv + v * tu - tu * tv, du * tv, dv * tu])
            }
            Split::Both | Split::None => None,
        }
    }

    /// How far from a corner its two edges are crossed.
    fn cut_off(&self, corner: usize) -> (f64, f64) {
        let (column, row) = (corner & 1, corner >> 1);
        let from = |high: usize, t: f64| if high == 1 { 1.0 - t } else { t };
        (from(column, self.at[row]), from(row, self.at[2 + column]))
    }

    /// Whether a place lies in a corner that is cut off.
    fn within(&self, corner: usize, u: f64, v: f64) -> bool {
        let off = |high: usize, t: f64| if high == 1 { 1.0 - t } else { t };
        let (du, dv) = (off(corner & 1, u), off(corner >> 1, v));
        let (tu, tv) = self.cut_off(corner);
        du * tv + dv * tu < tu * tv
    }

    /// Height at a place in the cell.
    #[inline]
    fn height(&self, u: f64, v: f64) -> f32 {
        let across = |k: usize, along: f64| self.at[k] + along * (self.at[k + 1] - self.at[k]);
        let (row, column) = (
            || usize::from(v >= across(2, u)),
            || usize::from(u >= across(0, v)),
        );
        // Along an edge: a step where it is crossed, even where it is not.
        let along = |edge: usize, t: f64, low: f32, high: f32| {
            let step = if self.crossed[edge] {
                f64::from(t >= self.at[edge])
            } else {
                t
            };
            low + kept(step) * (high - low)
        };
        match self.split() {
            Split::Both => self.z[column() + 2 * row()],
            Split::Rows => {
                let row = row();
                along(row, u, self.z[2 * row], self.z[2 * row + 1])
            }
            Split::Columns => {
                let column = column();
                let (low, high) = (self.z[column], self.z[column + 2]);
                along(2 + column, v, low, high)
            }
            Split::Corners(corner, other) => {
                let cut = [Some(corner), other].into_iter().flatten();
                for k in cut.clone() {
                    if self.within(k, u, v) {
                        return self.z[k];
                    }
                }
                let mut near = nearness(u, v);
                cut.for_each(|k| near[k] = 0.0);
                self.mean(near)
            }
            Split::None => self.mean(nearness(u, v)),
        }
    }

    fn mean(&self, weights: [f64; 4]) -> f32 {
        let sum: f64 = (0..4).map(|k| weights[k] * f64::from(self.z[k])).sum();
        kept(sum / weights.iter().sum::<f64>())
    }

    /// What the volume of the cell has over the mean of its corners, in heights.
    #[inline]
    fn excess(&self) -> f64 {
        let z = self.z.map(f64::from);
        let mean = 0.25 * (z[0] + z[1] + z[2] + z[3]);
        let [below, above, left, right] = self.at;
        let line = |t: f64, a: f64, b: f64| t * a + (1.0 - t) * b;
        let (row, column) = (0.5 * (left + right), 0.5 * (below + above));
        let all = match self.split() {
            Split::Both => line(row, line(column, z[0], z[1]), line(column, z[2], z[3])),
            Split::Rows => line(row, line(below, z[0], z[1]), line(above, z[2], z[3])),
            Split::Columns => line(column, line(left, z[0], z[2]), line(right, z[1], z[3])),
            Split::Corners(corner, other) => {
                let area = |k: usize| {
                    let (tu, tv) = self.cut_off(k);
                    0.5 * tu * tv
                };
                let (own, rest) = (area(corner), 4.0 * mean - z[corner]);
                match other {
                    None => own * z[corner] + (1.0 - own) * rest * (1.0 / 3.0),
                    Some(k) => {
                        let far = area(k);
                        own * z[corner] + far * z[k] + (1.0 - own - far) * 0.5 * (rest - z[k])
                    }
                }
            }
            Split::None => mean,
        };
        all - mean
    }
}

/// How near a place is to each corner; a little even to one at the far end.
fn nearness(u: f64, v: f64) -> [f64; 4] {
    let rows = [1.0 - v, v];
    [0, 1, 2, 3].map(|k| rows[k >> 1] * if k & 1 == 1 { u } else { 1.0 - u } + 1e-6)
}

#[cfg(test)]
mod tests;
