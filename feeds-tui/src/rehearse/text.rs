//! The rehearsal as people read it, in lines of 80 columns.

mod climb;
mod job;
pub(super) mod proof;

pub use climb::{RungText, blocked, ladder, rungs, steps};
pub use job::job;
pub use proof::{short, verdict, why};

use super::answered::{FeedFound, Rehearsed};
use super::remark::remark;
use super::{decision, words};
use crate::pass::answered::{Answered, Careful};
use crate::pass::decision::clause;
use crate::pass::resolve::Gave;
use crate::pass::text::{Show, line};
use feeds_core::limit::State;
use feeds_core::plan::Plan;
use feeds_core::rehearsal::ratio::Ratios;
use feeds_core::symbol::{self as s, System};
use feeds_core::workpiece::ForceLaw;

/// The decision, the climb in full, what was measured and how to stop; and what else is to be
/// shown.
pub fn text(r: &Rehearsed, show: Show, system: System) -> String {
    let mut out = String::new();
    decision::text(&mut out, r, system);
    out.push_str(
        " Makers' data, local rules and licensed practice first. Glasses and guards on.\n",
    );
    out.push_str(" more: --checks  --sources  --working  --json\n");
    out.push_str("\nthe climb, step by step\n");
    out.push_str(&ladder(r, system));
    proof::measured(&mut out, r, system);
    out.push_str("\nto stop\n");
    line(&mut out, "  ", words::FEED_HOLD);
    cautions(&mut out, r);
    if show.checks {
        now(&mut out, r, system);
        proof::proof(&mut out, r, system);
        settings(&mut out, r, system);
        out.push_str("\nwhy\n");
        for sentence in remark(r, system) {
            line(&mut out, "  ", &sentence);
        }
        order(&mut out, r, system);
    }
    if show.sources {
        out.push_str("\nforces\n");
        for (run, answer) in [("production", &r.production), ("stand-in", &r.stand_in)] {
            line(&mut out, &format!("  {run}: "), &stock(answer));
        }
    }
    if show.working {
        for (run, answer) in [("production", &r.production), ("stand-in", &r.stand_in)] {
            line(&mut out, "\nworking of ", run);
            out.push_str(&answer.working().text(system));
        }
    }
    out
}

/// The stock of an answer: the row its force is from, or that it is not known.
pub fn stock(answer: &Answered) -> String {
    let source = answer
        .resolved
        .sources
        .iter()
        .find(|s| s.gave == Gave::Force);
    let law = answer.resolved.setup.stock.resistance.map(|r| r.law);
    match (source, law) {
        (Some(source), _) => format!("{} [{}]", source.value_read(), source.basis),
        (None, Some(ForceLaw::Class(_))) => "k_c1.1 and m_c as given".to_owned(),
        (None, Some(ForceLaw::Linear(_))) => "linear edge coefficients as given".to_owned(),
        (None, None) => "its force is not known".to_owned(),
    }
}

pub(super) fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

/// What is running at these overrides, in both stocks.
fn now(out: &mut String, r: &Rehearsed, system: System) {
    out.push_str("\nat these overrides\n");
    for (name, plan) in [("production", &r.now), ("stand-in", &r.stand_in.plan)] {
        line(out, &format!("  {name:<12}"), &running(plan, system));
        let known = plan.checks.iter().find(|c| c.margin().is_some());
        if let Some(first) = known {
            let unknown = match plan.count(State::Unknown) {
                0 => String::new(),
                count => format!("; {count} more not known"),
            };
            let text = format!("nearest to trouble: {}{unknown}", clause(first));
            line(out, "              ", &text);
        }
    }
}

fn running(plan: &Plan, system: System) -> String {
    let mut parts = vec![
        format!("n {}", s::N.show(plan.n.turns().value, system)),
        format!("v_f {}", s::V_F.show(plan.v_f.value, system)),
        format!("f_z {}", s::F_Z.show(plan.f_z.value, system)),
        format!("h_max {}", s::H_MAX.show(plan.h_max.value, system)),
    ];
    match (plan.h_min, plan.rubbing) {
        (Some(floor), Some(rubs)) => parts.push(format!(
            "floor {}, {} of the arc rubs",
            s::H_MIN.show(floor.value, system),
            percent(rubs)
        )),
        _ => parts.push("floor not known".to_owned()),
    }
    parts.push(
        feeds_core::rehearsal::peak(plan).map_or("force not known".to_owned(), |f| {
            format!("F_xy {}", s::F_XY.show(f, system))
        }),
    );
    parts.join(", ")
}

