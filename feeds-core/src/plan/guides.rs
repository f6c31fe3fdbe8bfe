//! What is usual for depth, width, stick-out and the ways in and round. The figures come with the
//! setup; one that is not known asks for it and guides nothing.

use crate::quantity::{Angle, Length};

/// The guidelines of a pass.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Guides {
    /// Depth over diameter.
    pub depth: Option<f64>,
    /// Width over diameter; a slot and a face have none.
    pub width: Option<WidthGuide>,
    /// Depth over diameter that chips leave room for between two walls.
    pub chip_room: Option<f64>,
    /// Stick-out over diameter.
    pub stick_out: Option<f64>,
    /// Steepest entry.
    pub steepest: Option<Angle>,
    /// Feed straight down over the feed of the pass.
    pub plunge_feed: Option<f64>,
    /// Wear land of an edge that is worn out.
    pub worn_land: Option<Length>,
    /// Largest engagement in a corner.
    pub corner: Option<Angle>,
}

/// A guideline for the width, which may step with the depth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WidthGuide {
    /// Width over diameter.
    pub usual: f64,
    /// Beyond this depth over diameter, this width over diameter.
    pub deeper: Option<(f64, f64)>,
}

impl WidthGuide {
    /// The width over diameter at a depth over diameter.
    pub fn at(&self, depth: f64) -> f64 {
        match self.deeper {
            Some((beyond, width)) if depth > beyond => width,
            _ => self.usual,
        }
    }
}
