//! The chatter of a pass in lines of 80 columns.

use super::{Quiet, chart};
use crate::pass::text::line;
use feeds_core::plan::chatter::{ModesFrom, StableAt};
use feeds_core::quantity::{Length, Quantity, SpindleSpeed};
use feeds_core::symbol::{self as s, System};
use std::fmt::Write as _;

/// The answer, the picture below it.
pub fn text(quiet: &Quiet, system: System) -> String {
    let mut out = String::new();
    let depth = |a: Length| s::A_STABLE.show(a.si(), system);
    let rpm = quiet.n.in_per_minute().round();
    let verdict = if !quiet.chatters() {
        "quiet"
    } else if quiet
        .likely
        .is_some_and(|[_, most]| quiet.a_p.si() > most.si())
    {
        "it most likely chatters"
    } else if quiet.modes.from == ModesFrom::Beam {
        "it may chatter"
    } else {
        "it chatters"
    };
    let said = match quiet.at.depth() {
        Some(most) => {
            let likely = quiet.likely.map_or_else(String::new, |[low, high]| {
                format!(", likely {} to {}", depth(low), depth(high))
            });
            format!(
                "{rpm} rpm stays quiet up to {}{likely}; this pass cuts {}: {verdict}.",
                depth(most),
                depth(quiet.a_p)
            )
        }
        None => format!("{rpm} rpm: no depth chatters with these modes."),
    };
    line(&mut out, "", &said);
    line(&mut out, "", &method(&quiet.at, &depth));
    if let Some((least, tone)) = quiet.least {
        let said = format!(
            "Up to {} any speed is quiet; beyond it the tone is about {:.0} Hz.",
            depth(least),
            tone.si()
        );
        line(&mut out, "", &said);
    }
    out.push('\n');
    pockets(&mut out, quiet, &depth);
    out.push('\n');
    modes(&mut out, quiet, system);
    out.push('\n');
    out.push_str(&chart::chart(quiet, system));
    let said = "A straight edge is assumed, so a helix may do better. The cut is the judge: \
                listen, and give feeds listen the tone.";
    line(&mut out, "", said);
    out
}

/// Which of the methods answered, and what the other says.
fn method(at: &StableAt, depth: &impl Fn(Length) -> String) -> String {
    let show = |a: Option<Length>| a.map_or_else(|| "no limit".to_owned(), depth);
    if !at.is_followed {
        return format!(
            "Zero-order lobes alone: {}. Too many waves stand between two teeth to follow them.",
            show(at.zero_order)
        );
    }
    let (zero, followed) = (show(at.zero_order), show(at.followed));
    let lower = if at.by_following() {
        "semi-discretization is lower and counts"
    } else {
        "the lobes are lower and count"
    };
    format!("Zero-order lobes {zero}, semi-discretization {followed}: {lower}.")
}

fn pockets(out: &mut String, quiet: &Quiet, depth: &impl Fn(Length) -> String) {
    let whose = if quiet.of_machine {
        "of this machine"
    } else {
        "around it (no machine given)"
    };
    if quiet.pockets.is_empty() {
        let said = format!(
            "No speed {whose} stands out: the lobes lie too close together. Less depth, a shorter \
             stick-out or fewer flutes help."
        );
        line(out, "", &said);
        return;
    }
    let _ = writeln!(out, "best speeds {whose}");
    for pocket in &quiet.pockets {
        let most = pocket.at.depth().map_or_else(|| "any".to_owned(), depth);
        let holds = match pocket.holds {
            Some([low, high]) if low < high => {
                let ends = [low, high].map(|n| SpindleSpeed::in_per_minute(n).round());
                format!("the pass is quiet from {} to {} rpm", ends[0], ends[1])
            }
            Some(_) => "the pass is quiet here".to_owned(),
            None => format!("too deep here by {}", over(quiet, pocket.at)),
        };
        let rpm = pocket.n.in_per_minute().round();
        let _ = writeln!(out, "  {rpm:>6} rpm   up to {most:<10}  {holds}");
    }
    line(
        out,
        "",
        "Change the feed in the same ratio as the speed: the chip stays as it is.",
    );
}

/// How many times the quiet depth the pass is.
fn over(quiet: &Quiet, at: StableAt) -> String {
    let times = at.depth().map_or(1.0, |most| (quiet.a_p / most).value);
    format!("{times:.1} x")
}

fn modes(out: &mut String, quiet: &Quiet, system: System) {
    let all = [(0, "along the feed"), (1, "across it")];
    let same = quiet.modes.of[0] == quiet.modes.of[1];
    for (axis, name) in all.into_iter().take(if same { 1 } else { 2 }) {
        for mode in &quiet.modes.of[axis] {
            let name = if same { "both directions" } else { name };
            let said = format!(
                "{}, damping {}, {:.0} Hz",
                s::K_MODE.show(mode.k.si(), system),
                s::ZETA.show(mode.zeta, system),
                mode.f_n.si()
            );
            line(out, &format!("mode  {name:<15}  "), &said);
        }
    }
    let spread = quiet.modes.from.spread();
    let percent = |deviation: f64| 100.0 * (1.645 * deviation).exp_m1();
    let off = format!(
        "within {:.0} % stiffness, {:.0} % damping, {:.0} % frequency in 90 of 100",
        percent(spread.k),
        percent(spread.zeta),
        percent(spread.f_n)
    );
    let from = match quiet.modes.from {
        ModesFrom::Typed => format!("Modes as typed, taken {off} (common practice)."),
        ModesFrom::Tapped => format!(
            "Frequency and damping of the recorded tap, one mode for both directions, taken {off} \
             (common practice)."
        ),
        ModesFrom::Beam => format!(
            "WEAK: modes guessed from the cutter as a beam in a stiff holder, taken {off} (common \
             practice). A spindle or a frame that is softer chatters first: tap the tip, record \
             it, and add --tap FILE."
        ),
    };
    line(out, "", &from);
    if let Some(tap) = quiet.tap {
        let clipped = if tap.clipped {
            "; the blow is clipped, so tap more softly to be sure"
        } else {
            ""
        };
        let said = format!(
            "The tap was followed for {:.0} ms{clipped}.",
            1e3 * tap.seconds
        );
        line(out, "", &said);
    }
}
