//! Physical lines of a programme by their number: LF, CRLF and CR end a line.

use super::source::ProgrammeSource;
use std::io;

/// How far apart the places are that are kept to begin reading at.
const EVERY: u64 = 256;

/// Most signs of a line that are kept.
const KEPT: usize = 400;

/// Finds where lines start while bytes arrive in pieces.
#[derive(Clone, Debug, Default)]
struct Ends {
    after_return: bool,
}

impl Ends {
    /// What a byte means: whether it ends a line, or belongs to an end already counted.
    fn of(&mut self, byte: u8) -> End {
        let second_half = byte == b'\n' && self.after_return;
        self.after_return = byte == b'\r';
        match byte {
            _ if second_half => End::Rest,
            b'\n' | b'\r' => End::Line,
            _ => End::None,
        }
    }
}

#[derive(PartialEq, Eq)]
enum End {
    None,
    Line,
    Rest,
}

/// Some lines of a source, ascending by number.
///
/// # Errors
/// When the source cannot be read.
pub fn picked(source: &ProgrammeSource, wanted: &[u64]) -> io::Result<Vec<(u64, String)>> {
    let mut lines = Lines::new(1, wanted.to_vec());
    source.pieces(|piece| lines.take(piece))?;
    Ok(lines.done())
}

struct Lines {
    wanted: std::iter::Peekable<std::vec::IntoIter<u64>>,
    number: u64,
    current: Vec<u8>,
    ends: Ends,
    found: Vec<(u64, String)>,
}

impl Lines {
    /// Lines of these numbers, which may come in any order; the bytes start at line `first`.
    fn new(first: u64, mut wanted: Vec<u64>) -> Self {
        wanted.sort_unstable();
        wanted.dedup();
        wanted.retain(|line| *line >= first);
        Self {
            wanted: wanted.into_iter().peekable(),
            number: first,
            current: Vec::new(),
            ends: Ends::default(),
            found: Vec::new(),
        }
    }

    fn take(&mut self, mut piece: &[u8]) {
        while !piece.is_empty() {
            let plain = piece.iter().position(|byte| matches!(byte, b'\n' | b'\r'));
            let (text, rest) = piece.split_at(plain.unwrap_or(piece.len()));
            // Most lines are only passed over.
            if self.wanted.peek() == Some(&self.number) {
                let room = KEPT.saturating_sub(self.current.len());
                self.current
                    .extend_from_slice(&text[..text.len().min(room)]);
            }
            if let Some(last) = text.last() {
                self.ends.of(*last);
            }
            piece = rest;
            if let Some((end, rest)) = piece.split_first() {
                if self.ends.of(*end) == End::Line {
                    self.end();
                }
                piece = rest;
            }
        }
    }

    fn end(&mut self) {
        if self.wanted.next_if_eq(&self.number).is_some() {
            let text = String::from_utf8_lossy(&self.current);
            let shown = text.chars().map(|c| if c == '\t' { ' ' } else { c });
            self.found
                .push((self.number, shown.filter(|c| !c.is_control()).collect()));
        }
        self.current.clear();
        self.number += 1;
    }

    /// The lines, the last one ended or not.
    fn done(mut self) -> Vec<(u64, String)> {
        self.end();
        self.found
    }
}

/// Where lines start, so that any of them is found without reading the file from its beginning.
#[derive(Clone, Debug, Default)]
pub struct Index {
    /// Byte at which every so manieth line starts.
    starts: Vec<u64>,
    ends: Ends,
    lines: u64,
    bytes: u64,
}

impl Index {
    /// Takes in the next piece of the source.
    pub fn take(&mut self, piece: &[u8]) {
        if self.starts.is_empty() {
            self.starts.push(0);
        }
        for &byte in piece {
            let end = self.ends.of(byte);
            // The line feed of a CRLF moves the start of the line after it.
            if end == End::Rest && self.lines.is_multiple_of(EVERY) {
                self.starts.pop();
                self.starts.push(self.bytes + 1);
            }
            self.bytes += 1;
            if end == End::Line {
                self.lines += 1;
                if self.lines.is_multiple_of(EVERY) {
                    self.starts.push(self.bytes);
                }
            }
        }
    }

    /// Up to `count` lines from line `first` on, counted from 1.
    ///
    /// # Errors
    /// When the source cannot be read.
    pub fn lines(
        &self,
        source: &ProgrammeSource,
        first: u64,
        count: u64,
    ) -> io::Result<Vec<String>> {
        let first = first.max(1);
        let step = (first - 1) / EVERY;
        let place = usize::try_from(step).unwrap_or(usize::MAX);
        let Some(start) = self.starts.get(place) else {
            return Ok(Vec::new());
        };
        let last = first + count;
        let mut lines = Lines::new(step * EVERY + 1, (first..last).collect());
        source.pieces_while(*start, |piece| {
            lines.take(piece);
            lines.number < last
        })?;
        Ok(lines.done().into_iter().map(|(_, text)| text).collect())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn numbered(count: u64, end: &str) -> ProgrammeSource {
        let lines: Vec<String> = (1..=count).map(|n| format!("N{n} G1 X{n}")).collect();
        let text = lines.join(end) + end;
        ProgrammeSource::Bytes(text.into_bytes())
    }

    #[test]
    fn any_line_is_found_with_any_line_end() {
        for end in ["\n", "\r\n", "\r"] {
            let source = numbered(1000, end);
            let mut index = Index::default();
            // In small pieces, so that ends are cut through.
            let ProgrammeSource::Bytes(bytes) = &source else {
                unreachable!()
            };
            bytes.chunks(7).for_each(|piece| index.take(piece));
            for first in [1, 2, 256, 257, 258, 511, 513, 999] {
                let lines = index.lines(&source, first, 2).unwrap();
                assert_eq!(lines[0], format!("N{first} G1 X{first}"), "{end:?}");
                assert_eq!(lines.len(), 2, "{end:?} {first}");
            }
            assert_eq!(index.lines(&source, 4000, 2).unwrap().len(), 0);
            let picked = picked(&source, &[900, 3, 3]).unwrap();
            assert_eq!(picked[0], (3, "N3 G1 X3".into()));
            assert_eq!(picked[1], (900, "N900 G1 X900".into()));
        }
    }
}
