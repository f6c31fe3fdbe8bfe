//! What the axes really reach: trapezoidal speed profiles with a bounded look-ahead.
//!
//! Between moves the speed is limited so that a circle of the path tolerance fits into the corner
//! (v² = a δ s/(1 - s), s the sine of half the corner angle), on arcs by a = v²/r. A window of
//! moves is planned backwards from a stop; its first move is then final. As the window moves on, so
//! does the stop: what was slow only for its sake is fast again. Times in seconds and lengths in mm
//! inside.

use std::collections::VecDeque;

use super::motion::{Feed, Motion, MoveKind};
use super::setting::Drives;
use super::uses::Uses;

mod pace;
mod trace;

pub(crate) use pace::Pace;
pub use trace::Sample;
use trace::Trace;

/// A move at or above this share of its feed counts as reaching it: an override is turned in steps
/// of a whole per cent at best (common practice).
const REACHED: f64 = 0.99;

/// A move waiting for its profile.
#[derive(Clone, Copy, Debug)]
struct Segment {
    length: f64,
    /// Fastest this move may go, mm/s.
    cap: f64,
    /// Programmed speed, mm/s.
    programmed: f64,
    /// mm/s²
    acceleration: f64,
    /// Most speed at its start, from the corner before it.
    corner: f64,
    /// The same, from what follows in the window as well.
    entry: f64,
    place: Option<usize>,
    /// Which move it is, counted from the first.
    ordinal: u64,
}

/// The planner.
#[derive(Debug)]
pub(crate) struct Reach {
    fastest: [f64; 3],
    acceleration: [f64; 3],
    path_tolerance_mm: f64,
    look_ahead: usize,
    waiting: VecDeque<Segment>,
    /// Direction and speed cap at the end of the last move taken in.
    last: Option<([f64; 3], f64, f64)>,
    /// Speed at the start of the first waiting move.
    speed: f64,
    seconds: f64,
    trace: Trace,
    /// The paces of moves that are settled, each with which move it is of, where they are wanted.
    paces: Option<VecDeque<(u64, Pace)>>,
}

impl Reach {
    /// The planner for drives that are known.
    pub(crate) fn of(drives: &Drives) -> Option<Self> {
        Some(Self {
            fastest: drives.fastest?,
            acceleration: drives.acceleration?,
            path_tolerance_mm: drives.path_tolerance_mm,
            look_ahead: drives.look_ahead.max(1),
            waiting: VecDeque::new(),
            last: None,
            speed: 0.0,
            seconds: 0.0,
            trace: Trace::default(),
            paces: None,
        })
    }

    /// The same planner, which keeps the pace of every move until it is taken.
    pub(crate) fn keeping_paces(self) -> Self {
        Self {
            paces: Some(VecDeque::new()),
            ..self
        }
    }

    /// The next pace that is settled, and which move it is of.
    pub(crate) fn pace(&mut self) -> Option<(u64, Pace)> {
        self.paces.as_mut()?.pop_front()
    }

    /// Minutes so far.
    pub(crate) fn time(&self) -> f64 {
        self.seconds / 60.0
    }

    pub(crate) fn into_trace(self) -> Vec<Sample> {
        self.trace.finish()
    }

