//! The audit of a programme on the screens: its uses, findings, path, feed and lines.

use super::ask::Purpose;
use super::cutting::Cutting;
use super::effect::Effect;
use super::message::Action;
use super::state::{ScreenState, View};
use super::terminal::Rest;
use super::update::moved;
use super::words;
use crate::audit::against::Against;
use crate::audit::known::{Asked, AuditKnown, known, written_in};
use crate::audit::lines::Index;
use crate::audit::source::ProgrammeSource;
use crate::audit::trail::Trail;
use crate::job::answers;
use feeds_core::programme::{CutAlong, Finding, Reader, Report, Setting, StripBin};
use std::io;
use std::path::PathBuf;
use std::rc::Rc;

/// What is shown of a programme.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AuditPart {
    /// Tool, speed and feed, longest first.
    Uses,
    /// What was found, the serious first.
    Findings,
    /// The path from above.
    Path,
    /// Programmed and reached feed over time.
    Feed,
    /// The lines of the programme.
    Lines,
    /// What it is looked at against: stock, hold, travel, spindle, reach.
    Against,
    /// The cut along the programme: the strip, the stock, the lines that work hardest.
    Cut,
}

impl AuditPart {
    /// All parts, in the order they are walked.
    pub const ALL: [Self; 7] = [
        Self::Uses,
        Self::Findings,
        Self::Path,
        Self::Feed,
        Self::Lines,
        Self::Against,
        Self::Cut,
    ];

    /// Its name.
    pub fn word(self) -> &'static str {
        match self {
            Self::Uses => "uses",
            Self::Findings => "findings",
            Self::Path => "path",
            Self::Feed => "feed",
            Self::Lines => "lines",
            Self::Against => "against",
            Self::Cut => "cut",
        }
    }
}

/// Lines of the programme kept around the cursor, so that drawing reads no file.
const AROUND: u64 = 120;

/// A programme with its audit.
#[derive(Clone, Debug)]
pub struct AuditView {
    /// What it is called.
    pub name: String,
    /// What was found out.
    pub report: Rc<Report>,
    /// The findings, the serious first.
    pub findings: Rc<Vec<Finding>>,
    /// The path.
    pub trail: Rc<Trail>,
    /// What it was looked at against.
    pub against: Rc<[Against]>,
    /// The part that is open.
    pub part: AuditPart,
    /// The use whose path is marked.
    pub marked: Option<usize>,
    /// Whether it is compared with the passes that are open here.
    pub beside: bool,
    /// Line of each part the cursor is on, from 0.
    at: [usize; 7],
    source: ProgrammeSource,
    index: Rc<Index>,
    /// What was known when it was opened, and what it is looked at with now.
    opened: Rc<AuditKnown>,
    known: Rc<AuditKnown>,
    /// Number of the first line kept, and the lines.
    kept: (u64, Vec<String>),
    /// Why lines are missing.
    pub unread: Option<String>,
    /// How far the cut along the programme is.
    pub cutting: Cutting,
}

