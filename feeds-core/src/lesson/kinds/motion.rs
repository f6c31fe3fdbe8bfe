//! Speeds and feeds: reading them, and the chip load they come to.

use super::super::case::{Case, DIAMETERS, EDGES, SPEEDS};
use super::super::kind::{Known, questions};
use super::super::slip as s;
use std::f64::consts::{PI, TAU};

/// Twice or half the number, as a slip with a radius makes it.
const HALF_D: fn(&Case) -> Option<f64> = |c| c.times("D", 0.5).value();
const INCH_D: fn(&Case) -> Option<f64> = |c| c.times("D", c.other_system()).value();
const TURN_AS_ANGLE: fn(&Case) -> Option<f64> = |c| c.times("n", TAU).value();

/// What goes wrong with a cutting speed.
const ROUND: &[Known] = &[(&s::RADIUS_FOR_DIAMETER, HALF_D), (&s::INCH_FOR_MM, INCH_D)];

questions! {
    "spindle-speed", 1, "half the diameter needs twice the rpm";
    "spindle-speed" => "n", |d| d.pick("D", DIAMETERS)
        .pick("v_c", &["20 m/min", "25 m/min", "30 m/min", "40 m/min", "60 m/min"]);
    number "The bolster's steel wants v_c = {v_c} at the edge. The cutter has D = {D}. \
        What spindle speed n is that?", 0.02;
    slips &[
        ROUND[0],
        ROUND[1],
        (&s::NO_PI, |c| Some(c.value()? * PI)),
        (&s::LENGTHS_MIXED, |c| Some(c.value()? / c.length_of_speed())),
    ];

    "cutting-speed", 1, "the edge runs once round its circle each turn";
    "cutting-speed" => "v_c", |d| d.pick("D", DIAMETERS).pick("n", SPEEDS);
    number "The mill turns at n = {n} with a cutter of D = {D}. How fast is the edge, v_c?", 0.02;
    slips &[
        ROUND[0],
        ROUND[1],
        (&s::NO_PI, |c| Some(c.value()? / PI)),
        (&s::LENGTHS_MIXED, |c| Some(c.value()? * c.length_of_speed())),
    ];

    "cutting-diameter", 1, "a square end cuts at its full diameter from the first touch on";
    "effective-diameter" => "D_eff", |d| d.pick("D", DIAMETERS).pick("end", &["square"])
        .share("a_p", "D", &[0.05, 0.1, 0.2], 2);
    number "A {end} end of D = {D} takes a_p = {a_p}. Which diameter sets the cutting speed?", 0.01;
    slips &[
        (&s::RADIUS_FOR_DIAMETER, |c| Some(c.value()? / 2.0)),
    ];

    "feed-of-a-turn", 1, "F is the distance covered in a minute; divide by rpm for one turn";
    "feed-per-tooth" => "f_z", |d| {
                d.pick("n", SPEEDS).pick("z", &["3", "4"]).feed();
                d.entries.retain(|(key, _)| *key != "z");
                d.pick("z", &["1"]);
            };
    number "A line of the programme sets the feed to {v_f}; the spindle turns at {n}. How \
        far does the table move in one turn?", 0.02;
    slips &[
        (&s::TWO_PI, TURN_AS_ANGLE),
        (&s::INCH_FOR_MM, |c| c.times("v_f", c.other_system()).value()),
        (&s::SIXTY, |c| Some(c.value()? / 60.0)),
        (&s::UPSIDE_DOWN, |c| Some(c.length() * c.number("n")? / c.number("v_f")?)),
    ];

    "feed-speed", 2, "each edge takes its feed once a turn";
    "feed-speed" => "v_f", |d| d.pick("f_z", super::super::case::FEEDS).pick("z", EDGES)
        .pick("n", SPEEDS);
    number "Each of the z = {z} edges may take f_z = {f_z}; the spindle turns at n = {n}. \
        What feed F do you set?", 0.02;
    slips &[
        (&s::FORGOT_TEETH, |c| c.set("z", "1").value()),
        (&s::TWO_PI, TURN_AS_ANGLE),
        (&s::INCH_FOR_MM, |c| c.times("f_z", 1.0 / c.other_system()).value()),
    ];

    "chip-load", 2, "the edges share the feed of one turn";
    "feed-per-tooth" => "f_z", |d| d.pick("z", EDGES).pick("n", SPEEDS).feed();
    number "Roughing the bolster: S is {n}, F is {v_f}, the cutter has z = {z} edges. \
        What feed f_z does each edge take?", 0.02;
    slips &[
        (&s::FORGOT_TEETH, |c| c.set("z", "1").value()),
        (&s::TWO_PI, TURN_AS_ANGLE),
        (&s::INCH_FOR_MM, |c| c.times("v_f", c.other_system()).value()),
        (&s::THOUSAND, |c| Some(c.value()? * 1000.0)),
    ];

    "removal-rate", 2, "the section of the cut moves through the work at the feed speed";
    "removal-rate" => "Q", |d| d.pick("D", DIAMETERS).pick("z", EDGES).pick("n", SPEEDS).feed()
        .share("a_p", "D", &[0.1, 0.2, 0.3, 0.5], 2).share("a_e", "D", &[0.1, 0.2, 0.3, 0.4], 2);
    number "A pass is a_p = {a_p} deep and a_e = {a_e} wide, F is {v_f}. How much metal Q \
        is removed in a minute?", 0.02;
    slips &[
        (&s::THOUSAND, |c| Some(c.value()? * 1000.0)),
        (&s::SIXTY, |c| Some(c.value()? / 60.0)),
        (&s::INCH_FOR_MM, |c| c.times("v_f", c.other_system()).value()),
    ];

    "cutting-time", 1, "distance divided by feed gives time";
    "cutting-time" => "t", |d| d.pick("L", &["18 mm", "25 mm", "32 mm", "40 mm", "120 mm"])
        .pick("approach", &["2 mm", "3 mm", "4 mm", "5 mm"])
        .pick("v_f", &["80 mm/min", "120 mm/min", "150 mm/min", "240 mm/min"]);
    number "The pass along the bolster is L = {L}, with {approach} of approach before the \
        full width. F is {v_f}. How long does it take?", 0.02;
    slips &[
        (&s::NO_APPROACH, |c| c.set("approach", "0 mm").value()),
        (&s::SIXTY, |c| Some(c.value()? * 60.0)),
        (&s::UPSIDE_DOWN, |c| Some(3600.0 / c.value()?)),
    ];

    "runout", 2, "the edge that stands out takes part of the chip of the one before";
    "feed of the most loaded tooth" => "f_z,max", |d| d
        // No less than the largest reading: beyond it an edge of two would cut nothing.
        .pick("f_z", &super::super::case::FEEDS[4..])
        .pick("z", EDGES).pick("t_r", &["0.005 mm", "0.008 mm", "0.01 mm", "0.015 mm"]);
    number "The indicator moves by {t_r} over a turn at the tip. At f_z = {f_z}, what \
        does the worst of z = {z} edges take?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| c.si("f_z")),
        (&s::HALF_READING, |c| c.times("t_r", 0.5).value()),
        (&s::TWICE_READING, |c| c.times("t_r", 2.0).value()),
    ];
}
