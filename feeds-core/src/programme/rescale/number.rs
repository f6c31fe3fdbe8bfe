//! Writes a number the way the programme writes its own.

/// Digits that a rescaled feed keeps at least.
const DIGITS: i32 = 4;

/// The text of `value` in the style of `before`, the number it replaces.
///
/// A point and the number of decimals are kept; a number gets more decimals where four digits need
/// them. A speed without a point stays whole, since many controls take no other.
pub(super) fn write(before: &[u8], value: f64, speed: bool) -> String {
    let point = before.contains(&b'.');
    let own = before
        .iter()
        .rev()
        .take_while(|b| **b != b'.')
        .filter(|b| b.is_ascii_digit())
        .count();
    let own = if point { own.min(6) } else { 0 };
    if speed && !point {
        return format!("{:.0}", value.round().max(1.0).min(value.ceil()));
    }
    // A feed is far below the range where this could not be counted.
    #[expect(clippy::cast_possible_truncation)]
    let magnitude = if value > 0.0 {
        value.log10().floor() as i32
    } else {
        0
    };
    let needed = usize::try_from((DIGITS - 1 - magnitude).clamp(0, 6)).unwrap_or(0);
    let mut text = format!("{value:.*}", own.max(needed));
    if text.contains('.') {
        let decimals = |text: &str| text.len() - text.find('.').unwrap_or(text.len()) - 1;
        while decimals(&text) > own && text.ends_with('0') {
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

#[cfg(test)]
mod tests {
    use super::write;

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