impl AuditView {
    /// Reads and audits a programme.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn of(source: ProgrammeSource, known: AuditKnown) -> io::Result<Self> {
        let mut reader = Reader::watched(known.setting.clone(), Trail::default());
        let mut index = Index::default();
        source.pieces(|piece| {
            reader.feed(piece);
            index.take(piece);
        })?;
        let (report, trail) = reader.finish_watched();
        if let Some(known) = known.of_no_tool(&report) {
            return Self::of(source, known);
        }
        let findings = report.worst_first().into_iter().cloned().collect();
        let name = source
            .path()
            .map_or_else(|| "demo".to_owned(), |path| path.display().to_string());
        let known = Rc::new(known);
        let mut audit = Self {
            name,
            report: Rc::new(report),
            findings: Rc::new(findings),
            trail: Rc::new(trail),
            part: AuditPart::Uses,
            marked: None,
            beside: false,
            at: [0; 7],
            source,
            index: Rc::new(index),
            against: Rc::from(known.against()),
            opened: Rc::clone(&known),
            known,
            kept: (1, Vec::new()),
            unread: None,
            cutting: Cutting::default(),
        };
        audit.keep(0);
        audit.part = audit.first_part();
        Ok(audit)
    }

    /// The part that is shown first: the findings when there is one to put right.
    fn first_part(&self) -> AuditPart {
        if self.report.has_errors() || !self.report.readable {
            AuditPart::Findings
        } else {
            AuditPart::Uses
        }
    }

    /// What it is compared with.
    pub fn plan(&self) -> &'static str {
        match (self.beside, self.opened.job.is_empty()) {
            (true, _) => words::WITH_PASSES,
            (false, false) => words::WITH_JOB,
            (false, true) => words::ALONE,
        }
    }

    /// The line of the open part the cursor is on, from 0.
    pub fn line(&self) -> usize {
        self.at[self.part as usize]
    }

    /// How many lines the open part has.
    pub fn count(&self) -> usize {
        match self.part {
            AuditPart::Uses => self.report.uses.len(),
            AuditPart::Findings => self.findings.len(),
            // Nothing marked, or one of the uses.
            AuditPart::Path => self.report.uses.len() + 1,
            AuditPart::Feed => 0,
            AuditPart::Cut => self.cut().map_or(0, |cut| cut.strip.len()),
            AuditPart::Against => self.against.len(),
            AuditPart::Lines => usize::try_from(self.report.lines).unwrap_or(usize::MAX),
        }
    }

    /// A line of the programme, if it is one of those near the cursor.
    pub fn text(&self, number: u64) -> Option<&str> {
        let place = usize::try_from(number.checked_sub(self.kept.0)?).ok()?;
        self.kept.1.get(place).map(String::as_str)
    }

    /// The finding under the cursor.
    pub fn finding(&self) -> Option<&Finding> {
        self.findings.get(self.at[AuditPart::Findings as usize])
    }

    /// The findings of a line, the serious first.
    pub fn of_line(&self, number: u64) -> impl Iterator<Item = &Finding> {
        self.findings.iter().filter(move |f| f.line == number)
    }

    fn move_to(&mut self, at: usize) {
        self.at[self.part as usize] = at;
        match self.part {
            AuditPart::Path => self.marked = at.checked_sub(1),
            AuditPart::Lines => self.keep(at as u64),
            AuditPart::Findings => {
                if let Some(line) = self.finding().map(|f| f.line) {
                    self.keep(line.saturating_sub(1));
                }
            }
            AuditPart::Cut => {
                if let Some(line) = self.bin().map(|bin| bin.worst_line) {
                    self.keep(line.saturating_sub(1));
                }
            }
            AuditPart::Uses | AuditPart::Feed | AuditPart::Against => {}
        }
    }

    /// The cut along the programme, once it is worked out.
    pub fn cut(&self) -> Option<&CutAlong> {
        self.report.simulation.as_ref()
    }

    /// Whether the cut is still to come, so that more may be found.
    pub fn waits_for_the_cut(&self) -> bool {
        self.setting().stock.is_some()
            && self.cut().is_none()
            && !matches!(self.cutting, Cutting::Done)
    }

    /// The stretch of the way under the cursor.
    pub fn bin(&self) -> Option<&StripBin> {
        self.cut()?.strip.get(self.at[AuditPart::Cut as usize])
    }

    /// What is known where the stock is.
    pub fn setting(&self) -> &Setting {
        &self.known.setting
    }

    /// Keeps the lines around one, counted from 0.
    fn keep(&mut self, at: u64) {
        let first = at.saturating_sub(AROUND) + 1;
        let near = at + 1 >= self.kept.0 + AROUND / 2 || self.kept.0 == 1;
        if near
            && self
                .text((at + AROUND / 2).min(self.report.lines))
                .is_some()
        {
            return;
        }
        match self.index.lines(&self.source, first, 2 * AROUND) {
            Ok(lines) => {
                self.kept = (first, lines);
                self.unread = None;
            }
            Err(error) => self.unread = Some(error.to_string()),
        }
    }

    fn show(&mut self, part: AuditPart) {
        self.part = part;
        let at = self.line().min(self.count().saturating_sub(1));
        self.move_to(at);
    }

    fn step(&mut self, steps: usize) {
        let at = (self.part as usize + steps) % AuditPart::ALL.len();
        self.show(AuditPart::ALL[at]);
    }
}

/// Asks for the file of a programme.
pub(super) fn ask(state: &mut ScreenState) {
    let before = state.audit.as_ref().and_then(|a| a.source.path());
    let before = before.map_or_else(String::new, |p| p.display().to_string());
    state.ask(words::WHICH_PROGRAMME, Purpose::Programme, &before);
}

/// Opens the programme whose file was named; the reason if it cannot be read.
pub(super) fn named(state: &mut ScreenState, text: &str) -> Result<(), String> {
    if text.is_empty() {
        return Err(words::PROGRAMME_NEEDED.to_owned());
    }
    let source = ProgrammeSource::File(PathBuf::from(text));
    let asked = Asked {
        system: state.system,
        ..Asked::default()
    };
    let known = known(asked, None, &state.shop).map_err(|e| e.to_string())?;
    let audit = AuditView::of(source, known)
        .map_err(|error| format!("{text}: {error}; {}", words::FILE_LIKE))?;
    open(state, audit);
    // The passes of a file are those it was posted for; those of the demo are nobody's.
    if state.filed.file.is_some() {
        compare(state);
        if let Some(audit) = &mut state.audit {
            audit.show(audit.first_part());
        }
    }
    Ok(())
}

/// Shows an audit.
pub fn open(state: &mut ScreenState, audit: AuditView) {
    state.audit = Some(audit);
    state.view = View::Audit;
}

