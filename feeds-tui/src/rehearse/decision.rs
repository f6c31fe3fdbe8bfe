//! The decision on a rehearsal: run it or not, what it tries of production, what it cannot prove.

use super::answered::Rehearsed;
use super::notes::notes;
use super::text::{percent, proof};
use super::words;
use crate::pass::answered::Answered;
use crate::pass::decision::{self, BAR, bar, clause, not_known, share};
use crate::pass::text::line;
use feeds_core::limit::{Check, Found, Harm};
use feeds_core::plan::{Plan, limits};
use feeds_core::quantity::Quantity;
use feeds_core::rehearsal::Which;
use feeds_core::rehearsal::ladder::{Rung, RungKind};
use feeds_core::rehearsal::pair::{CheckPair, Proof, Why};
use feeds_core::symbol::{self as s, System};
use feeds_core::verdict::{Verdict, because, is_said_twice, sort};
use std::fmt::Write as _;

/// Checks shown as tried.
const TRIED: usize = 6;

/// What a rehearsal comes to: the worse of its run in the stand-in and of production.
pub fn verdict(r: &Rehearsed) -> Verdict {
    Verdict::of(
        r.production
            .plan
            .checks
            .iter()
            .chain(&r.stand_in.plan.checks),
    )
}

/// The checks that say so, the worst first, with the run each is of.
pub fn reasons(r: &Rehearsed) -> Vec<(Which, Check)> {
    let production = &r.production.plan.checks;
    let mut all: Vec<Check> = production
        .iter()
        .chain(&r.stand_in.plan.checks)
        .copied()
        .collect();
    sort(&mut all);
    let run = |check: &Check| {
        if production.contains(check) {
            Which::Production
        } else {
            Which::StandIn
        }
    };
    let mut reasons: Vec<(Which, Check)> = Vec::new();
    for check in because(&all) {
        let known = reasons.iter().any(|(_, c)| c.limit == check.limit);
        if !known && !is_said_twice(check, &all) {
            reasons.push((run(check), *check));
        }
    }
    reasons
}

/// The decision in a line.
pub fn head(r: &Rehearsed) -> String {
    let word = verdict(r).word();
    match reasons(r).first() {
        Some(reason) => format!("{word}  {}", said(r, reason)),
        None => format!("{word}  nothing is near a limit, here and in production"),
    }
}

/// What a check of a run says, with the run.
fn said(r: &Rehearsed, (which, check): &(Which, Check)) -> String {
    let run = match which {
        Which::Production if r.is_measured() => "production, as measured",
        Which::Production => "production",
        Which::StandIn => "stand-in",
    };
    format!("{run}: {}", clause(check))
}

/// The decision.
pub fn text(out: &mut String, r: &Rehearsed, system: System) {
    // Two columns of the screens are for the mark.
    let what = decision::what(&r.production, system).replace("   ", "  ");
    line(out, "", &what);
    let stock = |answer: &Answered| answer.resolved.stock_row.clone().unwrap_or_default();
    let dial = format!(
        "{}; spindle {}, feed {}",
        stock(&r.stand_in),
        percent(r.dial.spindle),
        percent(r.dial.feed)
    );
    line(out, "rehearsed in ", &dial);
    let reasons = reasons(r);
    let why = match reasons.first() {
        Some(reason) => said(r, reason),
        None => "nothing is near a limit, here and in production".to_owned(),
    };
    line(out, &format!("  {:<7}", verdict(r).word()), &why);
    let known = |(_, check): &&(Which, Check)| check.used().is_some();
    let more: Vec<String> = reasons
        .iter()
        .skip(1)
        .filter(known)
        .map(|x| said(r, x))
        .collect();
    if !more.is_empty() {
        let shown = more.len().min(2);
        line(out, "         also: ", &more[..shown].join("; "));
    }
    for (run, plan) in [
        ("stand-in", &r.stand_in.plan),
        ("production", &r.production.plan),
    ] {
        line(out, &format!("         {run:<12}"), &running(plan, system));
    }
    ladder(out, r, system);
    tried(out, r, system);
    rows(out, r);
    for note in notes(r, system) {
        line(out, " careful       ", &note);
    }
}

/// What a run is set to and comes to; what stops is no setting.
fn running(plan: &Plan, system: System) -> String {
    let verdict = Verdict::of(&plan.checks);
    let settings = format!(
        "S {}   F {}",
        s::N.show(plan.n.turns().value, system),
        s::V_F.show(plan.v_f.si(), system)
    );
    let settings = match verdict {
        Verdict::Stop => format!("({settings})"),
        _ => settings,
    };
    let chip = s::F_Z.show(plan.f_z.si(), system);
    format!("{settings}   chip load {chip}   {}", verdict.word())
}