/// The ratios in one line.
fn ratios(r: &Ratios) -> String {
    let named = [
        ("peak force", r.force),
        ("torque", r.torque),
        ("bending", r.bending),
        ("chip", r.chip),
        ("heat", r.heat),
        ("hold", r.hold),
    ];
    let said = named.map(|(name, share)| {
        let share = share.map_or("not known".to_owned(), percent);
        format!("{name} {share}")
    });
    said.join(", ")
}

/// What the inverse finds.
fn settings(out: &mut String, r: &Rehearsed, system: System) {
    out.push_str("\nsettings\n");
    let found = |f: &FeedFound| {
        let mut text = format!(
            "f_z {}, feed override {}",
            s::F_Z.show(f.f_z.value, system),
            percent(f.feed)
        );
        if !f.over.is_empty() {
            let over: Vec<&str> = f.over.iter().map(|l| l.title).collect();
            let over = format!("; there {} would be over", over.join(", "));
            text.push_str(&over);
        }
        text
    };
    let equal = match &r.equal_force {
        Some(f) if f.within => found(f),
        Some(f) => format!(
            "{}; the overrides reach {} to {}: rescale the programme, S x 1.00 and F x {:.2}, and \
             run it at 100 %",
            found(f),
            percent(r.range.least),
            percent(r.range.most),
            f.feed
        ),
        None => "not found: a force is not known, or the edge alone presses harder".to_owned(),
    };
    line(out, "  stand-in at production's force: ", &equal);
    if let Some(a_p) = r.equal_depth {
        let text = format!(
            "a_p {} at the programmed f_z, if the path allows it",
            s::A_P.show(a_p.value, system)
        );
        line(out, "  or by depth, with the same chip: ", &text);
    }
    for (stock, lowest) in [("production", &r.lowest[0]), ("stand-in", &r.lowest[1])] {
        let text = lowest
            .as_ref()
            .map_or("edge radius not known".to_owned(), found);
        line(out, &format!("  lowest feed that cuts, {stock}: "), &text);
    }
    let gentle = match r.ladder.get(1).map(|rung| &rung.setting) {
        Some(Ok(setting)) => format!(
            "spindle {}, feed {}, f_z {}",
            percent(setting.dial.spindle),
            percent(setting.dial.feed),
            s::F_Z.show(setting.plan.f_z.value, system)
        ),
        Some(Err(blocked)) => climb::blocked(blocked, system),
        None => String::new(),
    };
    line(out, "  gentlest above the floor: ", &gentle);
}

fn order(out: &mut String, r: &Rehearsed, system: System) {
    out.push_str("\nthe usual order of stocks, for this cut\n");
    for row in &r.order.rows {
        let force = row
            .force
            .map_or("?".to_owned(), |f| s::F_XY.show(f.si, system));
        let speed = row
            .speed
            .map_or("?".to_owned(), |v| s::V_C.show(v.si, system));
        let life = row.life.map_or("?".to_owned(), |l| format!("{l:.2}"));
        let text = format!("force {force}, speed up to {speed}, life at one speed x {life}");
        line(out, &format!("  {} ({}): ", row.stock, row.row), &text);
    }
    for said in &r.order.says {
        line(out, "  - ", said);
    }
}

fn cautions(out: &mut String, r: &Rehearsed) {
    out.push_str("\ncareful\n");
    let mut told: Vec<&str> = Vec::new();
    for (run, answer) in [("production", &r.production), ("stand-in", &r.stand_in)] {
        for caution in answer.careful().map(Careful::text) {
            if !told.contains(&caution) {
                told.push(caution);
                line(out, "  - ", &format!("{run}: {caution}"));
            }
        }
    }
    for caution in crate::words::ALWAYS {
        line(out, "  - ", caution);
    }
}

/// The names of the checks that are over.
fn overs(plan: &Plan) -> Vec<&'static str> {
    let over = plan.checks.iter().filter(|c| c.state() == State::Over);
    over.map(|c| c.limit.title).collect()
}
