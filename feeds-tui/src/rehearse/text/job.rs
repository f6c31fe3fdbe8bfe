//! A whole job rehearsed, as people read it.

use super::climb::{blocked, rungs};
use super::proof::{short, why};
use super::{percent, stock};
use crate::pass::text::line;
use crate::rehearse::answered::Rehearsed;
use crate::rehearse::job::RehearsedJob;
use crate::rehearse::notes::notes;
use crate::rehearse::words;
use feeds_core::rehearsal::ladder::Blocked;
use feeds_core::rehearsal::pair::{Pair, Verdict};
use feeds_core::symbol::{self as s, System};

/// A whole job as text: what each pass proves, its ladder, and the minutes in all.
pub fn job(job: &RehearsedJob, system: System) -> String {
    let mut out = String::new();
    line(&mut out, "REHEARSAL  ", &job.title);
    let first = job.passes.iter().find_map(|p| p.outcome.as_ref().ok());
    if let Some(r) = first {
        line(&mut out, "stand-in   ", &stock(&r.stand_in));
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
    out.push_str("\nnever proven by a rehearsal\n");
    for never in words::NEVER {
        line(&mut out, "  - ", never);
    }
    line(&mut out, "less depth  ", words::SHALLOWER);
    line(&mut out, "to stop     ", words::FEED_HOLD);
    totals(&mut out, job, system);
    out
}

fn of_pass(out: &mut String, r: &Rehearsed, system: System) {
    for note in notes(r, system) {
        line(out, "  mind        ", &note);
    }
    for (head, of) in [("proven", 0), ("partly", 1), ("not proven", 2)] {
        let said: Vec<String> = r.pairs.iter().filter_map(|p| said(p, of)).collect();
        let said = if said.is_empty() {
            "nothing".to_owned()
        } else {
            said.join("; ")
        };
        line(out, &format!("  {head:<11} "), &said);
    }
    out.push_str(&rungs(r, system));
}

/// A check in the list of its verdict.
fn said(pair: &Pair, of: usize) -> Option<String> {
    match (pair.verdict, of) {
        (Verdict::Proven, 0) => Some(pair.limit.title.to_owned()),
        (Verdict::Partly(_), 1) => Some(format!("{} {}", pair.limit.title, short(pair.verdict))),
        (Verdict::NotProven(reason), 2) => Some(format!("{} ({})", pair.limit.title, why(reason))),
        _ => None,
    }
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
    let all: f64 = times.iter().map(|rung| rung.time.value).sum();
    line(
        out,
        &format!("  {:<28} ", "the whole climb"),
        &s::T_CUT.show(all, system),
    );
    let exceptions = job.exceptions();
    if !exceptions.is_empty() {
        out.push_str("\nrungs that no feed can cut\n");
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
