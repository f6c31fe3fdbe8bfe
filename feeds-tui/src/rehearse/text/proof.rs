//! What is proven, and what was measured, as people read it.

use super::ratios;
use crate::pass::decision::share;
use crate::pass::text::line;
use crate::rehearse::answered::Rehearsed;
use crate::rehearse::words;
use feeds_core::limit::{Check, Found};
use feeds_core::rehearsal::measure::Left;
use feeds_core::rehearsal::pair::{CheckPair, Proof, Why};
use feeds_core::symbol::{self as s, System};

/// The list of checks with what the rehearsal proves.
pub(super) fn proof(out: &mut String, r: &Rehearsed, system: System) {
    out.push_str("\nthe rehearsal against production, check by check\n");
    line(
        out,
        "  this run: ",
        &format!("{} of production", ratios(&r.ratios)),
    );
    let order = |p: &&CheckPair| match p.verdict {
        Proof::Proven => 0,
        Proof::Partly(_) => 1,
        Proof::NotProven(_) => 2,
        Proof::Same => 3,
    };
    let mut sorted: Vec<&CheckPair> = r.pairs.iter().collect();
    sorted.sort_by_key(order);
    for pair in sorted {
        let head = format!("  {:<14}", verdict(pair.verdict));
        line(out, &head, &pair_text(pair, system));
    }
    out.push_str("  a rehearsal never proves:\n");
    for never in words::NEVER {
        line(out, "    - ", never);
    }
}

/// The verdict in words.
pub fn verdict(verdict: Proof) -> String {
    match verdict {
        Proof::Proven => "proven".to_owned(),
        Proof::Partly(_) => format!("partly {}", short(verdict)),
        Proof::NotProven(_) => "not proven".to_owned(),
        Proof::Same => "same in both".to_owned(),
    }
}

/// The share that is proven.
pub fn short(verdict: Proof) -> String {
    match verdict {
        Proof::Proven => "100 %".to_owned(),
        // A share just below all of it is never rounded up to all of it.
        Proof::Partly(share) => format!("{:.0} %", (100.0 * share).floor().max(1.0)),
        Proof::NotProven(_) => "nothing".to_owned(),
        Proof::Same => "the same".to_owned(),
    }
}

/// Why a rehearsal says nothing.
pub fn why(why: Why) -> String {
    match why {
        Why::Unknown(what) => format!("not known: {what}"),
        Why::OfTheStock => {
            "the limit belongs to the stock, and the stand-in has its own".to_owned()
        }
        Why::Over => "the rehearsal itself would be over: do not run it like this".to_owned(),
        Why::Rubs => "the rehearsal only rubs: it proves the path and its clearances".to_owned(),
        Why::NotTried => "the rehearsal does not load it".to_owned(),
    }
}

fn pair_text(pair: &CheckPair, system: System) -> String {
    let symbol = pair.limit.symbol;
    let side = |check: Option<&Check>| match check.map(|c| c.found) {
        Some(Found::Known { value, bound }) => format!(
            "{} ({} used)",
            symbol.show(value, system),
            share(bound.used(value))
        ),
        _ => "not known".to_owned(),
    };
    let values = format!(
        "{}: {} {} in production, {} here",
        pair.limit.title,
        symbol.text,
        side(Some(&pair.production)),
        side(pair.rehearsal.as_ref())
    );
    match pair.verdict {
        Proof::NotProven(reason) => format!("{values}; {}", why(reason)),
        _ => values,
    }
}

/// What a pass leaves, predicted in both stocks, and what the measured value makes of it.
pub(super) fn measured(out: &mut String, r: &Rehearsed, system: System) {
    out.push_str("\nmeasure on the stand-in (+ is stock left standing)\n");
    let predicted_of = [
        ("production, predicted", &r.left[0]),
        ("stand-in, predicted", &r.left[1]),
    ];
    for (run, left) in predicted_of {
        let text = left.as_ref().map_or_else(
            || "this path leaves no wall, or the force is not known".to_owned(),
            |left| predicted(left, system),
        );
        line(out, &format!("  {run}: "), &text);
    }
    let Some(m) = &r.measured else { return };
    let show = |si: f64| s::DEFLECTION.show(si, system);
    let text = match &m.corrected {
        None => "it shows nothing: there is no wall, no force, or it leans the other way from a \
            cutter that bends"
            .to_owned(),
        Some(c) => {
            let machine = match c.stiffness {
                Some(k) => format!(
                    "forces as predicted, and the machine bends the rest: its stiffness is then \
                     {}",
                    s::STIFFNESS.show(k.value, system)
                ),
                None => "less than the cutter alone would bend, so the force is taken as \
                    smaller in both stocks"
                    .to_owned(),
            };
            format!(
                "{} at the {}, where most is predicted, is {:.2} times that; guessed: \
                 {machine}. Production, corrected by what was measured, then leaves {} at the \
                 bottom and {} at the top, and the tip bends {}",
                show(m.measured.value),
                if c.at_top { "top" } else { "bottom" },
                c.scale,
                show(c.bottom.value),
                show(c.top.value),
                show(c.tip.value)
            )
        }
    };
    line(out, "  measured: ", &text);
}

fn predicted(left: &Left, system: System) -> String {
    let show = |si: f64| s::DEFLECTION.show(si, system);
    let mut text = format!(
        "wall error {} at the bottom, {} at the top, taper {:.3} deg",
        show(left.bottom.value),
        show(left.top.value),
        left.taper.value.to_degrees()
    );
    if let Some([bottom, top]) = left.slot {
        let width = |w: feeds_core::quantity::Length| s::D.show(w.value, system);
        let slot = format!(
            "; slot {} wide at the bottom, {} at the top, runout included",
            width(bottom),
            width(top)
        );
        text.push_str(&slot);
    }
    text
}
