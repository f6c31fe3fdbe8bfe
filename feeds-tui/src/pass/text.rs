//! The answer as people read it, in lines of 80 columns.

use super::answered::{Answered, Careful};
use super::decision;
use super::overrides::Overrides;
use super::resolve::Gave;
use crate::own::beside;
use feeds_core::plan::checks::ROUGHING;
use feeds_core::plan::interval::{FeedEnd, Interval};
use feeds_core::quantity::{Length, Quantity};
use feeds_core::symbol::{self as s, Symbol, System};
use std::fmt::Write as _;

const COLUMNS: usize = 80;

/// What is shown below the decision.
#[derive(Clone, Copy, Debug, Default)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each stands for a flag of its own"
)]
pub struct Show {
    /// Every check with its value and bound, loads, and the worst places on the path.
    pub checks: bool,
    /// How sure every answer and check is.
    pub band: bool,
    /// Where the numbers are from.
    pub sources: bool,
    /// Every step.
    pub working: bool,
}

/// The decision, what to be careful of, and what else is to be shown.
pub fn text(
    answer: &Answered,
    overrides: Option<&Overrides>,
    show: Show,
    system: System,
) -> String {
    let mut out = decision::text(answer, overrides, system);
    idle(&mut out, answer);
    // The decision asks the first of them.
    let careful = answer
        .careful()
        .enumerate()
        .skip_while(|(at, caution)| *at < decision::ASKED && matches!(caution, Careful::Doubt(_)));
    for (at, (_, caution)) in careful.enumerate() {
        if at == 0 {
            out.push_str("\ncareful\n");
        }
        line(&mut out, bullet(caution), caution.text());
    }
    if show.checks {
        out.push('\n');
        details(&mut out, answer, system);
        for text in beside::lines(answer, system) {
            line(&mut out, "  ", &text);
        }
    }
    if let (true, Some(band)) = (show.band, &answer.sure) {
        out.push_str(&super::sure::text(band, true, system));
    }
    if show.sources {
        sources(&mut out, answer, show.working);
    }
    if show.working {
        working(&mut out, answer, system);
    }
    out
}

/// Everything that stands below the line with spindle speed and feed.
pub fn below_settings(answer: &Answered, system: System, with_working: bool) -> String {
    let mut out = String::new();
    details(&mut out, answer, system);
    if let Some(band) = &answer.sure {
        out.push_str(&super::sure::text(band, false, system));
    }
    for text in beside::lines(answer, system) {
        line(&mut out, "  ", &text);
    }
    idle(&mut out, answer);
    out.push_str("\ncareful\n");
    let always = crate::words::ALWAYS.iter().copied().map(Careful::Own);
    for caution in answer.careful().chain(always) {
        line(&mut out, bullet(caution), caution.text());
    }
    sources(&mut out, answer, with_working);
    if with_working {
        working(&mut out, answer, system);
    }
    out
}

