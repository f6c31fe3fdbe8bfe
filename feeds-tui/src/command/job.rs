//! `feeds job`: the passes of a fitting, in order.

mod take;

use super::files::{Files, told};
use super::pairs::pairs;
use crate::answer::{Answer, Exit, Failure};
use crate::arguments::{Example, Look, TEMPLATE, examples, shown};
use crate::job::{Worked, WorkedPass, answers, sure_answers};
use crate::pass::alias::meant;
use crate::pass::decision;
use crate::pass::description::Description;
use crate::pass::document::Beside;
use crate::pass::part;
use crate::pass::text::line;
use crate::store::file::Opened;
use crate::store::job::{Job, Pass, Take};
use crate::store::schema;
use crate::store::shop::Shop;
use clap::{Args, Subcommand};
use feeds_core::error::{Cause, EntryError};
use feeds_core::quantity::Quantity;
use feeds_core::symbol as s;
use serde_json::{Value, json};
use std::io;
use std::path::{Path, PathBuf};

const EXAMPLES: &[Example] = examples! {
    "feeds job new bolster.json 'bolster in 1095' stock=1095 condition=annealed \
        machine=bench-5000 hold=vise grip=4mm height=3mm" =>
        "begin a job; these entries are those of every pass";
    "feeds job add bolster.json 'relief pocket' cutter='5 mm square, 3 edges' stick-out=14mm \
        path=pocket depth=1mm engagement-angle=50deg entry=helix length=1900mm" =>
        "put a pass at the end";
    "feeds job add bolster.json 'pocket corners' cutter='2 mm square, 3 edges' stick-out=8mm \
        path=side depth=0.3mm width=0.1mm corner=yes length=60mm" =>
        "a smaller cutter: what the larger one left is found by itself";
    "feeds job change bolster.json corners depth=0.25mm note='blow the chips out'" =>
        "a pass by its number, or a part of its name";
    "feeds job copy bolster.json 2 'pocket corners, again' --to 3" => "the same once more";
    "feeds job move bolster.json again 2" => "another order";
    "feeds job remove bolster.json again" => "take a pass out";
    "feeds job show bolster.json" => "all passes, cut time and cutter changes";
};

/// What `feeds job` takes.
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
    /// Begin a job
    New {
        /// Its file, which must not exist yet
        file: PathBuf,
        /// What you make
        #[arg(required_unless_present = "demo", default_value = "")]
        name: String,
        /// Entries of every pass, such as stock=1095
        #[arg(value_name = "ENTRY=VALUE")]
        entries: Vec<String>,
        /// Begin with the seven passes of the example instead
        #[arg(long)]
        demo: bool,
    },
    /// Show the passes with their answers, and the totals
    Show {
        /// The job
        file: PathBuf,
    },
    /// Put a new pass at the end
    Add {
        /// The job
        file: PathBuf,
        /// What the pass makes
        name: String,
        /// Entries, such as depth=1mm; also length, follows, note and happened
        #[arg(value_name = "ENTRY=VALUE")]
        entries: Vec<String>,
    },
    /// Change entries of a pass; an empty value clears one
    Change {
        /// The job
        file: PathBuf,
        /// Its number, or its name or part of it; `common` for the entries of every pass
        pass: String,
        /// Entries, such as depth=1mm; also name, length, follows, note and happened
        #[arg(value_name = "ENTRY=VALUE", required = true)]
        entries: Vec<String>,
    },
    /// Put a copy of a pass behind it
    Copy {
        /// The job
        file: PathBuf,
        /// Its number, or its name or part of it
        pass: String,
        /// The name of the copy
        name: String,
        /// Its place in the order
        #[arg(long, value_name = "PLACE")]
        to: Option<usize>,
    },
    /// Move a pass to another place in the order
    Move {
        /// The job
        file: PathBuf,
        /// Its number, or its name or part of it
        pass: String,
        /// Its new place, from 1
        #[arg(value_name = "PLACE")]
        to: usize,
    },
    /// Take a pass out
    Remove {
        /// The job
        file: PathBuf,
        /// Its number, or its name or part of it
        pass: String,
    },
    /// Say which a job takes where a thing of the shop has changed or is off its shelf
    Take {
        /// The job
        file: PathBuf,
        /// The thing, by its whole name
        name: String,
        /// As it was when the job was planned, or as it is now
        which: Take,
    },
    /// Print the JSON Schema of a job file
    Schema,
}

