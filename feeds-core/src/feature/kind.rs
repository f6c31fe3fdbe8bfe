//! The kinds of features, and which sizes each takes.

use super::size::FeatureSize as F;
use crate::error::EntryError;
use crate::nearest::same;

/// A kind of feature: a noun of the trade.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FeatureKind {
    /// A slot, open or closed at its ends.
    Slot,
    /// A pocket: a rectangle with rounded corners and a floor.
    Pocket,
    /// A round pocket, such as a recess for a pin.
    RoundPocket,
    /// A pocket of any other outline, by its area and perimeter.
    AreaPocket,
    /// An outside wall.
    Outside,
    /// A hole that is bored wider.
    Bore,
    /// A window: a rectangle with rounded corners right through.
    Window,
    /// A face.
    Face,
    /// A rounded surface.
    Surface,
}

/// Sizes that a feature needs, and those it may have.
type Takes = (&'static [F], &'static [F]);

impl FeatureKind {
    /// Every kind.
    pub const ALL: [Self; 9] = [
        Self::Slot,
        Self::Pocket,
        Self::RoundPocket,
        Self::AreaPocket,
        Self::Outside,
        Self::Bore,
        Self::Window,
        Self::Face,
        Self::Surface,
    ];

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Slot => "slot",
            Self::Pocket => "pocket",
            Self::RoundPocket => "round-pocket",
            Self::AreaPocket => "area-pocket",
            Self::Outside => "outside",
            Self::Bore => "bore",
            Self::Window => "window",
            Self::Face => "face",
            Self::Surface => "surface",
        }
    }

    /// The kind of a word.
    ///
    /// # Example
    /// ```
    /// use feeds_core::feature::FeatureKind;
    /// assert_eq!(FeatureKind::of_word("Round-Pocket"), Some(FeatureKind::RoundPocket));
    /// assert_eq!(FeatureKind::of_word("hole"), None);
    /// ```
    pub fn of_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| same(kind.word(), word))
    }

    fn table(self) -> Takes {
        match self {
            Self::Slot => (&[F::Width, F::Depth, F::Length], &[F::Wall, F::Drilled]),
            Self::Pocket | Self::Window => (
                &[F::Length, F::Width, F::Depth, F::Corner],
                &[F::Wall, F::Drilled],
            ),
            Self::RoundPocket => (&[F::Diameter, F::Depth], &[F::Wall, F::Drilled]),
            Self::AreaPocket => (
                &[F::Area, F::Perimeter, F::Inside, F::Depth],
                &[F::Wall, F::Drilled],
            ),
            Self::Outside => (&[F::Length, F::Height, F::Width], &[F::Wall]),
            Self::Bore => (&[F::Diameter, F::Hole, F::Depth], &[F::Wall]),
            Self::Face => (&[F::Length, F::Width, F::Depth], &[]),
            Self::Surface => (&[F::Length, F::Width, F::Radius], &[F::Cusp, F::Roughness]),
        }
    }

    /// The sizes it needs.
    pub fn needs(self) -> impl Iterator<Item = F> {
        self.table().0.iter().copied()
    }

    /// All sizes it takes.
    pub fn sizes(self) -> impl Iterator<Item = F> {
        let (needs, may) = self.table();
        needs.iter().chain(may).copied()
    }

    /// Whether it takes a size.
    pub fn takes(self, size: F) -> bool {
        self.sizes().any(|taken| taken == size)
    }

    /// Whether it has a floor of its own that is finished apart from the walls.
    pub fn has_floor(self) -> bool {
        matches!(self, Self::Pocket | Self::RoundPocket | Self::AreaPocket)
    }

    /// Whether it goes right through the part.
    pub fn goes_through(self) -> bool {
        self == Self::Window
    }
}

/// Which ends of a slot are closed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ClosedEnds {
    /// Open at both ends.
    None,
    /// Closed at one end, round.
    One,
    /// Closed at both ends, round.
    Both,
}

impl ClosedEnds {
    /// Every one.
    pub const ALL: [Self; 3] = [Self::None, Self::One, Self::Both];

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::One => "one",
            Self::Both => "both",
        }
    }

    /// How many.
    pub fn count(self) -> f64 {
        match self {
            Self::None => 0.0,
            Self::One => 1.0,
            Self::Both => 2.0,
        }
    }

    /// Reads the word.
    ///
    /// # Errors
    /// When it is another.
    pub fn read(text: &str) -> Result<Self, EntryError> {
        let found = Self::ALL.into_iter().find(|ends| same(ends.word(), text));
        found.ok_or_else(|| EntryError::NotAChoice {
            text: text.trim().to_owned(),
            choices: Self::ALL.map(Self::word).join(", "),
        })
    }
}
