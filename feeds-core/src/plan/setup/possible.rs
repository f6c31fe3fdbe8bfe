//! What each number of a setup can be at all, one by one: what is not a number, endless, or beyond
//! anything that can be built is refused before anything is worked out of it.
//!
//! The ranges are those of arithmetic, far wider than a light mill: what a pass takes is told by
//! [`crate::entry`].

use super::{Setup, SetupError};
use crate::cut::{Descent, Width};
use crate::cutter::Cutter;
use crate::holding::Hold;
use crate::machine::Machine;
use crate::plan::chatter::TipModes;
use crate::plan::guides::Guides;
use crate::quantity::{Quantity, SpindleSpeed};
use crate::symbol::{self as s, Symbol};
use crate::workpiece::{ClassLaw, EdgeTerms, ForceLaw, Resistance, Stock};

/// What a number can be, in SI base units, and why.
type Can = (f64, f64, &'static str);

const SIZE: Can = (1e-6, 10.0, "a size that can be built");
const ROOM: Can = (0.0, 10.0, "a length that can be built");
const FINE: Can = (1e-9, 0.01, "finer is less than an atom or two");
const THIN: Can = (1e-12, 10.0, "more than nothing");
const ANGLE: Can = (0.0, 1.56, "an angle below a right one");
const TURN: Can = (1e-6, std::f64::consts::PI, "at most half a turn");
const STRENGTH: Can = (
    1.0,
    1e24,
    "a stiffness or strength, up to one that never gives",
);
const PRESSURE: Can = (-1e13, 1e13, "a pressure that a material can take");
const EDGE: Can = (-1e9, 1e9, "a force over a width that an edge can take");
const EXPONENT: Can = (0.0, 0.99, "an exponent from 0 to below 1");
const TIMES: Can = (0.0, 1e4, "a share that can be");
const FLOOR: Can = (1e-3, 1e3, "a chip has a thickness from which on it cuts");
const SPREAD: Can = (0.0, 5.0, "a spread that can be");
const SPEED: Can = (1e-9, 1e4, "a speed that can be");
const TURNS: Can = (1e-4, 1e5, "a spindle that turns");
const POWER: Can = (1e-3, 1e7, "a power that can be");
const FORCE: Can = (0.0, 1e9, "a force that can be");
const STIFFNESS: Can = (1.0, 1e12, "a stiffness that can be");
const ONE: Can = (1e-6, 1.0, "more than nothing and at most all");
const SHARE: Can = (-1e3, 1e3, "a share that can be");
const FREQUENCY: Can = (1e-3, 1e7, "a frequency that can be");
const PACE: Can = (1e-6, 1e6, "an acceleration that can be");

/// Collects what cannot be.
struct Seen {
    faults: Vec<SetupError>,
}

impl Seen {
    fn number(&mut self, symbol: &'static Symbol, value: f64, (least, most, why): Can) {
        // Compared positively, so that what is not a number is refused as well.
        let inside = value >= least && value <= most;
        if !inside {
            self.faults.push(SetupError::Outside {
                symbol,
                value,
                least,
                from: true,
                most,
                why,
            });
        }
    }

    fn of<Q: Quantity>(&mut self, symbol: &'static Symbol, value: Q, can: Can) {
        self.number(symbol, value.si(), can);
    }

    fn maybe<Q: Quantity>(&mut self, symbol: &'static Symbol, value: Option<Q>, can: Can) {
        if let Some(value) = value {
            self.of(symbol, value, can);
        }
    }
}

/// What is not a number that can be, each said of its symbol.
pub(super) fn faults(setup: &Setup) -> Vec<SetupError> {
    let mut seen = Seen { faults: Vec::new() };
    cutter(&mut seen, &setup.cutter);
    stock(&mut seen, &setup.stock);
    if let Some(m) = &setup.machine {
        machine(&mut seen, m);
    }
    if let Some(h) = &setup.hold {
        hold(&mut seen, h);
    }
    cut(&mut seen, setup);
    guides(&mut seen, &setup.guides);
    if let Some(modes) = &setup.modes {
        swings(&mut seen, modes);
    }
    seen.faults
}

fn cutter(seen: &mut Seen, c: &Cutter) {
    seen.of(&s::D, c.diameter, SIZE);
    seen.of(&s::HELIX, c.helix, ANGLE);
    seen.of(&s::R_EPS, c.corner_radius, ROOM);
    seen.of(&s::L_FLUTE, c.flute_length, SIZE);
    seen.of(&s::STICK_OUT, c.stick_out, SIZE);
    seen.of(&s::D_SHANK, c.shank, SIZE);
    if let Some(neck) = c.neck {
        seen.of(&s::D_NECK, neck.diameter, SIZE);
        seen.of(&s::L_NECK, neck.length, ROOM);
    }
    seen.maybe(&s::D_CORE, c.core, SIZE);
    seen.maybe(&s::R_EDGE, c.edge_radius, FINE);
    seen.maybe(&s::R_USUAL, c.usual_edge_radius, FINE);
    seen.number(&s::GROWTH, c.rounding, (1.0, 1e4, "wear rounds an edge"));
    seen.of(&s::E, c.modulus, STRENGTH);
    seen.of(&s::SIGMA_B, c.rupture, STRENGTH);
}

fn stock(seen: &mut Seen, stock: &Stock) {
    seen.number(&s::LAMBDA, stock.chip_floor, FLOOR);
    if let Some((least, most)) = stock.v_c {
        seen.of(&s::V_C_LEAST, least, SPEED);
        let why = "the highest cutting speed is not below the lowest";
        seen.of(&s::V_C_MOST, most, (least.si().max(SPEED.0), SPEED.1, why));
    }
    if let Some(band) = stock.f_z {
        seen.of(&s::F_FULL_LEAST, band.least, FINE);
        seen.of(&s::F_Z, band.start, FINE);
        let why = "the highest feed is not below the lowest";
        seen.of(
            &s::F_FULL_MOST,
            band.most,
            (band.least.si().max(FINE.0), ROOM.1, why),
        );
    }
    if let Some(r) = &stock.resistance {
        resistance(seen, r);
    }
}

fn resistance(seen: &mut Seen, r: &Resistance) {
    match &r.law {
        ForceLaw::Class(law) => class(seen, law),
        ForceLaw::Linear(law) => {
            for (symbol, si) in law.values() {
                let can = match symbol {
                    _ if symbol == &s::K_TC => (1e-6, PRESSURE.1, PRESSURE.2),
                    _ if symbol.unit == s::K_TE.unit => EDGE,
                    _ => PRESSURE,
                };
                seen.number(symbol, si, can);
            }
        }
    }
    if let Some(body) = r.body {
        seen.of(&s::HARDNESS, body.hardness, STRENGTH);
        seen.of(&s::E_STOCK, body.modulus, STRENGTH);
    }
    seen.of(&s::LAND, r.land, ROOM);
    let (f, spread) = (r.factors, r.spread);
    for factor in [f.cut, f.edge, f.across, f.land, f.all] {
        seen.number(&s::RATIO, factor, TIMES);
    }
    for spread in [spread.cut, spread.edge, spread.across, spread.land] {
        seen.number(&s::RATIO, spread, SPREAD);
    }
}

fn class(seen: &mut Seen, law: &ClassLaw) {
    for row in [law.mean, law.hardest] {
        seen.of(&s::KC11, row.kc11, STRENGTH);
        seen.number(&s::M_C, row.m_c, EXPONENT);
    }
    seen.number(&s::K_R_SHARE, law.k_r, SHARE);
    seen.number(&s::K_A_SHARE, law.k_a, SHARE);
    match law.edge {
        EdgeTerms::Measured {
            along,
            across,
            scale,
        } => {
            seen.of(&s::K_TE0, along, EDGE);
            seen.of(&s::K_RE0, across, EDGE);
            seen.number(&s::HARD_SCALE, scale, TIMES);
        }
        EdgeTerms::Ploughing { along, across } => {
            seen.number(&s::PLOUGH_T, along, TIMES);
            seen.number(&s::PLOUGH_R, across, TIMES);
        }
        EdgeTerms::OfRow { share } => seen.number(&s::EDGE_SHARE, share, TIMES),
    }
    let (least, most) = law.measured;
    seen.of(&s::H, least, ROOM);
    seen.of(&s::H, most, ROOM);
}

fn machine(seen: &mut Seen, m: &Machine) {
    seen.of(&s::N_LEAST, m.n_min.turns(), TURNS);
    seen.of(&s::N_MOST, m.n_max.turns(), TURNS);
    for step in &m.steps {
        seen.of(&s::N, step.turns(), TURNS);
    }
    seen.maybe(&s::V_F_MOST, m.v_f_max, SPEED);
    for point in &m.power {
        seen.of(&s::N_BASE, point.n.turns(), TURNS);
        seen.of(&s::P_RATED, point.power, POWER);
    }
    seen.number(&s::ETA, m.efficiency, ONE);
    seen.maybe(&s::K_MACHINE, m.stiffness, STIFFNESS);
    seen.maybe(&s::TIR, m.runout, ROOM);
    seen.maybe(&s::BACKLASH, m.backlash, ROOM);
    seen.maybe(&s::DRAG, m.drag, FORCE);
    seen.maybe(&s::GRIP_FORCE, m.collet_grip, FORCE);
    seen.maybe(&s::ACCELERATION, m.acceleration, PACE);
}

fn hold(seen: &mut Seen, h: &Hold) {
    seen.maybe(&s::F_CLAMP, h.clamp_force, FORCE);
    seen.number(&s::FRICTION, h.friction, TIMES);
    seen.maybe(&s::L_GRIP, h.grip, ROOM);
    seen.maybe(&s::H_GRIP, h.height, ROOM);
}

fn cut(seen: &mut Seen, setup: &Setup) {
    let (cut, given) = (&setup.cut, &setup.given);
    seen.of(&s::A_P, cut.a_p, THIN);
    match cut.width {
        Some(Width::Across(a_e)) => seen.of(&s::A_E, a_e, THIN),
        Some(Width::Angle(angle)) => seen.of(&s::PHI_S, angle, TURN),
        None => {}
    }
    if let Some(wall) = cut.wall {
        seen.of(&s::WALL_R, wall.radius, SIZE);
    }
    seen.maybe(&s::PREVIOUS_D, cut.previous, SIZE);
    seen.of(&s::TILT, cut.tilt, ANGLE);
    seen.of(&s::SLOPE, cut.slope, ANGLE);
    match cut.entry {
        Some(Descent::Ramp(angle)) => seen.of(&s::RAMP, angle, ANGLE),
        Some(Descent::Helix { hole, pitch }) => {
            seen.of(&s::WALL_D, hole, SIZE);
            seen.of(&s::PITCH, pitch, ROOM);
        }
        Some(Descent::Plunge) | None => {}
    }
    seen.maybe(&s::TOLERANCE, cut.tolerance, ROOM);
    seen.maybe(&s::N, given.n.map(SpindleSpeed::turns), TURNS);
    seen.maybe(&s::V_C, given.v_c, SPEED);
    seen.maybe(&s::F_Z, given.f_z, THIN);
    seen.maybe(&s::V_F, given.v_f, SPEED);
}

fn guides(seen: &mut Seen, g: &Guides) {
    let width = g.width.map(|width| width.usual);
    let deeper = g.width.and_then(|width| width.deeper);
    for (symbol, value) in [
        (&s::DEPTH_TIMES, g.depth),
        (&s::WIDTH_TIMES, width),
        (&s::DEPTH_TIMES, deeper.map(|(depth, _)| depth)),
        (&s::WIDTH_TIMES, deeper.map(|(_, width)| width)),
        (&s::CHIP_TIMES, g.chip_room),
        (&s::SLENDER_MOST, g.stick_out),
        (&s::PLUNGE_SHARE, g.plunge_feed),
    ] {
        if let Some(value) = value {
            seen.number(symbol, value, TIMES);
        }
    }
    seen.maybe(&s::RAMP_MOST, g.steepest, ANGLE);
    seen.maybe(&s::LAND, g.worn_land, ROOM);
    seen.maybe(&s::PHI_USUAL, g.corner, TURN);
}

fn swings(seen: &mut Seen, modes: &TipModes) {
    for mode in modes.of.iter().flatten() {
        seen.of(&s::K_MODE, mode.k, STIFFNESS);
        seen.number(
            &s::ZETA,
            mode.zeta,
            (1e-6, 0.999, "a mode swings, and it dies away"),
        );
        seen.of(&s::F_N, mode.f_n, FREQUENCY);
    }
}
