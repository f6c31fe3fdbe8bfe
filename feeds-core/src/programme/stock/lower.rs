//! Lowering nodes: strips to one height or to a surface, and the walls within them opened.

use super::cells::{NONE, StockField, count, kept};
use super::remove::{Reached, STEP, Strip, Work};
use super::surface::Surface;

impl StockField {
    /// Whether any node of a row stands above a height.
    #[inline]
    pub(super) fn stands(&self, row: usize, from: usize, to: usize, height: f32) -> bool {
        let nodes = &self.nodes[row * self.columns + from..row * self.columns + to];
        nodes.iter().any(|n| n.z > height)
    }

    /// Lowers a strip to one height, and takes the walls within it away.
    pub(super) fn press(&mut self, strip: Strip, to_z: f32) -> f64 {
        let Strip { row, from, to } = strip;
        let base = row * self.columns;
        let mut sum = 0.0;
        for few in self.nodes[base + from..base + to].chunks_mut(64) {
            let mut gone = 0.0_f32;
            for n in few {
                gone += (n.z - to_z).max(0.0);
                n.z = n.z.min(to_z);
            }
            sum += f64::from(gone);
        }
        self.open(row, from, to);
        sum
    }

    /// Between nodes of one height stands no wall.
    fn open(&mut self, row: usize, from: usize, to: usize) {
        let base = row * self.columns;
        let across = base + from.saturating_sub(1)..base + (to + 1).min(self.columns);
        let nodes = &mut self.nodes[across];
        for k in 1..nodes.len() {
            if nodes[k - 1].z.to_bits() == nodes[k].z.to_bits() {
                nodes[k - 1].right = NONE;
            }
        }
        for upper in [row, row + 1] {
            if upper == 0 || upper >= self.rows {
                continue;
            }
            let (below, above) = self.nodes.split_at_mut(upper * self.columns);
            let below = &mut below[(upper - 1) * self.columns..][from..to];
            for (b, a) in below.iter_mut().zip(&above[from..to]) {
                if b.z.to_bits() == a.z.to_bits() {
                    b.up = NONE;
                }
            }
        }
    }

    /// Lowers all strips to a surface, and opens the edges between nodes that lie on it.
    pub(super) fn shape<S: Surface>(
        &mut self,
        surface: &S,
        reached: Reached,
        work: &mut Work,
    ) -> f64 {
        let (first, wide) = (reached.columns.0, reached.columns.1 - reached.columns.0);
        let high = reached.rows.1 - reached.rows.0;
        work.swept.clear();
        work.swept.resize(wide * high, false);
        let lowest = kept(surface.lowest()).max(self.floor);
        let mut sum = 0.0;
        for strip in &work.strips {
            let y = self.start[1] + count(strip.row) * self.cell;
            let marks = (strip.row - reached.rows.0) * wide;
            for i in strip.from..strip.to {
                let node = &mut self.nodes[strip.row * self.columns + i];
                if node.z < lowest - STEP {
                    continue;
                }
                let x = self.start[0] + count(i) * self.cell;
                if f64::from(node.z + STEP) < surface.at_least(x, y) {
                    continue;
                }
                let to = kept(surface.at(x, y)).max(self.floor);
                work.swept[marks + i - first] = node.z >= to - STEP;
                if node.z > to {
                    sum += f64::from(node.z - to);
                    node.z = to;
                }
            }
        }
        for j in 0..high {
            for i in 0..wide {
                if !work.swept[j * wide + i] {
                    continue;
                }
                let node = (j + reached.rows.0) * self.columns + first + i;
                if i + 1 < wide && work.swept[j * wide + i + 1] {
                    self.nodes[node].right = NONE;
                }
                if j + 1 < high && work.swept[(j + 1) * wide + i] {
                    self.nodes[node].up = NONE;
                }
            }
        }
        sum
    }
}
