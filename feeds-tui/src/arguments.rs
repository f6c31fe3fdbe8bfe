//! The command line: one declaration that help, completions and the manual page come from.

mod later;

use crate::command::{
    audit, card, chatter, completions, cost, cut, fastest, feature, formula, job, life, listen,
    log, man, measure, practice, rehearse, sheet, shop, tables,
};
use crate::place::{Colour, Place, Stream};
use clap::builder::{OsStringValueParser, TypedValueParser as _};
use clap::{Args, CommandFactory, Parser, Subcommand, ValueEnum};
use feeds_core::symbol::System;
use later::Later;
use std::path::{Path, PathBuf};

/// An example in help. Every one of them is run by a test.
#[derive(Clone, Copy, Debug)]
pub struct Example {
    /// What to type.
    pub line: &'static str,
    /// What it is for.
    pub says: &'static str,
}

/// Rows of [`Example`]s: what to type, and what it is for.
macro_rules! examples {
    ($($line:expr => $says:expr;)+) => {
        &[$($crate::arguments::Example { line: $line, says: $says }),+]
    };
}
pub(crate) use examples;

/// The examples as help shows them: each can be copied into a shell as it stands.
pub fn shown(examples: &[Example]) -> String {
    let mut text = String::from("Examples:");
    for example in examples {
        text.push_str("\n  #");
        let mut width = 3;
        for word in example.says.split(' ') {
            let length = 1 + word.chars().count();
            if width > 3 && width + length > SAID {
                text.push_str("\n  #");
                width = 3;
            }
            width += length;
            text.push(' ');
            text.push_str(word);
        }
        text.push_str("\n  ");
        let mut width = 2;
        for part in parts(example.line) {
            if width > 2 && width + part.len() > WIDTH {
                text.push_str(" \\\n      ");
                width = 6;
            } else if width > 2 {
                text.push(' ');
                width += 1;
            }
            width += part.len();
            text.push_str(&part);
        }
    }
    text
}

/// What is said of an example is broken too, so that each line keeps its mark.
const SAID: usize = 78;

/// Longer example lines are broken; two columns are left for the mark of the break.
const WIDTH: usize = 76;

/// The words of a shell line; what is quoted, and a flag with its value, stay together.
fn parts(line: &str) -> Vec<String> {
    let mut parts: Vec<String> = Vec::new();
    for word in line.split(' ') {
        match parts.last_mut() {
            Some(last) if is_open(last, word) => {
                last.push(' ');
                last.push_str(word);
            }
            _ => parts.push(word.to_owned()),
        }
    }
    parts
}

/// Whether `part` goes on with the next word.
fn is_open(part: &str, next: &str) -> bool {
    let in_quotes = part.matches('\'').count() % 2 == 1;
    let wants_value = part.starts_with("--") && !part.contains(' ') && !next.starts_with('-');
    in_quotes || wants_value
}

/// Examples come before the flags: they are what people look for.
pub const TEMPLATE: &str = "\
{about-with-newline}
{before-help}{usage-heading} {usage}

{all-args}{after-help}";

const EXAMPLES: &[Example] = examples! {
    "feeds formula feed-per-tooth v_f=300mm/min z=4 n=4400rpm --working" =>
        "one formula, with its working";
    "feeds tables 1095" => "what the tables say of a steel, with sources";
};

const CODES: &str = "\
Exit codes:
  0  fine
  1  STOP: a limit is passed, or the audit found errors
  2  the arguments or the input cannot be read
  3  a file or the terminal cannot be read or written";

/// Cutting data for light mills and small cutters.
#[derive(Debug, Parser)]
#[command(
    name = "feeds",
    help_template = TEMPLATE,
    before_help = shown(EXAMPLES),
    after_help = CODES,
    max_term_width = 80,
    disable_help_subcommand = true,
    subcommand_help_heading = "Commands",
)]
pub struct Arguments {
    /// Print the version of the program and of the tables
    #[arg(long, short = 'V')]
    pub version: bool,
    /// How answers look.
    #[command(flatten)]
    pub look: LookFlags,
    /// The files it works on.
    #[command(flatten)]
    pub files: FileFlags,
    /// Open the screens on this job; a new file begins one
    #[arg(long, value_name = "FILE")]
    pub job: Option<PathBuf>,
    /// What to do; without one, the screens open.
    #[command(subcommand)]
    pub command: Option<Command>,
}

