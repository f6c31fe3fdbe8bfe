//! What nobody gave and decides a pass.

/// A default that decides.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Guess {
    /// The kind of path: along a side.
    Path,
    /// Climb or conventional.
    Direction,
    /// How the cutter gets into a slot or pocket: from an open end.
    WayIn,
    /// Whether the end cuts to its centre: it does not.
    Centre,
    /// The force of a hold that nobody measured.
    ClampForce,
    /// The friction of its faces.
    Friction,
}

impl Guess {
    /// What was guessed.
    pub fn words(self) -> &'static str {
        match self {
            Self::Path => "path",
            Self::Direction => "direction",
            Self::WayIn => "way in",
            Self::Centre => "centre cutting",
            Self::ClampForce => "clamping force",
            Self::Friction => "friction",
        }
    }
}
