//! The view of a varied entry: what the marked value comes to, and the curves.

use super::paint::wrapped;
use super::plan;
use crate::pass::answered::Answered;
use crate::tui::state::ScreenState;
use crate::tui::vary::Vary;
use crate::tui::words;
use feeds_core::symbol as s;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Line;

pub(super) fn draw(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let Some(vary) = &state.vary else { return };
    let theme = state.theme;
    let [title, curves] =
        Layout::vertical([Constraint::Length(1), Constraint::Fill(1)]).areas(area);
    let line = theme.say(&heading(state, vary)).into_owned();
    frame.render_widget(Line::styled(line, theme.heading()), title);
    if let (Some(error), true) = (&vary.error, vary.passes.is_empty()) {
        let error = theme.say(error);
        let lines = wrapped(&error, usize::from(area.width));
        for (line, row) in lines.into_iter().zip(curves.rows()) {
            frame.render_widget(Line::styled(line, theme.wrong()), row);
        }
        return;
    }
    let chart = vary.chart(state.system, theme);
    chart.draw(curves, frame.buffer_mut());
}

/// The marked value and the loads it comes to; the rest stands in the head.
fn heading(state: &ScreenState, vary: &Vary) -> String {
    let show = |symbol: &s::Symbol, si: f64| symbol.show(si, state.system);
    let (entry, symbol) = (vary.range.entry, vary.range.symbol);
    let mut first = format!("{}: {}", entry.name, show(symbol, vary.value()));
    if vary.draft().is_some() {
        first = format!("{first} ({} {})", words::WAS, show(symbol, vary.was));
    }
    let mut parts = vec![first];
    if let Some(loads) = plan(state).and_then(|plan| plan.loads.as_ref()) {
        parts.push(format!("F_xy {}", show(&s::F_XY, loads.lateral)));
        parts.push(format!("tip δ {}", show(&s::DEFLECTION, loads.tip)));
    }
    let answer = state.live.answer.as_ref();
    if answer.is_some_and(Answered::is_extrapolated) {
        parts.push(words::EXTRAPOLATED.to_owned());
    }
    parts.join("   ")
}
