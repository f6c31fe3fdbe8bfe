//! The cut along the programme: engagement and force over the way with a cursor, the stock from
//! above where the cursor is, what the stretch comes to, and the lines that work hardest.

use crate::audit::shown::Shown;
use crate::audit::strip::{columns, height_at, sign_of, sign_of_height};
use crate::tui::audit::AuditView;
use crate::tui::cutting::Cutting;
use crate::tui::state::ScreenState;
use crate::tui::view::paint::wrapped;
use crate::tui::words;
use feeds_core::programme::{CutAlong, StockView, StockViews, StripBin};
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::Style;
use ratatui::text::Line;
use std::f64::consts::{FRAC_PI_2, PI};
use std::fmt::Write as _;

/// Lines of the ledger, and of what works hardest where there is room.
const LEDGER: u16 = 4;
const HARDEST: usize = 10;
/// From so many lines on the list of lines stands below.
const LISTED: u16 = 20;
/// Bars in eighths of a row, and where only plain signs can be shown.
const BARS: [char; 9] = [' ', '▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];
const PLAIN: [char; 9] = [' ', '.', '.', '.', ':', ':', ':', '|', '#'];
pub(super) fn draw(state: &ScreenState, audit: &AuditView, frame: &mut Frame, area: Rect) {
    let Some(cut) = audit.cut().filter(|cut| !cut.strip.is_empty()) else {
        let text = why_not(audit);
        let lines = wrapped(&state.theme.say(&text), usize::from(area.width));
        for (text, row) in lines.into_iter().zip(area.rows()) {
            frame.render_widget(Line::raw(text), row);
        }
        return;
    };
    // Where the list of lines has no room, the pictures have all that is left.
    let picture = if area.height < LISTED {
        area.height.saturating_sub(1 + LEDGER).max(4)
    } else {
        (area.height / 2).clamp(4, 14)
    };
    let [head, upper, ledger, below] = Layout::vertical([
        Constraint::Length(1),
        Constraint::Length(picture),
        Constraint::Length(LEDGER),
        Constraint::Min(0),
    ])
    .areas(area);
    let shown = Shown(state.system);
    frame.render_widget(Line::raw(state.theme.say(&summary(cut, shown))), head);
    let [strip, above] =
        Layout::horizontal([Constraint::Percentage(58), Constraint::Fill(1)]).areas(upper);
    draw_strip(state, audit, cut, frame, strip);
    if let Some(views) = &cut.views {
        let way: f64 = cut
            .strip
            .iter()
            .take(audit.line() + 1)
            .map(|bin| bin.way)
            .sum();
        if let Some(view) = views.at(way) {
            draw_stock(state, (views, view), frame, above);
        }
    }
    draw_ledger(state, audit, frame, ledger);
    if below.height > 1 {
        draw_hardest(state, cut, frame, below);
    }
}

/// Why there is nothing to show yet.
fn why_not(audit: &AuditView) -> String {
    match &audit.cutting {
        Cutting::Working(_, bytes) => {
            let thousands = bytes / 1000;
            format!("{} {thousands} kB; {}", words::CUTTING, words::ESC_STOPS)
        }
        Cutting::Stopped => words::CUT_STOPPED.to_owned(),
        _ if audit.setting().stock.is_none() => words::CUT_NEEDS_STOCK.to_owned(),
        Cutting::Waiting => words::CUTTING_BEGINS.to_owned(),
        Cutting::Done => words::NOTHING_CUT.to_owned(),
    }
}

/// The whole in a line.
fn summary(cut: &CutAlong, shown: Shown) -> String {
    let per_cent = |way: f64| format!("{:.0} %", 100.0 * way / cut.way.max(1e-9));
    let force = cut.force.map_or_else(String::new, |[most, _]| {
        format!("; {} at most", shown.force(most))
    });
    format!(
        "{} cut away; {} air, {} slot, {} conventional{force}",
        shown.volume(cut.removed),
        per_cent(cut.shares.air),
        per_cent(cut.shares.slot),
        per_cent(cut.shares.up)
    )
}

fn draw_strip(
    state: &ScreenState,
    audit: &AuditView,
    cut: &CutAlong,
    frame: &mut Frame,
    area: Rect,
) {
    let theme = state.theme;
    let width = usize::from(area.width.saturating_sub(1));
    let bins = columns(&cut.strip, width);
    let most = bins.iter().map(|b| b.1.force).fold(0.0, f64::max);
    let rows = area.height.saturating_sub(2);
    let upper = if most > 0.0 { rows.div_ceil(2) } else { rows };
    let [arcs, forces, marks, cursor] = Layout::vertical([
        Constraint::Length(upper),
        Constraint::Length(rows - upper),
        Constraint::Length(1),
        Constraint::Length(1),
    ])
    .areas(area);
    let shown = Shown(state.system);
    let bars = |frame: &mut Frame, area: Rect, name: &str, share: &dyn Fn(&StripBin) -> f64| {
        let signs = if theme.ascii { PLAIN } else { BARS };
        let mut rows = area.rows();
        if let Some(first) = rows.next() {
            let name: String = theme.say(name).chars().take(width).collect();
            frame.render_widget(Line::styled(name, theme.dim()), first);
        }
        let height = area.height.saturating_sub(1);
        for (from_top, row) in rows.enumerate() {
            let below = usize::from(height) - 1 - from_top;
            let sign = |bin: &StripBin| {
                let eighths = share(bin).clamp(0.0, 1.0) * 8.0 * f64::from(height);
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
                let here = (eighths.round() as usize).saturating_sub(8 * below).min(8);
                signs[here]
            };
            let text: String = bins.iter().map(|(_, bin)| sign(bin)).collect();
            frame.render_widget(Line::styled(text, Style::new().fg(theme.cut())), row);
        }
    };
    bars(frame, arcs, words::ARC_TO_HALF, &|bin| bin.arc / PI);
    let name = format!("{} {}", words::FORCE_TO, shown.force(most));
    bars(frame, forces, &name, &|bin| bin.force / most.max(1e-9));
    let found: String = bins
        .iter()
        .enumerate()
        .map(|(column, (first, _))| {
            let next = bins.get(column + 1).map_or(cut.strip.len(), |b| b.0);
            sign_of(
                audit.findings.iter(),
                &cut.strip[*first..next.max(first + 1)],
            )
        })
        .collect();
    frame.render_widget(Line::styled(found, theme.strong()), marks);
    let here = bins.iter().rposition(|(first, _)| *first <= audit.line());
    let arrow = format!("{:>1$}", "^", here.unwrap_or(0) + 1);
    frame.render_widget(Line::styled(arrow, theme.strong()), cursor);
}

/// The stock from above: heights as signs, the cutter round, its engaged front thick.
fn draw_stock(
    state: &ScreenState,
    (views, view): (&StockViews, &StockView),
    frame: &mut Frame,
    area: Rect,
) {
    let theme = state.theme;
    let signs = wrapped(&theme.say(words::STOCK_SIGNS), usize::from(area.width));
    let below = u16::try_from(signs.len()).unwrap_or(0);
    let [area, legend] =
        Layout::vertical([Constraint::Min(1), Constraint::Length(below)]).areas(area);
    for (text, row) in signs.into_iter().zip(legend.rows()) {
        frame.render_widget(Line::styled(text, theme.dim()), row);
    }
    let bounds = &views.bounds;
    let size = [0, 1].map(|axis| bounds.most[axis] - bounds.least[axis]);
    // A sign is twice as high as it is wide.
    let across = f64::from(area.width.max(1));
    let down = f64::from(area.height.max(1));
    let mm = (size[0] / across).max(size[1] / (2.0 * down)).max(1e-9);
    let height = (bounds.most[2] - bounds.least[2]).max(1e-9);
    for (row, place) in area.rows().enumerate() {
        let mut text = String::new();
        for column in 0..area.width {
            #[expect(clippy::cast_precision_loss)] // rows of a screen
            let y = bounds.most[1] - (row as f64 + 0.5) * 2.0 * mm;
            let x = bounds.least[0] + (f64::from(column) + 0.5) * mm;
            text.push(match cutter_at(view, [x, y], mm) {
                Some(sign) => sign,
                None => height_at(views, view, [x, y])
                    .map_or(' ', |z| sign_of_height((z - bounds.least[2]) / height)),
            });
        }
        frame.render_widget(Line::styled(text, Style::new().fg(theme.stock())), place);
    }
}

/// The sign of the cutter at a place: its engaged front, or its edge.
fn cutter_at(view: &StockView, [x, y]: [f64; 2], mm: f64) -> Option<char> {
    let (dx, dy) = (x - view.at[0], y - view.at[1]);
    let distance = dx.hypot(dy / 1.0);
    if (distance - view.radius).abs() > 0.75 * mm.max(view.radius * 0.1) {
        return None;
    }
    // From the left of the feed, clockwise.
    let angle = (view.heading + FRAC_PI_2 - dy.atan2(dx)).rem_euclid(2.0 * PI);
    let engaged = view
        .spans
        .iter()
        .any(|[from, to]| (*from..=*to).contains(&angle));
    Some(if engaged { '@' } else { 'o' })
}

/// What the stretch under the cursor comes to, with its line and what was found there.
fn draw_ledger(state: &ScreenState, audit: &AuditView, frame: &mut Frame, area: Rect) {
    let (theme, shown) = (state.theme, Shown(state.system));
    let Some(bin) = audit.bin() else { return };
    let load = audit
        .cut()
        .and_then(|cut| cut.lines.iter().find(|l| l.line == bin.worst_line));
    let mut text = format!("line {}: ", bin.worst_line);
    if bin.arc > 0.0 {
        let _ = write!(
            text,
            "{:.0} deg, {} {unit} wide, {} {unit} deep",
            bin.arc.to_degrees(),
            shown.brief(bin.width),
            shown.brief(bin.depth),
            unit = shown.length_unit()
        );
    } else {
        text += words::NO_CUT_SIDEWAYS;
    }
    if bin.force > 0.0 {
        let _ = write!(text, ", {}", shown.force(bin.force));
    }
    if let Some((used, limit)) = load.and_then(|l| l.used) {
        let _ = write!(text, "; {:.0} % used: {}", 100.0 * used, limit.short);
    }
    let width = usize::from(area.width);
    let mut lines = vec![Line::styled(theme.say(&text).into_owned(), theme.heading())];
    if let Some(text) = audit.text(bin.worst_line) {
        let text: String = text.chars().take(width.saturating_sub(2)).collect();
        lines.push(Line::styled(
            format!("| {}", theme.say(&text)),
            theme.strong(),
        ));
    }
    if let Some(found) = audit.of_line(bin.worst_line).next() {
        let words = wrapped(&theme.say(&found.text), width);
        lines.extend(words.into_iter().map(Line::raw));
    }
    for (line, row) in lines.into_iter().zip(area.rows()) {
        frame.render_widget(line, row);
    }
}

fn draw_hardest(state: &ScreenState, cut: &CutAlong, frame: &mut Frame, area: Rect) {
    let (theme, shown) = (state.theme, Shown(state.system));
    let mut lines = vec![Line::styled(words::HARDEST.to_owned(), theme.heading())];
    lines.extend(cut.hardest(HARDEST).into_iter().map(|load| {
        let force = load.force_most.map_or(String::new(), |f| shown.force(f));
        let used = load.used.map_or(String::new(), |(used, limit)| {
            format!("{:.0} % {}", 100.0 * used, limit.short)
        });
        if load.arc_most <= 0.0 {
            let text = words::NO_CUT_SIDEWAYS;
            return Line::raw(format!("{:>7} {text:<38} {force:>9}  {used}", load.line));
        }
        let unit = shown.length_unit();
        Line::raw(format!(
            "{:>7} {:>4.0} deg {:>7} {unit} wide {:>7} {unit} deep {force:>9}  {used}",
            load.line,
            load.arc_most.to_degrees(),
            shown.brief(load.width_most),
            shown.brief(load.depth_most),
        ))
    }));
    for (line, row) in lines.into_iter().zip(area.rows()) {
        frame.render_widget(line, row);
    }
}
