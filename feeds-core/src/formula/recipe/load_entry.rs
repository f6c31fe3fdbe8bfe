//! The entries of the recipes of force, power, bending and chatter.

use super::field::{Field, Kind};
use crate::symbol as s;

const COEFFICIENT: &str = "from foam to hard alloys";
const SHARE: &str = "no force component is many times the cutting force";
const EDGE: &str = "the force of the edge itself over its width";
const MODE: &str = "from a long thin cutter to a heavy spindle";

pub(super) const KC11: Field =
    Field::quantity("kc11", &s::KC11, (1.0, 50e3), "2100N/mm2", COEFFICIENT);
pub(super) const M_C: Field = Field::quantity(
    "mc",
    &s::M_C,
    (0.0, 0.9),
    "0.25",
    "zero is a force in proportion to the chip, and no stock lies near one",
);
pub(super) const H: Field =
    Field::quantity("h", &s::H, (1e-9, 20.0), "0.05mm", "a chip has a thickness");
pub(super) const B: Field =
    Field::quantity("b", &s::B, (1e-4, 1000.0), "2mm", "a chip has a width");
pub(super) const RAKE: Field = Field::quantity(
    "rake",
    &s::RAKE,
    (-45.0, 45.0),
    "10deg",
    "the correction goes with every degree and holds for common edges",
)
.optional();
pub(super) const RAKE_REF: Field = Field::quantity(
    "rake_ref",
    &s::RAKE_REF,
    (-45.0, 45.0),
    "6deg",
    "the rake the table's value was measured at",
)
.optional();
pub(super) const WEAR: Field = Field::quantity(
    "wear",
    &s::WEAR,
    (1.0, 3.0),
    "1.3",
    "one is a new edge, more a worn one: see feeds tables wear",
)
.optional();
pub(super) const U: Field = Field::quantity("u", &s::U, (1e-3, 1000.0), "3J/mm3", COEFFICIENT);
pub(super) const Q: Field = Field::quantity(
    "Q",
    &s::Q,
    (1e-9, 1e6),
    "1.35cm3/min",
    "something has to be removed",
);
pub(super) const EFFICIENCY: Field = Field::quantity(
    "efficiency",
    &s::ETA,
    (0.01, 1.0),
    "0.8",
    "a drive passes on at most what it takes",
)
.optional();
pub(super) const PATH: Field = Field::of_kind(
    "path",
    "how the cutter meets the work",
    Kind::Choice(&["slot", "up", "down"]),
    "down",
    "it decides where in the turn the chip is thick",
);
pub(super) const K_R: Field =
    Field::quantity("k_r", &s::K_R_SHARE, (0.0, 5.0), "0.4", SHARE).optional();
pub(super) const K_A: Field =
    Field::quantity("k_a", &s::K_A_SHARE, (-5.0, 5.0), "0.2", SHARE).optional();
pub(super) const K_TC: Field =
    Field::quantity("Ktc", &s::K_TC, (1.0, 50e3), "1800N/mm2", COEFFICIENT);
pub(super) const K_RC: Field =
    Field::quantity("Krc", &s::K_RC, (0.0, 50e3), "900N/mm2", COEFFICIENT).optional();
pub(super) const K_AC: Field =
    Field::quantity("Kac", &s::K_AC, (-50e3, 50e3), "300N/mm2", COEFFICIENT).optional();
pub(super) const K_TE: Field = Field::quantity("Kte", &s::K_TE, (0.0, 1e3), "20N/mm", EDGE);
pub(super) const K_RE: Field =
    Field::quantity("Kre", &s::K_RE, (0.0, 1e3), "30N/mm", EDGE).optional();
pub(super) const K_AE: Field =
    Field::quantity("Kae", &s::K_AE, (-1e3, 1e3), "2N/mm", EDGE).optional();
pub(super) const TIR: Field = Field::quantity(
    "tir",
    &s::TIR,
    (0.0, 1.0),
    "0.01mm",
    "zero runs true; more than a millimetre is not a cutter in a holder",
)
.optional();
pub(super) const E: Field = Field::quantity(
    "E",
    &s::E,
    (1e3, 2e6),
    "600GPa",
    "carbide is much stiffer than steel: see feeds tables modulus",
);
pub(super) const FORCE: Field = Field::quantity(
    "force",
    &s::F,
    (1e-6, 1e6),
    "100N",
    "across the axis, more than nothing",
);
pub(super) const SEGMENTS: Field = Field::of_kind(
    "segments",
    "sections from the holder to the tip, length x diameter",
    Kind::Sections,
    "10mmx6mm,15mmx2.8mm",
    "each bends by its own diameter",
);
pub(super) const LOAD_FROM_TIP: Field = Field::quantity(
    "load_from_tip",
    &s::LOAD_FROM_TIP,
    (0.0, 1e4),
    "2mm",
    "zero is a load at the tip",
)
.optional();
pub(super) const K_X: Field = Field::quantity("kx", &s::K_X, (1.0, 1e9), "1340N/mm", MODE);
pub(super) const K_Y: Field = Field::quantity("ky", &s::K_Y, (1.0, 1e9), "1340N/mm", MODE);
const DAMPING: &str = "a mode swings, and it dies away";
pub(super) const Z_X: Field = Field::quantity("zx", &s::ZETA_X, (1e-5, 0.99), "0.011", DAMPING);
pub(super) const Z_Y: Field = Field::quantity("zy", &s::ZETA_Y, (1e-5, 0.99), "0.011", DAMPING);
pub(super) const F_X: Field = Field::quantity("fx", &s::F_N_X, (1.0, 1e5), "922Hz", MODE);
pub(super) const F_Y: Field = Field::quantity("fy", &s::F_N_Y, (1.0, 1e5), "922Hz", MODE);
pub(super) const K_T: Field = Field::quantity("Kt", &s::K_T, (1.0, 50e3), "600N/mm2", COEFFICIENT);
pub(super) const K_R_RATIO: Field =
    Field::quantity("K_r", &s::K_R_RATIO, (0.0, 5.0), "0.33", SHARE);
pub(super) const A_E_RATIO: Field = Field::quantity(
    "a_e_ratio",
    &s::A_E_RATIO,
    (1e-4, 1.0),
    "0.5",
    "a cutter cuts no wider than itself",
);
pub(super) const K_MODE: Field = Field::quantity("k", &s::K_MODE, (1.0, 1e9), "226N/um", MODE);
pub(super) const ZETA: Field = Field::quantity("zeta", &s::ZETA, (1e-5, 0.99), "0.012", DAMPING);
pub(super) const F_N: Field = Field::quantity("f_n", &s::F_N, (1.0, 1e5), "250Hz", MODE);
pub(super) const K_S: Field = Field::quantity("Ks", &s::K_S, (1.0, 50e3), "1000N/mm2", COEFFICIENT);
