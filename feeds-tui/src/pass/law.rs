//! The two laws of the cutting force, as entries: a stock has one of them.

use super::description::Description;

/// The entries of Kienzle's law; they belong together.
pub const KIENZLE: [&str; 2] = ["kc11", "mc"];

/// The linear edge coefficients; they belong together.
pub const LINEAR: [&str; 6] = ["ktc", "krc", "kac", "kte", "kre", "kae"];

/// The entries of the law that an entry's own law stands instead of.
///
/// # Example
/// ```
/// use feeds_tui::pass::law::{KIENZLE, other};
/// assert_eq!(other("kte"), KIENZLE);
/// assert!(other("wear").is_empty());
/// ```
pub fn other(key: &str) -> &'static [&'static str] {
    if KIENZLE.contains(&key) {
        &LINEAR
    } else if LINEAR.contains(&key) {
        &KIENZLE
    } else {
        &[]
    }
}

/// Takes the law out of a description: it is of one stock, and says nothing of another.
#[must_use]
pub fn without_law(pass: Description) -> Description {
    let keys = KIENZLE.iter().chain(&LINEAR);
    keys.fold(pass, |pass, key| pass.with(&[(*key, "")]))
}
