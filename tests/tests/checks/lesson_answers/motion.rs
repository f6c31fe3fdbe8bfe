//! Speeds, feeds, time, overrides: definitions.

use super::{Row, row};
use std::f64::consts::{PI, TAU};

pub(super) const ROWS: &[Row] = &[
    row(
        "spindle-speed",
        |e| e.at("v_c") / (PI * e.at("D")),
        &[
            ("radius for diameter", |e| 2.0 * e.right),
            ("inch for millimetre", |e| e.right / e.inch()),
            ("left out pi", |e| e.at("v_c") / e.at("D")),
            ("lengths mixed", |e| e.right / e.lengths()),
        ],
    ),
    row(
        "cutting-speed",
        |e| PI * e.at("D") * e.at("n"),
        &[
            ("radius for diameter", |e| e.right / 2.0),
            ("inch for millimetre", |e| e.right * e.inch()),
            ("left out pi", |e| e.at("D") * e.at("n")),
            ("lengths mixed", |e| e.right * e.lengths()),
        ],
    ),
    row(
        "cutting-diameter",
        |e| e.at("D"),
        &[("radius for diameter", |e| e.at("D") / 2.0)],
    ),
    row(
        "feed-of-a-turn",
        |e| e.at("v_f") / e.at("n"),
        &[
            ("2 pi", |e| e.right / TAU),
            ("inch for millimetre", |e| e.right * e.inch()),
            ("sixty", |e| e.right / 60.0),
            // Turns over feed, the number read as a length of the system.
            ("upside down", |e| {
                let unit = if e.inch() > 1.0 { 1e-3 } else { 0.0254 };
                unit * unit / e.right
            }),
        ],
    ),
    row(
        "feed-speed",
        |e| e.at("f_z") * e.at("z") * e.at("n"),
        &[
            ("forgot the teeth", |e| e.at("f_z") * e.at("n")),
            ("2 pi", |e| e.right * TAU),
            ("inch for millimetre", |e| e.right / e.inch()),
        ],
    ),
    row(
        "chip-load",
        |e| e.at("v_f") / (e.at("z") * e.at("n")),
        &[
            ("forgot the teeth", |e| e.at("v_f") / e.at("n")),
            ("2 pi", |e| e.right / TAU),
            ("inch for millimetre", |e| e.right * e.inch()),
            ("a thousand", |e| e.right * 1000.0),
        ],
    ),
    row(
        "removal-rate",
        |e| e.at("a_p") * e.at("a_e") * e.at("v_f"),
        &[
            ("a thousand", |e| e.right * 1000.0),
            ("sixty", |e| e.right / 60.0),
            ("inch for millimetre", |e| e.right * e.inch()),
        ],
    ),
    row(
        "cutting-time",
        |e| (e.at("L") + e.at("approach")) / e.at("v_f"),
        &[
            ("approach left out", |e| e.at("L") / e.at("v_f")),
            ("sixty", |e| e.right * 60.0),
            // A minute is 60 s: 1 over minutes, read as minutes.
            ("upside down", |e| 60.0 * 60.0 / e.right),
        ],
    ),
    // model.md: the worst tooth gains TIR sin(π/z).
    row(
        "runout",
        |e| bitten(e, 1.0),
        &[
            ("correction left out", |e| e.at("f_z")),
            ("half the reading", |e| bitten(e, 0.5)),
            ("twice the reading", |e| bitten(e, 2.0)),
        ],
    ),
    row(
        "spindle-override",
        |e| e.at("v_f") / (e.at("z") * e.at("n")),
        &[
            // n is 70 % of what was set; the slip takes 70 % of the feed instead.
            ("override the wrong way round", |e| 0.7 * 0.7 * e.right),
            ("override left out", |e| 0.7 * e.right),
            ("forgot the teeth", |e| e.right * e.at("z")),
        ],
    ),
    row(
        "feed-override",
        |e| e.at("v_f") / (e.at("z") * e.at("n")),
        &[
            // Half the speed at the whole feed: twice and twice again.
            ("override the wrong way round", |e| 4.0 * e.right),
            ("override left out", |e| 2.0 * e.right),
            ("forgot the teeth", |e| e.right * e.at("z")),
        ],
    ),
];

fn bitten(e: &super::Numbers, reading: f64) -> f64 {
    e.at("f_z") + reading * e.at("t_r") * (PI / e.at("z")).sin()
}
