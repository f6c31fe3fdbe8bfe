//! How deep the front stands in stock, direction by direction.

use super::fan::{Fan, TOUCH};
use super::front::Front;
use super::gather::{JUMP, steps};

/// How near a wall is beside a front, in cells: there the front just made, half a step behind, is
/// a quarter of a cell away or less.
const WALL_CELLS: f64 = 2.5;
/// Beside a wall, what stands so much higher than farther in is no even floor.
const TALLER: f32 = 1.1;

/// Where the circle of a cutter touches the wall that the cutter itself makes, in a field with such
/// a cell: the same for every look.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Side {
    cell: f64,
    /// How far such a wall can seem to be from its place, mm.
    hair: f64,
    /// Sine and cosine of the direction in which it is farther off.
    way: (f64, f64),
    /// The first direction that is not beside it.
    inner: Option<usize>,
}

impl Side {
    fn of(cell: f64, r: f64, ways: &[(f64, f64)]) -> Self {
        let hair = 0.000_5 + cell * cell / (4.0 * r);
        let beside = |k: usize| r * (1.0 - ways[k].1) < WALL_CELLS * cell;
        Self {
            cell,
            hair,
            way: (2.0 * hair / r).sqrt().min(0.1).sin_cos(),
            inner: (1..=ways.len() / 2).find(|k| !beside(*k)),
        }
    }
}

impl Fan {
    /// The depth in every direction, and between which of them the front stands in stock.
    pub(super) fn sample(&mut self, front: &Front<'_>, foot: f32) -> Option<(usize, usize)> {
        let r = self.end.radius_mm;
        let last = self.ways.len() - 1;
        if self.side.cell.to_bits() != front.field.cell.to_bits() {
            self.side = Side::of(front.field.cell, r, &self.ways);
        }
        self.unsure.clear();
        self.around(front, foot);
        // At both sides the circle touches the wall the cutter itself makes: there the look is a
        // little ahead, where such a wall is farther off than it can seem to be.
        let (sin, cos) = self.side.way;
        for (k, way) in [(0, (sin, cos)), (last, (sin, -cos))] {
            let (height, sure) = front.look_up(r, way);
            self.depths[k] = (height - foot).max(0.0);
            if !sure {
                self.unsure.push(k);
            }
        }
        if !self.unsure.is_empty() {
            self.doubt();
        }
        self.reach_walls(front, foot);
        let stands = |depth: &f32| *depth > TOUCH;
        let first = self.depths.iter().position(stands)?;
        Some((first, self.depths.iter().rposition(stands)?))
    }

    /// The depth in every direction but the two sides, and which of them is a guess.
    fn around(&mut self, front: &Front<'_>, foot: f32) {
        let r = self.end.radius_mm;
        let field = front.field;
        let last = self.ways.len() - 1;
        // All at once, so that the compiler takes several.
        self.places.clear();
        self.places
            .extend(self.ways.iter().map(|way| front.place(r, *way)));
        let places = self.places[1..last].iter();
        for (k, (depth, place)) in (1..).zip(self.depths[1..last].iter_mut().zip(places)) {
            if field.stands_at_most(*place) <= foot {
                *depth = 0.0;
                continue;
            }
            let (height, sure) = field.look_up(place.0, place.1);
            *depth = (height - foot).max(0.0);
            if !sure {
                self.unsure.push(k);
            }
        }
    }

    /// Beside a wall that the cutter touches, the front just made is so near that the field cannot
    /// tell its floor from the one ahead. What stands farther in then stands up to the wall.
    fn reach_walls(&mut self, front: &Front<'_>, foot: f32) {
        let r = self.end.radius_mm;
        let last = self.ways.len() - 1;
        let Some(inner) = self.side.inner else {
            return;
        };
        for (first, edge, side) in [(0, inner, 0), (last - inner + 1, last - inner, last)] {
            let depth = self.depths[edge];
            if depth <= TOUCH {
                continue;
            }
            let outside = front.seen(r + 2.0 * self.side.hair, self.ways[side]) - foot;
            let walled = outside > depth * (1.0 - JUMP);
            // Stock that is higher would reach out to the side as well.
            let taller = |d: f32| d > depth * TALLER;
            let higher = taller(self.depths[side]);
            for d in &mut self.depths[first..first + inner] {
                let lower = *d < depth && steps(*d, depth);
                if lower && walled || taller(*d) && !higher {
                    *d = depth;
                }
            }
        }
    }

    /// Where a height is a guess, at the sides the next one that is sure stands for it, and between
    /// two alike what differs from both is nothing: there the front just made meets the wall.
    fn doubt(&mut self) {
        let last = self.ways.len() - 1;
        let sure = |k: &usize| !self.unsure.contains(k);
        let first = (0..=last / 2).find(sure);
        let back = (0..=last / 2).map(|k| last - k).find(sure);
        if let Some(first) = first {
            let depth = self.depths[first];
            self.depths[..first].fill(depth);
        }
        if let Some(back) = back {
            let depth = self.depths[back];
            self.depths[back..].fill(depth);
        }
        // In their order, since one stands beside the next; the sides are the last two.
        for &k in self.unsure.iter().filter(|k| (1..last).contains(*k)) {
            let [a, b, c] = [self.depths[k - 1], self.depths[k], self.depths[k + 1]];
            if steps(a, b) && steps(b, c) && !steps(a, c) {
                self.depths[k] = 0.5 * (a + c);
            }
        }
    }
}
