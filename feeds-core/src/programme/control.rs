//! Carries out loops, branches and calls.

use super::flow::{Close, Keyword, Label, Statement, Target};
use super::motion::Watch;
use super::reader::Reader;
use super::source::Place;
use super::stack::{Found, Frame, LoopName};

impl<W: Watch> Reader<W> {
    /// Carries out a statement; `next` is the line after it.
    pub(super) fn statement(&mut self, statement: Statement, next: Place) {
        match statement {
            Statement::Title | Statement::Nothing => self.at = next,
            Statement::Set(slot, value) => {
                self.parameters.set(slot, value);
                self.at = next;
            }
            Statement::Goto(n) => {
                self.stack.leave_loops();
                self.look_for(Target::Number(n), next, Found::At);
            }
            Statement::While(n, holds) => {
                self.judge(LoopName::Number(n), holds, Target::End(n), next);
            }
            Statement::End(n) => self.repeat(&LoopName::Number(n), next),
            Statement::Labelled(label, keyword, values) => {
                self.labelled(label, keyword, values, next);
            }
        }
    }

    fn labelled(&mut self, label: Label, keyword: Keyword, values: Vec<f64>, next: Place) {
        let holds = values.first().is_some_and(|v| *v != 0.0);
        let name = LoopName::Label(label.clone());
        match keyword {
            Keyword::Sub => self.look_for(Target::Close(label, Close::Sub), next, Found::After),
            Keyword::EndSub | Keyword::Return => self.back(None, next),
            Keyword::Call => {
                let then = Found::Call {
                    times: 1,
                    values: Some(values),
                };
                self.look_for(Target::Sub(label), next, then);
            }
            Keyword::While => {
                let here = self.at;
                match self.stack.find_loop(&name) {
                    Some(Frame::Loop { start, .. }) if *start != here => {
                        // The end of `do`: its body is repeated while the condition holds.
                        let start = *start;
                        if holds {
                            self.go_back(start, &name, next);
                        } else {
                            self.stack.end_loop(&name);
                            self.at = next;
                        }
                    }
                    _ => self.judge(name, holds, Target::Close(label, Close::Loop), next),
                }
            }
            Keyword::Do => self.enter(name, next, None, next),
            Keyword::Repeat => match values.first().copied().and_then(super::flow::whole) {
                Some(times) if times > 0 => self.enter(name, next, Some(times - 1), next),
                _ => self.look_for(Target::Close(label, Close::Loop), next, Found::After),
            },
            Keyword::EndWhile | Keyword::EndRepeat => self.repeat(&name, next),
            Keyword::If if holds => self.at = next,
            Keyword::If => self.look_for(Target::Close(label, Close::Branch), next, Found::Branch),
            // Reached from the branch that was taken.
            Keyword::ElseIf | Keyword::Else => {
                self.look_for(Target::Close(label, Close::If), next, Found::After);
            }
            Keyword::EndIf => self.at = next,
            Keyword::Break => {
                self.stack.end_loop(&name);
                self.look_for(Target::Close(label, Close::Loop), next, Found::After);
            }
            Keyword::Continue => self.look_for(Target::Close(label, Close::Loop), next, Found::At),
        }
    }

    /// The condition at the head of a loop.
    fn judge(&mut self, name: LoopName, holds: bool, end: Target, next: Place) {
        let here = self.at;
        let known = matches!(self.stack.find_loop(&name),
            Some(Frame::Loop { start, .. }) if *start == here);
        if !holds {
            self.stack.end_loop(&name);
            self.look_for(end, next, Found::After);
        } else if known {
            self.at = next;
        } else {
            self.enter(name, here, None, next);
        }
    }

    fn enter(&mut self, name: LoopName, start: Place, left: Option<u32>, next: Place) {
        if !self.stack.push(Frame::Loop { name, start, left }) {
            self.unmatched("calls and loops are nested too deeply to follow");
        }
        self.at = next;
    }

    /// The end of a loop: back to its head, or on.
    fn repeat(&mut self, name: &LoopName, next: Place) {
        let to = match self.stack.find_loop(name) {
            Some(Frame::Loop { left: Some(0), .. }) => {
                self.stack.end_loop(name);
                None
            }
            Some(Frame::Loop { start, left, .. }) => {
                if let Some(left) = left {
                    *left -= 1;
                }
                Some(*start)
            }
            _ => {
                self.unmatched("this ends a loop that was not started");
                None
            }
        };
        match to {
            Some(start) => self.go_back(start, name, next),
            None => self.at = next,
        }
    }

    /// The end of a subprogram; at the top it ends the programme.
    pub(super) fn back(&mut self, to: Option<u32>, next: Place) {
        let Some(Frame::Call {
            back,
            start,
            again,
            locals,
        }) = self.stack.pop_call()
        else {
            self.at = next;
            self.stop();
            return;
        };
        if again > 0 {
            let frame = Frame::Call {
                back,
                start,
                again: again - 1,
                locals,
            };
            if self.stack.push(frame) {
                self.at = start;
            }
            return;
        }
        if let Some(locals) = locals {
            self.parameters.restore_locals(locals);
        }
        self.at = back;
        if let Some(n) = to {
            self.look_for(Target::Number(n), back, Found::At);
        }
    }
}
