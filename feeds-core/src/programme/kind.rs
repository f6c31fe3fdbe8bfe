//! Is this a milling programme at all? Evidence is gathered while reading and weighed at the end.

use super::block::{Block, letters};
use super::flow::whole;
use super::interpret::LAST_MOTION;
use super::words::Fault;

/// The evidence.
#[derive(Debug, Default)]
pub(crate) struct Evidence {
    /// Lines with words and no fault.
    sound_lines: u64,
    /// Lines that could not be read as words.
    odd_lines: u64,
    /// First of them with a byte that no text has.
    binary: Option<u64>,
    /// First line with an axis letter and `=`, or with the words of a conversational dialect.
    dialect: Option<u64>,
    dialect_marks: u64,
    printer: u64,
    turning: u64,
    laser_words: u64,
    /// Letters that any block has.
    letters: u32,
    speeds_while_cutting: u64,
    last_speed: f64,
    /// Starts of the spindle, and those since the last tool.
    any_start: bool,
    starts: u64,
    any_comment: bool,
    /// Comments that speak of a blade.
    knife_words: u64,
    /// Cutting blocks that turn a rotary axis.
    turned: u64,
    /// Positions up to the first that is not a whole number, and whether there is one.
    positions: u64,
    fractions: bool,
}

/// Cutting moves from which on what is missing says something: two outlines of four sides (common
/// practice).
const ENOUGH: u64 = 8;

/// The fewest starts of a spindle for one tool that are a torch's, which has one for each contour;
/// a mill starts it once, and once more after a stop to measure (common practice).
const STARTS: u64 = 3;

/// How many marks of another kind of file are no chance any more: two where each is sure, three
/// where a milling programme may have one by a slip (common practice).
const DIALECT_MARKS: u64 = 2;
const TURNING_MARKS: u64 = 2;
const PRINTER_MARKS: u64 = 3;
const BEAM_SPEEDS: u64 = 3;

/// What the whole path says of the file.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Path {
    /// Cutting moves and holes.
    pub(crate) cuts: u64,
    pub(crate) holes: u64,
    /// Least Z of cutting, least and most of all moves; infinite where none is known.
    pub(crate) lowest_cut: f64,
    pub(crate) highest: f64,
    /// The longer side of the path in X and Y, in mm.
    pub(crate) span: f64,
    /// Whether it is in inch.
    pub(crate) inch: bool,
}

/// From this span in mm on a path of whole numbers is counted in something smaller: longer than the
/// tables of all but portal mills (common practice).
const TOO_WIDE: f64 = 2500.0;

const ROTARY: u32 = letters(b"AC");
const EXTRUDER: u32 = letters(b"E");
const LEVEL: u32 = letters(b"Z");
const ACROSS: u32 = letters(b"Y");
const ALONG: u32 = letters(b"X");
const TOOL: u32 = letters(b"T");
const SPEED: u32 = letters(b"S");

/// Whether no text has this byte. Tabs, the marks of punched tape (DC1 to DC4) and the end mark of
/// old disks stand in programmes.
fn is_of_no_text(byte: u8) -> bool {
    byte.is_ascii_control() && !matches!(byte, b'\t' | b'\x0b' | b'\x0c' | 0x11..=0x14 | 0x1a)
}

impl Evidence {
    /// Looks at a block that was read.
    #[inline]
    pub(crate) fn block(&mut self, block: &Block) {
        self.letters |= block.letters();
        if !self.fractions {
            self.position(block);
        }
        // Most blocks hold a motion and where it goes, and say nothing more.
        if block.has_only(letters(b"NGXYZ")) && !block.g.any_above(LAST_MOTION) {
            return;
        }
        self.marks(block);
    }

    fn position(&mut self, block: &Block) {
        for letter in [b'X', b'Y', b'Z'] {
            if let Some(value) = block.get(letter) {
                self.positions += 1;
                self.fractions |= value.fract() != 0.0;
            }
        }
    }

    /// What tells a block of another kind of file from one of a milling programme.
    fn marks(&mut self, block: &Block) {
        self.printer += u64::from(block.has(EXTRUDER));
        self.turned += u64::from(block.has(ROTARY) && block.has(ALONG | ACROSS));
        if block.has(letters(b"IK")) && !block.has(letters(b"J")) && block.has(LEVEL) {
            // An arc in the plane of a lathe.
            self.turning += 1;
        }
        for code in block.g.iter() {
            match code.code {
                960 => self.turning += 2,
                500 if block.has(letters(b"S")) => self.turning += 2,
                700 | 710 | 720 | 760
                    if block.has(letters(b"PQ")) && block.has(letters(b"UWF")) =>
                {
                    self.turning += 2;
                }
                _ => {}
            }
        }
        for code in block.m.iter() {
            match code.code {
                3 | 4 => {
                    self.any_start = true;
                    self.starts += 1;
                }
                6 => self.starts = 0,
                _ => {}
            }
            if matches!(code.code, 82 | 83 | 104..=109 | 140 | 141 | 190) {
                self.printer += 10;
            }
        }
        if let Some(speed) = block.get(b'S') {
            let cuts = block.has(letters(b"XY"));
            if cuts && speed.to_bits() != self.last_speed.to_bits() {
                self.speeds_while_cutting += 1;
            }
            self.last_speed = speed;
        }
        if let Some(tool) = block.get(b'T') {
            // T0101: station and offset in one number, as turret controls write it.
            let twice = whole(tool).is_some_and(|t| t > 100 && t / 100 == t % 100);
            if twice && !block.m.has(6) {
                self.turning += 1;
            }
        }
    }