/// What the run tries of what production asks, the worst harm first.
fn tried(out: &mut String, r: &Rehearsed, system: System) {
    let shown = |p: &&CheckPair| {
        let twice = is_said_twice(&p.production, &r.production.plan.checks);
        matches!(p.verdict, Proof::Proven | Proof::Partly(_)) && !twice
    };
    let mut pairs: Vec<&CheckPair> = r.pairs.iter().filter(shown).collect();
    pairs.sort_by_key(|p| p.limit.harm);
    let mut names: Vec<&str> = Vec::new();
    pairs.retain(|p| {
        let first = !names.contains(&p.limit.short);
        names.push(p.limit.short);
        first
    });
    if pairs.is_empty() {
        line(
            out,
            " tries         ",
            "proves path, zero and clearances only",
        );
        return;
    }
    let _ = writeln!(out, " {:<54}of what production asks", "this run tries");
    for pair in pairs.into_iter().take(TRIED) {
        let value = |check: Option<&Check>| match check.map(|c| c.found) {
            Some(Found::Known { value, .. }) => pair.limit.symbol.show(value, system),
            _ => "?".to_owned(),
        };
        let corrected = pair.limit == &limits::WALL && is_corrected(r);
        let of = format!(
            "{}{}, in production {}",
            value(pair.rehearsal.as_ref()),
            if corrected { " predicted" } else { "" },
            value(Some(&pair.production))
        );
        let part = match pair.verdict {
            Proof::Partly(part) => part,
            _ => 1.0,
        };
        let words = match pair.verdict {
            Proof::Partly(_) => proof::short(pair.verdict),
            _ => "proven".to_owned(),
        };
        let _ = writeln!(
            out,
            "   {:<15}{of:<37} {} {words:>6}",
            pair.limit.short,
            bar(part, BAR)
        );
    }
}

/// Whether what was measured on the stand-in has corrected what production leaves.
fn is_corrected(r: &Rehearsed) -> bool {
    let measured = r.measured.as_ref();
    measured.is_some_and(|measured| measured.corrected.is_some())
}

/// What it cannot prove, and what is not known.
fn rows(out: &mut String, r: &Rehearsed) {
    let shorts = |of: &dyn Fn(&CheckPair) -> bool| -> String {
        let mut list: Vec<&str> = Vec::new();
        for pair in r
            .pairs
            .iter()
            .filter(|p| of(p) && p.limit.harm < Harm::Nothing)
        {
            if !list.contains(&pair.limit.short) {
                list.push(pair.limit.short);
            }
        }
        list.join(", ")
    };
    let why = |wanted: Why| move |p: &CheckPair| p.verdict == Proof::NotProven(wanted);
    let mut unknown = not_known(&r.production);
    for what in not_known(&r.stand_in) {
        if !unknown.contains(&what) {
            unknown.push(what);
        }
    }
    let rows = [
        (
            "stops",
            shorts(&why(Why::Over)),
            ": do not run it like this",
        ),
        ("not tried", shorts(&why(Why::NotTried)), ""),
        (
            "of the stock",
            shorts(&why(Why::OfTheStock)),
            ": a stand-in cannot prove it",
        ),
        ("same in both", shorts(&|p| p.verdict == Proof::Same), ""),
        ("not known", unknown.join(", "), ""),
        ("never proven", words::NEVER_SHORT.to_owned(), ""),
    ];
    for (head, list, after) in rows {
        if !list.is_empty() {
            line(out, &format!(" {head:<14}"), &format!("{list}{after}"));
        }
    }
}

/// The climb in a table: a line a rung.
fn ladder(out: &mut String, r: &Rehearsed, system: System) {
    let _ = writeln!(
        out,
        " {:<31}{:>10}{:>13}{:>10}{:>8}",
        "the climb", "S", "F", "depth", "force"
    );
    for (at, rung) in r.ladder.iter().enumerate() {
        let name = format!("{} {}", at + 1, words::name(rung.kind));
        let _ = writeln!(out, "   {name:<29}{}", rung_row(rung, system));
    }
}

fn rung_row(rung: &Rung, system: System) -> String {
    let Ok(setting) = &rung.setting else {
        return "  no setting: see below".to_owned();
    };
    let plan = &setting.plan;
    let cuts = rung.kind != RungKind::Air;
    let stops = cuts && Verdict::of(&plan.checks) == Verdict::Stop;
    let depth = if cuts {
        s::A_P.show(setting.a_p.si(), system)
    } else {
        "none".to_owned()
    };
    let force = match (cuts, setting.force_share) {
        (true, Some(force)) => share(force),
        (true, None) => "?".to_owned(),
        (false, _) => "none".to_owned(),
    };
    format!(
        "{:>10}{:>13}{depth:>10}{force:>8}{}",
        s::N.show(plan.n.turns().value, system),
        s::V_F.show(plan.v_f.si(), system),
        if stops { " STOP" } else { "" }
    )
}
