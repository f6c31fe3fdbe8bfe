//! A varied pass as curves on a terminal: four panels over one axis, shaded where the limit that
//! governs is passed, and below them which limit that is.

mod plot;

use super::axis::Axis;
use super::governed::{limits, stretches};
use super::panel::{PANELS, Panel, unit};
use super::{Point, SweepPoint, SweepRange, Swept};
use crate::tui::theme::Theme;
use feeds_core::limit::{Limit, State};
use feeds_core::symbol::System;
use plot::Plot;
use ratatui::buffer::Buffer;
use ratatui::layout::{Constraint, Layout, Rect};

/// A pass, or two laid over each other, with one entry varied.
#[derive(Clone, Copy, Debug)]
pub struct Chart<'a> {
    /// What is varied.
    pub range: &'a SweepRange,
    /// The passes; at most two are drawn.
    pub passes: &'a [Swept],
    /// The units people read.
    pub system: System,
    /// What the terminal shows.
    pub theme: Theme,
    /// A value to mark, in SI base units.
    pub at: Option<f64>,
    /// The pair of panels that takes all the room; both pairs share it without one.
    pub pair: Option<usize>,
    /// Whether the legend tells every limit, and lines and signs too. Otherwise it has one line,
    /// from the limit at the marked value on, and counts the rest.
    pub keyed: bool,
}

/// The marks of the first curve, the second and the chip floor where only plain signs can be shown.
const MARKS: [char; 3] = ['o', '+', '='];

/// Signs left of a panel's axis.
const LABEL: u16 = 6;
/// Blanks between panels.
const GAP: u16 = 2;
/// Size of the curves of a command.
const WIDTH: u16 = 80;
const HEIGHT: u16 = 28;
/// Dots across a panel of a command: more values than this cannot be seen.
pub const DOTS: usize = (WIDTH - GAP - 2 * (LABEL + 1)) as usize;

/// The curves as lines of 80 columns.
///
/// # Example
/// ```
/// use feeds_core::symbol::System;
/// use feeds_tui::pass::resolve::TablesOnly;
/// use feeds_tui::sweep::{SweepRange, Swept, chart, sweep};
/// use feeds_tui::tui::theme::Theme;
/// let pass = &feeds_tui::demo::passes()[0].typed;
/// let range = SweepRange::read("stick-out=10mm..30mm").unwrap();
/// let points = sweep(pass, &TablesOnly, &range, &range.values(chart::DOTS)).unwrap();
/// let passes = [Swept { name: String::new(), points }];
/// let text = chart::text(&range, &passes, System::Metric, Theme::default());
/// assert!(text.contains("bending of the tip δ [um]"));
/// ```
pub fn text(range: &SweepRange, passes: &[Swept], system: System, theme: Theme) -> String {
    let chart = Chart {
        range,
        passes,
        system,
        theme,
        at: None,
        pair: None,
        keyed: true,
    };
    let area = Rect::new(0, 0, WIDTH, HEIGHT);
    let mut buffer = Buffer::empty(area);
    chart.draw(area, &mut buffer);
    theme.plain(&mut buffer);
    let mut out = format!("over {}:\n", theme.say(&range.heading(system)));
    for row in buffer.content.chunks(usize::from(WIDTH)) {
        let line: String = row.iter().map(ratatui::buffer::Cell::symbol).collect();
        out.push_str(line.trim_end());
        out.push('\n');
    }
    out.truncate(out.trim_end().len());
    out.push('\n');
    out
}

