//! `feeds sheet JOB`: the setup sheet to print.

use super::files::{Files, told};
use super::job::{document, exit, open};
use crate::answer::{Answer, Failure};
use crate::arguments::{Example, Look, TEMPLATE, examples, shown};
use crate::job::worked;
use crate::pass::answered::Answered;
use crate::rehearse::asked::Ask;
use crate::rehearse::job::rehearsed_job;
use crate::sheet::{Sheet, html, plain, working};
use clap::Args;
use std::path::PathBuf;

const EXAMPLES: &[Example] = examples! {
    "feeds job new demo.json --demo" => "a job to try it with";
    "feeds sheet demo.json" => "as text, to read or to print";
    "feeds sheet demo.json --html > demo.html" =>
        "as a page with pictures, to be printed from any browser";
    "feeds sheet demo.json --html --working > working.html" =>
        "with the working of every pass behind it, each input linked to where it is from";
    "feeds sheet demo.json --stand-in 1018 --stand-in-condition 'hot rolled'" =>
        "with the steps of each pass, from an air pass over the stand-in to production";
};

/// What `feeds sheet` takes.
#[derive(Args, Debug)]
#[command(help_template = TEMPLATE, before_help = shown(EXAMPLES))]
pub struct Flags {
    /// The job
    #[arg(value_name = "JOB")]
    pub job: PathBuf,
    /// As an HTML page with drawings
    #[arg(long, conflicts_with = "json")]
    pub html: bool,
    /// Add the steps up from a stand-in: the stock you cut first, such as 1018
    #[arg(long, value_name = "STOCK", conflicts_with = "json")]
    pub stand_in: Option<String>,
    /// The condition of that stock, such as 'hot rolled'
    #[arg(long, value_name = "TEXT", requires = "stand_in")]
    pub stand_in_condition: Option<String>,
    /// The range of the override dials, such as 50..150
    #[arg(long, value_name = "RANGE", requires = "stand_in")]
    pub override_range: Option<String>,
}

impl Flags {
    /// What is asked of the rehearsal, if a stand-in is named.
    fn rehearsal(&self) -> Option<Vec<(Ask, String)>> {
        self.stand_in.as_ref()?;
        let texts = [
            (Ask::StandIn, &self.stand_in),
            (Ask::StandInCondition, &self.stand_in_condition),
            (Ask::OverrideRange, &self.override_range),
        ];
        let given = texts
            .into_iter()
            .filter_map(|(ask, t)| Some((ask, t.clone()?)));
        Some(given.collect())
    }
}

/// The sheet of a job.
///
/// # Errors
/// If the job, the shop or the stand-in cannot be read.
pub fn answer(flags: &Flags, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let file = open(&flags.job, files)?;
    let shop = files.shop()?;
    let shelves = file.content.planned(&shop.content);
    let worked = worked(&file.content, &shelves);
    let answer = if look.json {
        Answer::json(&document(&worked, look))?
    } else {
        let mut sheet = Sheet::of(&worked, look.system);
        if let Some(texts) = flags.rehearsal() {
            let job = rehearsed_job(&worked, &texts, &shelves).map_err(Failure::Entries)?;
            sheet = sheet.with_ladders(&job, look.system);
        }
        let each = worked.passes.iter().zip(1..).filter(|_| look.working);
        let answers: Vec<(usize, &str, &Answered)> = each
            .filter_map(|(p, number)| {
                Some((number, p.pass.name.as_str(), p.outcome.as_ref().ok()?))
            })
            .collect();
        if flags.html {
            Answer::exact(html::text(&sheet, &working::html(&answers, look.system)))
        } else {
            let working = working::plain(&answers, look.system);
            Answer::plain(plain::text(&sheet) + &working)
        }
    };
    Ok(told(told(answer.ending(exit(&worked)), &file), &shop))
}
