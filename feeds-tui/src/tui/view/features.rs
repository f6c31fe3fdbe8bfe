//! The features with their plans.

use super::paint::{first_line, wrapped};
use crate::tui::state::ScreenState;
use crate::tui::words;
use feeds_core::limit::State;
use feeds_core::verdict::Verdict;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::Style;
use ratatui::text::{Line, Span};

pub(super) fn draw(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let [heading, middle] =
        Layout::vertical([Constraint::Length(1), Constraint::Fill(1)]).areas(area);
    frame.render_widget(Line::styled(words::FEATURES, theme.heading()), heading);
    let view = &state.features;
    if view.lines.is_empty() {
        let text = theme.say(words::NO_FEATURES).into_owned();
        for (part, row) in wrapped(&text, usize::from(middle.width))
            .into_iter()
            .zip(middle.rows())
        {
            frame.render_widget(Line::styled(part, theme.dim()), row);
        }
        return;
    }
    let (mut lines, mut cursor) = (Vec::new(), 0);
    for (at, line) in view.lines.iter().enumerate() {
        let here = at == view.at;
        if here {
            cursor = lines.len();
        }
        let style = match line.verdict {
            _ if here => theme.here(),
            Some(Verdict::Run) => theme.state(State::Ok),
            Some(Verdict::Care) => theme.state(State::Caution),
            Some(Verdict::Stop) => theme.wrong(),
            None if line.plan.is_none() => Style::new(),
            None => theme.dim(),
        };
        let head = line.plan.is_none() && (at == 0 || view.lines[at - 1].feature != line.feature);
        let style = if head && !here { theme.strong() } else { style };
        let indent = if head { 2 } else { 4 };
        let mark = if here { ">" } else { " " };
        let room = usize::from(middle.width).saturating_sub(indent + 2);
        for (k, part) in wrapped(&theme.say(&line.text), room)
            .into_iter()
            .enumerate()
        {
            let gap = if k == 0 { indent } else { indent + 2 };
            let mark = if k == 0 { mark } else { " " };
            lines.push(Line::from(vec![
                Span::raw(format!("{mark:<gap$}")),
                Span::styled(part, style),
            ]));
        }
    }
    let first = first_line(cursor, lines.len(), usize::from(middle.height));
    for (line, row) in lines.into_iter().skip(first).zip(middle.rows()) {
        frame.render_widget(line, row);
    }
}
