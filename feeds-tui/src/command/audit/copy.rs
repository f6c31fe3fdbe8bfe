//! The rescaled copy for a rehearsal.

use super::{Flags, failed};
use crate::answer::Failure;
use crate::audit::source::Source;
use feeds_core::error::EntryError;
use feeds_core::programme::{Change, Changed, Refusal, Report, Rescaler, Wanted};
use feeds_core::quantity::Dimension;
use feeds_core::quantity::read::read_si;
use std::fs::OpenOptions;
use std::io::{self, Write};
use std::path::Path;

/// Makes the copy, if one is wanted; gives every word it changed.
pub(super) fn made(
    flags: &Flags,
    source: &Source,
    report: &Report,
) -> Result<Vec<Changed>, Failure> {
    let Some(out) = &flags.out else {
        return Ok(Vec::new());
    };
    if flags.rescale.is_empty() && flags.replace.is_empty() {
        let text = "says where a copy goes: say with --rescale or --replace what it changes";
        return Err(EntryError::sentence(text).of("--out").into());
    }
    let wanted = wanted(flags)?;
    let refused = |refusal: Refusal| {
        Failure::from(EntryError::sentence(format!("no copy is made: {refusal}")))
    };
    let mut rescaler = Rescaler::new(wanted, report).map_err(refused)?;
    let (mut copy, mut changes) = (Vec::new(), Vec::new());
    let mut stopped = None;
    source
        .pieces(|piece| {
            if stopped.is_none() {
                stopped = rescaler
                    .feed(piece, &mut copy, &mut |c| changes.push(c))
                    .err();
            }
        })
        .map_err(|error| failed(source.path(), error))?;
    if let Some(refusal) = stopped {
        return Err(refused(refusal));
    }
    rescaler
        .finish(&mut copy, &mut |c| changes.push(c))
        .map_err(refused)?;
    write(out, &copy)?;
    Ok(changes)
}

/// Writes a file that must not be there yet.
fn write(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let mut file = OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(path)
        .map_err(|error| failed(Some(path), explained(error)))?;
    file.write_all(bytes)
        .and_then(|()| file.sync_all())
        .map_err(|error| failed(Some(path), error))
}

/// The same error, with what to do about a file that is there.
fn explained(error: io::Error) -> io::Error {
    match error.kind() {
        io::ErrorKind::AlreadyExists => io::Error::new(
            error.kind(),
            "is there already and is not overwritten: give --out another name, or remove it first",
        ),
        _ => error,
    }
}

/// What becomes of S and F, for one tool or for all.
fn wanted(flags: &Flags) -> Result<Wanted, EntryError> {
    let mut wanted = Wanted {
        others: Change::Scale {
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

fn change(text: &str, scale: bool) -> Result<(Option<u32>, Change), EntryError> {
    let (tool, rest) = match text.split_once(':') {
        None => (None, text),
        Some((tool, rest)) => {
            let number = tool.trim().trim_start_matches(['T', 't']);
            let number = number.parse().map_err(|_| {
                EntryError::sentence(format!("«{tool}» is no number of a tool, such as 3"))
            })?;
            (Some(number), rest)
        }
    };
    let (mut speed, mut feed) = (None, None);
    for part in rest.split(',') {
        let wrong = || {
            EntryError::sentence(format!(
                "«{part}» is neither S nor F: write it like S=70%,F=50%"
            ))
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
        Change::Scale {
            speed: speed.unwrap_or(1.0),
            feed: feed.unwrap_or(1.0),
        }
    } else {
        Change::Replace { speed, feed }
    };
    Ok((tool, change))
}
