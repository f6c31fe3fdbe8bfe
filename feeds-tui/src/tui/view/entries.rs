//! The entries of a station: what was typed, or the value in effect with its origin.

use super::paint;
use crate::pass::field::Field;
use crate::tui::state::{Over, ScreenState};
use crate::tui::words;
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

const NAME: usize = 33;
const VALUE: usize = 18;

/// Draws the entries; gives the room they leave.
pub(super) fn draw(state: &ScreenState, frame: &mut Frame, area: Rect) -> Option<Rect> {
    let fields = state.fields();
    let height = usize::from(area.height);
    let first = paint::first_line(state.row(), fields.len(), height);
    for (at, row) in (first..fields.len()).zip(area.rows()) {
        let here = at == state.row();
        paint::put(frame, &line(state, fields[at], here), row);
    }
    let used = u16::try_from(fields.len() + 1).unwrap_or(u16::MAX);
    let height = area.height.checked_sub(used)?;
    (height >= 3).then_some(Rect {
        y: area.y + used,
        height,
        ..area
    })
}

fn line<'a>(state: &ScreenState, field: &'static Field, here: bool) -> Line<'a> {
    let theme = state.theme;
    let mark = if here { "> " } else { "  " };
    let name = theme.say(field.name);
    let name_style = if here {
        theme.here()
    } else {
        ratatui::style::Style::new()
    };
    let mut spans = vec![
        Span::raw(mark),
        Span::styled(name.clone().into_owned(), name_style),
        Span::raw(" ".repeat(NAME.saturating_sub(name.chars().count()).max(1))),
    ];
    if let (true, Some(Over::Entry(line))) = (here, &state.over) {
        spans.extend(paint::typed(theme, line));
    } else if let Some(text) = state.typed(field) {
        let text = theme.say(text).into_owned();
        let gap = VALUE.saturating_sub(text.chars().count()).max(2);
        spans.push(Span::styled(text, theme.strong()));
        spans.push(Span::raw(" ".repeat(gap)));
        if let Some(idle) = state.idle(field) {
            let text = theme.say(&words::idle(idle)).into_owned();
            spans.push(Span::styled(text, theme.dim()));
        } else if state.error(field).is_none() {
            spans.push(Span::styled(
                words::stands(state.stands(field)),
                theme.dim(),
            ));
        }
    } else if let Some(value) = state.in_effect(field) {
        let text = theme.say(&value.text).into_owned();
        let gap = VALUE.saturating_sub(text.chars().count()).max(2);
        spans.push(Span::styled(text, theme.dim()));
        if state.error(field).is_none() {
            let from = theme.say(&words::from_short(&value.from)).into_owned();
            spans.push(Span::raw(" ".repeat(gap)));
            spans.push(Span::styled(from, theme.dim()));
        }
    } else if state.error(field).is_none() {
        spans.push(Span::styled(words::NOTHING, theme.dim()));
    }
    if let Some(error) = state.error(field) {
        spans.push(Span::raw("  "));
        spans.push(Span::styled(theme.say(&error).into_owned(), theme.wrong()));
    }
    Line::from(spans)
}
