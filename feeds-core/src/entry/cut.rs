//! Entries of the cut: speed, feed, chip, engagement, length.

use super::Entry;
use super::Name::{Trade, Unit};
use crate::symbol as s;

const POSITIVE: &str = "more than nothing, and not more than any mill cuts";
const CHIP: &str = "a chip has a thickness, and less than any feed";

register! {
    /// Spindle speed.
    SPINDLE = Entry::of_pass(&s::N, "spindle", (1.0, 200e3), "4400 rpm",
            "from hardly turning to the fastest air spindles")
        .wider("n", (0.1, 1e6), "4400rpm", "from boring heads to air spindles")
        .also(&[Unit("rpm", "rpm")]);
    /// Cutting speed.
    CUTTING_SPEED = Entry::of_pass(&s::V_C, "cutting-speed", (0.1, 2000.0), "90 m/min",
            "from a touch by hand to fast cuts in soft alloys")
        .wider("v_c", (0.01, 1e5), "60m/min", "from hard alloys to foam");
    /// Feed per tooth.
    FEED_PER_TOOTH = Entry::of_pass(&s::F_Z, "feed-per-tooth", (0.00001, 1.0), "0.02 mm",
            "from below a grain of the work to a heavy roughing chip")
        .wider("f_z", (1e-6, 50.0), "0.03mm",
            "from below a grain of the work to a heavy roughing chip")
        .also(&[Trade("fz"), Trade("f-z"), Trade("chip-load"), Unit("ipt", "in")]);
    /// Feed.
    FEED = Entry::of_pass(&s::V_F, "feed", (0.1, 50e3), "300 mm/min",
            "the table has to move, and no table moves faster")
        .wider("v_f", (1e-3, 1e6), "300mm/min",
            "the table has to move, and no table moves faster");
    /// Depth of cut.
    DEPTH = Entry::of_pass(&s::A_P, "depth", (0.001, 100.0), "1 mm", "along the axis of the cutter")
        .wider("a_p", (1e-4, 1000.0), "3mm", POSITIVE)
        .also(&[Trade("depth-of-cut"), Trade("doc"), Trade("a-p")]);
    /// Width of cut.
    WIDTH = Entry::of_pass(&s::A_E, "width", (0.0005, 50.0), "0.5 mm",
            "across the axis; a slot has the whole diameter")
        .wider("a_e", (1e-5, 1000.0), "1.5mm", POSITIVE)
        .also(&[
            Trade("width-of-cut"),
            Trade("woc"),
            Trade("stepover"),
            Trade("step"),
            Trade("a-e"),
        ]);
    /// Engagement angle.
    ENGAGEMENT_ANGLE = Entry::of_pass(&s::PHI_S, "engagement-angle", (1.0, 180.0), "40 deg",
        "instead of the width, for a path of constant engagement");
    /// Chip thickness at an edge: of a stock of the tables in a pass, of any law in a formula.
    CHIP_THICKNESS = Entry::of_pass(&s::H, "h", (0.0, 1.0), "0.02mm",
            "from a mere rub to a thick chip")
        .wider("h", (1e-9, 20.0), "0.05mm", "a chip has a thickness");
    /// Largest chip thickness.
    H_MAX = Entry::of_formula(&s::H_MAX, "h_max", (1e-9, 20.0), "0.02mm", CHIP);
    /// Mean chip thickness.
    H_M = Entry::of_formula(&s::H_M, "h_m", (1e-9, 20.0), "0.015mm", CHIP);
    /// Width of the chip.
    B = Entry::of_formula(&s::B, "b", (1e-4, 1000.0), "2mm", "a chip has a width");
    /// Width of cut over diameter.
    A_E_RATIO = Entry::of_formula(&s::A_E_RATIO, "a_e_ratio", (1e-4, 1.0), "0.5",
        "a cutter cuts no wider than itself");
    /// Removal rate.
    Q = Entry::of_formula(&s::Q, "Q", (1e-9, 1e6), "1.35cm3/min", "something has to be removed");
    /// Length of the path at the feed.
    LENGTH = Entry::of_pass(&s::L, "length", (0.1, 1e7), "820 mm",
            "all levels and rounds together, entries included; sets the cut time")
        .wider("L", (0.0, 1e7), "120mm", "a length of cut is not negative");
    /// Distance from first touch to full width.
    APPROACH = Entry::of_formula(&s::L_A, "approach", (0.0, 1e4), "3mm",
        "a distance is not negative");
    /// Width of the work under a centred face mill.
    WORK_WIDTH = Entry::of_formula(&s::WIDTH, "w", (1e-3, 1000.0), "30mm", POSITIVE);
    /// Where a pass begins in its programme.
    BEGINS_AT = Entry::of_pass(&s::L, "begins-at", (-1000.0, 1000.0), "0 mm",
        "of the programme; the top of the part is 0 if none is given");
    /// How deep a pass goes in all.
    DEPTH_IN_ALL = Entry::of_pass(&s::A_P, "depth-in-all", (0.001, 300.0), "3.6 mm",
        "from where it begins to its floor; with the depth of cut it sets the Z levels");
    /// The wall error that was measured.
    MEASURED = Entry::of_pass(&s::WALL_ERROR, "measured", (-1.0, 1.0), "0.012mm",
        "a wall is never off by more");
}
