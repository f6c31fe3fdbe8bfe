//! The stock: what the work is made of, in numbers.

use crate::cutter::words;
use crate::quantity::{Length, Pressure, Velocity};

/// The groups of ISO 513.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum IsoGroup {
    /// Steel.
    P,
    /// Stainless steel.
    M,
    /// Cast iron.
    K,
    /// Non-ferrous metals and plastics.
    N,
    /// Superalloys and titanium.
    S,
    /// Hard materials.
    H,
}

words!(IsoGroup { P = "P", M = "M", K = "K", N = "N", S = "S", H = "H" });

/// A Kienzle pair: `k_c = k_c1.1 (h / 1 mm)^(-m_c)`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kienzle {
    /// `k_c1.1`, > 0.
    pub kc11: Pressure,
    /// `m_c`, 0 to below 1.
    pub m_c: f64,
}

/// The force model of a stock.
///
/// A layered stock has two pairs: power follows the mean by volume, but a layer can be thicker
/// than the cut, so peak force, breakage and hold follow the hardest layer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Resistance {
    /// Mean over the volume.
    pub mean: Kienzle,
    /// The hardest layer; equal to the mean in a uniform stock.
    pub hardest: Kienzle,
    /// Radial over tangential force.
    pub k_r: f64,
    /// Axial over tangential force; + pulls the cutter out of its holder.
    pub k_a: f64,
    /// Wear factor on the force, 1.0 sharp to 1.5 worn.
    pub wear: f64,
    /// Share of the constant edge force that is added (1 by default, 0 to leave it out).
    pub edge_share: f64,
    /// The thinnest chip the published pair was measured at; below it is an extrapolation.
    pub h_from: Length,
    /// The pair is not to be presented as data.
    pub weak: bool,
}

/// A stock and its condition.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stock {
    /// ISO 513 group.
    pub group: IsoGroup,
    /// Force model, if one is known.
    pub resistance: Option<Resistance>,
    /// Band of cutting speeds for this cutter in this stock.
    pub v_c: Option<(Velocity, Velocity)>,
    /// Band of feed per tooth at full width, for this cutter in this stock.
    pub f_z: Option<(Length, Length)>,
    /// Thinnest chip over edge radius `λ`, 0.2 to 0.4.
    pub chip_floor: f64,
    /// Hardened: an uncoated or high-speed-steel cutter would burn.
    pub hard: bool,
    /// Made of two steels in layers.
    pub layered: bool,
}
