//! What would open a pass or a search, in words of a shop and of scripts.

use feeds_core::plan::Plan;
use feeds_core::plan::opens::{Change, Opening};
use feeds_core::quantity::{Amount, Length, Quantity};
use feeds_core::symbol::{self as s, Symbol, System};
use serde::Serialize;

/// What stands before a change that opens a feature.
pub const IT_OPENS: &str = "it opens";

/// A change, and what then runs.
pub fn text(opening: &Opening<Plan>, system: System) -> String {
    let n = s::N.show(opening.then.n.turns().value, system);
    let v_f = s::V_F.show(opening.then.v_f.value, system);
    format!("{} (then S {n}, F {v_f})", change(opening.change, system))
}

/// A change, with the feed and speed that then run where they are others than in `plan`.
pub fn short(opening: &Opening<Plan>, plan: &Plan, system: System) -> String {
    let change = change(opening.change, system);
    let n = s::N.show(opening.then.n.turns().value, system);
    let v_f = s::V_F.show(opening.then.v_f.value, system);
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

/// A change alone.
pub fn change(change: Change, system: System) -> String {
    match change {
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
        Change::Pace => "speed and feed left free".to_owned(),
    }
}

/// What an entry is changed to, as scripts read it.
#[derive(Clone, Copy, Debug, Serialize)]
#[serde(untagged)]
pub enum To {
    /// A quantity.
    Amount(Amount),
    /// A choice.
    Word(&'static str),
    /// Whatever comes out.
    Free,
}

/// Which entry a change is of, as a word of scripts, and what to change it to.
pub fn entry(change: Change) -> (&'static str, To) {
    let amount = |symbol: &'static Symbol, length: Length| To::Amount(symbol.amount(length.si()));
    match change {
        Change::Feed(f_z) => ("feed", amount(&s::F_Z, f_z)),
        Change::Direction(direction) => ("direction", To::Word(direction.word())),
        Change::Depth(a_p, _) => ("depth", amount(&s::A_P, a_p)),
        Change::StickOut(l) => ("stick-out", amount(&s::STICK_OUT, l)),
        Change::Flutes(l) => ("flute-length", amount(&s::L_FLUTE, l)),
        Change::Width(a_e) => ("width", amount(&s::A_E, a_e)),
        Change::Diameter(d) => ("cutter", amount(&s::D, d)),
        Change::Pace => ("speed-and-feed", To::Free),
    }
}
