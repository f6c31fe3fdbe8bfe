//! Copies whose feeds change line by line: a word becomes another, a line gets one of its own, a
//! move is cut into pieces with one each.

use super::super::words::Word;
use super::{Changed, Refusal, Rescaler, number};
use std::fmt::Write as _;

/// What becomes of the feed of a line. Ratios are over the feed that is in force as posted.
#[derive(Clone, Debug, PartialEq)]
pub enum FeedEdit {
    /// Its F words are multiplied.
    Word(f64),
    /// It gets an F word of its own behind its other words.
    Insert(f64),
    /// Its move is cut into pieces.
    Split(SplitMove),
}

/// A move cut into pieces. Positions in the unit of the programme.
#[derive(Clone, Debug, PartialEq)]
pub struct SplitMove {
    /// 1, 2 or 3: its G code.
    pub code: u32,
    /// Which axes go.
    pub axes: [bool; 3],
    /// Where it starts.
    pub from: [f64; 3],
    /// The centre of an arc along the axes of its plane.
    pub centre: Option<[Option<f64>; 3]>,
    /// Decimals that places between are written with, or more where the block has more.
    pub decimals: usize,
    /// The pieces; the last ends where the move does.
    pub pieces: Vec<SplitPiece>,
}

/// A piece of a move.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SplitPiece {
    /// Where it ends.
    pub to: [f64; 3],
    /// Its feed over that which is posted.
    pub ratio: f64,
}

const AXES: [u8; 3] = [b'X', b'Y', b'Z'];
const CENTRES: [u8; 3] = [b'I', b'J', b'K'];

/// The feed as it is posted: its number, and how that is written.
struct Posted {
    value: f64,
    written: Vec<u8>,
}

impl Posted {
    /// The number for a ratio, never above it where it comes down.
    fn times(&self, ratio: f64) -> String {
        let value = self.value * ratio;
        if value.to_bits() == self.value.to_bits() {
            String::from_utf8_lossy(&self.written).into_owned()
        } else if ratio < 1.0 {
            number::lower(&self.written, value, false)
        } else {
            number::write(&self.written, value, false)
        }
    }
}

impl Rescaler {
    /// The feed that is in force as posted.
    fn posted(&self) -> Result<Posted, Refusal> {
        match self.state.feed {
            Some((value, _)) if !self.feed_written.is_empty() => Ok(Posted {
                value,
                written: self.feed_written.clone(),
            }),
            _ => self.refuse("the F word in force here is not written as a number: post one"),
        }
    }

    /// Writes a line with an F word of its own behind its other words.
    pub(super) fn insert(
        &mut self,
        text: &[u8],
        ratio: f64,
        (out, changed): (&mut Vec<u8>, &mut dyn FnMut(Changed)),
    ) -> Result<(), Refusal> {
        let posted = self.posted()?;
        let number = posted.times(ratio);
        let end = self.words.iter().map(|word| word.end).max().unwrap_or(0);
        out.extend_from_slice(&text[..end]);
        out.extend_from_slice(gap(text, &self.words));
        out.extend_from_slice(format!("F{number}").as_bytes());
        out.extend_from_slice(&text[end..]);
        self.note(end, String::new(), &number, posted.value, changed);
        Ok(())
    }

    /// Takes over the feed that is written, and says so.
    fn note(
        &mut self,
        at: usize,
        before: String,
        number: &str,
        posted: f64,
        changed: &mut dyn FnMut(Changed),
    ) {
        let written = number.parse().unwrap_or(posted);
        self.state.feed = Some((posted, written));
        changed(Changed {
            line: self.line,
            column: u32::try_from(at + 1).unwrap_or(u32::MAX),
            tool: self.state.tool,
            before,
            after: format!("F{number}"),
            values: [posted, written],
        });
    }

