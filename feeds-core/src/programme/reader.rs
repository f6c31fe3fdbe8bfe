//! Reads a programme and carries it out, line by line.

mod search;

use std::collections::BTreeMap;

use super::audit::Audit;
use super::block::{Block, letters};
use super::finding as f;
use super::flow::{Label, Statement, Target, statement, whole};
use super::gather::Gather;
use super::interpret::{Then, execute};
use super::modal::Modal;
use super::motion::{Unwatched, Watch};
use super::number::skip_blanks;
use super::parameters::{Parameters, Slot};
use super::report::{Report, report};
use super::setting::Setting;
use super::simulate::{StockLane, StockStage};
use super::source::{Fetch, Found as Line, Place, Source, WINDOW};
use super::stack::{Found, LoopName, Seek, Stack};
use super::words::{Shape, read_line};

/// Bytes taken in at once; larger pieces are cut.
const PIECE: usize = 1 << 16;

/// The last line number, and the most characters of a line: NISTIR 6556, 3.3.
const LAST_NUMBER: u32 = 99_999;
const LINE_CHARACTERS: usize = 256;
/// Bytes of the longest line that a copy may make longer: with one more word it keeps within that.
const LONGEST_PLAIN: usize = 200;

/// How far apart places to go back to are noted, in bytes.
const MARK_EVERY: u64 = 1 << 14;

/// Reads a programme that arrives in pieces and audits it.
// Each is a fact of its own, not part of one state.
#[expect(clippy::struct_excessive_bools)]
#[derive(Debug)]
pub struct Reader<W = Unwatched> {
    source: Source,
    pub(super) at: Place,
    pub(super) seek: Option<Seek>,
    pub(super) stack: Stack,
    pub(super) parameters: Parameters,
    modal: Modal,
    block: Block,
    settings: Vec<(Slot, f64)>,
    pub(super) audit: Audit<W>,
    /// Subprograms found before, and none for those that are not in reach.
    pub(super) subs: BTreeMap<Label, Option<Place>>,
    /// Line starts to go back to.
    marks: Vec<Place>,
    /// The first line not carried out yet.
    fresh: u64,
    steps: u64,
    any_block: bool,
    pub(super) ended: bool,
    pub(super) end_stated: bool,
    told_after_end: bool,
    last_number: Option<f64>,
    numbers_beyond: bool,
    lines_beyond: bool,
}

impl Reader {
    /// A reader with what is known about the job.
    pub fn new(setting: Setting) -> Self {
        Self::watched(setting, Unwatched)
    }

    /// The report, once all bytes have been fed.
    pub fn finish(self) -> Report {
        self.finish_watched().0
    }
}

impl<W: Watch> Reader<W> {
    /// A reader that shows every move to `watch`.
    pub fn watched(setting: Setting, watch: W) -> Self {
        Self::beside(setting, watch, |stage| Box::new(stage))
    }

    /// The same with the stock cut behind a `lane`, where the cut along the programme is asked for.
    /// The report is the same whatever the lane.
    ///
    /// # Example
    /// ```
    /// # use feeds_core::programme::{Reader, Setting, Unwatched};
    /// // At once, as `watched` has it; a lane may as well hand the stage to another thread.
    /// let mut reader = Reader::beside(Setting::default(), Unwatched, |stage| Box::new(stage));
    /// reader.feed(b"G21 G90\nM30\n");
    /// assert_eq!(reader.finish().lines, 2);
    /// ```
    pub fn beside(
        setting: Setting,
        watch: W,
        lane: impl FnOnce(StockStage) -> Box<dyn StockLane>,
    ) -> Self {
        Self {
            source: Source::default(),
            at: Place::default(),
            seek: None,
            stack: Stack::default(),
            parameters: Parameters::default(),
            modal: Modal {
                taken_as_inch: setting.unstated_inch == Some(true),
                shown_in_inch: setting.shown_in_inch,
                ..Modal::default()
            },
            block: Block::default(),
            settings: Vec::new(),
            audit: Audit::new(setting, watch, lane),
            subs: BTreeMap::new(),
            marks: vec![Place::default()],
            fresh: 0,
            steps: 0,
            any_block: false,
            ended: false,
            end_stated: false,
            told_after_end: false,
            last_number: None,
            numbers_beyond: false,
            lines_beyond: false,
        }
    }

    /// Takes in the next bytes of the file.
    pub fn feed(&mut self, bytes: &[u8]) {
        for piece in bytes.chunks(PIECE) {
            self.source.feed(piece);
            self.run();
            let pin = self.lowest_needed();
            self.source.release(pin);
        }
    }

