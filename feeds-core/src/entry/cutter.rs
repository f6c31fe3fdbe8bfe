//! Entries of the cutter and how it is clamped.

use super::Entry;
use super::Name::{Formula, Heading, Trade};
use crate::symbol as s;

const SIZE: &str = "cutters from engraving points to large face mills";

register! {
    /// Cutting diameter.
    DIAMETER = Entry::of_pass(&s::D, "diameter", (0.05, 50.0), "6 mm",
            "light mills take cutters up to {most}")
        .wider("D", (0.01, 1000.0), "6mm", SIZE)
        .also(&[Heading("DC")]);
    /// Number of flutes.
    EDGES = Entry::of_pass(&s::Z, "edges", (1.0, 20.0), "4", "a whole number, at most {most}")
        .wider("z", (1.0, 200.0), "4", "a cutter has at least one edge, counted whole")
        .whole()
        .also(&[Trade("flutes"), Trade("teeth"), Trade("z"), Heading("ZEFP"), Heading("NOF")]);
    /// Helix angle.
    HELIX = Entry::of_pass(&s::HELIX, "helix", (0.0, 60.0), "30 deg",
            "{least} is a straight flute; none is steeper than {most}")
        .wider("helix", (0.0, 70.0), "30deg",
            "zero is a straight edge, and no edge winds steeper")
        .also(&[Heading("FHA")]);
    /// Corner radius.
    CORNER_RADIUS = Entry::of_pass(&s::R_EPS, "corner-radius", (0.0, 25.0), "0.5 mm",
            "at most half the diameter")
        .wider("r_e", (0.0, 500.0), "0.5mm", "a corner radius is at most half the diameter")
        .also(&[Heading("RE")]);
    /// Flute length.
    FLUTE_LENGTH = Entry::of_pass(&s::L_FLUTE, "flute-length", (0.05, 200.0), "13 mm",
            "the cut cannot be deeper than the flutes")
        .also(&[Heading("APMX"), Heading("LCF")]);
    /// Stick-out.
    STICK_OUT = Entry::of_pass(&s::STICK_OUT, "stick-out", (0.5, 250.0), "18 mm",
            "from the holder's face to the tip; twice as long bends eight times as much")
        .also(&[Trade("overhang"), Trade("reach-out"), Heading("LPR")]);
    /// Shank diameter.
    SHANK = Entry::of_pass(&s::D_SHANK, "shank", (0.5, 50.0), "6 mm", "what the holder grips")
        .also(&[Heading("DCON"), Heading("DCONMS"), Heading("DMM")]);
    /// Neck diameter.
    NECK_DIAMETER = Entry::of_pass(&s::D_NECK, "neck-diameter", (0.05, 50.0), "2.8 mm",
            "of a thinner neck between flutes and shank; needs the neck length too")
        .also(&[Heading("DN")]);
    /// Neck length.
    NECK_LENGTH = Entry::of_pass(&s::L_NECK, "neck-length", (0.0, 200.0), "8 mm",
            "from the flutes to the shank; needs the neck diameter too")
        .also(&[Heading("LN")]);
    /// Core diameter.
    CORE = Entry::of_pass(&s::D_CORE, "core", (0.02, 50.0), "3.9 mm",
        "the solid core between the flutes, where they run out; {default} if left out (common \
         practice)");
    /// Cutting edge radius.
    EDGE_RADIUS = Entry::of_pass(&s::R_EDGE, "edge-radius", (0.0001, 0.1), "6 um",
            "how round the edge is: {least} is a diamond edge, {most} is too blunt to cut")
        .also(&[Formula("r_edge")]);
    /// Modulus of elasticity of the cutter.
    MODULUS = Entry::of_pass(&s::E, "modulus", (100e3, 800e3), "600 GPa",
            "high-speed steel has {strength/modulus/HSS}, carbide {strength/modulus/carbide}")
        .wider("E", (1e3, 2e6), "600GPa",
            "carbide is much stiffer than steel: see feeds tables modulus");
    /// Rupture strength of the cutter.
    RUPTURE = Entry::of_pass(&s::SIGMA_B, "rupture", (500.0, 6000.0), "3500 N/mm2",
        "carbide grades have {strength/rupture strength/carbide}");
    /// Wear land.
    LAND = Entry::of_pass(&s::LAND, "wear", (0.0, 1.0), "0.1 mm",
            "the flat worn on the flank, seen with a loupe; a worn edge presses the cutter off \
             the wall")
        .also(&[Formula("VB")]);
    /// Wear factor: in a pass it stands for a land, as older files have it.
    WEAR = Entry::of_pass(&s::WEAR, "wear", (1.0, 2.0), "1.5",
            "a factor on every force, as older files have it")
        .wider("wear", (1.0, 3.0), "1.3",
            "one is a new edge, more a worn one: see feeds tables wear");
    /// Cutting edge angle.
    KAPPA = Entry::of_formula(&s::KAPPA, "kappa", (1.0, 90.0), "45deg",
        "a right angle is an edge along the axis, a flat one thins the chip");
    /// Rake angle.
    RAKE = Entry::of_formula(&s::RAKE, "rake", (-45.0, 45.0), "10deg",
        "the correction goes with every degree and holds for common edges");
    /// Rake angle of the table.
    RAKE_REF = Entry::of_formula(&s::RAKE_REF, "rake_ref", (-45.0, 45.0), "6deg",
        "the rake the table's value was measured at");
    /// Where the load acts.
    LOAD_FROM_TIP = Entry::of_formula(&s::LOAD_FROM_TIP, "load_from_tip", (0.0, 1e4), "2mm",
        "zero is a load at the tip");
    /// Force across the axis.
    FORCE = Entry::of_formula(&s::F, "force", (1e-6, 1e6), "100N",
        "across the axis, more than nothing");
}
