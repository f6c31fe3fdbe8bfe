//! Programmed and reached feed over the time of the programme.

use crate::audit::shown::Shown;
use crate::tui::audit::AuditView;
use crate::tui::state::ScreenState;
use crate::tui::view::paint::{framed, wrapped};
use crate::tui::words;
use feeds_core::quantity::amount::significant;
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Line;
use ratatui::widgets::{Axis, Chart, Dataset, GraphType};

/// The marks of the programmed and the reached feed where only plain signs can be shown.
const MARKS: [char; 2] = ['.', 'o'];

pub(super) fn draw(state: &ScreenState, audit: &AuditView, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let trace = &audit.report.trace;
    let Some(reached) = audit.report.reach_time.filter(|_| !trace.is_empty()) else {
        let lines = wrapped(&theme.say(words::NO_REACH), usize::from(area.width));
        for (text, row) in lines.into_iter().zip(area.rows()) {
            frame.render_widget(Line::raw(text), row);
        }
        return;
    };
    let (mut programmed, mut got, mut time) = (Vec::new(), Vec::new(), 0.0);
    for sample in trace {
        let middle = time + sample.seconds / 2.0;
        programmed.push((middle, sample.programmed));
        got.push((middle, sample.reached));
        time += sample.seconds;
    }
    let shown = Shown(state.system);
    let top = trace.iter().map(|s| s.programmed).fold(1.0, f64::max);
    let [dots, line] = MARKS.map(String::from);
    let [dots, line] = if theme.ascii {
        [dots.as_str(), line.as_str()]
    } else {
        ["dots", "line"]
    };
    let below = [
        format!(
            "{dots}: {}   {line}: {}   {}/min over seconds",
            words::PROGRAMMED,
            words::REACHED,
            shown.length_unit()
        ),
        format!(
            "{} as programmed, {} as the axes reach, rapid moves included",
            shown.time(audit.report.cut_time.number()),
            shown.time(reached.number())
        ),
    ];
    let place = framed(frame, area, theme, words::FEED_OVER_TIME, &below);
    let wanted = Dataset::default()
        .marker(theme.marker(MARKS[0]))
        .graph_type(GraphType::Scatter)
        .style(Style::new().fg(theme.stock()))
        .data(&programmed);
    let curve = Dataset::default()
        .marker(theme.marker(MARKS[1]))
        .graph_type(GraphType::Line)
        .style(Style::new().fg(theme.cut()))
        .data(&got);
    let number = |value: f64| Line::raw(significant(value));
    let feed = |value: f64| Line::raw(shown.number(value));
    let chart = Chart::new(vec![wanted, curve])
        .x_axis(Axis::default().bounds([0.0, time]).labels([
            number(0.0),
            number(time / 2.0),
            number(time),
        ]))
        .y_axis(
            Axis::default()
                .bounds([0.0, top])
                .labels([feed(0.0), feed(top / 2.0), feed(top)]),
        );
    frame.render_widget(chart, place);
}
