//! `feeds listen`: what a sound, a chip or a wall most likely comes from, on one pass.

use super::cut::{entries, typed};
use super::files::{Files, told};
use super::job::open;
use super::tables::all;
use crate::answer::{Answer, Failure};
use crate::arguments::{Example, Look, TEMPLATE, examples, shown};
use crate::job::description_of;
use crate::listen::tone::{self, Meanwhile, SpindleAtWork};
use crate::listen::{Heard, document, heard, recording, text};
use crate::pass::answered::{Answered, answered};
use crate::pass::description::Description;
use crate::pass::field::Key;
use crate::pass::resolve::Shelves;
use clap::{Arg, ArgMatches, Args, Command, FromArgMatches};
use feeds_core::error::{Cause, EntryError};
use feeds_core::plan::Planner;
use feeds_core::plan::chatter::Lobes;
use feeds_core::plan::loads::LoadModel;
use feeds_core::quantity::read::read;
use feeds_core::quantity::{Frequency, Quantity, SpindleSpeed};
use feeds_core::symbol::System;
use reference_tables::signs::Sign;
use std::path::PathBuf;

const EXAMPLES: &[Example] = examples! {
    "feeds listen" => "what you may hear or see, and what each mostly comes from";
    "feeds listen squeal --diameter 6mm --edges 4 --path side --depth 1mm --width 0.3mm \
        --stock 1018 --condition 'hot rolled' --machine bench-5000 --spindle 4400rpm \
        --feed-per-tooth 0.006mm" =>
        "it squeals: which of the causes fits the numbers of this pass?";
    "feeds job new demo.json --demo" => "a job to try it with";
    "feeds listen 'chatter marks' --job demo.json --pass pocket" =>
        "what ripples on the wall come from, in a pass of a job";
    "feeds listen --tone 1252Hz --spindle 5000rpm --edges 4" =>
        "a tone read off a phone: is it the teeth, or chatter?";
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
    /// A tone that was heard.
    pub tone: Option<String>,
    /// A recording of the cut.
    pub recording: Option<PathBuf>,
}

const OF_JOB: &str = "of-job";
const TONE: &str = "A tone, with the pass or with --spindle and --edges";

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
            )
            .arg(
                Arg::new("tone")
                    .long("tone")
                    .value_name("HZ")
                    .conflicts_with_all(["sign", "recording"])
                    .help_heading(TONE)
                    .help("A tone you hear, such as 1252Hz: the teeth, runout or chatter"),
            )
            .arg(
                Arg::new("recording")
                    .long("recording")
                    .value_name("FILE")
                    .value_parser(clap::value_parser!(PathBuf))
                    .conflicts_with("sign")
                    .help_heading(TONE)
                    .help("A WAV file of the cut: its tones are judged"),
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
        self.tone = matches.get_one::<String>("tone").cloned();
        self.recording = matches.get_one::<PathBuf>("recording").cloned();
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
    let heard = flags.tone.is_some() || flags.recording.is_some();
    let Some(path) = &flags.job else {
        let answer = if heard {
            of_tones(flags, &flags.pass, &shop.content, look)?
        } else {
            of_pass(sign, &flags.pass, &shop.content, look)?
        };
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
    let answer = if heard {
        of_tones(flags, &pass, &shelves, look)?
    } else {
        of_pass(sign, &pass, &shelves, look)?
    };
    Ok(told(told(answer, &file), &shop))
}

/// What a tone, or those of a recording, come from.
fn of_tones(
    flags: &Flags,
    pass: &Description,
    shelves: &impl Shelves,
    look: Look,
) -> Result<Answer, Failure> {
    let turning = turning(pass, shelves)?;
    let recording = flags.recording.as_ref().map(|path| {
        let file = std::fs::File::open(path).map_err(|error| Failure::File {
            path: path.clone(),
            error,
        })?;
        recording::read(file).map_err(Failure::from)
    });
    let recording = recording.transpose()?;
    let (tones, heard_to) = match (&flags.tone, &recording) {
        (Some(text), _) => {
            let tone = read::<Frequency>(text).map_err(|e| e.of("tone"))?;
            let hertz = tone.value.si();
            if !(20.0..=20e3).contains(&hertz) {
                let text = format!("{text} is not a tone that can be heard: 20 Hz to 20 kHz");
                return Err(EntryError::because(Cause::Bound, text).of("tone").into());
            }
            (vec![(hertz, 1.0)], 0.0)
        }
        (None, Some(recording)) => (recording.tones.clone(), recording.resolution),
        (None, None) => (Vec::new(), 0.0),
    };
    let judged = tone::judged(&tones, heard_to, &turning);
    if look.json {
        let document = tone::document(&judged, &turning, recording.as_ref());
        return Ok(Answer::json(&document)?);
    }
    let text = tone::text(&judged, &turning, recording.as_ref(), look.system);
    Ok(Answer::plain(text))
}

/// What turns: of the whole pass, or of its spindle speed and flutes alone.
fn turning(pass: &Description, shelves: &impl Shelves) -> Result<SpindleAtWork, Failure> {
    let mut planner = Planner::default();
    let wrong = match answered(pass, shelves, &mut planner) {
        Ok(answer) => {
            let setup = &answer.resolved.setup;
            return Ok(SpindleAtWork {
                n: answer.plan.n,
                z: setup.cutter.edges,
                range: setup.machine.as_ref().map(|m| [m.n_min, m.n_max]),
                v_f: Some(answer.plan.v_f),
                meanwhile: Some(meanwhile(&planner, &answer)),
            });
        }
        Err(wrong) => wrong,
    };
    let speed = pass.get(Key::Spindle).map(read::<SpindleSpeed>);
    let edges = pass.get(Key::Edges).map(str::parse::<u32>);
    match (speed, edges) {
        (Some(Ok(speed)), Some(Ok(z))) if speed.value.si() > 0.0 && z > 0 => Ok(SpindleAtWork {
            n: speed.value,
            z,
            range: None,
            v_f: None,
            meanwhile: None,
        }),
        // The pass was begun: say what is wrong with it.
        (Some(_), Some(_)) => Err(Failure::Entries(wrong)),
        _ => Err(EntryError::because(
            Cause::Wanting,
            "a tone is judged by the spindle speed and the flutes: add --spindle 5000rpm and \
             --edges 4, or a whole pass",
        )
        .into()),
    }
}

/// The depth that is safer until another speed is found.
fn meanwhile(planner: &Planner, answer: &Answered) -> Meanwhile {
    let (setup, plan) = (&answer.resolved.setup, &answer.plan);
    let half = 0.5 * setup.cut.a_p;
    let coefficients = planner.model().map(LoadModel::coefficients);
    let lobes = plan
        .moments
        .first()
        .and_then(|(nominal, _)| Lobes::of(setup, coefficients, nominal));
    let quiet = lobes.and_then(|lobes| {
        let (least, _) = lobes.least()?;
        let there = plan.stable.and_then(|at| at.depth());
        Some(there.map_or(least, |there| if there < least { there } else { least }))
    });
    quiet.map_or(Meanwhile::Half(half), Meanwhile::Lobes)
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
