//! Lives by Taylor's law, cost, and what chatters.

use super::{Numbers, Row, row};
use feeds_core::quantity::Dimension;
use feeds_core::quantity::read::read_si;
use std::f64::consts::TAU;

const MINUTE: f64 = 60.0;

/// v_c T^n = C, T in minutes.
fn life(e: &Numbers) -> f64 {
    MINUTE * (e.at("C") / e.at("v_c")).powf(1.0 / e.at("n"))
}

/// The exponent through two lives: the slope of a line in logarithms.
fn exponent(e: &Numbers) -> f64 {
    let life = |before, after| e.said(before, after, Dimension::Time);
    let speed = |before, after| e.said(before, after, Dimension::Speed);
    let (long, slow) = (life("lasted ", " at "), speed(" at ", " and "));
    let (short, fast) = (life(" and ", " at "), {
        let rest = e.text.split(" and ").nth(1).unwrap();
        let (_, rest) = rest.split_once(" at ").unwrap();
        read_si(rest.split(". ").next().unwrap(), Dimension::Speed).unwrap()
    });
    (fast / slow).ln() / (long / short).ln()
}

pub(super) const ROWS: &[Row] = &[
    row(
        "tool-life",
        life,
        &[
            ("upside down", |e| MINUTE * MINUTE / life(e)),
            ("exponent left out", |e| MINUTE * e.at("C") / e.at("v_c")),
            ("sixty", |e| life(e) / 60.0),
        ],
    ),
    row(
        "life-ratio",
        |e| e.at("v_ratio").powf(-1.0 / e.at("n")),
        &[
            ("upside down", |e| 1.0 / e.right),
            ("exponent left out", |e| 1.0 / e.at("v_ratio")),
        ],
    ),
    row("two-lives", exponent, &[("upside down", |e| 1.0 / e.right)]),
    row(
        "break-even",
        |e| e.at("hours_spent") / e.at("minutes_saved"),
        &[
            ("sixty", |e| e.right / 60.0),
            ("upside down", |e| 1.0 / e.right),
        ],
    ),
    // One wave more or less between two edges: f_n / (z j).
    row(
        "speed-between-lobes",
        |e| e.at("f_n") / (e.at("z") * e.at("j")),
        &[
            ("forgot the teeth", |e| e.right * e.at("z")),
            ("2 pi", |e| e.right / TAU),
            ("sixty", |e| e.right / 60.0),
        ],
    ),
    // b_lim = 2 k ζ (1 + ζ) / K_s: the least real part of one mode is -1/(4 k ζ (1 + ζ)).
    row(
        "single-mode",
        |e| 2.0 * e.at("k") * e.at("zeta") * (1.0 + e.at("zeta")) / e.at("Ks"),
        &[
            ("half", |e| e.right / 2.0),
            ("a thousand", |e| e.right / 1000.0),
        ],
    ),
];
