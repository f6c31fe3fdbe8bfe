//! Cutting data for light mills and small cutters.

#[macro_use]
extern crate uom;
