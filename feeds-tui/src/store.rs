//! What is kept: the shop and the jobs, as JSON files people can edit.
//!
//! Reading is tolerant: what cannot be read is told with its line and kept as it stands, the rest
//! loads. Saving is atomic: a file is the old one or the new one, never half.

pub mod csv;
pub mod disk;
pub mod file;
pub mod folders;
pub mod fresh;
pub mod job;
pub mod log;
pub mod notice;
pub mod save;
pub mod schema;
pub mod shop;

mod entries;
mod head;
mod node;

/// The version of the file forms: raised when a key changes its meaning. Older ones load for ever.
pub const VERSION: u64 = 1;
