//! The passes of the job in order.

use super::paint::{first_line, wrapped};
use crate::tui::job::PassLine;
use crate::tui::state::ScreenState;
use crate::tui::words;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};

/// Signs of the name at the least width.
const NAME: usize = 29;
/// Signs of figures that are behind it.
const FIGURES: usize = 40;

pub(super) fn draw(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let in_all = wrapped(&theme.say(&state.order.totals), usize::from(area.width));
    let [heading, middle, totals] = Layout::vertical([
        Constraint::Length(1),
        Constraint::Fill(1),
        Constraint::Length(u16::try_from(in_all.len()).unwrap_or(1)),
    ])
    .areas(area);
    let title = match state.job.name.as_str() {
        "" => words::UNNAMED_JOB,
        name => name,
    };
    frame.render_widget(Line::styled(theme.say(title), theme.heading()), heading);
    let width = usize::from(middle.width);
    let mut lines = Vec::new();
    let mut cursor = 0;
    for (at, pass) in state.order.lines.iter().enumerate() {
        if at == state.at {
            cursor = lines.len() + 1;
        }
        draw_pass(state, at, pass, width, &mut lines);
    }
    let first = first_line(cursor, lines.len(), usize::from(middle.height));
    for (line, row) in lines.into_iter().skip(first).zip(middle.rows()) {
        frame.render_widget(line, row);
    }
    for (text, row) in in_all.into_iter().zip(totals.rows()) {
        frame.render_widget(Line::styled(text, theme.strong()), row);
    }
}

fn draw_pass(state: &ScreenState, at: usize, pass: &PassLine, width: usize, lines: &mut Vec<Line>) {
    let theme = state.theme;
    let here = at == state.at;
    let room = NAME.max(width.saturating_sub(FIGURES + 8));
    let name: String = theme.say(&pass.name).chars().take(room).collect();
    let gap = " ".repeat(room + 1 - name.chars().count());
    let style = if here { theme.here() } else { theme.strong() };
    let mark = if here { '>' } else { ' ' };
    lines.push(Line::from(vec![
        Span::raw(format!("{mark}{:>2} ", at + 1)),
        Span::styled(name, style),
        Span::raw(gap),
        Span::raw(theme.say(&pass.figures).into_owned()),
    ]));
    let governs = match pass.state {
        Some(state) => theme.state(state),
        None => theme.wrong(),
    };
    let first = if pass.state.is_some() {
        pass.governs.clone()
    } else {
        format!("{}: {}", words::TO_PUT_RIGHT, pass.governs)
    };
    let mut below = |text: &str, style| {
        for part in wrapped(&theme.say(text), width.saturating_sub(4)) {
            lines.push(Line::from(vec![
                Span::raw("    "),
                Span::styled(part, style),
            ]));
        }
    };
    below(&first, governs);
    below(&pass.cutter, theme.dim());
    for text in &pass.more {
        below(text, ratatui::style::Style::new());
    }
}
