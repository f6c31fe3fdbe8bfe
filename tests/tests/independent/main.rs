//! The program beside a second implementation in Python, which only the full run calls.

#![allow(clippy::unwrap_used, clippy::expect_used)] // a test fails by panicking

mod best;
mod corrected;
mod features;
mod joint;
mod kept;
mod loads;
mod plan;
mod second;
mod stock;
mod whole;
