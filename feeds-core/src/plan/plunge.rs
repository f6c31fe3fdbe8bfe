//! Straight down: the whole end cuts, and what that does to the cutter.

use super::law::Coefficients;
use super::setup::Setup;
use super::start::{CLEAR, least_chip};
use crate::formula::Formula;
use crate::formula::entry::{PlungeThrust, PlungeTorque};
use crate::kernel::beam;
use crate::quantity::{Length, Quantity, SpindleSpeed, Velocity, in_mm};

/// A plunge: its feed and its load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plunge {
    /// Feed per tooth, straight down.
    pub f_z: Length,
    /// Force along the axis, N.
    pub thrust: f64,
    /// Torque, N m.
    pub torque: f64,
    /// Largest stress in the core, Pa.
    pub stress: f64,
}

impl Plunge {
    /// The plunge of a setup whose feed per tooth is `f_z`; `None` where the force of the stock or
    /// the share of the feed to plunge with is not known.
    ///
    /// The feed is that share of the pass's, and never less than clears the least chip. Chips that
    /// pack under the end add to the load and are not counted.
    pub fn of(setup: &Setup, f_z: Length) -> Option<Self> {
        let resistance = setup.stock.resistance.as_ref()?;
        let law = Coefficients::of(resistance, &setup.cutter)?.hardest;
        let share = setup.guides.plunge_feed?;
        let clear = least_chip(setup).map_or(Length::from_si(0.0), |h| h * CLEAR);
        let f_z = (f_z * share).max(clear);
        let cutter = &setup.cutter;
        let (z, d) = (f64::from(cutter.edges), cutter.diameter);
        let thrust = PlungeThrust {
            z,
            d,
            k_rc: law.cut[1],
            f_z,
            k_re: law.edge[1],
        };
        let torque = PlungeTorque {
            z,
            d,
            k_tc: law.cut[0],
            f_z,
            k_te: law.edge[0],
        };
        let (thrust, torque) = (thrust.value().value, torque.value().value);
        let core = in_mm(super::bending::core(cutter));
        let pressed = 4.0 * thrust / (std::f64::consts::PI * core * core);
        let twisted = beam::torsion_stress(torque * 1e3, core);
        Some(Self {
            f_z,
            thrust,
            torque,
            stress: beam::principal_stress(pressed, twisted) * 1e6,
        })
    }

    /// The feed speed at a spindle speed.
    pub fn feed_speed(&self, setup: &Setup, n: SpindleSpeed) -> Velocity {
        self.f_z * f64::from(setup.cutter.edges) * n.turns()
    }
}
