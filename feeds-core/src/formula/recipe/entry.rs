//! What recipes take: rows of the register of entries, and words.

use super::field::{Field, Kind};
use crate::entry as e;
use crate::symbol as s;

pub(super) const D: Field = Field::of(&e::DIAMETER);
/// The diameter the speed is meant at.
pub(super) const D_EFF: Field = D.standing_for(&s::D_EFF);
pub(super) const N: Field = Field::of(&e::SPINDLE);
pub(super) const V_C: Field = Field::of(&e::CUTTING_SPEED);
pub(super) const V_F: Field = Field::of(&e::FEED);
pub(super) const F_Z: Field = Field::of(&e::FEED_PER_TOOTH);
pub(super) const Z: Field = Field::of(&e::EDGES);
pub(super) const A_P: Field = Field::of(&e::DEPTH);
pub(super) const A_E: Field = Field::of(&e::WIDTH);
pub(super) const KAPPA: Field = Field::of(&e::KAPPA).optional();
pub(super) const H_MAX: Field = Field::of(&e::H_MAX).optional();
pub(super) const H_M: Field = Field::of(&e::H_M).optional();
pub(super) const L: Field = Field::of(&e::LENGTH);
pub(super) const APPROACH: Field = Field::of(&e::APPROACH).optional();
pub(super) const WIDTH: Field = Field::of(&e::WORK_WIDTH);
pub(super) const WALL: Field = Field::of_kind(
    "wall",
    "which side of a round wall",
    Kind::Choice(&["inside", "outside"]),
    "inside",
    "a hollow wall raises the engagement, a bulging one lowers it",
)
.optional();
pub(super) const WALL_RADIUS: Field = Field::of(&e::WALL_RADIUS).optional();
pub(super) const PREVIOUS_D: Field = Field::of(&e::PREVIOUS).optional();
pub(super) const HELIX: Field = Field::of(&e::HELIX);
pub(super) const END: Field = Field::of_kind(
    "end",
    "shape of the end",
    Kind::Choice(&["square", "corner", "ball"]),
    "ball",
    "it decides which part of the end is engaged",
);
pub(super) const CORNER_RADIUS: Field = Field::of(&e::CORNER_RADIUS).optional();
pub(super) const TILT: Field = Field::of(&e::TILT).optional();
pub(super) const R: Field = Field::of(&e::RADIUS);
pub(super) const STEP: Field = Field::of(&e::STEP);
pub(super) const SLOPE: Field = Field::of(&e::SLOPE).optional();
pub(super) const CUSP: Field = Field::of(&e::CUSP);
pub(super) const MARKS: Field = Field::of(&e::PITCH).such_as("0.1mm");
pub(super) const SIDE: Field = Field::of_kind(
    "side",
    "which side of the wall",
    Kind::Choice(&["inside", "outside"]),
    "inside",
    "inside a wall the centre is slower than the wall, outside faster",
);
pub(super) const WALL_D: Field = Field::of(&e::WALL_D);
pub(super) const BORE_D: Field = WALL_D.keyed("D_bore");
pub(super) const HOLE_D: Field = Field::of(&e::HOLE);
pub(super) const ENTRY_D: Field = WALL_D.keyed("D_hole").such_as("9mm");
pub(super) const PITCH: Field = Field::of(&e::PITCH);
pub(super) const DEPTH: Field = Field::of(&e::DEPTH_TO_REACH);
pub(super) const RAMP: Field = Field::of(&e::RAMP_ANGLE);
pub(super) const KIND: Field = Field::of_kind(
    "kind",
    "how the cutter meets the work",
    Kind::Choice(&["side", "centred-face"]),
    "side",
    "along an edge with a_e, or centred over a width w",
);
pub(super) const KC11: Field = Field::of(&e::KC11);
pub(super) const M_C: Field = Field::of(&e::M_C);
pub(super) const H: Field = Field::of(&e::CHIP_THICKNESS);
pub(super) const B: Field = Field::of(&e::B);
pub(super) const RAKE: Field = Field::of(&e::RAKE).optional();
pub(super) const RAKE_REF: Field = Field::of(&e::RAKE_REF).optional();
pub(super) const WEAR: Field = Field::of(&e::WEAR).optional();
pub(super) const U: Field = Field::of(&e::U);
pub(super) const Q: Field = Field::of(&e::Q);
pub(super) const EFFICIENCY: Field = Field::of(&e::EFFICIENCY).optional();
pub(super) const PATH: Field = Field::of_kind(
    "path",
    "how the cutter meets the work",
    Kind::Choice(&["slot", "up", "down"]),
    "down",
    "it decides where in the turn the chip is thick",
);
pub(super) const K_R: Field = Field::of(&e::K_R).optional();
pub(super) const K_A: Field = Field::of(&e::K_A).optional();
pub(super) const K_TC: Field = Field::of(&e::K_TC);
pub(super) const K_RC: Field = Field::of(&e::K_RC).optional();
pub(super) const K_AC: Field = Field::of(&e::K_AC).optional();
pub(super) const K_TE: Field = Field::of(&e::K_TE);
pub(super) const K_RE: Field = Field::of(&e::K_RE).optional();
pub(super) const K_AE: Field = Field::of(&e::K_AE).optional();
pub(super) const TIR: Field = Field::of(&e::RUNOUT).optional();
pub(super) const E: Field = Field::of(&e::MODULUS);
pub(super) const FORCE: Field = Field::of(&e::FORCE);
pub(super) const SEGMENTS: Field = Field::of_kind(
    "segments",
    "sections from the holder to the tip, length x diameter",
    Kind::Sections,
    "10mmx6mm,15mmx2.8mm",
    "each bends by its own diameter",
);
pub(super) const LOAD_FROM_TIP: Field = Field::of(&e::LOAD_FROM_TIP).optional();
pub(super) const K_X: Field = Field::of(&e::K_X);
pub(super) const K_Y: Field = Field::of(&e::K_Y);
pub(super) const Z_X: Field = Field::of(&e::ZETA_X);
pub(super) const Z_Y: Field = Field::of(&e::ZETA_Y);
pub(super) const F_X: Field = Field::of(&e::F_X);
pub(super) const F_Y: Field = Field::of(&e::F_Y);
pub(super) const K_T: Field = Field::of(&e::K_T);
pub(super) const K_R_RATIO: Field = Field::of(&e::K_R_RATIO);
pub(super) const A_E_RATIO: Field = Field::of(&e::A_E_RATIO);
pub(super) const K_MODE: Field = Field::of(&e::K_MODE);
pub(super) const ZETA: Field = Field::of(&e::ZETA);
pub(super) const F_N: Field = Field::of(&e::F_N);
pub(super) const K_S: Field = Field::of(&e::K_S);
pub(super) const TAYLOR_N: Field = Field::of(&e::TAYLOR_N);
pub(super) const TAYLOR_C: Field = Field::of(&e::TAYLOR_C);
pub(super) const SPEED_RATIO: Field = Field::of(&e::SPEED_RATIO);
pub(super) const FEED_RATIO: Field = Field::of(&e::FEED_RATIO).optional();
pub(super) const FEED_EXPONENT: Field = Field::of(&e::FEED_EXPONENT).optional();
pub(super) const POINTS: Field = Field::of_kind(
    "points",
    "logged lives, cutting speed : tool life",
    Kind::Lives,
    "60m/min:30min,90m/min:8min",
    "at least two speeds, or there is no line to draw",
);
pub(super) const LABOUR: Field = Field::of(&e::LABOUR);
pub(super) const CUTTER_COST: Field = Field::of(&e::CUTTER_COST);
pub(super) const CHANGE_TIME: Field = Field::of(&e::CHANGE_TIME);
pub(super) const SPENT: Field = Field::of(&e::SPENT);
pub(super) const SAVED: Field = Field::of(&e::SAVED);
