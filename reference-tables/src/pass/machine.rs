//! The machine and the hold.

use super::entries::Entries;
use super::error::PassError;
use super::guess::Guess;
use super::room::Room;
use super::usual::{EFFICIENCY, FRICTION, NUT_FACTOR};
use crate::hold::HoldRow;
use feeds_core::formula::Formula;
use feeds_core::formula::holding::ScrewForce;
use feeds_core::holding;
use feeds_core::machine::{Machine, PowerPoint};
use feeds_core::quantity::{Force, Length, Power, SpindleSpeed, Torque};
use feeds_core::symbol::{self as s, Symbol};

impl<'t, E: Entries<'t>> Room<'t, '_, E> {
    pub(super) fn machine(&mut self) -> Option<Machine> {
        const OF: [&Symbol; 11] = [
            &s::N_MOST,
            &s::N_LEAST,
            &s::V_F_MOST,
            &s::P_RATED,
            &s::N_BASE,
            &s::ETA,
            &s::K_MACHINE,
            &s::TIR,
            &s::BACKLASH,
            &s::DRAG,
            &s::GRIP_FORCE,
        ];
        if !self.entries.has_machine() && !OF.into_iter().any(|of| self.has(of)) {
            return None;
        }
        let most: Option<SpindleSpeed> = self.need(&s::N_MOST);
        let n_max = most?;
        let n_min = self.quantity(&s::N_LEAST).unwrap_or_else(|| {
            self.told(&s::N_LEAST, "nobody gave it: any speed");
            SpindleSpeed::per_minute(1.0)
        });
        let power: Option<Power> = self.quantity(&s::P_RATED);
        let mut base = n_max;
        let mut efficiency = EFFICIENCY.value;
        if power.is_some() {
            base = self.quantity(&s::N_BASE).unwrap_or_else(|| {
                self.told(
                    &s::N_BASE,
                    "nobody gave it: the power is there at the highest speed",
                );
                n_max
            });
            efficiency = self.quantity_or(&s::ETA, &EFFICIENCY, EFFICIENCY.value);
        }
        Some(Machine {
            n_min,
            n_max,
            steps: Vec::new(),
            v_f_max: self.quantity(&s::V_F_MOST),
            power: power
                .map(|power| PowerPoint { n: base, power })
                .into_iter()
                .collect(),
            efficiency,
            stiffness: self.quantity(&s::K_MACHINE),
            runout: self.quantity(&s::TIR),
            backlash: self.quantity(&s::BACKLASH),
            drag: self.quantity(&s::DRAG),
            collet_grip: self.quantity(&s::GRIP_FORCE),
            acceleration: None,
            light: true,
        })
    }

    pub(super) fn hold(&mut self) -> Option<holding::Hold> {
        const OF: [&Symbol; 6] = [
            &s::F_CLAMP,
            &s::SCREW_TORQUE,
            &s::SCREW_D,
            &s::FRICTION,
            &s::L_GRIP,
            &s::H_GRIP,
        ];
        if !self.entries.has_hold() && !OF.into_iter().any(|of| self.has(of)) {
            return None;
        }
        let row = self.entries.hold();
        let untested = |row: &&HoldRow| !row.accepted && !self.entries.has(&s::F_CLAMP);
        if let Some(row) = row.filter(untested) {
            let why = row.why.as_deref().unwrap_or("its force is not known");
            self.errors.push(PassError::Untested {
                name: row.name.clone(),
                why: why.to_owned(),
            });
            return None;
        }
        let screw = self.has(&s::SCREW_TORQUE);
        if self.of_row(&s::F_CLAMP) && !screw {
            self.guesses.push(Guess::ClampForce);
        }
        if self.of_row(&s::FRICTION) {
            self.guesses.push(Guess::Friction);
        }
        Some(holding::Hold {
            clamp_force: self.clamp_force(),
            friction: self.quantity_or(&s::FRICTION, &FRICTION, FRICTION.value),
            faces: row.map_or(2, HoldRow::friction_faces),
            grip: self.quantity(&s::L_GRIP),
            height: self.quantity(&s::H_GRIP),
        })
    }

    /// The clamping force: as typed, from the screw, or the hold's own.
    fn clamp_force(&mut self) -> Option<Force> {
        let screw = self.has(&s::SCREW_TORQUE) || self.has(&s::SCREW_D);
        if !screw || self.entries.own(&s::F_CLAMP) {
            return self.quantity(&s::F_CLAMP);
        }
        let torque: Option<Torque> = self.need(&s::SCREW_TORQUE);
        let screw_d: Option<Length> = self.need(&s::SCREW_D);
        let clamp = ScrewForce {
            torque: torque?,
            nut_factor: NUT_FACTOR.value,
            screw_d: screw_d?,
        };
        let why = format!(
            "the screw's torque over {} of its diameter: {}",
            NUT_FACTOR.value,
            NUT_FACTOR.reason()
        );
        self.told(&s::F_CLAMP, &why);
        Some(clamp.value())
    }
}
