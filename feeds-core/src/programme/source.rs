//! Bytes to physical lines, with a bounded window of lines that can be gone back to.
//!
//! A programme is read once, front to back. Loops, jumps and subprograms need lines again, so the
//! last [`WINDOW`] bytes stay at hand, and up to [`WINDOW`] bytes more while a jump forward is
//! looking for its target. What is further away is reported, never guessed. Whether a line is
//! within reach depends on its distance alone, not on how the bytes arrived.

/// How far back, and how far ahead, a jump may reach, in bytes.
pub const WINDOW: u64 = 1 << 19;

/// Longest line read; the rest of a longer one is dropped and reported.
pub const LONGEST_LINE: usize = 1 << 16;

/// The start of a line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Place {
    /// Bytes before it, without those dropped from lines that are too long.
    pub(crate) offset: u64,
    /// Its number, from 0.
    pub(crate) line: u64,
}

/// A line found in the window.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Found {
    start: usize,
    end: usize,
    /// Where the line after it starts.
    pub(crate) next: Place,
}

/// The answer to a request for a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fetch {
    /// A whole line.
    Line(Found),
    /// The line is not complete yet.
    More,
    /// The input has ended.
    End,
}

/// The window on the input.
#[derive(Debug, Default)]
pub(crate) struct Source {
    buffer: Vec<u8>,
    /// Bytes that have left the buffer at its front.
    base: u64,
    /// Bytes of the line at the end of the buffer already searched for a line end.
    searched: usize,
    /// Whether the rest of a line that is too long is being dropped.
    dropping: bool,
    finished: bool,
    /// The start of the first line not seen yet.
    seen: Place,
    too_long: Option<u64>,
}

impl Source {
    /// Takes in bytes.
    pub(crate) fn feed(&mut self, bytes: &[u8]) {
        let mut bytes = bytes;
        if self.dropping {
            let Some(end) = first_end(bytes) else {
                return;
            };
            self.dropping = false;
            bytes = &bytes[end..];
        }
        self.buffer.extend_from_slice(bytes);
    }

    /// Says that no more bytes will come.
    pub(crate) fn finish(&mut self) {
        self.finished = true;
        self.dropping = false;
    }

    /// Physical lines seen so far.
    pub(crate) fn lines(&self) -> u64 {
        self.seen.line
    }

    /// The start of the first line not seen yet.
    pub(crate) fn seen(&self) -> Place {
        self.seen
    }

    /// The number of the first line that was too long, once.
    pub(crate) fn take_too_long(&mut self) -> Option<u64> {
        self.too_long.take()
    }

    /// The bytes of a line, without its end.
    pub(crate) fn text(&self, line: Found) -> &[u8] {
        self.buffer.get(line.start..line.end).unwrap_or_default()
    }

    /// Whether the line at `place` is still in the window.
    pub(crate) fn holds(&self, place: Place) -> bool {
        place.offset >= self.base
    }

    /// The line that starts at `place`, which must be in the window.
    pub(crate) fn line(&mut self, place: Place) -> Fetch {
        let start = self.index(place);
        let fresh = place.line >= self.seen.line;
        let skip = if fresh { self.searched } else { 0 };
        let searched = start + skip;
        let rest = self.buffer.get(searched..).unwrap_or_default();
        let Some(end) = first_end(rest).map(|e| e + searched) else {
            return self.unended(place, start);
        };
        let mut end = end;
        if end - start > LONGEST_LINE {
            self.buffer.drain(start + LONGEST_LINE..end);
            end = start + LONGEST_LINE;
            self.too_long.get_or_insert(place.line);
        }
        let after = match (self.buffer[end], self.buffer.get(end + 1)) {
            (b'\r', Some(b'\n')) => end + 2,
            // The line feed of this line end may still be to come.
            (b'\r', None) if !self.finished => {
                self.searched = end - start;
                return Fetch::More;
            }
            _ => end + 1,
        };
        self.found(place, start, end, after)
    }

    fn unended(&mut self, place: Place, start: usize) -> Fetch {
        let end = self.buffer.len();
        if end - start > LONGEST_LINE {
            self.buffer.truncate(start + LONGEST_LINE);
            self.dropping = !self.finished;
            self.too_long.get_or_insert(place.line);
        }
        let end = self.buffer.len();
        if !self.finished {
            self.searched = end - start;
            return Fetch::More;
        }
        if start >= end {
            Fetch::End
        } else {
            self.found(place, start, end, end)
        }
    }

