//! Depths and speeds of chatter: hints with a band, never a pass.

use super::{Card, Registered, formula, registered, told_in_words};
use crate::kernel::lobes::{Mode as Vibration, Stability};
use crate::kernel::turn::TurnPart;
use crate::notebook::Notebook;
use crate::quantity::{Frequency, Length, Pressure, Quantity, SpindleSpeed, Stiffness, mm};
use crate::symbol as s;

/// What the lobes are worked out from, and last the speed they are read at.
const OF_LOBES: &[&s::Symbol] = &[
    &s::K_X,
    &s::ZETA_X,
    &s::F_N_X,
    &s::K_Y,
    &s::ZETA_Y,
    &s::F_N_Y,
    &s::K_T,
    &s::K_R_RATIO,
    &s::Z,
    &s::A_E_RATIO,
    &s::N,
];

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[
    registered::<OrthogonalLimit>(),
    registered::<OrthogonalFrequency>(),
    registered::<BestSpeed>(),
    told_in_words(STABLE_DEPTH, OF_LOBES.split_at(OF_LOBES.len() - 1).0),
    told_in_words(STABLE_AT, OF_LOBES),
];

formula! {
    /// Width of cut `b_lim` below which a single mode never chatters.
    ///
    /// # Takes
    /// `k` > 0 modal stiffness, `0 < ζ < 1`, `k_s` > 0 cutting stiffness along the mode.
    ///
    /// # Gives
    /// The least limit over all speeds, for a cut square to the mode.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, chatter::OrthogonalLimit};
    /// use feeds_core::quantity::{Quantity, Stiffness, in_mm, n_per_mm2};
    /// let k = Stiffness::from_si(226e6);
    /// let b = OrthogonalLimit { k, zeta: 0.012, k_s: n_per_mm2(1000.0) }.value();
    /// assert!((in_mm(b) - 5.489_09).abs() < 1e-5); // 2 · 226e6 · 0.012 · 1.012 / 1e9 m
    /// ```
    OrthogonalLimit { k: Stiffness = K_MODE, zeta: f64 = ZETA, k_s: Pressure = K_S }
        -> Length = B_LIM;
    name "limit of a single mode";
    text "2 · k_m · ζ · (1 + ζ) / K_s";
    why "chatter starts where the force of a wave left behind feeds what damping takes";
    source "J. Tlusty; T. Schmitz, K. S. Smith, Machining Dynamics (memory)";
    |f| Length::from_si(2.0 * f.k.si() * f.zeta * (1.0 + f.zeta) / f.k_s.si())
}

formula! {
    /// Chatter frequency `f_c` at the least limit of a single mode.
    ///
    /// # Takes
    /// `f_n` > 0, `0 < ζ < 1`.
    ///
    /// # Gives
    /// A little more than the natural frequency.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, chatter::OrthogonalFrequency};
    /// use feeds_core::quantity::{Frequency, Quantity};
    /// let f_c = OrthogonalFrequency { f_n: Frequency::from_si(250.0), zeta: 0.012 }.value();
    /// assert!((f_c.si() - 252.982).abs() < 1e-3); // 250 · √1.024
    /// ```
    OrthogonalFrequency { f_n: Frequency = F_N, zeta: f64 = ZETA } -> Frequency = FREQUENCY;
    name "chatter frequency of a single mode";
    text "f_n · √(1 + 2 · ζ)";
    why "the response is most out of step just above the natural frequency";
    source "J. Tlusty; T. Schmitz, K. S. Smith, Machining Dynamics (memory)";
    |f| f.f_n * (1.0 + 2.0 * f.zeta).sqrt()
}

formula! {
    /// Spindle speed `n` of a wide gap between lobes.
    ///
    /// # Takes
    /// `f_n` > 0 natural or heard frequency, `z` >= 1, `lobe` 1, 2, 3 ... from the fastest.
    ///
    /// # Gives
    /// A speed to try; with a heard frequency it has to be tried again.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, chatter::BestSpeed};
    /// use feeds_core::quantity::{Frequency, Quantity};
    /// let n = BestSpeed { f_n: Frequency::from_si(922.0), z: 2.0, lobe: 1.0 }.value();
    /// assert!((n.in_per_minute() - 27_660.0).abs() < 1e-6); // 60 · 922 / 2
    /// ```
    BestSpeed { f_n: Frequency = F_N, z: f64 = Z, lobe: f64 = LOBE } -> SpindleSpeed = N;
    name "speed between lobes";
    text "f_n / (z · j)";
    why "when teeth pass in step with the vibration each follows the wave of the one before";
    source "Y. Altintas, E. Budak, Annals of the CIRP 44/1 (1995) (memory)";
    |f| SpindleSpeed::from_si(f.f_n.si() / (f.z * f.lobe))
}

/// The card of [`stable_depth`].
pub const STABLE_DEPTH: Card = Card {
    name: "least depth of chatter",
    symbol: &s::A_LIM,
    text: "the least, over all frequencies, of −2 π Λ_R · (1 + κ^2) / (z · K_t), κ = Λ_I / Λ_R, \
           where det(I + Λ α G(i ω)) = 0; G of k_x, ζ_x, f_n,x and k_y, ζ_y, f_n,y, α of K_r, q_e",
    prose: true,
    why: "below this depth no spindle speed chatters; a hint only, it can be twice too large \
          where two modes meet",
    source: "Y. Altintas, E. Budak, Annals of the CIRP 44/1 (1995) 357 (memory)",
};

