//! From moves to pieces: arcs of at most 30°, and short moves joined.

use std::f64::consts::PI;

use super::cells::count;
use crate::programme::arc::{ArcMove, Plane};
use crate::programme::motion::{Feed, Motion, MoveKind};

/// An arc of a piece turns no farther: its wedge is then narrow enough for closed forms.
const WIDEST: f64 = PI / 6.0;
/// How far the chords of an arc in another plane lie from it, mm.
const CHORD_MM: f64 = 0.001;
/// Moves are joined until they are so many cells long: what the front meets is only seen well
/// so far ahead of what was removed.
const JOINED_CELLS: f64 = 2.0;
/// How far, in cells, a joined piece may lie from the moves it stands for.
const STRAY_CELLS: f64 = 0.05;
/// Most moves that are joined.
const MOST_JOINED: usize = 32;

/// The arc of a piece in X and Y; Z goes evenly along it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CourseArc {
    /// Its centre, mm.
    pub centre: [f64; 2],
    /// Angle turned in rad, counter-clockwise positive, at most 30° either way.
    pub sweep: f64,
}

/// A piece of the way of the tip of a cutter: a line, or an arc of at most 30° in X and Y.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoursePiece {
    /// Its start, mm.
    pub from: [f64; 3],
    /// Its end, mm.
    pub to: [f64; 3],
    /// The arc, if it is one.
    pub arc: Option<CourseArc>,
    /// First and last line of the programme it stands for.
    pub lines: [u64; 2],
    /// First and last move it stands for, counted from the first.
    pub moves: [u64; 2],
    /// Whether it goes at rapid.
    pub rapid: bool,
    /// Its feed.
    pub feed: Feed,
}

/// A place on a piece where the front of the cutter is looked at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CourseStation {
    /// Where the tip is, mm.
    pub at: [f64; 3],
    /// Where the feed goes in X and Y: a direction of length 1.
    pub ahead: [f64; 2],
    /// Height gained per way in X and Y; infinite straight up or down.
    pub slope: f64,
    /// Way from the start of the piece, mm.
    pub along_mm: f64,
}

/// Lengths of programmes are neither so large nor so small that more care is needed.
fn length(a: f64, b: f64) -> f64 {
    (a * a + b * b).sqrt()
}

impl CourseStation {
    /// Where the feed goes in X and Y: rad from +X, counter-clockwise.
    pub fn heading(&self) -> f64 {
        self.ahead[1].atan2(self.ahead[0])
    }
}

impl CoursePiece {
    /// A line at no stated feed, of no line of a programme.
    pub fn line(from: [f64; 3], to: [f64; 3]) -> Self {
        Self {
            from,
            to,
            arc: None,
            lines: [0, 0],
            moves: [0, 0],
            rapid: false,
            feed: Feed::Unstated,
        }
    }

    /// Distance of the start and of the end from the centre of its arc.
    fn radii(&self) -> [f64; 2] {
        let Some(arc) = &self.arc else {
            return [0.0; 2];
        };
        [self.from, self.to].map(|p| length(p[0] - arc.centre[0], p[1] - arc.centre[1]))
    }

    /// Radius of its arc, mm.
    pub(super) fn rho(&self) -> f64 {
        let [a, b] = self.radii();
        f64::midpoint(a, b)
    }

    /// Way in X and Y, mm.
    pub(super) fn way(&self) -> f64 {
        match &self.arc {
            Some(arc) => self.rho() * arc.sweep.abs(),
            None => length(self.to[0] - self.from[0], self.to[1] - self.from[1]),
        }
    }

    /// Its length, mm.
    pub fn length(&self) -> f64 {
        length(self.way(), self.to[2] - self.from[2])
    }

    /// The place at a share of it.
    pub(super) fn at(&self, share: f64) -> [f64; 3] {
        if share >= 1.0 {
            return self.to;
        }
        let even = |k: usize| self.from[k] + (self.to[k] - self.from[k]) * share;
        let Some(arc) = &self.arc else {
            return [even(0), even(1), even(2)];
        };
        let [a, b] = self.radii();
        let start = [self.from[0] - arc.centre[0], self.from[1] - arc.centre[1]];
        let (sin, cos) = (arc.sweep * share).sin_cos();
        let k = 1.0 + (b / a - 1.0) * share;
        [
            arc.centre[0] + k * (start[0] * cos - start[1] * sin),
            arc.centre[1] + k * (start[0] * sin + start[1] * cos),
            even(2),
        ]
    }

