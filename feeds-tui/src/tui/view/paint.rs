//! Small means of drawing: scrolling, wrapping, a line being typed.

use crate::tui::line;
use crate::tui::theme::Theme;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::{Color, Style};
use ratatui::symbols::Marker;
use ratatui::text::{Line, Span};
use ratatui::widgets::canvas::{Canvas, Points};

/// A picture's heading, its drawing, and the words below it.
pub(super) fn framed(
    frame: &mut Frame,
    area: Rect,
    theme: Theme,
    heading: &str,
    words: &[String],
) -> Rect {
    let lines = u16::try_from(words.len()).unwrap_or(area.height);
    let [top, middle, below] = Layout::vertical([
        Constraint::Length(1),
        Constraint::Fill(1),
        Constraint::Length(lines),
    ])
    .areas(area);
    frame.render_widget(Line::styled(theme.say(heading), theme.heading()), top);
    for (words, place) in words.iter().zip(below.rows()) {
        frame.render_widget(Line::raw(theme.say(words)), place);
    }
    middle
}

/// A drawing at one scale in both directions: a circle is a circle.
pub(super) struct Drawing {
    area: Rect,
    /// Length of a dot.
    dot: f64,
    centre: (f64, f64),
    layers: Vec<(Color, Vec<(f64, f64)>)>,
}

/// Dots of a sign, across and down.
const DOTS: (u16, u16) = (2, 4);

impl Drawing {
    /// A drawing in which at least this half width and half height about the centre are seen.
    pub(super) fn new(area: Rect, centre: (f64, f64), half: (f64, f64)) -> Self {
        let dots = (
            f64::from(area.width * DOTS.0),
            f64::from(area.height * DOTS.1),
        );
        let dot = (2.0 * half.0 / dots.0.max(1.0)).max(2.0 * half.1 / dots.1.max(1.0));
        Self {
            area,
            dot,
            centre,
            layers: Vec::new(),
        }
    }

    /// Length of a dot.
    pub(super) fn dot(&self) -> f64 {
        self.dot
    }

    /// A region, hatched.
    pub(super) fn hatch(&mut self, colour: Color, holds: impl Fn(f64, f64) -> bool) {
        let (width, height) = (self.area.width * DOTS.0, self.area.height * DOTS.1);
        let mut points = Vec::new();
        for j in 0..height {
            for i in (j % 4..width).step_by(4) {
                let (x, y) = self.at(i, j);
                if holds(x, y) {
                    points.push((x, y));
                }
            }
        }
        self.layers.push((colour, points));
    }

    /// A line through points given by a share from 0 to 1, `length` long.
    pub(super) fn curve(&mut self, colour: Color, length: f64, at: impl Fn(f64) -> (f64, f64)) {
        let steps = (2.0 * length / self.dot).clamp(2.0, 4000.0).round();
        let mut points = Vec::new();
        let mut step = 0.0;
        while step <= steps {
            points.push(at(step / steps));
            step += 1.0;
        }
        self.layers.push((colour, points));
    }

    /// A straight line; every other part of it when `dashed`.
    pub(super) fn line(
        &mut self,
        colour: Color,
        (from, to): ((f64, f64), (f64, f64)),
        dashed: bool,
    ) {
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        let length = dx.hypot(dy);
        let dash = 3.0 * self.dot;
        let start = self.layers.len();
        self.curve(colour, length, |t| (from.0 + t * dx, from.1 + t * dy));
        if dashed && let Some((_, points)) = self.layers.get_mut(start) {
            points.retain(|p| ((p.0 - from.0).hypot(p.1 - from.1) / dash).rem_euclid(2.0) < 1.0);
        }
    }

    /// Points of their own.
    pub(super) fn points(&mut self, colour: Color, points: Vec<(f64, f64)>) {
        self.layers.push((colour, points));
    }

    /// The cell of the screen a point falls on.
    pub(super) fn cell(&self, (x, y): (f64, f64)) -> Option<(u16, u16)> {
        let [left, right, low, high] = self.edges();
        if !(left..right).contains(&x) || !(low..high).contains(&y) {
            return None;
        }
        // Inside the area, whose sides are u16.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let cell = (
            ((x - left) / (right - left) * f64::from(self.area.width)) as u16,
            ((high - y) / (high - low) * f64::from(self.area.height)) as u16,
        );
        Some((self.area.x + cell.0, self.area.y + cell.1))
    }

    /// The left, right, lower and upper edge.
    pub(super) fn edges(&self) -> [f64; 4] {
        let half = (
            f64::from(self.area.width * DOTS.0) * self.dot / 2.0,
            f64::from(self.area.height * DOTS.1) * self.dot / 2.0,
        );
        let (x, y) = self.centre;
        [x - half.0, x + half.0, y - half.1, y + half.1]
    }

    fn at(&self, i: u16, j: u16) -> (f64, f64) {
        let [left, _, _, top] = self.edges();
        (
            left + (f64::from(i) + 0.5) * self.dot,
            top - (f64::from(j) + 0.5) * self.dot,
        )
    }

    /// Puts the drawing on the frame.
    pub(super) fn show(self, frame: &mut Frame) {
        if self.area.is_empty() {
            return;
        }
        let [left, right, low, high] = self.edges();
        let canvas = Canvas::default()
            .marker(Marker::Braille)
            .x_bounds([left, right])
            .y_bounds([low, high])
            .paint(|context| {
                for (color, coords) in &self.layers {
                    context.draw(&Points {
                        coords,
                        color: *color,
                    });
                }
            });
        frame.render_widget(canvas, self.area);
    }
}

