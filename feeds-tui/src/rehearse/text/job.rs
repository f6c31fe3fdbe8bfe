//! A whole job rehearsed, as people read it.

use super::climb::{blocked, rungs};
use super::percent;
use super::proof::{short, why};
use crate::pass::text::line;
use crate::rehearse::answered::Rehearsed;
use crate::rehearse::job::RehearsedJob;
use crate::rehearse::notes::notes;
use crate::rehearse::{decision, words};
use feeds_core::rehearsal::ladder::Blocked;
use feeds_core::rehearsal::pair::Proof;
use feeds_core::symbol::{self as s, System};

/// A whole job as text: what each pass proves, its ladder, and the minutes in all.
pub fn job(job: &RehearsedJob, system: System) -> String {
    let mut out = String::new();
    line(&mut out, "REHEARSAL  ", &job.title);
    line(&mut out, "verdict    ", job.verdict().word());
    let first = job.passes.iter().find_map(|p| p.outcome.as_ref().ok());
    if let Some(r) = first {
        line(
            &mut out,
            "stand-in   ",
            r.stand_in.resolved.stock_row.as_deref().unwrap_or_default(),
        );
        let dial = format!(
            "spindle {}, feed {}",
            percent(r.dial.spindle),
            percent(r.dial.feed)
        );
        line(&mut out, "overrides  ", &dial);
    }
    for (at, pass) in job.passes.iter().enumerate() {
        out.push('\n');
        line(&mut out, &format!("{} ", at + 1), &pass.name);
        match &pass.outcome {
            Ok(r) => of_pass(&mut out, r, system),
            Err(errors) => {
                for error in errors {
                    line(&mut out, "  NOT READY  ", &error.to_string());
                }
            }
        }
    }
    out.push_str("\na rehearsal never proves\n");
    for never in words::NEVER {
        line(&mut out, "  - ", never);
    }
    line(&mut out, "less depth  ", words::SHALLOWER);
    line(&mut out, "to stop     ", words::FEED_HOLD);
    totals(&mut out, job, system);
    out
}

fn of_pass(out: &mut String, r: &Rehearsed, system: System) {
    line(out, "  ", &decision::head(r));
    for note in notes(r, system) {
        line(out, "  careful     ", &note);
    }
    for (head, said) in [
        (
            "proven",
            titles(r, |v| (v == Proof::Proven).then(String::new)),
        ),
        (
            "partly",
            titles(r, |v| match v {
                Proof::Partly(_) => Some(format!(" {}", short(v))),
                _ => None,
            }),
        ),
        ("not proven", unproven(r)),
        ("same", titles(r, |v| (v == Proof::Same).then(String::new))),
    ] {
        let said = if said.is_empty() { "nothing" } else { &said };
        line(out, &format!("  {head:<11} "), said);
    }
    out.push_str(&rungs(r, system));
}

/// The checks that a verdict holds of, with what is to be said of it.
fn titles(r: &Rehearsed, of: impl Fn(Proof) -> Option<String>) -> String {
    let said = r
        .pairs
        .iter()
        .filter_map(|p| Some((p.limit.title, of(p.verdict)?)));
    let said: Vec<String> = said.map(|(title, more)| format!("{title}{more}")).collect();
    said.join(", ")
}

/// The checks of which nothing is proven, by the reason.
fn unproven(r: &Rehearsed) -> String {
    let mut reasons: Vec<String> = Vec::new();
    for pair in &r.pairs {
        if let Proof::NotProven(reason) = pair.verdict {
            let reason = why(reason);
            if !reasons.contains(&reason) {
                reasons.push(reason);
            }
        }
    }
    let said: Vec<String> = reasons
        .iter()
        .map(|reason| {
            let of = titles(r, |v| {
                let same = matches!(v, Proof::NotProven(w) if why(w) == *reason);
                same.then(String::new)
            });
            format!("{of} ({reason})")
        })
        .collect();
    said.join("; ")
}

fn totals(out: &mut String, job: &RehearsedJob, system: System) {
    out.push_str("\nin all, at the feed\n");
    let times = job.times();
    for rung in &times {
        let mut text = s::T_CUT.show(rung.time.value, system);
        if rung.without > 0 {
            text = format!("{text}, without {} of {}", rung.without, job.passes.len());
        }
        line(out, &format!("  {:<28} ", words::name(rung.kind)), &text);
    }
    let all: f64 = times.iter().map(|rung| rung.time.value).sum::<f64>() + 0.0;
    line(
        out,
        &format!("  {:<28} ", "the whole climb"),
        &s::T_CUT.show(all, system),
    );
    let exceptions = job.exceptions();
    if !exceptions.is_empty() {
        out.push_str("\nsteps that no feed can cut\n");
    }
    for e in exceptions {
        let head = format!("  {} {}, {}: ", e.number, e.pass, words::name(e.kind));
        let no_feed = Blocked::NoFeed {
            least: e.least,
            most: e.most,
        };
        line(out, &head, &blocked(&no_feed, system));
    }
}
