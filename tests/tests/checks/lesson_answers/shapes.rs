//! Chips, arcs, walls, corners, ridges: the geometry of circles.

use super::{Numbers, Row, row};
use std::f64::consts::{FRAC_PI_2, PI};

/// φ_s of a width in a circle: cos φ = 1 − 2 a_e/D.
fn arc(a_e: f64, d: f64) -> f64 {
    (1.0 - 2.0 * a_e / d).acos()
}

fn phi(e: &Numbers) -> f64 {
    arc(e.at("a_e"), e.at("D"))
}

/// sin φ = 2 √(q (1 − q)), below half the diameter.
fn thinned(q: f64) -> f64 {
    2.0 * (q * (1.0 - q)).sqrt()
}

fn q(e: &Numbers) -> f64 {
    e.at("a_e") / e.at("D")
}

/// Where the circle of the cutter, its centre `centre` from that of the wall, crosses the circle
/// the pass before left: law of cosines, the angle counted from where it touches the wall.
fn wrapped(r: f64, centre: f64, before: f64, inside: bool) -> f64 {
    let cosine = (before * before - centre * centre - r * r) / (2.0 * centre * r);
    let angle = if inside {
        cosine.acos()
    } else {
        (-cosine).acos()
    };
    r * (1.0 - angle.cos())
}

fn hollow(e: &Numbers) -> f64 {
    let (r, wall) = (e.at("D") / 2.0, e.at("wall_radius"));
    wrapped(r, wall - r, wall - e.at("a_e"), true)
}

fn bulging(e: &Numbers) -> f64 {
    let (r, wall) = (e.at("D") / 2.0, e.at("wall_radius"));
    wrapped(r, wall + r, wall + e.at("a_e"), false)
}

/// The mean of teeth in the cut: each is in it over the arc and the lag of its helix.
fn teeth(e: &Numbers, z: f64, helix: f64) -> f64 {
    let lag = 2.0 * e.at("a_p") * helix.tan() / e.at("D");
    z * (phi(e) + lag) / (2.0 * PI)
}

/// The chord of a circle of radius r at so much depth.
fn chord(depth: f64, r: f64) -> f64 {
    2.0 * (depth * (2.0 * r - depth)).sqrt()
}

/// The ridge between two circles a step apart.
fn ridge(r: f64, step: f64) -> f64 {
    r - (r * r - step * step / 4.0).sqrt()
}

