//! A block: the words of one line, sorted by letter.

use super::words::Word;

/// Most G words and most M words kept of one block.
const MOST_CODES: usize = 16;

/// Room for a value by letter: the low five bits of a letter, from 1 for A.
const LETTERS: usize = 32;

/// A code and the byte where it stands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Code {
    /// G codes in tenths, M codes whole.
    pub(crate) code: i32,
    /// Place in the line, in bytes from 0.
    pub(crate) at: u32,
}

/// A few codes, in the order written.
#[derive(Clone, Debug, Default)]
pub(crate) struct Codes {
    items: [Code; MOST_CODES],
    len: usize,
    largest: i32,
}

impl Codes {
    fn push(&mut self, code: Code) {
        if let Some(item) = self.items.get_mut(self.len) {
            *item = code;
            self.len += 1;
            self.largest = self.largest.max(code.code);
        }
    }

    /// The codes.
    pub(crate) fn iter(&self) -> std::slice::Iter<'_, Code> {
        self.items[..self.len].iter()
    }

    /// Whether any of them is above `code`.
    #[inline]
    pub(crate) fn any_above(&self, code: i32) -> bool {
        self.largest > code
    }

    fn clear(&mut self) {
        self.len = 0;
        self.largest = 0;
    }

    /// Whether one of them is `code`.
    pub(crate) fn has(&self, code: i32) -> bool {
        self.iter().any(|c| c.code == code)
    }
}

/// What became of a word put into a block.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Put {
    /// Taken.
    Taken,
    /// The letter is in the block already; the later value stands.
    Repeated,
    /// A G or M number that no code can have.
    NoCode,
}

/// The words of one line.
#[derive(Clone, Debug)]
pub(crate) struct Block {
    present: u32,
    computed: u32,
    values: [f64; LETTERS],
    places: [u32; LETTERS],
    /// What one more in the last digit of F comes to, as written.
    pub(crate) feed_digit: f64,
    /// G codes in tenths.
    pub(crate) g: Codes,
    /// M codes.
    pub(crate) m: Codes,
}

impl Default for Block {
    fn default() -> Self {
        Self {
            present: 0,
            computed: 0,
            values: [0.0; LETTERS],
            places: [0; LETTERS],
            feed_digit: 0.0,
            g: Codes::default(),
            m: Codes::default(),
        }
    }
}

/// Where the value of a letter is kept.
const fn place_of(letter: u8) -> usize {
    letter as usize % LETTERS
}

/// The bits of several letters.
pub(crate) const fn letters(text: &[u8]) -> u32 {
    let (mut bits, mut at) = (0, 0);
    while at < text.len() {
        bits |= 1 << place_of(text[at]);
        at += 1;
    }
    bits
}

impl Block {
    /// Empties the block.
    pub(crate) fn clear(&mut self) {
        self.present = 0;
        self.computed = 0;
        self.g.clear();
        self.m.clear();
    }

    /// Puts in a word that stands at byte `start` of the line.
    #[inline]
    pub(crate) fn put(&mut self, word: &Word, start: usize) -> Put {
        let index = place_of(word.letter);
        let bit = 1 << index;
        let at = u32::try_from(start).unwrap_or(u32::MAX);
        match word.letter {
            b'G' => {
                let Some(code) = whole(word.value * 10.0) else {
                    return Put::NoCode;
                };
                self.g.push(Code { code, at });
            }
            b'M' => {
                let Some(code) = whole(word.value) else {
                    return Put::NoCode;
                };
                self.m.push(Code { code, at });
            }
            _ if self.present & bit != 0 => {
                self.values[index] = word.value;
                return Put::Repeated;
            }
            _ => {}
        }
        self.present |= bit;
        self.computed |= u32::from(word.computed) << index;
        self.values[index] = word.value;
        self.places[index] = at;
        Put::Taken
    }

    /// The value of a letter, if the block has it.
    #[inline]
    pub(crate) fn get(&self, letter: u8) -> Option<f64> {
        let index = place_of(letter);
        (self.present & (1 << index) != 0).then(|| self.values[index])
    }

    /// Whether a value of it is worked out from a parameter or an expression.
    pub(crate) fn is_computed(&self) -> bool {
        self.computed != 0
    }

    /// Whether the value of a letter is.
    pub(crate) fn computes(&self, letter: u8) -> bool {
        self.computed & (1 << place_of(letter)) != 0
    }

    /// Where a letter stands, in bytes from 0; 0 if the block has none.
    pub(crate) fn place(&self, letter: u8) -> u32 {
        if self.has(1 << place_of(letter)) {
            self.places[place_of(letter)]
        } else {
            0
        }
    }

    /// Where the first of several letters stands, given as bits of [`letters`]; 0 without any.
    #[inline]
    pub(crate) fn first_place(&self, bits: u32) -> u32 {
        let mut found = self.present & bits;
        let mut first = if found == 0 { 0 } else { u32::MAX };
        while found != 0 {
            first = first.min(self.places[found.trailing_zeros() as usize]);
            found &= found - 1;
        }
        first
    }

    /// Whether one of the letters, given as bits of [`letters`], is in the block.
    #[inline]
    pub(crate) fn has(&self, bits: u32) -> bool {
        self.present & bits != 0
    }

    /// Whether the block has no other letters than these.
    #[inline]
    pub(crate) fn has_only(&self, bits: u32) -> bool {
        self.present & !bits == 0
    }

    /// The bits of its letters.
    pub(crate) fn letters(&self) -> u32 {
        self.present
    }

    /// Whether the block holds no word at all.
    pub(crate) fn is_empty(&self) -> bool {
        self.present == 0
    }
}

/// A whole number, forgiving what decimal fractions lose.
#[inline]
fn whole(value: f64) -> Option<i32> {
    // The usual case; a cast that does not fit gives another number, which is looked at below.
    #[expect(clippy::cast_possible_truncation)]
    let exact = value as i32;
    if f64::from(exact).to_bits() == value.to_bits() && (0..1_000_000).contains(&exact) {
        return Some(exact);
    }
    nearly_whole(value)
}

#[cold]
fn nearly_whole(value: f64) -> Option<i32> {
    let round = value.round();
    // In range as just checked.
    #[expect(clippy::cast_possible_truncation)]
    ((value - round).abs() < 1e-6 && (0.0..1e6).contains(&round)).then_some(round as i32)
}
