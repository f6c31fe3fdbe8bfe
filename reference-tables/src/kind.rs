//! What a cutter is made of, what is on it, and what kind of cut it takes: the keys of tables.

use serde::Deserialize;

/// What a cutter is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
pub enum CutterMaterial {
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

impl CutterMaterial {
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

    /// From a material and the name of a coating; `uncoated`, `bare`, `none` and nothing mean none.
    pub fn new(material: CutterMaterial, coating: &str) -> Self {
        let coating = coating.trim().to_lowercase();
        let coated = !["", "uncoated", "bare", "none", "no"].contains(&coating.as_str());
        Self { material, coated }
    }

    /// In words: `coated carbide`, `uncoated carbide`, `HSS`.
    pub fn words(self) -> String {
        match (self.material, self.coated) {
            (CutterMaterial::Carbide, true) => "coated carbide".to_owned(),
            (CutterMaterial::Carbide, false) => "uncoated carbide".to_owned(),
            (material, _) => material.word().to_owned(),
        }
    }
}

/// The coating a row is printed for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Coating {
    /// A hard coating.
    Coated,
    /// None.
    Uncoated,
    /// Coated or not, or not said.
    Any,
    /// Edge honed for hard milling.
    Honed,
}

impl Coating {
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
pub enum Cut {
    /// Full width: slot, pocket, first cut.
    Slot,
    /// Side of the cutter, part of the width.
    Side,
    /// A thin last layer.
    Finish,
    /// Not said, or all of them.
    Any,
}

impl Cut {
    /// Whether a row for this cut holds for `asked`: a finish is a side cut of little width.
    pub(crate) fn holds(self, asked: Self) -> bool {
        let thin_side = self == Self::Side && asked == Self::Finish;
        self == Self::Any || asked == Self::Any || self == asked || thin_side
    }
}