impl Arguments {
    /// The declaration with that of every command, for who prints or completes all of it.
    pub fn whole() -> clap::Command {
        let mut all = Self::command();
        all.build();
        all
    }
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Work out one pass: speed, feed, and what gives way first
    Cut(Later<cut::Flags>),
    /// Find the cut that removes most metal inside every limit, and what stops it
    Fastest(Later<fastest::Flags>),
    /// Plan the passes of a feature: a slot, a pocket, a bore
    Feature(Later<feature::Flags>),
    /// See what a run on a cheap stand-in proves, and how to work up from it
    Rehearse(Later<rehearse::Flags>),
    /// Find the likely cause of a sound, a chip or a mark on the wall
    Listen(Later<listen::Flags>),
    /// Plan the cuts in scrap that say most of a pass, and take in what they gave
    Measure(Later<measure::Flags>),
    /// Log a pass that was cut: what you saw moves the next answer
    Log(Later<log::Flags>),
    /// Find the depth of a pass that stays quiet, and speeds that take more
    #[command(alias = "lobes")]
    Chatter(Later<chatter::Flags>),
    /// Hold minutes against the life of an edge: when to change it
    Life(Later<Box<life::Flags>>),
    /// Work out what a part costs, and when preparation pays
    Cost(Later<Box<cost::Flags>>),
    /// Print a card for a test of your machine, and work out its readings
    Card(Later<card::Flags>),
    /// Work out one formula, or list them all
    Formula(Later<formula::Flags>),
    /// Check an NC programme, and write a copy with other S and F for a rehearsal
    Audit(Later<Box<audit::Flags>>),
    /// Show rows of the reference tables with their sources
    Tables(Later<tables::Flags>),
    /// Keep cutters, stocks, machines and holds on the shelf
    Shop(Later<shop::Flags>),
    /// Plan the passes of a fitting, in order
    Job(Later<job::Flags>),
    /// Print the setup sheet of a job
    Sheet(Later<sheet::Flags>),
    /// Practise: questions with marking, sheets to print, short lessons
    Practice(Later<practice::Flags>),
    /// Print the completion script of a shell
    Completions(Later<completions::Flags>),
    /// Print the manual page
    Man(Later<man::Flags>),
}

/// How answers look; every command takes these.
#[derive(Args, Clone, Copy, Debug)]
#[command(next_help_heading = "How answers look")]
pub struct LookFlags {
    /// Answer in JSON, in units that never change
    #[arg(long, global = true)]
    pub json: bool,
    /// Units of what you read and of the planned F; if left out, the shop's, else metric
    #[arg(long, global = true, value_name = "SYSTEM")]
    pub units: Option<ShownUnits>,
    /// Show every step: symbols, numbers, result, source
    #[arg(long, global = true)]
    pub working: bool,
    /// When to colour help, errors and the screens
    #[arg(
        long,
        global = true,
        value_name = "WHEN",
        default_value = "auto",
        alias = "colour"
    )]
    pub color: Colour,
    /// Plain ASCII characters only
    #[arg(long, global = true)]
    pub ascii: bool,
}

/// The files the program works on; every command takes these.
#[derive(Args, Clone, Debug)]
#[command(next_help_heading = "Files")]
pub struct FileFlags {
    /// The shop to look names up in first; `feeds shop paths` shows where it is
    // The parser of paths refuses an empty one, and with it every call where FEEDS_SHOP is empty.
    #[arg(
        long,
        global = true,
        value_name = "FILE",
        env = "FEEDS_SHOP",
        value_parser = OsStringValueParser::new().map(PathBuf::from)
    )]
    shop: Option<PathBuf>,
    /// Answer by the book: leave out what the shop's own cuts say
    #[arg(long, global = true)]
    pub book: bool,
}

impl FileFlags {
    /// The shop that was asked for; an empty name asks for none.
    pub fn shop(&self) -> Option<&Path> {
        let shop = self.shop.as_deref();
        shop.filter(|path| !path.as_os_str().is_empty())
    }
}

/// Units that people read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum ShownUnits {
    /// Millimetres, metres per minute.
    Metric,
    /// Inches, feet per minute.
    Inch,
}

impl From<ShownUnits> for System {
    fn from(units: ShownUnits) -> Self {
        match units {
            ShownUnits::Metric => Self::Metric,
            ShownUnits::Inch => Self::Inch,
        }
    }
}

/// How answers look, with what the place allows taken into account.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[allow(
    clippy::struct_excessive_bools,
    reason = "five switches, none of which needs another"
)]
pub struct Look {
    /// Answer in JSON.
    pub json: bool,
    /// Show the steps.
    pub working: bool,
    /// The system of units people read.
    pub system: System,
    /// Standard output is coloured.
    pub colour: bool,
    /// Standard output shows plain ASCII only.
    pub ascii: bool,
    /// Standard error is a terminal, where a long run may say how far it is.
    pub watched: bool,
}

impl LookFlags {
    /// The system that was asked for.
    pub fn system(&self) -> Option<System> {
        self.units.map(System::from)
    }

    /// The look in `place`, in a system.
    pub fn look(&self, place: &Place, system: System) -> Look {
        Look {
            json: self.json,
            working: self.working,
            system,
            colour: place.colour(self.color, Stream::Out),
            ascii: self.ascii || place.ascii(),
            watched: place.err && place.term != "dumb",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Arguments, Example, shown};

    #[test]
    fn long_examples_break_where_a_shell_goes_on() {
        let line =
            "feeds shop add cutter '4 mm stub' --note 'a b' diameter=4mm edges=4 x=123456789";
        let expect =
            "  feeds shop add cutter '4 mm stub' --note 'a b' diameter=4mm edges=4 \\\n      x=";
        let text = shown(&[Example { line, says: "" }]);
        assert!(text.contains(expect), "{text}");
    }

    #[test]
    fn the_declaration_is_consistent() {
        Arguments::whole().debug_assert();
    }
}
