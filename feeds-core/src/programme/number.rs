//! Decimal numbers of ISO 6983 words, read exactly.

/// A number as it stands in the text.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Numeral {
    /// The value, correctly rounded.
    pub(crate) value: f64,
    /// Index of the byte after the last character of the number.
    pub(crate) end: usize,
    /// Index of the next byte that is neither blank nor part of the number.
    pub(crate) next: usize,
}

/// Powers of ten that are exact in f64, up to the most digits the fast path takes.
const POWERS: [f64; 16] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
];

/// The next index from `at` that is not a blank.
#[inline]
pub(crate) fn skip_blanks(text: &[u8], mut at: usize) -> usize {
    while matches!(text.get(at), Some(b' ' | b'\t')) {
        at += 1;
    }
    at
}

/// Reads a number with optional sign; blanks may stand anywhere inside it.
#[inline]
pub(crate) fn read(text: &[u8], start: usize) -> Option<Numeral> {
    read_ahead(text, text, start)
}

/// The same of a line in memory, `ahead` from its start on with what follows its end: digits are
/// looked at eight at a time, and where the line ends they end.
///
/// Up to 15 digits the mantissa and the power of ten are exact, so one division rounds once and
/// the result is the nearest f64; other numbers go through the standard library.
// Every word goes through here: a call costs a tenth of the time it takes.
#[expect(clippy::inline_always)]
#[inline(always)]
pub(crate) fn read_ahead(text: &[u8], ahead: &[u8], start: usize) -> Option<Numeral> {
    let mut at = skip_blanks(text, start);
    let sign = text.get(at).copied();
    at += usize::from(matches!(sign, Some(b'-' | b'+')));
    let (mut mantissa, mut count) = digits(ahead, at);
    let (mut end, mut decimals) = (at + count, 0);
    if text.get(end) == Some(&b'.') {
        let part;
        (part, decimals) = digits(ahead, end + 1);
        mantissa = joined(mantissa, part, decimals);
        end += 1 + decimals;
        count += decimals;
    }
    let next = skip_blanks(text, end);
    let number = if count > 15 || next > end && goes_on(text, next) {
        unusual(text, at)?
    } else if count > 0 {
        // Fifteen digits stay below 2^53, so the conversion is exact.
        #[expect(clippy::cast_precision_loss)]
        let mut value = mantissa.cast_signed() as f64;
        if decimals > 0 {
            value /= POWERS[decimals % POWERS.len()];
        }
        Numeral { value, end, next }
    } else {
        return None;
    };
    let negative = sign == Some(b'-');
    Some(Numeral {
        value: if negative {
            // Zero stays without a sign.
            0.0 - number.value
        } else {
            number.value
        },
        ..number
    })
}

/// Powers of ten as whole numbers.
const TENS: [u64; 16] = {
    let mut tens = [1; 16];
    let mut at = 1;
    while at < tens.len() {
        tens[at] = 10 * tens[at - 1];
        at += 1;
    }
    tens
};

/// A number with so many more digits behind it; of more digits than are kept it means nothing.
#[inline]
fn joined(value: u64, more: u64, digits: usize) -> u64 {
    value
        .wrapping_mul(TENS[digits % TENS.len()])
        .wrapping_add(more)
}

/// The value of the digits from `at` on and how many there are, of sixteen and more the first ones.
#[inline]
fn digits(ahead: &[u8], at: usize) -> (u64, usize) {
    let (value, count) = up_to_eight(ahead, at);
    if count < 8 {
        return (value, count);
    }
    let (more, further) = up_to_eight(ahead, at + 8);
    (joined(value, more, further), 8 + further)
}

/// The same of up to eight, which are worked out in one number instead of one by one: how many
/// there are is then no branch, which a processor would guess wrong at every other number.
#[inline]
fn up_to_eight(ahead: &[u8], at: usize) -> (u64, usize) {
    const ONES: u64 = u64::from_le_bytes([1; 8]);
    let Some(eight) = ahead.get(at..).and_then(<[u8]>::first_chunk) else {
        return one_by_one(ahead, at);
    };
    let word = u64::from_le_bytes(*eight) ^ (ONES * 0x30);
    // The lowest byte above 9 gets its top bit here; what it carries goes to those above it.
    let beyond = (word.wrapping_add(ONES * 0x76) | word) & (ONES * 0x80);
    let count = beyond.trailing_zeros() / 8;
    // The last digit goes to the top, with zeros before the first. Then neighbours are joined: to
    // numbers of two digits, of four, and of eight.
    let digits = word.checked_shl(64 - 8 * count).unwrap_or(0);
    let twos = (digits.wrapping_mul(0x0a01) >> 8) & 0x00ff_00ff_00ff_00ff;
    let fours = (twos.wrapping_mul(0x0064_0001) >> 16) & 0x0000_ffff_0000_ffff;
    let value = fours.wrapping_mul(0x2710_0000_0001) >> 32;
    (value, count as usize)
}

/// The same near the end of what is in memory.
#[cold]
fn one_by_one(ahead: &[u8], at: usize) -> (u64, usize) {
    let rest = ahead.get(at..).unwrap_or_default();
    let digits = rest.iter().take(8).take_while(|b| b.is_ascii_digit());
    digits.fold((0, 0), |(value, count), digit| {
        (10 * value + u64::from(digit - b'0'), count + 1)
    })
}

