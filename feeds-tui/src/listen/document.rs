//! What a sign most likely is, as scripts read it; the order of keys is fixed.

use super::dial::stops;
use super::judge::Likelihood;
use super::{Heard, Likely, notes};
use crate::pass::answered::Answered;
use feeds_core::quantity::{Amount, Quantity, unit};
use feeds_core::symbol as s;
use serde::Serialize;

/// The document.
#[derive(Debug, Serialize)]
pub struct ListenDocument<'a> {
    pass: Option<Pass>,
    signs: Vec<SignDocument<'a>>,
}

/// What is heard of the pass itself.
#[derive(Debug, Serialize)]
struct Pass {
    spindle_speed: Amount,
    feed_speed: Amount,
    tooth_frequency: Amount,
    turn_frequency: Amount,
    over: bool,
}

#[derive(Debug, Serialize)]
struct SignDocument<'a> {
    sign: &'a str,
    also: &'a [String],
    says: &'a str,
    source: &'a str,
    basis: &'static str,
    causes: Vec<CauseDocument<'a>>,
}

#[derive(Debug, Serialize)]
struct CauseDocument<'a> {
    cause: &'static str,
    says: &'static str,
    verdict: Option<&'static str>,
    used: Option<f64>,
    limit: Option<&'static str>,
    because: Option<&'a str>,
    tell: Option<&'a str>,
    turn: &'static str,
    step: Amount,
    stop: bool,
    here: &'a str,
    next: &'a str,
    source: &'a str,
    basis: &'static str,
    weak: bool,
}

/// The document of some signs on one pass, or on none.
pub fn document<'a>(heard: &'a [Heard<'a>]) -> ListenDocument<'a> {
    ListenDocument {
        pass: heard.iter().find_map(|h| h.answer).map(pass),
        signs: heard.iter().map(sign).collect(),
    }
}

fn pass(answer: &Answered) -> Pass {
    let (teeth, turns) = notes(answer);
    let hertz = |si| Amount::of(si, &unit::HERTZ);
    Pass {
        spindle_speed: s::N.amount(answer.plan.n.turns().value),
        feed_speed: s::V_F.amount(answer.plan.v_f.si()),
        tooth_frequency: hertz(teeth),
        turn_frequency: hertz(turns),
        over: answer.stops(),
    }
}

fn sign<'a>(heard: &'a Heard<'a>) -> SignDocument<'a> {
    SignDocument {
        sign: &heard.sign.name,
        also: &heard.sign.also,
        says: &heard.sign.says,
        source: &heard.sign.origin.source,
        basis: heard.sign.origin.basis.word(),
        causes: heard.causes.iter().map(cause).collect(),
    }
}

fn cause<'a>(likely: &'a Likely<'a>) -> CauseDocument<'a> {
    let (row, judged) = (likely.row, likely.judged.as_ref());
    CauseDocument {
        cause: row.cause.key(),
        says: row.cause.says(),
        verdict: judged.map(|j| key(j.verdict)),
        used: judged.and_then(|j| j.used),
        limit: judged.and_then(|j| j.limit).map(|l| l.name),
        because: judged.map(|j| j.because.as_str()),
        tell: judged.map(|j| j.tell.as_str()),
        turn: row.turn.key(),
        step: Amount::of(likely.step.percent / 100.0, &unit::PERCENT),
        stop: stops(likely.step.percent),
        here: &likely.step.here,
        next: &row.next,
        source: &row.step.origin.source,
        basis: row.step.origin.basis.word(),
        weak: row.step.origin.weak,
    }
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
