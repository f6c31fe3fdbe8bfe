//! What would open a pass, in words.

use feeds_core::plan::Plan;
use feeds_core::plan::opens::{Change, Opening};
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, System};

/// A change, and what then runs.
pub fn text(opening: &Opening, system: System) -> String {
    let n = s::N.show(opening.plan.n.turns().value, system);
    let v_f = s::V_F.show(opening.plan.v_f.value, system);
    format!("{} (then S {n}, F {v_f})", change(opening, system))
}

/// A change, with the feed and speed that then run where they are others than in `plan`.
pub fn short(opening: &Opening, plan: &Plan, system: System) -> String {
    let change = change(opening, system);
    let n = s::N.show(opening.plan.n.turns().value, system);
    let v_f = s::V_F.show(opening.plan.v_f.value, system);
    let same = (
        s::N.show(plan.n.turns().value, system) == n,
        s::V_F.show(plan.v_f.value, system) == v_f,
    );
    match same {
        (true, true) => change,
        (true, false) => format!("{change} at F {v_f}"),
        _ => format!("{change} at S {n} F {v_f}"),
    }
}

fn change(opening: &Opening, system: System) -> String {
    match opening.change {
        Change::Feed(f_z) => format!("feed per tooth {}", s::F_Z.show(f_z.si(), system)),
        Change::Depth(a_p, levels) => {
            format!("depth {} in {levels} levels", s::A_P.show(a_p.si(), system))
        }
        Change::Direction(direction) => format!("{} milling", direction.trade()),
        Change::Flutes(l) => format!(
            "a cutter with flutes of {}",
            s::L_FLUTE.show(l.si(), system)
        ),
        Change::StickOut(l) => format!("stick-out {}", s::STICK_OUT.show(l.si(), system)),
        Change::Width(a_e) => format!("width {}", s::A_E.show(a_e.si(), system)),
        Change::Diameter(d) => format!(
            "a cutter of {}, no longer than this one",
            s::D.show(d.si(), system)
        ),
    }
}
