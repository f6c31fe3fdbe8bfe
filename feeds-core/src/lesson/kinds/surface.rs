//! What a ball leaves.

use super::super::kind::{Asks, Direction, ExerciseKind, Sum};
use super::super::slip as s;

const BALLS: &[&str] = &["0.5 mm", "0.75 mm", "1 mm", "1.5 mm", "2 mm", "3 mm"];

pub(super) static KINDS: &[ExerciseKind] = &[
    ExerciseKind {
        name: "cusp",
        level: 2,
        moral: "half the step leaves a quarter of the ridge",
        asks: Asks::Worked(Sum {
            calculation: "cusp",
            wants: "cusp",
            draw: |d| {
                d.pick("R", BALLS)
                    .share("step", "R", &[0.05, 0.08, 0.1, 0.15], 3);
                d.pick("slope", &["15 deg", "20 deg", "30 deg"]);
            },
            direction: Some(Direction {
                text: "A ball of R = {R} steps {step} over a flat, then over the crown that \
                       slopes by {slope}. Do the ridges get higher or lower there?",
                words: ["higher", "lower", "the same"],
                before: |c| c.set("slope", "0 deg"),
            }),
            number: "How high are the ridges at R = {R}, a step of {step} in plan and a slope \
                     of {slope}?",
            within: 0.03,
            slips: &[
                (&s::NO_CORRECTION, |c| c.set("slope", "0 deg").value()),
                (&s::RADIUS_FOR_DIAMETER, |c| c.times("R", 2.0).value()),
            ],
        }),
    },
    ExerciseKind {
        name: "step-for-cusp",
        level: 2,
        moral: "for a quarter of the ridge, halve the step",
        asks: Asks::Worked(Sum {
            calculation: "step-for-cusp",
            wants: "step",
            draw: |d| {
                d.pick("R", BALLS)
                    .pick("cusp", &["0.5 um", "1 um", "2 um", "4 um"]);
            },
            direction: None,
            number: "How far may a ball of R = {R} step for ridges of {cusp}?",
            within: 0.02,
            slips: &[
                (&s::RADIUS_FOR_DIAMETER, |c| c.times("R", 2.0).value()),
                (&s::HALVED, |c| Some(c.value()? / 2.0)),
                (&s::THOUSAND, |c| Some(c.value()? * 1000.0_f64.sqrt())),
            ],
        }),
    },
    ExerciseKind {
        name: "roughness",
        level: 3,
        moral: "the mean roughness is about a quarter of the height",
        asks: Asks::Worked(Sum {
            calculation: "roughness",
            wants: "R_a",
            draw: |d| {
                d.pick("R", BALLS)
                    .share("pitch", "R", &[0.05, 0.08, 0.1, 0.15], 3);
            },
            direction: None,
            number: "Round marks of R = {R} repeat every {pitch}. What mean roughness R_a is \
                     left in theory?",
            within: 0.03,
            slips: &[
                (&s::NO_CORRECTION, |c| c.result("R_t")),
                (&s::RADIUS_FOR_DIAMETER, |c| c.times("R", 2.0).value()),
            ],
        }),
    },
];
