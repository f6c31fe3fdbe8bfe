//! Entries of the machine, and of how the part is held.

use super::Entry;
use crate::symbol as s;

register! {
    /// Lowest spindle speed.
    SPINDLE_LEAST = Entry::of_pass(&s::N_LEAST, "spindle-least", (1.0, 200e3), "100 rpm",
        "what the machine can turn");
    /// Highest spindle speed.
    SPINDLE_MOST = Entry::of_pass(&s::N_MOST, "spindle-most", (10.0, 200e3), "5000 rpm",
        "what the machine can turn");
    /// Fastest cutting feed.
    FEED_MOST = Entry::of_pass(&s::V_F_MOST, "feed-most", (1.0, 50e3), "1500 mm/min",
        "the fastest the machine feeds while cutting");
    /// Motor power.
    POWER = Entry::of_pass(&s::P_RATED, "power", (5.0, 30e3), "600 W",
        "of the spindle, above its base speed");
    /// Base speed.
    BASE_SPEED = Entry::of_pass(&s::N_BASE, "base-speed", (10.0, 200e3), "1500 rpm",
        "needs the motor power: below this speed the torque is constant, above it the power");
    /// Efficiency.
    EFFICIENCY = Entry::of_pass(&s::ETA, "efficiency", (0.1, 1.0), "0.75",
            "share of the motor power that reaches the cutter")
        .wider("efficiency", (0.01, 1.0), "0.8", "a drive passes on at most what it takes");
    /// Stiffness of the machine.
    STIFFNESS = Entry::of_pass(&s::K_MACHINE, "stiffness", (100.0, 500e3), "8 N/um",
        "push with a spring scale and read an indicator: a light mill has \
         {machines/machine stiffness/mill}");
    /// Runout at the tip.
    RUNOUT = Entry::of_pass(&s::TIR, "runout", (0.0, 0.5), "10 um",
            "total reading of an indicator over a turn")
        .wider("tir", (0.0, 1.0), "0.01mm",
            "zero runs true; more than a millimetre is not a cutter in a holder");
    /// Backlash.
    BACKLASH = Entry::of_pass(&s::BACKLASH, "backlash", (0.0, 1.0), "0.05 mm",
        "how far the table can be pushed before the screw turns");
    /// Travel of an axis.
    TRAVEL = Entry::of_pass(&s::L, "travel", (1.0, 10e3), "300 x 150 x 200 mm",
        "how far the machine moves along X, Y and Z; an audited path must fit");
    /// Fastest feed of an axis.
    AXIS_FEED = Entry::of_pass(&s::V_F, "axis-feed", (1.0, 100e3), "1500 x 1500 x 800 mm/min",
        "with the acceleration it shows the feed a programme really reaches; if left out, the \
         fastest cutting feed is used for each axis");
    /// Acceleration of an axis.
    ACCELERATION = Entry::of_pass(&s::ACCELERATION, "acceleration", (0.001, 50.0),
        "0.3 x 0.3 x 0.15 m/s2",
        "from the control's settings: a light mill has {machines/acceleration/mill}; without it, \
         the feed the axes reach is not known");
    /// Moves the control looks ahead.
    LOOK_AHEAD = Entry::of_pass(&s::AHEAD, "look-ahead", (1.0, 10e3), "20",
            "{least} means a stop after each move; {default} if left out (common practice)")
        .whole();
    /// Tolerance of the path at corners.
    PATH_TOLERANCE = Entry::of_pass(&s::PATH_TOLERANCE, "path-tolerance", (0.0005, 1.0), "0.01 mm",
        "how far the control may round a corner to keep its feed; {default} if left out (common \
         practice)");
    /// Drag of the axis.
    DRAG = Entry::of_pass(&s::DRAG, "drag", (0.0, 5000.0), "60 N",
        "the pull at which the table begins to creep");
    /// Grip of the collet.
    COLLET_GRIP = Entry::of_pass(&s::GRIP_FORCE, "collet-grip", (1.0, 50e3), "600 N",
        "the axial pull at which the cutter begins to creep");
    /// Clamping force.
    CLAMP_FORCE = Entry::of_pass(&s::F_CLAMP, "clamp-force", (1.0, 100e3), "3 kN",
        "with no clamping force the part is not held; a small vise closed by hand has \
         {holds/clamp force/vise hand}");
    /// Torque on the clamping screw.
    SCREW_TORQUE = Entry::of_pass(&s::SCREW_TORQUE, "screw-torque", (0.1, 500.0), "20 N m",
        "with the screw's diameter, instead of the clamping force");
    /// Diameter of the clamping screw.
    SCREW_DIAMETER = Entry::of_pass(&s::SCREW_D, "screw-diameter", (2.0, 40.0), "10 mm",
        "of its thread, outside");
    /// Friction coefficient.
    FRICTION = Entry::of_pass(&s::FRICTION, "friction", (0.01, 1.0), "0.15",
        "smooth jaws have {friction/friction/dry}");
    /// Depth of grip.
    GRIP = Entry::of_pass(&s::L_GRIP, "grip", (0.1, 200.0), "3 mm",
        "how deep the jaws hold the part");
    /// Height of the cut above the jaws.
    HEIGHT = Entry::of_pass(&s::H_GRIP, "height", (0.0, 300.0), "4 mm",
        "the higher the cut, the easier it tips the part out");
    /// An override of spindle or feed.
    OVERRIDE = Entry::of_pass(&s::OVERRIDE, "override", (1.0, 400.0), "100%",
        "in percent of what is programmed; at 0 % the spindle stands still and the feed breaks \
         the cutter");
}
