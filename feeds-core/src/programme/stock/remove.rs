//! Taking away what a cutter sweeps: nodes inside are lowered, and where the edge of the region
//! crosses rows and columns the wall is put down.
//!
//! Everything is found before anything changes: strips of nodes that stand too high, and walls
//! that move. Only the cells these touch have their volume counted before and after.

use super::StockEnd;
use super::cells::{NONE, StockField, count, kept, node_below, part};
use super::changes::Changes;
use super::course::CoursePiece;
use super::surface::{Helix, Level, Ramp, RoundArc, RoundLine, Surface};
use super::swept::{RowSpans, Swept};
use super::tops::{Lowered, Standing};
use super::touched::Touched;

/// A step of the floor lower than this is no wall, mm.
pub(super) const STEP: f32 = 0.005;
/// How far the chords of a helix of a round end lie from it, mm.
const CHORD_MM: f64 = 0.000_5;

/// Nodes of a row to be lowered.
#[derive(Clone, Copy, Debug)]
pub(super) struct Strip {
    pub(super) row: usize,
    pub(super) from: usize,
    pub(super) to: usize,
}

/// A wall to be put down, or taken away, on the edge of a node.
#[derive(Clone, Copy, Debug)]
struct Wall {
    row: usize,
    column: usize,
    up: bool,
    to: u16,
}

/// What a removal finds before it changes anything; kept so that nothing is allocated.
#[derive(Clone, Debug, Default)]
pub(super) struct Work {
    /// Of rows, and of columns.
    spans: [RowSpans; 2],
    pub(super) strips: Vec<Strip>,
    walls: Vec<Wall>,
    /// Cells whose volume is counted; none where nobody asks for it.
    touched: Touched,
    counted: bool,
    standing: Standing,
    lowered: Lowered,
    /// Nodes of the box that now lie at the surface left behind.
    pub(super) swept: Vec<bool>,
    /// What is changed, where that is to be noted.
    pub(super) changes: Option<Changes>,
    /// Place, height and radius of a flat end after the piece before.
    last: Option<([f64; 2], f64, f64)>,
}

/// How a region is looked through.
#[derive(Clone, Copy)]
struct How {
    /// Along columns.
    turned: bool,
    /// Whether the disc at the start has been swept before.
    on: bool,
    /// Whether the cutter makes walls.
    walls: bool,
}

/// The first node at or above a place.
#[inline]
fn above(place: f64) -> usize {
    let (node, over) = node_below(place);
    node + usize::from(over > 0.0)
}

/// The node after the last at or below a place.
#[inline]
fn below(place: f64) -> usize {
    if place < 0.0 {
        0
    } else {
        node_below(place).0 + 1
    }
}

/// The box of nodes a piece can reach.
#[derive(Clone, Copy)]
pub(super) struct Reached {
    pub(super) columns: (usize, usize),
    pub(super) rows: (usize, usize),
}

/// The edge between a node that is cut and the next one, which is not.
struct Beside {
    edge: u16,
    /// Where the region ends on it, from the lower node.
    at: f64,
    /// Whether the cut node is the higher one of the two.
    high: bool,
    old: f32,
    /// The height of the cut node, and that at which a wall beside it begins.
    now: f32,
    foot: f32,
    other: f32,
}

impl Beside {
    /// Where its wall has to be, if that changes.
    #[inline]
    fn wall(&self) -> Option<u16> {
        if self.other > self.foot + STEP {
            let at = part(self.at);
            // A wall of the same sense is there already: the farther one stands.
            let same = self.edge != NONE && self.old < self.other - STEP;
            let to = match (same, self.high) {
                (false, _) => at,
                (true, true) => at.min(self.edge),
                (true, false) => at.max(self.edge),
            };
            return (to != self.edge).then_some(to);
        }
        // A cutter that goes above leaves what is thinner than a cell as it stands.
        let reached = self.foot <= self.now + STEP;
        let even = reached && (self.other - self.now).abs() <= STEP && self.edge != NONE;
        even.then_some(NONE)
    }
}

