//! What recipes take: rows of the register of entries, and words.

use super::field::{Kind, RecipeField};
use crate::entry as e;
use crate::symbol as s;

pub(super) const D: RecipeField = RecipeField::of(&e::DIAMETER);
/// The diameter the speed is meant at.
pub(super) const D_EFF: RecipeField = D.standing_for(&s::D_EFF);
pub(super) const N: RecipeField = RecipeField::of(&e::SPINDLE);
pub(super) const V_C: RecipeField = RecipeField::of(&e::CUTTING_SPEED);
pub(super) const V_F: RecipeField = RecipeField::of(&e::FEED);
pub(super) const F_Z: RecipeField = RecipeField::of(&e::FEED_PER_TOOTH);
pub(super) const Z: RecipeField = RecipeField::of(&e::EDGES);
pub(super) const A_P: RecipeField = RecipeField::of(&e::DEPTH);
pub(super) const A_E: RecipeField = RecipeField::of(&e::WIDTH);
pub(super) const KAPPA: RecipeField = RecipeField::of(&e::KAPPA).optional();
pub(super) const H_MAX: RecipeField = RecipeField::of(&e::H_MAX).optional();
pub(super) const H_M: RecipeField = RecipeField::of(&e::H_M).optional();
pub(super) const L: RecipeField = RecipeField::of(&e::LENGTH);
pub(super) const APPROACH: RecipeField = RecipeField::of(&e::APPROACH).optional();
pub(super) const WIDTH: RecipeField = RecipeField::of(&e::WORK_WIDTH);
pub(super) const WALL: RecipeField = RecipeField::of_kind(
    "wall",
    "which side of a round wall",
    Kind::Choice(&["inside", "outside"]),
    "inside",
    "a hollow wall raises the engagement, a bulging one lowers it",
)
.optional();
pub(super) const WALL_RADIUS: RecipeField = RecipeField::of(&e::WALL_RADIUS).optional();
pub(super) const PREVIOUS_D: RecipeField = RecipeField::of(&e::PREVIOUS).optional();
pub(super) const HELIX: RecipeField = RecipeField::of(&e::HELIX);
pub(super) const END: RecipeField = RecipeField::of_kind(
    "end",
    "shape of the end",
    Kind::Choice(&["square", "corner", "ball"]),
    "ball",
    "it decides which part of the end is engaged",
);
pub(super) const CORNER_RADIUS: RecipeField = RecipeField::of(&e::CORNER_RADIUS).optional();
pub(super) const TILT: RecipeField = RecipeField::of(&e::TILT).optional();
pub(super) const R: RecipeField = RecipeField::of(&e::RADIUS);
pub(super) const STEP: RecipeField = RecipeField::of(&e::STEP);
pub(super) const SLOPE: RecipeField = RecipeField::of(&e::SLOPE).optional();
pub(super) const CUSP: RecipeField = RecipeField::of(&e::CUSP);
pub(super) const MARKS: RecipeField = RecipeField::of(&e::PITCH).such_as("0.1mm");
pub(super) const SIDE: RecipeField = RecipeField::of_kind(
    "side",
    "which side of the wall",
    Kind::Choice(&["inside", "outside"]),
    "inside",
    "inside a wall the centre is slower than the wall, outside faster",
);
pub(super) const WALL_D: RecipeField = RecipeField::of(&e::WALL_D);
pub(super) const BORE_D: RecipeField = WALL_D.keyed("D_bore");
pub(super) const HOLE_D: RecipeField = RecipeField::of(&e::HOLE);
pub(super) const ENTRY_D: RecipeField = WALL_D.keyed("D_hole").such_as("9mm");
pub(super) const PITCH: RecipeField = RecipeField::of(&e::PITCH);
pub(super) const DEPTH: RecipeField = RecipeField::of(&e::DEPTH_TO_REACH);
pub(super) const RAMP: RecipeField = RecipeField::of(&e::RAMP_ANGLE);
pub(super) const KIND: RecipeField = RecipeField::of_kind(
    "kind",
    "how the cutter meets the work",
    Kind::Choice(&["side", "centred-face"]),
    "side",
    "along an edge with a_e, or centred over a width w",
);
pub(super) const KC11: RecipeField = RecipeField::of(&e::KC11);
pub(super) const M_C: RecipeField = RecipeField::of(&e::M_C);
pub(super) const H: RecipeField = RecipeField::of(&e::CHIP_THICKNESS);
pub(super) const B: RecipeField = RecipeField::of(&e::B);
pub(super) const RAKE: RecipeField = RecipeField::of(&e::RAKE).optional();
pub(super) const RAKE_REF: RecipeField = RecipeField::of(&e::RAKE_REF).optional();
pub(super) const WEAR: RecipeField = RecipeField::of(&e::WEAR).optional();
pub(super) const U: RecipeField = RecipeField::of(&e::U);
pub(super) const Q: RecipeField = RecipeField::of(&e::Q);
pub(super) const EFFICIENCY: RecipeField = RecipeField::of(&e::EFFICIENCY).optional();
pub(super) const PATH: RecipeField = RecipeField::of_kind(
    "path",
    "how the cutter meets the work",
    Kind::Choice(&["slot", "up", "down"]),
    "down",
    "it decides where in the turn the chip is thick",
);
pub(super) const K_R: RecipeField = RecipeField::of(&e::K_R).optional();
pub(super) const K_A: RecipeField = RecipeField::of(&e::K_A).optional();
pub(super) const K_TC: RecipeField = RecipeField::of(&e::K_TC);
pub(super) const K_RC: RecipeField = RecipeField::of(&e::K_RC).optional();
pub(super) const K_AC: RecipeField = RecipeField::of(&e::K_AC).optional();
pub(super) const K_TE: RecipeField = RecipeField::of(&e::K_TE);
pub(super) const K_RE: RecipeField = RecipeField::of(&e::K_RE).optional();
pub(super) const K_AE: RecipeField = RecipeField::of(&e::K_AE).optional();
pub(super) const TIR: RecipeField = RecipeField::of(&e::RUNOUT).optional();
pub(super) const E: RecipeField = RecipeField::of(&e::MODULUS);
pub(super) const FORCE: RecipeField = RecipeField::of(&e::FORCE);
pub(super) const SEGMENTS: RecipeField = RecipeField::of_kind(
    "segments",
    "sections from the holder to the tip, length x diameter",
    Kind::Sections,
    "10mmx6mm,15mmx2.8mm",
    "each bends by its own diameter",
);
pub(super) const LOAD_FROM_TIP: RecipeField = RecipeField::of(&e::LOAD_FROM_TIP).optional();
pub(super) const K_X: RecipeField = RecipeField::of(&e::K_X);
pub(super) const K_Y: RecipeField = RecipeField::of(&e::K_Y);
pub(super) const Z_X: RecipeField = RecipeField::of(&e::ZETA_X);
pub(super) const Z_Y: RecipeField = RecipeField::of(&e::ZETA_Y);
pub(super) const F_X: RecipeField = RecipeField::of(&e::F_X);
pub(super) const F_Y: RecipeField = RecipeField::of(&e::F_Y);
pub(super) const K_T: RecipeField = RecipeField::of(&e::K_T);
pub(super) const K_R_RATIO: RecipeField = RecipeField::of(&e::K_R_RATIO);
pub(super) const A_E_RATIO: RecipeField = RecipeField::of(&e::A_E_RATIO);
pub(super) const K_MODE: RecipeField = RecipeField::of(&e::K_MODE);
pub(super) const ZETA: RecipeField = RecipeField::of(&e::ZETA);
pub(super) const F_N: RecipeField = RecipeField::of(&e::F_N);
pub(super) const K_S: RecipeField = RecipeField::of(&e::K_S);
pub(super) const TAYLOR_N: RecipeField = RecipeField::of(&e::TAYLOR_N);
pub(super) const TAYLOR_C: RecipeField = RecipeField::of(&e::TAYLOR_C);
pub(super) const SPEED_RATIO: RecipeField = RecipeField::of(&e::SPEED_RATIO);
pub(super) const FEED_RATIO: RecipeField = RecipeField::of(&e::FEED_RATIO).optional();
pub(super) const FEED_EXPONENT: RecipeField = RecipeField::of(&e::FEED_EXPONENT).optional();
pub(super) const POINTS: RecipeField = RecipeField::of_kind(
    "points",
    "logged lives, cutting speed : tool life",
    Kind::Lives,
    "60m/min:30min,90m/min:8min",
    "at least two speeds, or there is no line to draw",
);
pub(super) const LABOUR: RecipeField = RecipeField::of(&e::LABOUR);
pub(super) const CUTTER_COST: RecipeField = RecipeField::of(&e::CUTTER_COST);
pub(super) const CHANGE_TIME: RecipeField = RecipeField::of(&e::CHANGE_TIME);
pub(super) const SPENT: RecipeField = RecipeField::of(&e::SPENT);
pub(super) const SAVED: RecipeField = RecipeField::of(&e::SAVED);
