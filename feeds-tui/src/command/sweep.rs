//! `feeds cut --sweep`: one entry varied, as a table, a picture or JSON.

use super::files::Files;
use super::pairs::pairs;
use crate::answer::{Answer, Failure};
use crate::arguments::Look;
use crate::pass::description::Description;
use crate::pass::field::Key;
use crate::pass::resolve::Shelves;
use crate::store::save::{SaveError, save};
use crate::sweep::chart::{self, DOTS};
use crate::sweep::svg::svg;
use crate::sweep::{POINTS, SweepRange, Swept, document, sweep, text};
use crate::tui::theme::Theme;
use crate::visible;
use clap::Args;
use feeds_core::error::{Cause, EntryError};
use std::io;
use std::path::{Path, PathBuf};

/// Curves have so many values between two rows of the table, and no fewer than can be seen.
const FINER: usize = 6;

/// What `feeds cut` takes to vary an entry.
#[derive(Args, Clone, Debug, Default)]
#[command(next_help_heading = "Vary one entry")]
pub struct Flags {
    /// Vary one entry and work the pass out at each value, such as width=0.1mm..6mm
    #[arg(long, value_name = "ENTRY=FROM..TO")]
    pub sweep: Option<String>,
    /// How many values
    #[arg(long, value_name = "N", default_value_t = 15, requires = "sweep")]
    pub points: usize,
    /// Overlay a second pass that differs in this entry, such as stick-out=20mm
    #[arg(long, value_name = "ENTRY=VALUE", requires = "sweep")]
    pub against: Vec<String>,
    /// Draw the curves into a file
    #[arg(long, value_name = "FILE", requires = "sweep")]
    pub svg: Option<PathBuf>,
    /// Overwrite an existing file
    #[arg(long, requires = "svg")]
    pub force: bool,
}

/// The table, the document, and the picture where one is asked for.
///
/// A limit that is passed at some value is what a sweep looks for, so the exit code stays 0.
///
/// # Errors
/// When the sweep cannot be read, no value has an answer, or the picture cannot be written.
pub(super) fn answer(
    flags: &Flags,
    wanted: &str,
    pass: &Description,
    look: Look,
    (files, shop): (&Files<'_>, &impl Shelves),
) -> Result<Answer, Failure> {
    let range = SweepRange::read(wanted)?;
    if !POINTS.contains(&flags.points) {
        let (least, most) = (POINTS.start(), POINTS.end());
        let text = format!("{} is not between {least} and {most}", flags.points);
        return Err(EntryError::because(Cause::Bound, text).of("points").into());
    }
    let mut passes = vec![(String::new(), pass.clone())];
    if !flags.against.is_empty() {
        let mut other = pass.clone();
        for parted in pairs(&flags.against, "stick-out=20mm") {
            let (key, value) = parted?;
            other.set(key, value)?;
        }
        passes.push((flags.against.join(", "), other));
    }
    let swept = |points: usize| -> Result<Vec<Swept>, Failure> {
        let each = passes.iter().map(|(name, pass)| {
            let values = range.values(points);
            let points = sweep(pass, shop, &range, &values).map_err(Failure::Entries)?;
            let name = name.clone();
            Ok(Swept { name, points })
        });
        each.collect()
    };
    let shown = swept(flags.points)?;
    let fine = || swept(((flags.points - 1) * FINER + 1).max(DOTS));
    let mut told = Vec::new();
    if let Some(path) = &flags.svg {
        let picture = svg(&title(pass), &range, &fine()?, look.system);
        write_new(
            files,
            path,
            visible::shown(&picture).as_bytes(),
            flags.force,
        )?;
        told.push(format!("the curves are drawn in {}", path.display()));
    }
    let answer = if look.json {
        Answer::json(&document::document(&range, &shown))?
    } else {
        let fine = fine()?;
        let table = text::table(&range, &shown, look.system);
        let governed = text::governed(&range, &fine, look.system);
        let theme = Theme {
            colour: false,
            ascii: look.ascii,
        };
        let curves = chart::text(&range, &fine, look.system, theme);
        Answer::plain(format!("{table}\n{governed}\n{curves}"))
    };
    Ok(answer.telling(told))
}

/// What the picture is of, from what was typed.
pub(super) fn title(pass: &Description) -> String {
    const KEYS: [Key; 10] = [
        Key::Cutter,
        Key::Diameter,
        Key::Path,
        Key::Depth,
        Key::Width,
        Key::Stock,
        Key::Condition,
        Key::Spindle,
        Key::Feed,
        Key::FeedPerTooth,
    ];
    let parts = KEYS.iter().filter_map(|key| {
        let text = pass.get(key)?;
        Some(match key.field().symbol() {
            Some(symbol) => format!("{} {text}", symbol.text),
            None => text.to_owned(),
        })
    });
    parts.collect::<Vec<String>>().join(", ")
}

/// Writes a file; one that is there is written over only when that is asked for.
pub(super) fn write_new(
    files: &Files<'_>,
    path: &Path,
    bytes: &[u8],
    force: bool,
) -> Result<(), Failure> {
    let failed = |error| Failure::File {
        path: path.to_owned(),
        error,
    };
    let disk = files.disk;
    let seen = match disk.read(path) {
        Ok(seen) => Some(seen),
        Err(error) if error.kind() == io::ErrorKind::NotFound => None,
        Err(error) => return Err(failed(error)),
    };
    if seen.is_some() && !force {
        let text = "exists already and is not overwritten: choose another name, or add --force";
        return Err(failed(io::Error::new(io::ErrorKind::AlreadyExists, text)));
    }
    match save(disk, path, seen.as_deref(), bytes) {
        // A picture can be drawn again: a power cut is no reason to fail.
        Ok(()) | Err(SaveError::Unsure(_)) => Ok(()),
        Err(error) => Err(failed(io::Error::other(error.to_string()))),
    }
}
