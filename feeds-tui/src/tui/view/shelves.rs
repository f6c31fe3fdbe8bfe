//! The shelves of the shop: what is found on one, or one thing with its entries.

use super::paint::first_line;
use crate::pass::field::{Field, Shelf};
use crate::store::shop::Item;
use crate::tui::shelves::{found, marked, wanted};
use crate::tui::state::ScreenState;
use crate::tui::words;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::Style;
use ratatui::text::{Line, Span};

/// Signs of a name.
const NAME: usize = 33;

pub(super) fn draw(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let [heading, middle] =
        Layout::vertical([Constraint::Length(1), Constraint::Fill(1)]).areas(area);
    frame.render_widget(shelves(state), heading);
    let (lines, at) = match (state.shelf.row, marked(state)) {
        (Some(row), Some(item)) => (thing(state, item, row), row + 1),
        _ => (things(state), state.shelf.at),
    };
    let first = first_line(at, lines.len(), usize::from(middle.height));
    for (line, row) in lines.into_iter().skip(first).zip(middle.rows()) {
        frame.render_widget(line, row);
    }
}

/// The shelves in words, the open one in brackets, and what is looked for.
fn shelves(state: &ScreenState) -> Line<'static> {
    let theme = state.theme;
    let mut spans = Vec::new();
    for shelf in Shelf::ALL {
        let count = state.shelf.shop().on(shelf).count();
        let text = format!("{} {count}", shelf.plural());
        if shelf == state.shelf.shelf {
            spans.push(Span::styled(format!("[{text}]"), theme.here()));
        } else {
            spans.push(Span::raw(text));
        }
        spans.push(Span::raw("  "));
    }
    let wanted = wanted(state);
    if !wanted.is_empty() {
        let text = format!(" {}: {wanted}", words::FIND);
        spans.push(Span::styled(theme.say(&text).into_owned(), theme.strong()));
    }
    Line::from(spans)
}

fn things(state: &ScreenState) -> Vec<Line<'static>> {
    let theme = state.theme;
    let found = found(state);
    if found.is_empty() {
        return vec![Line::styled(words::EMPTY_SHELF, theme.dim())];
    }
    let line = |(at, item): (usize, &&Item)| {
        let here = at == state.shelf.at;
        let entries = item.texts.iter().map(|(f, t)| format!("{} {t}", f.key));
        let entries: Vec<String> = entries.collect();
        named(state, here, &item.name, &entries.join(", "), theme.dim())
    };
    found.iter().enumerate().map(line).collect()
}

fn thing(state: &ScreenState, item: &Item, row: usize) -> Vec<Line<'static>> {
    let theme = state.theme;
    let title = format!("{} {}", item.shelf.word(), item.name);
    let mut lines = vec![Line::styled(
        theme.say(&title).into_owned(),
        theme.heading(),
    )];
    let fields: Vec<&Field> = item.shelf.fields().collect();
    for (at, field) in fields.iter().enumerate() {
        let needed = item.shelf.needs().contains(&field.id);
        let (text, style) = match item.texts.get(field.key) {
            Some(text) => (text, theme.strong()),
            None if needed => (words::NEEDED, theme.wrong()),
            None => (words::NOTHING, theme.dim()),
        };
        lines.push(named(state, at == row, field.name, text, style));
    }
    let note = match item.note.as_str() {
        "" => words::NOTHING,
        note => note,
    };
    let here = row == fields.len();
    lines.push(named(state, here, words::NOTE, note, Style::new()));
    lines
}

fn named(state: &ScreenState, here: bool, name: &str, text: &str, style: Style) -> Line<'static> {
    let theme = state.theme;
    let name = theme.say(name).into_owned();
    let gap = " ".repeat(NAME.saturating_sub(name.chars().count()).max(2));
    let name_style = if here { theme.here() } else { Style::new() };
    Line::from(vec![
        Span::raw(if here { "> " } else { "  " }),
        Span::styled(name, name_style),
        Span::raw(gap),
        Span::styled(theme.say(text).into_owned(), style),
    ])
}
