//! Entries on the command line: `KEY=VALUE`.

use feeds_core::error::{Cause, EntryError};
use feeds_core::nearest::same;

/// Parts an entry into its key and its text.
pub(crate) fn pair<'e>(entry: &'e str, example: &str) -> Result<(&'e str, &'e str), EntryError> {
    entry.split_once('=').ok_or_else(|| {
        EntryError::because(
            Cause::Form,
            format!("«{entry}» is not an entry: write ENTRY=VALUE, such as {example}"),
        )
    })
}

/// Parts entries, each key once: of two values one would be lost without a word.
pub(crate) fn pairs<'e, T: AsRef<str>>(
    entries: &'e [T],
    example: &str,
) -> impl Iterator<Item = Result<(&'e str, &'e str), EntryError>> {
    entries.iter().enumerate().map(move |(at, entry)| {
        let (key, text) = pair(entry.as_ref(), example)?;
        let mut before = entries[..at]
            .iter()
            .filter_map(|e| e.as_ref().split_once('='));
        if before.any(|(other, _)| same(key, other)) {
            return Err(EntryError::because(Cause::Clash, "appears twice: keep one").of(key));
        }
        Ok((key, text))
    })
}
