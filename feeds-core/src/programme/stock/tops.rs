//! How high blocks of cells stand at most: most of what a cutter sweeps or looks at is air.

use super::cells::{Node, StockField};
use super::changes::Changes;
use super::remove::Reached;

/// Cells along the side of a block.
const BLOCK: usize = 8;

/// The highest node of each block of cells, those on its far edges included, or more.
#[derive(Clone, Debug, Default)]
pub(super) struct Tops {
    list: Vec<f32>,
    across: usize,
    /// How many blocks of its rows come before the first one it holds: none of a whole field.
    before: usize,
}

/// Where in a box something stands above a height.
#[derive(Clone, Debug, Default)]
pub(super) struct Standing {
    first: [usize; 2],
    /// Nodes that may stand, with the one before and after them, of the rows and of the columns
    /// of each block.
    along: [Vec<(usize, usize)>; 2],
}

impl Standing {
    /// The rows, or columns, among which something stands.
    pub(super) fn lines(&self, turned: bool) -> (usize, usize) {
        let axis = usize::from(!turned);
        let first = self.first[axis] * BLOCK;
        (first, first + self.along[usize::from(turned)].len() * BLOCK)
    }

    /// The first row, or column, of the block after that of a line.
    pub(super) fn after_block(line: usize) -> usize {
        (line / BLOCK + 1) * BLOCK
    }

    /// The nodes of a row, or column, among which something stands.
    #[inline]
    pub(super) fn of_line(&self, turned: bool, line: usize) -> (usize, usize) {
        let first = self.first[usize::from(!turned)];
        self.along[usize::from(turned)][line / BLOCK - first]
    }
}

impl Tops {
    pub(super) fn new(columns: usize, rows: usize, top: f32) -> Self {
        let across = columns.div_ceil(BLOCK);
        Self {
            list: vec![top; across * rows.div_ceil(BLOCK)],
            across,
            before: 0,
        }
    }

    /// The box of whole blocks with a node more all around, as far as there are nodes.
    pub(super) fn blocks_of(reached: Reached, (columns, rows): (usize, usize)) -> Reached {
        let wider = |(from, to): (usize, usize), nodes: usize| {
            let (from, to) = blocks((from.saturating_sub(1), to + 1));
            ((from * BLOCK).min(nodes), (to * BLOCK + 1).min(nodes))
        };
        Reached {
            columns: wider(reached.columns, columns),
            rows: wider(reached.rows, rows),
        }
    }

    /// A copy of the blocks of a box, in the memory of one before.
    pub(super) fn part(&self, reached: Reached, before: Self) -> Self {
        let ((left, right), (low, high)) = (blocks(reached.columns), blocks(reached.rows));
        let across = right - left;
        let mut list = before.list;
        list.clear();
        for row in low..high {
            list.extend_from_slice(&self.list[row * self.across + left..][..across]);
        }
        Self {
            list,
            across,
            before: low * across + left,
        }
    }

    /// Says how high a block stands, if it is held.
    pub(super) fn set(&mut self, (row, column): (usize, usize), height: f32) {
        let at = (row * self.across + column).wrapping_sub(self.before);
        if let Some(top) = self.list.get_mut(at) {
            *top = height;
        }
    }

    /// An upper bound of what stands in a cell, if there is such a cell.
    #[inline]
    pub(super) fn of_cell(&self, column: usize, row: usize) -> f32 {
        let at = row / BLOCK * self.across + column / BLOCK;
        self.list
            .get(at.wrapping_sub(self.before))
            .copied()
            .unwrap_or(f32::INFINITY)
    }

    /// The same of a box of nodes.
    pub(super) fn of_box(&self, reached: Reached) -> f32 {
        let (from, to) = blocks(reached.columns);
        let (low, high) = blocks(reached.rows);
        let rows = (low..high).flat_map(|j| &self.list[j * self.across..][from..to]);
        rows.fold(f32::NEG_INFINITY, |most, top| most.max(*top))
    }

