//! Forces, power, bending, hold: Kienzle's law, the straight law of the house, beams.

use super::{Numbers, Row, row};
use feeds_core::quantity::Dimension;
use std::f64::consts::{PI, TAU};

const MM: f64 = 1e-3;

/// k_c = k_c1.1 h^(-m_c), h in mm.
fn k_c(e: &Numbers, h: f64, m_c: f64) -> f64 {
    e.at("kc11") * (h / MM).powf(-m_c)
}

/// The rake takes 1.5 % a degree off (model.md).
fn rake(e: &Numbers) -> f64 {
    1.0 - 0.015 * (e.at("rake") - e.at("rake_ref")).to_degrees()
}

/// k_c of the mean chip times the rate: the handbook's route.
fn power(e: &Numbers, z: f64) -> f64 {
    let phi = (1.0 - 2.0 * e.at("a_e") / e.at("D")).acos();
    let h_m = 2.0 * e.at("f_z") * e.at("a_e") / (e.at("D") * phi);
    let v_f = e.at("f_z") * z * e.at("n");
    k_c(e, h_m, e.at("mc")) * e.at("a_p") * e.at("a_e") * v_f
}

/// The tip of a clamped round: F l³ / (3 E I), I = π d⁴/64.
fn tip(e: &Numbers) -> f64 {
    let [l, d] = round(e);
    e.at("force") * l.powi(3) / (3.0 * e.at("E") * PI * d.powi(4) / 64.0)
}

fn round(e: &Numbers) -> [f64; 2] {
    let d = e.said("carbide round of ", " stands", Dimension::Length);
    [e.said("stands out by ", ";", Dimension::Length), d]
}

pub(super) const ROWS: &[Row] = &[
    row(
        "specific-force",
        |e| k_c(e, e.at("h"), e.at("mc")) * rake(e) * e.at("wear"),
        &[
            ("correction left out", |e| {
                k_c(e, e.at("h"), e.at("mc")) * rake(e)
            }),
            ("exponent's sign", |e| {
                k_c(e, e.at("h"), -e.at("mc")) * rake(e) * e.at("wear")
            }),
            ("exponent left out", |e| {
                e.at("kc11") * rake(e) * e.at("wear")
            }),
        ],
    ),
    row(
        "cutting-force",
        |e| k_c(e, e.at("h"), e.at("mc")) * e.at("b") * e.at("h"),
        &[
            ("exponent left out", |e| {
                e.at("kc11") * e.at("b") * e.at("h")
            }),
            ("exponent's sign", |e| {
                k_c(e, e.at("h"), -e.at("mc")) * e.at("b") * e.at("h")
            }),
            ("a thousand", |e| 1000.0 * e.right),
        ],
    ),
    // law.md: 0.3 k_c(0.02) · 0.02 of the row, for laminates.
    row(
        "edge-force",
        |e| 0.3 * e.at("k_c1.1") * 0.02_f64.powf(-e.at("m_c")) * 0.02 * MM,
        &[
            ("exponent left out", |e| 0.3 * e.at("k_c1.1") * 0.02 * MM),
            ("correction left out", |e| e.right / 0.3),
        ],
    ),
    row(
        "motor-power",
        |e| power(e, e.at("z")) / e.at("efficiency"),
        &[
            ("upside down", |e| power(e, e.at("z")) * e.at("efficiency")),
            ("correction left out", |e| power(e, e.at("z"))),
            ("forgot the teeth", |e| power(e, 1.0) / e.at("efficiency")),
            ("sixty", |e| 60.0 * e.right),
        ],
    ),
    row(
        "torque",
        |e| e.at("P_c") / (TAU * e.at("n")),
        &[
            ("2 pi", |e| e.at("P_c") / e.at("n")),
            ("sixty", |e| e.right / 60.0),
            ("a thousand", |e| 1000.0 * e.right),
        ],
    ),
    row(
        "power-from-energy",
        |e| e.at("u") * e.at("Q"),
        &[
            ("sixty", |e| 60.0 * e.right),
            ("a thousand", |e| e.right / 1000.0),
        ],
    ),
    row(
        "handbook-power",
        |e| e.at("P_c") / e.at("P_m"),
        &[("upside down", |e| e.at("P_m") / e.at("P_c"))],
    ),
    row(
        "bending",
        tip,
        &[
            // The fourth power of the diameter.
            ("radius for diameter", |e| 16.0 * tip(e)),
            ("length not cubed", |e| {
                let [l, d] = round(e);
                tip(e) * (d / l).powi(2)
            }),
            ("half", |e| tip(e) / 2.0),
            ("a thousand", |e| 1000.0 * tip(e)),
        ],
    ),
    // model.md: 0.80 D is as stiff as the flutes leave it (Kops and Vo).
    row(
        "fluted-round",
        |e| 0.8 * e.at("D"),
        &[
            ("correction left out", |e| e.at("D")),
            ("radius for diameter", |e| 0.4 * e.at("D")),
        ],
    ),
    // model.md: two jaws hold 2 μ F.
    row(
        "hold",
        |e| 2.0 * e.at("μ") * e.at("F_cl"),
        &[
            ("one jaw", |e| e.at("μ") * e.at("F_cl")),
            ("upside down", |e| 2.0 * e.at("F_cl") / e.at("μ")),
            ("correction left out", |e| 2.0 * e.at("F_cl")),
        ],
    ),
    row(
        "screw",
        |e| e.at("M_s") / (e.at("K_n") * e.at("d_s")),
        &[
            ("correction left out", |e| e.at("M_s") / e.at("d_s")),
            ("radius for diameter", |e| 2.0 * e.right),
            ("a thousand", |e| e.right / 1000.0),
        ],
    ),
];

