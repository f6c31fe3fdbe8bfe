//! A copy of a programme with other speeds and feeds, every other byte unchanged.
//!
//! S and F words are multiplied by a ratio for each tool. Replacing them by fixed values flattens
//! plunge and ramp feeds, so it is done only when asked for. Dwell blocks keep their words. G93
//! feeds scale like the others and are never replaced; a G95 feed is per turn and scales by feed
//! over speed. Tapping needs one ratio for both words.

use super::block::{Block, letters};
use super::cycle::taps;
use super::finding as f;
use super::flow::{Statement, statement};
use super::modal::FeedMode;
use super::parameters::{Parameters, Slot};
use super::report::Report;
use super::words::{Fault, Shape, Taker, Word, read_line};
use std::collections::BTreeMap;

mod change;
mod edit;
mod number;
#[cfg(test)]
#[allow(clippy::unwrap_used)] // a test fails by panicking
mod tests;

pub use change::{Changed, Refusal, Rescaling, Wanted};
pub use edit::{FeedEdit, SplitMove, SplitPiece};

use change::check;

/// Makes the copy of a file that arrives in pieces. After a [`Refusal`] the copy must be thrown
/// away.
#[derive(Debug)]
pub struct Rescaler {
    wanted: Wanted,
    /// What becomes of the feed, by line; nothing else changes then.
    by_line: Option<BTreeMap<u64, FeedEdit>>,
    /// The number of the last F word, as it is posted, and the end of the last line.
    feed_written: Vec<u8>,
    line_end: &'static [u8],
    uniform: bool,
    changes_by_m6: bool,
    pending: Vec<u8>,
    line: u64,
    after_return: bool,
    nothing_set: Parameters,
    block: Block,
    words: Vec<Word>,
    state: State,
}

/// What the words so far have set.
#[derive(Debug, Default)]
struct State {
    tool: Option<u32>,
    selected: Option<u32>,
    feed_mode: FeedMode,
    tapping: bool,
    any_block: bool,
    ended: bool,
    /// F and S as they were and as they are.
    feed: Option<(f64, f64)>,
    speed: Option<(f64, f64)>,
}

impl Rescaler {
    /// Starts a copy of the file that `report` is about.
    ///
    /// # Errors
    /// A [`Refusal`] when the file was not fully read, or when the wanted change cannot be made.
    pub fn new(wanted: Wanted, report: &Report) -> Result<Self, Refusal> {
        let whole = |reason: &str| {
            Err(Refusal {
                line: 0,
                reason: reason.into(),
            })
        };
        if !report.readable {
            return whole("the file is not a milling programme that could be read");
        }
        if !report.complete {
            return whole(
                "parts of the file could not be read or carried out: settle those findings first",
            );
        }
        for change in wanted
            .tools
            .iter()
            .map(|(_, change)| change)
            .chain([&wanted.others])
        {
            check(*change)?;
        }
        let uniform = wanted
            .tools
            .iter()
            .all(|(_, change)| *change == wanted.others);
        let inherits = |code: &str| report.findings.iter().find(|f| f.code == code);
        let inherited = inherits(f::FEED_INHERITED.code).or(inherits(f::SPEED_INHERITED.code));
        if let Some(finding) = inherited.filter(|_| !uniform) {
            return Err(Refusal {
                line: finding.line,
                reason: "a tool uses a word of the tool before it, so they cannot change apart: \
                         write S and F for each tool"
                    .into(),
            });
        }
        Ok(Self {
            wanted,
            by_line: None,
            feed_written: Vec::new(),
            line_end: b"\n",
            uniform,
            changes_by_m6: report.changes_by_m6,
            pending: Vec::new(),
            line: 1,
            after_return: false,
            nothing_set: Parameters::all_zero(),
            block: Block::default(),
            words: Vec::new(),
            state: State::default(),
        })
    }

    /// Starts a copy whose feeds change line by line, each by its own ratio above 0; a lower feed
    /// is never rounded up.
    ///
    /// # Errors
    /// As [`Rescaler::new`].
    pub fn by_line(edits: BTreeMap<u64, FeedEdit>, report: &Report) -> Result<Self, Refusal> {
        let nothing = Wanted {
            others: Rescaling::Scale {
                speed: 1.0,
                feed: 1.0,
            },
            tools: Vec::new(),
        };
        Ok(Self {
            by_line: Some(edits),
            ..Self::new(nothing, report)?
        })
    }

