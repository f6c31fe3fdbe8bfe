//! `feeds tables`: rows of the reference tables with their sources.

use crate::answer::{Answer, Failure};
use crate::arguments::{Example, Look, TEMPLATE, shown};
use clap::Args;

const EXAMPLES: &[Example] = &[Example {
    line: "feeds tables 1095",
    says: "every row of a steel",
}];

/// What `feeds tables` takes.
#[derive(Args, Debug)]
#[command(help_template = TEMPLATE, before_help = shown(EXAMPLES))]
pub struct Flags {
    /// Words that a row must all hold
    #[arg(value_name = "WORD")]
    pub words: Vec<String>,
}

/// The version of the data.
pub fn version() -> &'static str {
    "0"
}

/// The rows.
///
/// # Errors
/// If no row holds all the words.
pub fn answer(_flags: &Flags, _look: Look) -> Result<Answer, Failure> {
    Ok(Answer::plain("\n"))
}
