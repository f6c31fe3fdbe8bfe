//! Nodes of the stock: a height each, and where a wall crosses the edges to the next two.

use super::StockShape;
use super::outline::Outline;
use super::remove::Work;
use super::tops::Tops;
use super::walled::{Cell, walled, walled_excess};

/// No wall crosses the edge.
pub(super) const NONE: u16 = u16::MAX;
/// Into how many parts an edge is divided: at 50 µm one is 0.8 nm.
const PARTS: f64 = 65_534.0;
/// By how many cells the field stands wider than the stock on each side.
const WIDER: f64 = 2.0;
/// Cells of the field around the stock. No whole number: paths and faces are round numbers, and
/// should not run along nodes.
const MARGIN: f64 = WIDER + 2.313_7;

/// A node: 8 bytes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Node {
    pub(super) z: f32,
    /// Where a wall crosses the edge to the next node along X.
    pub(super) right: u16,
    /// The same along Y.
    pub(super) up: u16,
}

/// The cell asked for makes more nodes than are allowed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TooFine {
    /// Nodes it would need.
    pub nodes: u64,
    /// A cell in mm that keeps to the limit.
    pub fits_mm: f64,
}

/// The stock as it stands: heights, and where walls cross the edges between them.
#[derive(Clone, Debug)]
pub struct StockField {
    pub(super) start: [f64; 2],
    pub(super) cell: f64,
    pub(super) per_mm: f64,
    pub(super) columns: usize,
    pub(super) rows: usize,
    /// How many nodes of its rows come before the first one it holds: none of a whole field.
    pub(super) before: usize,
    pub(super) nodes: Vec<Node>,
    pub(super) tops: Tops,
    pub(super) floor: f32,
    pub(super) outline: Outline,
    /// What a removal keeps from one to the next; away while one is under way.
    pub(super) work: Option<Box<Work>>,
}

/// A number of nodes or a place among them, which is never negative nor beyond memory.
#[inline]
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a cast of a float saturates, and both ends are meant"
)]
pub(super) fn whole(value: f64) -> usize {
    value as u32 as usize
}

/// The node at or below a place that is not negative, and the share of the edge beyond it.
#[inline]
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a cast of a float saturates, and both ends are meant"
)]
pub(super) fn node_below(place: f64) -> (usize, f64) {
    let node = place as u32;
    (node as usize, place - f64::from(node))
}

/// A height as it is kept.
#[inline]
#[expect(
    clippy::cast_possible_truncation,
    reason = "at 100 mm a height is kept to 4 nm"
)]
pub(super) fn kept(height: f64) -> f32 {
    height as f32
}

#[inline]
#[expect(
    clippy::cast_precision_loss,
    reason = "nodes are counted in millions, not beyond 2^52"
)]
pub(super) fn count(nodes: usize) -> f64 {
    nodes as f64
}

/// A share of an edge as it is kept.
#[inline]
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to 0 ..= 65534"
)]
pub(super) fn part(share: f64) -> u16 {
    (share.clamp(0.0, 1.0) * PARTS + 0.5) as u16
}

/// The share of the edge; half where no wall crosses it.
#[inline]
pub(super) fn share(part: u16) -> f64 {
    if part == NONE {
        0.5
    } else {
        f64::from(part) * (1.0 / PARTS)
    }
}

/// Nodes along a side.
fn along(size: f64, cell: f64) -> f64 {
    (size / cell + 2.0 * MARGIN).ceil() + 2.0
}

