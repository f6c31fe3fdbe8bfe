//! One panel: heading, axis, shade, curves.

use super::{Chart, LABEL, MARKS, column};
use crate::sweep::axis::Axis;
use crate::sweep::panel::{Panel, Run};
use feeds_core::limit::State;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Color, Style};
use ratatui::widgets::Widget;
use ratatui::widgets::canvas::{Canvas, Context, Line, Points};

/// Dots of a sign, across and down.
const DOTS: (u16, u16) = (2, 4);
/// A dotted curve has a dot, a dashed one half a dash, in every so many.
const SPACED: u16 = 3;
const DASHED: u16 = 8;

/// A panel in its place.
pub(super) struct Plot<'a> {
    chart: &'a Chart<'a>,
    panel: &'static Panel,
    area: Rect,
    /// Where the curves are.
    inner: Rect,
    axis: Axis,
    /// Size of the axis' unit.
    size: f64,
}

impl<'a> Plot<'a> {
    pub(super) fn new(chart: &'a Chart<'a>, panel: &'static Panel, area: Rect) -> Self {
        let inner = Rect {
            x: area.x + LABEL + 1,
            y: area.y + 1,
            width: area.width - LABEL - 1,
            height: area.height - 1,
        };
        let marks = f64::from(inner.height / 2).clamp(2.0, 5.0);
        let (axis, size) = panel.scale(chart.passes, chart.system, marks);
        Self {
            chart,
            panel,
            area,
            inner,
            axis,
            size,
        }
    }

    pub(super) fn draw(&self, buffer: &mut Buffer) {
        let (theme, inner) = (self.chart.theme, self.inner);
        let Chart { passes, system, .. } = self.chart;
        let heading = self.panel.heading(passes, self.axis, *system);
        let heading = theme.say(&heading);
        let width = self.area.width.into();
        buffer.set_stringn(self.area.x, self.area.y, heading, width, theme.heading());
        for y in inner.y..inner.bottom() {
            buffer[(inner.x - 1, y)]
                .set_char('│')
                .set_style(theme.dim());
        }
        for mark in self.axis.marks() {
            let below = column(self.axis.share(mark), inner.height * DOTS.1) / DOTS.1;
            let label = format!("{:>width$}", self.axis.label(mark), width = LABEL.into());
            let y = inner.bottom() - 1 - below;
            buffer.set_stringn(self.area.x, y, label, LABEL.into(), theme.dim());
        }
        self.shade(buffer);
        let last = |cells: u16, dots: u16| f64::from(cells * dots) - 1.0;
        Canvas::default()
            .x_bounds([0.0, last(inner.width, DOTS.0)])
            .y_bounds([0.0, last(inner.height, DOTS.1)])
            .paint(|context| self.curves(context))
            .render(inner, buffer);
    }

    /// Shades where the limit that governs the first pass is passed, and marks the value.
    fn shade(&self, buffer: &mut Buffer) {
        let (theme, inner) = (self.chart.theme, self.inner);
        let span = self.chart.range.to - self.chart.range.from;
        let marked = self.chart.at.map(|at| {
            let share = (at - self.chart.range.from) / span;
            column(share, inner.width)
        });
        for x in 0..inner.width {
            let pass = self.chart.passes.first();
            let outcome = pass.and_then(|p| self.chart.outcome(p, x, inner.width));
            let over = outcome.is_some_and(|o| o.state() == Some(State::Over));
            let (sign, style) = match (marked == Some(x), over) {
                (true, _) => ('│', theme.strong()),
                (false, true) => ('░', Style::new().fg(theme.stock())),
                (false, false) => continue,
            };
            for y in inner.y..inner.bottom() {
                buffer[(inner.x + x, y)].set_char(sign).set_style(style);
            }
        }
    }

    /// Layers of signs: the floor, the second pass, the first.
    fn curves(&self, context: &mut Context) {
        let theme = self.chart.theme;
        let marker = |plain: char| theme.marker(plain);
        let passes = &self.chart.passes[..self.chart.passes.len().min(2)];
        let [one, other, floor] = MARKS;
        context.marker(marker(floor));
        for run in passes.iter().flat_map(|p| self.panel.floor(p)) {
            let dashes = |dot| dot % DASHED < DASHED / 2;
            points(context, &self.dotted(&run, dashes), theme.cutter());
        }
        if let Some(second) = passes.get(1) {
            context.marker(marker(other));
            for run in self.panel.curve(second) {
                let dots = |dot| dot % SPACED == 0;
                points(context, &self.dotted(&run, dots), theme.cutter());
            }
        }
        if let Some(first) = passes.first() {
            context.marker(marker(one));
            for run in self.panel.curve(first) {
                let run: Vec<(f64, f64)> = run.iter().map(|&at| self.dots(at)).collect();
                points(context, &run, theme.cut());
                for ends in run.windows(2) {
                    let ((x1, y1), (x2, y2)) = (ends[0], ends[1]);
                    context.draw(&Line::new(x1, y1, x2, y2, theme.cut()));
                }
            }
        }
    }

    /// A value and what it comes to, in dots from the lower left.
    fn dots(&self, (at, value): (f64, f64)) -> (f64, f64) {
        let range = self.chart.range;
        let across = (at - range.from) / (range.to - range.from);
        let up = self.axis.share(value / self.size);
        let last = |cells: u16, dots: u16| f64::from(cells * dots) - 1.0;
        (
            across * last(self.inner.width, DOTS.0),
            up * last(self.inner.height, DOTS.1),
        )
    }

    /// Those dots of a curve, one a column, that are `kept`.
    fn dotted(&self, run: &Run, kept: impl Fn(u16) -> bool) -> Vec<(f64, f64)> {
        let run: Vec<(f64, f64)> = run.iter().map(|&at| self.dots(at)).collect();
        (0..self.inner.width * DOTS.0)
            .filter(|dot| kept(*dot))
            .filter_map(|dot| {
                let x = f64::from(dot);
                let ends = run.windows(2).find(|w| w[0].0 <= x && x <= w[1].0)?;
                let ((x1, y1), (x2, y2)) = (ends[0], ends[1]);
                let share = (x - x1) / (x2 - x1).max(f64::MIN_POSITIVE);
                Some((x, y1 + share * (y2 - y1)))
            })
            .collect()
    }
}

fn points(context: &mut Context, coords: &[(f64, f64)], color: Color) {
    context.draw(&Points { coords, color });
}
