//! `feeds rehearse`: a cautious run on a stand-in against production, and the climb between them.

use super::cut::{ALL, CHECKS, SOURCES, entries, shows, typed};
use super::files::{Files, told};
use super::job::open;
use crate::answer::{Answer, Exit, Failure};
use crate::arguments::{Example, Look, TEMPLATE, examples, shown};
use crate::audit::known::{Asked, AuditKnown, known};
use crate::audit::shown::Shown;
use crate::audit::source::{DEMO, ProgrammeSource};
use crate::job::worked;
use crate::object::with;
use crate::pass::resolve::Shelves;
use crate::pass::text::Show;
use crate::rehearse::answered::{Rehearsed, rehearsed};
use crate::rehearse::asked::{Ask, ENTRIES, RehearsalAsked};
use crate::rehearse::document::{document, job_document};
use crate::rehearse::job::{of_pass, rehearsed_job};
use crate::rehearse::programme::{NoRun, RunLines, along};
use crate::rehearse::text;
use clap::{Arg, ArgAction, ArgMatches, Args, Command, FromArgMatches};
use feeds_core::error::{Cause, EntryError};
use feeds_core::verdict::Verdict;
use std::path::{Path, PathBuf};

const EXAMPLES: &[Example] = examples! {
    "feeds rehearse --cutter '5 mm square, 3 edges' --stock '1095 with 15N20' --condition \
        annealed --machine bench-5000 --hold vise --direction up --path side --depth 1mm \
        --width 0.5mm --stand-in 1018 --stand-in-condition 'hot rolled' --feed-override 50%" =>
        "what does half the feed in mild steel prove of the layered billet?";
    "feeds rehearse --cutter '3 mm square, 4 edges, AlTiN carbide' --stock 440C --condition \
        annealed --machine bench-5000 --path slot --depth 0.3mm --spindle 5000rpm --feed \
        120mm/min --measured 0.004mm --length 400mm" =>
        "the wall on the stand-in was measured: what will production leave?";
    "feeds job new demo.json --demo" => "a job to try it with";
    "feeds rehearse --job demo.json --stand-in 1018 --stand-in-condition 'hot rolled'" =>
        "every pass of a job: what is proven, its ladder, and the minutes in all";
    "feeds rehearse --job demo.json --pass 'pin recess, opened' --feed-override 70%" =>
        "one pass of a job in full";
};

/// The flags for what is shown below the decision.
const SHOWS: [(&str, &str); 3] = [
    (
        CHECKS,
        "Show every check of both runs, the settings, and why",
    ),
    (SOURCES, "Show where the forces come from"),
    (ALL, "Show checks and sources"),
];

/// What `feeds rehearse` takes: the production pass as `feeds cut` takes it, and the stand-in.
#[derive(Clone, Debug, Default)]
pub struct Flags {
    /// What is asked.
    pub asked: RehearsalAsked,
    /// The job whose passes are rehearsed.
    pub job: Option<PathBuf>,
    /// What is shown below the decision.
    pub show: Show,
    /// The pass of it that is shown in full, by number or a part of its name.
    pub pass: Option<String>,
    /// The programme posted for the job, and the tools of it as the audit takes them.
    pub programme: Option<PathBuf>,
    /// Its tools.
    pub tools: Vec<String>,
}

impl Args for Flags {
    fn augment_args(command: Command) -> Command {
        let command = command.help_template(TEMPLATE).before_help(shown(EXAMPLES));
        let command = ENTRIES.iter().fold(command, |command, entry| {
            let help = format!("{}, such as {}", entry.name, entry.example);
            command.arg(
                Arg::new(entry.key)
                    .long(entry.key)
                    .value_name("TEXT")
                    .allow_hyphen_values(true)
                    .help_heading("Rehearsal")
                    .long_help(format!("{help}: {}", entry.why()))
                    .help(help),
            )
        });
        let command = command
            .arg(
                Arg::new("job")
                    .long("job")
                    .value_name("FILE")
                    .value_parser(clap::value_parser!(PathBuf))
                    .help_heading("Rehearsal")
                    .help("a job: every pass of it is rehearsed"),
            )
            .arg(
                Arg::new("pass")
                    .long("pass")
                    .value_name("PASS")
                    .requires("job")
                    .help_heading("Rehearsal")
                    .help("one pass of the job in full, by number or part of its name"),
            )
            .arg(
                Arg::new("programme")
                    .long("programme")
                    .value_name("FILE")
                    .requires("pass")
                    .value_parser(clap::value_parser!(PathBuf))
                    .help_heading("Rehearsal")
                    .help(
                        "the programme posted for the job: which of its lines this run really \
                         loads; demo stands for that of the example",
                    ),
            )
            .arg(
                Arg::new("tool")
                    .long("tool")
                    .value_name("N=WHAT")
                    .requires("programme")
                    .action(ArgAction::Append)
                    .help_heading("Rehearsal")
                    .help("its tools, as feeds audit takes them, such as 1=pass=pocket"),
            );
        entries(shows(command, &SHOWS))
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
        self.asked.production = typed(matches);
        let all = matches.get_flag(ALL);
        self.show.checks |= all || matches.get_flag(CHECKS);
        self.show.sources |= all || matches.get_flag(SOURCES);
        self.job = matches.get_one::<PathBuf>("job").cloned();
        self.pass = matches.get_one::<String>("pass").cloned();
        self.programme = matches.get_one::<PathBuf>("programme").cloned();
        let tools = matches.get_many::<String>("tool");
        self.tools = tools.into_iter().flatten().cloned().collect();
        for entry in ENTRIES {
            if let Some(text) = matches.get_one::<String>(entry.key) {
                self.asked.texts.push((entry.id, text.clone()));
            }
        }
        Ok(())
    }
}