    /// The report and the watcher, once all bytes have been fed.
    pub fn finish_watched(mut self) -> (Report, W) {
        self.source.finish();
        self.run();
        let lines = self.source.lines();
        if !self.end_stated && self.any_block {
            self.audit.findings.add(lines, 0, f::END_MISSING, || {
                "the programme has no end: write M30 (or M2) in the last block; if it is there in \
                 the original, the file is cut short"
                    .into()
            });
            self.audit.left_in_work(lines, &self.modal);
        }
        report(self.audit, &self.modal, lines)
    }

    fn run(&mut self) {
        loop {
            if self.seek.is_some() {
                if !self.search() {
                    return;
                }
                continue;
            }
            match self.source.line(self.at) {
                Fetch::Line(line) if self.ended => self.after_end(line),
                Fetch::Line(line) => self.line(line),
                Fetch::More | Fetch::End => return,
            }
        }
    }

    /// The earliest place that may be gone back to without a jump.
    fn lowest_needed(&self) -> Place {
        let origin = self.seek.as_ref().map(|s| s.origin);
        [Some(self.at), origin, self.stack.earliest_return()]
            .into_iter()
            .flatten()
            .min()
            .unwrap_or(self.at)
    }

    fn after_end(&mut self, line: Line) {
        let text = self.source.text(line);
        let first = text.get(skip_blanks(text, 0)).copied();
        if let Some(first) = first.filter(|_| !self.told_after_end) {
            self.told_after_end = true;
            if !matches!(first, b'O' | b'o' | b'%' | b'(' | b';' | 0 | 0x1A) {
                self.audit.findings.add(self.at.line + 1, 0, f::AFTER_END, || {
                    "there is text after the end of the programme, which is not run: remove it, or \
                     move the end behind it"
                        .into()
                });
            }
        }
        self.at = line.next;
    }

    /// Counts a line that is carried out; false when the bound on steps is used up.
    fn step(&mut self) -> bool {
        if self.at.line >= self.fresh {
            self.fresh = self.at.line + 1;
            if self
                .marks
                .last()
                .is_none_or(|m| m.offset + MARK_EVERY <= self.at.offset)
            {
                let far = 4 * WINDOW;
                let keep = self
                    .marks
                    .iter()
                    .position(|m| m.offset + far >= self.at.offset);
                if keep.is_some_and(|k| k > 64) {
                    self.marks.drain(..keep.unwrap_or(0));
                }
                self.marks.push(self.at);
            }
            return true;
        }
        self.repeated()
    }

    /// Counts a repeated or searched line.
    fn repeated(&mut self) -> bool {
        self.steps += 1;
        let bound = self.audit.setting.step_bound;
        if self.steps <= bound {
            return true;
        }
        // The head of the loop is where its end can be mended.
        let line = self.stack.innermost_loop().unwrap_or(self.at).line + 1;
        self.audit.findings.add(line, 0, f::LOOP_LIMIT, || {
            format!(
                "loops and jumps went on for more than {bound} lines and were left here: nothing \
                 in them makes the condition false, so change there what it looks at, such as \
                 #1=[#1+1]"
            )
        });
        self.stop();
        self.told_after_end = true;
        false
    }

    /// Ends the run of the programme; the lines that follow are only counted.
    pub(super) fn stop(&mut self) {
        self.ended = true;
        self.end_stated = true;
        self.stack.clear();
        self.seek = None;
        self.go_past_read();
    }

