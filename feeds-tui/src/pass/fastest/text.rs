//! The cut that removes most, as people read it.

use super::Fastest;
use crate::pass::answered::Answered;
use crate::pass::decision;
use crate::pass::opens;
use crate::pass::ranking::Ranking;
use crate::pass::text::{below_settings, between, line};
use crate::words::STARRED;
use feeds_core::cut::Path;
use feeds_core::plan::best::{Best, Conflict, Flat};
use feeds_core::plan::grid::{Rounding, round};
use feeds_core::plan::limits::{DEPTH_GUIDE, WIDTH_GUIDE, is_of_loads};
use feeds_core::plan::room::{Room, RoomEnd, Variable};
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, System};

impl Fastest {
    /// The answer as text; with `working` every step after it.
    pub fn text(&self, other: Option<&Ranking>, system: System, working: bool) -> String {
        let mut out = String::new();
        match self {
            Self::Found {
                best,
                answered,
                rooms,
            } => {
                line(&mut out, "", &decision::head(&answered.plan));
                found(&mut out, best, answered, system);
                line(
                    &mut out,
                    "",
                    "how far each can go with the other three fixed (limits only)",
                );
                for (variable, room) in rooms {
                    let slot = best.setup.cut.path == Path::Slot;
                    if !(slot && *variable == Variable::Width) {
                        self::room(&mut out, *variable, room, system);
                    }
                }
                out.push('\n');
                out.push_str(&below_settings(answered, system, working));
            }
            Self::None(conflict) => none(&mut out, conflict, other, system),
        }
        out
    }
}

fn found(out: &mut String, best: &Best, answered: &Answered, system: System) {
    let cut = format!(
        "Q {}{}   a_p {}   a_e {}",
        s::Q.show(best.q.si(), system),
        answered.mark_of_loads(),
        s::A_P.show(best.a_p.si(), system),
        s::A_E.show(best.a_e.si(), system),
    );
    line(out, "fastest: ", &cut);
    // What is rounded up would be beyond a limit.
    let v_f = answered.plan.v_f;
    let down = round(v_f, Rounding::Down, system).unwrap_or(v_f);
    let set = format!(
        "S {:.0}   F {}, rounded down, for a proven run",
        (best.n.in_per_minute() + 1e-6).floor(),
        s::V_F.show(down.si(), system)
    );
    line(out, "to set: ", &set);
    let stops: Vec<String> = best
        .stops
        .iter()
        .map(|stop| {
            let title = stop.limit.title;
            let says_so = [&DEPTH_GUIDE, &WIDTH_GUIDE].contains(&stop.limit);
            let guide = stop.limit.mild() || stop.limit.guides();
            let kind = if guide && !says_so {
                " [guideline]"
            } else {
                ""
            };
            format!(
                "{title}{kind} (1 % more of it would gain {:.2} %)",
                stop.gain.max(0.0)
            )
        })
        .collect();
    line(out, "stopped by: ", &stops.join("; "));
    flat(out, &best.flat, system);
}

fn flat(out: &mut String, flat: &Flat, system: System) {
    let mut ranges = Vec::new();
    let mut range = |symbol: &s::Symbol, ends: Option<(f64, f64)>| {
        if let Some((from, to)) = ends {
            let (from, to) = (symbol.show(from, system), symbol.show(to, system));
            ranges.push(format!("{} {from} to {to}", symbol.text));
        }
    };
    range(&s::A_P, flat.a_p.map(|(a, b)| (a.si(), b.si())));
    range(&s::A_E, flat.a_e.map(|(a, b)| (a.si(), b.si())));
    range(&s::N, flat.n.map(|(a, b)| (a.si(), b.si())));
    if !ranges.is_empty() {
        let text = format!(
            "the optimum is flat: as much is removed, to a ten-thousandth, with {}, the others \
             suited to it",
            ranges.join(" or ")
        );
        line(out, "as fast with: ", &text);
    }
}

fn room(out: &mut String, variable: Variable, room: &Room, system: System) {
    let symbol = variable.symbol();
    let end = |e: RoomEnd| format!("{} [{}]", symbol.show(e.value, system), e.limit.title);
    let ends = match &room.broken {
        Some(check) => format!("none: {} is over as it stands", check.limit.title),
        None => between(room.least.map(end), room.most.map(end)),
    };
    line(out, &format!("{} alone: ", symbol.text), &ends);
}

fn none(out: &mut String, conflict: &Conflict, other: Option<&Ranking>, system: System) {
    let both = conflict.least.is_some() && conflict.most.is_some();
    let head = if both {
        "no cut keeps every limit; at the gentlest there is"
    } else {
        "with these values fixed, no cut keeps every limit"
    };
    line(out, "", head);
    let least = conflict.least.iter().filter(|_| both);
    let mut starred = false;
    for check in least.chain(&conflict.most) {
        let star = conflict.extrapolated && is_of_loads(check.limit);
        starred |= star;
        let bullet = if star { "  * " } else { "  - " };
        line(out, bullet, &check.text(system));
    }
    if starred {
        line(out, "* ", STARRED);
    }
    let mut changes: Vec<String> = Vec::new();
    for opening in &conflict.openings {
        let change = opens::change(opening.change, system);
        changes.push(format!(
            "{change}: Q {}",
            s::Q.show(opening.then.si(), system)
        ));
    }
    if let Some(ranked) = other.and_then(Ranking::first) {
        changes.push(format!("another cutter: {}", ranked.line(system)));
    }
    if changes.is_empty() {
        line(
            out,
            "",
            "no single change makes it run: use a stiffer set-up",
        );
        return;
    }
    line(out, "", "single changes that would make it run");
    for change in changes {
        line(out, "  - ", &change);
    }
}
