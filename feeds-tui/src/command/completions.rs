//! `feeds completions`: the completion script of a shell.

use crate::answer::Answer;
use crate::arguments::{Arguments, Example, TEMPLATE, shown};
use clap::{Args, CommandFactory};
use clap_complete::Shell;

const EXAMPLES: &[Example] = &[
    Example {
        line: "feeds completions bash > feeds.bash",
        says: "for bash; then source the file",
    },
    Example {
        line: "feeds completions fish > feeds.fish",
        says: "for fish",
    },
];

/// What `feeds completions` takes.
#[derive(Args, Debug)]
#[command(help_template = TEMPLATE, before_help = shown(EXAMPLES))]
pub struct Flags {
    /// The shell
    pub shell: Shell,
}

/// The script.
pub fn answer(flags: &Flags) -> Answer {
    let mut script = Vec::new();
    clap_complete::generate(flags.shell, &mut Arguments::command(), "feeds", &mut script);
    Answer::exact(String::from_utf8_lossy(&script))
}
