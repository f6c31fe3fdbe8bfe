//! Where the program runs: which streams are terminals, and what they can show.

use crate::store::folders::Folders;
use std::env;
use std::ffi::{OsStr, OsString};
use std::io::{self, IsTerminal};

/// When to colour.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, clap::ValueEnum)]
pub enum Colour {
    /// On a terminal that has colours, unless `NO_COLOR` is set.
    #[default]
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

impl Colour {
    /// What the arguments ask for. Read ahead of the rest: errors in the rest are coloured too.
    pub fn wanted(args: &[OsString]) -> Self {
        let mut wanted = Self::Auto;
        let mut args = args.iter().filter_map(|a| a.to_str());
        while let Some(arg) = args.next() {
            let value = match arg {
                "--" => break,
                "--color" | "--colour" => args.next(),
                _ => arg
                    .strip_prefix("--color=")
                    .or_else(|| arg.strip_prefix("--colour=")),
            };
            wanted = match value {
                Some("always") => Self::Always,
                Some("never") => Self::Never,
                Some("auto") => Self::Auto,
                _ => wanted,
            };
        }
        wanted
    }
}

/// A stream that is written to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stream {
    /// Answers.
    Out,
    /// Errors.
    Err,
}

/// Where the program runs. The default is a pipe that shows everything but colours.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(
    clippy::struct_excessive_bools,
    reason = "five facts, none of which follows from another"
)]
pub struct Place {
    /// Standard input is a terminal.
    pub input: bool,
    /// Standard output is a terminal.
    pub out: bool,
    /// Standard error is a terminal.
    pub err: bool,
    /// The kind of terminal, `TERM`.
    pub term: String,
    /// `NO_COLOR` is set and not empty.
    pub no_colour: bool,
    /// The locale names another character set than UTF-8.
    pub narrow: bool,
    /// Where files are kept.
    pub folders: Folders,
}

impl Place {
    /// The place of this process.
    pub fn here() -> Self {
        let text = |name: &str| env::var_os(name).unwrap_or_default();
        let locale = ["LC_ALL", "LC_CTYPE", "LANG"]
            .map(text)
            .into_iter()
            .find(|v| !v.is_empty());
        Self {
            input: io::stdin().is_terminal(),
            out: io::stdout().is_terminal(),
            err: io::stderr().is_terminal(),
            term: text("TERM").to_string_lossy().into_owned(),
            no_colour: !text("NO_COLOR").is_empty(),
            narrow: !locale.is_some_and(|l| names_utf8(&l)),
            folders: Folders::here(),
        }
    }

    /// Whether screens can be opened: a terminal on both sides that can move its cursor.
    pub fn screens(&self) -> bool {
        self.input && self.out && !self.term.is_empty() && self.term != "dumb"
    }

    /// Whether `stream` is coloured.
    pub fn colour(&self, wanted: Colour, stream: Stream) -> bool {
        let terminal = match stream {
            Stream::Out => self.out,
            Stream::Err => self.err,
        };
        match wanted {
            Colour::Always => true,
            Colour::Never => false,
            Colour::Auto => terminal && !self.no_colour && self.term != "dumb",
        }
    }

    /// Whether the terminal shows plain ASCII only. Files and pipes are UTF-8.
    pub fn ascii(&self) -> bool {
        self.out && (self.narrow || matches!(self.term.as_str(), "linux" | "dumb"))
    }
}

fn names_utf8(locale: &OsStr) -> bool {
    let name = locale.to_string_lossy().to_ascii_lowercase();
    name.contains("utf-8") || name.contains("utf8")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colour_follows_flag_then_environment_then_stream() {
        for terminal in [false, true] {
            for no_colour in [false, true] {
                for term in ["xterm", "dumb"] {
                    let place = Place {
                        out: terminal,
                        no_colour,
                        term: term.into(),
                        ..Place::default()
                    };
                    assert!(place.colour(Colour::Always, Stream::Out));
                    assert!(!place.colour(Colour::Never, Stream::Out));
                    let auto = terminal && !no_colour && term == "xterm";
                    assert_eq!(place.colour(Colour::Auto, Stream::Out), auto);
                    assert!(
                        !place.colour(Colour::Auto, Stream::Err),
                        "err is not a terminal here"
                    );
                }
            }
        }
    }

    #[track_caller]
    fn wanted(args: &[&str], expect: Colour) {
        let args: Vec<OsString> = args.iter().map(Into::into).collect();
        assert_eq!(Colour::wanted(&args), expect);
    }

    #[test]
    fn colour_is_read_ahead() {
        wanted(&["feeds", "cut"], Colour::Auto);
        wanted(&["feeds", "--color", "never", "cut"], Colour::Never);
        wanted(&["feeds", "cut", "--color=always"], Colour::Always);
        wanted(&["feeds", "cut", "--", "--color=always"], Colour::Auto);
        wanted(&["feeds", "--color"], Colour::Auto);
    }

    #[test]
    fn screens_need_a_terminal_on_both_sides() {
        let both = Place {
            input: true,
            out: true,
            term: "xterm".into(),
            ..Place::default()
        };
        assert!(both.screens());
        assert!(
            !Place {
                input: false,
                ..both.clone()
            }
            .screens()
        );
        assert!(
            !Place {
                out: false,
                ..both.clone()
            }
            .screens()
        );
        assert!(
            !Place {
                term: "dumb".into(),
                ..both
            }
            .screens()
        );
    }
}