    /// Takes in the next bytes of the file and adds those of the copy to `out`.
    ///
    /// # Errors
    /// A [`Refusal`] with the line and the reason.
    pub fn feed(
        &mut self,
        bytes: &[u8],
        out: &mut Vec<u8>,
        changed: &mut dyn FnMut(Changed),
    ) -> Result<(), Refusal> {
        for &byte in bytes {
            if byte != b'\n' && byte != b'\r' {
                self.after_return = false;
                self.pending.push(byte);
                continue;
            }
            if byte == b'\n' && self.after_return {
                // The second half of a line end.
                self.after_return = false;
                self.line_end = b"\r\n";
                out.push(byte);
                continue;
            }
            self.flush(out, changed)?;
            self.line += 1;
            self.after_return = byte == b'\r';
            self.line_end = if self.after_return { b"\r" } else { b"\n" };
            out.push(byte);
        }
        Ok(())
    }

    /// Ends the copy.
    ///
    /// # Errors
    /// A [`Refusal`] with the line and the reason.
    pub fn finish(
        mut self,
        out: &mut Vec<u8>,
        changed: &mut dyn FnMut(Changed),
    ) -> Result<(), Refusal> {
        self.flush(out, changed)
    }

    fn refuse<T>(&self, reason: impl Into<String>) -> Result<T, Refusal> {
        Err(Refusal {
            line: self.line,
            reason: reason.into(),
        })
    }

    fn flush(
        &mut self,
        out: &mut Vec<u8>,
        changed: &mut dyn FnMut(Changed),
    ) -> Result<(), Refusal> {
        let text = std::mem::take(&mut self.pending);
        let result = self.rewrite(&text, out, changed);
        self.pending = text;
        self.pending.clear();
        result
    }

    fn rewrite(
        &mut self,
        text: &[u8],
        out: &mut Vec<u8>,
        changed: &mut dyn FnMut(Changed),
    ) -> Result<(), Refusal> {
        if self.state.ended || !self.read(text)? {
            out.extend_from_slice(text);
            return Ok(());
        }
        self.follow();
        let edit = self.by_line.as_ref().and_then(|by| by.get(&self.line));
        match edit.cloned() {
            Some(FeedEdit::Insert(ratio)) => return self.insert(text, ratio, (out, changed)),
            Some(FeedEdit::Split(split)) => return self.split(text, &split, (out, changed)),
            Some(FeedEdit::Word(_)) | None => {}
        }
        let dwells = self.block.g.has(40);
        let mut copied = 0;
        for index in 0..self.words.len() {
            let word = self.words[index];
            if dwells || !matches!(word.letter, b'S' | b'F') {
                continue;
            }
            let stays = self
                .by_line
                .as_ref()
                .is_some_and(|by| !by.contains_key(&self.line));
            if word.computed && stays {
                if word.letter == b'F' {
                    self.feed_written.clear();
                }
                continue;
            }
            if word.computed {
                return self.refuse(format!(
                    "{} is worked out from parameters, so it cannot be rescaled: post the number",
                    char::from(word.letter)
                ));
            }
            let before = &text[word.start + 1..word.end];
            let after = self.new_number(word, before)?;
            let written = after
                .as_deref()
                .map_or(word.value, |t| t.parse().unwrap_or(word.value));
            let pair = Some((word.value, written));
            if word.letter == b'S' {
                self.state.speed = pair;
            } else {
                self.state.feed = pair;
                self.feed_written = before.to_vec();
            }
            if let Some(after) = after {
                out.extend_from_slice(&text[copied..=word.start]);
                out.extend_from_slice(after.as_bytes());
                copied = word.end;
                let show = |number: &str| format!("{}{number}", char::from(word.letter));
                changed(Changed {
                    line: self.line,
                    column: u32::try_from(word.start + 1).unwrap_or(u32::MAX),
                    tool: self.state.tool,
                    before: show(&String::from_utf8_lossy(before)),
                    after: show(&after),
                    values: [word.value, written],
                });
            }
        }
        out.extend_from_slice(&text[copied..]);
        self.tapped()
    }

    /// Reads the words of a line; false when there are none to look at.
    fn read(&mut self, text: &[u8]) -> Result<bool, Refusal> {
        let mut keep = Keep {
            words: &mut self.words,
            base: 0,
            unread: false,
        };
        keep.words.clear();
        let mut flow = false;
        match read_line(text, &self.nothing_set, &mut keep).shape {
            Shape::Words => {}
            Shape::Percent => {
                self.state.ended = self.state.any_block;
                return Ok(false);
            }
            Shape::Statement(at) => match statement(text, at, &self.nothing_set) {
                Ok((Statement::Title, next)) => {
                    keep.base = next;
                    read_line(&text[next..], &self.nothing_set, &mut keep);
                }
                _ => flow = true,
            },
        }
        let unread = keep.unread;
        if unread && text.iter().any(|b| matches!(b, b'S' | b's' | b'F' | b'f')) {
            return self.refuse("the words of this line cannot be known without running it");
        }
        self.block.clear();
        for word in &self.words {
            self.block.put(word, word.start);
        }
        flow |= self.block.m.has(98) || self.block.m.has(99);
        if flow && !self.uniform {
            return self.refuse(
                "loops and subprograms may run under several tools: rescale all tools alike, or \
                 post without them",
            );
        }
        self.state.any_block |= flow || !self.block.is_empty();
        Ok(!self.block.is_empty())
    }

