//! The lesson in the numbers of this rehearsal: three sentences.

use super::answered::Rehearsed;
use feeds_core::rehearsal::{Dial, Which, peak};
use feeds_core::symbol::{self as s, System};

/// Three sentences: why slowing the feed alone rubs, why one stock loads more than the other at
/// the same settings, and what to do instead. Fewer where a number is missing.
pub fn remark(r: &Rehearsed, system: System) -> Vec<String> {
    [slowed(r, system), loaded(r, system), instead(r, system)]
        .into_iter()
        .flatten()
        .collect()
}

/// The feed override that is usually dialled in first.
const HALF: f64 = 0.5;

fn slowed(r: &Rehearsed, system: System) -> Option<String> {
    let feed = if r.dial.feed < 1.0 { r.dial.feed } else { HALF };
    let dial = Dial { spindle: 1.0, feed };
    let slow = r.runs.plan(Which::StandIn, dial).ok()?;
    let (floor, lowest) = (slow.h_min?, r.lowest[1].as_ref()?);
    let rubs = slow.rubbing? * 100.0;
    let chip = s::H_MAX.show(slow.h_max.value, system);
    let floor = s::H_MIN.show(floor.value, system);
    let verdict = if slow.h_min? > slow.h_max {
        format!("below the {floor} this edge needs, so that it only rubs")
    } else {
        format!("and over {rubs:.0} % of the arc it is still below the {floor} this edge needs")
    };
    Some(format!(
        "Lowering only the feed to {:.0} % thins the chip from {} to {chip}, {verdict}; in the \
         stand-in it stops cutting altogether below {:.0} %.",
        100.0 * feed,
        s::H_MAX.show(r.as_programmed.h_max.value, system),
        100.0 * lowest.feed,
    ))
}

fn loaded(r: &Rehearsed, system: System) -> Option<String> {
    let (here, there) = (peak(&r.as_programmed)?, peak(&r.production.plan)?);
    let show = |n: f64| s::F_XY.show(n, system);
    let k = |plan: &feeds_core::plan::Plan| Some(s::K_C.show(plan.k_c?.value, system));
    let layered = r.production.resolved.setup.stock.layered;
    let why = if layered {
        ", and a peak follows the hardest layer, which can lie along the cut"
    } else {
        ""
    };
    Some(format!(
        "At the same settings the good stock presses with {} and the stand-in with {}, {:.2} \
         times as much: a chip of {} takes {} there and {} here{why}.",
        show(there),
        show(here),
        there / here,
        s::H_M.show(r.production.plan.h_m.value, system),
        k(&r.production.plan)?,
        k(&r.as_programmed)?,
    ))
}

fn instead(r: &Rehearsed, system: System) -> Option<String> {
    let equal = r.equal_force.as_ref()?;
    let reduced = r.ladder.get(3)?.setting.as_ref().ok()?;
    Some(format!(
        "So the stand-in tests hold and cutter only at {:.0} % feed, f_z {}. Spare the good \
         stock by depth instead: {} instead of {} leaves {:.0} % of the force at the same feed \
         per tooth.",
        100.0 * equal.feed,
        s::F_Z.show(equal.f_z.value, system),
        s::A_P.show(reduced.a_p.value, system),
        s::A_P.show(r.production.resolved.setup.cut.a_p.value, system),
        100.0 * reduced.force_share?,
    ))
}
