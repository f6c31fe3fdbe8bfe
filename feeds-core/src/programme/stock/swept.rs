//! The region of the plane a cutter sweeps along a piece, as rows of nodes cross it. All places and
//! lengths are counted in cells from the first node.

use super::cells::StockField;
use super::course::CoursePiece;

/// Where a row lies inside: a few intervals in order, none touching the next.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Inside {
    list: [(f64, f64); 4],
    count: usize,
}

impl Inside {
    #[inline]
    pub(super) fn list(&self) -> &[(f64, f64)] {
        &self.list[..self.count]
    }

    #[inline]
    fn one(low: f64, high: f64) -> Self {
        let mut inside = Self::default();
        if high >= low {
            inside.list[0] = (low, high);
            inside.count = 1;
        }
        inside
    }

    /// Joins another interval to it.
    fn add(&mut self, mut low: f64, mut high: f64) {
        if high < low {
            return;
        }
        let mut kept = 0;
        for at in 0..self.count {
            let (a, b) = self.list[at];
            if a <= high && low <= b {
                (low, high) = (low.min(a), high.max(b));
            } else {
                self.list[kept] = (a, b);
                kept += 1;
            }
        }
        let at = self.list[..kept]
            .iter()
            .take_while(|(a, _)| *a < low)
            .count();
        let kept = kept.min(3);
        self.list.copy_within(at..kept, at + 1);
        self.list[at] = (low, high);
        self.count = kept + 1;
    }
}

/// What is swept. Rows run along X; [`Swept::of`] with `turned` changes X and Y.
#[derive(Clone, Copy, Debug)]
pub(super) enum Swept {
    /// Along a line, or down at one place.
    Line(Stripe),
    /// Along an arc.
    Arc(Band),
}

/// All within a radius of a line.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stripe {
    a: [f64; 2],
    b: [f64; 2],
    u: [f64; 2],
    len: f64,
    r: f64,
    /// One over the parts of the direction; very large where it has none.
    inverse: [f64; 2],
}

/// Rows one beside the other: where each lies inside, and half of what the circle at the start
/// cuts from it, below nothing where it does not.
#[derive(Clone, Debug, Default)]
pub(super) struct RowSpans {
    pub(super) list: Vec<RowSpan>,
    start: Chords,
    /// Kept: the circle at the end is that at the start of the next piece.
    end: Chords,
}

/// Half of what a circle cuts from each of some rows; below nothing where it does not. Each takes a
/// root.
#[derive(Clone, Debug, Default)]
struct Chords {
    centre: [f64; 2],
    r: f64,
    first: usize,
    halves: Vec<f64>,
}

impl Chords {
    /// Takes the rows from the first to before the last, without what is known already.
    fn take(&mut self, (centre, r): ([f64; 2], f64), (from, to): (usize, usize), known: &Self) {
        let same = [known.centre[0], known.centre[1], known.r].map(f64::to_bits)
            == [centre[0], centre[1], r].map(f64::to_bits);
        let (first, last) = if same {
            let last = known.first + known.halves.len();
            (known.first.clamp(from, to), last.clamp(from, to))
        } else {
            (to, to)
        };
        (self.centre, self.r, self.first) = (centre, r, from);
        self.halves.clear();
        self.add((from, first));
        if first < last {
            let part = first - known.first..last - known.first;
            self.halves.extend_from_slice(&known.halves[part]);
        }
        self.add((last.max(first), to));
    }

    fn add(&mut self, (from, to): (usize, usize)) {
        let [first, n] = [from, to - from].map(|v| u32::try_from(v).unwrap_or(u32::MAX));
        let (first, y, r) = (f64::from(first), self.centre[1], self.r);
        let halves = (0..n).map(|k| chord(r, first + f64::from(k) - y));
        self.halves.extend(halves);
    }
}

/// From where to where a row lies inside; nowhere if the one is beyond the other.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct RowSpan {
    pub(super) low: f64,
    pub(super) high: f64,
    /// The same of the circle at the start.
    pub(super) disc: (f64, f64),
}

/// All within a radius of an arc.
#[derive(Clone, Copy, Debug)]
pub(super) struct Band {
    o: [f64; 2],
    rho: f64,
    r: f64,
    ends: [[f64; 2]; 2],
    /// The sides of its wedge, counter-clockwise.
    sides: [[f64; 2]; 2],
}

