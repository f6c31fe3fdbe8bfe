//! Integrals along the arc of engagement, tabulated once for one exponent.

use core::f64::consts::{FRAC_PI_2, PI};

/// Pieces of the table.
const CELLS: usize = 384;
/// Terms of the power series; at φ = π/2 each is about a quarter of the one before.
const TERMS: usize = 28;

/// The three integrals of a power of the chip thickness from 0 to φ.
///
/// With p = `1 - m_c`, so that h^p is proportional to sin^p φ:
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ArcIntegrals {
    /// ∫ sin^p φ cos φ dφ = sin^(p+1) φ / (p+1).
    pub cos: f64,
    /// ∫ sin^(p+1) φ dφ.
    pub sin: f64,
    /// ∫ sin^p φ dφ: tangential force, hence torque.
    pub one: f64,
}

/// Table of [`ArcIntegrals`] over 0 ..= π for one exponent.
///
/// ```text
/// ∫₀^φ sin^a = ½ B(sin² φ; (a+1)/2, ½)      for φ ≤ π/2, mirrored above
/// ```
///
/// Feed, depth, width, helix and number of teeth only scale or shift these integrals, so one
/// table serves every cut in a stock. The caller owns it and may keep it as long as `m_c` stands.
///
/// # Method
/// Node values from the power series of (sin φ/φ)^a, then cubic Hermite pieces in the fourth
/// root of φ, in which the integrals, going like φ^(p+1) near 0, are smooth enough: integrals
/// are within 1e-9, and differences over ever smaller arcs within 2e-7 of the largest integrand.
///
/// # Example
/// ```
/// use feeds_core::kernel::arc::ArcTable;
/// // m_c = 0 is a constant k_c: ∫ sin = 1 - cos, over the half turn 2; ∫ sin² = π/2
/// let half = ArcTable::new(0.0).at(core::f64::consts::PI);
/// assert!((half.one - 2.0).abs() < 1e-8 && (half.sin - 1.570_796_327).abs() < 1e-8);
/// ```
#[derive(Clone, Debug)]
pub struct ArcTable {
    power: f64,
    /// The power is 1, so that the integrals are closed.
    straight: bool,
    cells: Box<[Cell]>,
    /// The integrals from 0 to π.
    half_turn: ArcIntegrals,
}

/// Cubic coefficients, constant first, of the three integrals in one cell.
#[derive(Clone, Copy, Debug, Default)]
struct Cell {
    cos: [f64; 4],
    sin: [f64; 4],
    one: [f64; 4],
}

impl ArcTable {
    /// The table for the Kienzle exponent `m_c`, 0 ≤ `m_c` < 1; `m_c = 0` is a constant `k_c`.
    pub fn new(m_c: f64) -> Self {
        let power = 1.0 - m_c;
        let (one, sin) = (Series::new(power), Series::new(power + 1.0));
        let step = FRAC_PI_2.sqrt().sqrt() / as_f64(CELLS);
        // Value and slope per cell of each integral at a node in u, φ = u⁴.
        let node = |i: usize| {
            let u = as_f64(i) * step;
            let phi = u.powi(4);
            let (s, c) = phi.sin_cos();
            let chip = s.powf(power);
            let slope = 4.0 * u.powi(3) * step * chip;
            [
                (s * chip / (power + 1.0), slope * c),
                (sin.at(phi), slope * s),
                (one.at(phi), slope),
            ]
        };
        let mut cells = vec![Cell::default(); CELLS].into_boxed_slice();
        let mut from = node(0);
        for (i, cell) in cells.iter_mut().enumerate() {
            let to = node(i + 1);
            cell.cos = hermite(from[0], to[0]);
            cell.sin = hermite(from[1], to[1]);
            cell.one = hermite(from[2], to[2]);
            from = to;
        }
        let half_turn = ArcIntegrals {
            cos: 0.0,
            sin: 2.0 * from[1].0,
            one: 2.0 * from[2].0,
        };
        Self {
            power,
            straight: m_c.abs() < f64::EPSILON,
            cells,
            half_turn,
        }
    }

    /// p = 1 - `m_c`.
    pub fn power(&self) -> f64 {
        self.power
    }

    /// Whether the chip enters as itself, so that [`Self::of_both`] is exact.
    pub(super) fn is_straight(&self) -> bool {
        self.straight
    }

