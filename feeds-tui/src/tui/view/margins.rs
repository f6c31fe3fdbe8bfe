//! Checks as bars with words, the governing one first.

use super::paint::{put, wrapped};
use super::plan;
use crate::pass::decision::use_of;
use crate::pass::sure;
use crate::tui::state::ScreenState;
use crate::tui::words;
use feeds_core::limit::Check;
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

/// Signs before the bar: state and margin.
const WORDS: usize = 17;
/// Signs of the longest name.
const NAME: usize = 33;

pub(super) fn draw(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let Some(plan) = plan(state) else { return };
    let mut lines = vec![Line::styled(words::MARGINS, theme.heading())];
    // A wall that nobody asked for narrows no feeds.
    let by_given = Some(&plan.feeds_by_given).filter(|feeds| !feeds.is_empty());
    let feeds = words::feeds(by_given.unwrap_or(&plan.feeds), state.system);
    let feeds = theme.say(&feeds);
    let feeds = wrapped(&feeds, usize::from(area.width));
    lines.extend(feeds.into_iter().map(Line::raw));
    let room = usize::from(area.height).saturating_sub(lines.len());
    let hidden = plan.checks.len().saturating_sub(room);
    let mut places = area.rows();
    for (line, place) in lines.into_iter().zip(&mut places) {
        put(frame, &line, place);
    }
    for (check, place) in plan.checks.iter().zip(places) {
        let last = place.y + 1 == area.y + area.height;
        if last && hidden > 0 {
            let more = format!("and {} more, all in the checks: c", hidden + 1);
            frame.render_widget(Line::styled(more, theme.dim()), place);
        } else {
            put(frame, &line(state, check, usize::from(area.width)), place);
        }
    }
}

fn line<'a>(state: &ScreenState, check: &Check, width: usize) -> Line<'a> {
    let theme = state.theme;
    let margin = use_of(check);
    let mark = state.live.answer.as_ref().map_or("", |a| a.mark(check));
    let room = width.saturating_sub(WORDS + 1);
    let bar = room.saturating_sub(NAME).clamp(8.min(room), 24);
    let name_width = room.saturating_sub(bar).min(NAME);
    let name: String = theme
        .say(check.limit.title)
        .chars()
        .take(name_width)
        .collect();
    Line::from(vec![
        Span::styled(
            format!("{:<8}", check.state().word()),
            theme.state(check.state()),
        ),
        Span::raw(format!("{margin:>7}{mark:1} {name:<name_width$} ")),
        Span::styled(bar_or_band(state, check, bar), theme.cut()),
    ])
}

/// The bar of a check; of one that is always told with its band, the band.
fn bar_or_band(state: &ScreenState, check: &Check, width: usize) -> String {
    let sure = state.live.answer.as_ref().and_then(|a| a.sure.as_ref());
    match sure::always(sure, check.limit) {
        None => words::bar(check, width, state.theme),
        Some(band) => format!(
            "{:.0}..{:.0} %",
            100.0 * (1.0 - band.high),
            100.0 * (1.0 - band.low)
        ),
    }
}
