//! Carries out a block: the order of NISTIR 6556, table 8, with units first.

use super::audit::Audit;
use super::block::{Block, letters};
use super::codes::{Group, group, show_g};
use super::finding as f;
use super::flow::whole;
use super::modal::{FeedMode, Modal, Side, Turning};
use super::motion::{MoveKind, Tool, Watch};
use super::{Where, arc::Plane};

/// What comes after a block.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Then {
    /// The next line.
    Next,
    /// The end of the programme.
    End,
    /// A subprogram, so many times.
    Call(u32, u32),
    /// Back from a subprogram, perhaps to a numbered block.
    Return(Option<u32>),
}

pub(crate) const AXES: u32 = letters(b"XYZ");
const ROTARY: u32 = letters(b"ABCUVW");

/// G3, in tenths: the last of the codes of motion.
pub(crate) const LAST_MOTION: i32 = 30;

/// Carries out one block.
pub(crate) fn execute<W: Watch>(
    modal: &mut Modal,
    block: &Block,
    line: u64,
    audit: &mut Audit<W>,
) -> Then {
    let mut act = Act {
        modal,
        block,
        line,
        audit,
    };
    act.settings();
    if !block.g.any_above(LAST_MOTION) || act.positions() {
        act.motion();
    } else {
        act.set_motion();
    }
    act.stop()
}

/// A block being carried out.
pub(super) struct Act<'a, W> {
    pub(super) modal: &'a mut Modal,
    pub(super) block: &'a Block,
    pub(super) line: u64,
    pub(super) audit: &'a mut Audit<W>,
}

