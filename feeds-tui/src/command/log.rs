//! `feeds log`: passes that were cut, and what was seen of them.

use super::files::{Files, told};
use super::job::open;
use super::sweep::write_new;
use crate::answer::{Answer, Failure};
use crate::arguments::{Example, Look, TEMPLATE, examples, shown};
use crate::clock;
use crate::job::description_of;
use crate::own::list::{csv, document, one, text};
use crate::own::record::{Logged, as_logged, record};
use crate::own::{EdgeSeen, Gain, SeenKey};
use crate::store::file::Document as _;
use crate::store::job::Job;
use crate::visible;
use clap::Args;
use feeds_core::error::{Cause, EntryError};
use serde_json::json;
use std::ffi::OsStr;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

const EXAMPLES: &[Example] = examples! {
    "feeds job new demo.json --demo" => "a job to try it with";
    "feeds log demo.json pocket sound=fine wall=0.012mm watts=85 edge=used" =>
        "a pass was cut: keep what you saw; from now on such cuts are answered for this shop";
    "feeds log pocket chip=yes minutes=4 feed=100mm/min" =>
        "the one job of this folder that has the pass; another feed than planned";
    "feeds log list" => "all cuts, how often the range held, and what each cutter has done";
    "feeds log back" => "take the last one back, or one by its number";
    "feeds log list --csv log.csv" => "the log for a spreadsheet";
};

/// What `feeds log` takes.
#[derive(Args, Debug)]
#[command(help_template = TEMPLATE, before_help = shown(EXAMPLES), after_help = keys())]
pub struct Flags {
    /// JOB PASS and what you saw, such as wall=0.012mm; or list; or back, and a number
    #[arg(value_name = "WORD")]
    pub words: Vec<String>,
    /// Write the log into a file for a spreadsheet
    #[arg(long, value_name = "FILE")]
    pub csv: Option<PathBuf>,
    /// Overwrite an existing file
    #[arg(long, requires = "csv")]
    pub force: bool,
}

/// The keys of what was seen, for help.
fn keys() -> String {
    let mut out = "What you saw; entries of the pass, such as feed=100mm/min, say how it was cut \
                   if not as planned:\n"
        .to_owned();
    for key in SeenKey::ALL {
        let _ = writeln!(out, "  {:8} {}", key.word(), key.says());
    }
    let _ = writeln!(
        out,
        "  sure     yes, where a reading far from what was expected is meant"
    );
    out
}

/// Carries out what was asked.
///
/// # Errors
/// If the shop or the job cannot be read or saved, the pass is not found, or an entry is wrong.
pub fn answer(flags: &Flags, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let words: Vec<&str> = flags.words.iter().map(String::as_str).collect();
    match &words[..] {
        [] | ["list"] => list(flags, look, files),
        _ if flags.csv.is_some() => {
            let text = "writes the list: use «feeds log list --csv FILE»";
            Err(EntryError::because(Cause::Idle, text).of("--csv").into())
        }
        ["back"] => back(None, look, files),
        ["back", number] => {
            let read = number.parse().map_err(|_| {
                let text = format!("«{number}» is not a number of «feeds log list», such as 3");
                EntryError::because(Cause::Form, text).of("back")
            });
            back(Some(read?), look, files)
        }
        words => add(words, look, files),
    }
}

fn list(flags: &Flags, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let shop = files.shop()?;
    let log = &shop.content.log;
    if let Some(path) = &flags.csv {
        let text = csv(log.cuts()).map_err(|e| EntryError::because(Cause::NoResult, e))?;
        write_new(files, path, visible::shown(&text).as_bytes(), flags.force)?;
    }
    let answer = if look.json {
        Answer::json(&document(log))?
    } else {
        Answer::plain(text(log, look.system))
    };
    Ok(told(answer, &shop))
}

