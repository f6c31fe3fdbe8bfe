//! The path from above: each use in its colour and with its letter, rapid moves as single dots.

use super::{letter, summary};
use crate::audit::shown::Shown;
use crate::tui::audit::AuditView;
use crate::tui::state::ScreenState;
use crate::tui::view::paint::{Drawing, framed};
use crate::tui::words;
use feeds_core::programme::UseReport;
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::{Color, Style};

/// Uses drawn with a letter of their own.
const DRAWN: usize = 26;
/// Every so manieth point of a rapid move is drawn.
const RAPID: usize = 12;

pub(super) fn draw(state: &ScreenState, audit: &AuditView, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let Some([x, y]) = audit.trail.bounds() else {
        framed(
            frame,
            area,
            theme,
            words::PATH,
            &[words::NO_PATH.to_owned()],
        );
        return;
    };
    let uses = &audit.report.uses;
    let legend = match audit.marked.and_then(|at| Some((at, uses.get(at)?))) {
        Some((at, of)) => {
            let drawn = audit.trail.place(of).is_some();
            let not = if drawn { "" } else { words::NOT_DRAWN };
            format!("{}  {}{not}", letter(at), summary(of, Shown(state.system)))
        }
        None if uses.len() > DRAWN => {
            let placed = |of: &&UseReport| audit.trail.place(of).is_some();
            let drawn = uses.iter().take(DRAWN).filter(placed).count();
            words::some_uses(drawn, uses.len())
        }
        None => words::ALL_USES.to_owned(),
    };
    let shown = Shown(state.system);
    let [a, b, c, d] = [x.0, x.1, y.0, y.1].map(|v| shown.place(v));
    let size = format!("X {a} .. {b}   Y {c} .. {d} {}", shown.length_unit());
    let place = framed(frame, area, theme, words::PATH, &[legend, size]);
    let middle = (f64::midpoint(x.0, x.1), f64::midpoint(y.0, y.1));
    let half = |ends: (f64, f64)| (0.52 * (ends.1 - ends.0)).max(0.1);
    let mut drawing = Drawing::new(place, middle, (half(x), half(y)));
    let rapid = audit.trail.points(None).into_iter().step_by(RAPID);
    drawing.points(Color::Reset, rapid.collect());
    let mut letters = Vec::new();
    // The marked one last, over all others.
    let mut order: Vec<usize> = (0..uses.len().min(DRAWN)).rev().collect();
    order.extend(audit.marked.filter(|at| (DRAWN..uses.len()).contains(at)));
    order.sort_by_key(|at| Some(*at) == audit.marked);
    for at in order {
        let Some(of) = audit.trail.place(&uses[at]) else {
            continue;
        };
        let points = audit.trail.points(Some(of));
        let marked = audit.marked.is_none_or(|marked| marked == at);
        let colour = if marked {
            theme.of_use(at)
        } else {
            Color::Reset
        };
        // A letter at the start, and along the marked path some more.
        let every = if audit.marked == Some(at) { 9 } else { 1 };
        let apart = (points.len() / every).max(1);
        if marked {
            let along = points.iter().step_by(apart).take(every);
            letters.extend(along.filter_map(|p| Some((drawing.cell(*p)?, at))));
        }
        let shown = if marked { 1 } else { 3 };
        drawing.points(colour, points.into_iter().step_by(shown).collect());
    }
    drawing.show(frame);
    for (cell, at) in letters {
        if let Some(cell) = frame.buffer_mut().cell_mut(cell) {
            cell.set_char(letter(at));
            cell.set_style(Style::new().fg(theme.of_use(at)).patch(theme.strong()));
        }
    }
}
