//! `feeds man`: the manual page, made from the same declaration as the help.

use crate::answer::{Answer, Failure};
use crate::arguments::{Arguments, Example, TEMPLATE, examples, shown};
use crate::tui::keys;
use crate::words::in_units;
use clap::{Args, Command};
use clap_mangen::Man;
use clap_mangen::roff::{Roff, roman};
use feeds_core::error::EntryError;
use feeds_core::symbol::System;
use std::fmt::Write as _;
use std::io;

const EXAMPLES: &[Example] = examples! {
    "feeds man > feeds.1" => "the page of the program; read it with man -l";
    "feeds man formula > feeds-formula.1" => "the page of a command";
};

/// What `feeds man` takes.
#[derive(Args, Debug)]
#[command(help_template = TEMPLATE, before_help = shown(EXAMPLES))]
pub struct Flags {
    /// The command; if left out, the page of the program
    pub command: Option<String>,
}

/// The page, in roff.
///
/// # Errors
/// If there is no such command.
pub fn answer(flags: &Flags, system: System) -> Result<Answer, Failure> {
    let program = Arguments::whole();
    let command = match &flags.command {
        None => program,
        Some(name) => subcommand(&program, name)?,
    };
    let mut page = Vec::new();
    render(&command, &mut page).map_err(Failure::Terminal)?;
    let page = in_units(&String::from_utf8_lossy(&page), system);
    Ok(Answer::exact(page))
}

fn subcommand(program: &Command, name: &str) -> Result<Command, EntryError> {
    let found = program.find_subcommand(name).ok_or_else(|| {
        let names: Vec<&str> = program.get_subcommands().map(Command::get_name).collect();
        EntryError::UnknownName {
            kind: "command",
            name: name.to_owned(),
            nearest: format!("the commands are {}", names.join(", ")),
        }
    })?;
    let name = format!("feeds-{}", found.get_name());
    Ok(found.clone().name(name))
}

fn render(command: &Command, page: &mut Vec<u8>) -> io::Result<()> {
    let man = Man::new(command.clone());
    man.render_title(page)?;
    man.render_name_section(page)?;
    man.render_synopsis_section(page)?;
    man.render_description_section(page)?;
    if let Some(examples) = command.get_before_help() {
        as_it_stands(&examples.to_string(), page)?;
    }
    man.render_options_section(page)?;
    if command.has_subcommands() {
        as_it_stands(&installed(command), page)?;
        as_it_stands(&keys::text(), page)?;
    }
    if let Some(codes) = command.get_after_help() {
        as_it_stands(&codes.to_string(), page)?;
    }
    Ok(())
}

/// The commands that this program has: a page of its own is installed for none of them.
fn installed(command: &Command) -> String {
    let name = command.get_name();
    let mut text = String::from("Commands:");
    for sub in command.get_subcommands() {
        let about = sub.get_about().map(ToString::to_string).unwrap_or_default();
        let _ = write!(text, "\n  {name} {:<12} {about}", sub.get_name());
    }
    let _ = write!(
        text,
        "\n\n  The page of each: {name} man COMMAND; its help: {name} COMMAND --help.\n  Where \
         the shop, the drafts and the record of practice are: {name} shop paths."
    );
    text
}

/// A section of help, its first line as the heading, its lines kept.
fn as_it_stands(help: &str, page: &mut Vec<u8>) -> io::Result<()> {
    let (heading, lines) = help.split_once('\n').unwrap_or((help, ""));
    let heading = heading.trim_end_matches(':').to_uppercase();
    let mut section = Roff::new();
    section.control("SH", [heading.as_str()]).control("nf", []);
    for line in lines.lines() {
        section.text([roman(line)]);
    }
    section.control("fi", []);
    section.to_writer(page)
}
