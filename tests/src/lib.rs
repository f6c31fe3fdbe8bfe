//! Helpers the tests share.

#![allow(clippy::expect_used, clippy::unwrap_used)] // a test fails by panicking

pub mod asked;
pub mod drawn;
pub mod foreign_units;
pub mod independent;
pub mod lookups;
pub mod outlines;
pub mod plain_turn;
pub mod readings;
pub mod second;
pub mod setups;
pub mod teeth;
pub mod turns;
pub mod whole;
