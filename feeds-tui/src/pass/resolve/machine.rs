//! The machine and the hold.

use super::{Guess, Reader};
use crate::pass::part::FACES;
use feeds_core::formula::Formula;
use feeds_core::formula::holding::ScrewForce;
use feeds_core::holding::Hold;
use feeds_core::machine::{Machine, PowerPoint};
use feeds_core::notebook::Origin;
use feeds_core::quantity::{Force, Length, Power, SpindleSpeed, Torque};
use feeds_core::symbol as s;

/// Share of a spindle's motor power that reaches the cutter where none is given.
const EFFICIENCY: f64 = 0.75;

/// Torque over force and diameter of a dry steel screw (memory).
const NUT_FACTOR: f64 = 0.2;

impl Reader<'_> {
    pub(super) fn machine(&mut self) -> Option<Machine> {
        const KEYS: [&str; 12] = [
            "machine",
            "spindle-most",
            "spindle-least",
            "feed-most",
            "power",
            "base-speed",
            "efficiency",
            "stiffness",
            "runout",
            "backlash",
            "drag",
            "collet-grip",
        ];
        if !KEYS.into_iter().any(|key| self.has(key)) {
            return None;
        }
        let most: Option<SpindleSpeed> = self.need("spindle-most");
        let n_max = most?;
        let n_min = self.quantity("spindle-least").unwrap_or_else(|| {
            self.told(&s::N_LEAST, "nobody gave it: any speed");
            SpindleSpeed::per_minute(1.0)
        });
        let power: Option<Power> = self.quantity("power");
        let mut base = n_max;
        let mut efficiency = EFFICIENCY;
        if power.is_some() {
            base = self.quantity("base-speed").unwrap_or_else(|| {
                self.told(
                    &s::N_BASE,
                    "nobody gave it: the power is there at the highest speed",
                );
                n_max
            });
            let why = "belt and bearings of a light spindle (common practice)";
            efficiency = self.quantity_or("efficiency", EFFICIENCY, why);
        }
        Some(Machine {
            n_min,
            n_max,
            steps: Vec::new(),
            v_f_max: self.quantity("feed-most"),
            power: power
                .map(|power| PowerPoint { n: base, power })
                .into_iter()
                .collect(),
            efficiency,
            stiffness: self.quantity("stiffness"),
            runout: self.quantity("runout"),
            backlash: self.quantity("backlash"),
            drag: self.quantity("drag"),
            collet_grip: self.quantity("collet-grip"),
            acceleration: None,
            light: true,
        })
    }

    pub(super) fn hold(&mut self) -> Option<Hold> {
        const KEYS: [&str; 7] = [
            "hold",
            "clamp-force",
            "screw-torque",
            "screw-diameter",
            "friction",
            "grip",
            "height",
        ];
        if !KEYS.into_iter().any(|key| self.has(key)) {
            return None;
        }
        let of_book = |key| {
            let part = self.parts.iter().find_map(|p| p.get(key));
            let row = part.is_some_and(|(_, from)| matches!(from, Origin::Row { .. }));
            row && self.pass.get(key).is_none()
        };
        let screw = self.has("screw-torque");
        if of_book("clamp-force") && !screw {
            self.guesses.push(Guess::ClampForce);
        }
        if of_book("friction") {
            self.guesses.push(Guess::Friction);
        }
        let why = "smooth jaws, the careful end (common practice)";
        Some(Hold {
            clamp_force: self.clamp_force(),
            friction: self.quantity_or("friction", 0.1, why),
            faces: self.faces(),
            grip: self.quantity("grip"),
            height: self.quantity("height"),
        })
    }

    /// How many faces hold by friction: as many as the hold has, or the two jaws of a vise.
    fn faces(&self) -> u32 {
        let of_hold = self.parts.iter().find_map(|p| p.get(FACES));
        of_hold.and_then(|(text, _)| text.parse().ok()).unwrap_or(2)
    }

    /// The clamping force: as typed, from the screw, or the hold's own.
    fn clamp_force(&mut self) -> Option<Force> {
        let screw = self.has("screw-torque") || self.has("screw-diameter");
        if !screw || self.pass.get("clamp-force").is_some() {
            return self.quantity("clamp-force");
        }
        let torque: Option<Torque> = self.need("screw-torque");
        let screw_d: Option<Length> = self.need("screw-diameter");
        let clamp = ScrewForce {
            torque: torque?,
            nut_factor: NUT_FACTOR,
            screw_d: screw_d?,
        };
        let why = format!(
            "the screw's torque over {NUT_FACTOR} of its diameter: dry steel, good to a third \
             either way (memory)"
        );
        self.told(&s::F_CLAMP, &why);
        Some(clamp.value())
    }
}
