//! What a cutter is made of, what is on it, and what kind of cut it takes: the keys of tables.

use feeds_core::cut::Path;
use feeds_core::cutter::{Coating, Cutter, CutterMaterial};
use serde::Deserialize;

/// What the cutters of a row are made of: what a pass can be cut with, and what books beside that
/// have.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
pub enum RowMaterial {
    /// Cemented carbide.
    #[serde(rename = "carbide")]
    Carbide,
    /// High-speed steel.
    #[serde(rename = "HSS", alias = "hss")]
    Hss,
    /// Carbon tool steel, of historical tables.
    #[serde(rename = "carbon steel")]
    CarbonSteel,
    /// Ceramic; tool life only.
    #[serde(rename = "ceramic")]
    Ceramic,
}

impl RowMaterial {
    /// The word used in tables and on screens.
    pub fn word(self) -> &'static str {
        match self {
            Self::Carbide => "carbide",
            Self::Hss => "HSS",
            Self::CarbonSteel => "carbon steel",
            Self::Ceramic => "ceramic",
        }
    }
}

impl From<CutterMaterial> for RowMaterial {
    fn from(material: CutterMaterial) -> Self {
        match material {
            CutterMaterial::Carbide => Self::Carbide,
            CutterMaterial::Hss => Self::Hss,
        }
    }
}

impl PartialEq<CutterMaterial> for RowMaterial {
    fn eq(&self, other: &CutterMaterial) -> bool {
        *self == Self::from(*other)
    }
}

/// What rows of speed and feed ask of a cutter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct CutterKind {
    /// What it is made of.
    pub material: CutterMaterial,
    /// Whether it is coated.
    pub coated: bool,
}

impl CutterKind {
    /// Coated carbide.
    pub const COATED_CARBIDE: Self = Self {
        material: CutterMaterial::Carbide,
        coated: true,
    };
    /// Uncoated carbide.
    pub const UNCOATED_CARBIDE: Self = Self {
        material: CutterMaterial::Carbide,
        coated: false,
    };
    /// High-speed steel.
    pub const HSS: Self = Self {
        material: CutterMaterial::Hss,
        coated: false,
    };

    /// Of a material under a coating.
    pub fn new(material: CutterMaterial, coating: Coating) -> Self {
        let coated = coating != Coating::None;
        Self { material, coated }
    }

    /// In words: `coated carbide`, `uncoated carbide`, `HSS`.
    pub fn words(self) -> String {
        match (self.material, self.coated) {
            (CutterMaterial::Carbide, true) => "coated carbide".to_owned(),
            (CutterMaterial::Carbide, false) => "uncoated carbide".to_owned(),
            (material, _) => RowMaterial::from(material).word().to_owned(),
        }
    }
}

impl From<&Cutter> for CutterKind {
    fn from(cutter: &Cutter) -> Self {
        Self::new(cutter.material, cutter.coating)
    }
}

/// The coating a row is printed for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum RowCoating {
    /// A hard coating.
    Coated,
    /// None.
    Uncoated,
    /// Coated or not, or not said.
    Any,
    /// Edge honed for hard milling.
    Honed,
}

impl RowCoating {
    /// Whether a row with this coating is for a cutter of `kind`.
    pub(crate) fn holds(self, kind: CutterKind) -> bool {
        match self {
            Self::Any => true,
            Self::Coated => kind.coated,
            Self::Uncoated => !kind.coated,
            Self::Honed => false,
        }
    }
}

/// The kind of cut a row is printed for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum CutKind {
    /// Full width: slot, pocket, first cut.
    Slot,
    /// Side of the cutter, part of the width.
    Side,
    /// A thin last layer.
    Finish,
    /// Not said, or all of them.
    Any,
}

impl CutKind {
    /// Whether a row for this cut holds for `asked`: a finish is a side cut of little width.
    pub(crate) fn holds(self, asked: Self) -> bool {
        let thin_side = self == Self::Side && asked == Self::Finish;
        self == Self::Any || asked == Self::Any || self == asked || thin_side
    }
}

impl From<Path> for CutKind {
    fn from(path: Path) -> Self {
        match path {
            Path::BallFinish => Self::Finish,
            Path::Slot | Path::Pocket => Self::Slot,
            Path::Side | Path::Bore => Self::Side,
            Path::Face => Self::Any,
        }
    }
}