fn back(number: Option<u64>, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let mut shop = files.shop_to_change()?;
    let taken = shop.content.log.take_back(number)?;
    files.save(&mut shop)?;
    let answer = if look.json {
        Answer::json(&json!({ "taken_back": one(&taken) }))?
    } else {
        let (number, pass) = (taken.number, &taken.pass);
        Answer::plain(format!(
            "taken back: {number}, {pass}, {}; answers are as if it had not been logged\n",
            taken.date
        ))
    };
    Ok(told(answer, &shop))
}

fn add(words: &[&str], look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let (entries, names): (Vec<&str>, Vec<&str>) = words.iter().partition(|w| w.contains('='));
    let (path, asked) = match names[..] {
        [job, pass] => (PathBuf::from(job), pass),
        [pass] => (only_job(pass, files)?, pass),
        _ => {
            let text = "say which pass: feeds log JOB PASS wall=0.012mm, such as feeds log \
                bolster.json pocket wall=0.012mm";
            return Err(EntryError::because(Cause::Wanting, text).of("pass").into());
        }
    };
    let job = open(&path, files)?;
    let at = job.content.position(asked)?;
    let mut shop = files.shop_to_change()?;
    shop.content.typed_in = files.system;
    let before = shop.content.clone();
    let shelves = job.content.planned(&before);
    let (mut description, _) = description_of(&job.content, at, &shelves);
    let seen = as_logged(&entries, &mut description).map_err(Failure::Entries)?;
    let logged = Logged::of(&job.content, at, &description, seen, clock::today());
    let cut = record(logged, &shelves).map_err(Failure::Entries)?;
    let number = shop.content.log.add(cut);
    files.save(&mut shop)?;
    let after = job.content.planned(&shop.content);
    let gain = Gain::of(&description, &shelves, &after);
    let log = &shop.content.log;
    let Some(cut) = log.cuts().iter().find(|c| c.number == number) else {
        return Ok(Answer::plain(String::new()));
    };
    let answer = if look.json {
        let gain = gain.as_ref().map(Gain::document);
        Answer::json(&json!({ "logged": one(cut), "gain": gain }))?
    } else {
        let mut out = crate::own::list::logged(log, cut, look.system);
        if let Some(gain) = gain {
            let worn = cut.seen.edge().filter(|edge| *edge != EdgeSeen::Fresh);
            let with = worn.map_or(
                "",
                |_| ", cut with that edge; say new=yes with a new cutter",
            );
            let _ = writeln!(out, "  {}{with}", gain.text(look.system));
        }
        Answer::plain(out)
    };
    Ok(told(told(answer, &job), &shop))
}

/// The one job of this folder that has the pass.
fn only_job(pass: &str, files: &Files<'_>) -> Result<PathBuf, Failure> {
    let here = std::fs::read_dir(".").into_iter().flatten().flatten();
    let is_json = |path: &PathBuf| path.extension() == Some(OsStr::new("json"));
    let mut paths: Vec<PathBuf> = here.map(|entry| entry.path()).filter(is_json).collect();
    paths.sort();
    let name = |path: &Path| path.file_name().map(PathBuf::from).unwrap_or_default();
    let has = |path: &PathBuf| {
        let bytes = files.disk.read(path).ok()?;
        let (job, _) = Job::read(std::str::from_utf8(&bytes).ok()?).ok()?;
        job.position(pass).ok()
    };
    let found: Vec<PathBuf> = paths
        .iter()
        .filter(|p| has(p).is_some())
        .map(|p| name(p))
        .collect();
    let said = |text: String| {
        let error = EntryError::because(Cause::Unknown, text).of("pass");
        Err(Failure::from(error))
    };
    match &found[..] {
        [one] => Ok(one.clone()),
        [] => said(format!(
            "no job in this folder has a pass «{pass}»: say which job, as in feeds log \
             bolster.json {pass} wall=0.012mm"
        )),
        several => {
            let names: Vec<String> = several.iter().map(|p| p.display().to_string()).collect();
            let names = names.join(", ");
            said(format!(
                "{names} all have a pass «{pass}»: say which job first"
            ))
        }
    }
}
