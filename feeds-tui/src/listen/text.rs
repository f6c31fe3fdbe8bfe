//! What a sign most likely is, as people read it, in lines of 80 columns.

use super::judge::{Judged, Likelihood};
use super::{Heard, Likely, notes};
use crate::pass::answered::Answered;
use crate::pass::text::line;
use crate::words::{ALWAYS, capital};
use feeds_core::limit::State;
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, System};
use std::fmt::Write as _;

/// Where order and steps come from.
pub const ABOUT: &str = "The order and the steps are common practice («feeds tables signs»); \
    the numbers are this pass's.";
/// The same where no pass is told.
const WITHOUT_PASS: &str = "The usual order (common practice). Add the pass, with the flags of \
    «feeds cut» or with --job and --pass, and its numbers decide.";
/// How to begin from the list.
const HOW: &str =
    "feeds listen SIGN, with the flags of «feeds cut», shows which it is on that pass.";
/// Said before anything is touched.
pub const STOP: &str = "Raise Z and stop the spindle before you touch cutter, chips or part.";

/// A sign with its causes.
pub fn text(heard: &Heard<'_>, system: System) -> String {
    let mut out = String::new();
    line(
        &mut out,
        &format!("{}: ", heard.sign.name),
        &heard.sign.says,
    );
    if let Some(answer) = heard.answer {
        pass(&mut out, answer, system);
    }
    out.push('\n');
    for (cause, number) in heard.causes.iter().zip(1..) {
        line(&mut out, &format!("{number:>2} "), &one(cause));
        let tell = cause.judged.as_ref().map_or("", |j| j.tell.as_str());
        if !tell.is_empty() {
            line(&mut out, "   hear: ", tell);
        }
        let (what, how) = cause.step.text();
        line(&mut out, &format!("   {what}: "), &how);
        line(&mut out, "   then: ", &cause.row.next);
    }
    out.push('\n');
    let about = heard.answer.map_or(WITHOUT_PASS, |_| ABOUT);
    line(&mut out, "", about);
    safety(&mut out);
    out
}

/// A cause, how likely it is, and the number it rests on.
pub fn one(cause: &Likely<'_>) -> String {
    let says = cause.row.cause.says();
    match &cause.judged {
        Some(judged) => format!("{says}, {}: {}", judged.verdict.word(), judged.because),
        None => says.to_owned(),
    }
}

/// Every sign, each with its causes, or with the likeliest on a pass.
pub fn list(heard: &[Heard<'_>], system: System) -> String {
    let mut out = String::new();
    if let Some(answer) = heard.iter().find_map(|h| h.answer) {
        pass(&mut out, answer, system);
        out.push('\n');
    }
    for heard in heard {
        let also = heard.sign.also.join(", ");
        let says = format!("{} (also {also})", heard.sign.says);
        line(&mut out, &format!("{:<15}", heard.sign.name), &says);
        let causes = if heard.answer.is_some() {
            likeliest(heard)
        } else {
            let all = heard.causes.iter().map(|c| c.row.cause.says());
            all.collect::<Vec<_>>().join("; ")
        };
        line(&mut out, &" ".repeat(15), &causes);
    }
    out.push('\n');
    line(&mut out, "", HOW);
    safety(&mut out);
    out
}

/// The first cause of a sign on a pass.
fn likeliest(heard: &Heard<'_>) -> String {
    let Some(first) = heard.causes.first() else {
        return String::new();
    };
    let says = first.row.cause.says();
    match &first.judged {
        Some(Judged {
            verdict: Likelihood::Unknown,
            ..
        })
        | None => format!("perhaps {says}; look"),
        Some(Judged {
            verdict: Likelihood::Unlikely,
            ..
        }) => "no number of this pass points to it".to_owned(),
        Some(_) => one(first),
    }
}

/// The pass in its own words, what its teeth sound like, and whether it may run at all.
fn pass(out: &mut String, answer: &Answered, system: System) {
    let p = &answer.plan;
    let n = (60.0 * p.n.turns().value).round();
    let v_f = s::V_F.show(p.v_f.si(), system);
    let (teeth, turns) = notes(answer);
    let _ = writeln!(
        out,
        "S {n:.0}   F {v_f}   teeth sound at {teeth:.0} Hz, one turn at {turns:.0} Hz"
    );
    let over = p.checks.iter().filter(|c| c.state() == State::Over);
    let over: Vec<&str> = over.map(|c| c.limit.title).collect();
    if !over.is_empty() {
        let text = format!("over its limit: {}; put that right first", over.join(", "));
        line(out, "STOP  ", &text);
    }
    if answer.is_extrapolated() {
        line(out, "* ", crate::words::STARRED);
    }
}

fn safety(out: &mut String) {
    for text in ALWAYS.iter().skip(1).chain([&STOP]) {
        line(out, "", &capital(text));
    }
}
