//! Stability lobes of milling, zero-order: a hint with a band, never a pass.
//!
//! ```text
//! det(I + Λ α G(iω)) = 0    a = -(2π Λ_R / (z K_t)) (1 + κ²), κ = Λ_I/Λ_R
//! ε = π - 2 atan κ          n = 60 ω / (z (ε + 2π k))
//! ```
//!
//! At small immersion the limit may be 10-30 % off, and where the tooth frequency meets the
//! spacing of two modes it can be twice the true one; flip lobes are missed.
//!
//! # Source
//! Y. Altintas, E. Budak, Annals of the CIRP 44/1 (1995) 357 (memory).

use core::f64::consts::{PI, TAU};

use super::root::{bracketed, golden};
use super::turn::TurnPart;

/// A vibration mode of the tip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mode {
    /// Modal stiffness, N/m.
    pub k: f64,
    /// Damping ratio, 0 < ζ < 1.
    pub zeta: f64,
    /// Natural frequency, Hz.
    pub f_n: f64,
}

/// A cut whose stability is asked.
///
/// # Example
/// ```
/// use feeds_core::kernel::{lobes::{Mode, Stability}, turn::TurnPart};
/// // two equal modes in a slot; value by an independent scan: 0.0479 mm
/// let mode = Mode { k: 1_340_049.648, zeta: 0.011, f_n: 922.0 };
/// let modes = [[mode]; 2];
/// let cut = Stability::new([&modes[0], &modes[1]], 600.0, 1.0 / 3.0, 2, 1.0, TurnPart::Slot);
/// assert!((cut.least().unwrap().a_p - 0.047_925).abs() < 5e-5);
/// ```
#[derive(Clone, Copy, Debug)]
pub struct Stability<'a> {
    pub(super) modes: [&'a [Mode]; 2],
    /// N/m².
    pub(super) k_t: f64,
    pub(super) k_r: f64,
    pub(super) z: f64,
    /// Where the edges are engaged, rad.
    pub(super) arc: (f64, f64),
    /// Directional factors xx, xy, yx, yy.
    alpha: [f64; 4],
}

/// A point on a lobe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LobePoint {
    /// Depth at which chatter starts, mm.
    pub a_p: f64,
    /// Chatter frequency, Hz.
    pub f_c: f64,
    /// Phase between waves, 0 < ε < 2π.
    pub phase: f64,
}

