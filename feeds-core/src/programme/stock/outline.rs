//! What the stock was from above, in closed form: its sides never move, so they need no nodes.
//!
//! The field is put up wider than the stock and cut off at this outline where it is looked at and
//! where its volume is counted. A web along a side then has the height of nodes beyond the side,
//! however thin it is.

use super::StockShape;
use super::cells::{StockField, count};

/// Rows of a cell, and places of each, at which a volume beside a side is counted.
const PARTS: usize = 8;

/// The outline of the stock, in cells from the first node.
#[derive(Clone, Copy, Debug)]
pub(super) struct Outline {
    least: [f64; 2],
    most: [f64; 2],
    /// Centre and radius of a round one.
    round: Option<([f64; 2], f64)>,
}

impl Outline {
    pub(super) fn of(shape: &StockShape, start: [f64; 2], per_mm: f64) -> Self {
        let bounds = shape.bounds();
        let at = |p: [f64; 3]| [0, 1].map(|k| (p[k] - start[k]) * per_mm);
        let round = match *shape {
            StockShape::Block(_) => None,
            StockShape::Round {
                centre: [x, y],
                radius_mm,
                ..
            } => Some((at([x, y, 0.0]), radius_mm * per_mm)),
        };
        Self {
            least: at(bounds.least),
            most: at(bounds.most),
            round,
        }
    }

    /// Whether a place lies within.
    #[inline]
    pub(super) fn holds(&self, (x, y): (f64, f64)) -> bool {
        let [[a, b], [c, d]] = [self.least, self.most];
        let boxed = x >= a && y >= b && x <= c && y <= d;
        boxed
            && self.round.is_none_or(|([o, p], r)| {
                let (dx, dy) = (x - o, y - p);
                dx * dx + dy * dy <= r * r
            })
    }

    /// Whether a whole cell does: an outline bulges out everywhere.
    #[inline]
    fn holds_cell(&self, i: f64, j: f64) -> bool {
        let corners = [(i, j), (i + 1.0, j), (i, j + 1.0), (i + 1.0, j + 1.0)];
        corners.into_iter().all(|corner| self.holds(corner))
    }

    /// From where to where a row lies within.
    fn row(&self, y: f64) -> (f64, f64) {
        match self.round {
            None => (self.least[0], self.most[0]),
            Some(([o, p], r)) => {
                let half = (r * r - (y - p) * (y - p)).max(0.0).sqrt();
                (o - half, o + half)
            }
        }
    }
}

impl StockField {
    /// What the volume of a cell beside a side, or beyond it, has over the mean of its corners, in
    /// heights above the floor; none of a cell within the stock.
    #[inline]
    pub(super) fn excess_beside(&self, node: usize) -> Option<f64> {
        let (i, j) = (count(node % self.columns), count(node / self.columns));
        if self.outline.holds_cell(i, j) {
            return None;
        }
        let above = node + self.columns;
        let corners = [node, node + 1, above, above + 1].map(|n| self.above_floor(self.nodes[n].z));
        Some(self.within(i, j) - 0.25 * corners.iter().sum::<f64>())
    }

    fn above_floor(&self, z: f32) -> f64 {
        f64::from(z) - f64::from(self.floor)
    }

    /// The volume of the part of a cell that lies within the outline, in heights.
    fn within(&self, i: f64, j: f64) -> f64 {
        let outline = &self.outline;
        let (low, high) = (j.max(outline.least[1]), (j + 1.0).min(outline.most[1]));
        let middle = |k: usize| (count(k) + 0.5) / count(PARTS);
        let row = |k: usize| {
            let y = low + (high - low) * middle(k);
            let (from, to) = outline.row(y);
            let (from, to) = (from.max(i), to.min(i + 1.0));
            if to <= from {
                return 0.0;
            }
            let height = |m: usize| self.above_floor(self.seen(from + (to - from) * middle(m), y));
            (0..PARTS).map(height).sum::<f64>() * (to - from)
        };
        if high <= low {
            return 0.0;
        }
        (0..PARTS).map(row).sum::<f64>() * (high - low) / count(PARTS * PARTS)
    }
}
