//! The screens on a terminal: events in, frames and effects out.

use super::audit::Audit;
use super::effect::{Effect, copy};
use super::keys;
use super::record::Record;
use super::shop::Shop;
use super::state::State;
use super::terminal::{App, End, Flow, show};
use super::theme::Theme;
use super::update::update;
use super::view::view;
use crate::answer::{Answer, Failure};
use crate::arguments::Look;
use crate::command::files::Files;
use crate::demo::NamedPass;
use ratatui::Frame;
use ratatui::crossterm::event::Event;
use signal_hook::low_level::emulate_default_handler;
use std::io::{self, stdout};
use std::rc::Rc;

/// Opens the walk on the first of some passes, and comes back when it is left.
///
/// # Errors
/// If the terminal cannot be used.
pub fn open(
    files: &Files<'_>,
    passes: Vec<NamedPass>,
    shop: Rc<dyn Shop>,
    look: Look,
) -> Result<Answer, Failure> {
    run(files, State::new(passes, shop, look.system, theme(look)))
}

/// Opens the screens on a programme that is audited.
///
/// # Errors
/// If the terminal cannot be used.
pub fn open_on(
    files: &Files<'_>,
    audit: Audit,
    passes: Vec<NamedPass>,
    shop: Rc<dyn Shop>,
    look: Look,
) -> Result<Answer, Failure> {
    let mut state = State::new(passes, shop, look.system, theme(look));
    super::audit::open(&mut state, audit);
    run(files, state)
}

fn theme(look: Look) -> Theme {
    Theme {
        colour: look.colour,
        ascii: look.ascii,
    }
}

/// The screens, and the record of practice they keep.
struct Screens<'a> {
    state: State,
    record: Record<'a>,
}

fn run(files: &Files<'_>, mut state: State) -> Result<Answer, Failure> {
    let record = Record::open(files, &mut state);
    let mut screens = Screens { state, record };
    match show(&mut screens).map_err(Failure::Terminal)? {
        End::Quit => {}
        // The terminal is given back: now the process ends as the signal would have ended it.
        End::Signal(signal) => emulate_default_handler(signal).map_err(Failure::Terminal)?,
    }
    Ok(Answer::plain(""))
}

impl App for Screens<'_> {
    fn update(&mut self, event: Event) -> io::Result<Flow> {
        if matches!(event, Event::Resize(..)) {
            return Ok(Flow::Draw);
        }
        let Some(message) = keys::message(&event, self.state.scope()) else {
            return Ok(Flow::Rest);
        };
        Ok(match update(&mut self.state, message) {
            Effect::Draw => Flow::Draw,
            Effect::Practised => {
                self.record.keep(&mut self.state);
                Flow::Draw
            }
            Effect::Rest => Flow::Rest,
            Effect::Quit => Flow::Quit,
            Effect::Copy(text) => {
                copy(&text, &mut stdout())?;
                Flow::Draw
            }
        })
    }

    fn view(&self, frame: &mut Frame) {
        view(&self.state, frame);
    }
}