/// The card of the depth where chatter starts at one spindle speed.
pub const STABLE_AT: Card = Card {
    name: "depth of chatter at a speed",
    symbol: &s::A_STABLE,
    text: "the lower of two: the lowest lobe of zero order at n, and the least a_p at which a wave \
           followed in small steps through the time between two teeth, 60 / (z n), grows; modes \
           k_x, ζ_x, f_n,x and k_y, ζ_y, f_n,y (the first of each direction is shown), force K_t, \
           K_r, width q_e",
    prose: true,
    why: "zero order is too low in some cuts and too high in others; where both answer, the lower \
          counts",
    source: "Y. Altintas, E. Budak, Annals of the CIRP 44/1 (1995) 357; T. Insperger, G. Stépán, \
             Int. J. Numer. Meth. Engng 61 (2004) 117 (memory)",
};

/// A vibration mode at the tip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TipMode {
    /// Modal stiffness.
    pub k: Stiffness,
    /// Damping ratio, `0 < ζ < 1`.
    pub zeta: f64,
    /// Natural frequency.
    pub f_n: Frequency,
}

/// A cut whose stability is asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vibrating {
    /// Modes along the feed and across it.
    pub modes: [TipMode; 2],
    /// Tangential coefficient.
    pub k_t: Pressure,
    /// Radial coefficient over the tangential one.
    pub k_r: f64,
    /// Edges, at least 1.
    pub z: u32,
    /// `a_e / D`, 0 to 1.
    pub a_e_ratio: f64,
    /// Where the engagement lies.
    pub path: TurnPart,
}

/// The least depth at which chatter starts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StableDepth {
    /// Below it no speed chatters.
    pub a_lim: Length,
    /// Frequency heard there.
    pub f_c: Frequency,
    /// Speeds at which lobes 0 to 3 come down to it.
    pub speeds: [SpindleSpeed; 4],
}

/// Works out the least depth at which chatter starts, zero order.
///
/// # Takes
/// A [`Vibrating`] already checked.
///
/// # Gives
/// `None` if no depth chatters at any frequency.
///
/// # Source
/// As [`STABLE_DEPTH`].
///
/// # Example
/// ```
/// use feeds_core::formula::chatter::{TipMode, Vibrating, stable_depth};
/// use feeds_core::kernel::turn::TurnPart;
/// use feeds_core::notebook::Silent;
/// use feeds_core::quantity::{Frequency, Quantity, Stiffness, in_mm, n_per_mm2};
/// let mode = TipMode {
///     k: Stiffness::from_si(1_340_049.65), zeta: 0.011, f_n: Frequency::from_si(922.0),
/// };
/// let cut = Vibrating {
///     modes: [mode, mode], k_t: n_per_mm2(600.0), k_r: 1.0 / 3.0, z: 2, a_e_ratio: 1.0,
///     path: TurnPart::Slot,
/// };
/// let limit = stable_depth(&cut, &mut Silent).unwrap();
/// assert!((in_mm(limit.a_lim) - 0.047_925).abs() < 5e-5); // by an independent scan
/// ```
pub fn stable_depth(cut: &Vibrating, notes: &mut impl Notebook) -> Option<StableDepth> {
    let modes = cut.modes.map(|m| {
        [Vibration {
            k: m.k.si(),
            zeta: m.zeta,
            f_n: m.f_n.si(),
        }]
    });
    let k_t = cut.k_t.si() / 1e6;
    let stability = Stability::new(
        [&modes[0], &modes[1]],
        k_t,
        cut.k_r,
        cut.z,
        cut.a_e_ratio,
        cut.path,
    );
    let least = stability.least()?;
    let limit = StableDepth {
        a_lim: mm(least.a_p),
        f_c: Frequency::from_si(least.f_c),
        speeds: [0, 1, 2, 3].map(|k| SpindleSpeed::per_minute(stability.speed(&least, k))),
    };
    notes.summed(
        STABLE_DEPTH,
        || {
            let [x, y] = cut.modes;
            vec![
                (&s::K_X, x.k.si()),
                (&s::ZETA_X, x.zeta),
                (&s::F_N_X, x.f_n.si()),
                (&s::K_Y, y.k.si()),
                (&s::ZETA_Y, y.zeta),
                (&s::F_N_Y, y.f_n.si()),
                (&s::K_T, cut.k_t.si()),
                (&s::K_R_RATIO, cut.k_r),
                (&s::Z, f64::from(cut.z)),
                (&s::A_E_RATIO, cut.a_e_ratio),
            ]
        },
        || {
            let speeds = limit.speeds.iter().map(|n| (&s::N, n.si()));
            [
                (&s::A_LIM, limit.a_lim.si()),
                (&s::FREQUENCY, limit.f_c.si()),
            ]
            .into_iter()
            .chain(speeds)
            .collect()
        },
    );
    Some(limit)
}
