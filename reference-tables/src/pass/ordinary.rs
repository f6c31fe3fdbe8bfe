//! What values of a light mill are ordinary: a typed one far from them is asked about.
//!
//! The ranges are wide: a value inside may still be a mistake, one outside is seldom meant. They
//! stop nothing.

use crate::sourced::Basis;
use feeds_core::cut::Path;
use feeds_core::cutter::End;
use feeds_core::plan::setup::Setup;
use feeds_core::symbol::{self as s, Symbol};

/// What a value is held against.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Beside {
    /// Nothing: the range is in the unit of its symbol.
    Nothing,
    /// The cutting diameter.
    Diameter,
    /// The shank.
    Shank,
    /// The edge radius the tables have for such a cutter.
    UsualEdge,
    /// The slowest speed of the book, or the highest of the machine where that is slower.
    SlowSpeed,
    /// The lowest feed of the book.
    LowFeed,
}

impl Beside {
    /// What that is, after a number of times.
    pub(super) fn words(self) -> Option<&'static str> {
        Some(match self {
            Self::Nothing => return None,
            Self::Diameter => "the diameter",
            Self::Shank => "the shank",
            Self::UsualEdge => "the usual edge radius",
            Self::SlowSpeed => "the slowest that is usual here",
            Self::LowFeed => "the lowest feed of the book",
        })
    }
}

/// What is ordinary for one quantity.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ordinary {
    pub(super) symbol: &'static Symbol,
    pub(super) beside: Beside,
    pub(super) least: f64,
    pub(super) most: f64,
    /// Where it is from.
    pub(super) why: &'static str,
    pub(super) basis: Basis,
}

use Beside::{Diameter, LowFeed, Nothing, Shank, SlowSpeed, UsualEdge};

const fn row(symbol: &'static Symbol, beside: Beside, least: f64, most: f64) -> Ordinary {
    Ordinary {
        symbol,
        beside,
        least,
        most,
        why: "",
        basis: Basis::CommonPractice,
    }
}

const fn known(row: Ordinary, why: &'static str) -> Ordinary {
    Ordinary {
        why,
        basis: Basis::Memory,
        ..row
    }
}

/// No most: what is too much is a limit of its own.
const ANY: f64 = f64::INFINITY;

/// What is ordinary whatever the path. A value of nothing says that there is none of it.
static ALWAYS: &[Ordinary] = &[
    row(&s::D, Nothing, 0.1, 25.4),
    row(&s::Z, Nothing, 1.0, 8.0),
    row(&s::HELIX, Nothing, 10.0, 60.0),
    row(&s::L_FLUTE, Diameter, 0.7, 8.0),
    // A short cone may stick out by less than its shank is thick.
    row(&s::STICK_OUT, Diameter, 1.2, ANY),
    row(&s::STICK_OUT, Shank, 0.0, 10.0),
    known(row(&s::D_SHANK, Nothing, 2.0, 25.4), "shanks of DIN 6535"),
    row(&s::D_SHANK, Diameter, 0.4, 15.0),
    row(&s::D_CORE, Diameter, 0.4, 0.9),
    row(&s::D_NECK, Diameter, 0.5, 1.0),
    row(&s::L_NECK, Diameter, 0.6, 20.0),
    row(&s::R_EDGE, UsualEdge, 0.25, 4.0),
    row(&s::TIR, Nothing, 0.0015, 0.06),
    row(&s::BACKLASH, Nothing, 0.002, 0.4),
    row(&s::N_MOST, Nothing, 1800.0, 60e3),
    row(&s::P_RATED, Nothing, 150.0, 3500.0),
    row(&s::K_MACHINE, Nothing, 2000.0, 50e3),
    row(&s::DRAG, Nothing, 5.0, 500.0),
    row(&s::GRIP_FORCE, Nothing, 50.0, 10e3),
    row(&s::SCREW_TORQUE, Nothing, 1.0, 100.0),
    row(&s::SCREW_D, Nothing, 4.0, 20.0),
    row(&s::L_GRIP, Nothing, 1.0, 25.0),
    row(&s::H_GRIP, Nothing, 0.3, 40.0),
    row(&s::WALL_R, Nothing, 0.5, 80.0),
    row(&s::PREVIOUS_D, Diameter, 1.0, 4.5),
    row(&s::RAMP, Nothing, 0.5, 10.0),
    row(&s::PITCH, Diameter, 0.01, 0.35),
    row(&s::TOLERANCE, Nothing, 0.003, 0.15),
    row(&s::PHI_S, Nothing, 12.0, 180.0),
    row(&s::KC11, Nothing, 250.0, 6000.0),
    row(&s::M_C, Nothing, 0.08, 0.5),
    row(&s::K_TC, Nothing, 250.0, 8000.0),
    row(&s::K_TE, Nothing, 1.0, 150.0),
    row(&s::N, SlowSpeed, 0.25, ANY),
    row(&s::V_C, SlowSpeed, 0.25, ANY),
    row(&s::F_Z, LowFeed, 0.15, ANY),
];

/// What is ordinary of a quantity that is held against nothing else.
pub(super) fn alone(symbol: &Symbol) -> Option<Ordinary> {
    let mut rows = ALWAYS.iter().filter(|row| row.beside == Nothing);
    rows.find(|row| row.symbol == symbol).copied()
}

const CORNER_RADIUS: Ordinary = row(&s::R_EPS, Diameter, 0.015, 0.3);
/// Jaws or clamps, and what sticks to one face: tape.
const CLAMPED: [Ordinary; 2] = [
    row(&s::F_CLAMP, Nothing, 700.0, 20e3),
    row(&s::FRICTION, Nothing, 0.05, 0.7),
];
const STUCK: Ordinary = row(&s::F_CLAMP, Nothing, 30.0, 3000.0);

/// Depth and width of a path, each over the diameter.
fn engagement(path: Path) -> [Ordinary; 2] {
    let [depth, width] = match path {
        Path::Slot => [(0.03, 1.5), (0.0, ANY)],
        Path::Pocket => [(0.03, 1.5), (0.08, 1.0)],
        Path::Side | Path::Bore => [(0.05, 4.0), (0.01, 1.0)],
        Path::Face => [(0.01, 0.6), (0.12, 1.0)],
        Path::BallFinish => [(0.005, 0.5), (0.005, 0.45)],
    };
    [
        row(&s::A_P, Diameter, depth.0, depth.1),
        row(&s::A_E, Diameter, width.0, width.1),
    ]
}

/// Hardened stock is cut in a third of the depth.
const HARD: f64 = 1.0 / 3.0;

/// What is ordinary in a pass.
pub(super) fn ordinary(setup: &Setup) -> Vec<Ordinary> {
    let mut rows = ALWAYS.to_vec();
    let [mut depth, width] = engagement(setup.cut.path);
    if setup.stock.hard {
        depth.least *= HARD;
    }
    rows.extend([depth, width]);
    if setup.cutter.end == End::Corner {
        rows.push(CORNER_RADIUS);
    }
    match setup.hold.map(|hold| hold.faces) {
        Some(1) => rows.push(STUCK),
        _ => rows.extend(CLAMPED),
    }
    rows
}
