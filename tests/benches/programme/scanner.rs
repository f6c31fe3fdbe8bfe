//! The least that any reader of programmes must do: find the words, leave comments out and convert
//! the numbers exactly. It keeps no state of the machine and finds no fault.

use std::io::Read;

/// What was read.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Words {
    pub(crate) words: u64,
    pub(crate) sum: f64,
}

/// Exact in f64.
const TENS: [f64; 16] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
];

/// Scans bytes piece by piece; what is left of a line waits for the next piece.
pub(crate) fn scan(mut from: impl Read, piece: usize) -> Words {
    let mut found = Words::default();
    let mut buffer = vec![0; 2 * piece];
    let mut held = 0;
    loop {
        let count = from.read(&mut buffer[held..held + piece]).unwrap();
        let end = held + count;
        let whole = buffer[held..end].iter().rposition(|b| *b == b'\n');
        match whole {
            Some(last) if count > 0 => {
                let next = held + last + 1;
                lines(&buffer[..next], &mut found);
                buffer.copy_within(next..end, 0);
                held = end - next;
            }
            _ if count == 0 => {
                lines(&buffer[..end], &mut found);
                return found;
            }
            _ => held = end,
        }
        assert!(held < piece, "a line is longer than a piece");
    }
}

/// Scans whole lines.
fn lines(text: &[u8], found: &mut Words) {
    let mut bytes = text.iter().copied().peekable();
    while let Some(byte) = bytes.next() {
        match byte {
            b'(' => {
                // A comment ends on its line, closed or not.
                bytes.find(|b| *b == b')' || *b == b'\n');
            }
            b';' => {
                bytes.find(|b| *b == b'\n');
            }
            b'A'..=b'Z' | b'a'..=b'z' => {
                while bytes.next_if_eq(&b' ').is_some() {}
                let negative = bytes.next_if_eq(&b'-').is_some();
                if !negative {
                    bytes.next_if_eq(&b'+');
                }
                let (mut mantissa, mut digits, mut decimals) = (0_u64, 0_usize, 0_usize);
                let mut point = 0;
                while let Some(byte) = bytes.next_if(|b| b.is_ascii_digit() || *b == b'.') {
                    if byte == b'.' {
                        point = 1;
                    } else {
                        mantissa = mantissa * 10 + u64::from(byte - b'0');
                        digits += 1;
                        decimals += point;
                    }
                }
                assert!(digits <= 15, "no number of these programmes is longer");
                if digits > 0 {
                    #[expect(clippy::cast_precision_loss)] // 15 digits stay below 2^53
                    let value = mantissa as f64 / TENS[decimals];
                    found.words += 1;
                    found.sum += if negative { -value } else { value };
                }
            }
            _ => {}
        }
    }
}
