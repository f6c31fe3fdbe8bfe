//! Reads the programme as it is meant: the unit it is written in and whether it names its tools
//! settle what is known of it, and both stand in the programme itself.

use super::simulated::{self, StationList};
use super::{Flags, Notes, failed, gathered};
use crate::answer::Failure;
use crate::arguments::Look;
use crate::audit::beside::lane;
use crate::audit::known::{AuditKnown, written_in};
use crate::audit::source::ProgrammeSource;
use crate::command::files::Files;
use crate::progress::RunProgress;
use feeds_core::programme::{Reader, Report, Setting, Simulated, Unwatched, Watch};
use std::path::Path;

/// A programme that was read, and what it was read with.
pub(super) struct Meant {
    pub(super) report: Report,
    pub(super) known: AuditKnown,
    pub(super) notes: Notes,
    /// The cut along it, where that is asked for.
    pub(super) asked: Option<Simulated>,
}

impl Meant {
    /// Reads it, more than once where what stands in it changes what is known.
    ///
    /// # Errors
    /// When a file cannot be read, or something typed cannot be understood.
    pub(super) fn read(
        flags: &Flags,
        source: &ProgrammeSource,
        look: Look,
        files: &Files<'_>,
    ) -> Result<Self, Failure> {
        let (mut known, mut notes) = gathered(flags, look, files, look.system)?;
        let asked = simulated::asked(flags, &known.setting)?;
        let other = |report: &Report, system| {
            let written = written_in(report);
            (flags.job.is_some() && written != system).then_some(written)
        };
        if let Some(asked) = asked {
            // The head of a programme tells as much, most often: its cut needs no reading before.
            let head = head(source, &known.setting)?;
            let system = other(&head, look.system);
            let (base, notes) = match system {
                Some(written) => gathered(flags, look, files, written)?,
                None => (known.clone(), notes.clone()),
            };
            let toolless = base.of_no_tool(&head);
            let names_tools = toolless.is_none();
            let mut known = toolless.unwrap_or_else(|| base.clone());
            known.setting.simulate = Some(asked);
            if head.readable {
                let cut = Cut::along(flags, source, &known.setting, look.watched)?;
                let report = &cut.report;
                let right = report.readable
                    && other(report, system.unwrap_or(look.system)).is_none()
                    && base.of_no_tool(report).is_none() == names_tools;
                if right {
                    return cut.meant(known, notes, asked);
                }
            }
        }
        let mut report = read(source, &known.setting)?;
        if let Some(written) = other(&report, look.system) {
            (known, notes) = gathered(flags, look, files, written)?;
            report = read(source, &known.setting)?;
        }
        if let Some(other) = known.of_no_tool(&report) {
            report = read(source, &other.setting)?;
            known = other;
        }
        if let Some(asked) = asked.filter(|_| report.readable) {
            known.setting.simulate = Some(asked);
            let cut = Cut::along(flags, source, &known.setting, look.watched)?;
            return cut.meant(known, notes, asked);
        }
        Ok(Self {
            report,
            known,
            notes,
            asked,
        })
    }
}

/// Reads the first lines of a programme.
fn head(source: &ProgrammeSource, setting: &Setting) -> Result<Report, Failure> {
    let mut reader = Reader::new(setting.clone());
    let fed = source.pieces_while(0, |piece| {
        reader.feed(piece);
        false
    });
    fed.map_err(|e| failed(source.path(), e))?;
    Ok(reader.finish())
}

/// Reads a programme.
fn read(source: &ProgrammeSource, setting: &Setting) -> Result<Report, Failure> {
    let mut reader = Reader::new(setting.clone());
    let fed = source.pieces(|piece| reader.feed(piece));
    fed.map_err(|e| failed(source.path(), e))?;
    Ok(reader.finish())
}

/// Cuts the stock along a programme, in so many threads if that was said, and tells a `terminal`
/// how far it is where that takes long.
pub(in crate::command) fn cut_along<W: Watch>(
    source: &ProgrammeSource,
    setting: &Setting,
    watch: W,
    (terminal, threads): (bool, Option<u8>),
) -> Result<(Report, W), Failure> {
    let mut reader = Reader::beside(setting.clone(), watch, |stage| lane(stage, threads));
    let mut progress = RunProgress::new("cutting the stock along the programme", terminal);
    let (mut done, all) = (0, source.size().unwrap_or(0));
    let fed = source.pieces(|piece| {
        for part in piece.chunks(LITTLE) {
            reader.feed(part);
            done += part.len() as u64;
            progress.step(done, all);
        }
    });
    drop(progress);
    fed.map_err(|e| failed(source.path(), e))?;
    Ok(reader.finish_watched())
}

/// Bytes between two looks at the clock: a few dozen lines.
const LITTLE: usize = 1024;

/// A programme whose stock was cut, with the list of its stations where that is wanted.
struct Cut<'a> {
    report: Report,
    list: Option<(StationList, &'a Path)>,
}

impl<'a> Cut<'a> {
    fn along(
        flags: &'a Flags,
        source: &ProgrammeSource,
        setting: &Setting,
        terminal: bool,
    ) -> Result<Self, Failure> {
        let how = (terminal, flags.threads);
        let Some(path) = &flags.stations else {
            let (report, _) = cut_along(source, setting, Unwatched, how)?;
            return Ok(Self { report, list: None });
        };
        let list = StationList::begin(path)?;
        let (report, list) = cut_along(source, setting, list, how)?;
        Ok(Self {
            report,
            list: Some((list, path)),
        })
    }

    /// Cut with what was known: its list gets its name.
    fn meant(self, known: AuditKnown, notes: Notes, asked: Simulated) -> Result<Meant, Failure> {
        if let Some((list, path)) = self.list {
            list.finish(path)?;
        }
        Ok(Meant {
            report: self.report,
            known,
            notes,
            asked: Some(asked),
        })
    }
}
