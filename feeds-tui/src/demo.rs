//! The built-in demo: a folding-knife bolster in layered steel, pass by pass.
//!
//! A workshop of two mills a bolster from an annealed billet of 1095 and 15N20 that cannot be
//! bought again. The figures are those of that workshop and no recommendation.

use crate::answer::{Answer, Exit, Failure};
use crate::arguments::Look;
use crate::object::joined;
use crate::pass::answered::{Answered, answered};
use crate::pass::description::Description;
use crate::pass::document::Beside;
use crate::pass::field::Key;
use crate::pass::overrides::Overrides;
use crate::pass::resolve::TablesIn;
use crate::pass::text::{Show, text};
use crate::store::job::{Job, Pass};
use crate::words;
use feeds_core::plan::Planner;
use serde_json::json;
use std::fmt::Write as _;

/// A pass of a job, with its name.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NamedPass {
    /// What the pass makes.
    pub name: String,
    /// The pass as typed.
    pub typed: Description,
}

/// Entries that every pass of the bolster shares.
const SHARED: &[(Key, &str)] = &[
    (Key::Stock, "1095 with 15N20"),
    (Key::Condition, "annealed"),
    (Key::Machine, "bench-5000"),
    (Key::Travel, "260 x 140 x 180 mm"),
    (Key::LookAhead, "24"),
    (Key::PathTolerance, "0.02 mm"),
    (Key::StockSize, "36 x 18 x 9 mm"),
    (Key::Zero, "X1mm,Y1mm,Z9mm"),
    (
        Key::Jaws,
        "X-12mm..46mm,Y-22mm..-1mm,Z-30mm..-5mm; X-12mm..46mm,Y17mm..38mm,Z-30mm..-5mm",
    ),
    (Key::Hold, "vise"),
    (Key::Grip, "4 mm"),
    (Key::Height, "3 mm"),
    (Key::Runout, "5 um"),
    (Key::ColletGrip, "1.2 kN"),
    (Key::Direction, "up"),
    (Key::Intent, "cautious"),
];

/// A pass: its name, and what is typed for it beside [`SHARED`].
type Row = (&'static str, &'static [(Key, &'static str)]);

const PASSES: &[Row] = &[
    (
        "relief pocket",
        &[
            (Key::Cutter, "5 mm square, 3 edges, AlTiN carbide"),
            (Key::CentreCutting, "yes"),
            (Key::StickOut, "14 mm"),
            (Key::Path, "pocket"),
            (Key::Depth, "1.2 mm"),
            (Key::EngagementAngle, "50 deg"),
            (Key::Entry, "helix"),
            (Key::HelixPitch, "0.4 mm"),
        ],
    ),
    (
        "outside, finished with a ball",
        &[
            (Key::Cutter, "4 mm ball, 2 edges, AlTiN carbide"),
            (Key::StickOut, "12 mm"),
            (Key::Path, "ball-finish"),
            (Key::Depth, "0.15 mm"),
            (Key::Width, "0.2 mm"),
            (Key::Tilt, "15 deg"),
            (Key::Slope, "20 deg"),
        ],
    ),
    (
        "pin recess, opened",
        &[
            (Key::Cutter, "2 mm square, 2 edges, AlTiN carbide"),
            (Key::CentreCutting, "yes"),
            (Key::StickOut, "6 mm"),
            (Key::Path, "pocket"),
            (Key::Depth, "0.3 mm"),
            (Key::EngagementAngle, "60 deg"),
            (Key::Entry, "helix"),
        ],
    ),
    (
        "pin recess, corners",
        &[
            (Key::Cutter, "1 mm square, 2 edges, AlTiN carbide"),
            (Key::StickOut, "3.5 mm"),
            (Key::EdgeRadius, "4 um"),
            (Key::Path, "side"),
            (Key::Depth, "0.15 mm"),
            (Key::Width, "0.1 mm"),
            (Key::Previous, "2 mm"),
        ],
    ),
];

/// The passes of the bolster, in the order they are cut.
///
/// # Example
/// ```
/// let passes = feeds_tui::demo::passes();
/// assert_eq!(passes[0].name, "relief pocket");
/// assert_eq!(passes[0].typed.get("depth"), Some("1.2 mm"));
/// ```
pub fn passes() -> Vec<NamedPass> {
    PASSES
        .iter()
        .map(|(name, entries)| NamedPass {
            name: (*name).to_owned(),
            typed: Description::default().with(SHARED).with(entries),
        })
        .collect()
}

/// The bolster as the job that the screens open with, marked as the example it is.
pub fn job() -> Job {
    let passes = passes().into_iter();
    let mut job = Job::new(words::EXAMPLE_JOB, Description::default());
    job.example = true;
    job.passes = passes.map(|p| Pass::new(&p.name, p.typed)).collect();
    job
}

/// The answers of every pass.
///
/// # Errors
/// As [`answered`], for the first pass that has no answer.
pub fn answer(look: Look) -> Result<Answer, Failure> {
    let passes = passes();
    let mut planner = Planner::default();
    let answers: Vec<Answered> = passes
        .iter()
        .map(|pass| {
            let answer = answered(&pass.typed, &TablesIn(look.system), &mut planner)?;
            Ok(answer.surely(&planner))
        })
        .collect::<Result<_, _>>()
        .map_err(Failure::Entries)?;
    let over = answers.iter().any(Answered::stops);
    let all = passes.iter().zip(&answers);
    let answer = if look.json {
        let beside = Beside::working(look.working);
        let passes = all.map(|(pass, answered)| {
            joined(json!({ "pass": pass.name }), answered.document(beside))
        });
        Answer::json(&json!({ "passes": passes.collect::<Vec<_>>() }))?
    } else {
        let mut out = String::from(crate::words::DEMO);
        for (at, (pass, answered)) in all.enumerate() {
            let _ = writeln!(out, "\n{} of {}: {}\n", at + 1, passes.len(), pass.name);
            let planner = Planner::new(&answered.resolved.setup);
            let overrides = Overrides::of(answered, &planner);
            let show = Show {
                working: look.working,
                ..Show::default()
            };
            out.push_str(&text(answered, overrides.as_ref(), show, look.system));
        }
        Answer::plain(out)
    };
    Ok(answer.ending(if over { Exit::Over } else { Exit::Fine }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_pass_has_an_answer_that_is_not_over() {
        for pass in passes() {
            let answer = answered(
                &pass.typed,
                &crate::pass::resolve::TablesOnly,
                &mut Planner::default(),
            );
            let answer = answer.unwrap_or_else(|e| panic!("{}: {e:?}", pass.name));
            assert!(
                !answer.stops(),
                "{}: {:?}",
                pass.name,
                answer.plan.governs()
            );
        }
    }
}