    fn line(&mut self, line: Line) {
        if !self.step() {
            return;
        }
        let number = self.at.line + 1;
        if let Some(long) = self.source.take_too_long() {
            self.audit.findings.add(long + 1, 0, f::LINE_TOO_LONG, || {
                format!(
                    "the line is longer than {} bytes and its rest is not read: break it up",
                    super::source::LONGEST_LINE
                )
            });
        }
        let text = self.source.text(line);
        if text.len() > LINE_CHARACTERS && !self.lines_beyond {
            self.lines_beyond = true;
            self.audit.findings.add(number, 0, f::BEYOND, || {
                format!(
                    "the line has {} characters, and a control need not read more than \
                     {LINE_CHARACTERS}: break it up, or shorten its comment",
                    text.len()
                )
            });
        }
        self.block.clear();
        self.settings.clear();
        let mut gather = Gather {
            block: &mut self.block,
            settings: &mut self.settings,
            audit: &mut self.audit,
            text,
            base: 0,
            line: number,
            sound: true,
        };
        let read = read_line(text, &self.parameters, &mut gather);
        if read.deletable {
            let skipped = gather.audit.setting.block_delete;
            if !gather.audit.findings.has(f::DELETABLE) {
                gather.audit.findings.add(number, 0, f::DELETABLE, || {
                    let done = if skipped { "left out" } else { "carried out" };
                    format!(
                        "the block delete switch decides about this line; here such lines are \
                         {done}: set the switch on the control to match"
                    )
                });
            }
            if skipped {
                self.at = line.next;
                return;
            }
        }
        let mut found = None;
        match read.shape {
            Shape::Words => {}
            Shape::Percent => {
                self.at = line.next;
                self.ended = self.any_block;
                self.told_after_end |= self.ended;
                return;
            }
            Shape::Statement(at) => match statement(text, at, &self.parameters) {
                Ok((Statement::Title, next)) => {
                    // More words may follow the number of the programme.
                    gather.base = next;
                    read_line(&text[next..], &self.parameters, &mut gather);
                }
                Ok((statement, next)) => {
                    gather.base = next;
                    found = Some(statement);
                }
                Err(fault) => gather.unread(fault),
            },
        }
        let sound = gather.sound;
        if self.audit.simulation.is_some() {
            let plain = sound
                && !read.deletable
                && self.settings.is_empty()
                && text.len() < LONGEST_PLAIN
                && !text.contains(&b'*');
            self.audit.line_read(&self.block, plain);
        }
        let words = !self.block.is_empty();
        self.any_block |= words || found.is_some();
        self.audit
            .kind
            .line(sound, words || found.is_some() || !self.settings.is_empty());
        if !self.settings.is_empty() {
            self.set_parameters(number);
        }
        match found {
            Some(statement) => self.statement(statement, line.next),
            None => self.carry_out(number, line.next),
        }
    }

    fn set_parameters(&mut self, line: u64) {
        for (slot, value) in self.settings.drain(..) {
            if !self.parameters.set(slot, value) {
                self.audit.findings.add(line, 0, f::BAD_VALUE, || {
                    "more parameters than are kept: this one is not set".into()
                });
            }
        }
    }

    fn carry_out(&mut self, number: u64, next: Place) {
        self.audit.kind.block(&self.block);
        if self.block.has(letters(b"N")) {
            self.line_number(number);
        }
        let then = if self.block.is_empty() {
            Then::Next
        } else {
            execute(&mut self.modal, &self.block, number, &mut self.audit)
        };
        match then {
            Then::Next => self.at = next,
            Then::End => {
                self.at = next;
                self.stop();
            }
            Then::Call(number, times) => {
                let target = Target::Sub(Label::Number(number));
                if times == 0 {
                    self.at = next;
                } else {
                    self.look_for(
                        target,
                        next,
                        Found::Call {
                            times,
                            values: None,
                        },
                    );
                }
            }
            Then::Return(to) => self.back(to, next),
        }
    }

    /// After the end, goes on behind everything that was read already.
    fn go_past_read(&mut self) {
        self.at = self.at.max(self.source.seen());
    }

    fn line_number(&mut self, line: u64) {
        let Some(number) = self.block.get(b'N') else {
            return;
        };
        let beyond = whole(number).is_none_or(|n| n > LAST_NUMBER);
        if beyond && !self.numbers_beyond {
            self.numbers_beyond = true;
            let at = self.block.place(b'N');
            self.audit.findings.add(line, at, f::BEYOND, || {
                format!(
                    "N{number} is not a whole number from 0 to {LAST_NUMBER}, which some controls \
                     refuse: number the lines in smaller steps, or leave N out"
                )
            });
        }
        let rises = self.last_number.is_none_or(|last| number > last);
        if !rises && line >= self.fresh && !self.audit.findings.has(f::LINE_ORDER) {
            let last = self.last_number.unwrap_or_default();
            let at = self.block.place(b'N');
            self.audit.findings.add(line, at, f::LINE_ORDER, || {
                format!(
                    "N{number} follows N{last}: numbers that fall or repeat make GOTO and a \
                     restart in the middle uncertain"
                )
            });
        }
        let step = number - self.last_number.unwrap_or_default();
        self.modal.numbered = Some((number, step));
        self.last_number = Some(number);
    }

    /// Says that a loop or call has no counterpart.
    pub(super) fn unmatched(&mut self, what: &str) {
        let line = self.at.line + 1;
        self.audit.findings.add(line, 0, f::LOOP_OPEN, || {
            format!("{what}: add the missing line or take this one out")
        });
    }

    /// Goes back to an earlier line, if it is in reach.
    pub(super) fn go_back(&mut self, to: Place, name: &LoopName, next: Place) {
        if to.offset + WINDOW >= self.at.offset && self.source.holds(to) {
            self.at = to;
            return;
        }
        self.stack.end_loop(name);
        self.unmatched("the loop is too long to be followed and is run once");
        self.at = next;
    }
}
