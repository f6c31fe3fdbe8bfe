//! The program `feeds`: terminal screens and plain commands.
//!
//! [`run`] is the whole program without a terminal: arguments in, text and an exit code out.
//! Commands only answer; this file is the one place that writes.
//!
//! ```
//! let (mut out, mut err) = (Vec::new(), Vec::new());
//! let args = ["feeds", "--version"].map(Into::into);
//! assert_eq!(feeds_tui::run(args, &mut out, &mut err), 0);
//! assert!(out.starts_with(b"feeds "));
//! ```

pub mod answer;
pub mod arguments;
pub mod ascii;
pub mod audit;
pub mod axes;
pub mod card;
pub mod chatter;
mod clock;
pub mod command;
pub mod demo;
pub mod feature;
pub mod job;
pub mod journal;
pub mod listen;
mod object;
pub mod own;
pub mod pass;
pub mod place;
pub mod practice;
pub mod progress;
pub mod rehearse;
pub mod sheet;
pub mod spool;
pub mod store;
pub mod sweep;
pub mod tui;
pub mod visible;
pub mod words;

pub use place::Place;

use answer::{Answer, Exit, Failure, Reads};
use arguments::{Arguments, Command};
use clap::error::{ContextKind, ContextValue};
use clap::{CommandFactory, FromArgMatches};
use command::files::Files;
use feeds_core::error::{Cause, EntryError};
use feeds_core::nearest::all_nearest;
use feeds_core::symbol::System;
use place::{Colour, Stream};
use std::borrow::Cow;
use std::ffi::OsString;
use std::io::{BufRead, BufReader, Write};
use store::disk::RealDisk;
use words::{in_units, said_in};

