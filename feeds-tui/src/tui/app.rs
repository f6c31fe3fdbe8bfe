//! The screens on a terminal: events in, frames and effects out.

use super::audit::Audit;
use super::effect::{Effect, copy};
use super::keys;
use super::shop::Shop;
use super::state::State;
use super::terminal::{App, End, Flow, show};
use super::theme::Theme;
use super::update::update;
use super::view::view;
use crate::answer::{Answer, Failure};
use crate::arguments::Look;
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
pub fn open(passes: Vec<NamedPass>, shop: Rc<dyn Shop>, look: Look) -> Result<Answer, Failure> {
    run(State::new(passes, shop, look.system, theme(look)))
}

/// Opens the screens on a programme that is audited.
///
/// # Errors
/// If the terminal cannot be used.
pub fn open_on(
    audit: Audit,
    passes: Vec<NamedPass>,
    shop: Rc<dyn Shop>,
    look: Look,
) -> Result<Answer, Failure> {
    let mut state = State::new(passes, shop, look.system, theme(look));
    super::audit::open(&mut state, audit);
    run(state)
}

fn theme(look: Look) -> Theme {
    Theme {
        colour: look.colour,
        ascii: look.ascii,
    }
}

fn run(mut state: State) -> Result<Answer, Failure> {
    match show(&mut state).map_err(Failure::Terminal)? {
        End::Quit => {}
        // The terminal is given back: now the process ends as the signal would have ended it.
        End::Signal(signal) => emulate_default_handler(signal).map_err(Failure::Terminal)?,
    }
    Ok(Answer::plain(""))
}

impl App for State {
    fn update(&mut self, event: Event) -> io::Result<Flow> {
        if matches!(event, Event::Resize(..)) {
            return Ok(Flow::Draw);
        }
        let Some(message) = keys::message(&event, self.scope()) else {
            return Ok(Flow::Rest);
        };
        Ok(match update(self, message) {
            Effect::Draw | Effect::Practised => Flow::Draw,
            Effect::Rest => Flow::Rest,
            Effect::Quit => Flow::Quit,
            Effect::Copy(text) => {
                copy(&text, &mut stdout())?;
                Flow::Draw
            }
        })
    }

    fn view(&self, frame: &mut Frame) {
        view(self, frame);
    }
}