impl<W: Watch> Act<'_, W> {
    /// Adds a finding at a place of this line.
    pub(super) fn find(&mut self, at: u32, kind: f::FindingKind, text: impl FnOnce() -> String) {
        self.audit.findings.add(self.line, at, kind, text);
    }

    pub(super) fn here(&self, at: u32) -> Where {
        Where {
            line: self.line,
            at,
        }
    }

    fn settings(&mut self) {
        // Most blocks hold no G code but one of motion, which changes no mode.
        let modes = self.block.g.any_above(LAST_MOTION);
        if self.block.g.iter().len() > 0 {
            self.check_codes();
        }
        if !modes && !self.block.has(letters(b"FSTM")) {
            return;
        }
        if modes {
            self.units();
        }
        let dwells = modes && self.block.g.has(40);
        if !dwells {
            self.feed();
            self.speed();
        }
        self.tool();
        if self.block.m.iter().len() > 0 {
            self.machine_codes();
        }
        if dwells && !self.block.has(letters(b"PXUSF")) {
            self.find(0, f::DWELL, || {
                "G4 has no time: add P (or X) with the time the control expects".into()
            });
        }
        if modes {
            self.modes();
        }
    }

    fn check_codes(&mut self) {
        let mut codes = self.block.g.iter();
        if let (Some(only), None) = (codes.next(), codes.next())
            && group(only.code).is_some()
        {
            return;
        }
        let mut seen: [Option<(Group, i32)>; 16] = [None; 16];
        for (index, code) in self.block.g.iter().enumerate() {
            let Some(group) = group(code.code) else {
                self.find(code.at, f::UNKNOWN_CODE, || {
                    format!(
                        "{} is not known here and its effect is not in this audit: look it up in \
                         the manual of the control, and remove it if it is not needed",
                        show_g(code.code)
                    )
                });
                continue;
            };
            let other = seen
                .iter()
                .flatten()
                .find(|(g, c)| *g == group && (group != Group::Once || *c == code.code))
                .map(|(_, c)| *c);
            if let Some(other) = other.filter(|c| *c != code.code) {
                self.find(code.at, f::MODAL_CONFLICT, || {
                    format!(
                        "{} and {} exclude each other in one block: keep the one that is meant",
                        show_g(other),
                        show_g(code.code)
                    )
                });
            }
            if let Some(slot) = seen.get_mut(index) {
                *slot = Some((group, code.code));
            }
        }
    }

    fn units(&mut self) {
        for code in self.block.g.iter() {
            let inch = match code.code {
                200 | 700 => true,
                210 | 710 => false,
                _ => continue,
            };
            if self.modal.inch == Some(!inch) {
                let (now, before) = if inch { ("inch", "mm") } else { ("mm", "inch") };
                self.find(code.at, f::UNITS_MIXED, || {
                    format!(
                        "the programme changes from {before} to {now} here: take {} out, and write \
                         the numbers that follow in {before}",
                        show_g(code.code)
                    )
                });
            }
            self.audit.units_stated(inch);
            self.modal.inch = Some(inch);
        }
        for code in self.block.g.iter() {
            let mode = match code.code {
                930 => FeedMode::InverseTime,
                940 => FeedMode::PerMinute,
                950 => FeedMode::PerTurn,
                _ => continue,
            };
            if self.modal.feed_mode != mode {
                // A number of the other mode means nothing in this one.
                self.modal.feed = None;
            }
            self.modal.feed_mode = mode;
        }
    }

    fn feed(&mut self) {
        let Some(word) = self.block.get(b'F') else {
            return;
        };
        if word < 0.0 {
            let at = self.block.place(b'F');
            self.find(at, f::BAD_VALUE, || {
                format!("F{word} is negative: a feed is 0 or more")
            });
            return;
        }
        let here = self.here(self.block.place(b'F'));
        if self.modal.feed_mode != FeedMode::InverseTime {
            let feed = word * self.modal.unit();
            if Some(feed) != self.modal.feed {
                self.audit.feed_set(here, feed);
            }
            self.modal.feed = Some(feed);
            self.modal.feed_slack = 0.5 * self.block.feed_digit * self.modal.unit();
        }
        let (computed, inch) = (self.block.computes(b'F'), self.modal.in_inch());
        self.audit.feed_renewed(here.line, computed, inch);
    }

    fn speed(&mut self) {
        let Some(word) = self.block.get(b'S') else {
            return;
        };
        let at = self.block.place(b'S');
        if word < 0.0 {
            self.find(at, f::BAD_VALUE, || {
                format!("S{word} is negative: a speed is 0 or more, M4 turns the spindle backwards")
            });
            return;
        }
        self.modal.speed = Some(word);
        let here = self.here(at);
        self.audit.speed_set(here);
    }

    fn tool(&mut self) {
        if let Some(word) = self.block.get(b'T') {
            let at = self.block.place(b'T');
            match whole(word) {
                Some(number) => {
                    self.modal.selected = Some(number);
                    self.audit.tool_chosen(number);
                    if !self.modal.changes_by_m6 && !self.block.m.has(6) {
                        self.load(Tool::Chosen(number), at);
                    }
                }
                None => self.find(at, f::BAD_VALUE, || {
                    format!("T{word} is not a tool number: write a whole number from 0")
                }),
            }
        }
        if let Some(change) = self.block.m.iter().find(|c| c.code == 6) {
            self.modal.changes_by_m6 = true;
            if self.modal.turning != Turning::Off {
                self.modal.turn(Turning::Off);
                self.modal.stopped_by_change = Some(self.line);
            }
            match self.modal.selected {
                Some(number) => {
                    self.audit.tool_loaded(number);
                    self.load(Tool::Loaded(number), change.at);
                }
                None => self.find(change.at, f::TOOL_MISSING, || {
                    "M6 without a T: write T and the number of the tool before it".into()
                }),
            }
        }
    }

    fn load(&mut self, tool: Tool, at: u32) {
        if tool == self.modal.tool {
            return;
        }
        let before = std::mem::replace(&mut self.modal.tool, tool);
        if matches!(tool, Tool::Loaded(_)) {
            self.modal.length_on = false;
        }
        let here = self.here(at);
        self.audit.tool_in(here, before, tool);
    }

    fn modes(&mut self) {
        for code in self.block.g.iter() {
            self.audit.stated(code.code);
            match code.code {
                170 => self.modal.plane = Plane::Xy,
                180 => self.modal.plane = Plane::Zx,
                190 => self.modal.plane = Plane::Yz,
                400 => self.modal.compensation = None,
                410 | 411 | 420 | 421 => {
                    let left = code.code < 420;
                    self.modal.compensation = Some(if left { Side::Left } else { Side::Right });
                    self.find(code.at, f::COMPENSATION, || {
                        "cutter compensation is on: lengths, times and reach here are those of the \
                         written path, and the cutter runs beside it by the radius entered in the \
                         control, which is not known here; check it at the control"
                            .into()
                    });
                }
                430 | 431 | 440 => self.length_offset(code.at),
                490 => self.modal.length_on = false,
                540..=599 => self.offset(code.code, code.at),
                900 => self.modal.incremental = Some(false),
                910 => self.modal.incremental = Some(true),
                901 => self.modal.arc_absolute = true,
                911 => self.modal.arc_absolute = false,
                980 => self.modal.retract_to_level = false,
                990 => self.modal.retract_to_level = true,
                _ => {}
            }
        }
    }

    fn length_offset(&mut self, at: u32) {
        self.modal.length_on = true;
        self.modal.length_ever = true;
        let tool = self.modal.tool.number();
        let Some(word) = self.block.get(b'H') else {
            return;
        };
        if let Some(tool) = tool.filter(|tool| whole(word) != Some(*tool)) {
            let place = self.block.place(b'H');
            self.find(place.max(at), f::LENGTH_OTHER, || {
                format!(
                    "H{word} is not the length of T{tool}: write H{tool}, or check that {word} \
                         really holds the length of this tool"
                )
            });
        }
    }

    fn offset(&mut self, code: i32, at: u32) {
        if self.modal.offset.is_some_and(|before| before != code) {
            self.find(at, f::OFFSET_CHANGED, || {
                format!(
                    "{} changes the origin, and the programme does not say by how much: up to the \
                     next full position lengths are counted as if it had not",
                    show_g(code)
                )
            });
        }
        self.modal.offset = Some(code);
    }

    /// Codes that take the axis words of the block for themselves; false when they have.
    fn positions(&mut self) -> bool {
        let mut free = true;
        for code in self.block.g.iter() {
            match code.code {
                40 | 281 | 301 | 650 => free = false,
                100 | 520 => {
                    free = false;
                    self.find(code.at, f::OFFSET_CHANGED, || {
                        format!(
                            "{} shifts the origin inside the programme: check that the control is \
                             meant to keep it",
                            show_g(code.code)
                        )
                    });
                }
                280 | 300 => {
                    free = false;
                    self.reference();
                }
                530 => {
                    free = false;
                    self.forget_named();
                }
                920 => {
                    free = false;
                    self.renumber();
                }
                921..=923 => self.modal.unshift(),
                _ => {}
            }
        }
        if self.block.g.has(650) {
            self.find(0, f::MACRO, || {
                "G65 calls a macro that is not followed here: its moves are missing from this \
                 audit; post them out in full to have them checked"
                    .into()
            });
        }
        free
    }

    /// G28 and G30: the named axes, or all, end at a place the programme does not state.
    fn reference(&mut self) {
        if self.block.has(AXES) {
            self.forget_named();
        } else {
            self.modal.known = [false; 3];
        }
    }

    fn forget_named(&mut self) {
        for (axis, letter) in [b'X', b'Y', b'Z'].into_iter().enumerate() {
            if self.block.get(letter).is_some() {
                self.modal.known[axis] = false;
                self.modal.position[axis] = 0.0;
            }
        }
    }

    fn renumber(&mut self) {
        let unit = self.modal.unit();
        for (axis, letter) in [b'X', b'Y', b'Z'].into_iter().enumerate() {
            if let Some(value) = self.block.get(letter) {
                self.modal.renumber(axis, value * unit);
            }
        }
    }

    /// Takes over the motion or cycle code of the block.
    pub(super) fn set_motion(&mut self) {
        for code in self.block.g.iter() {
            let kind = match code.code {
                0 => MoveKind::Rapid,
                10 => MoveKind::Line,
                20 => MoveKind::ArcCw,
                30 => MoveKind::ArcCcw,
                800 => {
                    self.end_cycle();
                    continue;
                }
                730 | 740 | 760 | 810..=890 if group(code.code) == Some(Group::Cycle) => {
                    self.modal.cycle = Some(code.code);
                    continue;
                }
                _ => continue,
            };
            self.modal.motion = Some(kind);
            self.end_cycle();
        }
    }

    fn end_cycle(&mut self) {
        // Nothing sticks outside a cycle.
        if self.modal.cycle.take().is_some() {
            self.modal.sticky = super::cycle::Sticky::default();
        }
    }

    fn motion(&mut self) {
        if self.block.g.iter().len() > 0 {
            self.set_motion();
        }
        if self.block.has(ROTARY) && !self.block.m.has(98) {
            self.rotary();
        }
        let probes = |code: i32| (382..=385).contains(&code);
        if self.block.g.any_above(LAST_MOTION) && self.block.g.iter().any(|c| probes(c.code)) {
            self.forget_named();
            self.find(0, f::PROBE, || {
                "a probing move ends where it touches: the position after it is not known here"
                    .into()
            });
            return;
        }
        if self.modal.cycle.is_some() {
            self.hole();
        } else if self.block.has(AXES | letters(b"IJK")) || self.block.has(letters(b"R")) {
            self.travel();
        }
    }

    fn rotary(&mut self) {
        let letter = b"ABCUVW"
            .iter()
            .find(|l| self.block.get(**l).is_some())
            .copied();
        let letter = letter.unwrap_or(b'A');
        let at = self.block.place(letter);
        self.audit.kind.second_axes(letter);
        self.find(at, f::ROTARY, || {
            format!(
                "{} moves an axis that is not measured here: lengths and times leave it out",
                char::from(letter)
            )
        });
    }
}
