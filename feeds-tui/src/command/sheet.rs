//! `feeds sheet JOB`: the setup sheet to print.

use super::audit::cut_along;
use super::files::{Files, told};
use super::job::{document, exit, open};
use super::rehearse::source_of;
use crate::answer::{Answer, Failure};
use crate::arguments::{Example, Look, TEMPLATE, examples, shown};
use crate::audit::known::{Asked, known};
use crate::audit::shown::Shown;
use crate::job::{Worked, worked};
use crate::pass::answered::Answered;
use crate::pass::resolve::Shelves;
use crate::rehearse::asked::Ask;
use crate::rehearse::job::rehearsed_job;
use crate::sheet::cut::SheetCut;
use crate::sheet::{Sheet, html, plain, working};
use clap::Args;
use feeds_core::error::{Cause, EntryError};
use feeds_core::programme::{Report, Setting, Simulated, Unwatched};
use std::path::{Path, PathBuf};

const EXAMPLES: &[Example] = examples! {
    "feeds job new demo.json --demo" => "a job to try it with";
    "feeds sheet demo.json" => "as text, to read or to print";
    "feeds sheet demo.json --html > demo.html" =>
        "as a page with pictures, to be printed from any browser";
    "feeds sheet demo.json --html --working > working.html" =>
        "with the working of every pass behind it, each input linked to its source";
    "feeds sheet demo.json --stand-in 1018 --stand-in-condition 'hot rolled'" =>
        "with the steps of each pass, from an air pass on the stand-in up";
    "feeds sheet demo.json --programme demo --tool 1=pass=pocket --tool 2=pass=opened --tool \
        6=pass=face" =>
        "with the cut of the posted programme and the stock that is left";
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
    /// The programme posted for the job: the sheet then shows its cut, the strip of arc and force,
    /// and the stock that is left; demo stands for that of the example
    #[arg(long, value_name = "FILE", conflicts_with = "json")]
    pub programme: Option<PathBuf>,
    /// Its tools, as feeds audit takes them, such as 1=pass=pocket
    #[arg(long, value_name = "N=WHAT", requires = "programme")]
    pub tool: Vec<String>,
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
        sheet.cut = flags
            .programme
            .as_deref()
            .map(|path| cut(path, flags, &worked, &shelves, look))
            .transpose()?;
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

/// The cut along the programme that was posted for the job.
fn cut(
    path: &Path,
    flags: &Flags,
    worked: &Worked<'_>,
    shelves: &impl Shelves,
    look: Look,
) -> Result<SheetCut, Failure> {
    let asked = Asked {
        tools: &flags.tool,
        system: look.system,
        ..Asked::default()
    };
    let known = known(asked, Some(worked), shelves)?;
    let wrong = |cause, text: &str| EntryError::because(cause, text).of("--programme");
    let simulated = Simulated {
        views: true,
        ..Simulated::default()
    };
    if known.setting.stock.is_none() {
        let text = "needs the stock: give the job its stock-size and zero";
        return Err(wrong(Cause::Wanting, text).into());
    }
    let source = source_of(path)?;
    let cut = |setting: &Setting| -> Result<Report, Failure> {
        let setting = Setting {
            simulate: Some(simulated),
            ..setting.clone()
        };
        Ok(cut_along(&source, &setting, Unwatched, (look.watched, None))?.0)
    };
    let mut report = cut(&known.setting)?;
    if let Some(other) = known.of_no_tool(&report) {
        report = cut(&other.setting)?;
    }
    if let Some(reason) = &report.reason {
        let text = format!("{}: {reason}", path.display());
        return Err(wrong(Cause::NoResult, &text).into());
    }
    let name = path.display().to_string();
    SheetCut::of(&name, &report, Shown(look.system)).ok_or_else(|| {
        let text = "its stock is too large to be cut here: feeds audit --simulate takes a --cell";
        wrong(Cause::Bound, text).into()
    })
}
