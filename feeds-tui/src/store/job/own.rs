//! Reading what a pass of a job has beside the entries of a pass.

use crate::pass::field::Field;
use feeds_core::error::{Cause, EntryError};

/// The highest number of a tool.
const LAST_TOOL: u32 = 9999;

/// Reads the number of a tool: T3 or 3.
pub(super) fn tool(text: &str) -> Result<u32, EntryError> {
    let number = text.strip_prefix(['T', 't']).unwrap_or(text).trim();
    let number = number.parse().ok().filter(|n| (1..=LAST_TOOL).contains(n));
    number.ok_or_else(|| {
        let said = format!("«{text}» is not a tool number: T1 to T{LAST_TOOL}, such as T3");
        EntryError::because(Cause::Form, said).of("tool")
    })
}

/// Refuses what cannot be read; an empty text clears the entry.
pub(super) fn readable(field: &Field, text: &str) -> Result<(), EntryError> {
    if text.is_empty() {
        return Ok(());
    }
    field.read(text).map(|_| ())
}
