//! Generic light machines: invented classes with usual figures, never a maker's machine.

use crate::depth_width::MachineClass;
use crate::error::NotFound;
use crate::listing::{Listed, listed_figure};
use crate::names;
use crate::sourced::{Figure, Printable, Sourced};
use crate::tables::Tables;
use feeds_core::quantity::{
    Acceleration, Force, Length, Power, Ratio, SpindleSpeed, Stiffness, Velocity,
};
use serde::Deserialize;

/// A figure for each axis.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, bound(deserialize = "Q: Printable"))]
pub struct Axes<Q> {
    /// Along x.
    pub x: Figure<Q>,
    /// Along y.
    pub y: Figure<Q>,
    /// Along z.
    pub z: Figure<Q>,
}

/// What a machine can do.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct MachineRow {
    /// Short name.
    pub key: String,
    /// Name.
    pub name: String,
    /// How stiff it is.
    pub machine_class: MachineClass,
    /// Least and most spindle speed.
    pub spindle_speed: Figure<SpindleSpeed>,
    /// Speed up to which the torque is constant; above it the power is.
    pub base_speed: Figure<SpindleSpeed>,
    /// Power of the motor.
    pub power: Figure<Power>,
    /// Share of it that reaches the cutter.
    pub efficiency: Figure<Ratio>,
    /// Fastest cutting feed of each axis.
    pub feed: Axes<Velocity>,
    /// Acceleration of each axis.
    pub acceleration: Axes<Acceleration>,
    /// Stiffness between holder and table.
    pub stiffness: Figure<Stiffness>,
    /// Force that moves an axis by itself.
    pub axis_drag: Figure<Force>,
    /// Lost motion of an axis.
    pub backlash: Figure<Length>,
    /// Total indicated runout at the cutter.
    pub runout: Figure<Length>,
}

impl Tables {
    /// The machine called `name`, by key or a part of its name that fits no other.
    ///
    /// # Errors
    /// [`NotFound`] with the nearest names.
    ///
    /// # Example
    /// ```
    /// let tables = reference_tables::tables().unwrap();
    /// let machine = &tables.machine("bench-5000").unwrap().value;
    /// assert_eq!(machine.spindle_speed.most.in_per_minute(), 5000.0);
    /// ```
    pub fn machine(&self, name: &str) -> Result<&Sourced<MachineRow>, NotFound> {
        names::find(
            "machine",
            &self.machines,
            &self.called.machines,
            name,
            |m| vec![m.value.key.clone(), m.value.name.clone()],
        )
    }
}

pub(crate) fn list(machines: &[Sourced<MachineRow>], out: &mut Vec<Listed>) {
    for machine in machines {
        let m = &machine.value;
        let what = |axis: &str, quantity| {
            (
                "machines",
                format!("{}: {}", m.key, m.name),
                axis.to_owned(),
                quantity,
            )
        };
        let origin = &machine.origin;
        out.push(listed_figure(
            what("", "spindle speed"),
            &m.spindle_speed,
            origin,
        ));
        out.push(listed_figure(what("", "base speed"), &m.base_speed, origin));
        out.push(listed_figure(what("", "power"), &m.power, origin));
        out.push(listed_figure(what("", "efficiency"), &m.efficiency, origin));
        for (axis, f, a) in [
            ("x", &m.feed.x, &m.acceleration.x),
            ("y", &m.feed.y, &m.acceleration.y),
            ("z", &m.feed.z, &m.acceleration.z),
        ] {
            out.push(listed_figure(what(axis, "cutting feed"), f, origin));
            out.push(listed_figure(what(axis, "acceleration"), a, origin));
        }
        out.push(listed_figure(
            what("", "machine stiffness"),
            &m.stiffness,
            origin,
        ));
        out.push(listed_figure(what("", "axis drag"), &m.axis_drag, origin));
        out.push(listed_figure(what("", "backlash"), &m.backlash, origin));
        out.push(listed_figure(what("", "runout"), &m.runout, origin));
    }
}
