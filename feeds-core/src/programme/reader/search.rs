//! Looking for the line a jump, a call or a branch goes to.

use super::Reader;
use crate::programme::finding as f;
use crate::programme::flow::{Close, Keyword, Statement, Target, statement};
use crate::programme::motion::Watch;
use crate::programme::parameters::Slot;
use crate::programme::source::{Fetch, Place, WINDOW};
use crate::programme::stack::{Found, Frame, Seek};

impl<W: Watch> Reader<W> {
    /// Starts looking for a line; `next` is where to go on if it is not found.
    pub(in crate::programme) fn look_for(&mut self, target: Target, next: Place, then: Found) {
        if let Target::Sub(label) = &target {
            match self.subs.get(label) {
                Some(Some(place)) if place.offset + WINDOW >= self.at.offset => {
                    let place = *place;
                    self.seek = Some(Seek {
                        target,
                        origin: self.at,
                        at: place,
                        next,
                        wrapped: false,
                        then,
                    });
                    return;
                }
                Some(None) => {
                    self.not_found(&target, next);
                    return;
                }
                _ => {}
            }
        }
        self.seek = Some(Seek {
            target,
            origin: self.at,
            at: next,
            next,
            wrapped: false,
            then,
        });
    }

    /// Goes on with a search; false when more bytes are needed.
    pub(super) fn search(&mut self) -> bool {
        let Some(mut seek) = self.seek.take() else {
            return true;
        };
        let lowest = self.lowest_needed().min(seek.origin);
        loop {
            let too_far = !seek.wrapped && seek.at.offset > lowest.offset + 2 * WINDOW;
            let around = seek.wrapped && seek.at >= seek.origin;
            let fetch = if too_far || around {
                Fetch::End
            } else {
                self.source.line(seek.at)
            };
            match fetch {
                Fetch::Line(line) => {
                    if seek.target.is_met_by(self.source.text(line)) {
                        self.arrive(seek, line.next);
                        return true;
                    }
                    seek.at = line.next;
                    if !self.repeated() {
                        return true;
                    }
                }
                Fetch::More => {
                    self.seek = Some(seek);
                    return false;
                }
                Fetch::End if seek.wrapped || !seek.target.may_be_before() => {
                    self.not_found(&seek.target, seek.next);
                    return true;
                }
                Fetch::End => {
                    seek.wrapped = true;
                    let from = seek.origin.offset.saturating_sub(WINDOW);
                    let mark = self.marks.iter().find(|m| m.offset >= from);
                    seek.at = mark.copied().unwrap_or(seek.origin);
                }
            }
        }
    }

    fn not_found(&mut self, target: &Target, next: Place) {
        let line = self.at.line + 1;
        match target {
            Target::Sub(label) => {
                self.subs.insert(label.clone(), None);
                self.audit.findings.add(line, 0, f::SUB_ELSEWHERE, || {
                    format!(
                        "{label} is not in this file (within {} KiB of its call): its moves are \
                         missing from this audit; add it to the file or audit it by itself",
                        WINDOW / 512
                    )
                });
            }
            other => {
                let what = match other {
                    Target::Number(n) => format!("block N{n}"),
                    Target::End(n) => format!("END{n}"),
                    Target::Close(label, _) => format!("the end of {label}"),
                    Target::Sub(label) => label.to_string(),
                };
                self.audit.findings.add(line, 0, f::JUMP_LOST, || {
                    format!(
                        "{what} is not found within {} KiB: correct the jump, or add its target; \
                         the audit goes on with the next line",
                        WINDOW / 512
                    )
                });
            }
        }
        self.at = next;
    }

    /// Goes on at the line a search has found.
    fn arrive(&mut self, seek: Seek, next: Place) {
        match seek.then {
            Found::At => self.at = seek.at,
            Found::After => self.at = next,
            Found::Branch => {
                self.at = seek.at;
                self.branch(next);
            }
            Found::Call { times, values } => {
                if let Target::Sub(label) = seek.target {
                    self.subs.insert(label, Some(seek.at));
                }
                let locals = values.map(|values| {
                    let saved = self.parameters.take_locals();
                    for (slot, value) in (1..).map(Slot::Number).zip(values) {
                        self.parameters.set(slot, value);
                    }
                    saved
                });
                let frame = Frame::Call {
                    back: seek.next,
                    start: next,
                    again: times - 1,
                    locals,
                };
                if self.stack.push(frame) {
                    self.at = next;
                } else {
                    self.unmatched("calls and loops are nested too deeply to follow");
                    self.at = seek.next;
                }
            }
        }
    }

    /// Judges the `elseif`, `else` or `endif` that a condition that did not hold has led to.
    fn branch(&mut self, next: Place) {
        let Fetch::Line(line) = self.source.line(self.at) else {
            return;
        };
        let text = self.source.text(line);
        let start = Target::statement_start(text);
        match statement(text, start, &self.parameters) {
            Ok((Statement::Labelled(label, Keyword::ElseIf, values), _)) => {
                if values.first().is_some_and(|v| *v != 0.0) {
                    self.at = next;
                } else {
                    self.look_for(Target::Close(label, Close::Branch), next, Found::Branch);
                }
            }
            Ok(_) => self.at = next,
            Err(fault) => {
                let line = self.at.line + 1;
                self.audit.findings.add(line, 0, f::EXPRESSION, || {
                    format!("{}: correct it, or post the number itself", fault.what)
                });
                self.at = next;
            }
        }
    }
}
