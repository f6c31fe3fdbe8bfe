//! What a removal changes, noted, and a copied part of the stock that follows it.
//!
//! The stock itself is cut in one thread. Another that holds a copy of the stock round some pieces
//! of the way can look along them while the first cuts on: it takes over what has changed, which
//! is far less work than to find it.

use super::StockEnd;
use super::cells::{Node, StockField};
use super::course::CoursePiece;
use super::remove::Reached;
use super::swept::Swept;
use super::tops::Tops;

/// What was changed, in order.
#[derive(Clone, Debug, Default)]
pub(crate) struct Changes {
    runs: Vec<Run>,
    /// The nodes of all runs.
    nodes: Vec<Node>,
    tops: Vec<Top>,
}

/// Nodes one beside the other.
#[derive(Clone, Copy, Debug)]
struct Run {
    row: usize,
    column: usize,
    nodes: usize,
}

/// How high a block now stands at most.
#[derive(Clone, Copy, Debug)]
struct Top {
    row: usize,
    column: usize,
    height: f32,
}

/// A box round pieces of the way, in cells from the first node.
#[derive(Clone, Copy, Debug)]
pub(crate) struct StockBox {
    least: [f64; 2],
    most: [f64; 2],
}

impl Default for StockBox {
    /// Round none.
    fn default() -> Self {
        Self {
            least: [f64::INFINITY; 2],
            most: [f64::NEG_INFINITY; 2],
        }
    }
}

/// A place among changes: those before it have happened.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct ChangesMark {
    runs: usize,
    nodes: usize,
    tops: usize,
}

impl Changes {
    /// Begins anew.
    pub(crate) fn clear(&mut self) {
        self.runs.clear();
        self.nodes.clear();
        self.tops.clear();
    }

    /// Behind all of them so far.
    pub(crate) fn mark(&self) -> ChangesMark {
        ChangesMark {
            runs: self.runs.len(),
            nodes: self.nodes.len(),
            tops: self.tops.len(),
        }
    }

    /// Notes how nodes of a row are now.
    #[inline]
    pub(super) fn nodes(&mut self, (row, column): (usize, usize), nodes: &[Node]) {
        self.runs.push(Run {
            row,
            column,
            nodes: nodes.len(),
        });
        self.nodes.extend_from_slice(nodes);
    }

    /// Notes how high a block now stands.
    pub(super) fn top(&mut self, (row, column): (usize, usize), height: f32) {
        self.tops.push(Top {
            row,
            column,
            height,
        });
    }
}

impl StockField {
    /// From now on changes are noted in these, or no more.
    pub(crate) fn note(&mut self, changes: Option<Changes>) -> Option<Changes> {
        std::mem::replace(&mut self.work.get_or_insert_default().changes, changes)
    }

    /// Behind all changes so far.
    pub(crate) fn changed(&self) -> ChangesMark {
        let changes = self.work.as_ref().and_then(|work| work.changes.as_ref());
        changes.map_or_else(ChangesMark::default, Changes::mark)
    }

    /// A box that holds a piece as well: all that is looked at along it, and all that it changes.
    pub(crate) fn box_with(
        &self,
        round: StockBox,
        piece: &CoursePiece,
        end: &StockEnd,
    ) -> StockBox {
        // What stands beside the cutter is looked for two cells from it.
        const BESIDE: f64 = 4.0;
        let (from, to) = Swept::of(self, piece, end.radius_mm, false).bounds();
        StockBox {
            least: [0, 1].map(|k| round.least[k].min(from[k] - BESIDE)),
            most: [0, 1].map(|k| round.most[k].max(to[k] + BESIDE)),
        }
    }

    /// The box in whole blocks, if any of it lies in the field.
    fn blocks_in(&self, round: &StockBox) -> Option<Reached> {
        let reached = self.reached((round.least, round.most))?;
        Some(Tops::blocks_of(reached, (self.columns, self.rows)))
    }

    /// How many nodes a copy of a box would hold.
    pub(crate) fn nodes_in(&self, round: &StockBox) -> usize {
        self.blocks_in(round).map_or(0, |reached| {
            let ((left, right), (low, high)) = (reached.columns, reached.rows);
            (right - left) * (high - low)
        })
    }

    /// Copies the stock as it stands in a box, to be looked at within it, in the memory of a part.
    pub(crate) fn copy(&self, round: &StockBox, part: &mut Option<Self>) {
        let Some(reached) = self.blocks_in(round) else {
            *part = None;
            return;
        };
        let ((left, right), (low, high)) = (reached.columns, reached.rows);
        let memory = part.take().map(|part| (part.nodes, part.tops));
        let (mut nodes, tops) = memory.unwrap_or_default();
        nodes.clear();
        for row in low..high {
            let first = row * self.columns;
            nodes.extend_from_slice(&self.nodes[first + left..first + right]);
        }
        let columns = right - left;
        *part = Some(Self {
            start: self.start,
            cell: self.cell,
            per_mm: self.per_mm,
            columns,
            rows: high - low,
            before: low * columns + left,
            nodes,
            tops: self.tops.part(reached, tops),
            floor: self.floor,
            outline: self.outline,
            work: None,
        });
    }

    /// Takes over what has changed from one mark to another, where it lies within the part.
    pub(crate) fn catch_up(&mut self, changes: &Changes, from: ChangesMark, to: ChangesMark) {
        let mut nodes = &changes.nodes[from.nodes..to.nodes];
        for run in &changes.runs[from.runs..to.runs] {
            let (now, rest) = nodes.split_at(run.nodes);
            nodes = rest;
            let at = (run.row * self.columns + run.column).wrapping_sub(self.before);
            if let Some(own) = self.nodes.get_mut(at..at.wrapping_add(run.nodes)) {
                own.copy_from_slice(now);
            }
        }
        for top in &changes.tops[from.tops..to.tops] {
            self.tops.set((top.row, top.column), top.height);
        }
    }
}

#[cfg(test)]
mod tests;