pub(super) const ROWS: &[Row] = &[
    row(
        "thinning",
        |e| e.at("f_z") * thinned(q(e)),
        &[
            ("no thinning", |e| e.at("f_z")),
            ("radius for diameter", |e| {
                let half = 2.0 * q(e);
                // From half the circle on the chip is the feed.
                e.at("f_z") * if half < 0.5 { thinned(half) } else { 1.0 }
            }),
            // The area f_z a_e over the length of the arc.
            ("mean for largest", |e| {
                e.at("f_z") * e.at("a_e") / (e.at("D") / 2.0 * phi(e))
            }),
            ("a_e/D upside down", |e| {
                2.0 * e.at("f_z") * (e.at("D") / e.at("a_e") - 1.0).sqrt()
            }),
            ("inch for millimetre", |e| e.right * e.inch()),
        ],
    ),
    row(
        "feed-for-chip",
        |e| e.at("h_max") / thinned(q(e)),
        &[
            ("no thinning", |e| e.at("h_max")),
            ("upside down", |e| e.at("h_max") * thinned(q(e))),
            ("radius for diameter", |e| {
                let half = 2.0 * q(e);
                e.at("h_max") / if half < 0.5 { thinned(half) } else { 1.0 }
            }),
        ],
    ),
    row(
        "feed-for-mean-chip",
        |e| e.at("h_m") * phi(e) / (2.0 * q(e)),
        &[
            ("no thinning", |e| e.at("h_m")),
            ("twice too much", |e| 2.0 * e.right),
        ],
    ),
    row(
        "engagement-angle",
        phi,
        &[
            ("radius for diameter", |e| arc(e.at("a_e"), 2.0 * e.at("D"))),
            ("a_e/D upside down", |e| PI - phi(e)),
            ("twice too much", |e| 2.0 * phi(e)),
        ],
    ),
    row(
        "chip-floor",
        |e| e.at("λ") * e.at("r_β"),
        &[
            ("upside down", |e| e.at("r_β") / e.at("λ")),
            ("a thousand", |e| 1000.0 * e.right),
            ("correction left out", |e| e.at("r_β")),
        ],
    ),
    row(
        "teeth-in-cut",
        |e| teeth(e, e.at("z"), e.at("helix")),
        &[
            ("forgot the teeth", |e| teeth(e, 1.0, e.at("helix"))),
            ("correction left out", |e| teeth(e, e.at("z"), 0.0)),
        ],
    ),
    row(
        "ball-diameter",
        |e| chord(e.at("a_p"), e.at("D") / 2.0),
        &[
            ("correction left out", |e| e.at("D")),
            ("half", |e| e.right / 2.0),
        ],
    ),
    // model.md: D sin(β + acos(1 − 2 a_p/D)).
    row(
        "tilted-ball",
        |e| e.at("D") * (e.at("tilt") + arc(e.at("a_p"), e.at("D"))).sin(),
        &[
            ("correction left out", |e| {
                chord(e.at("a_p"), e.at("D") / 2.0)
            }),
            ("no thinning", |e| e.at("D")),
        ],
    ),
    row(
        "corner-radius",
        |e| e.at("D") - 2.0 * e.at("r_e") + chord(e.at("a_p"), e.at("r_e")),
        &[
            ("correction left out", |e| e.at("D")),
            ("radius for diameter", |e| {
                e.at("D") - e.at("r_e") + chord(e.at("a_p"), e.at("r_e") / 2.0)
            }),
        ],
    ),
    // The centre runs a circle of the wall less the cutter: the feeds are as the circles.
    row(
        "feed-inside",
        |e| e.at("v_f") * (1.0 - e.at("D") / e.at("wall_D")),
        &[
            ("centre and wall", |e| {
                e.at("v_f") / (1.0 - e.at("D") / e.at("wall_D"))
            }),
            ("correction left out", |e| e.at("v_f")),
            ("radius for diameter", |e| {
                e.at("v_f") * (1.0 - e.at("D") / (2.0 * e.at("wall_D")))
            }),
        ],
    ),
    row(
        "feed-outside",
        |e| e.at("v_f") * (1.0 + e.at("D") / e.at("wall_D")),
        &[
            ("centre and wall", |e| {
                e.at("v_f") / (1.0 + e.at("D") / e.at("wall_D"))
            }),
            ("correction left out", |e| e.at("v_f")),
            ("radius for diameter", |e| {
                e.at("v_f") * (1.0 + e.at("D") / (2.0 * e.at("wall_D")))
            }),
        ],
    ),
    row(
        "hollow-wall",
        hollow,
        &[
            ("correction left out", |e| e.at("a_e")),
            ("centre and wall", bulging),
        ],
    ),
    row(
        "bulging-wall",
        bulging,
        &[
            ("correction left out", |e| e.at("a_e")),
            ("centre and wall", hollow),
        ],
    ),
    row(
        "bore",
        |e| {
            let (r, wall) = (e.at("D") / 2.0, e.at("D_bore") / 2.0);
            wrapped(r, wall - r, e.at("D_hole") / 2.0, true)
        },
        &[
            ("correction left out", |e| {
                (e.at("D_bore") - e.at("D_hole")) / 2.0
            }),
            ("twice too much", |e| 2.0 * e.right),
        ],
    ),
    row(
        "corner",
        |e| FRAC_PI_2 + phi(e),
        &[
            ("correction left out", phi),
            ("twice too much", |e| 2.0 * phi(e)),
        ],
    ),
    // Unrolled: one pitch over the circle of the centre.
    row(
        "helix",
        |e| (e.at("pitch") / (PI * (e.at("D_hole") - e.at("D")))).atan(),
        &[
            ("centre and wall", |e| {
                (e.at("pitch") / (PI * e.at("D_hole"))).atan()
            }),
            ("left out pi", |e| {
                (e.at("pitch") / (e.at("D_hole") - e.at("D"))).atan()
            }),
            ("radius for diameter", |e| {
                (2.0 * e.at("pitch") / (PI * (e.at("D_hole") - e.at("D")))).atan()
            }),
        ],
    ),
    row(
        "ramp",
        |e| e.at("depth") / e.at("angle").tan(),
        &[
            ("upside down", |e| e.at("depth") * e.at("angle").tan()),
            ("half", |e| e.right / 2.0),
        ],
    ),
    row(
        "side-approach",
        |e| chord(e.at("a_e"), e.at("D") / 2.0) / 2.0,
        &[
            ("correction left out", |e| e.at("D") / 2.0),
            // Beyond the middle of the smaller circle all of its radius.
            ("radius for diameter", |e| {
                let r = e.at("D") / 4.0;
                chord(e.at("a_e").min(r), r) / 2.0
            }),
        ],
    ),
    row(
        "centred-approach",
        |e| ridge(e.at("D") / 2.0, e.at("w")),
        &[
            ("correction left out", |e| e.at("D") / 2.0),
            ("twice too much", |e| 2.0 * e.right),
        ],
    ),
    // In plan the step is so much shorter than along the slope.
    row(
        "cusp",
        |e| ridge(e.at("R"), e.at("step") / e.at("slope").cos()),
        &[
            ("correction left out", |e| ridge(e.at("R"), e.at("step"))),
            ("radius for diameter", |e| {
                ridge(2.0 * e.at("R"), e.at("step") / e.at("slope").cos())
            }),
        ],
    ),
    row(
        "step-for-cusp",
        |e| chord(e.at("cusp"), e.at("R")),
        &[
            ("radius for diameter", |e| {
                chord(e.at("cusp"), 2.0 * e.at("R"))
            }),
            ("half", |e| e.right / 2.0),
            // The step goes with the root of the ridge.
            ("a thousand", |e| e.right * 1000.0_f64.sqrt()),
        ],
    ),
    // The mean line of a parabola of height R_t lies 4/(9 √3) of it off, on average.
    row(
        "roughness",
        |e| 4.0 / (9.0 * 3.0_f64.sqrt()) * ridge(e.at("R"), e.at("pitch")),
        &[
            ("correction left out", |e| ridge(e.at("R"), e.at("pitch"))),
            ("radius for diameter", |e| {
                4.0 / (9.0 * 3.0_f64.sqrt()) * ridge(2.0 * e.at("R"), e.at("pitch"))
            }),
        ],
    ),
];
