//! The clamped cutter under load: how far it gives, and what it is stressed by.

use super::setup::Setup;
use crate::cutter::Cutter;
use crate::kernel::beam::{self, Beam, Segment};
use crate::quantity::{Length, in_mm};

/// Diameter that bends like the fluted part, over the cutting diameter (Kops & Vo 1990, memory).
pub const FLUTED: f64 = 0.80;
/// Core diameter over cutting diameter where the grade does not say (common practice).
pub const CORE: f64 = 0.65;
/// The cutter as a beam, with the machine in series.
#[derive(Clone, Debug)]
pub(crate) struct Bending {
    segments: [Segment; 3],
    modulus: f64,
    length: f64,
    a_p: f64,
    fluted: f64,
    core: f64,
    shank: f64,
    /// Give of the machine, mm/N.
    machine: f64,
}

impl Bending {
    pub(crate) fn of(setup: &Setup, a_p: Length) -> Self {
        let cutter = &setup.cutter;
        let (fluted, neck) = (in_mm(cutter.fluted()), neck(cutter));
        let length = in_mm(cutter.stick_out);
        let core = in_mm(core(cutter));
        let stiff = core * (FLUTED / CORE);
        let shank = Segment {
            length: length - fluted - neck.length,
            diameter: in_mm(cutter.shank),
        };
        let stiffness = setup.machine.as_ref().and_then(|m| m.stiffness);
        Self {
            segments: [
                shank,
                neck,
                Segment {
                    length: fluted,
                    diameter: stiff,
                },
            ],
            modulus: cutter.modulus.value * 1e-6,
            length,
            a_p: in_mm(a_p),
            fluted,
            core,
            shank: shank.diameter,
            machine: stiffness.map_or(0.0, |k| 1e3 / k.value),
        }
    }

    /// Deflection at a height above the tip per newton on the middle of the depth, mm/N.
    pub(crate) fn give(&self, height: f64) -> f64 {
        let beam = Beam {
            modulus: self.modulus,
            segments: &self.segments,
        };
        beam.compliance(self.load_at(), self.length - height) + self.machine
    }

    /// Where the force acts, mm from the holder: the middle of the engaged depth.
    fn load_at(&self) -> f64 {
        self.length - 0.5 * self.a_p
    }

    /// Largest principal stress, N/mm²: in the core at the flutes' run-out, in the neck at its
    /// start and in the shank at the holder.
    pub(crate) fn stress(&self, force: f64, torque: f64) -> f64 {
        let at = |from_holder: f64, diameter: f64| {
            let arm = (self.load_at() - from_holder).max(0.0);
            beam::principal_stress(
                beam::bending_stress(force * arm, diameter),
                beam::torsion_stress(torque, diameter),
            )
        };
        let run_out = at(self.length - self.fluted, self.core);
        let neck = self.segments[1];
        let necked = if neck.length > 0.0 {
            at(self.length - self.fluted - neck.length, neck.diameter)
        } else {
            0.0
        };
        let shank = if self.segments[0].length > 0.0 {
            at(0.0, self.shank)
        } else {
            0.0
        };
        run_out.max(necked).max(shank)
    }
}

/// Pieces a segment is cut into where its mass is summed.
const PIECES: u32 = 40;

/// The mass, kg, that swings like the cutter when it sits at the tip: each piece counts by the
/// square of how far it moves over how far the tip does (Rayleigh).
///
/// # Takes
/// `density` in kg/m³.
pub(crate) fn mass_at_tip(bending: &Bending, density: f64) -> f64 {
    let tip = bending.give(0.0);
    let mut start = 0.0;
    let mut mass = 0.0;
    for segment in &bending.segments {
        let piece = segment.length / f64::from(PIECES);
        let area = core::f64::consts::PI / 4.0 * segment.diameter.powi(2);
        for k in 0..PIECES {
            let at = start + piece * (f64::from(k) + 0.5);
            let moves = bending.give(bending.length - at) / tip;
            mass += density * 1e-9 * area * piece * moves * moves;
        }
        start += segment.length;
    }
    mass
}

/// Core diameter at the flutes' run-out.
pub(crate) fn core(cutter: &Cutter) -> Length {
    cutter.core.unwrap_or(CORE * cutter.diameter)
}

/// The neck, as far as it is out of the holder.
fn neck(cutter: &Cutter) -> Segment {
    let out = in_mm(cutter.stick_out) - in_mm(cutter.fluted());
    match cutter.neck {
        Some(n) => Segment {
            length: in_mm(n.length).min(out),
            diameter: in_mm(n.diameter),
        },
        None => Segment {
            length: 0.0,
            diameter: in_mm(cutter.diameter),
        },
    }
}