/// Carries out what was asked.
///
/// # Errors
/// If the job cannot be read or saved, or a name or an entry is wrong.
pub fn answer(flags: &Flags, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let Some(action) = &flags.action else {
        return Err(EntryError::because(
            Cause::Wanting,
            "do what with the job? See feeds job --help",
        )
        .into());
    };
    match action {
        Action::New {
            file,
            name,
            entries,
            demo,
        } => new(file, name, entries, *demo, look, files),
        Action::Show { file } => shown_of(file, look, files),
        Action::Add {
            file,
            name,
            entries,
        } => edit(file, look, files, |job| {
            let mut pass = Pass::new(name, Description::default());
            set(&mut pass, entries, &files.shop()?.content)?;
            job.passes.push(pass);
            Ok(())
        }),
        Action::Change {
            file,
            pass,
            entries,
        } => edit(file, look, files, |job| {
            change(job, pass, entries, &files.shop()?.content)
        }),
        Action::Copy {
            file,
            pass,
            name,
            to,
        } => edit(file, look, files, |job| {
            let at = job.position(pass)?;
            let to = to.map_or(Ok(at + 1), |to| place(to, job.passes.len() + 1))?;
            let mut order: Vec<usize> = (0..job.passes.len()).collect();
            order.insert(to, at);
            job.arrange(&order);
            let copy = &mut job.passes[to];
            name.trim().clone_into(&mut copy.name);
            copy.happened.clear();
            Ok(())
        }),
        Action::Move { file, pass, to } => edit(file, look, files, |job| {
            let at = job.position(pass)?;
            let to = place(*to, job.passes.len())?;
            let mut order: Vec<usize> = (0..job.passes.len()).collect();
            let moved = order.remove(at);
            order.insert(to, moved);
            job.arrange(&order);
            Ok(())
        }),
        Action::Remove { file, pass } => edit(file, look, files, |job| {
            let at = job.position(pass)?;
            let order: Vec<usize> = (0..job.passes.len()).filter(|&p| p != at).collect();
            job.arrange(&order);
            Ok(())
        }),
        Action::Take { file, name, which } => edit(file, look, files, |job| {
            let shelf = take::called(job, name)?;
            Ok(job.take(shelf, name, *which, &files.shop()?.content)?)
        }),
        Action::Schema => Ok(Answer::document(&schema::job())?),
    }
}

/// A place in the order, counted from 1; gives it counted from 0.
fn place(asked: usize, most: usize) -> Result<usize, EntryError> {
    if (1..=most).contains(&asked) {
        Ok(asked - 1)
    } else {
        let sentence = format!("{asked} is not a place in the order: 1 to {most}");
        Err(EntryError::because(Cause::Bound, sentence).of("place"))
    }
}

/// Opens a job.
pub(super) fn open(path: &Path, files: &Files<'_>) -> Result<Opened<Job>, Failure> {
    Opened::open(files.disk, path).map_err(|failure| begun(path, failure.into()))
}

fn set(pass: &mut Pass, entries: &[String], shop: &Shop) -> Result<(), Failure> {
    let parted = pairs(entries, "depth=1mm");
    let mut set = |(key, text): (&str, &str)| pass.set(key, &part::whole_name(key, text, shop)?);
    all(parted.map(|p| p.and_then(&mut set)))
}

/// The same for the entries of every pass.
fn set_all(job: &mut Job, entries: &[String], shop: &Shop) -> Result<(), Failure> {
    let parted = pairs(entries, "stock=1095");
    let mut set =
        |(key, text): (&str, &str)| set_common(job, key, &part::whole_name(key, text, shop)?);
    all(parted.map(|p| p.and_then(&mut set)))
}

/// Every error of some entries.
fn all(set: impl Iterator<Item = Result<(), EntryError>>) -> Result<(), Failure> {
    let errors: Vec<EntryError> = set.filter_map(Result::err).collect();
    if errors.is_empty() {
        Ok(())
    } else {
        Err(Failure::Entries(errors))
    }
}

fn change(job: &mut Job, asked: &str, entries: &[String], shop: &Shop) -> Result<(), Failure> {
    if asked.eq_ignore_ascii_case("common") {
        return set_all(job, entries, shop);
    }
    let at = job.position(asked)?;
    set(&mut job.passes[at], entries, shop)
}

fn set_common(job: &mut Job, key: &str, text: &str) -> Result<(), EntryError> {
    match key {
        "name" => text.trim().clone_into(&mut job.name),
        "note" => text.trim().clone_into(&mut job.note),
        _ => {
            if let (Some(field), false) = (crate::pass::field::field(key), text.trim().is_empty()) {
                field.read(&meant(key, text))?;
            }
            job.common.set(key, text)?;
        }
    }
    Ok(())
}

fn new(
    path: &Path,
    name: &str,
    entries: &[String],
    demo: bool,
    look: Look,
    files: &Files<'_>,
) -> Result<Answer, Failure> {
    let mut job = if demo {
        Job::demo()
    } else {
        Job::new(name, Description::default())
    };
    set_all(&mut job, entries, &files.shop()?.content)?;
    if path.exists() {
        let text = "exists already and is not overwritten: choose another name, or change it \
            with feeds job add and feeds job change";
        return Err(Failure::File {
            path: path.to_owned(),
            error: io::Error::new(io::ErrorKind::AlreadyExists, text),
        });
    }
    job.keep(&files.shop()?.content);
    let mut file = Opened::new(path, job);
    files.save(&mut file)?;
    show(&file, look, files)
}

