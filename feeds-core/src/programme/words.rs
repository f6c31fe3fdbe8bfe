//! One line of a programme, split into words.

use super::expression;
use super::number::{read, refused, skip_blanks};
use super::parameters::{Parameters, Slot};

/// A letter with its value, as ISO 6983 calls it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Word {
    /// The address, upper case.
    pub letter: u8,
    /// The value, correctly rounded.
    pub value: f64,
    /// Where the letter stands in its line, in bytes from 0.
    pub start: usize,
    /// The byte after the last character of the value.
    pub end: usize,
    /// Whether the value was worked out from a parameter or an expression.
    pub computed: bool,
}

/// What is wrong at one place of a line.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Fault {
    /// A byte that starts nothing.
    Stray(u8),
    /// A letter without a number.
    NoNumber(u8),
    /// A letter whose number has too many digits, or is too large to be kept.
    Endless(u8),
    /// `,R` or `,C`: corner rounding between two moves.
    Corner(u8),
    /// An axis letter with `=`, the mark of another control's dialect.
    Assigned,
    /// An expression that cannot be worked out.
    Expression(String),
    /// `(` without `)`.
    Unclosed,
    /// A comment inside a comment.
    Nested,
    /// More digits after a `*` checksum mark than a programme has.
    Checksum,
}

/// Takes the pieces of a line as they are found.
pub(crate) trait Taker {
    /// A word.
    fn word(&mut self, word: Word);
    /// `#slot = value`.
    fn setting(&mut self, slot: Slot, value: f64);
    /// The text of a comment without its marks, and where it starts.
    fn comment(&mut self, text: &[u8], start: usize);
    /// A fault and its place.
    fn fault(&mut self, at: usize, fault: Fault);
}

/// What kind of line it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Shape {
    /// Words, perhaps none.
    Words,
    /// The tape mark `%`.
    Percent,
    /// An O word or a keyword starts at this byte; the rest is not read yet.
    Statement(usize),
}

/// A line read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Read {
    /// What kind of line it is.
    pub(crate) shape: Shape,
    /// Whether it starts with the block delete mark `/`.
    pub(crate) deletable: bool,
}

/// Words that start a statement when they stand where a word could.
const KEYWORDS: [&[u8]; 6] = [b"IF", b"WHILE", b"GOTO", b"END", b"DO", b"THEN"];

/// Splits one line without its line end.
pub(crate) fn read_line(text: &[u8], parameters: &Parameters, taker: &mut impl Taker) -> Read {
    let mut at = if text.starts_with(b"\xEF\xBB\xBF") {
        3
    } else {
        0
    };
    let mut result = Read {
        shape: Shape::Words,
        deletable: false,
    };
    let mut fresh = true;
    while let Some(&byte) = text.get(at) {
        match byte {
            // NUL and DEL are the blank and the rubbed-out row of punched tape.
            b' ' | b'\t' | 0 | 0x7F => at += 1,
            b'A'..=b'Z' | b'a'..=b'z' => {
                let letter = byte.to_ascii_uppercase();
                let letters = text.get(at + 1).is_some_and(u8::is_ascii_alphabetic);
                if letter == b'O' && fresh || letters && is_keyword(&text[at..]) {
                    result.shape = Shape::Statement(at);
                    return result;
                }
                fresh &= letter == b'N';
                at = word(text, at, letter, parameters, taker);
            }
            b'(' => at = comment(text, at, taker),
            b';' => {
                taker.comment(&text[at + 1..], at + 1);
                return result;
            }
            b'#' => {
                fresh = false;
                match setting(text, at, parameters) {
                    Ok((slot, value, next)) => {
                        taker.setting(slot, value);
                        at = next;
                    }
                    Err(fault) => {
                        taker.fault(fault.at, Fault::Expression(fault.what));
                        at = fault.at.max(at + 1);
                    }
                }
            }
            b'/' if fresh => {
                result.deletable = true;
                at += 1;
                // `/1` to `/9` choose one of several switches.
                if text.get(at).is_some_and(u8::is_ascii_digit) {
                    at += 1;
                }
            }
            // An alignment mark, or in old programmes the number of the programme.
            b':' if fresh => {
                at = read(text, at + 1).map_or(at + 1, |number| number.next);
            }
            b'%' if fresh => {
                result.shape = Shape::Percent;
                return result;
            }
            b',' => {
                let next = skip_blanks(text, at + 1);
                let letter = text.get(next).copied().unwrap_or(b',');
                taker.fault(at, Fault::Corner(letter));
                let number = read(text, next + 1).map(|n| n.next);
                let number = number.or_else(|| refused(text, next + 1));
                at = number.unwrap_or(next.max(at + 1));
            }
            b'*' => {
                // A checksum ends a line sent to a printer or an old control.
                if read(text, at + 1).is_none() && refused(text, at + 1).is_none() {
                    taker.fault(at, Fault::Checksum);
                }
                return result;
            }
            _ => {
                taker.fault(at, Fault::Stray(byte));
                at += 1;
                fresh = false;
            }
        }
    }
    result
}

