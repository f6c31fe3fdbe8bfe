//! Helpers the tests share.

pub mod independent;
pub mod setups;
