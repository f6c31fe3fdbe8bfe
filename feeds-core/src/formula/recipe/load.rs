//! Recipes of force, power, bending and chatter.

use super::entry as e;
use super::given::{Given, less, missing};
use super::{Recipe, Results};
use crate::error::{Cause, EntryError};
use crate::formula::bending::{EquivalentRound, Section, bend};
use crate::formula::chatter::{
    OrthogonalFrequency, OrthogonalLimit, TipMode, Vibrating, stable_depth,
};
use crate::formula::chip::{EngagementAngle, MeanChip};
use crate::formula::feed::FeedSpeed;
use crate::formula::force::{CuttingForce, ForRake, ForWear, LinearSpecificForce, SpecificForce};
use crate::formula::power::{CuttingPower, CuttingTorque, MotorPower, PowerFromEnergy};
use crate::formula::removal::RemovalRate;
use crate::formula::turn::{EdgeLaw, Turning, turn};
use crate::kernel::turn::TurnPart;
use crate::quantity::{Length, Pressure, Quantity, Stiffness, degrees, mm};
use crate::symbol as s;
use crate::workpiece::Linear;

pub(super) static RECIPES: &[Recipe] = &[
    Recipe {
        name: "specific-cutting-force",
        about: "force over chip section at a chip thickness",
        fields: &[e::KC11, e::M_C, e::H, e::RAKE, e::RAKE_REF, e::WEAR],
        gives: &["k_c"],
        work: specific_cutting_force,
    },
    Recipe {
        name: "linear-specific-force",
        about: "force over chip section by linear edge coefficients",
        fields: &[e::K_TC, e::K_TE, e::H, e::WEAR],
        gives: &["k_c"],
        work: |g| {
            let (k_tc, k_te, h) = (g.need(e::K_TC)?, g.need(e::K_TE)?, g.need(e::H)?);
            let mut k_c = g.take(LinearSpecificForce { k_tc, k_te, h });
            if let Some(wear) = g.maybe(e::WEAR) {
                k_c = g.take(ForWear { k_c, wear });
            }
            Ok(Results::default().with("k_c", &s::K_C, k_c))
        },
    },
    Recipe {
        name: "power-from-energy",
        about: "cutting power from the energy a volume takes",
        fields: &[e::U, e::Q],
        gives: &["P_c"],
        work: |g| {
            let (u, q) = (g.need(e::U)?, g.need(e::Q)?);
            let p_c = g.take(PowerFromEnergy { u, q });
            Ok(Results::default().with("P_c", &s::P_C, p_c))
        },
    },
    Recipe {
        name: "cutting-force",
        about: "the force on one edge for a chip of a width and thickness",
        fields: &[e::KC11, e::M_C, e::B, e::H],
        gives: &["k_c", "F_c"],
        work: |g| {
            let (kc11, m_c) = (g.need(e::KC11)?, g.need(e::M_C)?);
            let (b, h) = (g.need(e::B)?, g.need(e::H)?);
            let k_c = g.take(SpecificForce { kc11, h, m_c });
            let f_c = g.take(CuttingForce { k_c, b, h });
            Ok(Results::default()
                .with("k_c", &s::K_C, k_c)
                .with("F_c", &s::F_C, f_c))
        },
    },
    Recipe {
        name: "cutting-power",
        about: "mean power and torque by the specific force of the mean chip",
        fields: &[
            e::KC11,
            e::M_C,
            e::D,
            e::Z,
            e::A_E,
            e::A_P,
            e::F_Z,
            e::N,
            e::EFFICIENCY,
        ],
        gives: &["phi_s", "h_m", "k_c", "P_c", "M_c", "P_motor"],
        work: cutting_power,
    },
    Recipe {
        name: "turn-forces",
        about: "forces, torque and power over one turn, every tooth counted",
        fields: &[
            e::D,
            e::Z,
            e::HELIX,
            e::A_P,
            e::A_E.optional(),
            e::PATH,
            e::F_Z,
            e::N,
            e::KC11.optional(),
            e::M_C.optional(),
            e::K_R,
            e::K_A,
            e::K_TC.optional(),
            e::K_RC,
            e::K_AC,
            e::K_TE.optional(),
            e::K_RE,
            e::K_AE,
            e::TIR,
        ],
        gives: &[
            "Fx_mean", "Fy_mean", "Fx_min", "Fx_max", "Fy_min", "Fy_max", "Fxy_peak", "T_mean",
            "T_peak", "P_mean", "P_peak", "Fz_mean",
        ],
        work: turn_forces,
    },
    Recipe {
        name: "bending",
        about: "how far a stepped cutter bends, and its stress at each section's start",
        fields: &[e::E, e::FORCE, e::SEGMENTS, e::LOAD_FROM_TIP],
        gives: &["tip", "stiffness", "stress"],
        work: bending,
    },
    Recipe {
        name: "equivalent-round",
        about: "the round bar that bends like the fluted part",
        fields: &[e::D],
        gives: &["diameter"],
        work: |g| {
            let d = g.need(e::D)?;
            let round = g.take(EquivalentRound { d });
            Ok(Results::default().with("diameter", &s::D_CORE_EQ, round))
        },
    },
    Recipe {
        name: "stable-depth",
        about: "the least depth at which chatter starts, a hint and no guarantee",
        fields: &[
            e::K_X,
            e::Z_X,
            e::F_X,
            e::K_Y,
            e::Z_Y,
            e::F_Y,
            e::K_T,
            e::K_R_RATIO,
            e::Z,
            e::A_E_RATIO.optional(),
            e::PATH,
        ],
        gives: &["a_min", "f_c", "speeds"],
        work: depth_of_chatter,
    },
    Recipe {
        name: "orthogonal-limit",
        about: "the width of cut below which a single mode never chatters",
        fields: &[e::K_MODE, e::ZETA, e::F_N, e::K_S],
        gives: &["b_lim", "f_c"],
        work: |g| {
            let (k, zeta, f_n, k_s) = (
                g.need(e::K_MODE)?,
                g.need(e::ZETA)?,
                g.need(e::F_N)?,
                g.need(e::K_S)?,
            );
            let b_lim = g.take(OrthogonalLimit { k, zeta, k_s });
            let f_c = g.take(OrthogonalFrequency { f_n, zeta });
            Ok(Results::default()
                .with("b_lim", &s::B_LIM, b_lim)
                .with("f_c", &s::FREQUENCY, f_c))
        },
    },
];

