//! The rescaled copy for a rehearsal.

use super::changes::Changes;
use super::{Flags, failed};
use crate::answer::Failure;
use crate::audit::source::ProgrammeSource;
use crate::spool::Spool;
use crate::store::fresh::Fresh;
use feeds_core::error::{Cause, EntryError};
use feeds_core::programme::{Changed, Refusal, Report, Rescaler, Rescaling, Wanted};
use feeds_core::quantity::Dimension;
use feeds_core::quantity::read::read_si;
use std::fmt::Write as _;
use std::io;
use std::path::Path;

/// What the copy changes.
#[derive(Debug, Default)]
pub(super) struct Made {
    /// By tool.
    pub(super) changes: Changes,
    /// Word by word, if that was asked for.
    pub(super) list: Option<Spool>,
}

/// Why the copy stops.
enum Stop {
    Refused(Refusal),
    /// The copy cannot be written.
    Copy(io::Error),
    /// The list cannot be kept.
    List(io::Error),
}

/// Makes the copy, if one is wanted: its file is there as a whole or not at all.
pub(super) fn made(
    flags: &Flags,
    source: &ProgrammeSource,
    report: &Report,
) -> Result<Option<Made>, Failure> {
    let Some(out) = &flags.out else {
        return Ok(None);
    };
    if flags.rescale.is_empty() && flags.replace.is_empty() && flags.correct.is_none() {
        let text = "says where a copy goes: say with --rescale, --replace or --correct what it \
                    changes";
        return Err(EntryError::because(Cause::Wanting, text).of("--out").into());
    }
    let of_out = |error| failed(Some(out), explained(error, "--out"));
    let stopped = |stop: Stop| match stop {
        Stop::Refused(refusal) => {
            EntryError::because(Cause::NoResult, format!("no copy is made: {refusal}")).into()
        }
        Stop::Copy(error) => of_out(error),
        Stop::List(error) => failed(Some(Path::new("--changes")), error),
    };
    let refused = |refusal| stopped(Stop::Refused(refusal));
    let corrected = report
        .simulation
        .as_ref()
        .and_then(|cut| cut.corrected.as_ref());
    let rescaler = match corrected {
        Some(corrected) => Rescaler::by_line(corrected.edits.clone(), report),
        None => Rescaler::new(wanted(flags)?, report),
    };
    let mut rescaler = rescaler.map_err(refused)?;
    let list = flags.changes.then(Spool::new).transpose();
    let mut written = Written {
        file: Fresh::begin(out).map_err(of_out)?,
        lines: String::new(),
        made: Made {
            changes: Changes::default(),
            list: list.map_err(|error| stopped(Stop::List(error)))?,
        },
    };
    let (mut copy, mut stop) = (Vec::new(), None);
    source
        .pieces_while(0, |piece| {
            let fed = rescaler.feed(piece, &mut copy, &mut |c| written.note(&c));
            let kept = fed
                .map_err(Stop::Refused)
                .and_then(|()| written.take(&mut copy));
            stop = kept.err();
            stop.is_none()
        })
        .map_err(|error| failed(source.path(), error))?;
    if let Some(stop) = stop {
        return Err(stopped(stop));
    }
    rescaler
        .finish(&mut copy, &mut |c| written.note(&c))
        .map_err(refused)?;
    written.take(&mut copy).map_err(stopped)?;
    let Written { file, made, .. } = written;
    file.finish().map_err(of_out)?;
    Ok(Some(made))
}

/// What of the copy is out of memory already.
struct Written {
    file: Fresh,
    /// Lines of the list since the last piece.
    lines: String,
    made: Made,
}

impl Written {
    /// Counts a changed word, and lists it where that is wanted.
    fn note(&mut self, changed: &Changed) {
        self.made.changes.add(changed);
        if self.made.list.is_some() {
            let Changed {
                line,
                column,
                before,
                after,
                ..
            } = changed;
            let _ = if before.is_empty() {
                writeln!(self.lines, "  line {line}, column {column}: {after} added")
            } else {
                writeln!(
                    self.lines,
                    "  line {line}, column {column}: {before} -> {after}"
                )
            };
        }
    }

    /// Writes what was made of a piece.
    fn take(&mut self, copy: &mut Vec<u8>) -> Result<(), Stop> {
        self.file.write(copy).map_err(Stop::Copy)?;
        copy.clear();
        if let Some(list) = &mut self.made.list {
            list.write(self.lines.as_bytes()).map_err(Stop::List)?;
            self.lines.clear();
        }
        Ok(())
    }
}

/// The same error, with what to do about a file that is there.
pub(super) fn explained(error: io::Error, flag: &str) -> io::Error {
    match error.kind() {
        io::ErrorKind::AlreadyExists => io::Error::new(
            error.kind(),
            format!(
                "is there already and is not overwritten: give {flag} another name, or remove it \
                 first"
            ),
        ),
        _ => error,
    }
}

/// What becomes of S and F, for one tool or for all.
fn wanted(flags: &Flags) -> Result<Wanted, EntryError> {
    let mut wanted = Wanted {
        others: Rescaling::Scale {
            speed: 1.0,
            feed: 1.0,
        },
        tools: Vec::new(),
    };
    let scales = flags.rescale.iter().map(|t| (t, true, "--rescale"));
    let values = flags.replace.iter().map(|t| (t, false, "--replace"));
    for (text, scale, flag) in scales.chain(values) {
        let (tool, change) = change(text, scale).map_err(|e| e.of(flag))?;
        match tool {
            Some(tool) => wanted.tools.push((tool, change)),
            None => wanted.others = change,
        }
    }
    Ok(wanted)
}

fn change(text: &str, scale: bool) -> Result<(Option<u32>, Rescaling), EntryError> {
    let (tool, rest) = match text.split_once(':') {
        None => (None, text),
        Some((tool, rest)) => {
            let number = tool.trim().trim_start_matches(['T', 't']);
            let number = number.parse().map_err(|_| {
                EntryError::because(
                    Cause::Form,
                    format!("«{tool}» is not a tool number, such as 3"),
                )
            })?;
            (Some(number), rest)
        }
    };
    let (mut speed, mut feed) = (None, None);
    for part in rest.split(',') {
        let wrong = || {
            EntryError::because(
                Cause::Form,
                format!("«{part}» is neither S nor F: write it like S=70%,F=50%"),
            )
        };
        let (word, value) = part.split_once('=').ok_or_else(wrong)?;
        let value = read_si(value, Dimension::Ratio)?;
        match word.trim() {
            "S" | "s" => speed = Some(value),
            "F" | "f" => feed = Some(value),
            _ => return Err(wrong()),
        }
    }
    let change = if scale {
        Rescaling::Scale {
            speed: speed.unwrap_or(1.0),
            feed: feed.unwrap_or(1.0),
        }
    } else {
        Rescaling::Replace { speed, feed }
    };
    Ok((tool, change))
}