impl StockField {
    /// Whether a stock with nodes every `cell_mm` keeps to `most_nodes`.
    ///
    /// # Errors
    /// [`TooFine`] where it does not.
    pub fn fits(shape: &StockShape, cell_mm: f64, most_nodes: u64) -> Result<(), TooFine> {
        let bounds = shape.bounds();
        let size = [0, 1].map(|a| (bounds.most[a] - bounds.least[a]).max(0.0));
        let needed = |cell: f64| along(size[0], cell) * along(size[1], cell);
        let most = most_nodes.min(u64::from(u32::MAX));
        #[expect(clippy::cast_precision_loss, reason = "at most 2^32")]
        let fits = |cell: f64| needed(cell) <= most as f64;
        if fits(cell_mm) {
            return Ok(());
        }
        let mut fits_mm = cell_mm.max(1e-6);
        while !fits(fits_mm) && fits_mm < 1e3 {
            fits_mm *= 1.02;
        }
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a count; it saturates"
        )]
        let nodes = needed(cell_mm) as u64;
        Err(TooFine { nodes, fits_mm })
    }

    /// The stock before the first cut, with nodes every `cell_mm`.
    ///
    /// # Errors
    /// [`TooFine`] where that makes more than `most_nodes`.
    pub fn new(shape: &StockShape, cell_mm: f64, most_nodes: u64) -> Result<Self, TooFine> {
        Self::fits(shape, cell_mm, most_nodes)?;
        let bounds = shape.bounds();
        let size = [0, 1].map(|a| (bounds.most[a] - bounds.least[a]).max(0.0));
        let (columns, rows) = (
            whole(along(size[0], cell_mm)),
            whole(along(size[1], cell_mm)),
        );
        let floor = kept(bounds.least[2]);
        let empty = Node {
            z: floor,
            right: NONE,
            up: NONE,
        };
        let start = [0, 1].map(|a| bounds.least[a] - MARGIN * cell_mm);
        let mut field = Self {
            start,
            cell: cell_mm,
            per_mm: 1.0 / cell_mm,
            columns,
            rows,
            before: 0,
            nodes: vec![empty; columns * rows],
            tops: Tops::new(columns, rows, kept(bounds.most[2])),
            floor,
            outline: Outline::of(shape, start, 1.0 / cell_mm),
            work: None,
        };
        field.raise(&shape.wider(WIDER * cell_mm), kept(bounds.most[2]));
        Ok(field)
    }

    /// Puts up the stock, wider than it is. Its sides there need no walls: they lie beyond the
    /// outline, where nobody looks.
    fn raise(&mut self, shape: &StockShape, top: f32) {
        for j in 0..self.rows {
            let Some(ends) = shape.along_x(self.start[1] + count(j) * self.cell) else {
                continue;
            };
            let [low, high] = [ends.0, ends.1].map(|x| (x - self.start[0]) * self.per_mm);
            let (s, e) = (whole(low.ceil()), whole(high.floor()) + 1);
            if e <= s {
                continue;
            }
            let row = &mut self.nodes[j * self.columns..(j + 1) * self.columns];
            row[s..e].iter_mut().for_each(|n| n.z = top);
        }
    }

    /// Distance of the nodes, mm.
    pub fn cell_mm(&self) -> f64 {
        self.cell
    }

    /// Nodes along X and Y.
    pub fn nodes(&self) -> [usize; 2] {
        [self.columns, self.rows]
    }

    /// Height of what stands at a place, mm; the floor of the stock where nothing does.
    pub fn height(&self, x: f64, y: f64) -> f64 {
        let at = |axis: usize, v: f64| (v - self.start[axis]) * self.per_mm;
        f64::from(self.seen(at(0, x), at(1, y)))
    }

    /// The most of the heights at some places, mm; without those that are sure to be no more than
    /// `low`, which are not looked up.
    pub(crate) fn highest_over(&self, places: &[[f64; 2]], low: f64) -> f64 {
        let at = |axis: usize, v: f64| (v - self.start[axis]) * self.per_mm;
        let places = places.iter().map(|p| (at(0, p[0]), at(1, p[1])));
        let high = places.filter(|place| f64::from(self.stands_at_most(*place)) > low);
        let heights = high.map(|(x, y)| f64::from(self.seen(x, y)));
        heights.fold(f64::NEG_INFINITY, f64::max)
    }

    /// Height at a place counted in cells from the first node.
    #[inline]
    pub(super) fn seen(&self, x: f64, y: f64) -> f32 {
        self.look_up(x, y).0
    }

    /// An upper bound of it, by far quicker.
    #[inline]
    pub(super) fn stands_at_most(&self, (x, y): (f64, f64)) -> f32 {
        self.tops.of_cell(node_below(x).0, node_below(y).0)
    }

    /// The same, and whether it is sure: where three walls or steps cross the edges of a cell,
    /// where they meet in it is a guess.
    #[inline]
    pub(super) fn look_up(&self, x: f64, y: f64) -> (f32, bool) {
        if !self.outline.holds((x, y)) {
            return (self.floor, true);
        }
        let ((i, u), (j, v)) = (node_below(x), node_below(y));
        let Some([a, b, c, d]) = self.corners(i, j) else {
            return (self.floor, true);
        };
        if a.right & c.right & a.up & b.up == NONE {
            let (u, v) = (kept(u), kept(v));
            let (below, above) = (a.z + u * (b.z - a.z), c.z + u * (d.z - c.z));
            return (below + v * (above - below), true);
        }
        walled(a, b, c, d, (u, v))
    }

    /// The corners of a cell, along X first, if they are held.
    #[inline]
    fn corners(&self, i: usize, j: usize) -> Option<[Node; 4]> {
        let k = (j * self.columns + i).wrapping_sub(self.before);
        let above = k.wrapping_add(self.columns);
        let (&[a, b], &[c, d]) = (
            self.nodes.get(k..k.wrapping_add(2))?,
            self.nodes.get(above..above.wrapping_add(2))?,
        ) else {
            return None;
        };
        Some([a, b, c, d])
    }

    /// At what share of the line between two places, in cells and within one, a wall crosses it;
    /// none where that is not plain to see.
    pub(super) fn wall_between(&self, p: (f64, f64), q: (f64, f64)) -> Option<f64> {
        if !(self.outline.holds(p) && self.outline.holds(q)) {
            return None;
        }
        let mut share = 0.5;
        for _ in 0..3 {
            let [x, y] = [p.0 + share * (q.0 - p.0), p.1 + share * (q.1 - p.1)];
            let ((i, _), (j, _)) = (node_below(x), node_below(y));
            let wall = Cell::new(self.corners(i, j)?).wall()?;
            let beyond =
                |(x, y): (f64, f64)| wall[0] + wall[1] * (x - count(i)) + wall[2] * (y - count(j));
            let (from, to) = (beyond(p), beyond(q));
            if from * to >= 0.0 {
                return None;
            }
            let before = share;
            share = from / (from - to);
            let [x, y] = [p.0 + share * (q.0 - p.0), p.1 + share * (q.1 - p.1)];
            if (node_below(x).0, node_below(y).0) == (i, j) || (share - before).abs() < 1e-9 {
                return Some(share);
            }
        }
        None
    }

    /// What the cell above and to the right of a node adds to the mean of its corners, in heights.
    #[inline]
    pub(super) fn excess(&self, node: usize) -> f64 {
        if let Some(beside) = self.excess_beside(node) {
            return beside;
        }
        let (a, b) = (self.nodes[node], self.nodes[node + 1]);
        let c = self.nodes[node + self.columns];
        if a.right & c.right & a.up & b.up == NONE {
            return 0.0;
        }
        let d = self.nodes[node + self.columns + 1];
        walled_excess(a, b, c, d)
    }

    /// Volume that stands above the floor, mm³.
    pub fn volume_mm3(&self) -> f64 {
        let mut sum = 0.0;
        for (j, row) in self.nodes.chunks_exact(self.columns).enumerate() {
            let floor = f64::from(self.floor);
            sum += row.iter().map(|n| f64::from(n.z) - floor).sum::<f64>();
            if j + 1 < self.rows {
                let first = j * self.columns;
                let cells = first..first + self.columns - 1;
                sum += cells.map(|k| self.excess(k)).sum::<f64>();
            }
        }
        sum * self.cell * self.cell
    }
}

#[cfg(test)]
mod tests;
