//! The screens on a terminal: events in, frames and effects out.

use super::audit::{self, AuditView};
use super::desk::Desk;
use super::effect::{Effect, copy};
use super::keys;
use super::record::Record;
use super::state::ScreenState;
use super::terminal::{App, Flow, Leaving, Rest, show};
use super::view::view;
use crate::answer::{Answer, Failure};
use crate::arguments::Look;
use crate::command::files::Files;
use ratatui::Frame;
use ratatui::crossterm::event::Event;
use signal_hook::low_level::emulate_default_handler;
use std::io::{self, stdout};
use std::path::Path;

/// The screens with the desk they work at, and the record of practice they keep.
struct Screens<'a> {
    state: ScreenState,
    desk: Desk,
    record: Record<'a>,
}

/// Opens the screens on a job, or on the demo, and comes back when they are left.
///
/// # Errors
/// If the terminal cannot be used, or the job or the shop asked for cannot be read.
pub fn open(files: &Files<'_>, job: Option<&Path>, look: Look) -> Result<Answer, Failure> {
    let (desk, state) = Desk::open(files, job, look)?;
    run(files, desk, state)
}

/// Opens the screens on a programme that is audited, beside the job it was posted for.
///
/// # Errors
/// As [`open`].
pub fn open_on(
    audited: AuditView,
    files: &Files<'_>,
    job: Option<&Path>,
    look: Look,
) -> Result<Answer, Failure> {
    let (desk, mut state) = Desk::open(files, job, look)?;
    audit::open(&mut state, audited);
    run(files, desk, state)
}

fn run(files: &Files<'_>, desk: Desk, mut state: ScreenState) -> Result<Answer, Failure> {
    let record = Record::open(files, &mut state);
    let mut screens = Screens {
        state,
        desk,
        record,
    };
    let end = show(&mut screens).map_err(Failure::Terminal);
    let told = screens.desk.close(&screens.state);
    match end? {
        Leaving::Quit => {}
        // The terminal is given back: now the process ends as the signal would have ended it.
        Leaving::Signal(signal) => emulate_default_handler(signal).map_err(Failure::Terminal)?,
    }
    Ok(Answer::plain("").telling(told))
}

impl App for Screens<'_> {
    fn update(&mut self, event: Event) -> io::Result<Flow> {
        if matches!(event, Event::Resize(..)) {
            return Ok(Flow::Draw);
        }
        let Some(message) = keys::message(&event, self.state.scope()) else {
            return Ok(Flow::Rest);
        };
        match self.desk.take(&mut self.state, message) {
            Effect::Rest => return Ok(Flow::Rest),
            Effect::Quit => return Ok(Flow::Quit),
            Effect::Copy(text) => copy(&text, &mut stdout())?,
            Effect::Practised => self.record.keep(&mut self.state),
            // The desk has done the rest.
            _ => {}
        }
        Ok(Flow::Draw)
    }

    fn rest(&mut self) -> Rest {
        match self.desk.plan_on(&mut self.state) {
            Rest::Idle => {}
            rest => return rest,
        }
        match audit::cut_on(&mut self.state) {
            Rest::Idle if self.state.live.work_out_how_sure() => Rest::Done,
            rest => rest,
        }
    }

    fn view(&self, frame: &mut Frame) {
        view(&self.state, frame);
    }
}
