//! What can be measured on the stand-in, and what it says of production.

use super::{Dial, Runs, Which};
use crate::cut::Path;
use crate::limit::Found;
use crate::notebook::Silent;
use crate::plan::Plan;
use crate::plan::limits::{TIP, WALL};
use crate::plan::loads::Loads;
use crate::plan::setup::{Setup, SetupError};
use crate::quantity::{Angle, Length, Quantity, Stiffness};
use crate::verdict::sort;

/// What a pass leaves, predicted. Signs: positive where stock is left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Left {
    /// Wall error at the bottom.
    pub bottom: Length,
    /// Wall error at the top of the depth.
    pub top: Length,
    /// Lean of the wall; positive where more is left at the bottom.
    pub taper: Angle,
    /// Width of a slot at its bottom and at its top.
    pub slot: Option<[Length; 2]>,
}

/// What the machine was found to give, and what that makes of production.
#[derive(Clone, Debug)]
pub struct Corrected {
    /// Whether most is predicted at the top of the wall, and so was measured there.
    pub at_top: bool,
    /// Measured over predicted wall error there.
    pub scale: f64,
    /// The stiffness of the machine that explains it; `None` when even a rigid machine leaves the
    /// wall further off than was measured: then the force was smaller, and everything is scaled.
    pub stiffness: Option<Stiffness>,
    /// Wall error at the bottom, in production.
    pub bottom: Length,
    /// Wall error at the top, in production.
    pub top: Length,
    /// Bending of the tip, in production.
    pub tip: Length,
    /// Production with that wall and that bending, its checks judged anew.
    pub plan: Plan,
}

/// What a plan leaves; `None` without a wall or without a known force.
pub fn left(runs: &Runs, which: Which, setup: &Setup, plan: &Plan) -> Option<Left> {
    if matches!(setup.cut.path, Path::Face | Path::BallFinish) {
        return None;
    }
    let (engaged, loads) = plan.moments.first()?;
    let loads = (*loads)?;
    let slot = (setup.cut.path == Path::Slot).then(|| {
        let model = runs.model(which)?;
        let tir = setup.machine.as_ref().and_then(|m| m.runout);
        // An axis that runs out sweeps a wider circle.
        let swept = setup.cutter.diameter + tir.unwrap_or_default();
        let width = |height: Length| {
            let [up, down] = model.slot_walls(setup, engaged, plan.f_z, height);
            swept - Length::from_si(up + down)
        };
        Some([width(Length::default()), width(engaged.a_p)])
    });
    Some(Left {
        bottom: Length::from_si(loads.wall_bottom),
        top: Length::from_si(loads.wall_top),
        taper: Angle::from_si(((loads.wall_bottom - loads.wall_top) / engaged.a_p.value).atan()),
        slot: slot.flatten(),
    })
}

/// Production as corrected by the wall error measured on the stand-in, at the end of the wall where
/// more is predicted.
///
/// Assumes that the forces are as predicted, that the cutter bends as a beam, and that what is
/// left over is the machine, which gives alike at every height.
///
/// # Gives
/// `None` when the path leaves no wall, when nothing is predicted, or when the measured value has
/// the other sign.
///
/// # Errors
/// As [`crate::plan::Planner::work_out`].
pub fn corrected(
    runs: &Runs,
    stand_in: &Plan,
    dial: Dial,
    measured: Length,
) -> Result<Option<Corrected>, SetupError> {
    let setup = runs.setup(Which::StandIn, dial);
    let Some(predicted) = left(runs, Which::StandIn, &setup, stand_in) else {
        return Ok(None);
    };
    let at_top = predicted.top.abs() > predicted.bottom.abs();
    let (largest, wall): (Length, fn(&Loads) -> f64) = if at_top {
        (predicted.top, |l| l.wall_top)
    } else {
        (predicted.bottom, |l| l.wall_bottom)
    };
    let scale = (measured / largest).value;
    if !(scale > 0.0 && scale.is_finite()) {
        return Ok(None);
    }
    // A rigid machine shows the cutter's part; the rest grows with the machine's give.
    let walls = |which: Which, dial: Dial, stiffness: Option<Stiffness>| {
        let mut setup = runs.setup(which, dial);
        if let Some(machine) = &mut setup.machine {
            machine.stiffness = stiffness;
        }
        runs.planner(which).work_out(&setup, &mut Silent)
    };
    let known = setup.machine.as_ref().and_then(|m| m.stiffness);
    let machine = setup.machine.is_some();
    let rigid = walls(Which::StandIn, dial, None)?;
    let cutter = rigid.loads.as_ref().map_or(0.0, wall);
    // Any known stiffness tells the force at the wall: the difference is force over stiffness.
    let probe = known.unwrap_or_else(|| Stiffness::from_si(1e7));
    let probed = walls(Which::StandIn, dial, Some(probe))?;
    let force = (probed.loads.as_ref().map_or(0.0, wall) - cutter) * probe.si();
    let give = (measured.value - cutter) / force;
    let explained = machine && give > 0.0 && give.is_finite();
    let stiffness = explained.then(|| Stiffness::from_si(1.0 / give));
    let production = if explained {
        walls(Which::Production, Dial::FULL, stiffness)?
    } else {
        runs.plan(Which::Production, Dial::FULL)?
    };
    let plan = if explained {
        production
    } else {
        scaled(production, scale)
    };
    Ok(plan.loads.map(|l| Corrected {
        at_top,
        scale,
        stiffness,
        bottom: Length::from_si(l.wall_bottom),
        top: Length::from_si(l.wall_top),
        tip: Length::from_si(l.tip),
        plan,
    }))
}

/// The same plan with everything that bends scaled: the machine does not explain the difference,
/// so the force was another.
fn scaled(mut plan: Plan, by: f64) -> Plan {
    let bend = |l: &mut Loads| {
        l.wall_bottom *= by;
        l.wall_top *= by;
        l.tip *= by;
    };
    plan.loads.iter_mut().for_each(bend);
    for (_, loads) in &mut plan.moments {
        loads.iter_mut().for_each(bend);
    }
    for check in &mut plan.checks {
        let bends = [&WALL, &TIP].contains(&check.limit);
        if let (true, Found::Known { value, .. }) = (bends, &mut check.found) {
            *value *= by;
        }
    }
    sort(&mut plan.checks);
    plan
}
