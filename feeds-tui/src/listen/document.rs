//! What a sign most likely is, as scripts read it; the order of keys is fixed.

use super::dial::stops;
use super::judge::Likelihood;
use super::{Heard, Likely, notes};
use crate::pass::answered::Answered;
use feeds_core::quantity::{Amount, Quantity, unit};
use feeds_core::symbol as s;
use serde_json::{Value, json};

/// The document of some signs on one pass, or on none.
pub fn document<'a>(heard: &'a [Heard<'a>]) -> Value {
    json!({
        "pass": heard.iter().find_map(|h| h.answer).map(pass),
        "signs": heard.iter().map(sign).collect::<Vec<_>>(),
    })
}

fn pass(answer: &Answered) -> Value {
    let (teeth, turns) = notes(answer);
    let hertz = |si| Amount::of(si, &unit::HERTZ);
    json!({
        "spindle_speed": s::N.amount(answer.plan.n.turns().value),
        "feed_speed": s::V_F.amount(answer.plan.v_f.si()),
        "tooth_frequency": hertz(teeth),
        "turn_frequency": hertz(turns),
        "over": answer.stops(),
    })
}

fn sign<'a>(heard: &'a Heard<'a>) -> Value {
    json!({
        "sign": &heard.sign.name,
        "also": &heard.sign.also,
        "says": &heard.sign.says,
        "source": &heard.sign.origin.source,
        "basis": heard.sign.origin.basis.word(),
        "causes": heard.causes.iter().map(cause).collect::<Vec<_>>(),
    })
}

fn cause<'a>(likely: &'a Likely<'a>) -> Value {
    let (row, judged) = (likely.row, likely.judged.as_ref());
    json!({
        "cause": row.cause.key(),
        "says": row.cause.says(),
        "verdict": judged.map(|j| key(j.verdict)),
        "used": judged.and_then(|j| j.used),
        "limit": judged.and_then(|j| j.limit).map(|l| l.name),
        "because": judged.map(|j| j.because.as_str()),
        "tell": judged.map(|j| j.tell.as_str()),
        "turn": row.turn.key(),
        "step": Amount::of(likely.step.percent / 100.0, &unit::PERCENT),
        "stop": stops(likely.step.percent),
        "here": &likely.step.here,
        "next": &row.next,
        "source": &row.step.origin.source,
        "basis": row.step.origin.basis.word(),
        "weak": row.step.origin.weak,
    })
}

/// A verdict as scripts see it.
fn key(verdict: Likelihood) -> &'static str {
    match verdict {
        Likelihood::Likely => "likely",
        Likelihood::Possible => "possible",
        Likelihood::Unknown => "unknown",
        Likelihood::Unlikely => "unlikely",
    }
}