impl StockField {
    /// Takes away what the end sweeps along a piece, and says how much that was in mm³.
    pub fn remove(&mut self, piece: &CoursePiece, end: &StockEnd) -> f64 {
        self.work.get_or_insert_default().counted = true;
        self.take_away(piece, end) * self.cell * self.cell
    }

    /// Takes away as much without counting it, which saves a fifth of the time.
    pub fn cut_off(&mut self, piece: &CoursePiece, end: &StockEnd) {
        self.work.get_or_insert_default().counted = false;
        self.take_away(piece, end);
    }

    /// Takes away what the end sweeps; the sum of the heights, in mm times cells, if it is counted.
    fn take_away(&mut self, piece: &CoursePiece, end: &StockEnd) -> f64 {
        let r = end.radius_mm;
        let [a, b] = [piece.from, piece.to];
        let still = piece.arc.is_none() && piece.way() == 0.0;
        let low = a[2].min(b[2]);
        let level = still || a[2].to_bits() == b[2].to_bits();
        if end.corner_mm > 0.0 {
            self.work.get_or_insert_default().last = None;
            return self.take_away_round(piece, end, level);
        }
        let work = self.work.get_or_insert_default();
        let last = work.last.replace(([b[0], b[1]], b[2], r));
        if level {
            let on = last.is_some_and(|(p, z, radius)| {
                let d = [p[0] - a[0], p[1] - a[1]];
                d[0] * d[0] + d[1] * d[1] < 1e-18 && z <= low && radius.to_bits() == r.to_bits()
            });
            self.carve(piece, r, &Level(low), on, true)
        } else if let Some(arc) = piece.arc {
            self.carve(
                piece,
                r,
                &Helix::of(piece, arc.centre, arc.sweep, r),
                false,
                true,
            )
        } else {
            self.carve(piece, r, &Ramp::of(piece, r), false, true)
        }
    }

    fn take_away_round(&mut self, piece: &CoursePiece, end: &StockEnd, level: bool) -> f64 {
        if piece.arc.is_some() && !level {
            return piece
                .chords(CHORD_MM)
                .map(|line| self.take_away_round(&line, end, false))
                .sum();
        }
        // No farther out than what stands can be met.
        let low = piece.from[2].min(piece.to[2]);
        let swept = Swept::of(self, piece, end.radius_mm, false);
        let Some(reached) = self.reached(swept.bounds()) else {
            return 0.0;
        };
        let stands = f64::from(self.tops.of_box(reached)) - low;
        if stands <= 0.0 {
            return 0.0;
        }
        let r = end.radius_at(stands);
        let walls = stands > end.corner_mm;
        if let Some(arc) = piece.arc {
            let surface = RoundArc::of(piece, arc.centre, arc.sweep, end);
            self.carve(piece, r, &surface, false, walls)
        } else {
            self.carve(piece, r, &RoundLine::of(piece, end), false, walls)
        }
    }

    pub(super) fn reached(&self, (least, most): ([f64; 2], [f64; 2])) -> Option<Reached> {
        let along = |k: usize, nodes: usize| {
            let (from, to) = (above(least[k]), below(most[k]));
            let to = to.min(nodes);
            (from < to).then_some((from, to))
        };
        Some(Reached {
            columns: along(0, self.columns)?,
            rows: along(1, self.rows)?,
        })
    }

    /// The nodes beside those of a box as well: a wall between them may move.
    fn around(&self, reached: Reached) -> Reached {
        let wider = |(from, to): (usize, usize), nodes: usize| {
            (from.saturating_sub(1), (to + 1).min(nodes))
        };
        Reached {
            columns: wider(reached.columns, self.columns),
            rows: wider(reached.rows, self.rows),
        }
    }

