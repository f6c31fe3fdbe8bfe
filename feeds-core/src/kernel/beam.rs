//! The cutter as a stepped cantilever, clamped at the holder face.
//!
//! Euler-Bernoulli, round sections, no shear, no notch factor. x runs from the clamp to the tip.
//!
//! ```text
//! w(s) = ∫ F (a - x)(s - x) / (E I) dx, x from 0 to min(a, s)      σ = 32 F (a - x) / (π d³)
//! ```
//!
//! # Source
//! Unit-load form of the deflection: any text on strength of materials (common practice).

use core::f64::consts::PI;

/// A length of one diameter, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// Length, mm.
    pub length: f64,
    /// Diameter, mm; for stiffness of a fluted part its equivalent, 0.80 d (Kops & Vo, memory).
    pub diameter: f64,
}

/// Segments from clamp to tip, all of one modulus.
///
/// # Example
/// ```
/// use feeds_core::kernel::beam::{Beam, Segment};
/// // F l³/(3 E I), I = π d⁴/64: 100 · 20³ · 64 / (3 · 600 000 · π · 6⁴) = 0.006 986 mm
/// let rod = [Segment { length: 20.0, diameter: 6.0 }];
/// let beam = Beam { modulus: 600_000.0, segments: &rod };
/// assert!((100.0 * beam.compliance(20.0, 20.0) - 0.006_986_23).abs() < 1e-8);
/// // A segment of no length changes nothing.
/// let rod = [Segment { length: 0.0, diameter: 9.0 }, rod[0]];
/// let beam = Beam { modulus: 600_000.0, segments: &rod };
/// assert!((100.0 * beam.compliance(20.0, 20.0) - 0.006_986_23).abs() < 1e-8);
/// ```
#[derive(Clone, Copy, Debug)]
pub struct Beam<'a> {
    /// Young's modulus, N/mm².
    pub modulus: f64,
    /// From the clamp to the tip.
    pub segments: &'a [Segment],
}

impl Beam<'_> {
    /// Stick-out, mm.
    pub fn length(&self) -> f64 {
        self.segments.iter().map(|s| s.length).sum()
    }

    /// Deflection at `at` under 1 N at `load`, both mm from the clamp, in mm/N. Beyond the load
    /// the beam stays straight.
    pub fn compliance(&self, load: f64, at: f64) -> f64 {
        self.integrate(load.min(at), |x| {
            x * (load * at - x * (0.5 * (load + at) - x / 3.0))
        })
    }

    /// Slope at `at` under 1 N at `load`, rad/N.
    pub fn slope(&self, load: f64, at: f64) -> f64 {
        self.integrate(load.min(at), |x| x * (load - 0.5 * x))
    }

    /// Deflection of the tip, mm, under `force` N applied `from_tip` mm above the tip.
    pub fn tip(&self, force: f64, from_tip: f64) -> f64 {
        let l = self.length();
        force * self.compliance(l - from_tip, l)
    }

    /// Load at the tip over the deflection there, N/mm.
    pub fn stiffness(&self) -> f64 {
        1.0 / self.tip(1.0, 0.0)
    }

    /// Bending stress at each segment's start, N/mm², under `force` N at `from_tip` mm above the
    /// tip; nothing beyond the load.
    pub fn stresses(&self, force: f64, from_tip: f64) -> impl Iterator<Item = f64> {
        let load = self.length() - from_tip;
        let mut start = 0.0;
        self.segments.iter().map(move |s| {
            let arm = (load - start).max(0.0);
            start += s.length;
            bending_stress(force * arm, s.diameter)
        })
    }

    /// ∫ dx / (E I) of what `primitive` integrates (zero at x = 0), from the clamp to `end`.
    fn integrate(&self, end: f64, primitive: impl Fn(f64) -> f64) -> f64 {
        let (mut start, mut sum) = (0.0, 0.0);
        for s in self.segments {
            // A segment may have no length: a cutter without a neck, or without shank outside.
            if start >= end {
                break;
            }
            let stop = (start + s.length).min(end);
            let inertia = PI / 64.0 * s.diameter.powi(4);
            sum += (primitive(stop) - primitive(start)) / (self.modulus * inertia);
            start += s.length;
        }
        sum
    }
}

/// Bending stress at the surface of a round, N/mm²: `32 M / (π d³)`, M in N mm.
pub fn bending_stress(moment: f64, diameter: f64) -> f64 {
    32.0 * moment / (PI * diameter.powi(3))
}

/// Shear stress at the surface of a round in torsion, N/mm²: `16 T / (π d³)`, T in N mm.
pub fn torsion_stress(torque: f64, diameter: f64) -> f64 {
    16.0 * torque / (PI * diameter.powi(3))
}

/// Largest principal stress of bending and torsion together: `σ/2 + √((σ/2)² + τ²)`.
///
/// What brittle carbide is judged by; τ changes it by `τ²/σ` at first.
pub fn principal_stress(bending: f64, torsion: f64) -> f64 {
    0.5 * bending + (0.5 * bending).hypot(torsion)
}
