//! The screens.

pub mod signals;
pub mod terminal;
