//! Puts the pieces of a line into a block and says what could not be read.

use super::Where;
use super::audit::Audit;
use super::block::{Block, Put};
use super::finding::{self as f, FindingKind};
use super::motion::Watch;
use super::number::MOST_DIGITS;
use super::parameters::Slot;
use super::words::{Fault, Taker, Word};

/// Takes the pieces of one line.
pub(super) struct Gather<'a, W> {
    pub(super) block: &'a mut Block,
    pub(super) settings: &'a mut Vec<(Slot, f64)>,
    pub(super) audit: &'a mut Audit<W>,
    /// The whole line, and how much of it was read before.
    pub(super) text: &'a [u8],
    pub(super) base: usize,
    /// Physical line, from 1.
    pub(super) line: u64,
    /// Whether every piece so far could be read.
    pub(super) sound: bool,
}

impl<W: Watch> Gather<'_, W> {
    /// Says that a statement could not be read.
    pub(super) fn unread(&mut self, fault: super::expression::Fault) {
        // Text that happens to start with a letter that could: no block at all.
        if fault.what == super::flow::UNKNOWN {
            self.fault(fault.at, Fault::NoNumber(b'O'));
        } else {
            self.fault(fault.at, Fault::Expression(fault.what));
        }
    }

    /// Whether a letter O stands where a digit could.
    fn is_zero_meant(&self, at: usize, fault: &Fault) -> bool {
        let is_o = |place: Option<usize>| {
            place.is_some_and(|p| matches!(self.text.get(p), Some(b'O' | b'o')))
        };
        let at = at + self.base;
        match fault {
            Fault::NoNumber(b'O') => at > 0 && !self.text[at - 1].is_ascii_whitespace(),
            Fault::NoNumber(_) => is_o(Some(at + 1)),
            _ => false,
        }
    }

    /// What one more in the last digit of a number comes to.
    fn last_digit(&self, word: &Word) -> f64 {
        let number = &self.text[word.start + self.base..word.end + self.base];
        let point = number.iter().position(|b| *b == b'.');
        let decimals = point.map_or(0, |at| {
            number[at..].iter().filter(|b| b.is_ascii_digit()).count()
        });
        (0..decimals).fold(1.0, |digit, _| digit / 10.0)
    }

    #[cold]
    fn not_taken(&mut self, put: Put, word: &Word) {
        let (letter, value) = (char::from(word.letter), word.value);
        if put == Put::NoCode {
            self.find(word.start, f::BAD_VALUE, || {
                format!("{letter}{value} is not a known code: use one your control supports")
            });
        } else {
            self.find(word.start, f::REPEATED, || {
                format!(
                    "{letter} stands twice in this block; the later value is used here: take one \
                     out"
                )
            });
        }
    }

    fn find(&mut self, at: usize, kind: FindingKind, text: impl FnOnce() -> String) {
        let at = u32::try_from(at + self.base).unwrap_or(u32::MAX);
        self.audit.findings.add(self.line, at, kind, text);
    }
}

impl<W: Watch> Taker for Gather<'_, W> {
    #[expect(clippy::inline_always)] // as for the numbers
    #[inline(always)]
    fn word(&mut self, word: Word) {
        if word.letter == b'O' {
            self.find(word.start, f::UNKNOWN_WORD, || {
                "the letter O stands in a number: is the digit 0 meant?".into()
            });
        }
        if word.letter == b'F' {
            self.block.feed_digit = if word.computed {
                0.0
            } else {
                self.last_digit(&word)
            };
        }
        let put = self.block.put(&word, word.start + self.base);
        if put != Put::Taken {
            self.not_taken(put, &word);
        }
    }

    fn setting(&mut self, slot: Slot, value: f64) {
        self.settings.push((slot, value));
    }

    fn comment(&mut self, text: &[u8], start: usize) {
        let at = u32::try_from(start + self.base).unwrap_or(u32::MAX);
        self.audit.comment(
            Where {
                line: self.line,
                at,
            },
            text,
        );
    }

    fn fault(&mut self, at: usize, fault: Fault) {
        let gentle = matches!(
            fault,
            Fault::Nested | Fault::Unclosed | Fault::Expression(_)
        );
        if !gentle {
            if self.sound {
                self.audit.kind.odd_line(self.text, self.line);
            }
            self.audit.kind.odd_word(&fault, self.line);
            if !self.sound {
                // One sentence a line is enough for a line that is no block at all.
                return;
            }
            self.sound = false;
        }
        let zero = self.is_zero_meant(at, &fault);
        let (kind, text) = describe(fault);
        self.find(at, kind, || {
            if zero {
                "the letter O stands in a number: is the digit 0 meant?".into()
            } else {
                text
            }
        });
    }
}

/// The kind of finding for a fault, and its words.
fn describe(fault: Fault) -> (FindingKind, String) {
    match fault {
        Fault::Stray(byte) => {
            let shown = match byte {
                b' '..=b'~' => format!("'{}'", char::from(byte)),
                _ => format!("byte {byte:#04x}"),
            };
            (
                f::STRAY,
                format!("{shown} starts no word: take it out, or put it into a comment ( )"),
            )
        }
        Fault::NoNumber(letter) => (
            f::NO_NUMBER,
            format!(
                "{} has no number: add its value, or put the text into a comment ( )",
                char::from(letter)
            ),
        ),
        Fault::Endless(letter) => (
            f::NO_NUMBER,
            format!(
                "{} has a number of more than {MOST_DIGITS} digits, or one too large to be kept, \
                 so the word is left out: write it with the digits it needs",
                char::from(letter)
            ),
        ),
        Fault::Corner(letter) => (
            f::CORNER,
            format!(
                "',{}' rounds or breaks a corner by itself and is not followed here: post the arc \
                 or the line of the corner",
                char::from(letter.to_ascii_uppercase())
            ),
        ),
        Fault::Assigned => (
            f::STRAY,
            "a value after = belongs to another control's dialect: write the letter and its number"
                .into(),
        ),
        Fault::Expression(what) => (
            f::EXPRESSION,
            format!("{what}: correct it, or post the number itself"),
        ),
        Fault::Unclosed => (
            f::UNCLOSED,
            "the comment is not closed, so the rest of the line is lost in it: write ) where it \
             ends"
                .into(),
        ),
        Fault::Nested => (
            f::NESTED,
            "a comment stands inside a comment: some controls end it at the first ), so use other \
             marks inside"
                .into(),
        ),
        Fault::Checksum => (
            f::STRAY,
            "'*' without a checksum: take it out, or write * inside brackets [ ]".into(),
        ),
    }
}
