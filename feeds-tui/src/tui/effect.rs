//! What the screens ask of the world outside.

use crate::store::job::Job;
use crate::visible::shown;
use std::io::{self, Write};
use std::path::PathBuf;

/// What follows a message.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Effect {
    /// Nothing but a new frame.
    Draw,
    /// Nothing at all.
    Rest,
    /// The text goes to the terminal's clipboard.
    Copy(String),
    /// The record of practice is kept.
    Practised,
    /// The job is saved.
    Save,
    /// The setup sheet is written.
    Print,
    /// The job is saved under this name.
    SaveAs(PathBuf),
    /// The shop is saved.
    KeepShop,
    /// This draft of an earlier run is put aside.
    PutAside(Box<Job>),
    /// The screens close.
    Quit,
}

/// Gives a text to the terminal's clipboard, also over a remote shell (OSC 52, write only).
///
/// # Errors
/// If the terminal cannot be written to.
pub fn copy(text: &str, out: &mut dyn Write) -> io::Result<()> {
    let text = shown(text);
    write!(out, "\x1b]52;c;{}\x07", base64(text.as_bytes()))?;
    out.flush()
}

/// RFC 4648, with padding.
fn base64(bytes: &[u8]) -> String {
    const SIGNS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let byte = |at: usize| u32::from(three.get(at).copied().unwrap_or_default());
        let bits = byte(0) << 16 | byte(1) << 8 | byte(2);
        for at in 0..4 {
            let sign = SIGNS[(bits >> (18 - 6 * at) & 63) as usize];
            out.push(if at <= three.len() {
                char::from(sign)
            } else {
                '='
            });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::base64;

    #[test]
    fn base64_is_that_of_the_standard() {
        // RFC 4648, section 10
        for (text, coded) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(text.as_bytes()), coded);
        }
    }
}