/// Speeds, chip, loads, feeds, every check and the worst places on the path.
fn details(out: &mut String, answer: &Answered, system: System) {
    let p = &answer.plan;
    let show = |symbol: &Symbol, si: f64| format!("{} {}", symbol.text, symbol.show(si, system));
    let speeds = [
        show(&s::F_Z, p.f_z.value),
        show(&s::V_C, p.v_c.value),
        show(&s::Q, p.q.value),
    ];
    line(out, "", &speeds.join("   "));
    let mut chip = vec![
        show(&s::PHI_S, p.phi_s.value),
        show(&s::H_MAX, p.h_max.value),
        show(&s::H_M, p.h_m.value),
        format!("thinning {:.2}", p.thinning),
    ];
    if let (Some(h_min), Some(rubbing)) = (p.h_min, p.rubbing) {
        chip.push(show(&s::H_MIN, h_min.value));
        chip.push(format!("{:.0} % of the arc rubs", 100.0 * rubbing));
    }
    line(out, "chip: ", &chip.join(", "));
    if let Some(cusp) = p.cusp {
        let ridges = format!("{} between paths", show(&s::CUSP, cusp.value));
        line(out, "surface: ", &ridges);
    }
    edges(out, answer, system);
    if let Some(l) = &p.loads {
        let loads = [
            show(&s::F_XY, l.lateral),
            show(&s::M_C_TORQUE, l.torque),
            show(&s::P_C, l.power),
            format!("tip {}", s::DEFLECTION.show(l.tip, system)),
            show(&s::SIGMA, l.stress),
        ];
        let head = format!("load{}: ", answer.mark_of_loads());
        line(out, &head, &loads.join(", "));
    }
    if let Some(plunge) = &p.plunge {
        let v_f = plunge.feed_speed(&answer.resolved.setup, p.n).value;
        let parts = [
            format!("F {}", s::V_F.show(v_f, system)),
            show(&s::F_Z_PLUNGE, plunge.f_z.si()),
            show(&s::F_PLUNGE, plunge.thrust),
            show(&s::M_PLUNGE, plunge.torque),
            show(&s::SIGMA, plunge.stress),
        ];
        line(out, "straight down: ", &parts.join(", "));
    }
    feeds(out, answer, system);
    for opening in &answer.opens {
        line(out, "runs with: ", &super::opens::text(opening, system));
    }
    out.push('\n');
    let _ = writeln!(out, "  {:<8}{:>7}", "check", "used");
    for check in &p.checks {
        let mark = answer.mark(check);
        let used = decision::use_of(check);
        let head = format!("  {:<8}{used:>7}{mark:1} ", check.state().word());
        line(out, &head, &check.text(system));
    }
    moments(out, answer, system);
}

/// What runout does to the edges, where it leaves one without a chip of its own.
fn edges(out: &mut String, answer: &Answered, system: System) {
    let p = &answer.plan;
    let (all, at_work) = (p.edges.feeds.len(), p.edges.at_work());
    if at_work == all {
        let chip = (p.h_max / p.f_z).si();
        let rub = p.h_min.map_or(0, |h_min| p.edges.that_rub(chip, h_min));
        if rub > 0 {
            let text = format!("runout leaves {rub} of {all} so little that they rub");
            line(out, "edges: ", &text);
        }
        return;
    }
    let runout = answer
        .resolved
        .setup
        .machine
        .as_ref()
        .and_then(|m| m.runout);
    let runout = runout.map_or(0.0, Quantity::si);
    let most = p.edges.feeds.first().map_or(1.0, |f| (*f / p.f_z).si());
    let text = format!(
        "only {at_work} of {all} cuts, for runout of {} is more than the feed: it takes up to \
         {most:.1} times the chip",
        s::TIR.show(runout, system)
    );
    line(out, "edges: ", &text);
}

/// The moments, where there is more than one.
fn moments(out: &mut String, answer: &Answered, system: System) {
    let p = &answer.plan;
    if p.moments.len() == 1 {
        return;
    }
    let show = |symbol: &Symbol, si: f64| format!("{} {}", symbol.text, symbol.show(si, system));
    let mark = answer.mark_of_loads();
    out.push_str("\nworst places on the path\n");
    for (m, loads) in &p.moments {
        let mut parts = vec![
            show(&s::PHI_S, m.arc.value),
            show(&s::A_P, m.a_p.value),
            show(&s::H_MAX, m.h_max(p.f_z).value),
        ];
        if let Some(l) = loads {
            let loads = [show(&s::F_XY, l.lateral), show(&s::SIGMA, l.stress)];
            parts.extend(loads.map(|load| load + mark));
        }
        let head = format!("  {}: ", m.moment.words());
        line(out, &head, &parts.join(", "));
    }
}

/// What was typed and is not used.
fn idle(out: &mut String, answer: &Answered) {
    if !answer.resolved.idle.is_empty() {
        out.push_str("\nnot used\n");
        for idle in &answer.resolved.idle {
            line(out, "  - ", &idle.to_string());
        }
    }
}

