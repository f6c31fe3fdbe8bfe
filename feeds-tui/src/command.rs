//! The commands, one file each: flags in, an answer out.

pub mod completions;
pub mod cut;
pub mod formula;
pub mod man;
pub mod tables;