    /// Takes in a move, the `ordinal`th, that belongs to the use at `place`.
    pub(crate) fn motion(
        &mut self,
        motion: &Motion,
        ordinal: u64,
        place: Option<usize>,
        uses: &mut Uses,
    ) {
        let known = motion.unknown_length == 0.0 && motion.length > 0.0;
        let programmed = self.programmed(motion);
        if !known || programmed <= 0.0 {
            // A move that cannot be timed ends the run.
            self.finish(uses);
            return;
        }
        let (start, end) = directions(motion);
        let limit = |limits: [f64; 3], by: [f64; 3]| {
            (0..3)
                .filter(|a| by[*a].abs() > 1e-9)
                .map(|a| limits[a] / by[a].abs())
                .fold(f64::INFINITY, f64::min)
        };
        let mut cap = programmed.min(limit(self.fastest, start) / 60.0);
        let mut acceleration = limit(self.acceleration, start);
        if let Some(arc) = &motion.arc {
            // On an arc every direction of its plane occurs, so its slowest axis counts.
            let [first, second, _] = arc.plane.axes();
            let slowest = |limits: [f64; 3]| limits[first].min(limits[second]);
            acceleration = acceleration.min(slowest(self.acceleration));
            cap = cap
                .min(slowest(self.fastest) / 60.0)
                .min((acceleration * arc.radius).sqrt());
        }
        let entry = match self.last {
            Some((before, cap_before, a_before)) => {
                let most = corner(
                    before,
                    start,
                    acceleration.min(a_before),
                    self.path_tolerance_mm,
                );
                most.min(cap).min(cap_before)
            }
            None => 0.0,
        };
        self.last = Some((end, cap, acceleration));
        let length = motion.length;
        self.waiting.push_back(Segment {
            length,
            cap,
            programmed,
            acceleration,
            corner: entry,
            entry: f64::NAN,
            place,
            ordinal,
        });
        if self.waiting.len() >= self.look_ahead {
            self.plan();
            self.settle(1, uses);
        }
    }

    fn programmed(&self, motion: &Motion) -> f64 {
        match (motion.kind, motion.feed) {
            (MoveKind::Rapid, _) => self.fastest.iter().map(|f| f / 60.0).fold(0.0, f64::hypot),
            (_, Feed::PerMinute(f)) => f / 60.0,
            (_, Feed::InverseTime(f)) => f * motion.length / 60.0,
            (_, Feed::Unstated) => 0.0,
        }
    }

    /// Plans the waiting moves to a stop after the last one.
    pub(crate) fn finish(&mut self, uses: &mut Uses) {
        self.plan();
        self.settle(self.waiting.len(), uses);
        self.last = None;
        self.speed = 0.0;
    }

    /// Finds entry speeds so that each move can slow down to the next, and the last to a stop.
    fn plan(&mut self) {
        let mut exit = 0.0_f64;
        for segment in self.waiting.iter_mut().rev() {
            let most = (exit * exit + 2.0 * segment.acceleration * segment.length).sqrt();
            exit = segment.corner.min(most);
            // The moves before it do not learn of the new last one.
            if exit.to_bits() == segment.entry.to_bits() {
                return;
            }
            segment.entry = exit;
        }
    }

    fn settle(&mut self, count: usize, uses: &mut Uses) {
        for _ in 0..count {
            let Some(segment) = self.waiting.pop_front() else {
                return;
            };
            let next = self.waiting.front().map_or(0.0, |s| s.entry);
            self.profile(segment, next, uses);
        }
    }

    fn profile(&mut self, segment: Segment, next: f64, uses: &mut Uses) {
        let (a, length, v0) = (
            segment.acceleration,
            segment.length,
            self.speed.min(segment.cap),
        );
        let v1 = next.min((v0 * v0 + 2.0 * a * length).sqrt());
        let top = ((2.0 * a * length + v0 * v0 + v1 * v1) / 2.0)
            .sqrt()
            .min(segment.cap);
        let top = top.max(v0).max(v1);
        let ramps = (2.0 * top * top - v0 * v0 - v1 * v1) / (2.0 * a);
        let cruise = (length - ramps).max(0.0);
        let time = (2.0 * top - v0 - v1) / a + cruise / top;
        let wanted = REACHED * segment.programmed;
        let slow = if top < wanted {
            time
        } else {
            ((wanted - v0).max(0.0) + (wanted - v1).max(0.0)) / a
        };
        self.speed = v1;
        if let Some(paces) = &mut self.paces {
            let pace = Pace {
                acceleration: a,
                length,
                start: v0,
                top,
                end: v1,
            };
            paces.push_back((segment.ordinal, pace));
        }
        self.seconds += time;
        self.trace
            .add(time, segment.programmed * 60.0, length / time * 60.0);
        if let Some(found) = segment.place.and_then(|place| uses.get_mut(place)) {
            found.reached_time += time / 60.0;
            found.slow_time += slow.min(time) / 60.0;
            found.lowest_feed = found.lowest_feed.min(top * 60.0);
        }
    }
}

