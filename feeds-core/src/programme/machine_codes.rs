//! M codes of a block: spindle, groups, calls and the end.

use super::block::Code;
use super::codes::{known_m, m_group};
use super::finding as f;
use super::flow::whole;
use super::interpret::{Act, Then};
use super::modal::Turning;
use super::motion::Watch;

/// Most M words of one block: NISTIR 6556, 3.3.5.
const MOST_M: usize = 4;

impl<W: Watch> Act<'_, W> {
    /// NISTIR 6556, table 4; mist and flood, M7 and M8, go together.
    fn check_machine_codes(&mut self) {
        let codes = self.block.m.iter();
        for (index, code) in codes.clone().enumerate() {
            let excludes = |other: &&Code| {
                let both = [other.code, code.code];
                other.code != code.code
                    && m_group(other.code).is_some_and(|g| m_group(code.code) == Some(g))
                    && both != [7, 8]
                    && both != [8, 7]
            };
            if let Some(other) = codes.clone().take(index).find(excludes) {
                self.find(code.at, f::MODAL_CONFLICT, || {
                    format!(
                        "M{} and M{} exclude each other in one block: keep the one that is meant",
                        other.code, code.code
                    )
                });
            }
        }
        if codes.len() > MOST_M {
            self.find(0, f::BEYOND, || {
                format!(
                    "{} M codes stand in this block, more than the {MOST_M} a control must take: \
                     write each in a block of its own",
                    codes.len()
                )
            });
        }
    }

    pub(super) fn machine_codes(&mut self) {
        self.check_machine_codes();
        for code in self.block.m.iter() {
            match code.code {
                3 | 4 => {
                    let counter = code.code == 4;
                    self.modal.turn(if counter {
                        Turning::Counter
                    } else {
                        Turning::Clockwise
                    });
                    let here = self.here(code.at);
                    self.audit.spindle_started(here);
                }
                5 => self.modal.turn(Turning::Off),
                n if !known_m(n) => {
                    let meant = self.number_meant(n);
                    self.find(code.at, f::UNKNOWN_CODE, || {
                        format!(
                            "M{n} is not known here{meant}: look up in the manual of the control \
                             what it does"
                        )
                    });
                }
                _ => {}
            }
        }
    }

    /// Whether an M code is the number of its line, mistyped.
    fn number_meant(&self, code: i32) -> String {
        let Some((last, step)) = self.modal.numbered else {
            return String::new();
        };
        let next = f64::from(code) - last;
        if self.block.get(b'N').is_none() && next > 0.0 && next <= step.max(10.0) {
            format!(", and the line follows N{last}: is N{code} meant?")
        } else {
            String::new()
        }
    }

    pub(super) fn stop(&mut self) -> Then {
        let mut then = Then::Next;
        for code in self.block.m.iter() {
            then = match code.code {
                2 | 30 => Then::End,
                98 => self.call(code.at),
                99 => Then::Return(self.block.get(b'P').and_then(whole)),
                _ => continue,
            };
        }
        then
    }

    /// `M98 P1000 L3`, or `P31000`: more than four digits hold the number of times in front.
    fn call(&mut self, at: u32) -> Then {
        let Some(p) = self.block.get(b'P').and_then(whole) else {
            self.find(at, f::BAD_VALUE, || {
                "M98 does not say what it calls: write P and the number of the subprogram".into()
            });
            return Then::Next;
        };
        let times = self
            .block
            .get(b'L')
            .or_else(|| self.block.get(b'K'))
            .and_then(whole);
        match times {
            Some(times) => Then::Call(p, times),
            None if p > 9999 => Then::Call(p % 10_000, p / 10_000),
            None => Then::Call(p, 1),
        }
    }
}