/// Takes an action of this view; false when it is not one.
pub(super) fn act(state: &mut ScreenState, action: Action) -> bool {
    let Some(audit) = state.audit.as_mut().filter(|_| state.view == View::Audit) else {
        return false;
    };
    match action {
        Action::Down
        | Action::Up
        | Action::PageDown
        | Action::PageUp
        | Action::First
        | Action::Last => {
            let at = moved(audit.line(), audit.count(), action);
            audit.move_to(at);
        }
        Action::NextStation => audit.step(1),
        Action::PreviousStation => audit.step(AuditPart::ALL.len() - 1),
        Action::Open => follow(audit),
        Action::Walk if audit.cutting.stop() => {}
        Action::Walk if audit.part == AuditPart::Lines => audit.show(AuditPart::Findings),
        Action::Compare => compare(state),
        _ => return false,
    }
    true
}

/// From a finding to its line, from a use to its path, from a line to its finding.
fn follow(audit: &mut AuditView) {
    match audit.part {
        AuditPart::Uses => {
            audit.at[AuditPart::Path as usize] = audit.line() + 1;
            audit.show(AuditPart::Path);
        }
        AuditPart::Findings => {
            let Some(line) = audit.finding().map(|f| f.line) else {
                return;
            };
            audit.at[AuditPart::Lines as usize] = usize::try_from(line - 1).unwrap_or(usize::MAX);
            audit.show(AuditPart::Lines);
        }
        AuditPart::Path => {
            let first = audit.marked.and_then(|at| audit.report.uses.get(at));
            let Some(line) = first.map(|u| u.first_line) else {
                return;
            };
            audit.at[AuditPart::Lines as usize] = usize::try_from(line - 1).unwrap_or(usize::MAX);
            audit.show(AuditPart::Lines);
        }
        AuditPart::Lines => {
            let number = audit.line() as u64 + 1;
            if let Some(at) = audit.findings.iter().position(|f| f.line == number) {
                audit.at[AuditPart::Findings as usize] = at;
                audit.show(AuditPart::Findings);
            }
        }
        AuditPart::Cut => {
            let Some(line) = audit.bin().map(|bin| bin.worst_line) else {
                return;
            };
            audit.at[AuditPart::Lines as usize] = usize::try_from(line - 1).unwrap_or(usize::MAX);
            audit.show(AuditPart::Lines);
        }
        AuditPart::Feed | AuditPart::Against => {}
    }
}

/// Audits once more beside the passes that are open here, or as it was opened.
fn compare(state: &mut ScreenState) {
    let Some(audit) = &state.audit else { return };
    let (opened, beside, part) = (Rc::clone(&audit.opened), !audit.beside, audit.part);
    let again = if beside {
        // Without typed tools there is nothing that could be wrong.
        // What a pass chooses is round in the unit of the programme, as whoever posted it set it.
        let shop = state.shop.in_system(written_in(&audit.report));
        let worked = answers(&state.job, &shop);
        let asked = Asked {
            system: state.system,
            ..Asked::default()
        };
        known(asked, Some(&worked), &state.shop).unwrap_or_default()
    } else {
        (*opened).clone()
    };
    let Some(audit) = &mut state.audit else {
        return;
    };
    match AuditView::of(audit.source.clone(), again) {
        Ok(new) => {
            *audit = AuditView {
                beside,
                opened,
                ..new
            };
            audit.show(part);
        }
        Err(error) => audit.unread = Some(error.to_string()),
    }
}

/// Words the audit in the system of units that is read now.
pub(super) fn refresh(state: &mut ScreenState) {
    let (system, open) = (state.system, state.view == View::Audit);
    let old = |a: &&mut AuditView| open && a.known.system != system;
    let Some(audit) = state.audit.as_mut().filter(old) else {
        return;
    };
    match AuditView::of(audit.source.clone(), audit.known.in_system(system)) {
        Ok(new) => {
            // The findings are the same in the same order: only their words change.
            audit.opened = Rc::new(audit.opened.in_system(system));
            audit.known = new.known;
            audit.report = new.report;
            audit.findings = new.findings;
            audit.against = new.against;
            audit.cutting = Cutting::default();
        }
        Err(error) => audit.unread = Some(error.to_string()),
    }
}

/// Cuts the stock along the programme a little further, where that is looked at.
pub fn cut_on(state: &mut ScreenState) -> Rest {
    let open = |a: &&mut AuditView| a.part == AuditPart::Cut && state.view == View::Audit;
    let Some(audit) = state.audit.as_mut().filter(open) else {
        return Rest::Idle;
    };
    let done = match audit.cutting.go_on(&audit.source, &audit.known.setting) {
        Ok(done) => done,
        Err(error) => {
            audit.unread = Some(error.to_string());
            return Rest::Done;
        }
    };
    if let Some(report) = done {
        audit.findings = Rc::new(report.worst_first().into_iter().cloned().collect());
        audit.report = Rc::new(*report);
        audit.move_to(0);
        return Rest::Done;
    }
    if audit.cutting.is_at_work() {
        Rest::Busy
    } else {
        Rest::Idle
    }
}

/// Asks for a programme, or goes back to the one that is open.
pub(super) fn key(state: &mut ScreenState) -> Effect {
    match (&state.audit, state.view) {
        (Some(_), view) if view != View::Audit => state.view = View::Audit,
        _ => ask(state),
    }
    Effect::Draw
}
