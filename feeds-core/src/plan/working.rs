//! The working of the loads: the handbook's route beside the sum over a turn.

use super::bending::CORE;
use super::checks::At;
use super::law::{chip, edge, makes_a_shallow_floor};
use super::loads::Loads;
use super::moments::Engaged;
use super::setup::Setup;
use crate::formula::bending::BENDING;
use crate::formula::edge::EndEdge;
use crate::formula::force::{CuttingForce, LinearSpecificForce};
use crate::formula::power::{CuttingPower, CuttingTorque, RouteRatio};
use crate::formula::turn::TURN;
use crate::notebook::{Notebook, Origin, Silent};
use crate::quantity::{Force, Length, Power, Pressure, Quantity, VolumeRate};
use crate::symbol as s;
use crate::workpiece::Linear;

/// What the nominal engagement is worked out from.
pub(super) struct Nominal {
    pub(super) at: At,
    pub(super) engaged: Engaged,
    pub(super) h_m: Length,
    pub(super) q: VolumeRate,
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
    let edge = edge(&resistance, &setup.cutter, notes)?;
    let layered = resistance
        .class_law()
        .is_some_and(|law| law.mean != law.hardest);
    if layered {
        // The rows told are those of the hardest layer; this step is of the mean.
        for symbol in [&s::KC11, &s::M_C] {
            notes.told(symbol, || Origin::Chosen {
                why: "the mean by volume of the layers".to_owned(),
            });
        }
    }
    let mean = chip(&resistance, |law| law.mean, notes);
    let k_c = notes.take(LinearSpecificForce {
        k_tc: mean[0],
        k_te: edge[0],
        h,
    });
    let force = notes.take(CuttingForce {
        k_c,
        b: setup.cut.a_p,
        h,
    });
    let p_c = notes.take(CuttingPower { k_c, q: at.q });
    notes.take(CuttingTorque { p_c, n: at.at.n });
    let cut = if layered {
        tell_hardest(setup, notes);
        chip(&resistance, |law| law.hardest, notes)
    } else {
        mean
    };
    over_a_turn(
        setup,
        at.at,
        &at.engaged,
        &Linear { cut, edge },
        loads,
        notes,
    );
    let p_m = Power::from_si(loads.power);
    notes.take(RouteRatio { p_c, p_m });
    bending(setup, &at.engaged, loads, notes);
    Some((k_c, force))
}

/// Takes the loads over a turn of another moment; the steps of the law stand already.
pub(super) fn turned(setup: &Setup, at: At, m: &Engaged, loads: &Loads, notes: &mut impl Notebook) {
    let Some(resistance) = setup.stock.resistance else {
        return;
    };
    let Some(edge) = edge(&resistance, &setup.cutter, &mut Silent) else {
        return;
    };
    let cut = chip(&resistance, |law| law.hardest, &mut Silent);
    over_a_turn(setup, at, m, &Linear { cut, edge }, loads, notes);
    bending(setup, m, loads, notes);
}

/// Tells again where the row of the hardest layer is from.
fn tell_hardest(setup: &Setup, notes: &mut impl Notebook) {
    for (symbol, origin) in &setup.origins {
        if [&s::KC11, &s::M_C].contains(symbol) {
            notes.told(symbol, || origin.clone());
        }
    }
}

fn over_a_turn(
    setup: &Setup,
    at: At,
    m: &Engaged,
    law: &Linear,
    loads: &Loads,
    notes: &mut impl Notebook,
) {
    let cutter = &setup.cutter;
    let machine = setup.machine.as_ref();
    let runout = machine.and_then(|m| m.runout).map_or(0.0, Quantity::si);
    let end = cutter.edge_radius.filter(|_| makes_a_shallow_floor(setup));
    let end = end.map(|r_edge| {
        notes.take(EndEdge {
            share: setup.stock.chip_floor,
            r_edge,
        })
    });
    notes.summed(
        TURN,
        || {
            let mut inputs = vec![
                (&s::D, cutter.diameter.si()),
                (&s::Z, f64::from(cutter.edges)),
                (&s::HELIX, cutter.helix.si()),
                (&s::A_P, m.a_p.si()),
                (&s::PHI_S, m.arc.si()),
                (&s::F_Z, at.f_z.si()),
                (&s::N, at.n.si()),
                (&s::TIR, runout),
            ];
            inputs.extend(law.values());
            inputs.extend(end.map(|length| (&s::L_END, length.si())));
            inputs
        },
        || {
            vec![
                (&s::F_XY, loads.lateral),
                (&s::M_MAX, loads.torque),
                (&s::P_MEAN, loads.power),
                (&s::LIFT, loads.lift),
                (&s::F_X_MAX, loads.along),
            ]
        },
    );
}

fn bending(setup: &Setup, m: &Engaged, loads: &Loads, notes: &mut impl Notebook) {
    let cutter = &setup.cutter;
    notes.summed(
        BENDING,
        || {
            let core = cutter.core.unwrap_or(CORE * cutter.diameter);
            let mut inputs = vec![
                (&s::E, cutter.modulus.si()),
                (&s::F_XY, loads.lateral),
                (&s::STICK_OUT, cutter.stick_out.si()),
                (&s::LOAD_FROM_TIP, m.a_p.si() / 2.0),
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