fn specific_cutting_force(g: &mut Given<'_>) -> Result<Results, EntryError> {
    let (kc11, m_c, h) = (g.need(e::KC11)?, g.need(e::M_C)?, g.need(e::H)?);
    let rule = "k_c falls by 1.5 % for each degree of rake above rake_ref, so both are needed";
    match (g.has(e::RAKE), g.has(e::RAKE_REF)) {
        (true, false) => {
            let advice = format!("is needed with rake, for example rake_ref=6deg: {rule}");
            return Err(EntryError::because(Cause::Wanting, advice).of(e::RAKE_REF.key));
        }
        (false, true) => {
            let advice = format!("is needed with rake_ref, for example rake=10deg: {rule}");
            return Err(EntryError::because(Cause::Wanting, advice).of(e::RAKE.key));
        }
        _ => {}
    }
    let mut k_c: Pressure = g.take(SpecificForce { kc11, h, m_c });
    if g.has(e::RAKE) {
        let (rake, rake_ref) = (g.need(e::RAKE)?, g.need(e::RAKE_REF)?);
        k_c = g.take(ForRake {
            k_c,
            rake,
            rake_ref,
        });
        if k_c.si() <= 0.0 {
            let much = "is so far above rake_ref that 1.5 % a degree leaves no force";
            return Err(EntryError::because(Cause::Bound, much).of(e::RAKE.key));
        }
        g.stands_for_last_step(&s::K_C);
    }
    if let Some(wear) = g.maybe(e::WEAR) {
        k_c = g.take(ForWear { k_c, wear });
    }
    Ok(Results::default().with("k_c", &s::K_C, k_c))
}

