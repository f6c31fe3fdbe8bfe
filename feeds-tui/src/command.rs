//! The commands, one file each: flags in, an answer out.

mod aim;
pub mod audit;
pub mod card;
pub mod chatter;
pub mod completions;
pub mod cost;
pub mod cut;
pub mod fastest;
pub mod feature;
pub mod files;
pub mod formula;
pub mod job;
pub mod life;
pub mod listen;
pub mod log;
pub mod man;
pub mod measure;
pub mod practice;
pub mod rehearse;
pub mod sheet;
pub mod shop;
pub mod tables;

mod lives;
pub(crate) mod pairs;
mod sweep;
