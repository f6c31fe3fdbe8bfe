//! The stock: what the work is made of, in numbers.

use crate::cutter::words;
use crate::kernel::turn::Law;
use crate::quantity::{Length, Pressure, Quantity, Stiffness, Velocity, in_mm};
use crate::symbol::{self as s, Symbol};

/// The groups of ISO 513.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
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

impl Kienzle {
    /// The specific cutting force at a chip thickness.
    ///
    /// # Example
    /// ```
    /// use feeds_core::quantity::{Pressure, Quantity, mm};
    /// use feeds_core::workpiece::Kienzle;
    /// let steel = Kienzle { kc11: Pressure::from_si(1700e6), m_c: 0.25 };
    /// // 1700 N/mm2 · 0.0625^(-0.25) = 1700 · 2
    /// assert!((steel.k_c(mm(0.0625)).si() / 1e6 - 3400.0).abs() < 1e-6);
    /// ```
    pub fn k_c(&self, h: Length) -> Pressure {
        Pressure::from_si(self.kc11.si() * in_mm(h).powf(-self.m_c))
    }
}

/// What an edge takes over its width whatever the chip, along and across the cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EdgeTerms {
    /// As measured on cutters whose edges have the usual radius.
    Measured {
        /// `K_te0`.
        along: Stiffness,
        /// `K_re0`.
        across: Stiffness,
        /// Hardness over that of the stock they were measured in; 1 where it does not count.
        scale: f64,
    },
    /// In hardened steel: so many times the shear flow stress and the edge radius.
    Ploughing {
        /// Along the cut.
        along: f64,
        /// Across it.
        across: f64,
    },
    /// So much of the force that the row gives at a chip of 0.02 mm, along and across alike.
    OfRow {
        /// Share.
        share: f64,
    },
}

/// The straight law of a class of stocks: a chip part from a printed row, an edge part beside it.
///
/// A layered stock has two rows: power follows the mean by volume, but a layer can be thicker than
/// the cut, so peak force, breakage and hold follow the hardest layer. The edge part is always
/// that of the hardest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClassLaw {
    /// Row of the mean over the volume.
    pub mean: Kienzle,
    /// Row of the hardest layer; equal to the mean in a uniform stock.
    pub hardest: Kienzle,
    /// Chip part across the cut over that along it.
    pub k_r: f64,
    /// Chip part along the axis over that along the cut; + pulls the cutter out of its holder.
    pub k_a: f64,
    /// Edge part.
    pub edge: EdgeTerms,
    /// Whether the hardness caps the chip part, as in steel.
    pub capped: bool,
    /// Chips the law was measured on: thinner or thicker ones are an extrapolation.
    pub measured: (Length, Length),
}

/// Linear edge coefficients: `dF = (K_c h + K_e) db`, tangential, radial and axial.
///
/// They are measured with one cutter in one stock, so they hold its rake already, and the edge
/// terms are the force of the edge: nothing is added for it but a wear land.
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
    /// By the class of the stock, from the tables.
    Class(ClassLaw),
    /// As papers measure it.
    Linear(Linear),
}

/// What a flank presses against.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Body {
    /// Hardness `H`: 9.81 N/mm2 for each point of Vickers.
    pub hardness: Pressure,
    /// Modulus of elasticity `E` of the stock.
    pub modulus: Pressure,
}

/// Factors on the parts of a law: 1 as it stands. A range draws them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Factors {
    /// On the chip part.
    pub cut: f64,
    /// On the edge part.
    pub edge: f64,
    /// On what both take across the cut.
    pub across: f64,
    /// On the force of the wear land.
    pub land: f64,
    /// On everything.
    pub all: f64,
}

impl Default for Factors {
    fn default() -> Self {
        Self {
            cut: 1.0,
            edge: 1.0,
            across: 1.0,
            land: 1.0,
            all: 1.0,
        }
    }
}

/// How far sources disagree on each part of a law: standard deviations of the logarithm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ForceSpread {
    /// Of the chip part.
    pub cut: f64,
    /// Of the edge part, the edge radius counted in.
    pub edge: f64,
    /// Of what both take across the cut.
    pub across: f64,
    /// Of the force of the wear land.
    pub land: f64,
}

/// The force model of a stock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Resistance {
    /// What a new edge takes.
    pub law: ForceLaw,
    /// What a worn flank presses against; without it a land adds nothing.
    pub body: Option<Body>,
    /// Width of the wear land on the flank `VB`, 0 for a new edge.
    pub land: Length,
    /// Factors on the parts of the law.
    pub factors: Factors,
    /// How far sources disagree.
    pub spread: ForceSpread,
    /// The law is not to be presented as data.
    pub weak: bool,
}

impl Resistance {
    /// The law of its class, if it has one.
    pub fn class_law(&self) -> Option<&ClassLaw> {
        match &self.law {
            ForceLaw::Class(law) => Some(law),
            ForceLaw::Linear(_) => None,
        }
    }

    /// The end of the chips the law was measured on that a chip lies beyond. Linear coefficients
    /// come without such ends.
    pub fn extrapolated_from(&self, h: Length) -> Option<Length> {
        let (least, most) = self.class_law()?.measured;
        if h < least {
            Some(least)
        } else {
            (h > most).then_some(most)
        }
    }
}

/// The band of feed per tooth a table prints at full width.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FeedBand {
    /// Its low end.
    pub least: Length,
    /// Where to start.
    pub start: Length,
    /// Its high end.
    pub most: Length,
    /// The row is for this narrow cut: its feed counts the thin chip already.
    pub thinned: bool,
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
    pub f_z: Option<FeedBand>,
    /// Thinnest chip over edge radius `λ`, 0.2 to 0.4.
    pub chip_floor: f64,
    /// Hardened: an uncoated or high-speed-steel cutter would burn.
    pub hard: bool,
    /// Made of two steels in layers.
    pub layered: bool,
}