fn cutting_power(g: &mut Given<'_>) -> Result<Results, EntryError> {
    let (kc11, m_c) = (g.need(e::KC11)?, g.need(e::M_C)?);
    let (d, a_e) = g.cutter_and_width()?;
    let (z, a_p, f_z, n) = (
        g.need(e::Z)?,
        g.need(e::A_P)?,
        g.need(e::F_Z)?,
        g.need(e::N)?,
    );
    let kappa = degrees(90.0);
    g.told(&s::KAPPA, "edges along the axis");
    let phi_s = g.take(EngagementAngle { a_e, d });
    let h_m = g.take(MeanChip {
        f_z,
        kappa,
        a_e,
        d,
        phi_s,
    });
    g.stands_for_last_step(&s::H);
    let k_c = g.take(SpecificForce { kc11, h: h_m, m_c });
    let v_f = g.take(FeedSpeed { f_z, z, n });
    let q = g.take(RemovalRate { a_p, a_e, v_f });
    let p_c = g.take(CuttingPower { k_c, q });
    let torque = g.take(CuttingTorque { p_c, n });
    let results = Results::default()
        .with("phi_s", &s::PHI_S, phi_s)
        .with("h_m", &s::H_M, h_m)
        .with("k_c", &s::K_C, k_c)
        .with("P_c", &s::P_C, p_c)
        .with("M_c", &s::M_C_TORQUE, torque);
    Ok(match g.maybe(e::EFFICIENCY) {
        Some(efficiency) => {
            let p_motor = g.take(MotorPower { p_c, efficiency });
            results.with("P_motor", &s::P_MOT, p_motor)
        }
        None => results,
    })
}

fn path(g: &Given<'_>) -> Result<TurnPart, EntryError> {
    match g.word(e::PATH) {
        Some("slot") => Ok(TurnPart::Slot),
        Some("up") => Ok(TurnPart::Up),
        Some("down") => Ok(TurnPart::Down),
        _ => Err(missing(e::PATH)),
    }
}

fn turn_forces(g: &mut Given<'_>) -> Result<Results, EntryError> {
    let path = path(g)?;
    let d: Length = g.need(e::D)?;
    let a_e =
        if path == TurnPart::Slot {
            let a_e: Length = g.or(e::A_E, d, "a slot is as wide as the cutter");
            if ((a_e - d) / d).value.abs() > 1e-9 {
                let (a_e, d) = (s::A_E.amount(a_e.si()), s::D.amount(d.si()));
                return Err(EntryError::because(Cause::Clash, format!(
                "{a_e} is not D = {d}: a slot is as wide as the cutter; leave a_e out, or take \
                 path=up or path=down"
            ))
            .of(e::A_E.key));
            }
            d
        } else {
            g.cutter_and_width()?.1
        };
    let (law, axial) = edge_law(g)?;
    let z: f64 = g.need(e::Z)?;
    let phi_s = g.take(EngagementAngle { a_e, d });
    let cut = Turning {
        d,
        z: count(z),
        helix: g.need(e::HELIX)?,
        a_p: g.need(e::A_P)?,
        phi_s,
        path,
        f_z: g.need(e::F_Z)?,
        n: g.need(e::N)?,
        law,
        tir: g.or(e::TIR, mm(0.0), "left out: the cutter runs true"),
    };
    let forces = turn(&cut, g.notes());
    let results = Results::default()
        .with("Fx_mean", &s::F_X_MEAN, forces.x_mean)
        .with("Fy_mean", &s::F_Y_MEAN, forces.y_mean)
        .with("Fx_min", &s::F_X_MIN, forces.x.0)
        .with("Fx_max", &s::F_X_MAX, forces.x.1)
        .with("Fy_min", &s::F_Y_MIN, forces.y.0)
        .with("Fy_max", &s::F_Y_MAX, forces.y.1)
        .with("Fxy_peak", &s::F_XY, forces.lateral_peak)
        .with("T_mean", &s::M_MEAN, forces.torque.0)
        .with("T_peak", &s::M_MAX, forces.torque.1)
        .with("P_mean", &s::P_MEAN, forces.power.0)
        .with("P_peak", &s::P_MAX, forces.power.1);
    Ok(if axial {
        results.with("Fz_mean", &s::F_Z_MEAN, forces.z_mean)
    } else {
        results
    })
}

