//! Round walls, corners, ways in.

use super::super::case::{DIAMETERS, Draws};
use super::super::kind::{Asks, Direction, ExerciseKind, Known, Sum};
use super::super::slip as s;

const WALLS: &[f64] = &[1.5, 1.8, 2.0, 2.5, 3.0];
const F: &[&str] = &[
    "80 mm/min",
    "120 mm/min",
    "150 mm/min",
    "240 mm/min",
    "300 mm/min",
];

/// A round wall, followed on one side of it.
fn arc(d: &mut Draws<'_>, side: &str) {
    d.pick("side", &[side]).pick("D", DIAMETERS).pick("v_f", F);
    d.share("wall_D", "D", WALLS, 1);
}

const OF_CENTRE: &[Known] = &[
    (&s::CENTRE_FOR_WALL, |c| {
        let f = c.si("v_f")?;
        Some(f * f / c.value()?)
    }),
    (&s::NO_CORRECTION, |c| c.si("v_f")),
    (&s::RADIUS_FOR_DIAMETER, |c| c.times("D", 0.5).value()),
];

/// A narrow cut along a curved wall.
fn wall(d: &mut Draws<'_>, side: &str) {
    d.pick("D", &DIAMETERS[4..]).pick("wall", &[side]);
    d.share("a_e", "D", &[0.1, 0.15, 0.2], 2);
    d.share("wall_radius", "D", &[0.75, 1.0, 1.5], 2);
}

