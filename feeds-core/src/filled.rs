//! Texts that hold no number of their own: `{name}` stands for an amount.

use crate::error::{Cause, EntryError};

/// A part of such a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Piece<'t> {
    /// Words, as they are written.
    Words(&'t str),
    /// What a name in braces stands for.
    Amount(String),
}

/// Takes a text apart; `amount` says what a name stands for.
///
/// # Errors
/// When a brace is not closed, or a name stands for nothing.
///
/// # Example
/// ```
/// use feeds_core::filled::{Piece, parts};
/// let edges = |name: &str| (name == "z").then(|| "4".to_owned());
/// let found = parts("{z} edges", &edges).unwrap();
/// assert_eq!(found[1..], [Piece::Amount("4".to_owned()), Piece::Words(" edges")]);
/// assert!(parts("{n}", &edges).is_err());
/// ```
pub fn parts<'t>(
    text: &'t str,
    amount: &dyn Fn(&str) -> Option<String>,
) -> Result<Vec<Piece<'t>>, EntryError> {
    let mut parts = Vec::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('{') {
        let missing = || {
            EntryError::because(
                Cause::Unknown,
                format!("«{after}» names nothing worked out"),
            )
        };
        let (name, after) = after.split_once('}').ok_or_else(missing)?;
        parts.push(Piece::Words(before));
        parts.push(Piece::Amount(amount(name).ok_or_else(missing)?));
        rest = after;
    }
    parts.push(Piece::Words(rest));
    Ok(parts)
}

/// The text with its amounts.
///
/// # Errors
/// As [`parts`].
///
/// # Example
/// ```
/// use feeds_core::filled::filled;
/// let text = filled("{z} edges", &|_| Some("4".to_owned()));
/// assert_eq!(text.unwrap(), "4 edges");
/// ```
pub fn filled(text: &str, amount: &dyn Fn(&str) -> Option<String>) -> Result<String, EntryError> {
    Ok(joined(&parts(text, amount)?))
}

/// The parts as one text.
pub fn joined(parts: &[Piece<'_>]) -> String {
    let texts = parts.iter().map(|part| match part {
        Piece::Words(words) => words,
        Piece::Amount(amount) => amount.as_str(),
    });
    texts.collect()
}