/// Most speed through the corner between two directions.
fn corner(before: [f64; 3], after: [f64; 3], a: f64, tolerance_mm: f64) -> f64 {
    let dot: f64 = (0..3).map(|i| before[i] * after[i]).sum();
    // Half of the angle between the path coming in and the path going out: 90° when straight on.
    let s = f64::midpoint(1.0, dot.clamp(-1.0, 1.0)).sqrt();
    if s > 1.0 - 1e-9 {
        return f64::INFINITY;
    }
    (a * tolerance_mm * s / (1.0 - s)).sqrt()
}

/// Unit directions at the start and the end of a move that has a length.
fn directions(motion: &Motion) -> ([f64; 3], [f64; 3]) {
    let step = [0, 1, 2].map(|a| motion.to[a] - motion.from[a]);
    let unit = |v: [f64; 3]| {
        let length = v[0].hypot(v[1]).hypot(v[2]);
        v.map(|x| x / length)
    };
    let Some(arc) = &motion.arc else {
        let d = unit(step);
        return (d, d);
    };
    let [first, second, third] = arc.plane.axes();
    let rise = step[third] / arc.sweep.abs();
    let tangent = |at: [f64; 3]| {
        let radius = [at[first] - arc.centre[0], at[second] - arc.centre[1]];
        let turn = arc.sweep.signum();
        let mut d = [0.0; 3];
        d[first] = -radius[1] * turn;
        d[second] = radius[0] * turn;
        d[third] = rise;
        unit(d)
    };
    (tangent(motion.from), tangent(motion.to))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drives() -> Drives {
        Drives {
            fastest: Some([3000.0; 3]),
            acceleration: Some([100.0; 3]),
            ..Drives::default()
        }
    }

    fn line(from: [f64; 3], to: [f64; 3], feed: f64) -> Motion {
        let length = (0..3)
            .map(|a| (to[a] - from[a]).powi(2))
            .sum::<f64>()
            .sqrt();
        Motion {
            kind: MoveKind::Line,
            cycle: false,
            from,
            to,
            from_known: [true; 3],
            to_known: [true; 3],
            arc: None,
            length,
            unknown_length: 0.0,
            feed: Feed::PerMinute(feed),
            spindle_speed: 0.0,
            tool: super::super::motion::Tool::None,
            line: 1,
            at: 0,
        }
    }

    fn seconds(moves: &[Motion]) -> f64 {
        seconds_on(&drives(), moves)
    }

    fn seconds_on(drives: &Drives, moves: &[Motion]) -> f64 {
        let (mut reach, mut uses) = (Reach::of(drives).unwrap(), Uses::default());
        for motion in moves {
            reach.motion(motion, 0, None, &mut uses);
        }
        reach.finish(&mut uses);
        reach.time() * 60.0
    }

    #[test]
    fn one_move_follows_the_textbook() {
        // v = 10 mm/s, a = 100: 0.1 s and 0.5 mm for each ramp, 9 mm cruising: 0.2 + 0.9 s.
        let long = seconds(&[line([0.0; 3], [10.0, 0.0, 0.0], 600.0)]);
        assert!((long - 1.1).abs() < 1e-9, "{long}");
        // Too short to reach it: 2 sqrt(L/a).
        let short = seconds(&[line([0.0; 3], [0.25, 0.0, 0.0], 600.0)]);
        assert!((short - 0.1).abs() < 1e-9, "{short}");
    }

    #[test]
    fn cutting_a_line_into_pieces_changes_nothing() {
        let pieces: Vec<Motion> = (0..100)
            .map(|i| {
                let x = |i: i32| [f64::from(i) * 0.1, 0.0, 0.0];
                line(x(i), x(i + 1), 600.0)
            })
            .collect();
        let time = seconds(&pieces);
        assert!((time - 1.1).abs() < 1e-6, "{time}");
    }

    #[test]
    fn without_feed_or_acceleration_there_is_no_reach() {
        let without = |change: fn(&mut Drives)| {
            let mut drives = drives();
            change(&mut drives);
            Reach::of(&drives).is_none()
        };
        assert!(without(|m| m.fastest = None));
        assert!(without(|m| m.acceleration = None));
        assert!(!without(|m| m.travel_mm = None));
    }

    /// By hand: 20 moves of 0.05 mm in a line, v 10 mm/s, a 100 mm/s². Looking one move ahead, each
    /// starts and ends at rest: 2 sqrt(0.05/100) s each. Looking far ahead it is one move of 1 mm,
    /// 0.5 mm of it speeding up and 0.5 mm slowing down: 0.2 s.
    #[test]
    fn a_short_look_ahead_stops_between_moves() {
        let x = |i: i32| [f64::from(i) * 0.05, 0.0, 0.0];
        let pieces: Vec<Motion> = (0..20).map(|i| line(x(i), x(i + 1), 600.0)).collect();
        let ahead = |look_ahead| {
            let drives = Drives {
                look_ahead,
                ..drives()
            };
            seconds_on(&drives, &pieces)
        };
        let stops = 20.0 * 2.0 * (0.05_f64 / 100.0).sqrt();
        assert!((ahead(1) - stops).abs() < 1e-9, "{}", ahead(1));
        assert!((ahead(128) - 0.2).abs() < 1e-9, "{}", ahead(128));
        // In between the more it sees the faster it goes.
        let times = [1, 2, 3, 5, 10, 20].map(ahead);
        assert!(times.windows(2).all(|t| t[0] > t[1] - 1e-12), "{times:?}");
    }

    /// By hand: 1000 moves of 0.05 mm in a line, v 10 mm/s, a 100 mm/s². Ten of them are enough
    /// to stop in (v²/2a = 0.5 mm), so whoever sees eleven goes at v all along: 50 mm in 5 s, and
    /// 0.1 s for speeding up and slowing down. Whoever sees five begins each no faster than four
    /// are enough to stop in: √(2a · 0.2 mm) = 6.325 mm/s, and comes to 6.708 mm/s in the middle
    /// of it, so 2 · (6.708 - 6.325)/100 = 7.68 ms a move, and a little more at both ends.
    #[test]
    fn the_stop_moves_on_with_the_window() {
        let x = |i: i32| [f64::from(i) * 0.05, 0.0, 0.0];
        let pieces: Vec<Motion> = (0..1000).map(|i| line(x(i), x(i + 1), 600.0)).collect();
        let ahead = |look_ahead| {
            let drives = Drives {
                look_ahead,
                ..drives()
            };
            seconds_on(&drives, &pieces)
        };
        for far in [11, 24, 64, 1000] {
            assert!((ahead(far) - 5.1).abs() < 1e-6, "{far}: {}", ahead(far));
        }
        assert!(ahead(10) > 5.1 + 1e-3, "{}", ahead(10));
        let move_ms = 20.0 * (45.0_f64.sqrt() - 40.0_f64.sqrt());
        assert!(
            (0.0..0.1).contains(&(ahead(5) - move_ms)),
            "{}, {move_ms}",
            ahead(5)
        );
    }

    #[test]
    fn a_reversal_stops() {
        let there = line([0.0; 3], [10.0, 0.0, 0.0], 600.0);
        let back = line([10.0, 0.0, 0.0], [0.0; 3], 600.0);
        let time = seconds(&[there, back]);
        assert!((time - 2.2).abs() < 1e-9, "{time}");
    }
}
