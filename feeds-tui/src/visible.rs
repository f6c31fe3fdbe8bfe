//! Signs that act on a terminal instead of being seen: none of them leaves the program.
//!
//! Names, notes and what was typed come from files and from other people. Control characters in
//! them would move the cursor, colour the screen or write to the clipboard; marks of writing
//! direction would show a text in another order than it has.

use std::borrow::Cow;
use std::fmt::Write as _;

/// What is seen in the place of a sign that must not be written.
pub const IN_ITS_PLACE: char = '\u{fffd}';

/// Whether a sign acts instead of being seen: control characters but for line end and tab, and the
/// marks of direction of the Unicode bidirectional algorithm (UAX 9, section 2).
///
/// # Example
/// ```
/// use feeds_tui::visible::acts;
/// assert!(acts('\u{1b}') && acts('\u{9b}') && acts('\u{7f}') && acts('\u{202e}'));
/// assert!(!acts('\n') && !acts('\t') && !acts('φ') && !acts(' '));
/// ```
pub fn acts(sign: char) -> bool {
    match sign {
        '\n' | '\t' => false,
        '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => {
            true
        }
        _ => sign.is_control(),
    }
}

/// The text with every sign that acts replaced by one that is seen.
///
/// # Example
/// ```
/// use feeds_tui::visible::shown;
/// assert_eq!(shown("face\u{1b}[2J mill"), "face\u{fffd}[2J mill");
/// assert_eq!(shown("φ_s\t90°\n"), "φ_s\t90°\n");
/// ```
pub fn shown(text: &str) -> Cow<'_, str> {
    if text.contains(acts) {
        let seen = |sign| if acts(sign) { IN_ITS_PLACE } else { sign };
        Cow::Owned(text.chars().map(seen).collect())
    } else {
        Cow::Borrowed(text)
    }
}

/// A JSON document with every sign that acts written as its escape: outside of texts JSON has
/// none, so it stays the same document.
///
/// # Example
/// ```
/// use feeds_tui::visible::escaped;
/// assert_eq!(escaped("{\"name\": \"a\u{202e}b\"}"), r#"{"name": "a\u202eb"}"#);
/// ```
pub fn escaped(json: &str) -> Cow<'_, str> {
    if !json.contains(acts) {
        return Cow::Borrowed(json);
    }
    let mut out = String::with_capacity(json.len() + 16);
    for sign in json.chars() {
        if acts(sign) {
            // All of them lie below U+10000, so four digits are enough.
            let _ = write!(out, "\\u{:04x}", u32::from(sign));
        } else {
            out.push(sign);
        }
    }
    Cow::Owned(out)
}

#[cfg(test)]
mod tests {
    use super::acts;

    /// The lists of ISO 6429 (C0, and DEL with C1) and UAX 9 (section 2), counted by hand: 32 and
    /// 33 controls less line feed and tab, and 12 marks.
    #[test]
    fn the_signs_that_act_are_those_of_the_standards() {
        let all: Vec<char> = ('\0'..=char::MAX).filter(|c| acts(*c)).collect();
        let (controls, marks): (Vec<char>, Vec<char>) =
            all.into_iter().partition(|c| u32::from(*c) < 0xa0);
        assert_eq!(controls.len(), 32 + 33 - 2);
        assert_eq!(marks.len(), 12);
    }
}
