//! The holes of cycles.

use super::block::letters;
use super::cycle::{legs, pecks, taps};
use super::finding as f;
use super::interpret::{AXES, Act};
use super::modal::FeedMode;
use super::motion::{MoveKind, Watch};
use super::travel::{AXIS_LETTERS, Goal, PLACES};
use super::written::figure;

/// Most repeats of one cycle block followed.
const MOST_REPEATS: u32 = 10_000;

impl<W: Watch> Act<'_, W> {
    /// A block with axis words inside a cycle.
    pub(super) fn hole(&mut self) {
        let Some(code) = self.modal.cycle else { return };
        let plane = self.modal.plane.axes();
        let depth_letter = AXIS_LETTERS[plane[2]];
        let unit = self.modal.unit();
        let word = |letter: u8| self.block.get(letter).map(|value| value * unit);
        let (z, r, q) = (word(depth_letter), word(b'R'), word(b'Q'));
        // What a cycle lacks is told where its words are, not at every hole.
        let stated = self.block.g.iter().any(|c| c.code == code) || (z, r, q) != (None, None, None);
        let sticky = &mut self.modal.sticky;
        sticky.z = z.or(sticky.z);
        sticky.r = r.or(sticky.r);
        sticky.q = q.or(sticky.q);
        if !self.block.has(AXES) {
            return;
        }
        let at = self.place();
        let Some((level, depth)) = self.levels(code, plane[2], stated, at) else {
            return;
        };
        if stated {
            self.cycle_findings(code, level, depth, at);
        }
        let height = self.modal.position[plane[2]];
        let known = self.modal.known[plane[2]];
        let before = *self.modal.sticky.before.get_or_insert((height, known));
        let asked = self.block.get(b'L').or_else(|| self.block.get(b'K'));
        let times = asked.map_or(Some(1), super::flow::whole);
        let repeats = times.unwrap_or(1).min(MOST_REPEATS);
        if let Some(asked) = asked.filter(|_| times.is_none_or(|t| t > MOST_REPEATS)) {
            self.find(at, f::BAD_VALUE, || {
                format!(
                    "a cycle repeated {} times, of which {repeats} are followed: write a whole \
                     number of at most {MOST_REPEATS}",
                    figure(asked, 3)
                )
            });
        }
        for time in 0..repeats {
            self.bore(code, level, depth, before, time > 0, at);
        }
        let set = stated || self.block.has(letters(b"FS"));
        if repeats > 0 && taps(code) && set {
            let here = self.here(at);
            let deep = (level - depth).abs();
            self.audit
                .tapped(here, deep, self.modal, self.block.get(b'F'));
        }
    }

    /// Level R and the depth as positions; none when the cycle lacks them.
    fn levels(&mut self, code: i32, axis: usize, stated: bool, at: u32) -> Option<(f64, f64)> {
        let sticky = self.modal.sticky;
        let (Some(z), Some(r)) = (sticky.z, sticky.r) else {
            if !stated {
                return None;
            }
            let missing = match (sticky.z, sticky.r) {
                (None, None) => "its depth and R, the height from which it feeds",
                (None, _) => "its depth",
                _ => "R, the height from which it feeds",
            };
            self.find(at, f::CYCLE_R, || {
                format!(
                    "{} lacks {missing}: write it in the block that starts the cycle",
                    super::codes::show_g(code)
                )
            });
            return None;
        };
        if self.modal.incremental != Some(true) {
            return Some((r, z));
        }
        let (height, _) = sticky.before.unwrap_or((self.modal.position[axis], false));
        Some((height + r, height + r + z))
    }

    fn cycle_findings(&mut self, code: i32, level: f64, depth: f64, at: u32) {
        if depth > level {
            let letter = char::from(AXIS_LETTERS[self.modal.plane.axes()[2]]);
            let unit = self.modal.unit();
            self.find(at, f::CYCLE_DEPTH, || {
                let [level, depth] = [level, depth].map(|v| figure(v / unit, PLACES));
                format!(
                    "this cycle drills upwards, from R {level} to {letter} {depth}: swap them, or \
                     write the minus that {letter} lacks"
                )
            });
        }
        if pecks(code) && self.modal.sticky.q.is_none_or(|q| q <= 0.0) {
            self.find(at, f::CYCLE_PECK, || {
                "a peck cycle needs its step: write Q with the depth of one peck".into()
            });
        }
        if self.modal.feed_mode == FeedMode::InverseTime || self.modal.compensation.is_some() {
            self.find(at, f::CYCLE_MODE, || {
                "a cycle does not run under G93 or with cutter compensation: write G94 and G40 \
                 before it"
                    .into()
            });
        }
    }

    /// One hole: over it, to the level, down and out.
    fn bore(
        &mut self,
        code: i32,
        level: f64,
        depth: f64,
        before: (f64, bool),
        again: bool,
        at: u32,
    ) {
        let axis = self.modal.plane.axes()[2];
        self.audit.hole();
        if self.modal.position[axis] < level && self.modal.known[axis] {
            self.leg(axis, level, true, false, at);
        }
        let (position, incremental) = (self.modal.position, self.modal.incremental == Some(true));
        let mut goal = if again && !incremental {
            Goal {
                to: position,
                start_known: self.modal.known,
                known: self.modal.known,
            }
        } else {
            self.goal()
        };
        goal.to[axis] = position[axis];
        goal.known[axis] = self.modal.known[axis];
        goal.start_known[axis] = true;
        self.make(MoveKind::Rapid, goal, None, true, at);
        self.leg(axis, level, true, false, at);
        let high = before.0 > level || !before.1;
        let (end, known) = if self.modal.retract_to_level || !high {
            (level, true)
        } else {
            before
        };
        for leg in legs(code, level, depth, end) {
            let last_known = leg.to.to_bits() != end.to_bits() || known;
            self.leg(axis, leg.to, last_known, leg.feed, at);
        }
    }

    /// A move along the axis of a cycle.
    fn leg(&mut self, axis: usize, to: f64, known: bool, feed: bool, at: u32) {
        let mut goal = Goal {
            to: self.modal.position,
            start_known: [true; 3],
            known: self.modal.known,
        };
        if to.to_bits() == self.modal.position[axis].to_bits() && self.modal.known[axis] == known {
            return;
        }
        goal.start_known[axis] = self.modal.known[axis] && known;
        goal.to[axis] = to;
        goal.known[axis] = known;
        let kind = if feed {
            MoveKind::Line
        } else {
            MoveKind::Rapid
        };
        self.make(kind, goal, None, true, at);
    }
}
