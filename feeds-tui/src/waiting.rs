//! A line on standard error while an answer is awaited, where that is a terminal.
//!
//! It stands on a line of its own that is wiped before the answer comes, so that the terminal holds
//! the answer alone.

use std::io::{Write as _, stderr};
use std::time::{Duration, Instant};

/// What comes sooner needs no word.
const SOON: Duration = Duration::from_millis(200);

/// How far a long piece of work is.
#[derive(Debug)]
pub struct Waiting {
    begun: Instant,
    /// What is counted, where somebody sees it.
    counts: Option<&'static str>,
    shown: bool,
}

impl Waiting {
    /// Counts things of a name; `seen` is whether standard error is a terminal.
    pub fn new(counts: &'static str, seen: bool) -> Self {
        Self {
            begun: Instant::now(),
            counts: seen.then_some(counts),
            shown: false,
        }
    }

    /// Nobody is told.
    pub fn quiet() -> Self {
        Self::new("", false)
    }

    /// So many of all are done.
    pub fn step(&mut self, done: usize, all: usize) {
        let Some(counts) = self.counts.filter(|_| self.begun.elapsed() >= SOON) else {
            return;
        };
        self.shown = true;
        // Nothing is lost when nobody can be told.
        let _ = write!(stderr(), "\r{}", line(counts, done, all));
        let _ = stderr().flush();
    }
}

fn line(counts: &str, done: usize, all: usize) -> String {
    format!("{done} of {all} {counts} ...")
}

impl Drop for Waiting {
    fn drop(&mut self) {
        if self.shown {
            let _ = write!(stderr(), "\r\x1b[K");
            let _ = stderr().flush();
        }
    }
}
