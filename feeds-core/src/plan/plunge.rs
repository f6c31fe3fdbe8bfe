//! Straight down: the whole end cuts, and what that does to the cutter.

use super::law::Coefficients;
use super::setup::Setup;
use super::start::least_chip;
use crate::formula::allowed::PlungeStress;
use crate::formula::entry::{PlungeFeed, PlungeThrust, PlungeTorque};
use crate::notebook::{Notebook, Silent};
use crate::quantity::{Length, Quantity, SpindleSpeed, Velocity};
use crate::workpiece::Linear;

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

/// The law of the hardest layer.
fn hardest(setup: &Setup) -> Option<Linear> {
    let resistance = setup.stock.resistance.as_ref()?;
    Some(Coefficients::of(resistance, &setup.cutter)?.hardest)
}

impl Plunge {
    /// The plunge of a setup whose feed per tooth is `f_z`; `None` where the force of the stock or
    /// the share of the feed to plunge with is not known.
    ///
    /// The feed is that share of the pass's, and never less than clears the least chip. Chips that
    /// pack under the end add to the load and are not counted.
    pub fn of(setup: &Setup, f_z: Length, notes: &mut impl Notebook) -> Option<Self> {
        // Without a force the feed is of no use either.
        let law = hardest(setup)?;
        let f_z = notes.take(PlungeFeed {
            f_z,
            share: setup.guides.plunge_feed?,
            h_min: least_chip(setup).unwrap_or_default(),
        });
        Some(Self::under(setup, &law, f_z, notes))
    }

    /// The plunge at a feed per tooth straight down; `None` where the force of the stock is not
    /// known.
    pub fn at(setup: &Setup, f_z: Length) -> Option<Self> {
        Some(Self::under(setup, &hardest(setup)?, f_z, &mut Silent))
    }

    fn under(setup: &Setup, law: &Linear, f_z: Length, notes: &mut impl Notebook) -> Self {
        let cutter = &setup.cutter;
        let (z, d) = (f64::from(cutter.edges), cutter.diameter);
        let thrust = notes.take(PlungeThrust {
            z,
            d,
            k_rc: law.cut[1],
            f_z,
            k_re: law.edge[1],
        });
        let torque = notes.take(PlungeTorque {
            z,
            d,
            k_tc: law.cut[0],
            f_z,
            k_te: law.edge[0],
        });
        let core = super::bending::core(cutter);
        let stress = notes.take(PlungeStress {
            thrust,
            torque,
            core,
        });
        Self {
            f_z,
            thrust: thrust.si(),
            torque: torque.si(),
            stress: stress.si(),
        }
    }

    /// The feed speed at a spindle speed.
    pub fn feed_speed(&self, setup: &Setup, n: SpindleSpeed) -> Velocity {
        self.f_z * f64::from(setup.cutter.edges) * n.turns()
    }
}
