//! The entries recipes share: one key, one meaning, one range everywhere.

use super::field::{Field, Kind};
use crate::symbol as s;

const SIZE: &str = "cutters from engraving points to large face mills";
const POSITIVE: &str = "more than nothing, and not more than any mill cuts";

pub(super) const D: Field = Field::quantity("D", &s::D, (0.01, 1000.0), "6mm", SIZE);
/// The diameter the speed is meant at.
pub(super) const D_EFF: Field = Field::quantity("D", &s::D_EFF, (0.01, 1000.0), "6mm", SIZE);
pub(super) const N: Field = Field::quantity(
    "n",
    &s::N,
    (0.1, 1e6),
    "4400rpm",
    "from boring heads to air spindles",
);
pub(super) const V_C: Field = Field::quantity(
    "v_c",
    &s::V_C,
    (0.01, 1e5),
    "60m/min",
    "from hard alloys to foam",
);
pub(super) const V_F: Field = Field::quantity(
    "v_f",
    &s::V_F,
    (1e-3, 1e6),
    "300mm/min",
    "the table has to move, and no table moves faster",
);
pub(super) const F_Z: Field = Field::quantity(
    "f_z",
    &s::F_Z,
    (1e-6, 50.0),
    "0.03mm",
    "from below a grain of the work to a heavy roughing chip",
);
pub(super) const Z: Field = Field::quantity(
    "z",
    &s::Z,
    (1.0, 200.0),
    "4",
    "a cutter has at least one edge, counted whole",
)
.whole();
pub(super) const A_P: Field = Field::quantity("a_p", &s::A_P, (1e-4, 1000.0), "3mm", POSITIVE);
pub(super) const A_E: Field = Field::quantity("a_e", &s::A_E, (1e-5, 1000.0), "1.5mm", POSITIVE);
pub(super) const KAPPA: Field = Field::quantity(
    "kappa",
    &s::KAPPA,
    (1.0, 90.0),
    "45deg",
    "a right angle is an edge along the axis, a flat one thins the chip",
)
.optional();
pub(super) const H_MAX: Field = Field::quantity(
    "h_max",
    &s::H_MAX,
    (1e-9, 20.0),
    "0.02mm",
    "a chip has a thickness, and less than any feed",
)
.optional();
pub(super) const H_M: Field = Field::quantity(
    "h_m",
    &s::H_M,
    (1e-9, 20.0),
    "0.015mm",
    "a chip has a thickness, and less than any feed",
)
.optional();
pub(super) const L: Field = Field::quantity(
    "L",
    &s::L,
    (0.0, 1e7),
    "120mm",
    "a length of cut is not negative",
);
pub(super) const APPROACH: Field = Field::quantity(
    "approach",
    &s::L_A,
    (0.0, 1e4),
    "3mm",
    "a distance is not negative",
)
.optional();
pub(super) const WIDTH: Field = Field::quantity("w", &s::WIDTH, (1e-3, 1000.0), "30mm", POSITIVE);
pub(super) const WALL: Field = Field::of_kind(
    "wall",
    "which side of a round wall",
    Kind::Choice(&["inside", "outside"]),
    "inside",
    "a hollow wall raises the engagement, a bulging one lowers it",
)
.optional();
pub(super) const WALL_RADIUS: Field = Field::quantity(
    "wall_radius",
    &s::WALL_R,
    (1e-3, 1e6),
    "12mm",
    "the radius of the finished wall",
)
.optional();
pub(super) const PREVIOUS_D: Field = Field::quantity(
    "previous_D",
    &s::PREVIOUS_D,
    (0.01, 1000.0),
    "10mm",
    "the cutter that rounded the corner before",
)
.optional();
pub(super) const HELIX: Field = Field::quantity(
    "helix",
    &s::HELIX,
    (0.0, 70.0),
    "30deg",
    "zero is a straight edge, and no edge winds steeper",
);
pub(super) const END: Field = Field::of_kind(
    "end",
    "shape of the end",
    Kind::Choice(&["square", "corner", "ball"]),
    "ball",
    "it decides which part of the end is engaged",
);
pub(super) const CORNER_RADIUS: Field = Field::quantity(
    "r_e",
    &s::R_EPS,
    (0.0, 500.0),
    "0.5mm",
    "a corner radius is at most half the diameter",
)
.optional();
pub(super) const TILT: Field = Field::quantity(
    "tilt",
    &s::TILT,
    (0.0, 90.0),
    "15deg",
    "between the axis and the normal of the surface",
)
.optional();
pub(super) const R: Field = Field::quantity(
    "R",
    &s::R,
    (1e-3, 500.0),
    "3mm",
    "half the diameter of a ball, or a corner radius",
);
pub(super) const STEP: Field = Field::quantity("step", &s::STEP, (1e-5, 1000.0), "0.3mm", POSITIVE);
pub(super) const SLOPE: Field = Field::quantity(
    "slope",
    &s::SLOPE,
    (0.0, 89.0),
    "30deg",
    "on an upright wall a horizontal step leaves no finite cusp",
)
.optional();
pub(super) const CUSP: Field =
    Field::quantity("cusp", &s::CUSP, (1e-7, 500.0), "0.005mm", POSITIVE);
pub(super) const MARKS: Field = Field::quantity(
    "pitch",
    &s::PITCH,
    (1e-5, 1000.0),
    "0.1mm",
    "the feed or the step that repeats the mark",
);
pub(super) const SIDE: Field = Field::of_kind(
    "side",
    "which side of the wall",
    Kind::Choice(&["inside", "outside"]),
    "inside",
    "inside a wall the centre is slower than the wall, outside faster",
);
pub(super) const WALL_D: Field = Field::quantity(
    "wall_D",
    &s::WALL_D,
    (0.01, 1e6),
    "20mm",
    "the diameter of the finished wall",
);
pub(super) const BORE_D: Field = Field::quantity(
    "D_bore",
    &s::WALL_D,
    (0.01, 1e6),
    "20mm",
    "the diameter of the finished bore",
);
pub(super) const HOLE_D: Field = Field::quantity(
    "D_hole",
    &s::HOLE_D,
    (0.0, 1e6),
    "16mm",
    "the hole that is there; zero for solid work",
);
pub(super) const ENTRY_D: Field = Field::quantity(
    "D_hole",
    &s::WALL_D,
    (0.01, 1e6),
    "9mm",
    "the finished hole, larger than the cutter",
);
pub(super) const PITCH: Field = Field::quantity(
    "pitch",
    &s::PITCH,
    (1e-5, 1000.0),
    "0.5mm",
    "depth gained in one turn",
);
pub(super) const DEPTH: Field = Field::quantity(
    "depth",
    &s::DEPTH,
    (1e-4, 1000.0),
    "3mm",
    "the depth to reach",
);
pub(super) const RAMP: Field = Field::quantity(
    "angle",
    &s::RAMP,
    (0.001, 89.0),
    "2deg",
    "a level one never gets deeper, an upright one is a plunge",
);
pub(super) const KIND: Field = Field::of_kind(
    "kind",
    "how the cutter meets the work",
    Kind::Choice(&["side", "centred-face"]),
    "side",
    "along an edge with a_e, or centred over a width w",
);