    /// Carries out a removal; the sum of the heights taken away, in mm times cells.
    fn carve<S: Surface>(
        &mut self,
        piece: &CoursePiece,
        r: f64,
        surface: &S,
        on: bool,
        walls: bool,
    ) -> f64 {
        let swept = Swept::of(self, piece, r, false);
        let bounds = if on {
            swept.new_bounds()
        } else {
            swept.bounds()
        };
        let Some(reached) = self.reached(bounds) else {
            return 0.0;
        };
        let mut work = self.work.take().unwrap_or_default();
        let lowest = kept(surface.lowest()).max(self.floor);
        if !self
            .tops
            .find(self.around(reached), lowest, &mut work.standing)
        {
            self.work = Some(work);
            return 0.0;
        }
        let [rows, columns] =
            [(false, reached.rows), (true, reached.columns)].map(|(turned, to)| {
                let lines = work.standing.lines(turned);
                let from = lines.0.max(to.0);
                (from, lines.1.min(to.1).max(from))
            });
        work.strips.clear();
        work.walls.clear();
        // A wall may come to stand beside the outermost nodes.
        let touched = (rows.0.saturating_sub(2), (rows.1 + 1).min(self.rows));
        work.touched
            .clear(if work.counted { touched } else { (0, 0) });
        let how = How {
            turned: false,
            on,
            walls,
        };
        self.find(&swept, rows, surface, how, &mut work);
        if walls {
            let swept = Swept::of(self, piece, r, true);
            let how = How {
                turned: true,
                ..how
            };
            self.find(&swept, columns, surface, how, &mut work);
        }
        let mut sum = 0.0;
        if !(work.strips.is_empty() && work.walls.is_empty()) {
            let before = self.excess_of(&work.touched);
            for wall in &work.walls {
                let node = &mut self.nodes[wall.row * self.columns + wall.column];
                *(if wall.up {
                    &mut node.up
                } else {
                    &mut node.right
                }) = wall.to;
            }
            if S::LEVEL {
                let to = kept(surface.lowest()).max(self.floor);
                sum += work.strips.iter().map(|s| self.press(*s, to)).sum::<f64>();
            } else {
                sum += self.shape(surface, reached, &mut work);
            }
            sum += before - self.excess_of(&work.touched);
            work.lowered.clear(rows);
            for strip in &work.strips {
                work.lowered.add(strip.row, strip.from, strip.to);
            }
            let mut changes = work.changes.take();
            if let Some(changes) = &mut changes {
                self.note_nodes(&work, changes);
            }
            self.renew(&work.lowered, changes.as_mut());
            work.changes = changes;
        }
        self.work = Some(work);
        sum
    }

    /// Notes the nodes that a removal has changed: those of its walls and strips, and beside a
    /// strip those whose edges were opened.
    fn note_nodes(&self, work: &Work, changes: &mut Changes) {
        let mut note = |row: usize, from: usize, to: usize| {
            let first = row * self.columns;
            changes.nodes((row, from), &self.nodes[first + from..first + to]);
        };
        for wall in &work.walls {
            note(wall.row, wall.column, wall.column + 1);
        }
        for &Strip { row, from, to } in &work.strips {
            note(row, from.saturating_sub(1), to);
            if row > 0 {
                note(row - 1, from, to);
            }
        }
    }

    /// Finds what a removal changes along the rows, or, turned, the columns: walls, and along the
    /// rows also what has to be lowered.
    fn find<S: Surface>(
        &self,
        swept: &Swept,
        (from, to): (usize, usize),
        surface: &S,
        how: How,
        work: &mut Work,
    ) {
        // Beside what stands, most often.
        let meets = |(first, last): (f64, f64), (low, high): (f64, f64)| {
            low <= high && high >= first && low <= last
        };
        let across = usize::from(how.turned);
        let mut spans = std::mem::take(&mut work.spans[across]);
        if swept.rows((from, to), &mut spans) {
            let mut line = from;
            while line < to {
                // Lines of one block have the same nodes that may stand.
                let next = Standing::after_block(line).min(to);
                let (first, last) = work.standing.of_line(how.turned, line);
                let stands = (count(first), count(last));
                for (line, span) in (line..next).zip(&spans.list[line - from..]) {
                    if meets(stands, (span.low, span.high)) {
                        let disc = how.on.then_some(span.disc);
                        self.find_along(line, (span.low, span.high), disc, surface, how, work);
                    }
                }
                line = next;
            }
        } else {
            for line in from..to {
                let y = count(line);
                let disc = if how.on { swept.start_disc(y) } else { None };
                let inside = swept.row(y);
                for inside in inside.list() {
                    let (first, last) = work.standing.of_line(how.turned, line);
                    if meets((count(first), count(last)), *inside) {
                        self.find_along(line, *inside, disc, surface, how, work);
                    }
                }
            }
        }
        work.spans[across] = spans;
    }

