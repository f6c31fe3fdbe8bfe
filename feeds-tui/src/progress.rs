//! How far a long run is, on one line of a terminal: never in a pipe or a file.

use std::io::{self, Write as _};
use std::time::{Duration, Instant};

/// From here on a run is long.
const LONG: Duration = Duration::from_millis(200);
/// How often the line is written.
const EVERY: Duration = Duration::from_millis(200);

/// The line of a run.
#[derive(Debug)]
pub struct RunProgress {
    what: &'static str,
    /// Whether there is a terminal to say it on.
    watched: bool,
    began: Instant,
    said: Option<Instant>,
}

impl RunProgress {
    /// Begins a run, said on standard error if that is `watched`: a terminal.
    pub fn new(what: &'static str, watched: bool) -> Self {
        Self {
            what,
            watched,
            began: Instant::now(),
            said: None,
        }
    }

    /// So much of all is done.
    pub fn step(&mut self, done: u64, all: u64) {
        if !self.watched || all == 0 {
            return;
        }
        let now = Instant::now();
        let due = match self.said {
            None => now - self.began > LONG,
            Some(said) => now - said > EVERY,
        };
        if !due {
            return;
        }
        self.said = Some(now);
        // Nobody is helped by an answer that fails because of this line.
        let _ = write!(io::stderr(), "\r{}", words(self.what, done, all));
        let _ = io::stderr().flush();
    }
}

impl Drop for RunProgress {
    /// Takes the line away again.
    fn drop(&mut self) {
        if self.said.is_some() {
            let width = words(self.what, 1, 1).len();
            let _ = write!(io::stderr(), "\r{:width$}\r", "");
            let _ = io::stderr().flush();
        }
    }
}

/// The line, always as wide.
fn words(what: &str, done: u64, all: u64) -> String {
    let part = (100 * u128::from(done) / u128::from(all.max(1))).min(100);
    format!("{what}: {part:>3} % (Ctrl-C stops)")
}

#[cfg(test)]
mod tests {
    use super::{RunProgress, words};

    #[test]
    fn a_pipe_and_a_short_run_see_nothing() {
        let mut piped = RunProgress::new("cutting", false);
        piped.began -= super::LONG * 2;
        piped.step(50, 100);
        assert!(piped.said.is_none());
        let mut short = RunProgress::new("cutting", true);
        short.step(50, 100);
        assert!(short.said.is_none());
    }

    #[test]
    fn the_line_keeps_its_width() {
        let line = words("cutting", 25, 50);
        assert_eq!(line, "cutting:  50 % (Ctrl-C stops)");
        assert_eq!(line.len(), words("cutting", 90, 50).len());
    }
}