/// The mark before a caution.
fn bullet(caution: Careful<'_>) -> &'static str {
    match caution {
        Careful::Doubt(_) | Careful::Own(_) => "  - ",
        Careful::Loads(_) => "  * ",
    }
}

/// The rows of the tables.
fn sources(out: &mut String, answer: &Answered, working: bool) {
    if !answer.resolved.sources.is_empty() {
        out.push_str("\nsources\n");
        for source in &answer.resolved.sources {
            let weak = source.marks();
            let mut text = format!(
                "{}: {} - {} [{}{weak}]",
                source.what,
                source.value_read(),
                source.source,
                source.basis
            );
            if working || source.gave == Gave::Capped {
                let _ = write!(text, "; {}", source.why);
            }
            line(out, "  - ", &text);
        }
    }
}

/// Every step.
fn working(out: &mut String, answer: &Answered, system: System) {
    out.push_str("\nworking\n");
    out.push_str(&answer.working().text(system));
}

/// The interval of feeds, or the two checks that leave none.
fn feeds(out: &mut String, answer: &Answered, system: System) {
    let p = &answer.plan;
    let turns = p.n.turns().value * f64::from(answer.resolved.setup.cutter.edges);
    let show = |f_z: Length| {
        format!(
            "{} (F {})",
            s::F_Z.show(f_z.si(), system),
            s::V_F.show(f_z.si() * turns, system)
        )
    };
    let closed = |end: FeedEnd| format!("{}, {}", end.limit.title, end.moment.words());
    let between_ends = |feeds: &Interval| {
        let end = |e: FeedEnd| format!("{} [{}]", show(e.f_z), closed(e));
        between(feeds.least.map(end), feeds.most.map(end))
    };
    let known = if answer.unknown().next().is_some() {
        " by what is known"
    } else {
        ""
    };
    let run = crate::words::run(answer.resolved.setup.intent);
    let text = match (p.feeds.least, p.feeds.most) {
        _ if p.feeds_by_given != p.feeds && !p.feeds_by_given.is_empty() => format!(
            "{} neither rubs nor overloads{known}, with the room wanted for a {run}; a wall \
             within {}, a guess, would take {}",
            between_ends(&p.feeds_by_given),
            s::TOLERANCE.show(ROUGHING, system),
            if p.feeds.is_empty() {
                "too low a feed to cut".to_owned()
            } else {
                between_ends(&p.feeds)
            }
        ),
        (Some(least), Some(most)) if p.feeds.is_empty() => {
            let over = if most.f_z.si() > 0.0 {
                format!("{} allows at most {}", closed(most), show(most.f_z))
            } else {
                format!("{} has too little room at any feed", closed(most))
            };
            format!(
                "no feed keeps every limit: {} needs at least {}, {over}",
                closed(least),
                show(least.f_z)
            )
        }
        _ => format!(
            "{} neither rubs nor overloads{known}, with the room wanted for a {run}, at this speed",
            between_ends(&p.feeds)
        ),
    };
    line(out, "feed: ", &text);
}

/// A range in words, where an end may be open.
pub fn between(least: Option<String>, most: Option<String>) -> String {
    match (least, most) {
        (Some(least), Some(most)) => format!("{least} to {most}"),
        (Some(least), None) => format!("{least} and more"),
        (None, Some(most)) => format!("up to {most}"),
        (None, None) => "any feed: nothing known limits it".to_owned(),
    }
}

/// A line of text behind a head, wrapped with the head's width as indent.
pub fn line(out: &mut String, head: &str, text: &str) {
    let indent = head.chars().count();
    let mut column = indent;
    out.push_str(head);
    let mut first = true;
    for word in text.split(' ') {
        let width = word.chars().count();
        if !first && column + 1 + width > COLUMNS {
            let _ = write!(out, "\n{:indent$}", "");
            column = indent;
        } else if !first {
            out.push(' ');
            column += 1;
        }
        out.push_str(word);
        column += width;
        first = false;
    }
    out.push('\n');
}
