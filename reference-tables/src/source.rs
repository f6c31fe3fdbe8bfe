//! Where the figures come from: catalogues, handbooks, papers, standards.

use serde::Deserialize;
use std::fmt;

/// One source.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// Short name that rows refer to.
    pub id: String,
    /// Author or maker, title, edition.
    pub title: String,
    /// Page or clause, where known.
    pub page: Option<String>,
    /// Year of the edition, where known.
    pub year: Option<u16>,
    /// Where a copy was read, if it was on line.
    pub url: Option<String>,
    /// Whether the source itself was read. Rows of an unread one are from memory.
    pub read: bool,
}

impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.title)?;
        match &self.page {
            Some(page) if page.starts_with("clause") => write!(f, ", {page}"),
            Some(page) => write!(f, ", p. {page}"),
            None => Ok(()),
        }
    }
}
