//! The edge cut into bands of constant lead angle: one for a square end, more on a round one.
//!
//! On a corner radius or ball the lead angle κ runs from 0 at the tip to 90° at full diameter:
//!
//! ```text
//! z = r_e (1 - cos κ)   r = d/2 - r_e (1 - sin κ)   db = r_e dκ   h = f_z sin κ sin φ
//! ```
//!
//! The radial force acts square to the edge, so it leans: towards the axis `F_r sin κ + F_a cos κ`,
//! along it `F_a sin κ - F_r cos κ`. The stock left by the pass before is taken to have this
//! cutter's own shape, so at every height it is `a_e` wide: `φ_s = acos(1 - a_e/r)`, the whole
//! half turn where r < `a_e/2`.
//!
//! # Holds for
//! Constant lead (the lag grows with height as on the shank) and level floors. A band takes its
//! middle κ; with [`ROUND_BANDS`] of them means are within 1e-3 and peaks within 3e-3.

use core::f64::consts::{FRAC_PI_2, PI};

use super::arc::{Arc, Moments};
use super::turn::{Cut, Law, Load, Path};

/// Bands on a whole quarter round.
pub const ROUND_BANDS: u32 = 24;

/// Spans of lag below this, rad, count as straight: no difference can be told any more.
const STRAIGHT: f64 = 1e-8;

/// A piece of every edge, with everything that does not change over the turn.
#[derive(Clone, Debug)]
pub(super) struct Band {
    /// Lag of its lower end behind the tip, and over its own height, rad.
    pub(super) lag: f64,
    pub(super) span: f64,
    pub(super) straight: bool,
    /// Engaged arc, rad, and the integrals at its ends.
    pub(super) start: f64,
    pub(super) end: f64,
    pub(super) at_start: Moments,
    pub(super) at_end: Moments,
    /// Tangential, towards the axis, along the axis: N per unit of the integrals.
    cut: [f64; 3],
    edge: [f64; 3],
    radius: f64,
}

impl Band {
    /// From summed integrals to forces.
    #[inline]
    pub(super) fn load(&self, cut: Moments, edge: Moments) -> Load {
        let ([t, r, a], [te, re, ae]) = (self.cut, self.edge);
        Load {
            x: -(t * cut.cos + te * edge.cos) - (r * cut.sin + re * edge.sin),
            y: (t * cut.sin + te * edge.sin) - (r * cut.cos + re * edge.cos),
            z: a * cut.one + ae * edge.one,
            torque: (t * cut.one + te * edge.one) * self.radius,
        }
    }
}

/// Integrals of the constant edge force from 0 to `phi`.
#[inline]
pub(super) fn edge_at(phi: f64) -> Moments {
    let (s, c) = phi.sin_cos();
    Moments {
        cos: s,
        sin: 1.0 - c,
        one: phi,
    }
}

/// What they integrate.
pub(super) fn edge_integrand(phi: f64) -> Moments {
    let (s, c) = phi.sin_cos();
    Moments {
        cos: c,
        sin: s,
        one: 1.0,
    }
}

/// All bands of a cut, from the tip up.
pub(super) fn bands(arc: &Arc, cut: &Cut, law: &Law) -> Vec<Band> {
    let round = cut.r_e.min(0.5 * cut.d).max(0.0);
    let curved = cut.a_p.min(round);
    let mut bands = Vec::new();
    if curved > 0.0 {
        let top = (1.0 - curved / round).acos();
        let count = (f64::from(ROUND_BANDS) * top / FRAC_PI_2).ceil().max(8.0);
        let step = top / count;
        let height = |kappa: f64| round * (1.0 - kappa.cos());
        let mut k = 0.0;
        while k < count {
            let (from, to) = (k * step, (k + 1.0) * step);
            let edge = Piece {
                from: height(from),
                to: height(to),
                width: round * step,
                kappa: 0.5 * (from + to),
                radius: 0.5 * cut.d - round * (1.0 - (0.5 * (from + to)).sin()),
            };
            bands.push(edge.band(arc, cut, law));
            k += 1.0;
        }
    }
    if cut.a_p > round {
        let (from, to) = (round, cut.a_p);
        let radius = 0.5 * cut.d;
        let edge = Piece {
            from,
            to,
            width: to - from,
            kappa: FRAC_PI_2,
            radius,
        };
        bands.push(edge.band(arc, cut, law));
    }
    bands
}

/// Where a band lies: heights, length of edge, lead angle and radius, mm and rad.
struct Piece {
    from: f64,
    to: f64,
    width: f64,
    kappa: f64,
    radius: f64,
}

impl Piece {
    fn band(&self, arc: &Arc, cut: &Cut, law: &Law) -> Band {
        let lag = cut.lag_per_mm();
        let span = lag * (self.to - self.from);
        let straight = span < STRAIGHT;
        let (start, end) = window(cut, self.radius);
        let (sin, cos) = self.kappa.sin_cos();
        let lean =
            |[t, r, a]: [f64; 3], k: f64| [k * t, k * (r * sin + a * cos), k * (a * sin - r * cos)];
        let density = if straight {
            self.width
        } else {
            self.width / span
        };
        Band {
            lag: lag * self.from,
            span: if straight { 0.0 } else { span },
            straight,
            start,
            end,
            at_start: arc.at(start),
            at_end: arc.at(end),
            cut: lean(law.cut, density * (cut.f_z * sin).powf(arc.power())),
            edge: lean(law.edge, density),
            radius: self.radius,
        }
    }
}

/// Engaged arc at a local radius, rad.
fn window(cut: &Cut, radius: f64) -> (f64, f64) {
    let full = 0.5 * cut.d;
    match cut.path {
        Path::Slot => (0.0, PI),
        Path::Centred => {
            let half = (full * (0.5 * cut.arc).sin() / radius).min(1.0).asin();
            (FRAC_PI_2 - half, FRAC_PI_2 + half)
        }
        Path::Up | Path::Down => {
            let a_e = full * (1.0 - cut.arc.cos());
            let at_full = radius >= full;
            let arc = if at_full {
                cut.arc
            } else {
                (1.0 - a_e / radius).max(-1.0).acos()
            };
            if cut.path == Path::Up {
                (0.0, arc)
            } else {
                (PI - arc, PI)
            }
        }
    }
}
