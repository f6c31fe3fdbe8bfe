//! The stock: what the work is made of, in numbers.

use crate::cutter::words;
use crate::kernel::turn::Law;
use crate::quantity::{Length, Pressure, Quantity, Stiffness, Velocity};
use crate::symbol::{self as s, Symbol};

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

/// Kienzle pairs with what goes with them.
///
/// A layered stock has two: power follows the mean by volume, but a layer can be thicker than the
/// cut, so peak force, breakage and hold follow the hardest layer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pairs {
    /// Mean over the volume.
    pub mean: Kienzle,
    /// The hardest layer; equal to the mean in a uniform stock.
    pub hardest: Kienzle,
    /// Radial over tangential force.
    pub k_r: f64,
    /// Axial over tangential force; + pulls the cutter out of its holder.
    pub k_a: f64,
    /// Share of the constant edge force that is added (1 by default, 0 to leave it out).
    pub edge_share: f64,
    /// The thinnest chip the published pair was measured at; below it is an extrapolation.
    pub h_from: Length,
}

/// Linear edge coefficients: `dF = (K_c h + K_e) db`, tangential, radial and axial.
///
/// They are measured with one cutter in one stock, so they hold its rake already, and the edge
/// terms are the force of the edge: nothing is added for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Linear {
    /// `K_tc` > 0, `K_rc`, `K_ac`; an axial force > 0 pulls the cutter out of its holder.
    pub cut: [Pressure; 3],
    /// `K_te`, `K_re`, `K_ae`.
    pub edge: [Stiffness; 3],
}

impl Linear {
    /// The coefficients with their symbols, in SI base units.
    pub fn values(&self) -> [(&'static Symbol, f64); 6] {
        let ([k_tc, k_rc, k_ac], [k_te, k_re, k_ae]) = (self.cut, self.edge);
        [
            (&s::K_TC, k_tc.si()),
            (&s::K_RC, k_rc.si()),
            (&s::K_AC, k_ac.si()),
            (&s::K_TE, k_te.si()),
            (&s::K_RE, k_re.si()),
            (&s::K_AE, k_ae.si()),
        ]
    }

    /// As the kernel takes them.
    pub(crate) fn law(&self) -> Law {
        Law::linear(
            self.cut.map(|k| k.si() / 1e6),
            self.edge.map(|k| k.si() / 1e3),
        )
    }
}

/// The law by which the edge takes its force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ForceLaw {
    /// As tables print it.
    Kienzle(Pairs),
    /// As papers measure it.
    Linear(Linear),
}

/// The force model of a stock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Resistance {
    /// What a sharp edge takes.
    pub law: ForceLaw,
    /// Wear factor on every force, 1.0 sharp to 1.5 worn.
    pub wear: f64,
    /// The law is not to be presented as data.
    pub weak: bool,
}

impl Resistance {
    /// The Kienzle pairs, if it has them.
    pub fn pairs(&self) -> Option<&Pairs> {
        match &self.law {
            ForceLaw::Kienzle(pairs) => Some(pairs),
            ForceLaw::Linear(_) => None,
        }
    }

    /// The thinnest chip the law was measured at, where a mean chip is thinner than that. Linear
    /// coefficients come without such a chip.
    pub fn extrapolated_from(&self, h_m: Length) -> Option<Length> {
        let h_from = self.pairs()?.h_from;
        (h_m < h_from).then_some(h_from)
    }
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