/// Half of what a circle cuts from a row at a distance from its centre.
#[inline]
fn half(r: f64, off: f64) -> Option<f64> {
    let q = r * r - off * off;
    (q >= 0.0).then(|| q.sqrt())
}

/// The same, below nothing where it cuts nothing: without branches.
#[inline]
fn chord(r: f64, off: f64) -> f64 {
    let q = r * r - off * off;
    let half = larger(q, 0.0).sqrt();
    if q >= 0.0 { half } else { -1.0 }
}

impl Swept {
    pub(super) fn of(field: &StockField, piece: &CoursePiece, r_mm: f64, turned: bool) -> Self {
        let r = r_mm * field.per_mm;
        let flip = |p: [f64; 2]| {
            let [x, y] = [0, 1].map(|k| (p[k] - field.start[k]) * field.per_mm);
            if turned { [y, x] } else { [x, y] }
        };
        let [a, b] = [piece.from, piece.to].map(|p| flip([p[0], p[1]]));
        if let Some(arc) = piece.arc {
            let o = flip(arc.centre);
            let side = |p: [f64; 2]| [p[0] - o[0], p[1] - o[1]];
            let forward = (arc.sweep > 0.0) != turned;
            let sides = if forward {
                [side(a), side(b)]
            } else {
                [side(b), side(a)]
            };
            return Self::Arc(Band {
                o,
                rho: piece.rho() * field.per_mm,
                r,
                ends: [a, b],
                sides,
            });
        }
        let d = [b[0] - a[0], b[1] - a[1]];
        let len = (d[0] * d[0] + d[1] * d[1]).sqrt();
        let u = if len > 0.0 {
            [d[0] / len, d[1] / len]
        } else {
            [1.0, 0.0]
        };
        Self::Line(Stripe {
            a,
            b,
            u,
            len,
            r,
            inverse: u.map(|v| if v.abs() > 1e-12 { 1.0 / v } else { 1e30 }),
        })
    }

    /// Least and most along each axis.
    pub(super) fn bounds(&self) -> ([f64; 2], [f64; 2]) {
        let (ends, r) = match self {
            Self::Line(s) => ([s.a, s.b], s.r),
            Self::Arc(b) => (b.ends, b.r),
        };
        let mut least = [0, 1].map(|k| ends[0][k].min(ends[1][k]) - r);
        let mut most = [0, 1].map(|k| ends[0][k].max(ends[1][k]) + r);
        if let Self::Arc(b) = self {
            for k in 0..2 {
                for sign in [-1.0, 1.0] {
                    let mut way = [0.0; 2];
                    way[k] = sign;
                    if b.holds(way) {
                        let reach = b.o[k] + sign * (b.rho + r);
                        least[k] = least[k].min(reach);
                        most[k] = most[k].max(reach);
                    }
                }
            }
        }
        (least, most)
    }

    /// The same of what lies ahead of the circle at the start.
    pub(super) fn new_bounds(&self) -> ([f64; 2], [f64; 2]) {
        let Self::Line(Stripe { a, b, u, r, .. }) = *self else {
            return self.bounds();
        };
        // The far circle, as far as it lies ahead, and the two sides.
        let side = [-u[1] * r, u[0] * r].map(f64::abs);
        let ahead = u.map(|v| if v > 0.0 { r } else { 0.0 });
        let back = u.map(|v| if v < 0.0 { r } else { 0.0 });
        (
            [0, 1].map(|k| (a[k].min(b[k]) - side[k]).min(b[k] - back[k])),
            [0, 1].map(|k| (a[k].max(b[k]) + side[k]).max(b[k] + ahead[k])),
        )
    }

    /// Where the row at `y` lies inside.
    #[inline]
    pub(super) fn row(&self, y: f64) -> Inside {
        match self {
            Self::Line(stripe) => {
                let [start, end] = [stripe.a, stripe.b].map(|p| chord(stripe.r, y - p[1]));
                let span = stripe.span(y, (start, end));
                Inside::one(span.low, span.high)
            }
            Self::Arc(band) => band.row(y),
        }
    }

