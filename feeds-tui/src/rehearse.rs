//! A rehearsal as it is asked for and told: what commands, screens and sheets show of it.
//!
//! [`rehearsed`](answered::rehearsed) reads what was asked and works it out; [`text`] and
//! [`document`] show it to people and to scripts.

pub mod answered;
pub mod asked;
pub mod decision;
pub mod document;
pub mod job;
pub mod notes;
pub mod order;
pub mod programme;
pub mod remark;
pub mod text;
pub mod words;
