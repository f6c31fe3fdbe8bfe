//! A whole job rehearsed: each of its passes beside the stand-in.

use super::answered::{Rehearsed, rehearsed};
use super::asked::{Ask, ENTRIES, RehearsalAsked, RehearsalEntry};
use super::decision;
use crate::job::{Worked, WorkedPass};
use crate::pass::field::Key;
use crate::pass::resolve::Shelves;
use feeds_core::error::EntryError;
use feeds_core::plan::interval::FeedEnd;
use feeds_core::quantity::{Quantity, Time};
use feeds_core::rehearsal::ladder::{Blocked, RungKind};
use feeds_core::verdict::Verdict;

/// A pass of a job, rehearsed.
#[derive(Clone, Debug)]
pub struct RehearsedPass {
    /// What it makes.
    pub name: String,
    /// The rehearsal, or every entry that is wrong or missing.
    pub outcome: Result<Rehearsed, Vec<EntryError>>,
}

/// A job, rehearsed.
#[derive(Clone, Debug)]
pub struct RehearsedJob {
    /// What is made.
    pub title: String,
    /// Its passes in order.
    pub passes: Vec<RehearsedPass>,
}

/// Time of one rung over a whole job.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RungTime {
    /// Which rung.
    pub kind: RungKind,
    /// Time at the feed of the passes that have a length and can be run so.
    pub time: Time,
    /// Passes without a time: no length, or no setting.
    pub without: usize,
}

/// A rung that no setting can cut: its pass, and the two checks that stand against each other.
#[derive(Clone, Debug, PartialEq)]
pub struct Exception<'r> {
    /// The place of the pass.
    pub number: usize,
    /// The pass.
    pub pass: &'r str,
    /// The rung.
    pub kind: RungKind,
    /// The floor.
    pub least: FeedEnd,
    /// The ceiling below it.
    pub most: FeedEnd,
}

/// What is asked of a pass of a job: the pass as the job has it, at the job's own intent, with its
/// length unless another was typed.
pub fn of_pass(pass: &WorkedPass<'_>, texts: &[(Ask, String)]) -> RehearsalAsked {
    let mut production = pass.description.clone();
    if production.get(Key::Intent).is_none() {
        // As on the sheet: S and F are the same on both.
        production = production.with(&[(Key::Intent, "cautious")]);
    }
    let mut texts = texts.to_vec();
    if !texts.iter().any(|(ask, _)| *ask == Ask::Length) && !pass.pass.length.is_empty() {
        texts.push((Ask::Length, pass.pass.length.clone()));
    }
    RehearsalAsked { production, texts }
}

/// Rehearses every pass of a job; `texts` are the entries of the rehearsal, the same for all.
///
/// # Errors
/// What is wrong with these entries. What is wrong with a pass stands in its outcome.
pub fn rehearsed_job(
    worked: &Worked<'_>,
    texts: &[(Ask, String)],
    shelves: &impl Shelves,
) -> Result<RehearsedJob, Vec<EntryError>> {
    let pass = |pass: &WorkedPass<'_>| RehearsedPass {
        name: pass.pass.name.clone(),
        outcome: rehearsed(&of_pass(pass, texts), shelves),
    };
    let job = RehearsedJob {
        title: worked.job.name.clone(),
        passes: worked.passes.iter().map(pass).collect(),
    };
    let wrong = job.wrong_entries();
    if wrong.is_empty() {
        Ok(job)
    } else {
        Err(wrong)
    }
}

impl RehearsedJob {
    /// What each rung takes over all passes.
    pub fn times(&self) -> Vec<RungTime> {
        let time = |pass: &RehearsedPass, at: usize| {
            let r = pass.outcome.as_ref().ok()?;
            let setting = r.ladder.get(at)?.setting.as_ref().ok()?;
            Some(setting.time(r.length?).si())
        };
        let rungs = RungKind::ALL.into_iter().enumerate();
        rungs
            .map(|(at, kind)| {
                let times: Vec<f64> = self.passes.iter().filter_map(|p| time(p, at)).collect();
                RungTime {
                    kind,
                    time: Time::from_si(times.iter().sum::<f64>() + 0.0),
                    without: self.passes.len() - times.len(),
                }
            })
            .collect()
    }

    /// The rungs that no feed can cut.
    pub fn exceptions(&self) -> Vec<Exception<'_>> {
        let mut found = Vec::new();
        for (at, pass) in self.passes.iter().enumerate() {
            let Ok(r) = &pass.outcome else { continue };
            for rung in &r.ladder {
                if let Err(Blocked::NoFeed { least, most }) = rung.setting {
                    found.push(Exception {
                        number: at + 1,
                        pass: &pass.name,
                        kind: rung.kind,
                        least,
                        most,
                    });
                }
            }
        }
        found
    }

    /// Whether every pass could be worked out.
    pub fn complete(&self) -> bool {
        self.passes.iter().all(|p| p.outcome.is_ok())
    }

    /// What is wrong with the entries of the rehearsal themselves, which are the same for every
    /// pass: each once.
    fn wrong_entries(&self) -> Vec<EntryError> {
        let shared = |e: &&EntryError| {
            let of =
                |entry: &RehearsalEntry| entry.id != Ask::Length && e.field() == Some(entry.key);
            ENTRIES.iter().any(of)
        };
        let mut wrong: Vec<EntryError> = Vec::new();
        let errors = self.passes.iter().filter_map(|p| p.outcome.as_ref().err());
        for error in errors.flatten().filter(shared) {
            if !wrong.contains(error) {
                wrong.push(error.clone());
            }
        }
        wrong
    }

    /// What the job comes to: the worst of its passes; a pass that is not ready asks for care.
    pub fn verdict(&self) -> Verdict {
        let each = self.passes.iter().map(|pass| match &pass.outcome {
            Ok(r) => decision::verdict(r),
            Err(_) => Verdict::Care,
        });
        each.max().unwrap_or(Verdict::Run)
    }
}