impl Chart<'_> {
    /// Draws into an area; one too small for any curve stays empty.
    pub fn draw(&self, area: Rect, buffer: &mut Buffer) {
        let passes = &self.passes[..self.passes.len().min(2)];
        let governed: Vec<_> = passes.iter().map(|p| stretches(&p.points)).collect();
        let limits = limits(governed.iter().flatten());
        let width = usize::from(area.width);
        let legend = if self.keyed {
            self.legend(&limits, width)
        } else {
            vec![self.line(&limits, width)]
        };
        let count = |n: usize| u16::try_from(n).unwrap_or(u16::MAX);
        let below = count(passes.len()) + 1;
        let [panels, strips, words] = Layout::vertical([
            Constraint::Fill(1),
            Constraint::Length(below),
            Constraint::Length(count(legend.len())),
        ])
        .areas(area);
        let pairs: Vec<&[Panel]> = match self.pair {
            Some(pair) => PANELS.chunks(2).skip(pair).take(1).collect(),
            None => PANELS.chunks(2).collect(),
        };
        let rows = Layout::vertical(pairs.iter().map(|_| Constraint::Fill(1))).split(panels);
        let halves = |area: Rect| -> [Rect; 2] {
            Layout::horizontal([Constraint::Fill(1), Constraint::Fill(1)])
                .spacing(GAP)
                .areas(area)
        };
        if rows.iter().any(|row| row.height < 3) || area.width < 4 * LABEL {
            return;
        }
        for (pair, row) in pairs.into_iter().zip(rows.iter()) {
            for (panel, place) in pair.iter().zip(halves(*row)) {
                Plot::new(self, panel, place).draw(buffer);
            }
        }
        for place in halves(strips) {
            for (pass, row) in passes.iter().zip(place.rows()) {
                self.strip(pass, &limits, row, buffer);
            }
            self.labels(place.rows().next_back().unwrap_or(place), buffer);
        }
        for (line, row) in legend.iter().zip(words.rows()) {
            let line = self.theme.say(line);
            buffer.set_stringn(row.x, row.y, line, row.width.into(), self.theme.dim());
        }
    }

    /// Which limit governs: its number where it begins, then how it stands.
    fn strip(&self, pass: &Swept, limits: &[&'static Limit], row: Rect, buffer: &mut Buffer) {
        let mut before = None;
        for x in row.x + LABEL + 1..row.right() {
            let outcome = self.outcome(pass, x - row.x - LABEL - 1, row.width - LABEL - 1);
            let limit = outcome.and_then(SweepPoint::limit);
            let number = limit.and_then(|limit| limits.iter().position(|l| *l == limit));
            let sign = match number {
                Some(number) if limit != before => numeral(number),
                _ => self.sign(outcome.and_then(SweepPoint::state)),
            };
            before = limit;
            buffer[(x, row.y)].set_char(sign);
        }
    }

    /// Round values under the axis, its unit, and the value that is marked.
    fn labels(&self, row: Rect, buffer: &mut Buffer) {
        let unit = unit(self.range.symbol, self.system);
        let (from, to) = (self.range.from / unit.size, self.range.to / unit.size);
        let inner = Rect {
            x: row.x + LABEL + 1,
            width: row.width - LABEL - 1,
            ..row
        };
        let style = self.theme.dim();
        if !unit.text.is_empty() {
            let text = format!("[{}]", unit.text);
            buffer.set_stringn(row.x, row.y, text, LABEL.into(), style);
        }
        let axis = Axis::between(from, to, f64::from(inner.width) / 8.0);
        for mark in axis.marks() {
            let label = axis.label(mark);
            let half = u16::try_from(label.len() / 2).unwrap_or(0);
            let x = (inner.x + column(axis.share(mark), inner.width)).saturating_sub(half);
            let end = x + u16::try_from(label.len()).unwrap_or(0);
            buffer.set_stringn(x.min(row.right() - (end - x)), row.y, label, 12, style);
        }
        if let Some(at) = self.at {
            let x = inner.x + column(axis.share(at / unit.size), inner.width);
            buffer[(x, row.y)]
                .set_char('^')
                .set_style(self.theme.strong());
        }
    }

    /// What the pass comes to at a column of a panel.
    fn outcome<'p>(&self, pass: &'p Swept, column: u16, width: u16) -> Option<&'p SweepPoint> {
        let share = (f64::from(column) + 0.5) / f64::from(width);
        let at = self.range.from + share * (self.range.to - self.range.from);
        let far = |p: &&Point| (p.at - at).abs();
        let nearest = pass.points.iter().min_by(|a, b| far(a).total_cmp(&far(b)));
        nearest?.outcome.as_ref().ok()
    }

    /// As many limits as one line holds, from the one that governs at the marked value on, and how
    /// many more there are.
    fn line(&self, limits: &[&'static Limit], width: usize) -> String {
        let here = self.at.and_then(|at| {
            let far = |p: &&Point| (p.at - at).abs();
            let points = self.passes.first()?.points.iter();
            let nearest = points.min_by(|a, b| far(a).total_cmp(&far(b)))?;
            let limit = nearest.outcome.as_ref().ok()?.limit()?;
            limits.iter().position(|l| *l == limit)
        });
        let mut names = named(limits);
        names.rotate_left(here.unwrap_or(0));
        let mut line = String::new();
        for (at, name) in names.iter().enumerate() {
            let rest = match names.len() - at - 1 {
                0 => 0,
                more => BETWEEN.len() + rest_of(more).len(),
            };
            let lead = if at > 0 { BETWEEN } else { "" };
            let longer = [line.as_str(), lead, name].concat();
            if at > 0 && self.theme.say(&longer).chars().count() + rest > width {
                return [line.as_str(), BETWEEN, &rest_of(names.len() - at)].concat();
            }
            line = longer;
        }
        line
    }

    /// What numbers, lines and signs stand for, in lines of at most `width`.
    fn legend(&self, limits: &[&'static Limit], width: usize) -> Vec<String> {
        let mut parts = named(limits);
        parts.extend(self.key());
        packed(parts, BETWEEN, width)
    }

    /// What lines, signs and shades stand for.
    pub fn key(&self) -> Vec<String> {
        let [first, second, floor] = if self.theme.ascii {
            MARKS.map(String::from)
        } else {
            ["line", "dots", "dashes"].map(str::to_owned)
        };
        let mut parts = Vec::new();
        for state in [State::Ok, State::Caution, State::Over] {
            let shaded = if state == State::Over {
                " (shaded)"
            } else {
                ""
            };
            parts.push(format!(
                "{} {}{shaded}",
                self.sign(Some(state)),
                state.word()
            ));
        }
        parts.push(format!("{floor}: chip floor"));
        if let [one, other, ..] = self.passes {
            parts.push(format!("{first}: {}", one.name()));
            parts.push(format!("{second}: {}", other.name()));
        }
        parts
    }

    /// The sign of a state.
    fn sign(&self, state: Option<State>) -> char {
        let [ok, caution] = if self.theme.ascii {
            ['-', '#']
        } else {
            ['─', '▒']
        };
        match state {
            None | Some(State::Unknown) => ' ',
            Some(State::Ok) => ok,
            Some(State::Caution) => caution,
            Some(State::Over) => '!',
        }
    }
}

/// The column of a share of a width.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "between 0 and the width"
)]
fn column(share: f64, width: u16) -> u16 {
    let last = f64::from(width.saturating_sub(1));
    (share.clamp(0.0, 1.0) * last).round() as u16
}

/// Blanks between the parts of a legend.
const BETWEEN: &str = "   ";

/// Parts in lines of at most `width`: none is broken.
pub fn packed(parts: Vec<String>, between: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for part in parts {
        match lines.last_mut() {
            Some(line) if line.is_empty() => line.push_str(&part),
            Some(line) if line.chars().count() + between.len() + part.chars().count() <= width => {
                line.push_str(between);
                line.push_str(&part);
            }
            _ => lines.push(part),
        }
    }
    lines
}

/// How many limits a line has no room for.
fn rest_of(count: usize) -> String {
    format!("+{count} more")
}

/// Limits with their numbers.
fn named(limits: &[&'static Limit]) -> Vec<String> {
    let numbered = limits.iter().enumerate();
    numbered
        .map(|(number, limit)| format!("{} {}", numeral(number), limit.title))
        .collect()
}

/// The sign of a limit's number: 1 to 9, then letters.
fn numeral(number: usize) -> char {
    let number = u32::try_from(number + 1).unwrap_or(u32::MAX);
    char::from_digit(number, 36).unwrap_or('?')
}
