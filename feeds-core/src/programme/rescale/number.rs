//! Writes a number the way the programme writes its own.

/// Digits that a rescaled feed keeps at least.
const DIGITS: i32 = 4;

/// The text of `value` in the style of `before`, the number it replaces.
///
/// A point and the number of decimals are kept; a number gets more decimals where four digits need
/// them. A speed without a point stays whole, since many controls take no other.
pub(super) fn write(before: &[u8], value: f64, speed: bool) -> String {
    let point = before.contains(&b'.');
    let own = own_decimals(before);
    if speed && !point {
        return format!("{:.0}", value.round().max(1.0).min(value.ceil()));
    }
    let mut text = format!("{value:.*}", decimals(before, value));
    if text.contains('.') {
        let places = |text: &str| text.len() - text.find('.').unwrap_or(text.len()) - 1;
        while places(&text) > own && text.ends_with('0') {
            text.pop();
        }
        if text.ends_with('.') && !point {
            text.pop();
        }
    } else if point {
        text.push('.');
    }
    text
}

/// Decimals of a number as it is written.
pub(super) fn own_decimals(before: &[u8]) -> usize {
    let own = before.iter().rev().take_while(|b| **b != b'.');
    let own = own.filter(|b| b.is_ascii_digit()).count();
    if before.contains(&b'.') {
        own.min(6)
    } else {
        0
    }
}

/// Decimals that a new number is written with: its own, or as many as four digits need.
fn decimals(before: &[u8], value: f64) -> usize {
    // A feed is far below the range where this could not be counted.
    #[expect(clippy::cast_possible_truncation)]
    let magnitude = if value > 0.0 {
        value.log10().floor() as i32
    } else {
        0
    };
    let needed = usize::try_from((DIGITS - 1 - magnitude).clamp(0, 6)).unwrap_or(0);
    own_decimals(before).max(needed)
}

/// The same, never above `value`: it is rounded down to the last digit that is written.
pub(super) fn lower(before: &[u8], value: f64, speed: bool) -> String {
    let text = write(before, value, speed);
    if text
        .parse::<f64>()
        .is_ok_and(|t| t <= value * (1.0 + 1e-12))
    {
        return text;
    }
    let places = decimals(before, value);
    let tens = 10_f64.powi(i32::try_from(places).unwrap_or(0));
    // A hair up, so that a number that is exact to its last digit keeps it.
    write(before, (value * tens * (1.0 + 1e-12)).floor() / tens, speed)
}

#[cfg(test)]
mod tests {
    use super::{lower, write};

    #[test]
    fn a_lower_feed_is_not_rounded_up() {
        for (before, value, expect) in [
            ("460", 153.18, "153.1"),
            ("460.", 153.999_9, "153.9"),
            ("460", 230.0, "230"),
            (".05", 0.033_333_9, "0.03333"),
            ("18.5", 6.166_6, "6.166"),
            ("9000", 4567.8, "4567"),
            ("9000.", 4567.8, "4567."),
        ] {
            assert_eq!(lower(before.as_bytes(), value, false), expect, "{before}");
        }
    }

    #[test]
    fn numbers_keep_their_style() {
        for (before, value, speed, expect) in [
            ("460.", 230.0, false, "230."),
            ("460", 153.18, false, "153.2"),
            ("460", 230.0, false, "230"),
            ("180.00", 126.0, false, "126.00"),
            ("18.5", 6.1613, false, "6.161"),
            (".05", 0.033_333_3, false, "0.03333"),
            ("8000", 5333.3, true, "5333"),
            ("8000.", 5333.3, true, "5333."),
            ("1", 0.2, true, "1"),
            ("0", 0.0, true, "0"),
        ] {
            assert_eq!(write(before.as_bytes(), value, speed), expect, "{before}");
        }
    }
}
