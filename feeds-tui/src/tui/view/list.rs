//! Views that are lists of lines: checks, moments, working, sources.

use super::paint::{first_line, wrapped};
use crate::pass::decision::use_of;
use crate::tui::rows::{self, Row};
use crate::tui::state::ScreenState;
use crate::tui::words;
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};

/// Signs of a bar in the list of checks.
const BAR: usize = 10;

pub(super) fn rows(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let rows = rows::of(state);
    let mut lines = Vec::new();
    let mut cursor = 0;
    for (at, row) in rows.iter().enumerate() {
        let here = at == state.line.min(rows.len() - 1);
        if here {
            cursor = lines.len();
        }
        draw_row(state, row, here, usize::from(area.width), &mut lines);
    }
    let first = first_line(cursor, lines.len(), usize::from(area.height));
    for (line, place) in lines.into_iter().skip(first).zip(area.rows()) {
        frame.render_widget(line, place);
    }
}

fn draw_row(state: &ScreenState, row: &Row, here: bool, width: usize, lines: &mut Vec<Line>) {
    let theme = state.theme;
    let style = match &row.check {
        _ if here => theme.here(),
        Some(check) => theme.state(check.state()),
        None if row.heading => theme.heading(),
        None => Style::new(),
    };
    let head = match &row.check {
        None => String::new(),
        Some(check) => format!(
            "{:<8}{:>7}{:1} {}  ",
            check.state().word(),
            use_of(check),
            state.live.answer.as_ref().map_or("", |a| a.mark(check)),
            words::bar(check, BAR, theme)
        ),
    };
    let leads = if row.target.is_some() { '+' } else { ' ' };
    let mark = if here { '>' } else { leads };
    let indent = row.indent.max(2) + head.chars().count();
    let text = theme.say(&row.text);
    for (at, part) in wrapped(&text, width.saturating_sub(indent))
        .into_iter()
        .enumerate()
    {
        let lead = if at == 0 {
            format!("{mark}{}{head}", " ".repeat(row.indent.max(2) - 1))
        } else {
            " ".repeat(indent)
        };
        lines.push(Line::from(vec![Span::raw(lead), Span::styled(part, style)]));
    }
}
