//! `feeds listen`: what a sound, a chip or a wall most likely comes from, on one pass.

use super::cut::{entries, typed};
use super::files::{Files, told};
use super::job::open;
use super::tables::all;
use crate::answer::{Answer, Failure};
use crate::arguments::{Example, Look, TEMPLATE, examples, shown};
use crate::job::description_of;
use crate::listen::{Heard, document, heard, text};
use crate::pass::answered::{Answered, answered};
use crate::pass::description::Description;
use crate::pass::resolve::Shelves;
use clap::{Arg, ArgMatches, Args, Command, FromArgMatches};
use feeds_core::error::{Cause, EntryError};
use feeds_core::plan::Planner;
use feeds_core::symbol::System;
use reference_tables::signs::Sign;
use std::path::PathBuf;

const EXAMPLES: &[Example] = examples! {
    "feeds listen" => "the signs there are, and what each mostly comes from";
    "feeds listen squeal --diameter 6mm --edges 4 --path side --depth 1mm --width 0.3mm \
        --stock 1018 --condition 'hot rolled' --machine bench-5000 --spindle 4400rpm \
        --feed-per-tooth 0.006mm" =>
        "it squeals: which of the causes fits the numbers of this pass?";
    "feeds job new demo.json --demo" => "a job to try it with";
    "feeds listen 'chatter marks' --job demo.json --pass pocket" =>
        "what ripples on the wall come from, in a pass of a job";
};

/// What `feeds listen` takes: a sign, and a pass as `feeds cut` takes it or from a job.
#[derive(Clone, Debug, Default)]
pub struct Flags {
    /// The sign, in one word or more.
    pub sign: Option<String>,
    /// The pass as typed.
    pub pass: Description,
    /// The job the pass is in.
    pub job: Option<PathBuf>,
    /// Which pass of it, by number or part of its name.
    pub of_job: Option<String>,
}

const OF_JOB: &str = "of-job";

impl Args for Flags {
    fn augment_args(command: Command) -> Command {
        let heading = "A pass of a job";
        let command = command
            .help_template(TEMPLATE)
            .before_help(shown(EXAMPLES))
            .arg(
                Arg::new("sign")
                    .value_name("SIGN")
                    .num_args(0..)
                    .help("What you hear or see, such as squeal; if left out, the list"),
            )
            .arg(
                Arg::new("job")
                    .long("job")
                    .value_name("FILE")
                    .value_parser(clap::value_parser!(PathBuf))
                    .requires(OF_JOB)
                    .help_heading(heading)
                    .help("The job the pass is in"),
            )
            .arg(
                Arg::new(OF_JOB)
                    .long("pass")
                    .value_name("PASS")
                    .requires("job")
                    .help_heading(heading)
                    .help("Which pass of it, by number or part of its name"),
            );
        entries(command)
    }

    fn augment_args_for_update(command: Command) -> Command {
        Self::augment_args(command)
    }
}

impl FromArgMatches for Flags {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, clap::Error> {
        let mut flags = Self::default();
        flags.update_from_arg_matches(matches)?;
        Ok(flags)
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), clap::Error> {
        let words = matches.get_many::<String>("sign");
        self.sign = words.map(|words| words.cloned().collect::<Vec<String>>().join(" "));
        self.pass = typed(matches);
        self.job = matches.get_one::<PathBuf>("job").cloned();
        self.of_job = matches.get_one::<String>(OF_JOB).cloned();
        Ok(())
    }
}

/// What the sign most likely is on the pass, or every sign.
///
/// A limit that is passed is what is listened for, so the exit code stays 0.
///
/// # Errors
/// When no sign is called that, and as [`super::cut::answer`].
pub fn answer(flags: &Flags, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let tables = all()?;
    let of_name = |name: &String| {
        let sign = tables.sign(name);
        sign.map_err(|e| {
            Failure::from(EntryError::because(Cause::Unknown, e.to_string()).of("sign"))
        })
    };
    let sign: Option<&Sign> = flags.sign.as_ref().map(of_name).transpose()?;
    let shop = files.shop()?;
    let Some(path) = &flags.job else {
        let answer = of_pass(sign, &flags.pass, &shop.content, look)?;
        return Ok(told(answer, &shop));
    };
    if !flags.pass.is_empty() {
        let text = "with --job, cutter, stock, path and the like come from the job: leave them \
            out here, or change them in the job";
        return Err(EntryError::because(Cause::Clash, text).into());
    }
    let file = open(path, files)?;
    let asked = flags.of_job.as_deref().unwrap_or_default();
    let at = file.content.position(asked)?;
    let shelves = file.content.planned(&shop.content);
    let (pass, _) = description_of(&file.content, at, &shelves);
    let answer = of_pass(sign, &pass, &shelves, look)?;
    Ok(told(told(answer, &file), &shop))
}

/// The sign, or all of them, on a pass; one that nothing is told of is none.
fn of_pass(
    sign: Option<&Sign>,
    pass: &Description,
    shelves: &impl Shelves,
    look: Look,
) -> Result<Answer, Failure> {
    let table = &all()?.signs;
    let mut planner = Planner::default();
    let answer: Option<Answered> = if pass.is_empty() {
        None
    } else {
        Some(answered(pass, shelves, &mut planner).map_err(Failure::Entries)?)
    };
    let on = answer.as_ref().map(|answer| (answer, Some(&planner)));
    // Scripts get the same texts whatever people read.
    let system = if look.json {
        System::Metric
    } else {
        look.system
    };
    let signs: Vec<&Sign> = match sign {
        Some(sign) => vec![sign],
        None => table.signs.iter().collect(),
    };
    let heard: Vec<Heard<'_>> = signs
        .into_iter()
        .map(|sign| heard(table, sign, on, system))
        .collect();
    if look.json {
        return Ok(Answer::json(&document::document(&heard))?);
    }
    Ok(Answer::plain(match (sign, &heard[..]) {
        (Some(_), [only]) => text::text(only, system),
        _ => text::list(&heard, system),
    }))
}