    /// Writes a move in pieces, each on a line of its own.
    pub(super) fn split(
        &mut self,
        text: &[u8],
        split: &SplitMove,
        (out, changed): (&mut Vec<u8>, &mut dyn FnMut(Changed)),
    ) -> Result<(), Refusal> {
        if let Some(word) = self.words.iter().find(|word| word.letter == b'F') {
            self.feed_written = text[word.start + 1..word.end].to_vec();
            self.state.feed = Some((word.value, word.value));
        }
        let posted = self.posted()?;
        let places = Places::of(text, &self.words, split);
        let own = self.words.iter().find(|word| word.letter == b'F');
        let before = own.map_or_else(String::new, |word| {
            String::from_utf8_lossy(&text[word.start..word.end]).into_owned()
        });
        let at = own.map_or_else(
            || self.words.iter().map(|word| word.end).max().unwrap_or(0),
            |word| word.start,
        );
        let gap = String::from_utf8_lossy(gap(text, &self.words)).into_owned();
        for (k, piece) in split.pieces.iter().enumerate() {
            let number = posted.times(piece.ratio);
            if k == 0 {
                self.first(text, &places, &number, &gap, out);
            } else {
                out.extend_from_slice(self.line_end);
                let mut line = format!("G{}", split.code);
                for word in places.words(k) {
                    let _ = write!(line, "{gap}{word}");
                }
                let _ = write!(line, "{gap}F{number}");
                out.extend_from_slice(line.as_bytes());
            }
            self.note(at, before.clone(), &number, posted.value, changed);
        }
        Ok(())
    }

    /// The first piece: the block as it stands, with another end and another feed.
    fn first(&self, text: &[u8], places: &Places<'_>, number: &str, gap: &str, out: &mut Vec<u8>) {
        let mut words = places.words(0);
        words.retain(|word| !CENTRES.contains(&word.as_bytes()[0]));
        words.push(format!("F{number}"));
        let end = self.words.iter().map(|word| word.end).max().unwrap_or(0);
        let mut copied = 0;
        for word in &self.words {
            let is = |new: &String| new.as_bytes()[0] == word.letter;
            let Some(place) = words.iter().position(is) else {
                continue;
            };
            out.extend_from_slice(&text[copied..=word.start]);
            out.extend_from_slice(&words.remove(place).as_bytes()[1..]);
            copied = word.end;
        }
        out.extend_from_slice(&text[copied..end]);
        for word in words {
            out.extend_from_slice(gap.as_bytes());
            out.extend_from_slice(word.as_bytes());
        }
        out.extend_from_slice(&text[end..]);
    }
}

/// What stands between words: a blank where the line has one.
fn gap(text: &[u8], words: &[Word]) -> &'static [u8] {
    let between = words.windows(2).any(|pair| pair[0].end < pair[1].start);
    let one = words.len() == 1 && !text.is_empty();
    if between || one { b" " } else { b"" }
}

/// Where the pieces of a move end, as they are written.
struct Places<'a> {
    split: &'a SplitMove,
    decimals: usize,
    /// The numbers of the block, by axis.
    own: [Option<&'a [u8]>; 3],
}

impl<'a> Places<'a> {
    fn of(text: &'a [u8], words: &[Word], split: &'a SplitMove) -> Self {
        let number = |letter: u8| {
            let word = words.iter().find(|word| word.letter == letter)?;
            Some(&text[word.start + 1..word.end])
        };
        let letters = AXES.into_iter().chain(CENTRES);
        let most = letters.filter_map(number).map(number::own_decimals).max();
        Self {
            split,
            decimals: split.decimals.max(most.unwrap_or(0)),
            own: AXES.map(number),
        }
    }

    /// Where a piece starts, as that is written.
    fn start(&self, piece: usize) -> [f64; 3] {
        match piece.checked_sub(1) {
            None => self.split.from,
            Some(before) => self.split.pieces[before]
                .to
                .map(|place| self.rounded(place)),
        }
    }

    fn rounded(&self, place: f64) -> f64 {
        self.figure(place).parse().unwrap_or(place)
    }

    fn figure(&self, value: f64) -> String {
        let text = format!("{value:.*}", self.decimals);
        let text = text.trim_end_matches('0');
        match text {
            "-0." | "-0" => "0.".to_owned(),
            text => text.to_owned(),
        }
    }

    /// The words of a piece: where it goes, and round what.
    fn words(&self, piece: usize) -> Vec<String> {
        let last = piece + 1 == self.split.pieces.len();
        let to = self.split.pieces[piece].to;
        let mut words = Vec::new();
        for axis in (0..3).filter(|axis| self.split.axes[*axis]) {
            let letter = char::from(AXES[axis]);
            let number = match self.own[axis].filter(|_| last) {
                Some(own) => String::from_utf8_lossy(own).trim().to_owned(),
                None => self.figure(to[axis]),
            };
            words.push(format!("{letter}{number}"));
        }
        let start = self.start(piece);
        for (axis, centre) in self.split.centre.iter().flatten().enumerate() {
            if let Some(centre) = centre {
                let letter = char::from(CENTRES[axis]);
                words.push(format!("{letter}{}", self.figure(centre - start[axis])));
            }
        }
        words
    }
}
