//! Axis words to moves: lines and arcs.

use super::arc::{ArcFault, ArcMove};
use super::block::letters;
use super::finding as f;
use super::interpret::{AXES, Act};
use super::modal::Modal;
use super::motion::{Feed, Motion, MoveKind, Watch};
use super::written::figure;

pub(super) const AXIS_LETTERS: [u8; 3] = [b'X', b'Y', b'Z'];
const CENTRE_LETTERS: [u8; 3] = [b'I', b'J', b'K'];

/// Where a block goes.
#[derive(Clone, Copy)]
pub(super) struct Goal {
    pub(super) to: [f64; 3],
    /// Which axes of the start count as known for the length of the move.
    pub(super) start_known: [bool; 3],
    pub(super) known: [bool; 3],
}

impl<W: Watch> Act<'_, W> {
    /// The first byte of the axis words.
    pub(super) fn place(&self) -> u32 {
        self.block.first_place(letters(b"XYZIJK"))
    }

    pub(super) fn goal(&self) -> Goal {
        let unit = self.modal.unit();
        let incremental = self.modal.incremental == Some(true);
        let mut goal = Goal {
            to: self.modal.position,
            start_known: [true; 3],
            known: self.modal.known,
        };
        for (axis, letter) in AXIS_LETTERS.into_iter().enumerate() {
            let Some(value) = self.block.get(letter) else {
                continue;
            };
            if incremental {
                goal.to[axis] += value * unit;
            } else {
                goal.to[axis] = value * unit;
                goal.start_known[axis] = goal.known[axis];
                goal.known[axis] = true;
            }
        }
        goal
    }

    /// A block with axis words outside a cycle.
    pub(super) fn travel(&mut self) {
        let Some(kind) = self.modal.motion else {
            if self.block.has(AXES) {
                let goal = self.goal();
                self.modal.position = goal.to;
                self.modal.known = goal.known;
                let at = self.place();
                self.find(at, f::NO_MOTION_CODE, || {
                    "axis words before any motion code: write G0 to position or G1 to cut; this \
                     block is not counted as a move"
                        .into()
                });
            }
            return;
        };
        let is_arc = matches!(kind, MoveKind::ArcCw | MoveKind::ArcCcw);
        if !is_arc && !self.block.has(AXES) {
            return;
        }
        let at = self.place();
        if kind == MoveKind::Rapid && self.block.has(letters(b"FIJK")) && !self.block.g.has(0) {
            self.find(at, f::RAPID_FEED, || {
                "G0 is still on, so this block runs at rapid although it has F or a centre: write \
                 G1, G2 or G3 if it is to cut"
                    .into()
            });
        }
        let goal = self.goal();
        let arc = if is_arc {
            self.arc(goal, kind == MoveKind::ArcCw, at)
        } else {
            None
        };
        self.make(kind, goal, arc, false, at);
    }

    fn arc(&mut self, goal: Goal, clockwise: bool, at: u32) -> Option<ArcMove> {
        let [first, second, _] = self.modal.plane.axes();
        let from = [self.modal.position[first], self.modal.position[second]];
        let to = [goal.to[first], goal.to[second]];
        let (unit, slack) = (self.modal.unit(), self.modal.arc_slack());
        let known = goal.start_known[first] && goal.start_known[second];
        let plane = self.modal.plane;
        let made = if let Some(radius) = self.block.get(b'R') {
            ArcMove::with_radius(plane, from, to, radius * unit, clockwise, slack)
        } else {
            let written = self.around(from, to, clockwise, at);
            match self
                .other_centre(&written, from, to, slack)
                .filter(|_| known)
            {
                Some(centre) => {
                    self.absolute_centre(from, at);
                    ArcMove::around(plane, from, to, centre, clockwise, self.turns())
                }
                None => written,
            }
        };
        match made {
            Ok(arc) => {
                if arc.mismatch > slack && known {
                    self.mismatch(arc, from, to, slack, at);
                }
                Some(arc)
            }
            Err(fault) => {
                let kind = match fault {
                    ArcFault::NoCentre => f::ARC_CENTRE,
                    _ => f::ARC_RADIUS,
                };
                let text = fault_text(fault, self.modal);
                self.find(at, kind, || text);
                None
            }
        }
    }

    /// The centre as an absolute position, where only that fits, or did so before.
    fn other_centre(
        &mut self,
        written: &Result<ArcMove, ArcFault>,
        from: [f64; 2],
        to: [f64; 2],
        slack: f64,
    ) -> Option<[f64; 2]> {
        if self.modal.arc_absolute {
            return None;
        }
        let fits = match written {
            Ok(arc) => arc.mismatch <= slack,
            Err(ArcFault::ZeroRadius) => false,
            Err(_) => return None,
        };
        let centre = self.fits_absolute(from, to, slack);
        let taken = &mut self.modal.arc_taken_absolute;
        *taken = centre.is_some() && (*taken || !fits);
        centre.filter(|_| *taken)
    }

    /// Ways round, 1 for a plain arc.
    fn turns(&self) -> f64 {
        self.block.get(b'P').unwrap_or(1.0).clamp(1.0, 1e6).round()
    }

    fn around(
        &mut self,
        from: [f64; 2],
        to: [f64; 2],
        clockwise: bool,
        at: u32,
    ) -> Result<ArcMove, ArcFault> {
        let [first, second, third] = self.modal.plane.axes();
        let word = |axis: usize| self.block.get(CENTRE_LETTERS[axis]);
        let (i, j) = (word(first), word(second));
        if i.is_none() && j.is_none() {
            return Err(ArcFault::NoCentre);
        }
        if word(third).is_some_and(|k| k != 0.0) {
            let letter = char::from(CENTRE_LETTERS[third]);
            self.find(at, f::ARC_WORD, || {
                format!(
                    "{letter} has no meaning in this plane: choose the plane with G17, G18 or G19, \
                     or take {letter} out"
                )
            });
        }
        let unit = self.modal.unit();
        let centre = if self.modal.arc_absolute {
            [
                i.map_or(from[0], |i| i * unit),
                j.map_or(from[1], |j| j * unit),
            ]
        } else {
            [
                from[0] + i.unwrap_or(0.0) * unit,
                from[1] + j.unwrap_or(0.0) * unit,
            ]
        };
        ArcMove::around(self.modal.plane, from, to, centre, clockwise, self.turns())
    }

    /// Says how far an arc misses its end.
    fn mismatch(&mut self, arc: ArcMove, from: [f64; 2], to: [f64; 2], slack: f64, at: u32) {
        let [first, second, _] = self.modal.plane.axes();
        let unit = self.modal.unit();
        let words = |letters: [u8; 3], point: [f64; 2], start: Option<[f64; 2]>| {
            let start = start.unwrap_or_default();
            let word = |axis: usize, i: usize| {
                let value = figure((point[i] - start[i]) / unit, PLACES);
                format!("{}{value}", char::from(letters[axis]))
            };
            format!("{} {}", word(first, 0), word(second, 1))
        };
        let centre_from = (!self.modal.arc_absolute).then_some(from);
        let centres = arc.centres_for(from, to);
        let centres = centres
            .iter()
            .map(|c| words(CENTRE_LETTERS, *c, centre_from));
        let end_from = (self.modal.incremental == Some(true)).then_some(from);
        let end = words(AXIS_LETTERS, arc.end_for(from, to), end_from);
        let mends: Vec<String> = centres.chain([end]).collect();
        let radii = [from, to].map(|p| (p[0] - arc.centre[0]).hypot(p[1] - arc.centre[1]));
        let (here, used) = (self.here(at), arc.mismatch / slack);
        let modal = &*self.modal;
        let text = || {
            format!(
                "the arc misses its end by {} ({} is allowed): its radius is {} at the start and \
                 {} at the end; check the drawing, then write {}",
                modal.close(arc.mismatch),
                modal.close(slack),
                modal.close(radii[0]),
                modal.close(radii[1]),
                mends.join(", or ")
            )
        };
        let findings = &mut self.audit.findings;
        if used <= ROUNDED {
            // Positions with a digit too few, all over the programme.
            findings.worst(here, f::ARC_MISMATCH, f::Cause::Kind, used, text);
        } else {
            findings.add(here.line, here.at, f::ARC_MISMATCH, text);
        }
    }

    /// The centre words as the absolute position of the centre, if that fits.
    fn fits_absolute(&self, from: [f64; 2], to: [f64; 2], slack: f64) -> Option<[f64; 2]> {
        let [first, second, _] = self.modal.plane.axes();
        let word = |axis: usize| self.block.get(CENTRE_LETTERS[axis]);
        let unit = self.modal.unit();
        let centre = [word(first), word(second)].map(|w| w.unwrap_or(0.0) * unit);
        let radius = |p: [f64; 2]| (p[0] - centre[0]).hypot(p[1] - centre[1]);
        let fits = radius(from) > slack && (radius(from) - radius(to)).abs() <= slack;
        fits.then_some(centre)
    }

    fn absolute_centre(&mut self, from: [f64; 2], at: u32) {
        let [first, second, _] = self.modal.plane.axes();
        let unit = self.modal.unit();
        let step = |axis: usize, from: f64| {
            let letter = CENTRE_LETTERS[axis];
            let value = self.block.get(letter).unwrap_or(0.0) - from / unit;
            format!("{}{}", char::from(letter), figure(value, PLACES))
        };
        let words = format!("{} {}", step(first, from[0]), step(second, from[1]));
        let here = self.here(at);
        let cause = f::Cause::Kind;
        self.audit.findings.worst(here, f::ARC_ABSOLUTE, cause, None, || {
            format!(
                "the centre fits only as an absolute position, and no G90.1 says so: write {words} \
                 here, from the start to the centre; or G90.1 once at the start, if the control \
                 has it. The lengths from here on take centres as absolute"
            )
        });
    }

    /// Sends a move on and takes over its end.
    pub(super) fn make(
        &mut self,
        kind: MoveKind,
        goal: Goal,
        arc: Option<ArcMove>,
        cycle: bool,
        at: u32,
    ) {
        let from = self.modal.position;
        let step = [0, 1, 2].map(|axis| goal.to[axis] - from[axis]);
        let (length, unknown_length) = match arc {
            None if goal.start_known == [true; 3] => {
                let [x, y, z] = step;
                ((x * x + y * y + z * z).sqrt(), 0.0)
            }
            _ => {
                let part = |known| part_of(step, arc, goal.start_known.map(|k| k == known), known);
                (part(true), part(false))
            }
        };
        let motion = Motion {
            kind,
            cycle,
            from,
            to: goal.to,
            from_known: self.modal.known,
            to_known: goal.known,
            arc,
            length,
            unknown_length,
            feed: if kind == MoveKind::Rapid {
                Feed::Unstated
            } else {
                self.modal.feed(self.block.get(b'F'))
            },
            spindle_speed: self.modal.spindle_speed(),
            tool: self.modal.tool,
            line: self.line,
            at,
        };
        self.modal.position = goal.to;
        self.modal.known = goal.known;
        self.audit.motion(&motion, self.modal);
    }
}

