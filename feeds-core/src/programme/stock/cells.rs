//! Nodes of the stock: a height each, and where a wall crosses the edges to the next two.

use super::StockShape;
use super::remove::Work;
use super::tops::Tops;

/// No wall crosses the edge.
pub(super) const NONE: u16 = u16::MAX;
/// Into how many parts an edge is divided: at 50 µm one is 0.8 nm.
const PARTS: f64 = 65_534.0;
/// Cells that are kept free around the stock. No whole number: paths and faces are round numbers,
/// and should not run along nodes.
const MARGIN: f64 = 2.313_7;

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
    pub(super) nodes: Vec<Node>,
    pub(super) tops: Tops,
    pub(super) floor: f32,
    pub(super) work: Work,
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
fn share(part: u16) -> f64 {
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
        let mut field = Self {
            start: [0, 1].map(|a| bounds.least[a] - MARGIN * cell_mm),
            cell: cell_mm,
            per_mm: 1.0 / cell_mm,
            columns,
            rows,
            nodes: vec![empty; columns * rows],
            tops: Tops::new(columns, rows, kept(bounds.most[2])),
            floor,
            work: Work::default(),
        };
        field.raise(shape, kept(bounds.most[2]));
        Ok(field)
    }

    /// Puts up the stock, with its sides as walls.
    fn raise(&mut self, shape: &StockShape, top: f32) {
        for j in 0..self.rows {
            let Some(ends) = shape.along(0, self.start[1] + count(j) * self.cell) else {
                continue;
            };
            let [low, high] = [ends.0, ends.1].map(|x| (x - self.start[0]) * self.per_mm);
            let (s, e) = (whole(low.ceil()), whole(high.floor()) + 1);
            if e <= s {
                continue;
            }
            let row = &mut self.nodes[j * self.columns..(j + 1) * self.columns];
            row[s..e].iter_mut().for_each(|n| n.z = top);
            row[s - 1].right = part(low - count(s - 1));
            row[e - 1].right = part(high - count(e - 1));
        }
        for i in 0..self.columns {
            let Some(ends) = shape.along(1, self.start[0] + count(i) * self.cell) else {
                continue;
            };
            let [low, high] = [ends.0, ends.1].map(|y| (y - self.start[1]) * self.per_mm);
            let (s, e) = (whole(low.ceil()), whole(high.floor()) + 1);
            if e <= s {
                continue;
            }
            self.nodes[(s - 1) * self.columns + i].up = part(low - count(s - 1));
            self.nodes[(e - 1) * self.columns + i].up = part(high - count(e - 1));
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
        let ((i, u), (j, v)) = (node_below(x), node_below(y));
        if !(x >= 0.0 && y >= 0.0 && i + 1 < self.columns && j + 1 < self.rows) {
            return (self.floor, true);
        }
        let k = j * self.columns + i;
        let (Some(&[a, b]), Some(&[c, d])) = (
            self.nodes.get(k..k + 2),
            self.nodes.get(k + self.columns..k + self.columns + 2),
        ) else {
            return (self.floor, true);
        };
        if a.right & c.right & a.up & b.up == NONE {
            let (u, v) = (kept(u), kept(v));
            let (below, above) = (a.z + u * (b.z - a.z), c.z + u * (d.z - c.z));
            return (below + v * (above - below), true);
        }
        walled(a, b, c, d, (u, v))
    }

    /// At what share of the line between two places, in cells and within one, a wall crosses it;
    /// none where that is not plain to see.
    pub(super) fn wall_between(&self, p: (f64, f64), q: (f64, f64)) -> Option<f64> {
        let mut share = 0.5;
        for _ in 0..3 {
            let [x, y] = [p.0 + share * (q.0 - p.0), p.1 + share * (q.1 - p.1)];
            let ((i, _), (j, _)) = (node_below(x), node_below(y));
            if i + 1 >= self.columns || j + 1 >= self.rows {
                return None;
            }
            let (low, high) = (j * self.columns + i, (j + 1) * self.columns + i);
            let (a, b) = (self.nodes[low], self.nodes[low + 1]);
            let (c, d) = (self.nodes[high], self.nodes[high + 1]);
            let wall = Cell::new([a, b, c, d]).wall()?;
            let beyond =
                |(x, y): (f64, f64)| wall[0] + wall[1] * (x - count(i)) + wall[2] * (y - count(j));
            let (from, to) = (beyond(p), beyond(q));
            if from * to >= 0.0 {
                return None;
            }
            let before = share;
            share = from / (from - to);
            let [x, y] = [p.0 + share * (q.0 - p.0), p.1 + share * (q.1 - p.1)];
            if (node_below(x).0, node_below(y).0) == (i, j) || share == before {
                return Some(share);
            }
        }
        None
    }

    /// What the cell above and to the right of a node adds to the mean of its corners, in heights.
    #[inline]
    pub(super) fn excess(&self, node: usize) -> f64 {
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

// Nodes one by one come in registers, which an array of them does not.

/// The height at a place in a cell that walls cross, and whether it is sure.
#[inline(never)]
fn walled(a: Node, b: Node, c: Node, d: Node, (u, v): (f64, f64)) -> (f32, bool) {
    let cell = Cell::new([a, b, c, d]);
    (cell.height(u, v), cell.walls() < 3)
}

/// What the volume of such a cell has over the mean of its corners, in heights.
#[inline(never)]
fn walled_excess(a: Node, b: Node, c: Node, d: Node) -> f64 {
    Cell::new([a, b, c, d]).excess()
}

/// A cell that walls cross: its corners (along X first), which of its edges below, above, left and
/// right are crossed, and where.
struct Cell {
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
    fn new([a, b, c, d]: [Node; 4]) -> Self {
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
    fn wall(&self) -> Option<[f64; 3]> {
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
                let mut near = self.nearness(u, v);
                cut.for_each(|k| near[k] = 0.0);
                self.mean(near)
            }
            Split::None => self.mean(self.nearness(u, v)),
        }
    }

    /// How near a place is to each corner; a little even to one at the far end.
    fn nearness(&self, u: f64, v: f64) -> [f64; 4] {
        let rows = [1.0 - v, v];
        [0, 1, 2, 3].map(|k| rows[k >> 1] * if k & 1 == 1 { u } else { 1.0 - u } + 1e-6)
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