#[cold]
fn is_keyword(text: &[u8]) -> bool {
    KEYWORDS.iter().any(|k| {
        text.get(..k.len())
            .is_some_and(|t| t.eq_ignore_ascii_case(k))
    })
}

/// Reads the word at `at` and returns the place after it.
#[inline]
fn word(
    text: &[u8],
    at: usize,
    letter: u8,
    parameters: &Parameters,
    taker: &mut impl Taker,
) -> usize {
    if let Some(number) = read(text, at + 1) {
        taker.word(Word {
            letter,
            value: number.value,
            start: at,
            end: number.end,
            computed: false,
        });
        return number.next;
    }
    worked_out(text, at, letter, parameters, taker)
}

/// Reads the word at `at`, which holds no plain number, and returns the place after it.
#[cold]
fn worked_out(
    text: &[u8],
    at: usize,
    letter: u8,
    parameters: &Parameters,
    taker: &mut impl Taker,
) -> usize {
    if let Some(next) = refused(text, at + 1) {
        taker.fault(at, Fault::Endless(letter));
        return next;
    }
    let next = skip_blanks(text, at + 1);
    let worked = match text.get(next) {
        Some(b'#' | b'[' | b'-' | b'+') => expression::value(text, next, parameters),
        Some(b'A'..=b'Z' | b'a'..=b'z') if function_follows(text, next) => {
            expression::value(text, next, parameters)
        }
        Some(b'=') => {
            taker.fault(at, Fault::Assigned);
            return next + 1;
        }
        _ => {
            taker.fault(at, Fault::NoNumber(letter));
            return next;
        }
    };
    match worked {
        Ok(worked) => {
            taker.word(Word {
                letter,
                value: worked.value,
                start: at,
                end: worked.next,
                computed: true,
            });
            worked.next
        }
        Err(fault) => {
            taker.fault(fault.at, Fault::Expression(fault.what));
            text.len()
        }
    }
}

/// Whether letters and then `[` follow: the call of a function.
fn function_follows(text: &[u8], at: usize) -> bool {
    let letters = text[at..]
        .iter()
        .take_while(|b| b.is_ascii_alphabetic())
        .count();
    letters >= 2 && text.get(skip_blanks(text, at + letters)) == Some(&b'[')
}

/// Reads `( ... )`; comments inside it are balanced.
fn comment(text: &[u8], at: usize, taker: &mut impl Taker) -> usize {
    let (mut depth, mut nested) = (0, false);
    for (offset, byte) in text[at..].iter().enumerate() {
        match byte {
            b'(' => {
                depth += 1;
                nested |= depth > 1;
            }
            b')' => {
                depth -= 1;
                if depth == 0 {
                    if nested {
                        taker.fault(at, Fault::Nested);
                    }
                    taker.comment(&text[at + 1..at + offset], at + 1);
                    return at + offset + 1;
                }
            }
            _ => {}
        }
    }
    // A nested mark that is never closed: the first `)` ends the comment, as NISTIR 6556 has it.
    if let Some(close) = text[at..].iter().position(|b| *b == b')') {
        taker.fault(at, Fault::Nested);
        taker.comment(&text[at + 1..at + close], at + 1);
        return at + close + 1;
    }
    taker.fault(at, Fault::Unclosed);
    taker.comment(&text[at + 1..], at + 1);
    text.len()
}

/// Reads `#slot = value`.
pub(crate) fn setting(
    text: &[u8],
    at: usize,
    parameters: &Parameters,
) -> Result<(Slot, f64, usize), expression::Fault> {
    let (slot, next) = expression::slot(text, at + 1, parameters)?;
    let next = skip_blanks(text, next);
    if text.get(next) != Some(&b'=') {
        return Err(expression::Fault {
            at: next,
            what: "= is missing after the parameter".into(),
        });
    }
    let worked = expression::value(text, next + 1, parameters)?;
    Ok((slot, worked.value, worked.next))
}

/// The words of one line, in order; what cannot be read is left out.
///
/// ```
/// # use feeds_core::programme::words;
/// let words = words(b"n10 g0x +0. 12 34y 7 (note)");
/// let letters: Vec<u8> = words.iter().map(|w| w.letter).collect();
/// assert_eq!(letters, b"NGXY");
/// assert_eq!(words[2].value, 0.1234);
/// ```
pub fn words(line: &[u8]) -> Vec<Word> {
    struct Keep(Vec<Word>);
    impl Taker for Keep {
        fn word(&mut self, word: Word) {
            self.0.push(word);
        }
        fn setting(&mut self, _: Slot, _: f64) {}
        fn comment(&mut self, _: &[u8], _: usize) {}
        fn fault(&mut self, _: usize, _: Fault) {}
    }
    let mut keep = Keep(Vec::new());
    read_line(line, &Parameters::default(), &mut keep);
    keep.0
}
