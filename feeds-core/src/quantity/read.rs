//! Reading what a machinist types: `3/16"`, `1-1/2 in`, `0,5 mm`, `10 ft/min`, `4400 rpm`.

use super::{Dimension, Quantity, unit};
use crate::error::EntryError;

/// What was typed, with what it means. The text is kept: it is never printed back rounded.
#[derive(Clone, Debug, PartialEq)]
pub struct Typed<Q> {
    /// The text as typed, trimmed.
    pub text: String,
    /// Its value.
    pub value: Q,
}

/// Reads a quantity with its unit.
///
/// # Takes
/// A number (decimal point, decimal comma where it cannot be a thousands mark, fraction, whole
/// and fraction, exponent) and a unit of the quantity's dimension, with or without a blank.
/// A plain number is read only for ratios, and for zero.
///
/// # Errors
/// [`EntryError`] that says what is wrong and which units would be right.
///
/// # Example
/// ```
/// use feeds_core::quantity::{Length, Velocity, read::read, in_mm};
/// assert!((in_mm(read::<Length>("3/16\"").unwrap().value) - 4.7625).abs() < 1e-12);
/// assert!((read::<Velocity>("10 ft/min").unwrap().value.value - 0.0508).abs() < 1e-12);
/// let e = read::<Length>("1,234 mm").unwrap_err();
/// assert!(e.to_string().contains("1234"));
/// ```
pub fn read<Q: Quantity>(text: &str) -> Result<Typed<Q>, EntryError> {
    let value = read_si(text, Q::DIMENSION)?;
    Ok(Typed {
        text: text.trim().to_owned(),
        value: Q::from_si(value),
    })
}

/// Whether a text is a number without any unit.
///
/// # Example
/// ```
/// use feeds_core::quantity::read::is_plain;
/// assert!(is_plain("4400") && !is_plain("4400 rpm") && !is_plain("50 %"));
/// ```
pub fn is_plain(text: &str) -> bool {
    !text.ends_with('%') && read_si(text, Dimension::Ratio).is_ok()
}

/// As [`read`], for a dimension known only at run time; gives SI base units.
///
/// # Errors
/// As [`read`].
pub fn read_si(text: &str, dimension: Dimension) -> Result<f64, EntryError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(EntryError::Empty { wanted: dimension });
    }
    let (number, rest) = number(text, dimension)?;
    let rest = rest.trim();
    if rest.is_empty() {
        return if dimension == Dimension::Ratio || number == 0.0 {
            Ok(number)
        } else {
            Err(EntryError::NoUnit {
                text: text.to_owned(),
                wanted: dimension,
            })
        };
    }
    let unit = unit::named(rest).ok_or_else(|| EntryError::UnknownUnit {
        unit: rest.to_owned(),
        wanted: dimension,
    })?;
    // A turn a second and a hertz are told apart by their use only.
    let same = unit.dimension == dimension
        || (unit.dimension == Dimension::Rotation && dimension == Dimension::Frequency);
    if !same {
        return Err(EntryError::WrongKind {
            unit: rest.to_owned(),
            is: unit.dimension,
            wanted: dimension,
        });
    }
    let value = number * unit.size;
    if value.is_finite() {
        Ok(value)
    } else {
        Err(EntryError::NotFinite {
            text: text.to_owned(),
        })
    }
}

/// Splits the leading number from what follows.
pub(crate) fn number(text: &str, dimension: Dimension) -> Result<(f64, &str), EntryError> {
    let bad = || EntryError::NoNumber {
        text: text.to_owned(),
        like: dimension.like(),
    };
    let (sign, body) = match text.as_bytes().first() {
        Some(b'-') => (-1.0, text[1..].trim_start()),
        Some(b'+') => (1.0, text[1..].trim_start()),
        _ if text.starts_with('−') => (-1.0, text['−'.len_utf8()..].trim_start()),
        _ => (1.0, text),
    };
    let (first, rest) = decimal(body).ok_or_else(bad)??;
    if let Some((bottom, rest)) = denominator(rest) {
        return Ok((sign * ratio(first, bottom, text)? + 0.0, rest));
    }
    // `1-1/2` and `1 1/2`: a whole number, then a fraction.
    let joined = rest
        .strip_prefix('-')
        .or_else(|| rest.strip_prefix(' '))
        .map(str::trim_start);
    if let Some(tail) = joined
        && let Some(Ok((top, after))) = decimal(tail)
        && let Some((bottom, after)) = denominator(after)
    {
        if first.fract() != 0.0 || first < 0.0 {
            return Err(bad());
        }
        return Ok((sign * (first + ratio(top, bottom, text)?), after));
    }
    // A zero has no sign: `-0 mm` is 0 mm.
    Ok((sign * first + 0.0, rest))
}

fn ratio(top: f64, bottom: f64, text: &str) -> Result<f64, EntryError> {
    if bottom > 0.0 {
        Ok(top / bottom)
    } else {
        Err(EntryError::NotFinite {
            text: text.to_owned(),
        })
    }
}

/// `/16` after a number; `/min` is a unit and stays.
fn denominator(rest: &str) -> Option<(f64, &str)> {
    let tail = rest.trim_start().strip_prefix('/')?.trim_start();
    let digits = tail.len() - tail.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    (digits > 0)
        .then(|| tail[..digits].parse().ok().map(|v| (v, &tail[digits..])))
        .flatten()
}

/// A decimal number at the start of `text`: `None` if there is none.
fn decimal(text: &str) -> Option<Result<(f64, &str), EntryError>> {
    let bytes = text.as_bytes();
    let digits_from = |from: usize| {
        from + bytes[from..]
            .iter()
            .take_while(|b| b.is_ascii_digit())
            .count()
    };
    let whole = digits_from(0);
    let mut end = whole;
    let mut plain = text[..whole].to_owned();
    if let Some(mark @ (b'.' | b',')) = bytes.get(whole) {
        let stop = digits_from(whole + 1);
        let places = &text[whole + 1..stop];
        let again = matches!(bytes.get(stop), Some(b'.' | b','));
        let thousands = *mark == b',' && places.len() == 3 && whole > 0 && bytes[0] != b'0';
        if thousands && !again {
            return Some(Err(EntryError::TwoReadings {
                whole: text[..whole].to_owned(),
                places: places.to_owned(),
            }));
        }
        if again || (*mark == b',' && places.is_empty()) {
            let all = text.len()
                - text
                    .trim_start_matches(|c: char| c.is_ascii_digit() || c == '.' || c == ',')
                    .len();
            return Some(Err(EntryError::StrayMark {
                number: text[..all].to_owned(),
            }));
        }
        plain.push('.');
        plain.push_str(places);
        end = stop;
        if whole == 0 && places.is_empty() {
            return None;
        }
    } else if whole == 0 {
        return None;
    }
    // An exponent only if digits follow: `3e` would be a unit.
    if let Some(b'e' | b'E') = bytes.get(end) {
        let sign = usize::from(matches!(bytes.get(end + 1), Some(b'+' | b'-')));
        let from = end + 1 + sign;
        if bytes.get(from).is_some_and(u8::is_ascii_digit) {
            let stop = digits_from(from);
            plain.push_str(&text[end..stop]);
            end = stop;
        }
    }
    let value: f64 = plain.parse().ok()?;
    if !value.is_finite() {
        return Some(Err(EntryError::NotFinite {
            text: text.to_owned(),
        }));
    }
    Some(Ok((value, &text[end..])))
}
