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
///
/// Up to 15 digits the mantissa and the power of ten are exact, so one division rounds once and
/// the result is the nearest f64; other numbers go through the standard library.
// Every word goes through here: a call costs a tenth of the time it takes.
#[expect(clippy::inline_always)]
#[inline(always)]
pub(crate) fn read(text: &[u8], start: usize) -> Option<Numeral> {
    let mut at = skip_blanks(text, start);
    let sign = text.get(at).copied();
    at += usize::from(matches!(sign, Some(b'-' | b'+')));
    let mut mantissa = 0_i64;
    let mut end = digits(text, at, &mut mantissa);
    let (mut count, mut decimals) = (end - at, 0);
    if text.get(end) == Some(&b'.') {
        let first = end + 1;
        end = digits(text, first, &mut mantissa);
        decimals = end - first;
        count += decimals;
    }
    let next = skip_blanks(text, end);
    let number = if count > 15 || next > end && goes_on(text, next) {
        unusual(text, at)?
    } else if count > 0 {
        // Fifteen digits stay below 2^53, so the conversion is exact.
        #[expect(clippy::cast_precision_loss)]
        let mut value = mantissa as f64;
        // Codes and line numbers have none, and a division is slow.
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

/// Takes the digits from `at` on into the mantissa; the place after them.
#[inline]
fn digits(text: &[u8], mut at: usize, mantissa: &mut i64) -> usize {
    while let Some(&byte) = text.get(at) {
        let digit = byte.wrapping_sub(b'0');
        if digit > 9 {
            break;
        }
        *mantissa = mantissa.wrapping_mul(10).wrapping_add(i64::from(digit));
        at += 1;
    }
    at
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