    /// Rows of nodes from the first to before the last, of a line.
    pub(super) fn rows(&self, (from, to): (usize, usize), spans: &mut RowSpans) -> bool {
        let Self::Line(stripe) = self else {
            return false;
        };
        let RowSpans { list, start, end } = spans;
        start.take((stripe.a, stripe.r), (from, to), end);
        end.take((stripe.b, stripe.r), (from, to), &Chords::default());
        let first = f64::from(u32::try_from(from).unwrap_or(u32::MAX));
        let halves = start.halves.iter().zip(&end.halves);
        list.clear();
        list.extend(
            (0_u32..)
                .zip(halves)
                .map(|(k, (start, end))| stripe.span(first + f64::from(k), (*start, *end))),
        );
        true
    }

    /// Where the row lies inside the circle at the start: swept before, where the piece before
    /// ended there.
    #[inline]
    pub(super) fn start_disc(&self, y: f64) -> Option<(f64, f64)> {
        let (p, r) = match self {
            Self::Line(s) => (s.a, s.r),
            Self::Arc(b) => (b.ends[0], b.r),
        };
        half(r, y - p[1]).map(|h| (p[0] - h, p[0] + h))
    }
}

/// The smaller of two numbers: one instruction, where the standard one looks for no number first.
#[inline]
fn lesser(a: f64, b: f64) -> f64 {
    if a < b { a } else { b }
}

/// The larger of two numbers.
#[inline]
fn larger(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}

impl Stripe {
    /// One row, of which the circles at both ends cut so much, halved. Without branches, so that
    /// the compiler takes several at once.
    #[inline(always)]
    #[expect(
        clippy::inline_always,
        reason = "the loops around it become vector code"
    )]
    fn span(&self, y: f64, (start, end): (f64, f64)) -> RowSpan {
        let (u, r) = (self.u, self.r);
        let circle = |p: [f64; 2], half: f64| {
            if half >= 0.0 {
                (p[0] - half, p[0] + half)
            } else {
                (f64::INFINITY, f64::NEG_INFINITY)
            }
        };
        let (disc, end) = (circle(self.a, start), circle(self.b, end));
        // 0 <= u·p <= len and -r <= u×p <= r, each cuts the row.
        let dy = y - self.a[1];
        let (p, q) = (
            -u[1] * dy * self.inverse[0],
            (self.len - u[1] * dy) * self.inverse[0],
        );
        let (v, w) = (
            (u[0] * dy - r) * self.inverse[1],
            (u[0] * dy + r) * self.inverse[1],
        );
        let s = larger(lesser(p, q), lesser(v, w));
        let e = lesser(larger(p, q), larger(v, w));
        let (s, e) = if e >= s {
            (self.a[0] + s, self.a[0] + e)
        } else {
            (f64::INFINITY, f64::NEG_INFINITY)
        };
        RowSpan {
            low: lesser(lesser(disc.0, end.0), s),
            high: larger(larger(disc.1, end.1), e),
            disc,
        }
    }
}

impl Band {
    /// Whether a direction from the centre lies in the wedge, which is narrower than half a turn.
    fn holds(&self, way: [f64; 2]) -> bool {
        let [a, b] = self.sides;
        a[0] * way[1] - a[1] * way[0] >= 0.0 && way[0] * b[1] - way[1] * b[0] >= 0.0
    }

    fn row(&self, y: f64) -> Inside {
        let mut inside = Inside::default();
        for p in self.ends {
            if let Some(h) = half(self.r, y - p[1]) {
                inside.add(p[0] - h, p[0] + h);
            }
        }
        let dy = y - self.o[1];
        let Some(outer) = half(self.rho + self.r, dy) else {
            return inside;
        };
        // The row within the wedge: k x <= c for both sides.
        let (mut s, mut e) = (-outer, outer);
        let [a, b] = self.sides;
        for (k, c) in [(a[1], a[0] * dy), (-b[1], -b[0] * dy)] {
            if k > 0.0 {
                e = e.min(c / k);
            } else if k < 0.0 {
                s = s.max(c / k);
            } else if c < 0.0 {
                return inside;
            }
        }
        let x = self.o[0];
        match half(self.rho - self.r, dy).filter(|_| self.rho > self.r) {
            Some(inner) => {
                inside.add(x + s, x + e.min(-inner));
                inside.add(x + s.max(inner), x + e);
            }
            None => inside.add(x + s, x + e),
        }
        inside
    }
}

#[cfg(test)]
pub(super) mod tests;