/// The rehearsal.
///
/// # Errors
/// Every entry that is missing, cannot be read, or such that no cut can be so.
pub fn answer(flags: &Flags, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let shop = files.shop()?;
    let Some(path) = &flags.job else {
        let answer = one(&flags.asked, flags.show, &shop.content, look)?;
        return Ok(told(answer, &shop));
    };
    let alone = |text: &str| {
        Err(Failure::Entries(vec![EntryError::because(
            Cause::Clash,
            text,
        )]))
    };
    if !flags.asked.production.is_empty() {
        return alone(
            "with --job, cutter, stock, path and the like come from the job: leave them out \
             here, or change them in the job",
        );
    }
    let file = open(path, files)?;
    let shelves = file.content.planned(&shop.content);
    let worked = worked(&file.content, &shelves);
    let answer = if let Some(pass) = &flags.pass {
        let at = file
            .content
            .position(pass)
            .map_err(|e| Failure::Entries(vec![e]))?;
        let asked = of_pass(&worked.passes[at], &flags.asked.texts);
        let rehearsed = rehearsed(&asked, &shelves).map_err(Failure::Entries)?;
        let lines = flags.programme.as_deref().map(|path| {
            let asked = Asked {
                tools: &flags.tools,
                system: look.system,
                ..Asked::default()
            };
            let known = known(asked, Some(&worked), &shelves)?;
            run_lines(path, &known, at, &rehearsed)
        });
        of_one(&rehearsed, flags.show, look, lines.transpose()?.as_ref())?
    } else if let Some(ask) = [Ask::Measured, Ask::Length]
        .into_iter()
        .find(|ask| flags.asked.get(*ask).is_some())
    {
        return alone(&format!(
            "{} is of one pass: name it with --pass, such as --pass 1",
            ask.text()
        ));
    } else {
        let job = rehearsed_job(&worked, &flags.asked.texts, &shelves).map_err(Failure::Entries)?;
        let answer = if look.json {
            Answer::json(&job_document(&job, look.working))?
        } else {
            Answer::plain(text::job(&job, look.system))
        };
        answer.ending(exit(job.verdict() == Verdict::Stop || !job.complete()))
    };
    Ok(told(told(answer, &file), &shop))
}

/// One pass in full.
fn one(
    asked: &RehearsalAsked,
    show: Show,
    shelves: &impl Shelves,
    look: Look,
) -> Result<Answer, Failure> {
    let rehearsed = rehearsed(asked, shelves).map_err(Failure::Entries)?;
    of_one(&rehearsed, show, look, None)
}

/// A rehearsal in full, and the lines of the programme where one was given.
fn of_one(
    rehearsed: &Rehearsed,
    show: Show,
    look: Look,
    lines: Option<&(String, RunLines)>,
) -> Result<Answer, Failure> {
    let answer = if look.json {
        let programme = lines.map(|(_, lines)| lines.document());
        let document = document(rehearsed, look.working);
        Answer::json(&with(document, [("programme", programme)]))?
    } else {
        let show = Show {
            working: look.working,
            ..show
        };
        let along = lines.map_or_else(String::new, |(name, lines)| {
            lines.text(name, Shown(look.system))
        });
        Answer::plain(text::text(rehearsed, show, look.system) + &along)
    };
    Ok(answer.ending(exit(rehearsed.stops())))
}

/// The lines of the programme in both runs, and what it is called.
fn run_lines(
    path: &Path,
    known: &AuditKnown,
    at: usize,
    rehearsed: &Rehearsed,
) -> Result<(String, RunLines), Failure> {
    let source = source_of(path)?;
    let none = |text: String| {
        Err(EntryError::because(Cause::NoResult, text)
            .of("--programme")
            .into())
    };
    match along(&source, known, at, rehearsed) {
        Ok(lines) => Ok((path.display().to_string(), lines)),
        Err(NoRun::File(error)) => Err(Failure::File {
            path: path.to_owned(),
            error,
        }),
        Err(NoRun::Refused(refusal)) => none(refusal.to_string()),
        Err(NoRun::Nothing(why)) => none(why.to_owned()),
    }
}

/// The programme of a name, or that of the example.
pub(super) fn source_of(path: &Path) -> Result<ProgrammeSource, Failure> {
    if path == Path::new(EXAMPLE) {
        return Ok(ProgrammeSource::Bytes(DEMO.to_vec()));
    }
    ProgrammeSource::named(path).map_err(|error| Failure::File {
        path: path.to_owned(),
        error,
    })
}

/// The name that stands for the programme of the example.
const EXAMPLE: &str = "demo";

fn exit(over: bool) -> Exit {
    if over { Exit::Over } else { Exit::Fine }
}
