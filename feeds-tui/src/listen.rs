//! What a maker hears or sees during a pass, and what it most likely is on this pass.
//!
//! The table gives the causes of a sign in the order the trade meets them; [`judge`] holds each
//! against the numbers of the pass, and [`heard`] puts first what those point to.

pub mod dial;
pub mod document;
pub mod judge;
pub mod recording;
pub mod tap;
pub mod text;
pub mod tone;

use crate::pass::answered::Answered;
use dial::DialStep;
use feeds_core::plan::Planner;
use feeds_core::symbol::System;
use judge::{Judged, Likelihood, judged};
use reference_tables::signs::{CauseRow, Sign, Signs};

/// A sign with its causes, the most likely first.
#[derive(Clone, Debug)]
pub struct Heard<'t> {
    /// The sign.
    pub sign: &'t Sign,
    /// The pass it is heard on, if one is told.
    pub answer: Option<&'t Answered>,
    /// Its causes.
    pub causes: Vec<Likely<'t>>,
}

/// A cause, how likely it is on the pass, and what to turn.
#[derive(Clone, Debug)]
pub struct Likely<'t> {
    /// The row of the table.
    pub row: &'t CauseRow,
    /// What the numbers of the pass say; `None` without a pass.
    pub judged: Option<Judged>,
    /// What to turn, and how far.
    pub step: DialStep,
}

/// The causes of a sign on a pass; with the planner that worked it out, steps say how far they go
/// there. Without a pass the causes keep the order of the table.
pub fn heard<'t>(
    table: &'t Signs,
    sign: &'t Sign,
    pass: Option<(&'t Answered, Option<&Planner>)>,
    system: System,
) -> Heard<'t> {
    let cause = |row: &'t CauseRow| Likely {
        row,
        judged: pass.map(|(answer, _)| judged(row.cause, answer, system)),
        step: DialStep::of(row, pass, system),
    };
    let mut causes: Vec<Likely<'t>> = table.causes_of(sign).map(cause).collect();
    // Within a verdict the trade's order stays: shares of different limits cannot be compared.
    causes.sort_by_key(|c| c.judged.as_ref().map_or(Likelihood::Unknown, |j| j.verdict));
    Heard {
        sign,
        answer: pass.map(|(answer, _)| answer),
        causes,
    }
}

/// How often an edge meets the stock, and how often the cutter turns, in Hz.
pub fn notes(answer: &Answered) -> (f64, f64) {
    let turns = answer.plan.n.turns().value;
    (turns * f64::from(answer.resolved.setup.cutter.edges), turns)
}
