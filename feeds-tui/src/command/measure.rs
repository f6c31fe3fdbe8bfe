//! `feeds measure`: cuts in scrap that narrow an answer most, and what came of them.

use super::files::{Files, told};
use super::job::open;
use crate::answer::{Answer, Failure};
use crate::arguments::{Example, Look, TEMPLATE, examples, shown};
use crate::clock;
use crate::job::{Worked, WorkedPass, answers, description_of};
use crate::own::Gain;
use crate::own::cards::{LENGTH, document, text};
use crate::own::list::{logged, one};
use crate::own::record::{Logged, as_logged, record};
use crate::own::trials::{MOST, TestCutsAsked, USUAL, plan};
use clap::{Args, Subcommand};
use feeds_core::error::{Cause, EntryError};
use feeds_core::limit::{Check, Harm};
use feeds_core::verdict::nearest;
use serde_json::json;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

const EXAMPLES: &[Example] = examples! {
    "feeds job new demo.json --demo" => "a job to try it with";
    "feeds measure plan demo.json pocket" =>
        "which cuts in scrap would say most of a pass, as cards";
    "feeds measure take 1 wall=0.009mm watts=40" => "cut 1 was made: what it gave";
};

/// What `feeds measure` takes.
#[derive(Args, Debug)]
#[command(
    help_template = TEMPLATE,
    before_help = shown(EXAMPLES),
    disable_help_subcommand = true,
    subcommand_help_heading = "What to do",
    arg_required_else_help = true,
)]
pub struct Flags {
    #[command(subcommand)]
    action: Option<Action>,
}

#[derive(Debug, Subcommand)]
enum Action {
    /// Choose cuts in scrap for a pass of a job, and keep their cards
    Plan {
        /// The job
        file: PathBuf,
        /// The pass, by number or part of its name; if left out, the one nearest to trouble
        pass: Option<String>,
        /// How many cuts, from 2 to 4
        #[arg(long, value_name = "COUNT", default_value_t = USUAL)]
        cuts: usize,
    },
    /// Take in what a cut gave
    Take {
        /// The number of its card
        card: u64,
        /// What you measured, such as wall=0.009mm; also entries of the cut, if not cut as planned
        #[arg(value_name = "ENTRY=VALUE")]
        entries: Vec<String>,
    },
}

/// Carries out what was asked.
///
/// # Errors
/// If the job or the shop cannot be read or saved, or an entry is wrong.
pub fn answer(flags: &Flags, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    match &flags.action {
        None => Err(
            EntryError::because(Cause::Wanting, "measure what? See feeds measure --help").into(),
        ),
        Some(Action::Plan { file, pass, cuts }) => {
            planned(file, pass.as_deref(), *cuts, look, files)
        }
        Some(Action::Take { card, entries }) => take(*card, entries, look, files),
    }
}

fn planned(
    path: &Path,
    asked: Option<&str>,
    cuts: usize,
    look: Look,
    files: &Files<'_>,
) -> Result<Answer, Failure> {
    if !(2..=MOST).contains(&cuts) {
        let text = format!("{cuts} is not a number of cuts: 2 to {MOST}");
        return Err(EntryError::because(Cause::Bound, text).of("--cuts").into());
    }
    let job = open(path, files)?;
    let mut shop = files.shop_to_change()?;
    shop.content.typed_in = files.system;
    shop.content.by_book = files.by_book;
    let now = shop.content.clone();
    let shelves = job.content.planned(&now);
    let at = match asked {
        Some(asked) => job.content.position(asked)?,
        None => hardest(&answers(&job.content, &shelves)).ok_or_else(|| {
            let text = "no pass of the job is ready: «feeds job show» says what is missing";
            EntryError::because(Cause::Wanting, text).of("pass")
        })?,
    };
    let (description, _) = description_of(&job.content, at, &shelves);
    let date = clock::today();
    let asked = TestCutsAsked {
        job: &job.content.name,
        pass: &job.content.passes[at].name,
        description: &description,
        most: cuts,
        system: look.system,
        date: &date,
    };
    let log: &[_] = if files.by_book { &[] } else { now.log.cuts() };
    let planned = plan(asked, log, &shelves).map_err(Failure::Entries)?;
    shop.content.test_cuts.cuts.clone_from(&planned.cuts);
    files.save(&mut shop)?;
    let answer = if look.json {
        Answer::json(&document(asked.pass, &planned))?
    } else {
        Answer::plain(text(asked.pass, &planned, look.system))
    };
    Ok(told(told(answer, &job), &shop))
}

/// The pass that is nearest to trouble.
fn hardest(job: &Worked<'_>) -> Option<usize> {
    let used = |pass: &WorkedPass<'_>| {
        let plan = &pass.outcome.as_ref().ok()?.plan;
        plan.loads.as_ref()?;
        let near = nearest(&plan.checks).into_iter();
        near.filter(|c| c.limit.harm < Harm::Book)
            .find_map(Check::used)
    };
    let all = job.passes.iter().enumerate();
    let used = all.filter_map(|(at, pass)| Some((at, used(pass)?)));
    used.max_by(|a, b| a.1.total_cmp(&b.1)).map(|(at, _)| at)
}

fn take(card: u64, entries: &[String], look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let mut shop = files.shop_to_change()?;
    shop.content.typed_in = files.system;
    let before = shop.content.clone();
    let cards = &before.test_cuts.cuts;
    let Some(of) = cards.iter().find(|c| c.cut.number == card) else {
        let numbers: Vec<String> = cards.iter().map(|c| c.cut.number.to_string()).collect();
        let text = if numbers.is_empty() {
            "no cuts are planned: «feeds measure plan JOB PASS» plans some".to_owned()
        } else {
            format!(
                "no card has the number {card}: there are {}",
                numbers.join(", ")
            )
        };
        return Err(EntryError::because(Cause::Unknown, text).of("card").into());
    };
    let mut description = of.cut.cut.clone();
    let entries: Vec<&str> = entries.iter().map(String::as_str).collect();
    let (seen, sure) = as_logged(&entries, &mut description).map_err(Failure::Entries)?;
    if seen.is_empty() {
        let words: Vec<String> = of
            .measure
            .iter()
            .map(|k| format!("{}=", k.word()))
            .collect();
        let text = format!("write what you measured: {}", words.join(" "));
        return Err(EntryError::because(Cause::Wanting, text).of("take").into());
    }
    let shelves = of.cut.on(&before);
    let row = Logged {
        job: &of.cut.job,
        pass: &of.cut.pass,
        description: &description,
        length: Some(LENGTH),
        seen,
        sure,
        date: clock::today(),
    };
    let row = record(row, &shelves).map_err(Failure::Entries)?;
    let number = shop.content.log.add(row);
    files.save(&mut shop)?;
    let gain = Gain::of(&of.wanted, &shelves, &of.cut.on(&shop.content));
    let log = &shop.content.log;
    let row = log.cuts().iter().find(|c| c.number == number);
    let answer = if look.json {
        let gain = gain.as_ref().map(Gain::document);
        Answer::json(&json!({ "logged": row.map(one), "gain": gain }))?
    } else {
        let mut out = row.map_or_else(String::new, |row| logged(log, row, look.system));
        if let Some(gain) = gain {
            let _ = writeln!(out, "  {}", gain.text(look.system));
        }
        Answer::plain(out)
    };
    Ok(told(answer, &shop))
}
