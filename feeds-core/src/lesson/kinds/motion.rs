//! Speeds and feeds: reading them, and the chip load they come to.

use super::super::case::{Case, DIAMETERS, EDGES, SPEEDS};
use super::super::kind::{Asks, ExerciseKind, Known, Sum};
use super::super::slip as s;
use std::f64::consts::{PI, TAU};

/// Twice or half the number, as a slip with a radius makes it.
const HALF_D: fn(&Case) -> Option<f64> = |c| c.times("D", 0.5).value();
const INCH_D: fn(&Case) -> Option<f64> = |c| c.times("D", c.other_system()).value();
const TURN_AS_ANGLE: fn(&Case) -> Option<f64> = |c| c.times("n", TAU).value();

/// What goes wrong with a cutting speed.
const ROUND: &[Known] = &[(&s::RADIUS_FOR_DIAMETER, HALF_D), (&s::INCH_FOR_MM, INCH_D)];

pub(super) static KINDS: &[ExerciseKind] = &[
    ExerciseKind {
        name: "spindle-speed",
        level: 1,
        moral: "half the diameter needs twice the rpm",
        asks: Asks::Worked(Sum {
            calculation: "spindle-speed",
            wants: "n",
            draw: |d| {
                d.pick("D", DIAMETERS);
                d.pick(
                    "v_c",
                    &["20 m/min", "25 m/min", "30 m/min", "40 m/min", "60 m/min"],
                );
            },
            direction: None,
            number: "The bolster's steel wants v_c = {v_c} at the edge. The cutter has D = {D}. \
                     What spindle speed n is that?",
            within: 0.02,
            slips: &[
                ROUND[0],
                ROUND[1],
                (&s::NO_PI, |c| Some(c.value()? * PI)),
                (&s::LENGTHS_MIXED, |c| {
                    Some(c.value()? / c.length_of_speed())
                }),
            ],
        }),
    },
    ExerciseKind {
        name: "cutting-speed",
        level: 1,
        moral: "the edge runs once round its circle each turn",
        asks: Asks::Worked(Sum {
            calculation: "cutting-speed",
            wants: "v_c",
            draw: |d| {
                d.pick("D", DIAMETERS).pick("n", SPEEDS);
            },
            direction: None,
            number: "The mill turns at n = {n} with a cutter of D = {D}. How fast is the edge, \
                     v_c?",
            within: 0.02,
            slips: &[
                ROUND[0],
                ROUND[1],
                (&s::NO_PI, |c| Some(c.value()? / PI)),
                (&s::LENGTHS_MIXED, |c| {
                    Some(c.value()? * c.length_of_speed())
                }),
            ],
        }),
    },
    ExerciseKind {
        name: "cutting-diameter",
        level: 1,
        moral: "a square end cuts at its full diameter from the first touch on",
        asks: Asks::Worked(Sum {
            calculation: "effective-diameter",
            wants: "D_eff",
            draw: |d| {
                d.pick("D", DIAMETERS).pick("end", &["square"]);
                d.share("a_p", "D", &[0.05, 0.1, 0.2], 2);
            },
            direction: None,
            number: "A {end} end of D = {D} takes a_p = {a_p}. Which diameter sets the cutting \
                speed?",
            within: 0.01,
            slips: &[(&s::RADIUS_FOR_DIAMETER, |c| Some(c.value()? / 2.0))],
        }),
    },
    ExerciseKind {
        name: "feed-of-a-turn",
        level: 1,
        moral: "F is the distance covered in a minute; divide by rpm for one turn",
        asks: Asks::Worked(Sum {
            calculation: "feed-per-tooth",
            wants: "f_z",
            draw: |d| {
                d.pick("n", SPEEDS).pick("z", &["3", "4"]).feed();
                d.entries.retain(|(key, _)| *key != "z");
                d.pick("z", &["1"]);
            },
            direction: None,
            number: "A line of the programme sets the feed to {v_f}; the spindle turns at {n}. \
                     How far does the table move in one turn?",
            within: 0.02,
            slips: &[
                (&s::TWO_PI, TURN_AS_ANGLE),
                (&s::INCH_FOR_MM, |c| {
                    c.times("v_f", c.other_system()).value()
                }),
                (&s::SIXTY, |c| Some(c.value()? / 60.0)),
                (&s::UPSIDE_DOWN, |c| {
                    Some(c.length() * c.number("n")? / c.number("v_f")?)
                }),
            ],
        }),
    },
    ExerciseKind {
        name: "feed-speed",
        level: 2,
        moral: "each edge takes its feed once a turn",
        asks: Asks::Worked(Sum {
            calculation: "feed-speed",
            wants: "v_f",
            draw: |d| {
                d.pick("f_z", super::super::case::FEEDS);
                d.pick("z", EDGES).pick("n", SPEEDS);
            },
            direction: None,
            number: "Each of the z = {z} edges may take f_z = {f_z}; the spindle turns at \
                     n = {n}. What feed F do you set?",
            within: 0.02,
            slips: &[
                (&s::FORGOT_TEETH, |c| c.set("z", "1").value()),
                (&s::TWO_PI, TURN_AS_ANGLE),
                (&s::INCH_FOR_MM, |c| {
                    c.times("f_z", 1.0 / c.other_system()).value()
                }),
            ],
        }),
    },
    ExerciseKind {
        name: "chip-load",
        level: 2,
        moral: "the edges share the feed of one turn",
        asks: Asks::Worked(Sum {
            calculation: "feed-per-tooth",
            wants: "f_z",
            draw: |d| {
                d.pick("z", EDGES).pick("n", SPEEDS).feed();
            },
            direction: None,
            number: "Roughing the bolster: S is {n}, F is {v_f}, the cutter has z = {z} edges. \
                     What feed f_z does each edge take?",
            within: 0.02,
            slips: &[
                (&s::FORGOT_TEETH, |c| c.set("z", "1").value()),
                (&s::TWO_PI, TURN_AS_ANGLE),
                (&s::INCH_FOR_MM, |c| {
                    c.times("v_f", c.other_system()).value()
                }),
                (&s::THOUSAND, |c| Some(c.value()? * 1000.0)),
            ],
        }),
    },
    ExerciseKind {
        name: "removal-rate",
        level: 2,
        moral: "the section of the cut moves through the work at the feed speed",
        asks: Asks::Worked(Sum {
            calculation: "removal-rate",
            wants: "Q",
            draw: |d| {
                d.pick("D", DIAMETERS)
                    .pick("z", EDGES)
                    .pick("n", SPEEDS)
                    .feed();
                d.share("a_p", "D", &[0.1, 0.2, 0.3, 0.5], 2);
                d.share("a_e", "D", &[0.1, 0.2, 0.3, 0.4], 2);
            },
            direction: None,
            number: "A pass is a_p = {a_p} deep and a_e = {a_e} wide, F is {v_f}. How much \
                metal Q is removed in a minute?",
            within: 0.02,
            slips: &[
                (&s::THOUSAND, |c| Some(c.value()? * 1000.0)),
                (&s::SIXTY, |c| Some(c.value()? / 60.0)),
                (&s::INCH_FOR_MM, |c| {
                    c.times("v_f", c.other_system()).value()
                }),
            ],
        }),
    },
    ExerciseKind {
        name: "cutting-time",
        level: 1,
        moral: "distance divided by feed gives time",
        asks: Asks::Worked(Sum {
            calculation: "cutting-time",
            wants: "t",
            draw: |d| {
                d.pick("L", &["18 mm", "25 mm", "32 mm", "40 mm", "120 mm"]);
                d.pick("approach", &["2 mm", "3 mm", "4 mm", "5 mm"]);
                d.pick(
                    "v_f",
                    &["80 mm/min", "120 mm/min", "150 mm/min", "240 mm/min"],
                );
            },
            direction: None,
            number: "The pass along the bolster is L = {L}, with {approach} of approach before \
                     the full width. F is {v_f}. How long does it take?",
            within: 0.02,
            slips: &[
                (&s::NO_APPROACH, |c| c.set("approach", "0 mm").value()),
                (&s::SIXTY, |c| Some(c.value()? * 60.0)),
                (&s::UPSIDE_DOWN, |c| Some(3600.0 / c.value()?)),
            ],
        }),
    },
    ExerciseKind {
        name: "runout",
        level: 2,
        moral: "the edge that stands out takes part of the chip of the one before",
        asks: Asks::Worked(Sum {
            calculation: "feed of the most loaded tooth",
            wants: "f_z,max",
            draw: |d| {
                d.pick("f_z", super::super::case::FEEDS).pick("z", EDGES);
                d.pick("t_r", &["0.005 mm", "0.008 mm", "0.01 mm", "0.015 mm"]);
            },
            direction: None,
            number: "The indicator moves by {t_r} over a turn at the tip. At f_z = {f_z}, what \
                     does the worst of z = {z} edges take?",
            within: 0.02,
            slips: &[
                (&s::NO_CORRECTION, |c| c.si("f_z")),
                (&s::HALF_READING, |c| c.times("t_r", 0.5).value()),
                (&s::TWICE_READING, |c| c.times("t_r", 2.0).value()),
            ],
        }),
    },
];
