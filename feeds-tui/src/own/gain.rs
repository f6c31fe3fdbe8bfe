//! What more cuts make of the range of a pass.

use super::beside::{range, shown};
use crate::pass::answered::{Answered, answered};
use crate::pass::description::Description;
use crate::pass::resolve::Shelves;
use feeds_core::band::AnswerBand;
use feeds_core::plan::Planner;
use feeds_core::symbol::System;
use serde_json::{Value, json};

/// The range of an answer before and after.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gain {
    /// Before.
    pub before: AnswerBand,
    /// After.
    pub after: AnswerBand,
}

impl Gain {
    /// Of a pass; `None` where it has no range to show, or the same.
    pub fn of(pass: &Description, before: &impl Shelves, after: &impl Shelves) -> Option<Self> {
        let gain = Self {
            before: band(&surely(pass, before)?)?,
            after: band(&surely(pass, after)?)?,
        };
        (gain.before != gain.after).then_some(gain)
    }

    /// In a line: `wall error 9 to 41 um becomes 17 to 26 um`.
    pub fn text(&self, system: System) -> String {
        let show = |b: &AnswerBand| range(b.symbol, b.low, b.high, system);
        let (before, after) = (show(&self.before), show(&self.after));
        format!("{} {before} becomes {after}", self.before.symbol.name)
    }

    /// As scripts read it.
    pub fn document(&self) -> Value {
        let ends = |b: &AnswerBand| {
            let [low, high] = [b.low, b.high].map(|si| b.symbol.amount(si));
            json!({ "low": low, "high": high })
        };
        json!({
            "answer": self.before.symbol.name,
            "before": ends(&self.before),
            "after": ends(&self.after),
        })
    }
}

/// A pass with how sure it is.
pub fn surely(pass: &Description, shelves: &impl Shelves) -> Option<Answered> {
    let mut planner = Planner::default();
    let answer = answered(pass, shelves, &mut planner).ok()?;
    Some(answer.surely(&planner))
}

fn band(answer: &Answered) -> Option<AnswerBand> {
    shown(answer.sure.as_ref()?).copied()
}