/// Runs the program away from any terminal, as in a pipe.
///
/// # Takes
/// `args` with the program's name first; `out` for answers, `err` for everything else.
///
/// # Gives
/// The exit code: 0 fine, 1 a check is over, 2 usage or unreadable input, 3 input or output.
pub fn run(
    args: impl IntoIterator<Item = OsString>,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> u8 {
    run_in(&Place::default(), args, out, err)
}

/// Runs the program in a place of its own choice: see [`run`].
pub fn run_in(
    place: &Place,
    args: impl IntoIterator<Item = OsString>,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> u8 {
    let args: Vec<OsString> = args.into_iter().collect();
    let colour = if seen(&args) {
        Colour::wanted(&args)
    } else {
        // What was typed could not be told from colours in a text that has both.
        Colour::Never
    };
    let json = args
        .iter()
        .take_while(|a| *a != "--")
        .any(|a| a == "--json");
    let plain = place.ascii() || args.iter().any(|a| a == "--ascii");
    let mut says = |text: &str, reads: Reads| {
        // Nothing is left to do when even the error stream is closed.
        let _ = err.write_all(leaving(text, reads, plain).as_bytes());
    };
    let system = system(place, &args);
    match answer(place, colour, args, system) {
        Ok(answer) => {
            for line in &answer.told {
                says(&format!("note: {line}\n"), Reads::People);
            }
            match write(&answer, plain, out) {
                Ok(()) => answer.exit as u8,
                // The reader has seen enough, such as `head`.
                Err(e) if e.kind() == std::io::ErrorKind::BrokenPipe => answer.exit as u8,
                Err(e) => {
                    let text = format!("error: the answer cannot be written: {e}\n");
                    says(&text, Reads::People);
                    Exit::NoFile as u8
                }
            }
        }
        Err(failure) if json => {
            let document = failure.json();
            let written = document.map(|document| write(&document, plain, out));
            match written {
                Ok(Err(e)) if e.kind() != std::io::ErrorKind::BrokenPipe => {
                    let text = format!("error: the answer cannot be written: {e}\n");
                    says(&text, Reads::People);
                    Exit::NoFile as u8
                }
                _ => failure.exit() as u8,
            }
        }
        Err(failure) => {
            let in_colour = place.colour(colour, Stream::Err);
            let reads = match &failure {
                Failure::Usage(_) if in_colour => Reads::InColour,
                _ => Reads::People,
            };
            let text = failure.text(in_colour);
            says(&said_in(&text, system), reads);
            failure.exit() as u8
        }
    }
}

/// A negative value behind its flag, `--diameter -3mm`, as `--diameter=-3mm`: by itself it would be
/// read as a flag nobody knows, and what is wrong with the value would not be said.
fn with_negative_values(args: Vec<OsString>) -> Vec<OsString> {
    let mut joined: Vec<OsString> = Vec::with_capacity(args.len());
    let mut flags_end = false;
    for arg in args {
        let text = arg.to_string_lossy();
        let mut signs = text.chars();
        let negative = signs.next() == Some('-')
            && signs.next().is_some_and(|c| c == '.' || c.is_ascii_digit());
        let flag = joined.last_mut().filter(|last| {
            let last = last.to_string_lossy();
            negative
                && !flags_end
                && last.len() > 2
                && last.starts_with("--")
                && !last.contains('=')
        });
        flags_end |= text == "--";
        match flag {
            Some(flag) => {
                flag.push("=");
                flag.push(&arg);
            }
            None => joined.push(arg),
        }
    }
    joined
}

fn answer(
    place: &Place,
    colour: Colour,
    args: Vec<OsString>,
    system: System,
) -> Result<Answer, Failure> {
    let parsed = Arguments::command()
        .try_get_matches_from(with_negative_values(args))
        .and_then(|matches| Arguments::from_arg_matches(&matches));
    let arguments = match parsed {
        Ok(arguments) => arguments,
        // Help and version are answers, not failures.
        Err(told) if !told.use_stderr() => {
            let text = told.render();
            if !place.colour(colour, Stream::Out) {
                return Ok(Answer::plain(in_units(&text.to_string(), system)));
            }
            return Ok(Answer {
                reads: Reads::InColour,
                ..Answer::plain(in_units(&text.ansi().to_string(), system))
            });
        }
        Err(wrong) => return Err(Failure::Usage(with_nearest_command(wrong))),
    };
    if arguments.version {
        return Ok(version());
    }
    let files = Files {
        disk: &RealDisk,
        folders: &place.folders,
        shop: arguments.files.shop(),
        by_book: arguments.files.book,
        system: System::Metric,
    }
    .in_system(arguments.look.system());
    let look = arguments.look.look(place, files.system);
    if let (Some(_), Some(_)) = (&arguments.command, &arguments.job) {
        let sentence = "opens the screens and cannot be combined with a command: leave one of \
            them out";
        return Err(EntryError::because(Cause::Idle, sentence)
            .of("--job")
            .into());
    }
    match &arguments.command {
        Some(Command::Cut(flags)) => command::cut::answer(flags, look, &files),
        Some(Command::Fastest(flags)) => command::fastest::answer(flags, look, &files),
        Some(Command::Feature(flags)) => command::feature::answer(flags, look, &files),
        Some(Command::Rehearse(flags)) => command::rehearse::answer(flags, look, &files),
        Some(Command::Listen(flags)) => command::listen::answer(flags, look, &files),
        Some(Command::Measure(flags)) => command::measure::answer(flags, look, &files),
        Some(Command::Log(flags)) => command::log::answer(flags, look, &files),
        Some(Command::Chatter(flags)) => command::chatter::answer(flags, look, &files),
        Some(Command::Life(flags)) => command::life::answer(flags, look, &files),
        Some(Command::Cost(flags)) => command::cost::answer(flags, look, &files),
        Some(Command::Card(flags)) => command::card::answer(flags, look, &files),
        Some(Command::Formula(flags)) => command::formula::answer(flags, look),
        Some(Command::Audit(flags)) if flags.screen => {
            let audit = command::audit::for_screen(flags, look, &files, place.screens())?;
            tui::app::open_on(audit, &files, flags.job.as_deref(), look)
        }
        Some(Command::Audit(flags)) => command::audit::answer(flags, look, &files),
        Some(Command::Tables(flags)) => command::tables::answer(flags, look),
        Some(Command::Practice(flags)) => {
            command::practice::answer(flags, look, &files, place.input && place.out)
        }
        Some(Command::Shop(flags)) => command::shop::answer(flags, look, &files),
        Some(Command::Job(flags)) => command::job::answer(flags, look, &files),
        Some(Command::Sheet(flags)) => command::sheet::answer(flags, look, &files),
        Some(Command::Completions(flags)) => command::completions::answer(flags, &files),
        Some(Command::Man(flags)) => command::man::answer(flags, system),
        None if place.screens() && !look.json => {
            tui::app::open(&files, arguments.job.as_deref(), look)
        }
        None => match &arguments.job {
            Some(path) => command::job::shown_of(path, look, &files),
            None => demo::answer(look),
        },
    }
}

/// The system that people read, as far as it can be told before the arguments are understood.
fn system(place: &Place, args: &[OsString]) -> System {
    let asked = value(args, "--units").and_then(|word| System::of_word(&word.to_string_lossy()));
    let shop = value(args, "--shop").or_else(|| std::env::var_os("FEEDS_SHOP"));
    let shop = shop.filter(|path| !path.is_empty());
    let files = Files {
        disk: &RealDisk,
        folders: &place.folders,
        shop: shop.as_deref().map(std::path::Path::new),
        by_book: false,
        system: System::Metric,
    };
    files.in_system(asked).system
}

/// What was typed behind a flag.
fn value(args: &[OsString], flag: &str) -> Option<OsString> {
    let mut typed = args.iter().take_while(|arg| *arg != "--");
    while let Some(arg) = typed.next() {
        if arg == flag {
            return typed.next().cloned();
        }
        let text = arg.to_str().and_then(|text| text.strip_prefix(flag));
        if let Some(text) = text.and_then(|text| text.strip_prefix('=')) {
            return Some(text.into());
        }
    }
    None
}

/// Short names are too short for the parser's own measure of likeness: to it, `ct` is as much
/// `practice` as `cut`.
fn with_nearest_command(mut error: clap::Error) -> clap::Error {
    if let Some(ContextValue::String(typed)) = error.get(ContextKind::InvalidSubcommand) {
        let program = Arguments::command();
        let commands = program.get_subcommands().map(clap::Command::get_name);
        let near: Vec<String> = all_nearest(typed, commands)
            .into_iter()
            .map(str::to_owned)
            .collect();
        if !near.is_empty() {
            error.insert(
                ContextKind::SuggestedSubcommand,
                ContextValue::Strings(near),
            );
        }
    }
    error
}

fn version() -> Answer {
    let (program, tables) = (env!("CARGO_PKG_VERSION"), reference_tables::version());
    Answer::plain(format!("feeds {program} (tables {tables})\n"))
}

fn write(answer: &Answer, plain: bool, out: &mut dyn Write) -> std::io::Result<()> {
    let mut put = |text: &str| out.write_all(leaving(text, answer.reads, plain).as_bytes());
    put(&answer.text)?;
    if let Some(list) = &answer.list {
        let (mut lines, mut line) = (BufReader::new(list.reader()), Vec::new());
        while lines.read_until(b'\n', &mut line)? > 0 {
            put(&String::from_utf8_lossy(&line))?;
            line.clear();
        }
    }
    out.flush()
}

/// The text as it leaves the program: nothing in it acts on the terminal but colours of its own.
fn leaving(text: &str, reads: Reads, plain: bool) -> Cow<'_, str> {
    match reads {
        Reads::Json => visible::escaped(text),
        Reads::People if plain => ascii::spelt(&visible::shown(text)).into(),
        Reads::People | Reads::Machine => visible::shown(text),
        // What others wrote was kept out of these before.
        Reads::OnPages | Reads::InColour if plain => ascii::spelt(text).into(),
        Reads::OnPages | Reads::InColour => text.into(),
    }
}

/// Whether all that was typed, and what help shows of the environment, can be seen.
fn seen(args: &[OsString]) -> bool {
    let shop = std::env::var_os("FEEDS_SHOP");
    let mut given = args.iter().chain(&shop);
    !given.any(|text| text.to_string_lossy().contains(visible::acts))
}