pub(super) static KINDS: &[ExerciseKind] = &[
    ExerciseKind {
        name: "feed-inside",
        level: 2,
        moral: "inside a wall the centre runs a smaller circle than the edge",
        asks: Asks::Worked(Sum {
            calculation: "arc-feed",
            wants: "v_f_centre",
            draw: |d| arc(d, "inside"),
            direction: Some(Direction {
                text: "A bore of {wall_D} is milled {side} with D = {D}; the wall wants {v_f}. \
                       Is the F of the centre higher or lower than that?",
                words: ["higher", "lower", "the same"],
                before: |c| c.set("wall_D", "100000 mm"),
            }),
            number: "Which F for the centre gives {v_f} at the wall of {wall_D}, D = {D}?",
            within: 0.02,
            slips: OF_CENTRE,
        }),
    },
    ExerciseKind {
        name: "feed-outside",
        level: 2,
        moral: "outside a wall the centre runs a larger circle than the edge",
        asks: Asks::Worked(Sum {
            calculation: "arc-feed",
            wants: "v_f_centre",
            draw: |d| arc(d, "outside"),
            direction: None,
            number: "A pommel of {wall_D} is milled round from {side} with D = {D}. Which F for \
                     the centre gives {v_f} at the wall?",
            within: 0.02,
            slips: OF_CENTRE,
        }),
    },
    ExerciseKind {
        name: "hollow-wall",
        level: 3,
        moral: "a hollow wall wraps round the cutter: the same width loads it more",
        asks: Asks::Worked(Sum {
            calculation: "engagement-angle",
            wants: "a_e_equivalent",
            draw: |d| wall(d, "inside"),
            direction: Some(Direction {
                text: "The cut of a_e = {a_e} with D = {D} comes from a straight wall to the \
                       {wall} of one of radius {wall_radius}. Does the engagement grow or \
                       shrink?",
                words: ["grow", "shrink", "the same"],
                before: |c| c.set("wall_radius", "10000 mm"),
            }),
            number: "Which straight width a_e loads the cutter as much?",
            within: 0.02,
            slips: &[
                (&s::NO_CORRECTION, |c| c.si("a_e")),
                (&s::CENTRE_FOR_WALL, |c| c.set("wall", "outside").value()),
            ],
        }),
    },
    ExerciseKind {
        name: "bulging-wall",
        level: 3,
        moral: "a bulging wall turns away from the cutter: the same width loads it less",
        asks: Asks::Worked(Sum {
            calculation: "engagement-angle",
            wants: "a_e_equivalent",
            draw: |d| wall(d, "outside"),
            direction: None,
            number: "The cut of a_e = {a_e} with D = {D} runs along the {wall} of a wall of \
                     radius {wall_radius}. Which straight width a_e loads the cutter as much?",
            within: 0.02,
            slips: &[
                (&s::NO_CORRECTION, |c| c.si("a_e")),
                (&s::CENTRE_FOR_WALL, |c| c.set("wall", "inside").value()),
            ],
        }),
    },
    ExerciseKind {
        name: "bore",
        level: 3,
        moral: "widening a hole loads the cutter like a much wider straight cut",
        asks: Asks::Worked(Sum {
            calculation: "bore-engagement",
            wants: "a_e_equivalent",
            draw: |d| {
                d.pick("D", &DIAMETERS[4..]);
                d.share("D_bore", "D", &[2.0, 2.5, 3.0], 1);
                d.share("D_hole", "D_bore", &[0.9, 0.92, 0.95], 1);
            },
            direction: None,
            number: "A hole of {D_hole} is widened to {D_bore} with D = {D}. Which straight \
                     width a_e loads the cutter as much?",
            within: 0.02,
            slips: &[
                (&s::NO_CORRECTION, |c| {
                    Some((c.si("D_bore")? - c.si("D_hole")?) / 2.0)
                }),
                (&s::DOUBLED, |c| Some(c.value()? * 2.0)),
            ],
        }),
    },
    ExerciseKind {
        name: "corner",
        level: 3,
        moral: "in a sharp inside corner the second wall adds a quarter turn",
        asks: Asks::Worked(Sum {
            calculation: "corner-engagement",
            wants: "phi_max",
            draw: |d| {
                d.pick("D", DIAMETERS)
                    .share("a_e", "D", &[0.05, 0.1, 0.15, 0.2], 2);
            },
            direction: None,
            number: "D = {D} runs a_e = {a_e} along a wall into a sharp corner of the pocket. \
                     Over which angle is an edge in the work there?",
            within: 0.02,
            slips: &[
                (&s::NO_CORRECTION, |c| {
                    Some((1.0 - 2.0 * c.si("a_e")? / c.si("D")?).acos())
                }),
                (&s::DOUBLED, |c| {
                    Some(2.0 * (1.0 - 2.0 * c.si("a_e")? / c.si("D")?).acos())
                }),
            ],
        }),
    },
    ExerciseKind {
        name: "corner-after-larger",
        level: 4,
        moral: "what a larger cutter left in the corner is the hardest place of the small one",
        asks: Asks::Worked(Sum {
            calculation: "corner-engagement",
            wants: "phi_max",
            draw: |d| {
                d.pick("D", DIAMETERS)
                    .share("a_e", "D", &[0.05, 0.08, 0.1], 2);
                d.share("previous_D", "D", &[1.5, 2.0, 2.5], 1);
            },
            direction: Some(Direction {
                text: "The corners of the recess were left by a cutter of {previous_D}; now \
                       D = {D} takes a_e = {a_e} along the walls. In the corner, is more or \
                       less of it engaged than if its own size had been there before?",
                words: ["more", "less", "the same"],
                before: |c| c.copy("previous_D", "D"),
            }),
            number: "",
            within: 0.05,
            slips: &[],
        }),
    },
    ExerciseKind {
        name: "helix",
        level: 2,
        moral: "unrolled, a turn rises by the pitch over the circle of the centre path",
        asks: Asks::Worked(Sum {
            calculation: "helix-entry",
            wants: "ramp_angle",
            draw: |d| {
                d.pick("D", DIAMETERS)
                    .share("D_hole", "D", &[1.5, 1.6, 1.75], 1);
                d.share("pitch", "D", &[0.05, 0.08, 0.1], 2)
                    .share("depth", "D", &[0.3, 0.5], 2);
            },
            direction: None,
            number: "D = {D} winds down to {depth} in a hole of {D_hole}, {pitch} a turn. How \
                     steep is its centre path?",
            within: 0.03,
            slips: &[
                (&s::CENTRE_FOR_WALL, |c| {
                    let pitch = c.si("pitch")? / std::f64::consts::PI;
                    Some((pitch / c.si("D_hole")?).atan())
                }),
                (&s::NO_PI, |c| {
                    let across = c.si("D_hole")? - c.si("D")?;
                    Some((c.si("pitch")? / across).atan())
                }),
                (&s::RADIUS_FOR_DIAMETER, |c| {
                    Some((2.0 * c.value()?.tan()).atan())
                }),
            ],
        }),
    },
    ExerciseKind {
        name: "ramp",
        level: 2,
        moral: "a shallow ramp is long before it reaches its depth",
        asks: Asks::Worked(Sum {
            calculation: "ramp-entry",
            wants: "length",
            draw: |d| {
                d.pick("angle", &["1 deg", "1.5 deg", "2 deg", "3 deg"]);
                d.pick("depth", &["0.3 mm", "0.5 mm", "0.8 mm", "1 mm", "1.2 mm"]);
            },
            direction: None,
            number: "A ramp of {angle} goes down to {depth}. How long is it in plan?",
            within: 0.02,
            slips: &[
                (&s::UPSIDE_DOWN, |c| {
                    let depth = c.si("depth")?;
                    Some(depth * depth / c.value()?)
                }),
                (&s::HALVED, |c| Some(c.value()? / 2.0)),
            ],
        }),
    },
    ExerciseKind {
        name: "side-approach",
        level: 1,
        moral: "the circle touches before the centre line is there",
        asks: Asks::Worked(Sum {
            calculation: "approach",
            wants: "approach",
            draw: |d| {
                d.pick("kind", &["side"]).pick("D", &DIAMETERS[4..]);
                d.share("a_e", "D", &[0.1, 0.2, 0.3], 2);
            },
            direction: None,
            number: "D = {D} comes along the {kind} of the bolster, a_e = {a_e}. How far is it \
                from first touch to full width?",
            within: 0.02,
            slips: &[
                (&s::NO_CORRECTION, |c| Some(c.si("D")? / 2.0)),
                (&s::RADIUS_FOR_DIAMETER, |c| c.times("D", 0.5).value()),
            ],
        }),
    },
    ExerciseKind {
        name: "centred-approach",
        level: 1,
        moral: "the full width is there at the chord, not at the centre",
        asks: Asks::Worked(Sum {
            calculation: "approach",
            wants: "approach",
            draw: |d| {
                d.pick("kind", &["centred-face"])
                    .pick("D", &["25 mm", "32 mm", "40 mm"]);
                d.share("w", "D", &[0.5, 0.6, 0.75, 0.8], 0);
            },
            direction: None,
            number: "A facing cutter of {D} runs centred over work of {w}. How far is it from \
                first touch to full width?",
            within: 0.02,
            slips: &[
                (&s::NO_CORRECTION, |c| Some(c.si("D")? / 2.0)),
                (&s::DOUBLED, |c| Some(c.value()? * 2.0)),
            ],
        }),
    },
];
