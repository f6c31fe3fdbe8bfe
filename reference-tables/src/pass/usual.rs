//! What is taken where nobody says: each figure with its reason and its basis.

use crate::sourced::Basis;
use feeds_core::workpiece::ForceSpread;

/// A figure that stands for one nobody gave.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Usual {
    /// The figure: a multiple of the cutting diameter, an angle in degrees or a ratio.
    pub value: f64,
    /// Why this one.
    pub why: &'static str,
    /// How it came to be known.
    pub basis: Basis,
}

const fn custom(value: f64, why: &'static str) -> Usual {
    Usual {
        value,
        why,
        basis: Basis::CommonPractice,
    }
}

const PROPORTIONS: &str = "usual proportions of small cutters";

/// Flute length over diameter.
pub const FLUTE_LENGTH: Usual = custom(2.0, PROPORTIONS);
/// Stick-out over diameter.
pub const STICK_OUT: Usual = custom(3.0, PROPORTIONS);
/// Helix angle in degrees.
pub const HELIX: Usual = custom(30.0, "the usual helix");
/// Angle of a ramp in degrees.
pub const RAMP: Usual = custom(2.0, "a flat ramp");
/// Hole of a helix over diameter.
pub const HELIX_HOLE: Usual = custom(1.5, "wide enough for chips, no core left");
/// Pitch of a helix over diameter.
pub const HELIX_PITCH: Usual = custom(0.05, "a small share of the diameter a turn");
/// Share of a spindle's motor power that reaches the cutter.
pub const EFFICIENCY: Usual = custom(0.75, "belt and bearings of a light spindle");
/// Friction of a hold.
pub const FRICTION: Usual = custom(0.1, "smooth jaws, the careful end");
/// Chip floor over edge radius where no stock is named.
pub const CHIP_FLOOR: Usual = Usual {
    value: 0.3,
    why: "0.3 within 0.2 to 0.4",
    basis: Basis::Memory,
};
/// Torque over force and diameter of a clamping screw.
pub const NUT_FACTOR: Usual = Usual {
    value: 0.2,
    why: "dry steel, good to a third either way",
    basis: Basis::Memory,
};

impl Usual {
    /// The reason with its basis.
    pub fn reason(&self) -> String {
        format!("{} ({})", self.why, self.basis)
    }
}

/// How far coefficients that were typed may be off: a fifth either way in nine of ten (common
/// practice), and the land as where it was not measured.
pub const TYPED: ForceSpread = ForceSpread {
    cut: 0.111,
    edge: 0.111,
    across: 0.0,
    land: 0.35,
};

/// The stock whose class stands for one that nobody named, and its condition.
pub const UNNAMED: (&str, &str) = ("1045", "annealed");