/// One of the two sets of coefficients, and whether it says anything of the axial force.
fn edge_law(g: &mut Given<'_>) -> Result<(EdgeLaw, bool), EntryError> {
    let kienzle = [e::KC11, e::M_C, e::K_R, e::K_A];
    let linear = [e::K_TC, e::K_RC, e::K_AC, e::K_TE, e::K_RE, e::K_AE];
    if linear.iter().any(|f| g.has(*f)) {
        for field in kienzle {
            g.refuse(
                field,
                "enter either kc11, mc, k_r or Ktc, Krc with their edge coefficients",
            )?;
        }
        let none = |g: &mut Given<'_>, field| -> Stiffness {
            g.or(field, Stiffness::from_si(0.0), "left out: no edge force")
        };
        let axial = g.has(e::K_AC);
        if !axial {
            g.refuse(e::K_AE, "it adds to Kac, which is missing")?;
        }
        let no_axial = "left out: no axial force";
        let cut = [
            g.need(e::K_TC)?,
            g.need(e::K_RC)?,
            g.or(e::K_AC, Pressure::from_si(0.0), no_axial),
        ];
        let edge = [none(g, e::K_TE), none(g, e::K_RE), none(g, e::K_AE)];
        return Ok((EdgeLaw::Linear(Linear { cut, edge }), axial));
    }
    if !kienzle.iter().any(|f| g.has(*f)) {
        return Err(EntryError::because(
            Cause::Wanting,
            "turn-forces needs the force law: kc11, mc, k_r (for example kc11=2100N/mm2 mc=0.25 \
             k_r=0.4), or Ktc, Krc with Kte, Kre",
        ));
    }
    let axial = g.has(e::K_A);
    let law = EdgeLaw::Kienzle {
        kc11: g.need(e::KC11)?,
        m_c: g.need(e::M_C)?,
        k_r: g.need(e::K_R)?,
        k_a: g.or(e::K_A, 0.0, "left out: no axial force"),
    };
    Ok((law, axial))
}

/// A whole number that a field has already checked.
fn count(z: f64) -> u32 {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "the field takes whole numbers from 1 to 200 only"
    )]
    let count = z as u32;
    count
}

fn bending(g: &mut Given<'_>) -> Result<Results, EntryError> {
    let (modulus, force) = (g.need(e::E)?, g.need(e::FORCE)?);
    let sections: Vec<Section> = g
        .pairs(e::SEGMENTS, [&s::L_SECTION, &s::D_SECTION])?
        .iter()
        .map(|&[length, diameter]| Section {
            length: Length::from_si(length),
            diameter: Length::from_si(diameter),
        })
        .collect();
    let stick_out = sections.iter().fold(mm(0.0), |sum, s| sum + s.length);
    g.told(&s::STICK_OUT, "the sum of the sections");
    let from_tip: Length = g.or(
        e::LOAD_FROM_TIP,
        mm(0.0),
        "left out: the load is at the tip",
    );
    let because = "the load has to act on the part that sticks out";
    less(
        (e::LOAD_FROM_TIP, from_tip),
        ("the stick-out", stick_out),
        because,
    )?;
    let bent = bend(modulus, &sections, force, from_tip, g.notes());
    Ok(Results::default()
        .with("tip", &s::DEFLECTION, bent.tip)
        .with("stiffness", &s::STIFFNESS, bent.stiffness)
        .with_list("stress", &s::SIGMA, bent.stress))
}

fn depth_of_chatter(g: &mut Given<'_>) -> Result<Results, EntryError> {
    let path = path(g)?;
    let a_e_ratio: f64 = if path == TurnPart::Slot {
        let ratio = g.or(e::A_E_RATIO, 1.0, "a slot is as wide as the cutter");
        if ratio < 1.0 - 1e-9 {
            return Err(EntryError::because(Cause::Clash, format!(
                "{ratio} is less than 1: a slot is as wide as the cutter; take path=up or path=down"
            ))
            .of(e::A_E_RATIO.key));
        }
        1.0
    } else {
        g.need(e::A_E_RATIO)?
    };
    let cut = Vibrating {
        modes: [
            TipMode {
                k: g.need(e::K_X)?,
                zeta: g.need(e::Z_X)?,
                f_n: g.need(e::F_X)?,
            },
            TipMode {
                k: g.need(e::K_Y)?,
                zeta: g.need(e::Z_Y)?,
                f_n: g.need(e::F_Y)?,
            },
        ],
        k_t: g.need(e::K_T)?,
        k_r: g.need(e::K_R_RATIO)?,
        z: count(g.need(e::Z)?),
        a_e_ratio,
        path,
    };
    let limit = stable_depth(&cut, g.notes()).ok_or_else(|| {
        EntryError::because(
            Cause::NoResult,
            "stable-depth: no depth chatters with these modes and coefficients",
        )
    })?;
    Ok(Results::default()
        .with("a_min", &s::A_LIM, limit.a_lim)
        .with("f_c", &s::FREQUENCY, limit.f_c)
        .with_list("speeds", &s::N, limit.speeds))
}