    /// Whether any block has one of these letters.
    fn any(&self, letters: u32) -> bool {
        self.letters & letters != 0
    }

    /// Counts a line by whether it could be read.
    #[inline]
    pub(crate) fn line(&mut self, sound: bool, words: bool) {
        self.odd_lines += u64::from(!sound);
        self.sound_lines += u64::from(sound && words);
    }

    /// Looks at a line that could not be read, once: each of its faults would read it again.
    pub(crate) fn odd_line(&mut self, text: &[u8], line: u64) {
        if self.binary.is_none() && text.iter().any(|b| is_of_no_text(*b)) {
            self.binary = Some(line);
        }
        let has = |word: &[u8]| text.windows(word.len()).any(|w| w == word);
        let foreign = has(b"BEGIN PGM") || has(b"TOOL CALL") || has(b"FMAX") || has(b"CYCLE8");
        if foreign {
            self.dialect.get_or_insert(line);
            self.dialect_marks += 2;
        }
    }

    /// Looks at a word that could not be read.
    pub(crate) fn odd_word(&mut self, fault: &Fault, line: u64) {
        if *fault == Fault::Assigned {
            self.dialect.get_or_insert(line);
            self.dialect_marks += 1;
        }
    }

    /// Looks at a comment.
    pub(crate) fn comment(&mut self, text: &[u8]) {
        self.any_comment = true;
        let has = |word: &[u8]| {
            text.windows(word.len())
                .any(|w| w.eq_ignore_ascii_case(word))
        };
        if has(b"laser") {
            self.laser_words += 1;
        }
        if has(b"knife") || has(b"drag") && has(b"blade") || has(b"vinyl") || has(b"plotter") {
            self.knife_words += 1;
        }
        if has(b"nozzle") || has(b"extruder") || has(b"filament") {
            self.printer += 1;
        }
    }

    /// A move of a second axis, `U` or `W`, stands for X and Z steps in turning.
    pub(crate) fn second_axes(&mut self, letter: u8) {
        self.turning += u64::from(matches!(letter, b'U' | b'W'));
    }

    /// Why the file is not a milling programme, if it is none.
    pub(crate) fn verdict(&self, path: Path) -> Option<String> {
        if self.sound_lines == 0 && self.odd_lines == 0 {
            return Some(if self.any_comment {
                "the file holds comments only, and no block".into()
            } else {
                "the file is empty: it holds no block".into()
            });
        }
        if let (Some(line), true) = (self.dialect, self.dialect_marks >= DIALECT_MARKS) {
            return Some(format!(
                "the file is in another control's dialect (first seen on line {line}): post it \
                 again as ISO 6983 words"
            ));
        }
        if self.odd_lines > self.sound_lines {
            let all = self.odd_lines + self.sound_lines;
            if let Some(line) = self.binary {
                return Some(format!(
                    "this is a binary file, not a programme: line {line} has bytes that no text \
                     has; open the posted file itself, unpacked and saved as plain text"
                ));
            }
            return Some(match (self.odd_lines, all) {
                (1, 1) => "this is text, not a programme: its only line holds no ISO 6983 \
                           words; open the posted file"
                    .into(),
                (odd, all) => format!(
                    "this is text, not a programme: {odd} of {all} lines hold no ISO 6983 words; \
                     open the posted file"
                ),
            });
        }
        if self.printer >= PRINTER_MARKS {
            return Some(
                "this is a file for a printer: it heats a nozzle or moves an extruder (E words)"
                    .into(),
            );
        }
        if !self.any(ACROSS) && self.any(ALONG) && self.turning >= TURNING_MARKS {
            return Some(
                "this is a programme for a lathe: it moves X and Z only and uses turning words"
                    .into(),
            );
        }
        let beam = self.laser_words > 0 || self.speeds_while_cutting >= BEAM_SPEEDS;
        if !self.any(LEVEL | TOOL) && self.any(ALONG) && beam {
            return Some(
                "this is a file for a laser: Z never moves and S changes while cutting".into(),
            );
        }
        self.lacks(path).map(str::to_owned)
    }

    /// What a milling programme has and this one lacks.
    fn lacks(&self, path: Path) -> Option<&'static str> {
        let turns = self.any_start || self.any(SPEED);
        if self.knife_words > 0 && !turns {
            return Some(
                "this is a file for a knife or a plotter: a comment says so, and no spindle is \
                 started",
            );
        }
        if path.cuts < ENOUGH || path.holes > 0 {
            return None;
        }
        if 2 * self.turned > path.cuts && !turns {
            return Some(
                "this is a file for a knife: it turns with the path, and no spindle is started",
            );
        }
        if !self.any(LEVEL) {
            return Some(
                "this is not a milling programme: Z never moves, as on a laser, a torch, a jet or \
                 a plotter; a cutter goes down to its work",
            );
        }
        let torch = self.starts >= STARTS && !self.any(SPEED) && path.lowest_cut >= 0.0;
        if torch {
            return Some(
                "this is a file for a torch: M3 starts it anew for each contour, without a speed, \
                 and no cut goes below Z0",
            );
        }
        if path.lowest_cut.is_finite() && path.lowest_cut >= path.highest - 1e-6 {
            return Some(
                "this is not a milling programme: Z stays at one height, as on a laser or a torch; \
                 a cutter goes down to its work",
            );
        }
        let whole = self.positions >= 3 * ENOUGH && !self.fractions;
        if whole && !path.inch && path.span > TOO_WIDE {
            return Some(
                "its positions are whole numbers and span metres: they are counted in thousandths \
                 of a mm; post it again with decimal points",
            );
        }
        None
    }
}
