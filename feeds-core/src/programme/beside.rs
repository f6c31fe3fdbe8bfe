//! How far cuts go beside the stock: their leads at both ends apart from what lies between.

use super::envelope::EMPTY;
use super::motion::Motion;
use super::setting::Bounds;

/// A box, and the lines of what went farthest at each of its sides in X and Y, least then most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Sides {
    bounds: Bounds,
    lines: [[u64; 2]; 2],
}

impl Sides {
    const NONE: Self = Self {
        bounds: EMPTY,
        lines: [[0; 2]; 2],
    };

    fn take(&mut self, swept: &Bounds, line: u64) {
        for axis in 0..2 {
            let (least, most) = (swept.least[axis], swept.most[axis]);
            if least < self.bounds.least[axis] {
                self.lines[axis][0] = line;
            }
            if most > self.bounds.most[axis] {
                self.lines[axis][1] = line;
            }
            self.bounds.take(axis, least, most);
        }
    }

    /// How far it goes out of the stock along an axis, and the line that goes farthest.
    pub(crate) fn out_of(&self, stock: &Bounds, axis: usize) -> (f64, u64) {
        let least = stock.least[axis] - self.bounds.least[axis];
        let most = self.bounds.most[axis] - stock.most[axis];
        let side = usize::from(most > least);
        (least.max(most), self.lines[axis][side])
    }
}

/// Where cuts below the top of the stock went, with the radius of the cutter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Beside {
    /// Where a cut leads in or out: its first and its last point.
    pub(crate) leads: Sides,
    /// All between.
    pub(crate) path: Sides,
    /// The end of the last level cut while nothing has followed it.
    open: Option<(Bounds, u64)>,
}

impl Default for Beside {
    fn default() -> Self {
        Self {
            leads: Sides::NONE,
            path: Sides::NONE,
            open: None,
        }
    }
}

impl Beside {
    /// Takes in a cut below the top of the stock; the box has the radius of the cutter in it.
    pub(crate) fn cut(&mut self, motion: &Motion, swept: &Bounds, shift: [f64; 3], radius: f64) {
        let level = (0..2).any(|a| (motion.to[a] - motion.from[a]).abs() > 1e-9);
        if !level && motion.arc.is_none() {
            return;
        }
        let point = |at: [f64; 3], known: [bool; 3]| {
            let mut point = EMPTY;
            for axis in 0..2 {
                if known[axis] {
                    let middle = at[axis] + shift[axis];
                    point.take(axis, middle - radius, middle + radius);
                }
            }
            point
        };
        let from = point(motion.from, motion.from_known);
        match self.open.take() {
            // An end that another cut goes on from lies in the path.
            Some((end, line)) => self.path.take(&end, line),
            None => self.leads.take(&from, motion.line),
        }
        if motion.arc.is_some() {
            self.path.take(swept, motion.line);
        }
        self.open = Some((point(motion.to, motion.to_known), motion.line));
    }

    /// No cut goes on from the last one.
    pub(crate) fn ends(&mut self) {
        if let Some((end, line)) = self.open.take() {
            self.leads.take(&end, line);
        }
    }
}
