//! What a pass of a job has beside the entries of the register.

use crate::pass::field::{Field, Station, Takes};
use feeds_core::error::EntryError;
use feeds_core::range::Range;
use feeds_core::symbol as s;

/// The length of a pass. It belongs to the job: one pass alone needs no time.
pub static LENGTH: Field = Field {
    key: "length",
    name: "length of the path at the feed",
    station: Station::Engagement,
    takes: Takes::Quantity(Range::of(&s::L, 0.1, 1e7)),
    example: "820 mm",
    reason: "all levels and rounds together, entries included; sets the cut time",
};

/// Where a pass begins in its programme. It belongs to the sheet: no cut changes with it.
pub static BEGINS: Field = Field {
    key: "begins-at",
    name: "Z the pass begins at",
    station: Station::Engagement,
    takes: Takes::Quantity(Range::of(&s::L, -1000.0, 1000.0)),
    example: "0 mm",
    reason: "of the programme; the top of the part is 0 if none is given",
};

/// How deep a pass goes in all, which with its depth gives its levels.
pub static IN_ALL: Field = Field {
    key: "depth-in-all",
    name: "depth of the pass in all",
    station: Station::Engagement,
    takes: Takes::Quantity(Range::of(&s::A_P, 0.001, 300.0)),
    example: "3.6 mm",
    reason: "from where it begins to its floor; with the depth of cut it sets the Z levels",
};

/// The highest number of a tool.
const LAST_TOOL: u32 = 9999;

/// Reads the number of a tool: T3 or 3.
pub(super) fn tool(text: &str) -> Result<u32, EntryError> {
    let number = text.strip_prefix(['T', 't']).unwrap_or(text).trim();
    let number = number.parse().ok().filter(|n| (1..=LAST_TOOL).contains(n));
    number.ok_or_else(|| {
        let said = format!("«{text}» is not a tool number: T1 to T{LAST_TOOL}, such as T3");
        EntryError::sentence(said).of("tool")
    })
}

/// Refuses what cannot be read; an empty text clears the entry.
pub(super) fn readable(field: &Field, text: &str) -> Result<(), EntryError> {
    if text.is_empty() {
        return Ok(());
    }
    field.read(text).map(|_| ())
}
