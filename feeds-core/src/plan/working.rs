//! The working of the loads: the handbook's route beside the sum over a turn.

use super::bending::CORE;
use super::loads::{Loads, edge_force};
use super::setup::Setup;
use crate::formula::bending::BENDING;
use crate::formula::force::{CuttingForce, ForWear, LinearSpecificForce, SpecificForce};
use crate::formula::power::{CuttingPower, CuttingTorque, MotorPower, RouteRatio};
use crate::formula::turn::TURN;
use crate::notebook::Notebook;
use crate::quantity::{
    Force, Length, Power, Pressure, Quantity, SpindleSpeed, Stiffness, VolumeRate,
};
use crate::symbol as s;
use crate::workpiece::{ForceLaw, Linear, Pairs};

/// What the nominal engagement is worked out from.
pub(super) struct Nominal {
    pub(super) n: SpindleSpeed,
    pub(super) f_z: Length,
    pub(super) h_m: Length,
    pub(super) q: VolumeRate,
    pub(super) phi_s: f64,
}

/// Takes every step of the loads; gives `k_c` and the mean cutting force of one edge.
pub(super) fn loads(
    setup: &Setup,
    at: &Nominal,
    loads: &Loads,
    notes: &mut impl Notebook,
) -> Option<(Pressure, Force)> {
    let resistance = setup.stock.resistance?;
    let h = at.h_m;
    let mut k_c = match resistance.law {
        ForceLaw::Kienzle(Pairs { mean, .. }) => notes.take(SpecificForce {
            kc11: mean.kc11,
            h,
            m_c: mean.m_c,
        }),
        ForceLaw::Linear(Linear { cut, edge }) => notes.take(LinearSpecificForce {
            k_tc: cut[0],
            k_te: edge[0],
            h,
        }),
    };
    if resistance.wear > 1.0 {
        let wear = resistance.wear;
        k_c = notes.take(ForWear { k_c, wear });
    }
    let force = notes.take(CuttingForce {
        k_c,
        b: setup.cut.a_p,
        h,
    });
    let p_c = notes.take(CuttingPower { k_c, q: at.q });
    notes.take(CuttingTorque { p_c, n: at.n });
    if let Some(machine) = &setup.machine {
        let efficiency = machine.efficiency;
        notes.take(MotorPower { p_c, efficiency });
    }
    over_a_turn(setup, at, loads, notes);
    let p_m = Power::from_si(loads.power);
    notes.take(RouteRatio { p_c, p_m });
    bending(setup, loads, notes);
    Some((k_c, force))
}

fn over_a_turn(setup: &Setup, at: &Nominal, loads: &Loads, notes: &mut impl Notebook) {
    let cutter = &setup.cutter;
    let machine = setup.machine.as_ref();
    let runout = machine.and_then(|m| m.runout).map_or(0.0, Quantity::si);
    let law = setup.stock.resistance.map(|r| r.law);
    let wear = setup.stock.resistance.map_or(1.0, |r| r.wear);
    let edge = match &law {
        Some(ForceLaw::Kienzle(pairs)) => edge_force(pairs, pairs.hardest, notes),
        _ => Stiffness::from_si(0.0),
    };
    notes.summed(
        TURN,
        || {
            let mut inputs = vec![
                (&s::D, cutter.diameter.si()),
                (&s::Z, f64::from(cutter.edges)),
                (&s::HELIX, cutter.helix.si()),
                (&s::A_P, setup.cut.a_p.si()),
                (&s::PHI_S, at.phi_s),
                (&s::F_Z, at.f_z.si()),
                (&s::N, at.n.si()),
                (&s::TIR, runout),
            ];
            match law {
                Some(ForceLaw::Kienzle(pairs)) => inputs.extend([
                    (&s::KC11, pairs.hardest.kc11.si()),
                    (&s::M_C, pairs.hardest.m_c),
                    (&s::K_R_SHARE, pairs.k_r),
                    (&s::K_A_SHARE, pairs.k_a),
                    (&s::K_EDGE, edge.si()),
                ]),
                Some(ForceLaw::Linear(linear)) => inputs.extend(linear.values()),
                None => {}
            }
            inputs.extend((wear > 1.0).then_some((&s::WEAR, wear)));
            inputs
        },
        || {
            vec![
                (&s::F_XY, loads.lateral),
                (&s::M_MAX, loads.torque),
                (&s::P_MEAN, loads.power),
            ]
        },
    );
}

fn bending(setup: &Setup, loads: &Loads, notes: &mut impl Notebook) {
    let cutter = &setup.cutter;
    notes.summed(
        BENDING,
        || {
            let core = cutter.core.unwrap_or(CORE * cutter.diameter);
            let mut inputs = vec![
                (&s::E, cutter.modulus.si()),
                (&s::F_XY, loads.lateral),
                (&s::STICK_OUT, cutter.stick_out.si()),
                (&s::LOAD_FROM_TIP, setup.cut.a_p.si() / 2.0),
                (&s::L_FLUTE, cutter.fluted().si()),
                (&s::D_CORE, core.si()),
                (&s::D_SHANK, cutter.shank.si()),
            ];
            if let Some(neck) = cutter.neck {
                inputs.extend([
                    (&s::D_NECK, neck.diameter.si()),
                    (&s::L_NECK, neck.length.si()),
                ]);
            }
            let stiffness = setup.machine.as_ref().and_then(|m| m.stiffness);
            inputs.extend(stiffness.map(|k| (&s::K_MACHINE, k.si())));
            inputs
        },
        || {
            vec![
                (&s::DEFLECTION, loads.tip),
                (&s::STIFFNESS, loads.lateral / loads.tip),
                (&s::SIGMA, loads.stress),
            ]
        },
    );
}
