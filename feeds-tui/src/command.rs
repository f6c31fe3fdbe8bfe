//! The commands, one file each: flags in, an answer out.

pub mod audit;
pub mod chatter;
pub mod completions;
pub mod cut;
pub mod fastest;
pub mod feature;
pub mod files;
pub mod formula;
pub mod job;
pub mod listen;
pub mod man;
pub mod practice;
pub mod rehearse;
pub mod sheet;
pub mod shop;
pub mod tables;

mod pairs;
mod sweep;
