//! What would open a pass, in words.

use feeds_core::plan::opens::{Change, Opening};
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, System};

/// A change, and what then runs.
pub fn text(opening: &Opening, system: System) -> String {
    let change = match opening.change {
        Change::Feed(f_z) => format!("feed per tooth {}", s::F_Z.show(f_z.si(), system)),
        Change::Depth(a_p, levels) => {
            format!("depth {}, {levels} levels", s::A_P.show(a_p.si(), system))
        }
        Change::Direction(direction) => direction.milling().to_owned(),
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
    };
    let n = s::N.show(opening.plan.n.turns().value, system);
    let v_f = s::V_F.show(opening.plan.v_f.value, system);
    format!("{change} (then S {n}, F {v_f})")
}
