//! Canned cycles: the moves of one hole.

/// Cycle words that stay from block to block, as written, in mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Sticky {
    /// Depth.
    pub(crate) z: Option<f64>,
    /// Level R.
    pub(crate) r: Option<f64>,
    /// Step of a peck.
    pub(crate) q: Option<f64>,
    /// The height before the first hole, for G98, and whether it is known.
    pub(crate) before: Option<(f64, bool)>,
}

/// One leg of a hole along the axis of the cycle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Leg {
    /// Where it ends.
    pub(crate) to: f64,
    /// Whether it goes at feed.
    pub(crate) feed: bool,
}

/// Whether a cycle is a tapping cycle.
pub(crate) fn taps(code: i32) -> bool {
    matches!(code, 740 | 840)
}

/// Whether a cycle pecks.
pub(crate) fn pecks(code: i32) -> bool {
    matches!(code, 730 | 830)
}

/// The legs of a hole that starts at its level; one that ends where it starts is not made.
///
/// A peck cycle feeds over its depth once: how far it backs off between pecks is a setting of the
/// control. Tapping and boring that feeds out (G84, G74, G85, G89) feed back to the level.
pub(crate) fn legs(code: i32, level: f64, depth: f64, end: f64) -> [Leg; 3] {
    let feeds_out = matches!(code, 740 | 840 | 850 | 890);
    [
        Leg {
            to: depth,
            feed: true,
        },
        Leg {
            to: if feeds_out { level } else { depth },
            feed: feeds_out,
        },
        Leg {
            to: end,
            feed: false,
        },
    ]
}
