//! Spindle, cutting speed and runout.

use super::{Desk, at_least, at_most};
use crate::formula::allowed::{HalfFeed, RunoutGain};
use crate::notebook::Notebook;
use crate::plan::limits as l;
use crate::quantity::{Length, Quantity};
use std::f64::consts::PI;

impl<N: Notebook> Desk<'_, N> {
    pub(super) fn speeds(&mut self, d_eff: Length) {
        let (setup, at) = (self.setup, self.at);
        match &setup.machine {
            Some(machine) => {
                let n = at.n.turns().value;
                let (least, most) = (machine.n_min.turns().value, machine.n_max.turns().value);
                self.put(&l::SPINDLE_MOST, |_| at_most(n, most));
                self.put(&l::SPINDLE_LEAST, |_| at_least(n, least));
                if let Some(tir) = machine.runout {
                    let z = f64::from(setup.cutter.edges);
                    self.put(&l::RUNOUT, |notes| {
                        let gain = notes.take(RunoutGain { tir, z });
                        at_most(gain.si(), notes.take(HalfFeed { f_z: at.f_z }).si())
                    });
                }
            }
            None => self.needs(&l::SPINDLE_MOST, "a machine"),
        }
        match setup.stock.v_c {
            Some((low, high)) => {
                let v_c = (PI * d_eff * at.n.turns()).value;
                self.put(&l::CUTTING_SPEED, |_| at_most(v_c, high.value));
                self.put(&l::MACHINE_LIMITED, |_| at_least(v_c, low.value));
            }
            None => self.needs(
                &l::CUTTING_SPEED,
                "a cutting-speed band of this stock and cutter",
            ),
        }
    }
}
