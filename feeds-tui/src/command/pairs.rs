//! Entries on the command line: `KEY=VALUE`.

use feeds_core::error::{Cause, EntryError};

/// Parts an entry into its key and its text.
pub(crate) fn pair<'e>(entry: &'e str, example: &str) -> Result<(&'e str, &'e str), EntryError> {
    entry.split_once('=').ok_or_else(|| {
        EntryError::because(
            Cause::Form,
            format!("«{entry}» is not an entry: write ENTRY=VALUE, such as {example}"),
        )
    })
}
