//! What turning the overrides does to the open pass: where rubbing and breaking begin.

use super::paint::wrapped;
use crate::sheet::{MARKS, override_table};
use crate::tui::state::ScreenState;
use crate::tui::words;
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

/// Signs of a cell.
const CELL: usize = 10;
/// Signs of what a row is.
const LABEL: usize = 24;

pub(super) fn draw(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let Some(overrides) = &state.overrides else {
        frame.render_widget(Line::styled(words::NO_ANSWER, theme.wrong()), area);
        return;
    };
    let table = override_table(overrides, state.system);
    let cells = |cells: &[String]| -> String {
        let shown = cells.iter().map(|cell| format!("{cell:>CELL$}"));
        shown.collect()
    };
    let label = format!("f_z {}: {}", table.unit, words::OVERRIDES);
    let columns = format!("{label:<LABEL$}{}", cells(&table.columns));
    let mut lines = vec![Line::styled(
        theme.say(&columns).into_owned(),
        theme.heading(),
    )];
    for (feed, row) in &table.rows {
        let mut spans = vec![Span::raw(format!("{feed:>width$}  ", width = LABEL - 2))];
        for (column, cell) in table.columns.iter().zip(row) {
            // As programmed.
            let programmed = *feed == PROGRAMMED && *column == PROGRAMMED;
            let style = if programmed {
                theme.here()
            } else {
                ratatui::style::Style::new()
            };
            let gap = CELL.saturating_sub(cell.chars().count());
            spans.push(Span::raw(" ".repeat(gap)));
            spans.push(Span::styled(cell.clone(), style));
        }
        lines.push(Line::from(spans));
    }
    for (what, row) in &table.used {
        lines.push(Line::raw(format!("{what:<LABEL$}{}", cells(row))));
    }
    let width = usize::from(area.width);
    let dial = format!("feed dial: {}", table.dial);
    for text in [MARKS, &dial, &table.begins] {
        let text = theme.say(text);
        lines.extend(wrapped(&text, width).into_iter().map(Line::raw));
    }
    for (line, row) in lines.into_iter().zip(area.rows()) {
        frame.render_widget(line, row);
    }
}

const PROGRAMMED: &str = "100 %";
