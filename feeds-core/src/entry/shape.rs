//! Entries of what the path makes: walls, surfaces, and the way down.

use super::Entry;
use super::Name::Formula;
use crate::symbol as s;

const POSITIVE: &str = "more than nothing, and not more than any mill cuts";

register! {
    /// Radius of the finished wall.
    WALL_RADIUS = Entry::of_pass(&s::WALL_R, "wall-radius", (0.05, 1000.0), "4 mm",
            "radius of the finished wall")
        .wider("wall_radius", (1e-3, 1e6), "12mm", "the radius of the finished wall");
    /// Diameter of the cutter before.
    PREVIOUS = Entry::of_pass(&s::PREVIOUS_D, "previous", (0.05, 50.0), "5 mm",
            "the larger cutter left material in the corners")
        .wider("previous_D", (0.01, 1000.0), "10mm",
            "the cutter that rounded the corner before");
    /// Tilt of the cutter.
    TILT = Entry::of_pass(&s::TILT, "tilt", (0.0, 85.0), "15 deg",
            "of a ball or corner, against the surface")
        .wider("tilt", (0.0, 90.0), "15deg", "between the axis and the normal of the surface");
    /// Slope of the surface.
    SLOPE = Entry::of_pass(&s::SLOPE, "slope", (0.0, 85.0), "30 deg",
            "for the ridges a ball leaves (path ball-finish)")
        .wider("slope", (0.0, 89.0), "30deg",
            "on an upright wall a horizontal step leaves no finite cusp");
    /// Angle of a ramp.
    RAMP_ANGLE = Entry::of_pass(&s::RAMP, "ramp-angle", (0.05, 45.0), "2 deg",
            "{default} if left out (common practice)")
        .wider("angle", (0.001, 89.0), "2deg",
            "a level one never gets deeper, an upright one is a plunge");
    /// Diameter of the finished wall, bore or hole.
    WALL_D = Entry::of_pass(&s::WALL_D, "helix-hole", (0.06, 100.0), "9 mm",
            "wider than the cutter, narrower than twice its diameter")
        .wider("wall_D", (0.01, 1e6), "20mm", "the diameter of the finished wall, bore or hole")
        .also(&[Formula("D_bore"), Formula("D_hole")]);
    /// Pitch of a helix, or of marks.
    PITCH = Entry::of_pass(&s::PITCH, "helix-pitch", (0.005, 20.0), "0.3 mm",
            "how far it drops in one turn; {default} of the diameter if left out (common \
             practice)")
        .wider("pitch", (1e-5, 1000.0), "0.5mm",
            "the depth gained in one turn, or the step that repeats a mark");
    /// Tolerance of the wall.
    TOLERANCE = Entry::of_pass(&s::TOLERANCE, "tolerance", (0.0005, 1.0), "0.02 mm",
        "how far the wall may be off; {default} if left out (common practice)");
    /// Radius of a ball or corner.
    RADIUS = Entry::of_formula(&s::R, "R", (1e-3, 500.0), "3mm",
        "half the diameter of a ball, or a corner radius");
    /// Step between paths.
    STEP = Entry::of_formula(&s::STEP, "step", (1e-5, 1000.0), "0.3mm", POSITIVE);
    /// Height of a cusp.
    CUSP = Entry::of_formula(&s::CUSP, "cusp", (1e-7, 500.0), "0.005mm", POSITIVE);
    /// Diameter of the hole that is there.
    HOLE = Entry::of_formula(&s::HOLE_D, "D_hole", (0.0, 1e6), "16mm",
        "the hole that is there; zero for solid work");
    /// Depth to reach.
    DEPTH_TO_REACH = Entry::of_formula(&s::DEPTH, "depth", (1e-4, 1000.0), "3mm",
        "the depth to reach");
}