    /// Where to look at a share of it.
    pub fn station(&self, share: f64) -> CourseStation {
        let at = self.at(share);
        let way = match &self.arc {
            Some(arc) => {
                let out = [at[0] - arc.centre[0], at[1] - arc.centre[1]];
                [-out[1], out[0]].map(|v| v * arc.sweep.signum())
            }
            None => [self.to[0] - self.from[0], self.to[1] - self.from[1]],
        };
        let long = length(way[0], way[1]);
        let ahead = if long > 0.0 {
            way.map(|v| v / long)
        } else {
            [1.0, 0.0]
        };
        let (way, rise) = (self.way(), self.to[2] - self.from[2]);
        CourseStation {
            at,
            ahead,
            slope: if rise == 0.0 { 0.0 } else { rise / way },
            along_mm: self.length() * share,
        }
    }

    /// The places along it in steps of about a length, each in the middle of its step.
    pub(crate) fn stations(&self, step_mm: f64) -> impl Iterator<Item = CourseStation> + use<'_> {
        let steps = self.steps(step_mm);
        (0..steps).map(move |k| self.station((count(k) + 0.5) / count(steps)))
    }

    /// The part between two shares.
    pub(super) fn part(&self, from: f64, to: f64) -> Self {
        Self {
            from: self.at(from),
            to: self.at(to),
            arc: self.arc.map(|arc| CourseArc {
                sweep: arc.sweep * (to - from),
                ..arc
            }),
            ..*self
        }
    }

    /// Into how many steps of about a length it is divided, none of them shorter.
    pub(crate) fn steps(&self, step_mm: f64) -> usize {
        super::cells::whole(self.length() / step_mm).max(1)
    }

    /// The piece as lines that lie within a distance of its arc.
    pub(super) fn chords(&self, within_mm: f64) -> impl Iterator<Item = Self> + use<> {
        let piece = *self;
        let sweep = piece.arc.map_or(0.0, |arc| arc.sweep.abs());
        let most = (8.0 * within_mm / piece.rho().max(within_mm)).sqrt();
        let n = super::cells::whole((sweep / most).ceil()).max(1);
        let share = move |k: usize| count(k) / count(n);
        (0..n).map(move |k| Self {
            from: piece.at(share(k)),
            to: piece.at(share(k + 1)),
            arc: None,
            ..piece
        })
    }
}

/// Cuts the moves of a programme into pieces as they come, in constant memory.
///
/// Short moves of one feed that lie on a line, to a twentieth of a cell, become one piece until it
/// is two cells long.
#[derive(Clone, Debug, Default)]
pub struct Course {
    cell_mm: f64,
    /// Ends of the moves that wait to be joined, and the lines they come from.
    ends: Vec<[f64; 3]>,
    waiting: Option<CoursePiece>,
}

impl Course {
    /// For a stock with such cells.
    pub fn new(cell_mm: f64) -> Self {
        Self {
            cell_mm,
            ends: Vec::with_capacity(MOST_JOINED),
            waiting: None,
        }
    }

    /// Takes a move, the `ordinal`th, and hands on the pieces that are complete. Coordinates that
    /// were never stated count as the move has them.
    pub fn take(&mut self, motion: &Motion, ordinal: u64, mut each: impl FnMut(&CoursePiece)) {
        let whole = CoursePiece {
            lines: [motion.line, motion.line],
            moves: [ordinal, ordinal],
            rapid: motion.kind == MoveKind::Rapid,
            feed: motion.feed,
            ..CoursePiece::line(motion.from, motion.to)
        };
        match &motion.arc {
            None => self.line(&whole, &mut each),
            Some(arc) if arc.plane == Plane::Xy => self.arc(&whole, arc, &mut each),
            Some(arc) => {
                for chord in chords_in_plane(&whole, arc) {
                    self.line(&chord, &mut each);
                }
            }
        }
    }

    /// The first move of which a piece still waits, counted from the first.
    pub(crate) fn first_waiting(&self) -> Option<u64> {
        self.waiting.map(|piece| piece.moves[0])
    }

    /// Hands on what still waits, at the end or before the cutter changes.
    pub fn finish(&mut self, mut each: impl FnMut(&CoursePiece)) {
        self.flush(&mut each);
    }

