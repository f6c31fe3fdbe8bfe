//! The cutter as a stepped cantilever.

use super::{Card, Registered, formula, registered, told_in_words};
use crate::kernel::beam::{Beam, Segment};
use crate::notebook::Notebook;
use crate::quantity::{Force, Length, Pressure, Quantity, Stiffness, in_mm, mm, n_per_mm2};
use crate::symbol as s;

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[
    registered::<EquivalentRound>(),
    told_in_words(BENDING, &[&s::E, &s::F, &s::STICK_OUT, &s::LOAD_FROM_TIP]),
];

formula! {
    /// Diameter `D_k` of the round bar that bends like the fluted part.
    ///
    /// # Takes
    /// `d` > 0. For stiffness only: stress wants the core.
    ///
    /// # Gives
    /// 0.8 of the cutting diameter.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, bending::EquivalentRound};
    /// use feeds_core::quantity::{in_mm, mm};
    /// assert!((in_mm(EquivalentRound { d: mm(6.0) }.value()) - 4.8).abs() < 1e-12);
    /// ```
    EquivalentRound { d: Length = D } -> Length = D_CORE_EQ;
    name "round that bends like the fluted part";
    text "0.8 · D";
    why "flutes take away stiffness, and a thinner full round stands for what is left";
    source "L. Kops, D. T. Vo, Annals of the CIRP 39 (1990) (memory)";
    |f| 0.8 * f.d
}

/// A length of one diameter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// Its length.
    pub length: Length,
    /// Its diameter; of a fluted part the [`EquivalentRound`].
    pub diameter: Length,
}

/// How a cutter bends.
#[derive(Clone, Debug, PartialEq)]
pub struct Bent {
    /// Deflection of the free end.
    pub tip: Length,
    /// Force over that deflection.
    pub stiffness: Stiffness,
    /// Bending stress at each section's start, from the holder on.
    pub stress: Vec<Pressure>,
}

/// The card of [`bend`].
pub const BENDING: Card = Card {
    name: "bending of the cutter",
    symbol: &s::DEFLECTION,
    text: "the sum over the sections l_i of the integral of F · (a − x) · (l − x) / (E · I), with \
           a = l − l_F and I = π d_i^4 / 64; k = F / δ, σ = 32 F (a − x) / (π d_i^3)",
    prose: true,
    why: "every section between holder and load bends, and the part beyond follows straight",
    source: "Euler-Bernoulli beam, unit-load form (common practice)",
};

/// Bends a stepped cantilever clamped at the holder face.
///
/// # Takes
/// `modulus` > 0; `sections` from the holder to the tip, at least one; `force` across the axis,
/// `from_tip` above the free end and below the holder.
///
/// # Gives
/// [`Bent`]: a rigid clamp, no shear, no notch; stress is nothing beyond the load.
///
/// # Source
/// Euler-Bernoulli beam, unit-load form (common practice).
///
/// # Example
/// ```
/// use feeds_core::formula::bending::{Section, bend};
/// use feeds_core::notebook::Silent;
/// use feeds_core::quantity::{Force, Quantity, in_mm, mm, n_per_mm2};
/// let rod = [Section { length: mm(20.0), diameter: mm(6.0) }];
/// let bent = bend(n_per_mm2(600e3), &rod, Force::from_si(100.0), mm(0.0), &mut Silent);
/// assert!((in_mm(bent.tip) - 0.006_986).abs() < 1e-6); // F l³ / (3 E I)
/// ```
pub fn bend(
    modulus: Pressure,
    sections: &[Section],
    force: Force,
    from_tip: Length,
    notes: &mut impl Notebook,
) -> Bent {
    let segments: Vec<Segment> = sections
        .iter()
        .map(|s| Segment {
            length: in_mm(s.length),
            diameter: in_mm(s.diameter),
        })
        .collect();
    let beam = Beam {
        modulus: modulus.si() / 1e6,
        segments: &segments,
    };
    let tip = mm(beam.tip(force.si(), in_mm(from_tip)));
    let stress = beam
        .stresses(force.si(), in_mm(from_tip))
        .map(n_per_mm2)
        .collect();
    let bent = Bent {
        tip,
        stiffness: Stiffness::from_si(force.si() / tip.si()),
        stress,
    };
    notes.summed(
        BENDING,
        || {
            let mut inputs = vec![
                (&s::E, modulus.si()),
                (&s::F, force.si()),
                (&s::STICK_OUT, mm(beam.length()).si()),
                (&s::LOAD_FROM_TIP, from_tip.si()),
            ];
            for section in sections {
                inputs.push((&s::L_SECTION, section.length.si()));
                inputs.push((&s::D_SECTION, section.diameter.si()));
            }
            inputs
        },
        || {
            let stress = bent.stress.iter().map(|stress| (&s::SIGMA, stress.si()));
            [
                (&s::DEFLECTION, tip.si()),
                (&s::STIFFNESS, bent.stiffness.si()),
            ]
            .into_iter()
            .chain(stress)
            .collect()
        },
    );
    bent
}
