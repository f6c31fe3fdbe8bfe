//! Rows of the small tables: a subject, a figure, its origin, and at times a key to find it by.

use crate::choice::{Choice, Cited};
use crate::listing::{Listed, listed_figure};
use crate::sourced::{Band, Figure, Printable, Sourced};
use serde::Deserialize;
use serde::de::DeserializeOwned;

/// No key: the row is found by its place or by reading.
#[derive(Clone, Copy, Debug, Default, PartialEq, Deserialize)]
pub struct NoKey {}

/// A row of a small table.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(bound(deserialize = "Q: Printable, K: DeserializeOwned"))]
pub struct ShortRow<Q, K = NoKey> {
    /// What the row is about.
    pub subject: String,
    /// What it is found by.
    #[serde(flatten)]
    pub key: K,
    /// The figure and its origin.
    #[serde(flatten)]
    pub figure: Sourced<Figure<Q>>,
}

impl<Q: Printable, K> ShortRow<Q, K> {
    /// The row as a citation.
    pub(crate) fn cited(&self, table: &'static str) -> Cited {
        Cited {
            table,
            subject: self.subject.clone(),
            printed: self.figure.value.to_string(),
            origin: self.figure.origin.clone(),
        }
    }

    pub(crate) fn list(&self, table: &'static str, quantity: &'static str, out: &mut Vec<Listed>) {
        let what = (table, self.subject.clone(), String::new(), quantity);
        out.push(listed_figure(what, &self.figure.value, &self.figure.origin));
    }
}

/// The first of `rows`, with the others kept beside it.
pub(crate) fn first<'t, Q: Printable + 't, K: 't>(
    table: &'static str,
    why: &str,
    rows: impl IntoIterator<Item = &'t ShortRow<Q, K>>,
) -> Option<Choice<Band<Q>>> {
    let mut rows = rows
        .into_iter()
        .map(|r| (r.figure.value.band(), r.cited(table)));
    let (value, row) = rows.next()?;
    let weak = row.origin.weak;
    Some(Choice {
        capped: false,
        value,
        row,
        why: why.to_owned(),
        weak,
        kept: rows.collect(),
    })
}