    fn flush(&mut self, each: &mut impl FnMut(&CoursePiece)) {
        self.ends.clear();
        if let Some(piece) = self.waiting.take() {
            each(&piece);
        }
    }

    fn arc(&mut self, whole: &CoursePiece, arc: &ArcMove, each: &mut impl FnMut(&CoursePiece)) {
        let n = super::cells::whole((arc.sweep.abs() / WIDEST - 1e-9).ceil()).max(1);
        let all = CoursePiece {
            arc: Some(CourseArc {
                centre: arc.centre,
                sweep: arc.sweep,
            }),
            ..*whole
        };
        // So short an arc that it is as good as a line.
        let rho = all.rho();
        let sagitta = rho * arc.sweep * arc.sweep / 8.0;
        if n == 1 && sagitta <= 0.5 * STRAY_CELLS * self.cell_mm {
            return self.line(whole, each);
        }
        self.flush(each);
        let share = |k: usize| count(k) / count(n);
        for k in 0..n {
            each(&all.part(share(k), share(k + 1)));
        }
    }

    fn line(&mut self, line: &CoursePiece, each: &mut impl FnMut(&CoursePiece)) {
        if line.length() == 0.0 {
            return;
        }
        let joined = self.waiting.and_then(|waiting| self.joined(&waiting, line));
        if let Some(joined) = joined {
            self.ends.push(line.from);
            self.waiting = Some(joined);
        } else {
            self.flush(each);
            self.waiting = Some(*line);
        }
        let long = |p: CoursePiece| p.length() >= JOINED_CELLS * self.cell_mm;
        if self.waiting.is_some_and(long) || self.ends.len() >= MOST_JOINED {
            self.flush(each);
        }
    }

    /// The line for both, if there is one.
    fn joined(&self, waiting: &CoursePiece, line: &CoursePiece) -> Option<CoursePiece> {
        let near = |p: [f64; 3], q: [f64; 3]| (0..3).all(|k| (p[k] - q[k]).abs() < 1e-9);
        let alike = waiting.rapid == line.rapid && waiting.feed == line.feed;
        if !alike || !near(waiting.to, line.from) {
            return None;
        }
        let joined = CoursePiece {
            to: line.to,
            lines: [waiting.lines[0], line.lines[1]],
            moves: [waiting.moves[0], line.moves[1]],
            ..*waiting
        };
        let stray = STRAY_CELLS * self.cell_mm;
        let between = self.ends.iter().chain([&line.from]);
        let mut fits = between.map(|p| distance(&joined, *p));
        fits.all(|d| d <= stray).then_some(joined)
    }
}

/// Distance of a place from a line.
fn distance(line: &CoursePiece, p: [f64; 3]) -> f64 {
    let d = [0, 1, 2].map(|k| line.to[k] - line.from[k]);
    let v = [0, 1, 2].map(|k| p[k] - line.from[k]);
    let dot = |a: [f64; 3], b: [f64; 3]| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
    let share = (dot(v, d) / dot(d, d).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
    let off = [0, 1, 2].map(|k| v[k] - d[k] * share);
    dot(off, off).sqrt()
}

/// An arc in another plane as lines.
fn chords_in_plane(whole: &CoursePiece, arc: &ArcMove) -> impl Iterator<Item = CoursePiece> {
    let [first, second, third] = arc.plane.axes();
    let start = [
        whole.from[first] - arc.centre[0],
        whole.from[second] - arc.centre[1],
    ];
    let most = (8.0 * CHORD_MM / arc.radius.max(CHORD_MM)).sqrt();
    let n = super::cells::whole((arc.sweep.abs() / most).ceil()).max(1);
    let at = {
        let (whole, centre, sweep) = (*whole, arc.centre, arc.sweep);
        move |k: usize| {
            let share = count(k) / count(n);
            if k == n {
                return whole.to;
            }
            let (sin, cos) = (sweep * share).sin_cos();
            let mut p = whole.from;
            p[first] = centre[0] + start[0] * cos - start[1] * sin;
            p[second] = centre[1] + start[0] * sin + start[1] * cos;
            p[third] += (whole.to[third] - whole.from[third]) * share;
            p
        }
    };
    let whole = *whole;
    (0..n).map(move |k| CoursePiece {
        from: at(k),
        to: at(k + 1),
        ..whole
    })
}