    /// The integrals from 0 to `phi`, 0 ≤ φ ≤ π.
    #[inline]
    pub fn at(&self, phi: f64) -> ArcIntegrals {
        if phi > FRAC_PI_2 {
            let m = self.quarter(PI - phi);
            ArcIntegrals {
                cos: m.cos,
                sin: self.half_turn.sin - m.sin,
                one: self.half_turn.one - m.one,
            }
        } else {
            self.quarter(phi)
        }
    }

    #[inline]
    fn quarter(&self, phi: f64) -> ArcIntegrals {
        const PER_ROOT: f64 = 343.005_635_227_392_9; // CELLS / (π/2)^¼
        let x = phi.max(0.0).sqrt().sqrt() * PER_ROOT;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "0 ≤ x ≤ CELLS"
        )]
        let i = (x as usize).min(CELLS - 1);
        let t = x - as_f64(i);
        let cell = &self.cells[i];
        let cubic = |k: &[f64; 4]| k[0] + t * (k[1] + t * (k[2] + t * k[3]));
        ArcIntegrals {
            cos: cubic(&cell.cos),
            sin: cubic(&cell.sin),
            one: cubic(&cell.one),
        }
    }

    /// The integrals from 0 to `phi` of the chip, and of an edge that presses alike at every angle.
    #[inline]
    pub(super) fn of_both(&self, phi: f64) -> [ArcIntegrals; 2] {
        let (s, c) = phi.sin_cos();
        let edge = ArcIntegrals {
            cos: s,
            sin: 1.0 - c,
            one: phi,
        };
        let chip = if self.straight {
            ArcIntegrals {
                cos: 0.5 * s * s,
                sin: 0.5 * (phi - s * c),
                one: edge.sin,
            }
        } else {
            self.at(phi)
        };
        [chip, edge]
    }

    /// What is integrated: sin^p φ times cos φ, sin φ and 1; nothing outside 0 .. π.
    pub fn integrand(&self, phi: f64) -> ArcIntegrals {
        let (s, c) = phi.sin_cos();
        let chip = s.max(0.0).powf(self.power);
        ArcIntegrals {
            cos: chip * c,
            sin: chip * s,
            one: chip,
        }
    }
}

impl core::ops::Sub for ArcIntegrals {
    type Output = Self;
    #[inline]
    fn sub(self, o: Self) -> Self {
        Self {
            cos: self.cos - o.cos,
            sin: self.sin - o.sin,
            one: self.one - o.one,
        }
    }
}

/// ∫₀^φ sin^a as φ^(a+1) Σ cₖ φ^(2k), from (sin φ/φ)^a.
struct Series {
    a: f64,
    c: [f64; TERMS],
}

impl Series {
    fn new(a: f64) -> Self {
        // sin φ/φ = Σ f_k φ^(2k), and the recurrence of J. C. P. Miller for its a-th power.
        let mut f = [1.0; TERMS];
        for k in 1..TERMS {
            let n = as_f64(2 * k);
            f[k] = -f[k - 1] / (n * (n + 1.0));
        }
        let mut g = [1.0; TERMS];
        for k in 1..TERMS {
            let n = as_f64(k);
            g[k] = (1..=k)
                .map(|j| ((a + 1.0) * as_f64(j) - n) * f[j] * g[k - j])
                .sum::<f64>()
                / n;
        }
        let mut c = g;
        for (k, c) in c.iter_mut().enumerate() {
            *c /= a + 1.0 + as_f64(2 * k);
        }
        Self { a, c }
    }

    fn at(&self, phi: f64) -> f64 {
        let t = phi * phi;
        phi.powf(self.a + 1.0) * self.c.iter().rev().fold(0.0, |sum, c| sum * t + c)
    }
}

/// Cubic through (value, slope) at the two ends of a unit cell.
fn hermite((f0, d0): (f64, f64), (f1, d1): (f64, f64)) -> [f64; 4] {
    [
        f0,
        d0,
        3.0 * (f1 - f0) - 2.0 * d0 - d1,
        2.0 * (f0 - f1) + d0 + d1,
    ]
}

#[expect(clippy::cast_precision_loss, reason = "small counts only")]
fn as_f64(n: usize) -> f64 {
    n as f64
}