/// law.md: K_tc = (1 − m_c) k_c1.1 h*^(−m_c), h* = 0.1 mm.
fn slope(e: &Numbers) -> f64 {
    (1.0 - e.at("m_c")) * e.at("k_c1.1") * 0.1_f64.powf(-e.at("m_c"))
}

/// law.md: H of a land, 0.62 H √(43 H/E).
fn land(e: &Numbers) -> f64 {
    0.62 * e.at("H") * (43.0 * e.at("H") / e.at("E_w")).sqrt()
}

fn end(e: &Numbers) -> f64 {
    e.at("λ") * e.at("r_β")
}

/// Straight down: every edge cuts along the radius.
fn thrust(e: &Numbers) -> f64 {
    e.at("D") / 2.0 * (e.at("K_rc") * e.at("f_z,p") + e.at("K_re"))
}

/// Its force along the cut acts at half the radius on average.
fn twist(e: &Numbers) -> f64 {
    let along = e.at("D") / 2.0 * (e.at("K_tc") * e.at("f_z,p") + e.at("K_te"));
    along * e.at("D") / 4.0
}

/// The rows of the straight law (law.md).
pub(super) const EDGES: &[Row] = &[
    row(
        "shear-coefficient",
        slope,
        &[
            ("exponent left out", |e| e.at("k_c1.1")),
            ("correction left out", |e| slope(e) / (1.0 - e.at("m_c"))),
        ],
    ),
    // No steel above 1080 + 0.61 H.
    row(
        "capped-shear",
        |e| slope(e).min(1080e6 + 0.61 * e.at("H")),
        &[
            ("correction left out", slope),
            ("exponent left out", |e| e.at("k_c1.1")),
        ],
    ),
    row(
        "radial-coefficient",
        |e| e.at("k_r") * e.at("K_tc"),
        &[
            ("correction left out", |e| e.at("K_tc")),
            ("upside down", |e| e.at("K_tc") / e.at("k_r")),
        ],
    ),
    row(
        "flow-stress",
        |e| 300e6 + 0.17 * e.at("H"),
        &[
            ("correction left out", |e| e.at("H")),
            ("half", |e| e.right / 2.0),
        ],
    ),
    row(
        "edge-along",
        |e| e.at("K_te,c") * e.at("r_β") / e.at("r_β0"),
        &[
            ("correction left out", |e| e.at("K_te,c")),
            ("upside down", |e| {
                e.at("K_te,c") * e.at("r_β0") / e.at("r_β")
            }),
        ],
    ),
    row(
        "edge-across",
        |e| e.at("K_re,c") * e.at("r_β") / e.at("r_β0"),
        &[
            ("correction left out", |e| e.at("K_re,c")),
            ("upside down", |e| {
                e.at("K_re,c") * e.at("r_β0") / e.at("r_β")
            }),
        ],
    ),
    row(
        "plough-along",
        |e| 4.0 * e.at("τ_s") * e.at("r_β"),
        &[
            ("correction left out", |e| e.at("τ_s") * e.at("r_β")),
            ("a thousand", |e| 1000.0 * e.right),
        ],
    ),
    row(
        "plough-across",
        |e| 7.0 * e.at("τ_s") * e.at("r_β"),
        &[
            ("correction left out", |e| e.at("τ_s") * e.at("r_β")),
            ("a thousand", |e| 1000.0 * e.right),
        ],
    ),
    row(
        "wear-pressure",
        land,
        &[
            ("exponent left out", |e| {
                0.62 * e.at("H") * 43.0 * e.at("H") / e.at("E_w")
            }),
            ("correction left out", |e| e.at("H")),
        ],
    ),
    row(
        "worn-along",
        |e| e.at("K_te0") + 0.25 * e.at("p_w") * e.at("VB"),
        &[
            ("correction left out", |e| e.at("K_te0")),
            ("twice too much", |e| 2.0 * e.right),
        ],
    ),
    row(
        "worn-across",
        |e| e.at("K_re0") + e.at("p_w") * e.at("VB"),
        &[
            ("correction left out", |e| e.at("K_re0")),
            ("half", |e| e.right / 2.0),
        ],
    ),
    // The dish of 2.5° clears the least chip from there on.
    row(
        "end-edge",
        |e| end(e) / 2.5_f64.to_radians().tan(),
        &[
            ("upside down", |e| end(e) * 2.5_f64.to_radians().tan()),
            ("correction left out", |e| {
                e.at("r_β") / 2.5_f64.to_radians().tan()
            }),
        ],
    ),
    row(
        "force-along",
        |e| e.at("K_tc") * e.at("h") + e.at("K_te"),
        &[
            ("correction left out", |e| e.at("K_te")),
            ("twice too much", |e| 2.0 * e.right),
        ],
    ),
    row(
        "force-across",
        |e| e.at("K_rc") * e.at("h") + e.at("K_re"),
        &[
            ("correction left out", |e| e.at("K_re")),
            ("twice too much", |e| 2.0 * e.right),
        ],
    ),
    row(
        "worn-least-chip",
        |e| end(e) * e.at("g_β"),
        &[
            ("correction left out", end),
            ("upside down", |e| end(e) / e.at("g_β")),
        ],
    ),
    row(
        "plunge-thrust",
        |e| e.at("z") * thrust(e),
        &[
            ("forgot the teeth", thrust),
            ("radius for diameter", |e| 2.0 * e.right),
        ],
    ),
    row(
        "plunge-torque",
        |e| e.at("z") * twist(e),
        &[
            ("forgot the teeth", twist),
            ("radius for diameter", |e| 4.0 * e.right),
        ],
    ),
];
