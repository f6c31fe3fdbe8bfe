//! A page that takes the whole screen: a title, rows, and what stands below them.

use super::foot::keys_here;
use super::head::{marked, two};
use super::paint::{self, wrapped};
use crate::tui::rows::Row;
use crate::tui::state::ScreenState;
use crate::tui::words;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};

/// The open lesson.
pub(super) fn lesson(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let reading = state.lesson;
    let title = (reading.title().to_owned(), reading.place());
    let rows = reading.rows(state.system);
    draw(state, frame, area, (title, &rows, reading.top, None));
}

/// The open question with its answers, and the line for the next one.
pub(super) fn practice(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let practice = &state.practice;
    let title = (practice.title(), practice.score());
    let rows = practice.rows(state.system);
    let theme = state.theme;
    let mut answer = Vec::new();
    if practice.asked().is_some() && !practice.record {
        answer.push(Span::styled(
            format!("{}: ", words::ANSWER),
            theme.heading(),
        ));
        answer.extend(paint::typed(theme, &practice.line));
    } else {
        answer.push(Span::styled(words::GO_ON, theme.heading()));
    }
    let answer = Some(Line::from(answer));
    draw(state, frame, area, (title, &rows, practice.top, answer));
}

type Parts<'a> = ((String, String), &'a [Row], usize, Option<Line<'a>>);

fn draw(state: &ScreenState, frame: &mut Frame, area: Rect, parts: Parts<'_>) {
    let ((title, right), rows, top, answer) = parts;
    let theme = state.theme;
    let [head, body, line, rule, hints] = Layout::vertical([
        Constraint::Length(1),
        Constraint::Fill(1),
        Constraint::Length(answer.is_some().into()),
        Constraint::Length(1),
        Constraint::Length(1),
    ])
    .areas(area);
    let title = marked(state, title);
    let title = Line::styled(theme.say(&title), theme.heading());
    two(frame, head, title, Line::raw(right));
    let width = usize::from(area.width);
    let mut lines: Vec<Line> = Vec::new();
    let mut first = 0;
    for (at, row) in rows.iter().enumerate() {
        if at == top {
            first = lines.len();
        }
        let style = if row.heading {
            theme.strong()
        } else {
            ratatui::style::Style::new()
        };
        let text = theme.say(&row.text);
        let room = width.saturating_sub(row.indent);
        lines.extend(wrapped(&text, room).into_iter().map(|part| {
            let lead = " ".repeat(row.indent);
            Line::from(vec![Span::raw(lead), Span::styled(part, style)])
        }));
    }
    if top >= rows.len() {
        first = lines.len();
    }
    let first = first.min(lines.len().saturating_sub(usize::from(body.height)));
    for (line, place) in lines.into_iter().skip(first).zip(body.rows()) {
        frame.render_widget(line, place);
    }
    if let Some(answer) = answer {
        frame.render_widget(answer, line);
    }
    let between = match &state.note {
        Some(note) => Line::styled(theme.say(note).into_owned(), theme.strong()),
        None => Line::styled("─".repeat(width), theme.dim()),
    };
    frame.render_widget(between, rule);
    frame.render_widget(Line::styled(keys_here(state), theme.dim()), hints);
}
