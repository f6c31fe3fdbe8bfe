//! What a pass was planned to do along its path, beside its speed and feed.

/// Along the path of a pass: how it goes in, its levels, its width. Anything left out is not
/// compared.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PlannedPath {
    /// How the cutter goes down into the stock.
    pub way_in: Option<PlannedWayIn>,
    /// How far below the top of the stock it begins, mm.
    pub begins_mm: Option<f64>,
    /// Its floor.
    pub floor: Option<PlannedFloor>,
    /// Width of cut a_e, mm.
    pub width_mm: Option<f64>,
}

/// How a pass was planned to go down into the stock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PlannedWayIn {
    /// From an open side: it goes down beside the stock.
    Side,
    /// Down a ramp.
    Ramp {
        /// Its slope, degrees.
        degrees: f64,
    },
    /// Down a helix.
    Helix {
        /// The slope along its way, degrees.
        degrees: f64,
        /// Drop a turn, mm.
        pitch_mm: f64,
    },
}

/// How far below the top of the stock the floor of a pass was planned, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlannedFloor {
    /// It is reached from here on.
    pub least_mm: f64,
    /// Deeper than that it is cut too deep; endless where it goes right through.
    pub most_mm: f64,
}
