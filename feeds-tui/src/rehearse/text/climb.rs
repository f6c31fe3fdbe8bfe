//! The ladder as people read it.

use super::{overs, percent};
use crate::pass::text::line;
use crate::rehearse::answered::Rehearsed;
use crate::rehearse::words;
use feeds_core::plan::interval::FeedEnd;
use feeds_core::quantity::Length;
use feeds_core::rehearsal::ladder::{Blocked, Rung, RungKind, RungSetting};
use feeds_core::rehearsal::pair::{Proof, pairs};
use feeds_core::symbol::{self as s, System};

/// One rung in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RungText {
    /// Its number and name.
    pub head: String,
    /// What to set, or why it cannot be run.
    pub set: String,
    /// More of it: what, and the words.
    pub rows: Vec<(&'static str, String)>,
}

/// The ladder of a rehearsal, rung by rung, in lines of 80 columns.
pub fn ladder(r: &Rehearsed, system: System) -> String {
    let mut out = rungs(r, system);
    line(&mut out, "   ", words::SHALLOWER);
    out
}

/// The rungs alone, in lines of 80 columns.
pub fn rungs(r: &Rehearsed, system: System) -> String {
    let mut out = String::new();
    for step in steps(r, system) {
        line(&mut out, &format!("{}: ", step.head), &step.set);
        for (what, text) in &step.rows {
            let head = match *what {
                "" => "   ".to_owned(),
                what => format!("   {what}: "),
            };
            line(&mut out, &head, text);
        }
    }
    out
}

/// The rungs in words.
pub fn steps(r: &Rehearsed, system: System) -> Vec<RungText> {
    let rungs = r.ladder.iter().enumerate();
    rungs
        .map(|(at, rung)| {
            let head = format!("{}. {}", at + 1, words::name(rung.kind));
            match &rung.setting {
                Ok(setting) => RungText {
                    head,
                    set: set(setting, system),
                    rows: rows(r, rung, setting, system),
                },
                Err(why) => RungText {
                    head,
                    set: blocked(why, system),
                    rows: Vec::new(),
                },
            }
        })
        .collect()
}

/// What is set at the machine.
fn set(setting: &RungSetting, system: System) -> String {
    let plan = &setting.plan;
    let dialled = if setting.within {
        format!(
            "spindle {}, feed {}",
            percent(setting.dial.spindle),
            percent(setting.dial.feed)
        )
    } else {
        format!(
            "rescaled programme S x {:.2}, F x {:.2}, overrides at 100 %",
            setting.dial.spindle, setting.dial.feed
        )
    };
    format!(
        "S {}, F {} ({dialled})",
        s::N.show(plan.n.turns().value, system),
        s::V_F.show(plan.v_f.value, system)
    )
}

fn rows(
    r: &Rehearsed,
    rung: &Rung,
    setting: &RungSetting,
    system: System,
) -> Vec<(&'static str, String)> {
    let plan = &setting.plan;
    let mut cut = match rung.kind {
        RungKind::Air => vec!["nothing is cut".to_owned()],
        _ => vec![
            format!("a_p {}", s::A_P.show(setting.a_p.value, system)),
            format!("a_e {}", s::A_E.show(setting.a_e.value, system)),
            format!("f_z {}", s::F_Z.show(plan.f_z.value, system)),
            format!("h_max {}", s::H_MAX.show(plan.h_max.value, system)),
        ],
    };
    if let Some(length) = r.length {
        cut.push(s::T_CUT.show(setting.time(length).value, system));
    }
    let mut rows = vec![("", cut.join(", ")), ("proves", proves(r, rung, setting))];
    if let Some(end) = setting.capped {
        let text = format!("{} keeps it below production's force", end.limit.title);
        rows.push(("short of it", text));
    }
    rows.push(("stop at", words::stop(rung.kind).to_owned()));
    let over = overs(plan);
    if rung.kind != RungKind::Air && !over.is_empty() {
        rows.push((
            "over",
            format!("{}; do not run it like this", over.join(", ")),
        ));
    }
    rows
}

/// What a rung proves, with the share of production's force and the checks it proves.
fn proves(r: &Rehearsed, rung: &Rung, setting: &RungSetting) -> String {
    let words = words::proves(rung.kind);
    let share = match (rung.kind, setting.force_share) {
        (RungKind::Air, _) => String::new(),
        (_, Some(share)) => format!(" ({} of production's peak force)", percent(share)),
        (_, None) => " (force not known)".to_owned(),
    };
    let mut text = format!("{words}{share}");
    if rung.kind == RungKind::EqualForce {
        let all = pairs(&r.runs, &r.production.plan.checks, &setting.plan.checks);
        let loads = [
            "hold",
            "tipping",
            "breakage",
            "wall-error",
            "tip-deflection",
            "pull-out",
        ];
        let proven: Vec<&str> = all
            .iter()
            .filter(|p| p.verdict == Proof::Proven && loads.contains(&p.limit.name))
            .map(|p| p.limit.title)
            .collect();
        if !proven.is_empty() {
            text.push_str("; in full: ");
            text.push_str(&proven.join(", "));
        }
    }
    text
}

/// Why a rung cannot be run.
pub fn blocked(why: &Blocked, system: System) -> String {
    let show = |f_z: Length| s::F_Z.show(f_z.value, system);
    let of = |end: &FeedEnd| format!("{}, {}", end.limit.title, end.moment.words());
    match why {
        Blocked::NoFeed { least, most } => format!(
            "no feed does it: {} needs f_z of at least {}, {} allows at most {}",
            of(least),
            show(least.f_z),
            of(most),
            show(most.f_z)
        ),
        Blocked::Needs(what) => format!("not known: needs {what}"),
    }
}
