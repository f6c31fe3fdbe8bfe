//! A block: the words of one line, sorted by letter.

use super::words::Word;

/// Most G words and most M words kept of one block.
const MOST_CODES: usize = 16;

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
}

impl Codes {
    fn push(&mut self, code: Code) {
        if let Some(item) = self.items.get_mut(self.len) {
            *item = code;
            self.len += 1;
        }
    }

    /// The codes.
    pub(crate) fn iter(&self) -> std::slice::Iter<'_, Code> {
        self.items[..self.len].iter()
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
    values: [f64; 26],
    places: [u32; 26],
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
            values: [0.0; 26],
            places: [0; 26],
            g: Codes::default(),
            m: Codes::default(),
        }
    }
}

/// The bits of several letters.
pub(crate) const fn letters(text: &[u8]) -> u32 {
    let (mut bits, mut at) = (0, 0);
    while at < text.len() {
        bits |= 1 << (text[at] - b'A');
        at += 1;
    }
    bits
}

impl Block {
    /// Empties the block.
    pub(crate) fn clear(&mut self) {
        self.present = 0;
        self.computed = 0;
        self.g.len = 0;
        self.m.len = 0;
    }

    /// Puts a word in.
    #[inline]
    pub(crate) fn put(&mut self, word: Word) -> Put {
        let index = usize::from(word.letter - b'A') % 26;
        let bit = 1 << index;
        let at = u32::try_from(word.start).unwrap_or(u32::MAX);
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
        let index = usize::from(letter - b'A');
        (self.present & (1 << index) != 0).then(|| self.values[index])
    }

    /// Where a letter stands, in bytes from 0; 0 if the block has none.
    pub(crate) fn place(&self, letter: u8) -> u32 {
        if self.has(1 << (letter - b'A')) {
            self.places[usize::from(letter - b'A')]
        } else {
            0
        }
    }

    /// Whether one of the letters, given as bits of [`letters`], is in the block.
    #[inline]
    pub(crate) fn has(&self, bits: u32) -> bool {
        self.present & bits != 0
    }

    /// Whether the block holds no word at all.
    pub(crate) fn is_empty(&self) -> bool {
        self.present == 0
    }
}

/// A whole number, forgiving what decimal fractions lose.
fn whole(value: f64) -> Option<i32> {
    let round = value.round();
    // In range as just checked.
    #[expect(clippy::cast_possible_truncation)]
    ((value - round).abs() < 1e-6 && (0.0..1e6).contains(&round)).then_some(round as i32)
}
