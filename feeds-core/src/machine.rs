//! The machine: what spindle, drives and frame can do.

use crate::quantity::{Acceleration, Force, Length, Power, SpindleSpeed, Stiffness, Velocity};

/// A point of the spindle's power curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PowerPoint {
    /// Spindle speed.
    pub n: SpindleSpeed,
    /// Motor power there.
    pub power: Power,
}

/// A machine.
#[derive(Clone, Debug, PartialEq)]
pub struct Machine {
    /// Lowest spindle speed.
    pub n_min: SpindleSpeed,
    /// Highest spindle speed.
    pub n_max: SpindleSpeed,
    /// Belt steps, ascending; empty when the speed is free.
    pub steps: Vec<SpindleSpeed>,
    /// Fastest feed the machine cuts with.
    pub v_f_max: Option<Velocity>,
    /// Motor power over spindle speed, ascending; empty when unknown. Below the first point torque
    /// is constant, above the last power is.
    pub power: Vec<PowerPoint>,
    /// Share of the motor power that reaches the cutter.
    pub efficiency: f64,
    /// Stiffness of spindle, holder, frame and table together, as felt at the cutter.
    pub stiffness: Option<Stiffness>,
    /// Total indicated runout at the tip.
    pub runout: Option<Length>,
    /// Backlash of the feed screws.
    pub backlash: Option<Length>,
    /// Force along the feed below which friction holds the table.
    pub drag: Option<Force>,
    /// Force at which the cutter creeps out of its collet.
    pub collet_grip: Option<Force>,
    /// Acceleration of the axes.
    pub acceleration: Option<Acceleration>,
    /// Light machine: the depth and width guidelines for light mills apply.
    pub light: bool,
}

impl Machine {
    /// Motor power at `n`: constant torque below the first point, straight lines between points,
    /// constant above the last. `None` when no point is known.
    pub fn power_at(&self, n: SpindleSpeed) -> Option<Power> {
        let (first, last) = (self.power.first()?, self.power.last()?);
        if n <= first.n {
            return Some(first.power * (n.in_per_minute() / first.n.in_per_minute()));
        }
        let pair = self.power.windows(2).find(|p| n <= p[1].n);
        Some(pair.map_or(last.power, |p| {
            let span = p[1].n.in_per_minute() - p[0].n.in_per_minute();
            let share = (n.in_per_minute() - p[0].n.in_per_minute()) / span;
            p[0].power + (p[1].power - p[0].power) * share
        }))
    }

    /// The speed that can be set nearest below `n`: a belt step, or `n` itself.
    pub fn settable(&self, n: SpindleSpeed) -> SpindleSpeed {
        self.steps
            .iter()
            .copied()
            .rfind(|s| *s <= n)
            .unwrap_or_else(|| self.steps.first().copied().unwrap_or(n))
    }
}
