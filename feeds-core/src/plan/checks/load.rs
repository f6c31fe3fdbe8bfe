//! Bending, stress, power and hold.

use super::{Desk, at_most, practice};
use crate::cut::Path;
use crate::formula::allowed::{ThirdOfStrength, TipAllowed, WALL};
use crate::formula::holding::{
    ColletAllowed, FrictionHold, HoldAllowed, PullThroughBacklash, SlidingForce, TippingAllowed,
    TippingMoment,
};
use crate::formula::power::{POWER_THERE, SpindleDraws};
use crate::limit::Found;
use crate::machine::Machine;
use crate::notebook::Notebook;
use crate::plan::limits as l;
use crate::plan::loads::Loads;
use crate::plan::moments::{Engaged, Moments};
use crate::plan::setup::Setup;
use crate::quantity::{Force, Power, Quantity, SpindleSpeed};
use crate::symbol as s;

/// How far a wall may be off where nobody said, m: roughing (common practice).
pub const ROUGHING: f64 = 20e-6;

impl<N: Notebook> Desk<'_, N> {
    pub(super) fn under_load(&mut self, moments: &Moments, loads: Option<&[Loads]>) {
        match loads {
            Some(loads) => {
                for of in moments.iter().zip(loads) {
                    self.cutter(of);
                    self.spindle(of);
                    self.pulls(of);
                    self.hold(of);
                }
            }
            None => {
                for limit in [&l::POWER, &l::WALL, &l::STRESS, &l::RUPTURE, &l::HOLD] {
                    self.needs(limit, "a specific cutting force of this stock");
                }
            }
        }
    }

    /// Bending, the wall, and what the cutter is stressed by.
    fn cutter(&mut self, of: (&Engaged, &Loads)) {
        let (setup, (_, loads)) = (self.setup, of);
        let cutter = &setup.cutter;
        self.put_load(&l::TIP, of, |notes| {
            let d = cutter.diameter;
            at_most(loads.tip, notes.take(TipAllowed { d }).si())
        });
        let strength = cutter.rupture;
        self.put_load(&l::STRESS, of, |notes| {
            at_most(loads.stress, notes.take(ThirdOfStrength { strength }).si())
        });
        self.put_load(&l::RUPTURE, of, |_| at_most(loads.stress, strength.value));
        if !matches!(setup.cut.path, Path::Face | Path::BallFinish) {
            self.put_load(&l::WALL, of, |notes| {
                if N::KEEPS {
                    write_wall(setup, of, notes);
                }
                let tolerance = setup.cut.tolerance.map_or(ROUGHING, |t| t.value);
                at_most(loads.wall(), tolerance)
            });
        }
    }

    fn spindle(&mut self, of: (&Engaged, &Loads)) {
        let (n, (_, loads)) = (self.at.n, of);
        let machine = self.setup.machine.as_ref();
        match machine.and_then(|machine| Some((machine, machine.power_at(n)?))) {
            Some((machine, power)) => self.put_load(&l::POWER, of, |notes| {
                if N::KEEPS {
                    write_power(machine, n, power, notes);
                }
                let draws = SpindleDraws {
                    p_m: Power::from_si(loads.power),
                    efficiency: machine.efficiency,
                };
                at_most(notes.take(draws).si(), power.value)
            }),
            None => self.needs(&l::POWER, "the machine's spindle power"),
        }
    }

    /// What pulls the cutter out of its collet, and the table through its backlash.
    fn pulls(&mut self, of: (&Engaged, &Loads)) {
        let (setup, f_z, (_, loads)) = (self.setup, self.at.f_z, of);
        let machine = setup.machine.as_ref();
        match machine.and_then(|machine| machine.collet_grip) {
            Some(grip) => self.put_load(&l::PULL_OUT, of, |notes| {
                at_most(loads.lift, notes.take(ColletAllowed { grip }).si())
            }),
            None if loads.lift > 0.0 => self.needs(&l::PULL_OUT, "the grip of the collet"),
            None => {}
        }
        let loose = machine.and_then(|machine| Some((machine.backlash?, machine.drag?)));
        match (setup.cut.climbs(), loose) {
            (false, _) => {}
            (true, None) => self.needs(&l::BACKLASH, "the machine's backlash and drag"),
            (true, Some((backlash, drag))) => self.put_load(&l::BACKLASH, of, |notes| {
                let along = Force::from_si(loads.along);
                let pull = notes.take(PullThroughBacklash {
                    along,
                    backlash,
                    f_z,
                });
                at_most(pull.si(), drag.value)
            }),
        }
    }

    /// Friction and tipping.
    fn hold(&mut self, of: (&Engaged, &Loads)) {
        let (_, loads) = of;
        let Some((hold, clamp)) = self.setup.hold.and_then(|h| Some((h, h.clamp_force?))) else {
            self.needs(&l::HOLD, "the clamping force");
            self.needs(&l::TIPPING, "the clamping force");
            return;
        };
        let lateral = Force::from_si(loads.lateral);
        self.put_load(&l::HOLD, of, |notes| {
            let lift = Force::from_si(loads.lift);
            let slides = notes.take(SlidingForce { lateral, lift });
            let holds = notes.take(FrictionHold {
                faces: f64::from(hold.faces),
                friction: hold.friction,
                clamp,
            });
            at_most(slides.si(), notes.take(HoldAllowed { holds }).si())
        });
        match hold.grip.zip(hold.height) {
            Some((grip, height)) => self.put_load(&l::TIPPING, of, |notes| {
                let tips = notes.take(TippingMoment { lateral, height });
                at_most(tips.si(), notes.take(TippingAllowed { clamp, grip }).si())
            }),
            None => self.put(&l::TIPPING, |_| {
                Found::Needs("the depth of grip and the height of the cut above it")
            }),
        }
    }
}

fn write_wall(setup: &Setup, (m, loads): (&Engaged, &Loads), notes: &mut impl Notebook) {
    if setup.cut.tolerance.is_none() {
        practice(notes, &s::TOLERANCE, "nobody asked for one: roughing");
    }
    notes.summed(
        WALL,
        || {
            let mut inputs = vec![
                (&s::E, setup.cutter.modulus.si()),
                (&s::STICK_OUT, setup.cutter.stick_out.si()),
                (&s::A_P, m.a_p.si()),
            ];
            let machine = setup.machine.as_ref().and_then(|m| m.stiffness);
            inputs.extend(machine.map(|k| (&s::K_MACHINE, k.si())));
            inputs
        },
        || {
            vec![
                (&s::WALL_ERROR, loads.wall()),
                (&s::WALL_BOTTOM, loads.wall_bottom),
                (&s::WALL_TOP, loads.wall_top),
            ]
        },
    );
}

fn write_power(machine: &Machine, n: SpindleSpeed, power: Power, notes: &mut impl Notebook) {
    notes.summed(
        POWER_THERE,
        || {
            let points = machine.power.iter();
            let points = points.flat_map(|p| [(&s::N_BASE, p.n.si()), (&s::P_RATED, p.power.si())]);
            std::iter::once((&s::N, n.si())).chain(points).collect()
        },
        || vec![(&s::P_THERE, power.si())],
    );
}
