//! What a ball leaves.

use super::super::kind::questions;
use super::super::slip as s;

const BALLS: &[&str] = &["0.5 mm", "0.75 mm", "1 mm", "1.5 mm", "2 mm", "3 mm"];

questions! {
    "cusp", 2, "half the step leaves a quarter of the ridge";
    "cusp" => "cusp", |d| d.pick("R", BALLS).share("step", "R", &[0.05, 0.08, 0.1, 0.15], 3)
        .pick("slope", &["15 deg", "20 deg", "30 deg"]);
    way "A ball of R = {R} steps {step} over a flat, then over the crown that slopes by \
        {slope}. Do the ridges get higher or lower there?",
        ["higher", "lower", "the same"], |c| c.set("slope", "0 deg");
    number "How high are the ridges at R = {R}, a step of {step} in plan and a slope of \
        {slope}?", 0.03;
    slips &[
        (&s::NO_CORRECTION, |c| c.set("slope", "0 deg").value()),
        (&s::RADIUS_FOR_DIAMETER, |c| c.times("R", 2.0).value()),
    ];

    "step-for-cusp", 2, "for a quarter of the ridge, halve the step";
    "step-for-cusp" => "step", |d| d.pick("R", BALLS)
        .pick("cusp", &["0.5 um", "1 um", "2 um", "4 um"]);
    number "How far may a ball of R = {R} step for ridges of {cusp}?", 0.02;
    slips &[
        (&s::RADIUS_FOR_DIAMETER, |c| c.times("R", 2.0).value()),
        (&s::HALVED, |c| Some(c.value()? / 2.0)),
        (&s::THOUSAND, |c| Some(c.value()? * 1000.0_f64.sqrt())),
    ];

    "roughness", 3, "the mean roughness is about a quarter of the height";
    "roughness" => "R_a", |d| d.pick("R", BALLS).share("pitch", "R", &[0.05, 0.08, 0.1, 0.15], 3);
    number "Round marks of R = {R} repeat every {pitch}. What mean roughness R_a is left \
        in theory?", 0.03;
    slips &[
        (&s::NO_CORRECTION, |c| c.result("R_t")),
        (&s::RADIUS_FOR_DIAMETER, |c| c.times("R", 2.0).value()),
    ];
}