    /// Finds where in a box something stands above a height; whether anywhere.
    pub(super) fn find(&self, reached: Reached, height: f32, found: &mut Standing) -> bool {
        let (from, to) = blocks(reached.columns);
        let (low, high) = blocks(reached.rows);
        let [rows, columns] = &mut found.along;
        rows.clear();
        columns.clear();
        columns.resize(to - from, (usize::MAX, 0));
        let mut last = 0;
        for j in low..high {
            let mut row = (usize::MAX, 0);
            for (i, top) in (from..to).zip(&self.list[j * self.across..][from..to]) {
                if *top > height {
                    row = (row.0.min(i), i + 1);
                    let column = &mut columns[i - from];
                    *column = (column.0.min(j), j + 1);
                }
            }
            if row.1 > 0 {
                last = rows.len() + 1;
            }
            rows.push(nodes(row));
        }
        if last == 0 {
            return false;
        }
        rows.truncate(last);
        for column in columns.iter_mut() {
            *column = nodes(*column);
        }
        let empty = |span: &&(usize, usize)| span.1 == 0;
        let above = rows.iter().take_while(empty).count();
        rows.drain(..above);
        let left = columns.iter().take_while(empty).count();
        let right = columns.iter().rev().take_while(empty).count();
        columns.truncate(columns.len() - right);
        columns.drain(..left);
        found.first = [from + left, low + above];
        true
    }
}

/// Blocks whose cells hold nodes `from..to`.
fn blocks((from, to): (usize, usize)) -> (usize, usize) {
    (from / BLOCK, to.div_ceil(BLOCK))
}

/// Nodes of the cells of blocks, and one more on both sides.
fn nodes((from, to): (usize, usize)) -> (usize, usize) {
    if to == 0 {
        return (0, 0);
    }
    ((from * BLOCK).saturating_sub(1), to * BLOCK + 2)
}

/// Blocks whose nodes were lowered.
#[derive(Clone, Debug, Default)]
pub(super) struct Lowered {
    first: usize,
    /// From which to which block, of each row of blocks.
    rows: Vec<(usize, usize)>,
}

impl Lowered {
    /// Begins anew with these rows of nodes.
    pub(super) fn clear(&mut self, (from, to): (usize, usize)) {
        self.first = from.saturating_sub(1) / BLOCK;
        self.rows.clear();
        let rows = to.div_ceil(BLOCK) - self.first;
        self.rows.resize(rows, (usize::MAX, 0));
    }

    /// Adds nodes of a row.
    #[inline]
    pub(super) fn add(&mut self, row: usize, from: usize, to: usize) {
        let (from, to) = (from.saturating_sub(1) / BLOCK, to.div_ceil(BLOCK));
        for block in row.saturating_sub(1) / BLOCK..=row / BLOCK {
            let span = &mut self.rows[block - self.first];
            *span = (span.0.min(from), span.1.max(to));
        }
    }
}

impl StockField {
    /// Looks for the highest of each block that was lowered, and notes it.
    pub(super) fn renew(&mut self, lowered: &Lowered, mut changes: Option<&mut Changes>) {
        for (at, &(from, to)) in lowered.rows.iter().enumerate() {
            let block = lowered.first + at;
            let (low, high) = (block * BLOCK, (block * BLOCK + BLOCK + 1).min(self.rows));
            for column in from..to {
                let before = self.tops.list[block * self.tops.across + column];
                let (left, right) = (
                    column * BLOCK,
                    (column * BLOCK + BLOCK + 1).min(self.columns),
                );
                let corners = [low, high - 1].map(|row| row * self.columns);
                let stands = |k: usize| self.nodes[k].z >= before;
                // Another node as high still stands, most often in a corner.
                if corners
                    .iter()
                    .any(|k| stands(k + left) || stands(k + right - 1))
                {
                    continue;
                }
                let highest = |row: usize| {
                    let nodes = &self.nodes[row * self.columns..][left..right];
                    nodes
                        .iter()
                        .fold(self.floor, |most, n: &Node| most.max(n.z))
                };
                let mut most = self.floor;
                for row in low..high {
                    most = most.max(highest(row));
                    if most >= before {
                        break;
                    }
                }
                self.tops.list[block * self.tops.across + column] = most;
                if let Some(changes) = &mut changes {
                    changes.top((block, column), most);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests;
