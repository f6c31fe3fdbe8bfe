//! The hold: how the part is kept from moving.

use crate::quantity::{Force, Length};

/// A vise or clamps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hold {
    /// Clamping force, if it is known.
    pub clamp_force: Option<Force>,
    /// Friction coefficient between part and jaws.
    pub friction: f64,
    /// Number of faces friction acts on: two jaws have two.
    pub faces: u32,
    /// Depth the part is gripped by.
    pub grip: Option<Length>,
    /// Height of the cut above the grip's edge.
    pub height: Option<Length>,
}
