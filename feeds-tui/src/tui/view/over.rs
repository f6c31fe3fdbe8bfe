//! What lies over a view: a list to pick from, or help.

use super::paint::{self, first_line, wrapped};
use crate::tui::ask::Prompt;
use crate::tui::line;
use crate::tui::question::Asking;
use crate::tui::state::{Over, ScreenState};
use crate::tui::words;
use crate::words::said_in;
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::{Block, Clear, Paragraph};

pub(super) fn draw(state: &ScreenState, frame: &mut Frame, area: Rect) {
    match &state.over {
        None | Some(Over::Entry(_)) => {}
        Some(Over::Pick(pick)) => {
            let found: Vec<String> = pick.found().into_iter().map(str::to_owned).collect();
            let title = state.field().name;
            let list = List {
                title,
                wanted: &pick.wanted,
                lines: &found,
                at: pick.at,
                none: words::NONE_FOUND,
            };
            list.draw(state, frame, area);
        }
        Some(Over::Help(help)) => {
            let lines: Vec<String> = state
                .helped(help)
                .iter()
                .map(|key| {
                    let names: Vec<String> = key.presses.iter().map(|p| p.name()).collect();
                    format!("{:<22} {}", names.join(", "), key.words)
                })
                .collect();
            let list = List {
                title: words::HELP,
                wanted: &help.wanted,
                lines: &lines,
                at: help.at,
                none: words::NO_KEY_FOUND,
            };
            list.draw(state, frame, area);
        }
        Some(Over::Ask(ask)) => draw_ask(state, ask, frame, area),
        Some(Over::Begin(begin)) => {
            let found: Vec<String> = begin.pick.found().into_iter().map(str::to_owned).collect();
            let list = List {
                title: begin.step.title(),
                wanted: &begin.pick.wanted,
                lines: &found,
                at: begin.pick.at,
                none: &said_in(begin.step.or_typed(), state.system),
            };
            list.draw(state, frame, area);
        }
        Some(Over::Question(question)) => draw_question(state, question, frame, area),
    }
}

/// The question, the text while it is typed, and below it why it was not taken.
fn draw_ask(state: &ScreenState, ask: &Prompt, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let width = area.width.saturating_sub(8).max(area.width.min(64));
    let inside = usize::from(width.saturating_sub(2));
    let wrong = ask.error.as_deref().map(|e| said_in(e, state.system));
    let wrong = wrong.map(|e| wrapped(&theme.say(&e), inside));
    let wrong = wrong.unwrap_or_default();
    let height = u16::try_from(wrong.len() + 3).unwrap_or(area.height);
    let place = Rect {
        x: area.x + (area.width - width) / 2,
        y: area.y,
        width,
        height: height.min(area.height),
    };
    let inner = boxed(state, &ask.title, frame, place);
    let mut rows = inner.rows();
    if let Some(row) = rows.next() {
        let line = Line::from(paint::typed(theme, &ask.line));
        // The cursor stays in sight.
        let before = theme.say(ask.line.split().0).chars().count();
        let hidden = u16::try_from((before + 1).saturating_sub(inside)).unwrap_or(0);
        frame.render_widget(Paragraph::new(line).scroll((0, hidden)), row);
    }
    for (text, row) in wrong.into_iter().zip(rows) {
        frame.render_widget(Line::styled(text, theme.wrong()), row);
    }
}

/// The question, what there is to know, and its answers.
fn draw_question(state: &ScreenState, question: &Asking, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let width = area.width.saturating_sub(4);
    let inside = usize::from(width.saturating_sub(2));
    let mut lines: Vec<Line> = wrapped(&theme.say(&question.about), inside)
        .into_iter()
        .map(Line::raw)
        .collect();
    for (at, answer) in question.answers.iter().enumerate() {
        lines.push(if at == question.at {
            Line::styled(format!("> {}", answer.text()), theme.here())
        } else {
            Line::raw(format!("  {}", answer.text()))
        });
    }
    let height = u16::try_from(lines.len() + 2).unwrap_or(area.height);
    let place = Rect {
        x: area.x + 2,
        y: area.y,
        width,
        height: height.min(area.height),
    };
    let inner = boxed(state, &question.title, frame, place);
    for (line, row) in lines.into_iter().zip(inner.rows()) {
        frame.render_widget(line, row);
    }
}

/// An empty box over the view; gives the room in it.
fn boxed(state: &ScreenState, title: &str, frame: &mut Frame, place: Rect) -> Rect {
    let theme = state.theme;
    frame.render_widget(Clear, place);
    let block = Block::bordered()
        .title(theme.say(&said_in(title, state.system)).into_owned())
        .border_style(theme.dim())
        .title_style(theme.heading());
    let inner = block.inner(place);
    frame.render_widget(block, place);
    inner
}

struct List<'a> {
    title: &'a str,
    wanted: &'a line::EditLine,
    lines: &'a [String],
    at: usize,
    none: &'a str,
}

impl List<'_> {
    fn draw(&self, state: &ScreenState, frame: &mut Frame, area: Rect) {
        let theme = state.theme;
        let longest = self
            .lines
            .iter()
            .map(|l| l.chars().count())
            .max()
            .unwrap_or(0);
        let width = u16::try_from(longest + 6)
            .unwrap_or(area.width)
            .clamp(64.min(area.width), area.width);
        let height = u16::try_from(self.lines.len().max(1) + 3)
            .unwrap_or(area.height)
            .min(area.height);
        let place = Rect {
            x: area.x + (area.width - width) / 2,
            y: area.y,
            width,
            height,
        };
        let inner = boxed(state, self.title, frame, place);
        let mut rows = inner.rows();
        if let Some(row) = rows.next() {
            let mut spans = vec![Span::raw(format!("{}: ", words::FIND))];
            spans.extend(paint::typed(theme, self.wanted));
            frame.render_widget(Line::from(spans), row);
        }
        if self.lines.is_empty()
            && let Some(row) = rows.next()
        {
            frame.render_widget(Line::styled(self.none, theme.dim()), row);
            return;
        }
        let first = first_line(self.at, self.lines.len(), usize::from(inner.height) - 1);
        for (at, row) in (first..self.lines.len()).zip(rows) {
            let here = at == self.at;
            let text = match self.lines[at].as_str() {
                "" => words::NOTHING.to_owned(),
                text => theme.say(text).into_owned(),
            };
            let line = if here {
                Line::styled(format!("> {text}"), theme.here())
            } else {
                Line::raw(format!("  {text}"))
            };
            frame.render_widget(line, row);
        }
    }
}
