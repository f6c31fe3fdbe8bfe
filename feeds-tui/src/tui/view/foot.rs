//! The foot: what the entry under the cursor is for, and the keys.

use super::paint::wrapped;
use crate::pass::field::Field;
use crate::sweep::chart::packed;
use crate::tui::keys;
use crate::tui::shelves;
use crate::tui::state::{Over, ScreenState, View};
use crate::tui::words;
use crate::words::in_units;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Line;

/// Lines of the foot.
pub(super) const HEIGHT: u16 = 5;

pub(super) fn draw(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let [rule, about, hints] = Layout::vertical([
        Constraint::Length(1),
        Constraint::Length(3),
        Constraint::Length(1),
    ])
    .areas(area);
    let width = usize::from(area.width);
    frame.render_widget(Line::styled("─".repeat(width), theme.dim()), rule);
    let mut lines = Vec::new();
    if let Some(note) = &state.note {
        let note = wrapped(&theme.say(note), width);
        lines.extend(note.into_iter().map(|n| Line::styled(n, theme.strong())));
    }
    let told = key_of_curves(state, width).unwrap_or_else(|| vec![about_entry(state)]);
    for text in told.into_iter().chain([origin(state)]) {
        let text = theme.say(&text);
        lines.extend(wrapped(&text, width).into_iter().map(Line::raw));
    }
    for (line, place) in lines.into_iter().zip(about.rows()) {
        frame.render_widget(line, place);
    }
    frame.render_widget(Line::styled(keys_here(state), theme.dim()), hints);
}

/// Why the entry is asked, what it takes, an example; or what is wrong with it.
fn about_entry(state: &ScreenState) -> String {
    if state.view == View::Audit {
        return words::ABOUT_AUDIT.to_owned();
    }
    if let Some(error) = state.vary.as_ref().and_then(|vary| vary.error.as_ref()) {
        return error.clone();
    }
    if let (View::Shop, Some(field)) = (state.view, shelves::field(state)) {
        return in_units(&what_it_takes(field), state.system);
    }
    if let Some(Over::Begin(begin)) = &state.over {
        return in_units(&begin.step.hint(), state.system);
    }
    if state.view != View::Walk {
        let shown = state.live.answer.is_some() || matches!(state.view, View::Job | View::Shop);
        let words = if shown { view_words(state.view) } else { "" };
        return words.to_owned();
    }
    let field = state.field();
    if let Some(error) = state.error(field) {
        return format!("{}: {error}", field.name);
    }
    in_units(&what_it_takes(field), state.system)
}

/// What the lines and signs of the curves stand for.
fn key_of_curves(state: &ScreenState, width: usize) -> Option<Vec<String>> {
    let vary = state.vary.as_ref().filter(|vary| vary.error.is_none())?;
    let key = vary.chart(state.system, state.theme).key();
    Some(packed(key, ", ", width))
}

fn what_it_takes(field: &Field) -> String {
    format!(
        "{}: {}; {} {}, {} {}",
        field.name,
        field.about(),
        words::TAKES,
        field.accepts(),
        words::SUCH_AS,
        field.example
    )
}

/// Where the value under the cursor is from.
fn origin(state: &ScreenState) -> String {
    if let Some(vary) = &state.vary {
        return vary.governed(state.system).unwrap_or_default();
    }
    let field = state.field();
    if let (View::Walk, Some(idle)) = (state.view, state.idle(field)) {
        return words::idle(idle);
    }
    if state.view != View::Walk || state.typed(field).is_some() {
        return String::new();
    }
    state.in_effect(field).map_or_else(String::new, |value| {
        format!("{}: {}", value.text, words::from(&value.from))
    })
}

fn view_words(view: View) -> &'static str {
    match view {
        View::Walk | View::Audit | View::Vary | View::Practice | View::Lessons => "",
        View::Checks => words::ABOUT_CHECKS,
        View::Pictures => words::ABOUT_PICTURES,
        View::Moments => words::ABOUT_MOMENTS,
        View::Working => words::ABOUT_WORKING,
        View::Sources => words::ABOUT_SOURCES,
        View::Listen => words::ABOUT_LISTEN,
        View::Overrides => words::ABOUT_OVERRIDES,
        View::Big => words::ABOUT_BIG,
        View::Job => words::ABOUT_JOB,
        View::Features => words::ABOUT_FEATURES,
        View::Shop => words::ABOUT_SHOP,
        View::Rehearsal => words::REHEARSAL,
    }
}

pub(super) fn keys_here(state: &ScreenState) -> String {
    keys::foot(state.scope())
}
