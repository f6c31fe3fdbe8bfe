//! Lateral force over one turn of the cutter.

use super::paint::framed;
use crate::pass::answered::Answered;
use crate::tui::state::ScreenState;
use crate::tui::theme::Theme;
use crate::tui::words;
use feeds_core::quantity::Amount;
use feeds_core::symbol::{F_XY, System};
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Line;
use ratatui::widgets::{Axis, Chart, Dataset, GraphType};

pub(super) fn draw(state: &ScreenState, frame: &mut Frame, area: Rect) {
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
    let newtons = |share: f64| Line::raw(shown(most * share).fixed(places));
    let curve = Dataset::default()
        .marker(theme.marker('o'))
        .graph_type(GraphType::Line)
        .style(Style::new().fg(theme.cut()))
        .data(&points);
    let chart = Chart::new(vec![curve])
        // Room for the marks, which the chart would not set where their angles are.
        .x_axis(Axis::default().bounds([0.0, 360.0]).labels(["", ""]))
        .y_axis(Axis::default().bounds([0.0, top]).labels([
            newtons(0.0),
            newtons(0.5),
            newtons(1.0),
        ]));
    frame.render_widget(chart, place);
    let label = |share: f64| shown(most * share).fixed(places).chars().count();
    let left = [0.0, 0.5, 1.0].map(label).into_iter().max().unwrap_or(0);
    // The chart gives its labels a third of the width at most.
    let left = left.min(usize::from(place.width / 3));
    marks(frame, place, left + 1, theme);
}

/// The quarters of the turn below the curve, each in the middle below its angle.
fn marks(frame: &mut Frame, place: Rect, left: usize, theme: Theme) {
    let width = usize::from(place.width).saturating_sub(left);
    if width == 0 || place.height < 3 {
        return;
    }
    let row = place.bottom() - 1;
    for quarter in 0..=4 {
        let text = theme.say(&format!("{}°", 90 * quarter)).into_owned();
        let size = text.chars().count();
        let under = left + (width - 1) * quarter / 4;
        let from = under
            .saturating_sub(size / 2)
            .min(left + width - size.min(width));
        let x = place.x + u16::try_from(from).unwrap_or(place.width);
        frame
            .buffer_mut()
            .set_stringn(x, row, text, size, Style::new());
    }
}
