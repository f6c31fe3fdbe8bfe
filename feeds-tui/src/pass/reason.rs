//! The numbers in the reasons of entries.
//!
//! A reason holds no digit of its own. `{least}` and `{most}` are the ends of the entry's range,
//! `{default}` is what the program takes when nothing is given, and
//! `{strength/modulus/carbide}` goes from the least to the most of the rows that
//! `feeds tables strength modulus carbide` shows: table, quantity, and words of the row, or
//! `printed` for what was read in its source.

use super::field::{Field, Key, Takes};
use feeds_core::filled::filled;
use feeds_core::plan::bending::CORE;
use feeds_core::plan::checks::ROUGHING;
use feeds_core::programme::Drives;
use feeds_core::quantity::{Amount, unit};
use feeds_core::symbol as s;
use reference_tables::listing::Listed;
use reference_tables::pass::usual::{HELIX_PITCH, RAMP};
use reference_tables::sourced::Basis;
use reference_tables::tables;
use std::fmt::Write as _;
use std::sync::LazyLock;

/// Every row of the tables, listed once: that is longer than all reasons.
static ROWS: LazyLock<Vec<Listed>> =
    LazyLock::new(|| tables().map_or_else(|_| Vec::new(), |t| t.listing().collect()));

/// The reason of an entry with its numbers; as it is written where the tables do not answer,
/// which a test holds never happens.
pub(super) fn of(field: &Field) -> String {
    let amount = |name: &str| match (name, field.takes) {
        ("default", _) => default(field.id),
        ("least", Takes::Quantity(range)) => Some(range.ends().0.to_string()),
        ("most", Takes::Quantity(range)) => Some(range.ends().1.to_string()),
        _ => of_rows(name),
    };
    filled(field.reason, &amount).unwrap_or_else(|_| field.reason.to_owned())
}

/// What the program takes when nothing is given.
fn default(key: Key) -> Option<String> {
    match key {
        Key::Core => Some(format!("{CORE} D")),
        Key::RampAngle => Some(format!("{} {}", RAMP.value, unit::DEGREE.text)),
        Key::HelixPitch => Some(Amount::of(HELIX_PITCH.value, &unit::PERCENT).to_string()),
        Key::LookAhead => Some(Drives::LOOK_AHEAD.to_string()),
        Key::PathTolerance => Some(format!("{} mm", Drives::PATH_TOLERANCE_MM)),
        Key::Tolerance => Some(s::TOLERANCE.amount(ROUGHING).to_string()),
        _ => None,
    }
}

/// From the least to the most of some rows; what is not printed is told, the worst basis of all.
fn of_rows(name: &str) -> Option<String> {
    let mut parts = name.split('/');
    let (table, quantity, words) = (parts.next()?, parts.next()?, parts.next()?);
    let of = |row: &Listed| row.table == table && row.quantity == quantity;
    // «printed» stands in titles and notes as well: it is asked of the basis.
    let said = |row: &Listed| match words {
        "printed" => row.basis == Basis::Printed,
        words => row.has(words),
    };
    let rows = ROWS.iter().filter(|&row| of(row) && said(row));
    let rows: Vec<&Listed> = rows.collect();
    let unit = &rows.first()?.unit;
    if rows.iter().any(|row| row.unit != *unit) {
        return None;
    }
    let least = rows.iter().map(|r| r.range.0).reduce(f64::min)?;
    let most = rows.iter().map(|r| r.range.1).reduce(f64::max)?;
    let mut text = format!("{least} to {most} {unit}").trim_end().to_owned();
    let basis = rows.iter().map(|r| r.basis).max()?;
    let weak = rows.iter().any(|r| r.weak);
    if basis > Basis::Printed || weak {
        let weak = if weak { ", weak" } else { "" };
        let _ = write!(text, " ({basis}{weak})");
    }
    Some(text)
}
