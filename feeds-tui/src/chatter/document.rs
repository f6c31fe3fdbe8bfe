//! The chatter of a pass as scripts read it.

use super::Quiet;
use feeds_core::formula::chatter::TipMode;
use feeds_core::plan::chatter::StableAt;
use feeds_core::quantity::{Length, Quantity};
use feeds_core::symbol as s;
use serde_json::{Value, json};

/// The document.
pub fn document(quiet: &Quiet) -> Value {
    let depth = |a: Option<Length>| a.map(|a| s::A_STABLE.amount(a.si()));
    let mode = |m: &TipMode| {
        json!({
            "stiffness": s::K_MODE.amount(m.k.si()),
            "damping": s::ZETA.amount(m.zeta),
            "frequency": s::F_N.amount(m.f_n.si()),
        })
    };
    let modes = |axis: usize| quiet.modes.of[axis].iter().map(mode).collect::<Vec<_>>();
    json!({
        "spindle_speed": s::N.amount(quiet.n.si()),
        "depth": s::A_P.amount(quiet.a_p.si()),
        "stable_depth": depth(quiet.at.depth()),
        "by": by(&quiet.at),
        "zero_order": depth(quiet.at.zero_order),
        "semi_discretization": depth(quiet.at.followed),
        "likely": quiet.likely.map(|[low, high]| json!({
            "low": depth(Some(low)),
            "high": depth(Some(high)),
        })),
        "chatters": quiet.chatters(),
        "least_depth": depth(quiet.least.map(|(a, _)| a)),
        "tone": quiet.least.map(|(_, f)| s::FREQUENCY.amount(f.si())),
        "pockets": quiet.pockets.iter().map(|p| json!({
            "spindle_speed": s::N.amount(p.n.si()),
            "stable_depth": depth(p.at.depth()),
            "by": by(&p.at),
            "holds": p.holds.map(|ends| ends.map(|n| s::N.amount(n.si()))),
        })).collect::<Vec<_>>(),
        "modes": {
            "from": quiet.modes.from.word(),
            "along": modes(0),
            "across": modes(1),
        },
        "tap": quiet.tap.map(|tap| json!({
            "frequency": s::F_N.amount(tap.f_n),
            "damping": s::ZETA.amount(tap.zeta),
            "seconds": tap.seconds,
            "clipped": tap.clipped,
        })),
        "curve": quiet.curve.iter().map(|p| json!({
            "spindle_speed": s::N.amount(p.n.si()),
            "stable_depth": depth(p.at.depth()),
            "zero_order": depth(p.at.zero_order),
        })).collect::<Vec<_>>(),
    })
}

/// Which method decides.
fn by(at: &StableAt) -> &'static str {
    if at.by_following() {
        "semi-discretization"
    } else {
        "zero-order"
    }
}
