//! Force, power, bending, hold.

use super::super::case::{DIAMETERS, EDGES, SPEEDS};
use super::super::kind::questions;
use super::super::slip as s;
use std::f64::consts::TAU;

/// Kienzle pairs of the right size for steels; exercises only, no data of any stock.
pub(super) const KC11: &[&str] = &[
    "1500 N/mm2",
    "1700 N/mm2",
    "1800 N/mm2",
    "2000 N/mm2",
    "2100 N/mm2",
];
pub(super) const M_C: &[&str] = &["0.17", "0.2", "0.22", "0.25"];
const CHIPS: &[&str] = &["0.05 mm", "0.06 mm", "0.08 mm", "0.1 mm"];

questions! {
    "specific-force", 4, "a thin chip takes more force for its section than a thick one";
    "specific-cutting-force" => "k_c", |d| d.pick("kc11", KC11).pick("mc", M_C).pick("h", CHIPS)
        .pick("rake_ref", &["6 deg"]).pick("rake", &["10 deg", "12 deg"])
        .pick("wear", &["1.3", "1.4", "1.5"]);
    way "The chip is halved to h = {h}. Does each bit of its section take more or less force?",
        ["more", "less", "the same"], |c| c.times("h", 2.0);
    number "k_c1.1 = {kc11}, m_c = {mc}, h = {h}; rake {rake} against the table's \
        {rake_ref}; a worn edge, K_w = {wear}. What is k_c?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| Some(c.value()? / c.number("wear")?)),
        (&s::EXPONENT_SIGN, |c| {
            let (h, m_c) = (c.si("h")? * 1e3, c.number("mc")?);
            Some(c.value()? * h.powf(2.0 * m_c))
        }),
        (&s::NO_EXPONENT, |c| c.set("mc", "0").value()),
    ];

    "cutting-force", 4, "the section of the chip times the force each bit of it takes";
    "cutting-force" => "F_c", |d| d.pick("kc11", KC11).pick("mc", M_C).pick("h", CHIPS)
        .pick("b", &["0.3 mm", "0.5 mm", "0.8 mm", "1 mm", "1.2 mm"]);
    number "k_c1.1 = {kc11}, m_c = {mc}; the chip is b = {b} wide and h = {h} thick. What \
        force F_c is on the edge?", 0.02;
    slips &[
        (&s::NO_EXPONENT, |c| c.set("mc", "0").value()),
        (&s::EXPONENT_SIGN, |c| {
            let (h, m_c) = (c.si("h")? * 1e3, c.number("mc")?);
            Some(c.value()? * h.powf(2.0 * m_c))
        }),
        (&s::THOUSAND, |c| Some(c.value()? * 1000.0)),
    ];

    "edge-force", 5, "the edge itself presses, however thin the chip";
    "edge force over width" => "K_e", |d| d.pick("q_β", &["0.3"]).pick("k_c1.1", KC11)
        .pick("m_c", M_C);
    number "For a laminate nobody has measured, the edge adds q_β = {q_β} of the force at \
        h = 0.02 mm. For k_c1.1 = {k_c1.1}, m_c = {m_c}: how much is that over a unit of \
        width?", 0.02;
    slips &[
        (&s::NO_EXPONENT, |c| c.set("m_c", "0").value()),
        (&s::NO_CORRECTION, |c| Some(c.value()? / 0.3)),
    ];

    "motor-power", 4, "belts and bearings take their share before the cutter gets any";
    "cutting-power" => "P_motor", |d| d.pick("kc11", KC11).pick("mc", M_C)
        .pick("D", &DIAMETERS[7..]).pick("z", EDGES).share("a_e", "D", &[0.2, 0.3, 0.4], 1)
        .share("a_p", "D", &[0.2, 0.3], 1).pick("f_z", &["0.03 mm", "0.04 mm", "0.05 mm"])
        .pick("n", SPEEDS).pick("efficiency", &["0.7", "0.75", "0.8"]);
    number "D = {D}, z = {z}, a_p = {a_p}, a_e = {a_e}, f_z = {f_z}, n = {n}; k_c1.1 = \
        {kc11}, m_c = {mc}; efficiency {efficiency}. What power does the motor need?", 0.04;
    slips &[
        (&s::UPSIDE_DOWN, |c| {
            let eta = c.number("efficiency")?;
            Some(c.value()? * eta * eta)
        }),
        (&s::NO_CORRECTION, |c| c.result("P_c")),
        (&s::FORGOT_TEETH, |c| c.set("z", "1").value()),
        (&s::SIXTY, |c| Some(c.value()? * 60.0)),
    ];

    "torque", 4, "the slower the spindle, the more torque the same power asks for";
    "cutting torque" => "M_c", |d| d.pick("P_c", &["40 W", "60 W", "90 W", "120 W", "180 W"])
        .pick("n", SPEEDS);
    way "The spindle is slowed by half to {n} and still delivers {P_c}. Does the torque go up \
        or down?",
        ["up", "down", "the same"], |c| c.times("n", 2.0);
    number "The cut takes {P_c} at n = {n}. How much torque M_c is that?", 0.02;
    slips &[
        (&s::TWO_PI, |c| Some(c.value()? * TAU)),
        (&s::SIXTY, |c| Some(c.value()? / 60.0)),
        (&s::THOUSAND, |c| Some(c.value()? * 1000.0)),
    ];

    "power-from-energy", 4, "each bit of volume takes its energy";
    "power-from-energy" => "P_c", |d| d.pick("u", &["2 J/mm3", "2.5 J/mm3", "3 J/mm3", "4 J/mm3"])
        .pick("Q", &["0.4 cm3/min", "0.6 cm3/min", "0.9 cm3/min", "1.5 cm3/min"]);
    number "The steel takes u = {u}; Q = {Q} is removed. How much power is that?", 0.02;
    slips &[
        (&s::SIXTY, |c| Some(c.value()? * 60.0)),
        (&s::THOUSAND, |c| Some(c.value()? / 1000.0)),
    ];

    "handbook-power", 5, "the handbook's route lies a few per cent above the sum along the edges";
    "handbook's route over the sum" => "q_P", |d| d.pick("P_m", &["52 W", "80 W", "110 W"])
        .share("P_c", "P_m", &[1.02, 1.03, 1.04], 2);
    number "By k_c of the mean chip the cut takes {P_c}; summed along the edges it is \
        {P_m}. What is the first over the second?", 0.005;
    slips &[
        (&s::UPSIDE_DOWN, |c| Some(1.0 / c.value()?)),
    ];

    "peak-force", 4, "a deeper cut loads more of each edge";
    "turn-forces" => "Fxy_peak", |d| d.pick("D", &DIAMETERS[4..]).pick("z", &["2", "3"])
        .pick("helix", &["30 deg"]).share("a_p", "D", &[0.1, 0.15], 2)
        .share("a_e", "D", &[0.1, 0.2], 2).pick("path", &["up", "down"])
        .pick("f_z", &["0.01 mm", "0.02 mm"]).pick("n", SPEEDS).pick("kc11", KC11).pick("mc", M_C)
        .pick("k_r", &["0.4"]);
    way "The depth of a pass is doubled to a_p = {a_p}: D = {D}, a_e = {a_e}, f_z = {f_z}. Does \
        the peak force on the cutter go up or down?",
        ["up", "down", "the same"], |c| c.times("a_p", 0.5);
    slips &[];

    "bending", 4, "half as far out again bends more than three times as much";
    "bending" => "tip", |d| {
                d.pick("E", &["600 GPa"])
                    .pick("force", &["20 N", "30 N", "40 N", "60 N"]);
                d.pick("d", &["2.4 mm", "3.2 mm", "4 mm", "4.8 mm"]);
                d.pick("l", &["14 mm", "16 mm", "18 mm", "20 mm", "24 mm"]);
                let text = |key: &str| {
                    let hit = d.entries.iter().find(|(k, _)| *k == key);
                    hit.map_or_else(String::new, |(_, text)| text.replace(' ', ""))
                };
                let section = format!("{}x{}", text("l"), text("d"));
                d.entries.push(("segments", section));
            };
    way "The same cutter is clamped half as long again, now l = {l}. Does it bend more or less \
        under {force}?",
        ["more", "less", "the same"],
        |c| {
                    let shorter = c.times("l", 1.0 / 1.5);
                    let (l, d) = (shorter.si("l"), c.si("d"));
                    let (l, d) = (l.unwrap_or(1.0), d.unwrap_or(1.0));
                    shorter.set("segments", format!("{l}mx{d}m"))
                };
    number "A carbide round of {d} stands out by {l}; E = {E}; {force} act at its tip. \
        How far does the tip bend?", 0.03;
    slips &[
        (&s::RADIUS_FOR_DIAMETER, |c| Some(c.value()? * 16.0)),
        (&s::LINEAR_LENGTH, |c| {
            let (l, d) = (c.si("l")?, c.si("d")?);
            Some(c.value()? * d * d / (l * l))
        }),
        (&s::HALVED, |c| Some(c.value()? / 2.0)),
        (&s::THOUSAND, |c| Some(c.value()? * 1000.0)),
    ];

    "fluted-round", 4, "flutes take away stiffness: a thinner round stands for what is left";
    "equivalent-round" => "diameter", |d| d.pick("D", DIAMETERS);
    number "Flutes leave a D = {D} cutter as stiff as a full round of which diameter?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| c.si("D")),
        (&s::RADIUS_FOR_DIAMETER, |c| Some(c.value()? / 2.0)),
    ];

    "hold", 4, "each clamped face resists by its share of the clamping force";
    "force friction can hold" => "F_h", |d| d.pick("n_f", &["2"])
        .pick("μ", &["0.1", "0.12", "0.15", "0.2"])
        .pick("F_cl", &["2000 N", "3000 N", "4000 N", "5000 N"]);
    number "Two jaws press the bolster with {F_cl}; μ = {μ}. At which lateral force does \
        it slip?", 0.02;
    slips &[
        (&s::ONE_FACE, |c| c.set("n_f", "1").value()),
        (&s::UPSIDE_DOWN, |c| Some(2.0 * c.si("F_cl")? / c.number("μ")?)),
        (&s::NO_CORRECTION, |c| Some(c.si("F_cl")? * 2.0)),
    ];

    "screw", 5, "a screw turns torque into force over a fraction of its diameter";
    "clamping force of a screw" => "F_cl", |d| d
        .pick("M_s", &["5 N m", "8 N m", "10 N m", "15 N m"]).pick("K_n", &["0.2"])
        .pick("d_s", &["6 mm", "8 mm", "10 mm"]);
    number "A clamping screw of {d_s} is tightened with {M_s}; K_n = {K_n}. What force \
        does it press with?", 0.02;
    slips &[
        (&s::NO_CORRECTION, |c| Some(c.value()? * c.number("K_n")?)),
        (&s::RADIUS_FOR_DIAMETER, |c| c.times("d_s", 0.5).value()),
        (&s::THOUSAND, |c| Some(c.value()? / 1000.0)),
    ];
}
