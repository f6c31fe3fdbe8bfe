//! Starts the program on the process's own arguments and streams.

use std::io::{self, BufWriter};
use std::process::ExitCode;

fn main() -> ExitCode {
    // The lock is left to the writer: a panic elsewhere must still be able to restore the terminal.
    let mut out = BufWriter::new(io::stdout());
    let place = feeds_tui::Place::here();
    feeds_tui::run_in(&place, std::env::args_os(), &mut out, &mut io::stderr()).into()
}
