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
/// the result is the nearest f64; longer numbers go through the standard library.
#[inline]
pub(crate) fn read(text: &[u8], start: usize) -> Option<Numeral> {
    let mut at = skip_blanks(text, start);
    let negative = match text.get(at) {
        Some(b'-') => {
            at += 1;
            true
        }
        Some(b'+') => {
            at += 1;
            false
        }
        _ => false,
    };
    let (mut mantissa, mut digits, mut decimals) = (0_u64, 0_usize, 0_usize);
    let (mut point, mut end) = (false, at);
    while let Some(&byte) = text.get(at) {
        let digit = byte.wrapping_sub(b'0');
        if digit < 10 {
            mantissa = mantissa.wrapping_mul(10).wrapping_add(u64::from(digit));
            digits += 1;
            decimals += usize::from(point);
            end = at + 1;
        } else if byte == b'.' && !point {
            point = true;
            end = at + 1;
        } else if byte != b' ' && byte != b'\t' {
            break;
        }
        at += 1;
    }
    if digits == 0 {
        return None;
    }
    let value = if digits <= 15 {
        // Fifteen digits stay below 2^53, so the conversion is exact.
        #[expect(clippy::cast_precision_loss)]
        let whole = mantissa as f64;
        whole / POWERS[decimals]
    } else {
        slowly(&text[start..end])?
    };
    Some(Numeral {
        value: if negative { -value } else { value },
        end,
        next: at,
    })
}

/// The unsigned value of a long number.
fn slowly(text: &[u8]) -> Option<f64> {
    let plain: String = text
        .iter()
        .filter(|b| b.is_ascii_digit() || **b == b'.')
        .map(|b| char::from(*b))
        .collect();
    plain.parse().ok().filter(|v: &f64| v.is_finite())
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
            ("16777217.", 16_777_217.0),
            ("0.1234567890123456789", 0.123_456_789_012_345_68),
            ("123456789012345678", 123_456_789_012_345_680.0),
        ] {
            assert_eq!(value(text), Some(expect), "{text}");
        }
    }

    #[test]
    fn refuses_what_is_no_number() {
        for text in ["", "-", ".", "+.", "X1", "--1"] {
            assert_eq!(value(text), None, "{text}");
        }
    }

    #[test]
    fn tells_where_the_number_ends() {
        let n = read(b"F180.  X", 1).unwrap();
        assert_eq!((n.end, n.next), (5, 7));
    }
}
