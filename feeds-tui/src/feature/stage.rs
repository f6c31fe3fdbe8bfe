//! What a pass of a plan is for, and how its cutter gets in.

/// What a pass of a plan is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FeatureStage {
    /// Takes most of it out.
    Rough,
    /// Widens a slot to what is left for the finish.
    Widen,
    /// Finishes the floor.
    Floor,
    /// Takes what a larger cutter left in the corners.
    Corners,
    /// Finishes the walls.
    Walls,
    /// Takes the stairs off a rounded surface.
    SemiFinish,
    /// Finishes a rounded surface.
    Surface,
}

impl FeatureStage {
    /// Every stage, in the order they are cut.
    pub const ALL: [Self; 7] = [
        Self::Rough,
        Self::Widen,
        Self::Floor,
        Self::Corners,
        Self::Walls,
        Self::SemiFinish,
        Self::Surface,
    ];

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Rough => "rough",
            Self::Widen => "widen",
            Self::Floor => "floor",
            Self::Corners => "corners",
            Self::Walls => "walls",
            Self::SemiFinish => "semi-finish",
            Self::Surface => "surface",
        }
    }
}

/// How the cutter of a pass gets to its depth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GoesIn {
    /// From an open side, or beside the part.
    Open,
    /// Down a hole that is there.
    Drilled,
    /// Down a helix.
    Helix,
    /// Down a ramp.
    Ramp,
    /// Straight down.
    Plunge,
    /// Where an earlier pass made room, in to the wall on an arc.
    Arc,
}

impl GoesIn {
    /// Those that can be asked for.
    pub const ASKED: [Self; 5] = [
        Self::Open,
        Self::Drilled,
        Self::Helix,
        Self::Ramp,
        Self::Plunge,
    ];

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Drilled => "drilled",
            Self::Helix => "helix",
            Self::Ramp => "ramp",
            Self::Plunge => "plunge",
            Self::Arc => "arc",
        }
    }

    /// In a clause.
    pub fn says(self) -> &'static str {
        match self {
            Self::Open => "in from the open side",
            Self::Drilled => "down the hole",
            Self::Helix => "down a helix",
            Self::Ramp => "down a ramp",
            Self::Plunge => "straight down",
            Self::Arc => "in the room that is made",
        }
    }

    /// Whether the pass itself goes down into full stock this way.
    pub fn is_of_pass(self) -> bool {
        matches!(self, Self::Helix | Self::Ramp | Self::Plunge)
    }
}