#[inline]
fn goes_on(text: &[u8], next: usize) -> bool {
    matches!(text.get(next), Some(b'0'..=b'9' | b'.'))
}

/// The most digits of a number that is read: as many as the largest f64 has, and some more.
pub(crate) const MOST_DIGITS: usize = 400;

/// An unsigned number of many digits or with blanks inside it; none when it has no digit, or is
/// one of those that [`refused`] leaves out.
#[cold]
fn unusual(text: &[u8], start: usize) -> Option<Numeral> {
    let Gathered { plain, end, next } = gathered(text, start);
    if plain.bytes().filter(u8::is_ascii_digit).count() > MOST_DIGITS {
        return None;
    }
    let value = plain.parse().ok().filter(|v: &f64| v.is_finite())?;
    Some(Numeral { value, end, next })
}

/// Where a number that cannot be read ends: it has more than [`MOST_DIGITS`] digits, or is larger
/// than any that is kept. To be asked after [`read`] found none; none when there is no digit.
#[cold]
pub(crate) fn refused(text: &[u8], start: usize) -> Option<usize> {
    let at = skip_blanks(text, start);
    let sign = usize::from(matches!(text.get(at), Some(b'-' | b'+')));
    let number = gathered(text, at + sign);
    let digit = number.plain.bytes().any(|b| b.is_ascii_digit());
    digit.then_some(number.next)
}

/// The signs of an unsigned number without the blanks inside it, and where it ends.
struct Gathered {
    plain: String,
    end: usize,
    next: usize,
}

fn gathered(text: &[u8], start: usize) -> Gathered {
    let (mut at, mut end, mut plain) = (start, start, String::new());
    let mut point = false;
    while let Some(&byte) = text.get(at) {
        match byte {
            b' ' | b'\t' => {}
            b'0'..=b'9' => {
                plain.push(char::from(byte));
                end = at + 1;
            }
            b'.' if !point => {
                point = true;
                plain.push('.');
                end = at + 1;
            }
            _ => break,
        }
        at += 1;
    }
    Gathered {
        plain,
        end,
        next: at,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)] // a test fails by panicking
mod tests {
    use super::*;

    fn value(text: &str) -> Option<f64> {
        read(text.as_bytes(), 0).map(|n| n.value)
    }

    #[test]
    fn reads_every_way_of_writing_a_number() {
        for (text, expect) in [
            ("-.004", -0.004),
            ("1.", 1.0),
            ("+0035000", 35000.0),
            (" +0. 12 34y 7", 0.1234),
            ("- 1 . 5 .2", -1.5),
            ("1 2", 12.0),
            (". 5", 0.5),
            ("1.5.2", 1.5),
            ("16777217.", 16_777_217.0),
            ("0.1234567890123456789", 0.123_456_789_012_345_68),
            ("123456789012345678", 123_456_789_012_345_680.0),
        ] {
            assert_eq!(value(text), Some(expect), "{text}");
        }
    }

    /// Every length before and behind the point, near the end of a line and far from it.
    #[test]
    fn digits_are_read_as_the_standard_library_reads_them() {
        let digits = "9081726354453627180";
        for whole in 0..=digits.len() {
            for part in 0..=digits.len() {
                for rest in ["", "Y", "Y1", "Y1.25 Z3", "YYYYYYYYYYYYYYYY"] {
                    let number = format!("{}.{}", &digits[..whole], &digits[..part]);
                    let read = read(format!("X-{number}{rest}").as_bytes(), 1);
                    let expect = (whole + part > 0).then(|| -number.parse::<f64>().unwrap());
                    assert_eq!(read.map(|n| n.value), expect, "{number}{rest}");
                    let end = expect.map(|_| number.len() + 2);
                    assert_eq!(read.map(|n| n.end), end, "{number}{rest}");
                }
            }
        }
        // The neighbours of the digits, and bytes whose top bit is set.
        for odd in [b'/', b':', 0, 0x7F, 0x80, 0xB5, 0xFF, b'\n'] {
            for length in 1..10 {
                let mut text = b"123456789"[..length].to_vec();
                text.push(odd);
                text.extend_from_slice(b"4567890123");
                assert_eq!(read(&text, 0).unwrap().end, length, "{odd:#x}");
            }
        }
    }

    #[test]
    fn refuses_what_is_no_number() {
        for text in ["", "-", ".", "+.", "X1", "--1"] {
            assert_eq!(value(text), None, "{text}");
        }
    }

    #[test]
    fn refuses_more_digits_than_any_number_has() {
        let digits = |count| format!("0.{}", "1".repeat(count - 1));
        assert_eq!(value(&digits(MOST_DIGITS)), Some(1.0 / 9.0));
        for text in [
            digits(MOST_DIGITS + 1),
            "9".repeat(310),
            format!("- 1 {}", "1 ".repeat(500)),
        ] {
            assert_eq!(value(&text), None, "{text}");
            let more = format!("{text} Y2");
            assert_eq!(refused(more.as_bytes(), 0), more.find('Y'), "{text}");
        }
        for text in ["", "-", ".", "X1", "--1"] {
            assert_eq!(refused(text.as_bytes(), 0), None, "{text}");
        }
    }

    #[test]
    fn tells_where_the_number_ends() {
        let n = read(b"F180.  X", 1).unwrap();
        assert_eq!((n.end, n.next), (5, 7));
    }
}