/// The length along some axes of a move: those whose start is known, or those where it is not.
fn part_of(step: [f64; 3], arc: Option<ArcMove>, along: [bool; 3], known: bool) -> f64 {
    let Some(arc) = arc else {
        let square = |axis: usize| {
            if along[axis] {
                step[axis] * step[axis]
            } else {
                0.0
            }
        };
        return (square(0) + square(1) + square(2)).sqrt();
    };
    let [first, second, third] = arc.plane.axes();
    // An arc from a start that is known in part has no length that is known.
    let turns = if known {
        along[first] && along[second]
    } else {
        along[first] || along[second]
    };
    let plane = if turns { arc.length() } else { 0.0 };
    if along[third] {
        plane.hypot(step[third])
    } else {
        plane
    }
}

/// Decimals of a position to write: a hundredth of the slack of an arc.
pub(super) const PLACES: i32 = 5;

/// Up to how many times its slack an arc may miss its end by positions that were rounded: a digit
/// too few (arithmetic).
const ROUNDED: f64 = 10.0;

fn fault_text(fault: ArcFault, modal: &Modal) -> String {
    match fault {
        ArcFault::NoCentre => {
            "the arc has neither a centre nor a radius: add I and J (or K) or R; it is measured as \
             a straight line"
        }
        ArcFault::ZeroRadius => "the centre of the arc is its start: correct I, J or K",
        ArcFault::SamePoint => {
            "an arc by radius cannot end where it starts: write the centre, I and J, for a full \
             circle"
        }
        ArcFault::TooShort(half) => {
            return format!(
                "the radius is too small to reach the end of the arc: it takes {} or more",
                modal.close(half)
            );
        }
    }
    .into()
}