    fn found(&mut self, place: Place, start: usize, end: usize, after: usize) -> Fetch {
        let next = Place {
            offset: self.base + after as u64,
            line: place.line + 1,
        };
        if next.line > self.seen.line {
            self.seen = next;
            self.searched = 0;
        }
        Fetch::Line(Found { start, end, next })
    }

    /// Lets go of what lies more than a window before `pin`, now and then.
    pub(crate) fn release(&mut self, pin: Place) {
        let before = self.index(pin);
        // In bytes of this machine's address space: the window is far below its limit.
        #[expect(clippy::cast_possible_truncation)]
        let window = WINDOW as usize;
        // Seldom, since what stays is moved.
        if before > 5 * window {
            self.buffer.drain(..before - window);
            self.base += (before - window) as u64;
        }
    }

    fn index(&self, place: Place) -> usize {
        usize::try_from(place.offset.saturating_sub(self.base)).unwrap_or(usize::MAX)
    }
}

/// The first line feed or carriage return.
///
/// Eight bytes are looked at in one number: what it subtracts borrows into the top bit of a byte
/// only where that byte is zero, or above such a byte, so the lowest of those bits is right.
#[inline]
fn first_end(bytes: &[u8]) -> Option<usize> {
    const ONES: u64 = u64::from_le_bytes([1; 8]);
    const TOPS: u64 = ONES << 7;
    let zeros = |word: u64| word.wrapping_sub(ONES) & !word & TOPS;
    let (eights, rest) = bytes.as_chunks::<8>();
    for (index, eight) in eights.iter().enumerate() {
        let word = u64::from_le_bytes(*eight);
        let found = zeros(word ^ (ONES * 0x0A)) | zeros(word ^ (ONES * 0x0D));
        if found != 0 {
            return Some(8 * index + found.trailing_zeros() as usize / 8);
        }
    }
    let end = rest.iter().position(|b| matches!(b, b'\n' | b'\r'));
    end.map(|end| 8 * eights.len() + end)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lines(chunks: &[&[u8]]) -> (Vec<String>, u64) {
        let mut source = Source::default();
        let (mut place, mut found) = (Place::default(), Vec::new());
        for chunk in chunks {
            source.feed(chunk);
            while let Fetch::Line(line) = source.line(place) {
                found.push(String::from_utf8_lossy(source.text(line)).into_owned());
                place = line.next;
            }
        }
        source.finish();
        while let Fetch::Line(line) = source.line(place) {
            found.push(String::from_utf8_lossy(source.text(line)).into_owned());
            place = line.next;
        }
        (found, source.lines())
    }

    #[test]
    fn every_line_end_counts_once() {
        let expect = ["a", "b", "", "c"].map(String::from).to_vec();
        for text in [
            "a\nb\n\nc\n",
            "a\r\nb\r\n\r\nc",
            "a\rb\r\rc\r",
            "a\nb\r\n\rc",
        ] {
            assert_eq!(lines(&[text.as_bytes()]), (expect.clone(), 4), "{text:?}");
            let single: Vec<&[u8]> = text.as_bytes().chunks(1).collect();
            assert_eq!(lines(&single), (expect.clone(), 4), "{text:?}");
        }
        assert_eq!(lines(&[b""]).1, 0);
    }

    #[test]
    fn the_first_line_end_is_found_beside_its_neighbours() {
        for end in [b'\n', b'\r'] {
            for length in 1..40 {
                for at in 0..length {
                    // Bytes next to the two ends in value, and the end itself again after it.
                    let mut text: Vec<u8> = [0x0B, 0x09, 0x0E, 0x0C, 0x8A, 0x8D, 0, 0xFF]
                        .into_iter()
                        .cycle()
                        .take(length)
                        .collect();
                    text[at] = end;
                    text.push(b'\n');
                    assert_eq!(first_end(&text), Some(at), "{text:?}");
                }
            }
        }
        assert_eq!(first_end(&[0x0B; 33]), None);
    }

    #[test]
    fn a_monster_line_is_cut_alike_however_it_arrives() {
        let mut text = vec![b'X'; 3 * LONGEST_LINE];
        text.extend_from_slice(b"\nend");
        let whole = lines(&[&text]);
        let parts: Vec<&[u8]> = text.chunks(1000).collect();
        assert_eq!(whole, lines(&parts));
        assert_eq!(whole.0[0].len(), LONGEST_LINE);
        assert_eq!(whole.0[1], "end");
    }
}