impl<'a> Stability<'a> {
    /// Modes along x (feed) and y, each one or more, `K_t` in N/mm², `K_r` as a ratio to it,
    /// `a_e_ratio` = `a_e/d`.
    pub fn new(
        modes: [&'a [Mode]; 2],
        k_t: f64,
        k_r: f64,
        z: u32,
        a_e_ratio: f64,
        path: TurnPart,
    ) -> Self {
        let arc = (1.0 - 2.0 * a_e_ratio).acos();
        let (start, end) = match path {
            TurnPart::Slot => (0.0, PI),
            TurnPart::Up => (0.0, arc),
            TurnPart::Down => (PI - arc, PI),
            TurnPart::Centred => (a_e_ratio.acos(), PI - a_e_ratio.acos()),
        };
        let over = |f: &dyn Fn(f64, f64, f64) -> f64| {
            let at = |p: f64| f((2.0 * p).cos(), (2.0 * p).sin(), p);
            0.5 * (at(end) - at(start))
        };
        let alpha = [
            over(&|c, s, p| c - 2.0 * k_r * p + k_r * s),
            over(&|c, s, p| -s - 2.0 * p + k_r * c),
            over(&|c, s, p| -s + 2.0 * p + k_r * c),
            over(&|c, s, p| -c - 2.0 * k_r * p - k_r * s),
        ];
        Self {
            modes,
            k_t: k_t * 1e6,
            k_r,
            arc: (start, end),
            z: f64::from(z),
            alpha,
        }
    }

    /// Directional factors xx, xy, yx, yy.
    pub fn directional(&self) -> [f64; 4] {
        self.alpha
    }

    /// Limits of both eigenvalues at chatter frequency `f_c`, Hz; those with `a_p` ≤ 0 or not a
    /// number mean no chatter at this frequency.
    pub fn at(&self, f_c: f64) -> [LobePoint; 2] {
        self.eigenvalues(f_c).map(|lambda| self.limit(f_c, lambda))
    }

    fn limit(&self, f_c: f64, lambda: Complex) -> LobePoint {
        let kappa = lambda.1 / lambda.0;
        let a = -TAU * lambda.0 / (self.z * self.k_t) * (1.0 + kappa * kappa);
        LobePoint {
            a_p: 1000.0 * a,
            f_c,
            phase: PI - 2.0 * kappa.atan(),
        }
    }

    fn eigenvalues(&self, f_c: f64) -> [Complex; 2] {
        let [xx, xy, yx, yy] = self.alpha;
        let [gx, gy] = self.modes.map(|modes| {
            modes.iter().fold(Complex(0.0, 0.0), |sum, m| {
                let r = f_c / m.f_n;
                sum.plus(Complex(m.k * (1.0 - r * r), m.k * 2.0 * m.zeta * r).inverse())
            })
        });
        // a0 Λ² + a1 Λ + 1 = 0
        let a0 = gx.times(gy).scale(xx * yy - xy * yx);
        let a1 = gx.scale(xx).plus(gy.scale(yy));
        let root = a1.times(a1).plus(a0.scale(-4.0)).sqrt();
        // Divide by the sum: stable where a0 vanishes.
        [1.0, -1.0].map(|sign| a1.plus(root.scale(sign)).inverse().scale(-2.0))
    }

    /// Spindle speed, 1/min, on lobe `k` (0 the fastest) at a point.
    pub fn speed(&self, limit: &LobePoint, k: u32) -> f64 {
        60.0 * TAU * limit.f_c / (self.z * (limit.phase + TAU * f64::from(k)))
    }

    /// The least depth over all speeds: below it no speed chatters. `None` if nothing limits.
    pub fn least(&self) -> Option<LobePoint> {
        let depth = |f: f64| self.least_at(f).map_or(f64::INFINITY, |l| l.a_p);
        let mut best = (f64::INFINITY, 0.0, 0.0);
        self.scan(|from, to| {
            let a = depth(from);
            if a < best.0 {
                best = (a, from + from - to, to);
            }
        });
        let (_, from, to) = best;
        let (f, _) = golden(from, to, 1e-9 * to, |f| -depth(f));
        self.least_at(f)
    }

    fn least_at(&self, f_c: f64) -> Option<LobePoint> {
        let limits = self.at(f_c).into_iter().filter(|l| l.a_p > 0.0);
        limits.min_by(|a, b| a.a_p.total_cmp(&b.a_p))
    }

    /// The least depth at spindle speed `n`, 1/min, over all lobes. `None` if nothing limits.
    pub fn at_speed(&self, n: f64) -> Option<LobePoint> {
        let mut best: Option<LobePoint> = None;
        self.scan(|from, to| {
            for start in self.eigenvalues(from) {
                // The root of a complex number may change sign between two frequencies: stay
                // with the eigenvalue that is nearest.
                let branch = |f: f64| {
                    let [l, other] = self.eigenvalues(f);
                    let apart = |l: Complex| l.plus(start.scale(-1.0)).size();
                    self.limit(f, if apart(other) < apart(l) { other } else { l })
                };
                // Lobe number as a real: whole where a lobe passes through this speed.
                let lobe = |f: f64| 60.0 * f / (self.z * n) - branch(f).phase / TAU;
                let (a, b) = (lobe(from), lobe(to));
                let k = a.max(b).floor();
                if k < 0.0 || k < a.min(b) || (a - b).abs() > 0.5 {
                    continue;
                }
                let found = bracketed(from, to, 1e-9 * to, |f| lobe(f) - k);
                // Not a root but a jump of the phase: no lobe there.
                let found = found.filter(|&f| (lobe(f) - k).abs() < 1e-3);
                let limit = found.map(branch).filter(|l| l.a_p > 0.0);
                if let Some(l) = limit.filter(|l| best.is_none_or(|b| l.a_p < b.a_p)) {
                    best = Some(l);
                }
            }
        });
        best
    }

    /// Neighbouring frequencies, Hz, fine against the sharpest mode.
    fn scan(&self, mut visit: impl FnMut(f64, f64)) {
        let all = || self.modes.into_iter().flatten();
        let zeta = all().map(|m| m.zeta).fold(f64::INFINITY, f64::min);
        let least = all().map(|m| m.f_n).fold(f64::INFINITY, f64::min);
        let most = all().map(|m| m.f_n).fold(0.0, f64::max);
        let ratio = 1.0 + 0.1 * zeta.clamp(1e-3, 0.3);
        let mut f = 0.3 * least;
        while f < 4.0 * most {
            visit(f, f * ratio);
            f *= ratio;
        }
    }
}

#[derive(Clone, Copy)]
struct Complex(f64, f64);

impl Complex {
    fn scale(self, k: f64) -> Self {
        Self(k * self.0, k * self.1)
    }

    fn plus(self, o: Self) -> Self {
        Self(self.0 + o.0, self.1 + o.1)
    }

    fn times(self, o: Self) -> Self {
        Self(self.0 * o.0 - self.1 * o.1, self.0 * o.1 + self.1 * o.0)
    }

    fn inverse(self) -> Self {
        let d = self.0 * self.0 + self.1 * self.1;
        Self(self.0 / d, -self.1 / d)
    }

    fn size(self) -> f64 {
        // Plainly: responses are nowhere near what a square cannot hold.
        (self.0 * self.0 + self.1 * self.1).sqrt()
    }

    /// The root with the real part not below zero.
    fn sqrt(self) -> Self {
        let r = self.size();
        let re = (0.5 * (r + self.0)).max(0.0).sqrt();
        let im = (0.5 * (r - self.0)).max(0.0).sqrt();
        Self(re, im.copysign(self.1))
    }
}
