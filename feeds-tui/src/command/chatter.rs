//! `feeds chatter`: the depth of a pass that stays quiet, and speeds that take more.

use super::cut::{entries, typed};
use super::files::{Files, told};
use super::job::open;
use super::sweep::{title, write_new};
use super::tables::all;
use crate::answer::{Answer, Exit, Failure};
use crate::arguments::{Example, Look, TEMPLATE, examples, shown};
use crate::chatter::{Quiet, document, modes, svg, text, with_modes};
use crate::job::description_of;
use crate::listen::tap;
use crate::pass::answered::answered;
use crate::pass::description::Description;
use crate::pass::resolve::Shelves;
use crate::visible;
use clap::{Arg, ArgAction, ArgMatches, Args, Command, FromArgMatches};
use feeds_core::entry as e;
use feeds_core::error::{Cause, EntryError};
use feeds_core::notebook::Silent;
use feeds_core::plan::Planner;
use feeds_core::quantity::{Quantity, Stiffness};
use std::path::PathBuf;

const EXAMPLES: &[Example] = examples! {
    "feeds chatter --diameter 6mm --edges 4 --path side --depth 3mm --width 0.5mm --stock 1045 \
        --condition annealed --machine bench-5000 --spindle 4400rpm --modes '6N/um 0.03 720Hz'" =>
        "modes that were measured: how deep does it stay quiet, and at which speed deeper?";
    "feeds job new demo.json --demo" => "a job to try it with";
    "feeds chatter --job demo.json --pass pocket" =>
        "modes guessed from the cutter as a beam: a wide range, and weak";
};

/// What `feeds chatter` takes: a pass as `feeds cut` takes it or from a job, and a tap.
#[derive(Clone, Debug, Default)]
pub struct Flags {
    /// The pass as typed.
    pub pass: Description,
    /// The job the pass is in.
    pub job: Option<PathBuf>,
    /// Which pass of it, by number or part of its name.
    pub of_job: Option<String>,
    /// A recording of a tap.
    pub tap: Option<PathBuf>,
    /// Stiffness of the tapped mode.
    pub stiffness: Option<String>,
    /// Where the picture goes.
    pub svg: Option<PathBuf>,
    /// Overwrite it.
    pub force: bool,
}

const OF_JOB: &str = "of-job";
const TAP_STIFFNESS: &str = "tap-stiffness";

impl Args for Flags {
    fn augment_args(command: Command) -> Command {
        let path = |id: &'static str| {
            Arg::new(id)
                .long(id)
                .value_name("FILE")
                .value_parser(clap::value_parser!(PathBuf))
        };
        let (job, tapped) = ("A pass of a job", "A tap of the cutter");
        let command = command
            .help_template(TEMPLATE)
            .before_help(shown(EXAMPLES))
            .arg(
                path("job")
                    .requires(OF_JOB)
                    .help_heading(job)
                    .help("The job the pass is in"),
            )
            .arg(
                Arg::new(OF_JOB)
                    .long("pass")
                    .value_name("PASS")
                    .requires("job")
                    .help_heading(job)
                    .help("Which pass of it, by number or part of its name"),
            )
            .arg(
                path("tap")
                    .help_heading(tapped)
                    .help("A WAV file of one tap: frequency and damping"),
            )
            .arg(
                Arg::new(TAP_STIFFNESS)
                    .long(TAP_STIFFNESS)
                    .value_name("TEXT")
                    .requires("tap")
                    .help_heading(tapped)
                    .help("Stiffness of the tip; if left out, of the cutter as a beam"),
            )
            .arg(path("svg").help("Draw the lobes into a file"))
            .arg(
                Arg::new("force")
                    .long("force")
                    .requires("svg")
                    .action(ArgAction::SetTrue)
                    .help("Overwrite an existing file"),
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
        let path = |id: &str| matches.get_one::<PathBuf>(id).cloned();
        self.pass = typed(matches);
        self.job = path("job");
        self.of_job = matches.get_one::<String>(OF_JOB).cloned();
        self.tap = path("tap");
        self.stiffness = matches.get_one::<String>(TAP_STIFFNESS).cloned();
        self.svg = path("svg");
        self.force = matches.get_flag("force");
        Ok(())
    }
}

/// The depth that stays quiet at the speed of the pass, and better speeds.
///
/// # Errors
/// As [`super::cut::answer`], and where the tap cannot be read or the picture written.
pub fn answer(flags: &Flags, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let shop = files.shop()?;
    let Some(path) = &flags.job else {
        let answer = of_pass(flags, &flags.pass, &shop.content, look, files)?;
        return Ok(told(answer, &shop));
    };
    if !flags.pass.is_empty() {
        let text = "with --job, cutter, stock, path and the like come from the job: leave them \
            out here, or change them in the job";
        return Err(EntryError::because(Cause::Clash, text).into());
    }
    let file = open(path, files)?;
    let at = file
        .content
        .position(flags.of_job.as_deref().unwrap_or_default())?;
    let shelves = file.content.planned(&shop.content);
    let (pass, _) = description_of(&file.content, at, &shelves);
    let answer = of_pass(flags, &pass, &shelves, look, files)?;
    Ok(told(told(answer, &file), &shop))
}

fn of_pass(
    flags: &Flags,
    pass: &Description,
    shelves: &impl Shelves,
    look: Look,
    files: &Files<'_>,
) -> Result<Answer, Failure> {
    let mut planner = Planner::default();
    let answer = answered(pass, shelves, &mut planner).map_err(Failure::Entries)?;
    let tap = flags.tap.as_ref().map(|path| {
        let file = std::fs::File::open(path).map_err(|error| Failure::File {
            path: path.clone(),
            error,
        })?;
        tap::read(file).map_err(Failure::from)
    });
    let tap = tap.transpose()?;
    let stiffness = flags.stiffness.as_ref().map(|text| {
        let row = e::K_MODE.row();
        let read = row.range.read(text, row.why);
        read.map(Stiffness::from_si)
            .map_err(|e| e.of(TAP_STIFFNESS))
    });
    let from = modes(
        &answer.resolved.setup,
        all()?,
        tap.as_ref(),
        stiffness.transpose()?,
    );
    let setup = from.map(|modes| with_modes(&answer, modes));
    let quiet = setup.and_then(|setup| {
        let plan = planner.work_out(&setup, &mut Silent).ok()?;
        Quiet::of(&planner, &setup, &plan, tap)
    });
    let Some(quiet) = quiet else {
        let text = "chatter is not known without a cutting force: name the stock and its \
            condition, or give --ktc and its companions";
        return Err(EntryError::because(Cause::Wanting, text).of("stock").into());
    };
    let mut drawn = Vec::new();
    if let Some(path) = &flags.svg {
        let picture = svg::svg(&title(pass), &quiet, look.system);
        let picture = visible::shown(&picture).into_owned();
        write_new(files, path, picture.as_bytes(), flags.force)?;
        drawn.push(format!("the lobes are drawn in {}", path.display()));
    }
    let exit = if quiet.stops() {
        Exit::Over
    } else {
        Exit::Fine
    };
    let said = if look.json {
        Answer::json(&document::document(&quiet))?
    } else {
        Answer::plain(text::text(&quiet, look.system))
    };
    Ok(said.telling(drawn).ending(exit))
}
