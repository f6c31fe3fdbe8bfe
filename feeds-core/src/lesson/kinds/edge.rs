//! The straight law: chip, edge, wear, and going straight down.

use super::super::case::{DIAMETERS, EDGES};
use super::super::kind::questions;
use super::super::slip as s;
use super::load::{KC11, M_C};

questions! {
    "shear-coefficient", 6, "the slope of the row is what a thicker chip adds";
    "shear coefficient" => "K_tc", |d| d.pick("k_c1.1", KC11).pick("m_c", M_C);
    number "Measured forces go straight up with the chip, by the slope of the printed row \
        at a tenth of its own chip. For k_c1.1 = {k_c1.1}, m_c = {m_c}: what is that \
        slope K_tc?", 0.02;
    slips &[
        (&s::NO_EXPONENT, |c| c.set("m_c", "0").value()),
        (&s::NO_CORRECTION, |c| Some(c.value()? / (1.0 - c.number("m_c")?))),
    ];

    "capped-shear", 7, "no steel shears harder than its hardness lets it";
    "shear coefficient of a steel" => "K_tc", |d| d.pick("k_c1.1", &["2000 N/mm2", "2100 N/mm2"])
        .pick("m_c", &["0.22", "0.25"])
        .pick("H", &["1500 N/mm2", "1600 N/mm2", "1700 N/mm2", "1800 N/mm2"]);
    number "A steel has the row k_c1.1 = {k_c1.1}, m_c = {m_c} and the hardness H = {H}. \
        The slope of the row at a tenth of its own chip may not pass the cap by hardness. \
        What is K_tc?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| c.set("H", "9000 N/mm2").value()),
        (&s::NO_EXPONENT, |c| c.set("m_c", "0").set("H", "9000 N/mm2").value()),
    ];

    "radial-coefficient", 5, "the chip pushes the edge away as well as back";
    "chip part across the cut" => "K_rc", |d| d.pick("k_r", &["0.25", "0.28", "0.35"])
        .pick("K_tc", &["1600 N/mm2", "1900 N/mm2", "2100 N/mm2", "2400 N/mm2"]);
    number "A chip takes K_tc = {K_tc} along the cut, and k_r = {k_r} of it across. What \
        is K_rc?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| c.si("K_tc")),
        (&s::UPSIDE_DOWN, |c| Some(c.si("K_tc")? / c.number("k_r")?)),
    ];

    "flow-stress", 6, "harder steel flows under more stress";
    "shear flow stress" => "τ_s", |d| d
        .pick("H", &["5400 N/mm2", "6000 N/mm2", "6800 N/mm2", "7300 N/mm2"]);
    number "A hardened steel has H = {H}. By the line through soft and hard steels, what \
        is its shear flow stress τ_s?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| c.si("H")),
        (&s::HALVED, |c| Some(c.value()? / 2.0)),
    ];

    "edge-along", 6, "the rounder the edge, the more it ploughs";
    "edge force along the cut" => "K_te0", |d| d
        .pick("K_te,c", &["16 N/mm", "25 N/mm", "40 N/mm", "46 N/mm"]).pick("q_H", &["1"])
        .pick("r_β", &["3 um", "5 um", "8 um", "14 um"]).pick("r_β0", &["6 um", "10 um", "12 um"]);
    number "Edges of r_β0 = {r_β0} take K_te,c = {K_te,c} along the cut; the stock is as \
        hard, q_H = {q_H}. What force does an edge of r_β = {r_β} take?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| c.si("K_te,c")),
        (&s::UPSIDE_DOWN, |c| {
            let ratio = c.si("r_β0")? / c.si("r_β")?;
            Some(c.value()? * ratio * ratio)
        }),
    ];

    "edge-across", 6, "the rounder the edge, the more it ploughs";
    "edge force across the cut" => "K_re0", |d| d
        .pick("K_re,c", &["20 N/mm", "30 N/mm", "50 N/mm", "68 N/mm"]).pick("q_H", &["1"])
        .pick("r_β", &["3 um", "5 um", "8 um", "14 um"]).pick("r_β0", &["6 um", "10 um", "12 um"]);
    number "Edges of r_β0 = {r_β0} take K_re,c = {K_re,c} across the cut; the stock is as \
        hard, q_H = {q_H}. What force does an edge of r_β = {r_β} take?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| c.si("K_re,c")),
        (&s::UPSIDE_DOWN, |c| {
            let ratio = c.si("r_β0")? / c.si("r_β")?;
            Some(c.value()? * ratio * ratio)
        }),
    ];

    "plough-along", 7, "hard steel under the edge shears over a few edge radii";
    "ploughing force along the cut" => "K_te0", |d| d.pick("c_t", &["4"])
        .pick("τ_s", &["1200 N/mm2", "1300 N/mm2", "1500 N/mm2"])
        .pick("r_β", &["3 um", "5 um", "8 um", "14 um"]);
    number "Hardened steel flows at τ_s = {τ_s}; the edge has r_β = {r_β}, and c_t = \
        {c_t} along the cut. With what force over its width does the edge plough?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| Some(c.value()? / c.number("c_t")?)),
        (&s::THOUSAND, |c| Some(c.value()? * 1000.0)),
    ];

    "plough-across", 7, "hard steel under the edge shears over a few edge radii";
    "ploughing force across the cut" => "K_re0", |d| d.pick("c_r", &["7"])
        .pick("τ_s", &["1200 N/mm2", "1300 N/mm2", "1500 N/mm2"])
        .pick("r_β", &["3 um", "5 um", "8 um", "14 um"]);
    number "Hardened steel flows at τ_s = {τ_s}; the edge has r_β = {r_β}, and c_r = \
        {c_r} across the cut. With what force over its width does the edge plough?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| Some(c.value()? / c.number("c_r")?)),
        (&s::THOUSAND, |c| Some(c.value()? * 1000.0)),
    ];

    "wear-pressure", 7, "the land slides over work that springs back";
    "pressure on a worn flank" => "p_w", |d| d
        .pick("H", &["1500 N/mm2", "1600 N/mm2", "1700 N/mm2", "1800 N/mm2"])
        .pick("E_w", &["200000 N/mm2", "210000 N/mm2"]);
    number "A stock of H = {H} and E_w = {E_w} presses on a worn flank. What is the \
        pressure p_w, where the hardness does not cap it?", 0.02;
    slips &[
        (&s::NO_EXPONENT, |c| {
            let (h, e) = (c.si("H")?, c.si("E_w")?);
            Some(0.62 * h * 43.0 * h / e)
        }),
        (&s::NO_CORRECTION, |c| c.si("H")),
    ];

    "worn-along", 6, "a worn flank drags on the finished face";
    "edge force along the cut with a wear land" => "K_te", |d| d
        .pick("K_te0", &["16 N/mm", "25 N/mm", "40 N/mm", "46 N/mm"]).pick("μ_w", &["0.25"])
        .pick("p_w", &["700 N/mm2", "890 N/mm2", "1200 N/mm2", "2400 N/mm2"])
        .pick("VB", &["0.05 mm", "0.1 mm", "0.2 mm", "0.3 mm"]);
    number "A new edge takes K_te0 = {K_te0} along the cut. Now it has a land VB = {VB}, \
        pressed with p_w = {p_w}, and μ_w = {μ_w}. What does it take along the cut?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| c.si("K_te0")),
        (&s::DOUBLED, |c| Some(c.value()? * 2.0)),
    ];

    "worn-across", 6, "a worn flank is pressed off the finished face";
    "edge force across the cut with a wear land" => "K_re", |d| d
        .pick("K_re0", &["20 N/mm", "30 N/mm", "50 N/mm", "68 N/mm"])
        .pick("p_w", &["700 N/mm2", "890 N/mm2", "1200 N/mm2", "2400 N/mm2"])
        .pick("VB", &["0.05 mm", "0.1 mm", "0.2 mm", "0.3 mm"]);
    number "A new edge takes K_re0 = {K_re0} across the cut. Now it has a land VB = {VB}, \
        pressed with p_w = {p_w}. What does it take across the cut?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| c.si("K_re0")),
        (&s::HALVED, |c| Some(c.value()? / 2.0)),
    ];

    "end-edge", 7, "near its corner the end presses on the floor";
    "end edge that ploughs" => "L_end", |d| d.pick("λ", &["0.2", "0.3", "0.4"])
        .pick("r_β", &["3 um", "5 um", "8 um", "14 um"]);
    number "The end is dished by 2.5 degrees; the least chip is λ = {λ} of r_β = {r_β}. \
        Over what length from its corner does the end press on the floor?", 0.02;
    slips &[
        (&s::UPSIDE_DOWN, |c| {
            let slope = 2.5_f64.to_radians().tan();
            Some(c.value()? * slope * slope)
        }),
        (&s::NO_CORRECTION, |c| Some(c.value()? / c.number("λ")?)),
    ];

    "force-along", 6, "the edge takes its share however thin the chip";
    "force along the cut over width" => "F_t", |d| d
        .pick("K_tc", &["1600 N/mm2", "1900 N/mm2", "2100 N/mm2", "2400 N/mm2"])
        .pick("h", &["0.008 mm", "0.012 mm", "0.02 mm", "0.03 mm"])
        .pick("K_te", &["16 N/mm", "25 N/mm", "40 N/mm", "46 N/mm"]);
    number "K_tc = {K_tc}, K_te = {K_te}, and the chip is h = {h} thick. What force along \
        the cut is on the edge, over its width?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| c.si("K_te")),
        (&s::DOUBLED, |c| Some(c.value()? * 2.0)),
    ];

    "force-across", 6, "the edge takes its share however thin the chip";
    "force across the cut over width" => "F_r", |d| d
        .pick("K_rc", &["550 N/mm2", "650 N/mm2", "700 N/mm2", "800 N/mm2"])
        .pick("h", &["0.008 mm", "0.012 mm", "0.02 mm", "0.03 mm"])
        .pick("K_re", &["20 N/mm", "30 N/mm", "50 N/mm", "68 N/mm"]);
    number "K_rc = {K_rc}, K_re = {K_re}, and the chip is h = {h} thick. What force \
        across the cut is on the edge, over its width?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| c.si("K_re")),
        (&s::DOUBLED, |c| Some(c.value()? * 2.0)),
    ];

    "worn-least-chip", 5, "wear rounds the edge, and it rubs sooner";
    "least chip that a worn edge cuts" => "h_min", |d| d.pick("λ", &["0.2", "0.3", "0.4"])
        .pick("r_β", &["3 um", "5 um", "8 um", "14 um"]).pick("g_β", &["1.5", "2.5"]);
    number "A new edge has r_β = {r_β} and cuts chips down to λ = {λ} of it. Wear has \
        rounded it g_β = {g_β} times. What is the least chip that it still cuts?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| Some(c.value()? / c.number("g_β")?)),
        (&s::UPSIDE_DOWN, |c| {
            let growth = c.number("g_β")?;
            Some(c.value()? / (growth * growth))
        }),
    ];

    "plunge-thrust", 6, "straight down every end edge pushes back";
    "thrust of a plunge" => "F_p", |d| d.pick("z", EDGES).pick("D", &DIAMETERS[4..8])
        .pick("K_rc", &["550 N/mm2", "650 N/mm2", "700 N/mm2", "800 N/mm2"])
        .pick("f_z,p", &["0.005 mm", "0.008 mm", "0.012 mm"])
        .pick("K_re", &["20 N/mm", "30 N/mm", "50 N/mm", "68 N/mm"]);
    number "Straight down with D = {D}, z = {z} at f_z,p = {f_z,p}; K_rc = {K_rc}, K_re = \
        {K_re} across the cut. What force pushes the cutter back up?", 0.02;
    slips &[
        (&s::FORGOT_TEETH, |c| Some(c.value()? / c.number("z")?)),
        (&s::RADIUS_FOR_DIAMETER, |c| Some(c.value()? * 2.0)),
    ];

    "plunge-torque", 6, "straight down the end edges twist the core";
    "torque of a plunge" => "M_p", |d| d.pick("z", EDGES).pick("D", &DIAMETERS[4..8])
        .pick("K_tc", &["1600 N/mm2", "1900 N/mm2", "2100 N/mm2", "2400 N/mm2"])
        .pick("f_z,p", &["0.005 mm", "0.008 mm", "0.012 mm"])
        .pick("K_te", &["16 N/mm", "25 N/mm", "40 N/mm", "46 N/mm"]);
    number "Straight down with D = {D}, z = {z} at f_z,p = {f_z,p}; K_tc = {K_tc}, K_te = \
        {K_te} along the cut. What torque is on the cutter?", 0.02;
    slips &[
        (&s::FORGOT_TEETH, |c| Some(c.value()? / c.number("z")?)),
        (&s::RADIUS_FOR_DIAMETER, |c| Some(c.value()? * 4.0)),
    ];
}
