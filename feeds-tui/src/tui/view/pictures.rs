//! Where the pictures go.

use super::{WIDE, chip, engagement, force, margins};
use crate::tui::state::ScreenState;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};

/// From this height on all four pictures stand together.
const TALL: u16 = 28;
/// The most lines a picture beside the entries takes.
const PICTURE: u16 = 20;

/// Beside the entries: the engagement, and the margins below it.
pub(super) fn beside(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let picture = (area.height / 2).min(PICTURE);
    let [above, _, below] = Layout::vertical([
        Constraint::Length(picture),
        Constraint::Length(1),
        Constraint::Fill(1),
    ])
    .areas(area);
    engagement::draw(state, frame, above);
    margins::draw(state, frame, below);
}

/// The pictures alone: all four, or one of two sheets where there is less room.
pub(super) fn draw(state: &ScreenState, frame: &mut Frame, area: Rect) {
    if area.width >= WIDE && area.height >= TALL {
        let [above, _, below] = Layout::vertical([
            Constraint::Fill(1),
            Constraint::Length(1),
            Constraint::Fill(1),
        ])
        .areas(area);
        pair(state, frame, above, true);
        pair(state, frame, below, false);
    } else {
        pair(state, frame, area, state.line == 0);
    }
}

fn pair(state: &ScreenState, frame: &mut Frame, area: Rect, cut: bool) {
    let [left, _, right] = Layout::horizontal([
        Constraint::Fill(1),
        Constraint::Length(2),
        Constraint::Fill(1),
    ])
    .areas(area);
    if cut {
        engagement::draw(state, frame, left);
        chip::draw(state, frame, right);
    } else {
        force::draw(state, frame, left);
        margins::draw(state, frame, right);
    }
}