    /// The same along one interval of one row or column.
    #[inline]
    fn find_along<S: Surface>(
        &self,
        line: usize,
        (first, last): (f64, f64),
        disc: Option<(f64, f64)>,
        surface: &S,
        how: How,
        work: &mut Work,
    ) {
        // What the disc at the start has swept before needs no second look.
        let known = disc.map_or([false; 2], |(p, q)| [first >= p, last <= q]);
        if known[0] && known[1] {
            return;
        }
        let nodes = if how.turned { self.rows } else { self.columns };
        let (s, e) = (above(first), below(last).min(nodes));
        if e <= s {
            return;
        }
        let (from, to) = work.standing.of_line(how.turned, line);
        if !how.turned {
            let lowest = kept(surface.lowest()).max(self.floor);
            match disc.filter(|(p, q)| p <= q) {
                None => self.strip((line, s.max(from), e.min(to)), lowest, work),
                Some((p, q)) => {
                    if !known[0] {
                        let e = above(p).min(e);
                        self.strip((line, s.max(from), e.min(to)), lowest, work);
                    }
                    if !known[1] {
                        let s = below(q).max(s);
                        self.strip((line, s.max(from), e.min(to)), lowest, work);
                    }
                }
            }
        }
        if !how.walls {
            return;
        }
        let (step, base) = if how.turned {
            (self.columns, line)
        } else {
            (1, line * self.columns)
        };
        if s > 0 && !known[0] && from < s && s <= to {
            let (cut, other) = (base + s * step, base + (s - 1) * step);
            self.beside(
                surface,
                (other, first - count(s - 1)),
                (cut, other),
                how,
                work,
            );
        }
        if e < nodes && !known[1] && from < e && e <= to {
            let (cut, other) = (base + (e - 1) * step, base + e * step);
            self.beside(surface, (cut, last - count(e - 1)), (cut, other), how, work);
        }
    }

    /// Notes nodes of a row that stand too high.
    #[inline]
    fn strip(&self, (row, from, to): (usize, usize, usize), lowest: f32, work: &mut Work) {
        if from < to && self.stands(row, from, to, lowest) {
            work.strips.push(Strip { row, from, to });
            let left = from.saturating_sub(1);
            work.touched.add(row.wrapping_sub(1), left, to);
            work.touched.add(row, left, to);
        }
    }

    /// Looks at one edge: of the node `edge.0`, crossed at the share `edge.1`, between the node
    /// `cut` and its neighbour.
    #[inline]
    fn beside<S: Surface>(
        &self,
        surface: &S,
        edge: (usize, f64),
        (cut, other): (usize, usize),
        how: How,
        work: &mut Work,
    ) {
        let node = self.nodes[edge.0];
        let (old, other_z) = (self.nodes[cut].z, self.nodes[other].z);
        let crossing = if how.turned { node.up } else { node.right };
        // Air beside air, most often.
        if crossing == NONE && other_z <= kept(surface.lowest()).max(self.floor) + STEP {
            return;
        }
        let x = self.start[0] + count(cut % self.columns) * self.cell;
        let y = self.start[1] + count(cut / self.columns) * self.cell;
        let [at, foot] = [surface.at(x, y), surface.rim(x, y)].map(|z| kept(z).max(self.floor));
        let now = at.min(old);
        let beside = Beside {
            edge: crossing,
            at: edge.1,
            high: cut > other,
            old,
            now,
            foot,
            other: other_z,
        };
        if let Some(to) = beside.wall() {
            let (j, i) = (edge.0 / self.columns, edge.0 % self.columns);
            work.walls.push(Wall {
                row: j,
                column: i,
                up: how.turned,
                to,
            });
            if how.turned {
                work.touched.add(j, i.saturating_sub(1), i + 1);
            } else {
                work.touched.add(j.wrapping_sub(1), i, i + 1);
                work.touched.add(j, i, i + 1);
            }
        }
    }
}
