//! The fastest feed and speed where the loads leave a stretch of feeds: what the spindle carries,
//! how fast the table goes, and where it is pulled.

use super::ground::{Ground, INSIDE, Spot};
use crate::kernel::root;
use crate::plan::limits as l;
use crate::quantity::{Quantity, SpindleSpeed};
use std::f64::consts::PI;

/// Feeds per tooth with the turns a second they go with.
#[derive(Clone, Copy)]
pub(super) struct Pace {
    pub(super) f_z: f64,
    pub(super) n: f64,
}

impl Ground<'_> {
    /// The most up to a feed at which the table stays where its screws put it.
    pub(super) fn unpulled_up_to(&self, spot: &Spot<'_>, least: f64, most: f64) -> Option<f64> {
        if !self.pulls() || self.unpulled(spot, most) {
            return Some(most);
        }
        let kept = |log: f64| self.unpulled(spot, log.exp());
        root::last(least.ln(), most.ln(), INSIDE, kept).map(f64::exp)
    }

    /// Whether the table stays where its screws put it.
    pub(super) fn unpulled(&self, spot: &Spot<'_>, f_z: f64) -> bool {
        let checks = self.loaded(spot, f_z);
        let backlash = checks.iter().find(|c| c.limit == &l::BACKLASH);
        backlash
            .and_then(|c| self.spare(c))
            .is_none_or(|s| s >= 0.0)
    }

    /// Whether backlash could matter at all.
    pub(super) fn pulls(&self) -> bool {
        let machine = self.setup.machine.as_ref();
        self.setup.cut.climbs() && machine.is_some_and(|m| m.backlash.is_some() && m.drag.is_some())
    }

    /// The fastest turns a second that carry a feed; `None` when the spindle carries it at none.
    pub(super) fn fastest(&self, spot: &Spot<'_>, f_z: f64) -> Option<f64> {
        let (least, most) = spot.turns;
        let z = f64::from(self.setup.cutter.edges);
        let Some(machine) = &self.setup.machine else {
            return Some(most);
        };
        let reach = machine.v_f_max.map_or(f64::MAX, |v_f| {
            self.ceiling(&l::FEED_SPEED, v_f.value) / (z * f_z) * (1.0 - INSIDE)
        });
        let most = most.min(reach);
        let wanted = l::POWER.wanted[1];
        let energy = spot.energy(f_z) / (machine.efficiency * (1.0 - wanted));
        // What is left of the power, W, is straight between the points of its curve.
        let left = |n: f64| {
            let power = machine.power_at(SpindleSpeed::from_si(n));
            power.map_or(0.0, |p| {
                self.ceiling(&l::POWER, p.value) * (1.0 - INSIDE) - energy * n
            })
        };
        if !machine.steps.is_empty() && self.setup.given.n.is_none() {
            let steps = machine.steps.iter().map(|s| s.turns().value);
            return steps
                .filter(|n| *n >= least && *n <= most && left(*n) >= 0.0)
                .reduce(f64::max);
        }
        if most < least {
            return None;
        }
        let mut above = (most, left(most));
        if above.1 >= 0.0 {
            return Some(most);
        }
        let points = machine.power.iter().rev().map(|p| p.n.turns().value);
        for n in points.filter(|n| *n > least && *n < most).chain([least]) {
            let spare = left(n);
            if spare >= 0.0 {
                return Some(n + (above.0 - n) * spare / (spare - above.1));
            }
            above = (n, spare);
        }
        None
    }

    /// The feed and speed that remove most between two feeds that every load keeps.
    ///
    /// A pull on the table is asked of the feed that speed and power leave: more than twice the
    /// backlash a tooth is not pulled, and what the spindle carries may be less.
    pub(super) fn pace(&self, spot: &Spot<'_>, least: f64, most: f64) -> Option<Pace> {
        let steps = self.setup.machine.as_ref().map_or(0, |m| m.steps.len());
        if steps == 0 || self.setup.given.n.is_some() {
            let pace = self.carried(spot, least, most)?;
            let most = self.unpulled_up_to(spot, least, pace.f_z)?;
            return if most < pace.f_z {
                self.carried(spot, least, most)
            } else {
                Some(pace)
            };
        }
        let machine = self.setup.machine.iter().flat_map(|m| &m.steps);
        machine
            .filter_map(|step| {
                let n = step.turns().value;
                let reaches = |f_z| self.fastest(spot, f_z).is_some_and(|fastest| fastest >= n);
                let f_z = thickest(least, most, reaches)?;
                let f_z = self.unpulled_up_to(spot, least, f_z)?;
                Some(Pace { f_z, n })
            })
            .max_by(|a, b| (a.f_z * a.n).total_cmp(&(b.f_z * b.n)))
    }

    /// The thickest chip that the spindle carries, at the fastest turns it carries it with: under
    /// a power cap fewer turns of a thicker chip remove more, since force grows more slowly than
    /// the chip.
    fn carried(&self, spot: &Spot<'_>, least: f64, most: f64) -> Option<Pace> {
        let f_z = thickest(least, most, |f_z| self.fastest(spot, f_z).is_some())?;
        let n = self.fastest(spot, f_z)?;
        Some(Pace { f_z, n })
    }

    /// The same for a feed speed that is kept: the thickest chip within the band of speeds.
    pub(super) fn kept(&self, spot: &Spot<'_>, least: f64, most: f64, v_f: f64) -> Option<Pace> {
        let turns = v_f / f64::from(self.setup.cutter.edges);
        let (slow, fast) = spot.turns;
        let (least, most) = (
            least.max(turns / fast),
            most.min(turns / slow.max(f64::MIN_POSITIVE)),
        );
        let low = self
            .setup
            .stock
            .v_c
            .map_or(slow, |(low, _)| low.value / (PI * spot.d_eff));
        if least > most {
            return None;
        }
        [most.min(turns / low).max(least), most]
            .into_iter()
            .filter_map(|f_z| self.unpulled_up_to(spot, least, f_z))
            .map(|f_z| Pace {
                f_z,
                n: turns / f_z,
            })
            .find(|pace| {
                let fastest = self.fastest(spot, pace.f_z);
                fastest.is_some_and(|fastest| fastest >= pace.n * (1.0 - INSIDE))
            })
    }
}

/// The most between two feeds that a spindle carries; what it does not carry is not carried by
/// more.
fn thickest(least: f64, most: f64, carries: impl Fn(f64) -> bool) -> Option<f64> {
    if carries(most) {
        return Some(most);
    }
    root::last(least.ln(), most.ln(), INSIDE, |log| carries(log.exp())).map(f64::exp)
}