    /// Takes over tool, feed mode, cycle and end.
    fn follow(&mut self) {
        let state = &mut self.state;
        if let Some(tool) = self.block.get(b'T').and_then(super::flow::whole) {
            state.selected = Some(tool);
            if !self.changes_by_m6 {
                state.tool = state.selected;
            }
        }
        if self.block.m.has(6) {
            state.tool = state.selected;
        }
        for code in self.block.g.iter() {
            match code.code {
                930 => state.feed_mode = FeedMode::InverseTime,
                940 => state.feed_mode = FeedMode::PerMinute,
                950 => state.feed_mode = FeedMode::PerTurn,
                0 | 10 | 20 | 30 => state.tapping = false,
                730..=890 => state.tapping = taps(code.code),
                _ => {}
            }
        }
        // Behind the end only subprograms count, and they need one change for all.
        if !self.uniform && (self.block.m.has(30) || self.block.m.has(2)) {
            state.ended = true;
        }
    }

    fn change(&self) -> Rescaling {
        if let Some(by_line) = &self.by_line {
            let feed = match by_line.get(&self.line) {
                Some(FeedEdit::Word(ratio)) => *ratio,
                _ => 1.0,
            };
            return Rescaling::Scale { speed: 1.0, feed };
        }
        let own = self
            .wanted
            .tools
            .iter()
            .find(|(tool, _)| Some(*tool) == self.state.tool);
        own.map_or(self.wanted.others, |(_, change)| *change)
    }

    /// The new number of a word; none when it stays.
    fn new_number(&self, word: Word, before: &[u8]) -> Result<Option<String>, Refusal> {
        let speed = word.letter == b'S';
        let value = match self.change() {
            Rescaling::Scale { speed: ratio, .. } if speed => word.value * ratio,
            Rescaling::Scale { speed, feed } => match self.state.feed_mode {
                FeedMode::PerTurn => word.value * (feed / speed),
                FeedMode::PerMinute | FeedMode::InverseTime => word.value * feed,
            },
            Rescaling::Replace {
                speed: Some(value), ..
            } if speed => value,
            Rescaling::Replace {
                feed: Some(value), ..
            } if !speed => {
                if self.state.feed_mode != FeedMode::PerMinute {
                    return self.refuse(
                        "only feeds in length a minute (G94) can be replaced: scale this one",
                    );
                }
                value
            }
            Rescaling::Replace { .. } => return Ok(None),
        };
        if value.to_bits() == word.value.to_bits() {
            return Ok(None);
        }
        let write = match &self.by_line {
            Some(_) if value < word.value => number::lower,
            _ => number::write,
        };
        Ok(Some(write(before, value, speed)))
    }

    /// After a line under a tapping cycle: the pitch must have stayed.
    fn tapped(&self) -> Result<(), Refusal> {
        if !self.state.tapping || !self.block.has(letters(b"XYZRSF")) {
            return Ok(());
        }
        let stays = match (self.change(), self.state.feed_mode) {
            (Rescaling::Scale { .. }, FeedMode::PerTurn) => false,
            (Rescaling::Scale { speed, feed }, _) => (speed / feed - 1.0).abs() < 1e-9,
            (Rescaling::Replace { speed, feed }, _) => speed.is_none() && feed.is_none(),
        };
        let per_turn = self.state.feed_mode == FeedMode::PerTurn;
        let kept = match (self.state.feed, self.state.speed) {
            (Some((_, 0.0)) | None, _) | (_, Some((_, 0.0)) | None) => stays,
            (Some((f0, f1)), Some(_)) if per_turn => (f1 / f0 - 1.0).abs() < PITCH_SLACK,
            (Some((f0, f1)), Some((s0, s1))) => {
                stays && (f1 * s0 / (f0 * s1) - 1.0).abs() < PITCH_SLACK
            }
        };
        if kept {
            return Ok(());
        }
        self.refuse(
            "tapping must keep its pitch: use one ratio for speed and feed of this tool, such that \
             S stays a whole number",
        )
    }
}

/// By what share the pitch of a tap may change through rounding.
const PITCH_SLACK: f64 = 1.5e-3;

/// Keeps the words of a line.
struct Keep<'a> {
    words: &'a mut Vec<Word>,
    base: usize,
    unread: bool,
}

impl Taker for Keep<'_> {
    fn word(&mut self, word: Word) {
        let (start, end) = (word.start + self.base, word.end + self.base);
        self.words.push(Word { start, end, ..word });
    }

    fn setting(&mut self, _: Slot, _: f64) {}

    fn comment(&mut self, _: &[u8], _: usize) {}

    fn fault(&mut self, _: usize, fault: Fault) {
        self.unread |= !matches!(fault, Fault::Nested);
    }
}
