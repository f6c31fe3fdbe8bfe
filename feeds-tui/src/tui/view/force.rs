//! Lateral force over one turn of the cutter.

use super::paint::framed;
use crate::pass::answered::Answered;
use crate::tui::state::State;
use crate::tui::words;
use feeds_core::quantity::Amount;
use feeds_core::symbol::{F_XY, System};
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Line;
use ratatui::widgets::{Axis, Chart, Dataset, GraphType};

pub(super) fn draw(state: &State, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let trace = &state.live.trace;
    if trace.is_empty() {
        framed(
            frame,
            area,
            theme,
            words::FORCE,
            &[words::NO_FORCE.to_owned()],
        );
        return;
    }
    let (unit, places) = match state.system {
        System::Metric => F_XY.metric,
        System::Inch => F_XY.inch,
    };
    let shown = |newtons: f64| Amount::of(newtons, unit);
    // The largest force may lie between two drawn angles: it is known exactly.
    let peak = state.live.answer.as_ref().and_then(|answer| {
        let moments = &answer.plan.moments;
        let (_, loads) = moments.get(state.moment).or(moments.first())?;
        loads.map(|l| l.lateral)
    });
    let most = trace.iter().copied().fold(peak.unwrap_or(0.0), f64::max);
    let least = trace.iter().copied().fold(f64::INFINITY, f64::min);
    let mut below = [format!(
        "{} {} .. {}",
        F_XY.text,
        shown(least).fixed(places),
        shown(most).fixed(places)
    )];
    let answer = state.live.answer.as_ref();
    if answer.is_some_and(Answered::is_extrapolated) {
        below[0] = format!("{}, {}", below[0], words::EXTRAPOLATED);
    }
    let place = framed(frame, area, theme, words::FORCE, &below);
    #[allow(clippy::cast_precision_loss, reason = "a few hundred angles")]
    let points: Vec<(f64, f64)> = trace
        .iter()
        .enumerate()
        .map(|(at, f)| (360.0 * at as f64 / trace.len() as f64, shown(*f).number()))
        .collect();
    let top = shown(most.max(f64::MIN_POSITIVE)).number();
    let degrees = |n: u32| Line::raw(theme.say(&format!("{n}°")).into_owned());
    let newtons = |share: f64| Line::raw(shown(most * share).fixed(places));
    let curve = Dataset::default()
        .marker(theme.marker('o'))
        .graph_type(GraphType::Line)
        .style(Style::new().fg(theme.cut()))
        .data(&points);
    let chart = Chart::new(vec![curve])
        .x_axis(Axis::default().bounds([0.0, 360.0]).labels([
            degrees(0),
            degrees(90),
            degrees(180),
            degrees(270),
            degrees(360),
        ]))
        .y_axis(Axis::default().bounds([0.0, top]).labels([
            newtons(0.0),
            newtons(0.5),
            newtons(1.0),
        ]));
    frame.render_widget(chart, place);
}
