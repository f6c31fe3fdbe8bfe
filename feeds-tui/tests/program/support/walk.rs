//! The screens without a terminal: keys in, frames out.

use feeds_core::symbol::System;
use feeds_tui::demo::{self, NamedPass};
use feeds_tui::pass::resolve::TablesOnly;
use feeds_tui::tui::keys::{self, Press};
use feeds_tui::tui::planning::plan_on;
use feeds_tui::tui::state::ScreenState;
use feeds_tui::tui::terminal::Rest;
use feeds_tui::tui::theme::Theme;
use feeds_tui::tui::update::update;
use feeds_tui::tui::view::view;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;
use ratatui::crossterm::event::{Event, KeyCode};
use std::rc::Rc;

pub(crate) const PLAIN: Theme = Theme {
    colour: false,
    ascii: false,
};

pub(crate) fn open(passes: Vec<NamedPass>, theme: Theme) -> ScreenState {
    ScreenState::new(passes, Rc::new(TablesOnly), System::Metric, theme)
}

pub(crate) fn demo() -> ScreenState {
    open(demo::passes(), PLAIN)
}

/// Hands an event to the screens as the loop does.
pub(crate) fn send(state: &mut ScreenState, event: &Event) {
    if let Some(message) = keys::message(event, state.scope()) {
        update(state, message);
        while plan_on(state) == Rest::Busy {}
    }
}

/// Presses keys: `<Name>` for named keys, every other sign for itself.
#[track_caller]
pub(crate) fn press(state: &mut ScreenState, keys: &str) {
    for press in presses(keys) {
        send(state, &press.event());
    }
}

/// The keys of a text: `<Name>` for named keys, every other sign for itself.
#[track_caller]
pub(crate) fn presses(keys: &str) -> Vec<Press> {
    let mut all = Vec::new();
    let mut rest = keys;
    while let Some(sign) = rest.chars().next() {
        let named = rest.strip_prefix('<').and_then(|r| r.split_once('>'));
        let (press, after) = match named {
            Some((name, after)) => (of_name(name), after),
            None => (Press::Sign(sign), &rest[sign.len_utf8()..]),
        };
        all.push(press);
        rest = after;
    }
    all
}

#[track_caller]
fn of_name(name: &str) -> Press {
    if let Some(letter) = name.strip_prefix("Ctrl-") {
        return Press::Control(letter.chars().next().unwrap().to_ascii_lowercase());
    }
    Press::Named(match name {
        "Enter" => KeyCode::Enter,
        "Esc" => KeyCode::Esc,
        "Tab" => KeyCode::Tab,
        "BackTab" => KeyCode::BackTab,
        "Up" => KeyCode::Up,
        "Down" => KeyCode::Down,
        "Left" => KeyCode::Left,
        "Right" => KeyCode::Right,
        "Home" => KeyCode::Home,
        "End" => KeyCode::End,
        "PageDown" => KeyCode::PageDown,
        "PageUp" => KeyCode::PageUp,
        "Backspace" => KeyCode::Backspace,
        "Delete" => KeyCode::Delete,
        name => panic!("no key {name}"),
    })
}

pub(crate) fn buffer(state: &ScreenState, width: u16, height: u16) -> Buffer {
    let mut terminal = Terminal::new(TestBackend::new(width, height)).unwrap();
    terminal.draw(|frame| view(state, frame)).unwrap();
    terminal.backend().buffer().clone()
}

/// The frame as lines, blanks at their ends dropped.
pub(crate) fn frame(state: &ScreenState, width: u16, height: u16) -> Vec<String> {
    let buffer = buffer(state, width, height);
    buffer
        .content
        .chunks(usize::from(width))
        .map(|row| {
            let line: String = row.iter().map(ratatui::buffer::Cell::symbol).collect();
            line.trim_end().to_owned()
        })
        .collect()
}

#[track_caller]
pub(crate) fn shows(state: &ScreenState, words: &[&str]) {
    let frame = frame(state, 80, 24).join("\n");
    for word in words {
        assert!(frame.contains(word), "no «{word}» in\n{frame}");
    }
}