/// Puts a line on the frame, character by character where each is known to fill one cell: most
/// lines are of such, and to look for longer ones takes several times as long as to draw them.
pub(super) fn put(frame: &mut Frame, line: &Line, area: Rect) {
    let single = |c: char| c == ' ' || c.is_ascii_graphic() || matches!(c, '▒' | '·');
    if area.is_empty() || !line.spans.iter().all(|s| s.content.chars().all(single)) {
        frame.render_widget(line, area);
        return;
    }
    let buffer = frame.buffer_mut();
    let area = area.intersection(buffer.area);
    let mut cells = area.left()..area.right();
    let signs = |span: &'_ Span| {
        let style = line.style.patch(span.style);
        let signs: Vec<(char, Style)> = span.content.chars().map(|c| (c, style)).collect();
        signs
    };
    for (sign, style) in line.spans.iter().flat_map(signs) {
        let Some(x) = cells.next() else { return };
        if let Some(cell) = buffer.cell_mut((x, area.y)) {
            cell.set_char(sign).set_style(style);
        }
    }
    buffer.set_style(
        Rect {
            x: cells.start,
            width: area.right() - cells.start,
            ..area
        },
        line.style,
    );
}

/// The first line to show so that line `at` of `count` stands in the middle of `height` lines,
/// or as near to it as the ends allow.
pub(super) fn first_line(at: usize, count: usize, height: usize) -> usize {
    at.saturating_sub(height / 2)
        .min(count.saturating_sub(height))
}

/// A line being typed: the sign at the cursor is reversed, and all that is selected.
pub(super) fn typed<'a>(theme: Theme, line: &line::EditLine) -> Vec<Span<'a>> {
    let (before, behind) = line.split();
    let mut signs = behind.chars();
    let at = signs.next().map_or(" ".to_owned(), |c| c.to_string());
    let text = if line.is_selected() {
        theme.here()
    } else {
        theme.strong()
    };
    vec![
        Span::styled(theme.say(before).into_owned(), text),
        Span::styled(theme.say(&at).into_owned(), theme.here()),
        Span::styled(theme.say(signs.as_str()).into_owned(), theme.strong()),
    ]
}

/// The text in lines of at most `width` signs, broken between words where possible. Blanks between
/// two words of a line stay as they are: they set columns apart.
pub(super) fn wrapped(text: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    let mut lines = vec![String::new()];
    let (mut column, mut gap) = (0, 0);
    for word in text.split(char::is_whitespace) {
        let length = word.chars().count();
        if length > 0 {
            if column > 0 && column + gap + length > width {
                lines.push(String::new());
                column = 0;
            }
            let Some(line) = lines.last_mut() else { break };
            if column > 0 {
                line.push_str(&" ".repeat(gap));
                column += gap;
            }
            line.push_str(word);
            column += length;
            gap = 0;
        }
        gap += 1;
    }
    lines
}

/// A text in one line of that many columns; where it is cut, three points stand at its end.
pub(super) fn fitted(text: &str, width: usize) -> String {
    if text.chars().count() <= width {
        return text.to_owned();
    }
    let kept: String = text.chars().take(width.saturating_sub(3)).collect();
    format!("{}{}", kept.trim_end(), &"..."[..width.min(3)])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_cursor_is_always_in_sight() {
        for count in 1..30 {
            for height in 1..20 {
                for at in 0..count {
                    let first = first_line(at, count, height);
                    assert!(
                        first <= at && at < first + height,
                        "{at} of {count} in {height}"
                    );
                }
            }
        }
    }

    /// A line drawn quickly is the line that the library draws.
    #[test]
    fn a_line_is_the_same_however_it_is_put() {
        use ratatui::Terminal;
        use ratatui::backend::TestBackend;
        use ratatui::style::Stylize;
        let lines = [
            Line::from(vec!["  over ".red(), "-35 % name ".into(), "▒▒··!".bold()]),
            Line::from("a line that is longer than the room there is").dim(),
            Line::from(vec!["h_max 4.8 µm ".into(), "√2".green()]),
            Line::default(),
        ];
        for line in lines {
            for width in [0, 1, 7, 40] {
                let area = Rect::new(2, 1, width, 1);
                let mut shown = [0, 1].map(|which| {
                    let mut terminal = Terminal::new(TestBackend::new(44, 3)).unwrap();
                    let draw = |frame: &mut Frame| match which {
                        0 => put(frame, &line, area),
                        _ => frame.render_widget(&line, area),
                    };
                    terminal.draw(draw).unwrap();
                    Some(terminal.backend().buffer().clone())
                });
                assert_eq!(shown[0].take(), shown[1].take(), "{line:?} in {width}");
            }
        }
    }

    #[test]
    fn a_text_that_is_cut_says_so() {
        assert_eq!(fitted("leave the stock", 15), "leave the stock");
        assert_eq!(fitted("leave the stock", 14), "leave the s...");
        assert_eq!(fitted("leave the stock", 9), "leave...");
        assert_eq!(fitted("leave", 2), "..");
    }

    #[test]
    fn no_word_is_lost() {
        assert_eq!(wrapped("one two three", 7), ["one two", "three"]);
        assert_eq!(wrapped("longword a", 3), ["longword", "a"]);
        assert_eq!(wrapped("", 3), [""]);
    }

    /// A rehearsal on the screens lost the columns of its text.
    #[test]
    fn columns_stay_apart() {
        assert_eq!(wrapped("one   two  three", 11), ["one   two", "three"]);
        assert_eq!(wrapped("  one two  ", 7), ["one two"]);
    }
}
