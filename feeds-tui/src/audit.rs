//! An NC programme beside the job it was posted for: what commands and screens share.

pub mod against;
pub mod beside;
pub mod known;
pub mod lines;
mod path;
pub mod picture;
pub mod planned;
pub mod shown;
pub mod source;
pub mod strip;
pub mod tool;
pub mod trail;