fn edit(
    path: &Path,
    look: Look,
    files: &Files<'_>,
    edit: impl FnOnce(&mut Job) -> Result<(), Failure>,
) -> Result<Answer, Failure> {
    let mut file = open(path, files)?;
    edit(&mut file.content)?;
    file.content.keep(&files.shop()?.content);
    files.save(&mut file)?;
    // What was asked for is done; whether a check is over is told by `show` and `sheet`.
    Ok(show(&file, look, files)?.ending(Exit::Fine))
}

/// The passes of a job with their answers, and the totals.
///
/// # Errors
/// If the job or the shop cannot be read.
pub fn shown_of(path: &Path, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let file = open(path, files)?;
    show(&file, look, files)
}

/// Says how to begin a job that is not there yet.
fn begun(path: &Path, failure: Failure) -> Failure {
    match failure {
        Failure::File { error, .. } if error.kind() == io::ErrorKind::NotFound => {
            let name = path.display();
            let text = format!(
                "there is no such job yet: begin it with «feeds job new {name} NAME», or in a \
                 terminal with «feeds --job {name}»"
            );
            let error = io::Error::new(io::ErrorKind::NotFound, text);
            Failure::File {
                path: path.to_owned(),
                error,
            }
        }
        other => other,
    }
}

fn show(file: &Opened<Job>, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let shop = files.shop()?;
    let shelves = file.content.planned(&shop.content);
    // A line of a pass says nothing of its likely range, and nothing here of its overrides.
    let (worked, answer) = if look.json {
        let worked = sure_answers(&file.content, &shelves);
        let answer = Answer::json(&document(&worked, look))?;
        (worked, answer)
    } else {
        let worked = answers(&file.content, &shelves);
        let changes = take::changes(&worked, &shelves);
        let text = text(&worked, look) + &take::which(&file.path, &changes);
        (worked, Answer::plain(text))
    };
    Ok(told(told(answer.ending(exit(&worked)), file), &shop))
}

/// The exit code of a job with its answers.
pub(super) fn exit(worked: &Worked<'_>) -> Exit {
    if !worked.complete() {
        Exit::Unreadable
    } else if worked.stops() {
        Exit::Over
    } else {
        Exit::Fine
    }
}

fn text(worked: &Worked<'_>, look: Look) -> String {
    let mut out = format!("{}\n", worked.job.name);
    let common: Vec<String> = worked
        .job
        .common
        .iter()
        .map(|(field, text)| format!("{} {text}", field.key))
        .collect();
    if !common.is_empty() {
        line(&mut out, "  ", &common.join(", "));
    }
    for (at, pass) in worked.passes.iter().enumerate() {
        let head = format!("{:>3} {}: ", at + 1, pass.pass.name);
        let rest = match &pass.outcome {
            Err(errors) => {
                let errors: Vec<String> = errors.iter().map(ToString::to_string).collect();
                format!("NOT READY  {}", errors.join("; "))
            }
            Ok(answer) => {
                let p = &answer.plan;
                let mut parts = vec![decision::settings(p, look.system)];
                parts.extend(pass.time.map(|t| s::T_CUT.show(t.si(), look.system)));
                parts.push(worked.head(at, p, look.system));
                parts.extend(worked.advised(at, look.system));
                parts.extend(worked.left_over(at, look.system));
                parts.extend(worked.slot_left(at, look.system));
                parts.join(", ")
            }
        };
        line(&mut out, &head, &rest);
    }
    line(&mut out, "", &worked.totals(look.system));
    out
}

/// A job with its answers, as scripts read it.
pub(super) fn document(worked: &Worked<'_>, look: Look) -> Value {
    let pass = |pass: &WorkedPass<'_>| {
        let errors = pass.outcome.as_ref().err().into_iter().flatten();
        let answer = pass.outcome.as_ref().ok();
        json!({
            "pass": pass.pass.name,
            "left_by": pass.left_by.map(|at| at + 1),
            "changes_cutter": pass.changes_cutter,
            "time": pass.time.map(|t| s::T_CUT.amount(t.si())),
            "note": pass.pass.note,
            "happened": pass.pass.happened,
            "ready": pass.outcome.is_ok(),
            "answer": answer.map(|a| a.document(Beside::working(look.working))),
            "errors": errors.map(ToString::to_string).collect::<Vec<_>>(),
        })
    };
    json!({
        "job": worked.job.name,
        "cut_time": s::T_CUT.amount(worked.time().si()),
        "passes_without_time": worked.untimed(),
        "cutter_changes": worked.cutter_changes(),
        "passes": worked.passes.iter().map(pass).collect::<Vec<_>>(),
    })
}
