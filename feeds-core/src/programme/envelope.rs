//! How far the path reaches, with the radius of the cutter.

use super::beside::Beside;
use super::motion::{Motion, Tool};
use super::setting::Bounds;

/// The box that cutting moves and all moves stay in. Lengths in mm, work coordinates as first set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Envelope {
    /// Cutting moves, widened by the radius in X and Y where it is known.
    pub(crate) cut: Bounds,
    /// All moves of the tool point.
    pub(crate) all: Bounds,
    /// The line of the deepest cut.
    pub(crate) deepest: u64,
    /// Where cuts went below the top of the stock, with the radius of the cutter.
    pub(crate) beside: Beside,
    /// The largest radius of a cutter at work in mm.
    pub(crate) widest: f64,
    /// The cutter at work, and its cutting moves so far, without its radius.
    tool: Option<Tool>,
    at_work: Bounds,
    /// The lowest Z of all cutting moves.
    lowest: f64,
}

pub(crate) const EMPTY: Bounds = Bounds {
    least: [f64::INFINITY; 3],
    most: [f64::NEG_INFINITY; 3],
};

impl Default for Envelope {
    fn default() -> Self {
        Self {
            cut: EMPTY,
            all: EMPTY,
            deepest: 0,
            beside: Beside::default(),
            widest: 0.0,
            tool: None,
            at_work: EMPTY,
            lowest: f64::INFINITY,
        }
    }
}

impl Bounds {
    /// Takes in a stretch along one axis.
    #[inline]
    pub(crate) fn take(&mut self, axis: usize, least: f64, most: f64) {
        // Hardly ever true, which costs less than taking the smaller one each time.
        if least < self.least[axis] {
            self.least[axis] = least;
        }
        if most > self.most[axis] {
            self.most[axis] = most;
        }
    }

    /// Whether two boxes share room.
    pub(crate) fn meets(&self, other: &Self) -> bool {
        (0..3).all(|a| self.least[a] < other.most[a] && other.least[a] < self.most[a])
    }

    /// Whether a cutter whose tip goes along this path, and which reaches up from it, meets a box.
    pub(crate) fn cutter_meets(&self, stock: &Self) -> bool {
        let across = (0..2).all(|a| self.least[a] < stock.most[a] && stock.least[a] < self.most[a]);
        across && self.least[2] < stock.most[2]
    }

    /// Length along an axis; none when nothing was taken in.
    pub(crate) fn size(&self, axis: usize) -> Option<f64> {
        let size = self.most[axis] - self.least[axis];
        size.is_finite().then_some(size)
    }
}

/// The box of one move of the tool point; an axis that is not known is left empty.
#[inline]
pub(crate) fn of_move(motion: &Motion, shift: [f64; 3]) -> Bounds {
    let mut bounds = EMPTY;
    for (axis, shift) in shift.into_iter().enumerate() {
        let (from, to) = (motion.from[axis] + shift, motion.to[axis] + shift);
        let (least, most) = match (motion.from_known[axis], motion.to_known[axis]) {
            (true, true) if from < to => (from, to),
            (true, true) => (to, from),
            (true, false) => (from, from),
            (false, true) => (to, to),
            (false, false) => continue,
        };
        bounds.least[axis] = least;
        bounds.most[axis] = most;
    }
    if let Some(arc) = &motion.arc {
        let [first, second, _] = arc.plane.axes();
        if motion.knows(first) && motion.knows(second) {
            let start =
                (motion.from[second] - arc.centre[1]).atan2(motion.from[first] - arc.centre[0]);
            // The four outermost points of the circle that the arc passes.
            for quarter in 0..4_i32 {
                let angle = f64::from(quarter) * std::f64::consts::FRAC_PI_2;
                let turned = (angle - start) * arc.sweep.signum();
                if turned.rem_euclid(std::f64::consts::TAU) <= arc.sweep.abs() {
                    let axis = if quarter % 2 == 0 { first } else { second };
                    let sign = if quarter < 2 { 1.0 } else { -1.0 };
                    let centre = arc.centre[usize::from(quarter % 2 != 0)];
                    let outermost = centre + sign * arc.radius + shift[axis];
                    bounds.take(axis, outermost, outermost);
                }
            }
        }
    }
    bounds
}

impl Envelope {
    /// The cutter at work when it is another one than that of a move.
    #[inline]
    pub(crate) fn tool_before(&mut self, tool: Tool) -> Option<Tool> {
        if self.tool == Some(tool) {
            return None;
        }
        self.tool.replace(tool)
    }

    /// The cutter at work.
    pub(crate) fn tool(&self) -> Option<Tool> {
        self.tool
    }

    /// Takes in a move; of a cut, its line.
    #[inline]
    pub(crate) fn motion(&mut self, bounds: &Bounds, cut: Option<u64>) {
        let mut of = &mut self.all;
        if let Some(line) = cut {
            if bounds.least[2] < self.lowest {
                (self.lowest, self.deepest) = (bounds.least[2], line);
            }
            of = &mut self.at_work;
        }
        for axis in 0..3 {
            of.take(axis, bounds.least[axis], bounds.most[axis]);
        }
    }

    /// The cutter at work goes out: its radius is added to all that it cut.
    pub(crate) fn tool_out(&mut self, radius: f64) {
        self.widest = self.widest.max(radius);
        let own = std::mem::replace(&mut self.at_work, EMPTY);
        for axis in 0..3 {
            let (least, most) = (own.least[axis], own.most[axis]);
            let wide = if axis < 2 { radius } else { 0.0 };
            self.all.take(axis, least, most);
            self.cut.take(axis, least - wide, most + wide);
        }
    }
}
