//! A programme that is audited: a heading, then one of its parts; the path stands beside it where
//! there is room.

mod cut;
mod path;
mod reach;

use super::paint::{first_line, fitted, wrapped};
use super::split;
use crate::audit::shown::Shown;
use crate::tui::audit::{AuditPart, AuditView};
use crate::tui::state::ScreenState;
use crate::tui::words;
use feeds_core::programme::{Finding, Severity, UseReport};
use feeds_core::quantity::Amount;
use feeds_core::quantity::amount::significant;
use feeds_core::verdict::Verdict;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::Style;
use ratatui::text::{Line, Span};

pub(super) fn draw(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let Some(audit) = &state.audit else { return };
    let told = told(state, audit, usize::from(area.width));
    let [title, parts, banner, body] = Layout::vertical([
        Constraint::Length(1),
        Constraint::Length(1),
        Constraint::Length(u16::try_from(told.len()).unwrap_or(0)),
        Constraint::Min(1),
    ])
    .areas(area);
    draw_title(state, audit, frame, title);
    draw_parts(state, audit, frame, parts);
    for (text, row) in told.into_iter().zip(banner.rows()) {
        frame.render_widget(Line::styled(text, state.theme.wrong()), row);
    }
    let pictures = matches!(
        audit.part,
        AuditPart::Path | AuditPart::Feed | AuditPart::Cut
    );
    let (left, beside) = if pictures { (body, None) } else { split(body) };
    if let Some(beside) = beside {
        path::draw(state, audit, frame, beside);
    }
    match audit.part {
        AuditPart::Uses => draw_uses(state, audit, frame, left),
        AuditPart::Findings => draw_findings(state, audit, frame, left),
        AuditPart::Path => path::draw(state, audit, frame, left),
        AuditPart::Feed => reach::draw(state, audit, frame, left),
        AuditPart::Lines => draw_lines(state, audit, frame, left),
        AuditPart::Against => draw_against(state, audit, frame, left),
        AuditPart::Cut => cut::draw(state, audit, frame, left),
    }
}

/// What the programme comes to: the verdict with the settings it cuts at longest, and the worst
/// that was found.
pub(super) fn draw_head(
    state: &ScreenState,
    audit: &AuditView,
    frame: &mut Frame,
    areas: [Rect; 2],
) {
    let theme = state.theme;
    let verdict = audit.report.verdict();
    let style = match verdict {
        Verdict::Run => theme.strong(),
        Verdict::Care => theme.state(feeds_core::limit::State::Caution),
        Verdict::Stop => theme.state(feeds_core::limit::State::Over),
    };
    let longest = audit.report.uses.first();
    let settings = longest.map_or_else(String::new, |u| {
        let shown = Shown(state.system);
        let chip = u
            .feed_per_tooth
            .map_or("not known".to_owned(), |f| shown.length(f.number()));
        let feed = u
            .feed_speed
            .map_or("G93".to_owned(), |f| shown.feed(f.number()));
        format!(
            "S {}   F {feed}   f_z {chip}   for {}",
            significant(u.spindle_speed.number()),
            shown.time(u.time.number())
        )
    });
    let first = format!("{}   {settings}", verdict.word());
    let second = match (&audit.report.reason, audit.findings.first()) {
        (Some(reason), _) => reason.clone(),
        (None, Some(found)) => format!("line {}: {}", found.line, found.text),
        (None, None) => words::NO_FINDINGS.to_owned(),
    };
    for ((text, style), area) in [(first, style), (second, Style::new())]
        .into_iter()
        .zip(areas)
    {
        let text = fitted(&theme.say(&text), usize::from(area.width));
        frame.render_widget(Line::styled(text, style), area);
    }
}

/// What the programme is, and what was found in it.
fn draw_title(state: &ScreenState, audit: &AuditView, frame: &mut Frame, area: Rect) {
    let count = |severity| {
        let all = audit.findings.iter();
        all.filter(|f| f.severity == severity).count()
    };
    let found = [Severity::Error, Severity::Warning, Severity::Note].map(|severity| {
        let one = word(severity);
        crate::words::count(count(severity), one, &format!("{one}s"))
    });
    // The cut finds more, once it is worked out.
    let so_far = if audit.waits_for_the_cut() {
        words::BEFORE_THE_CUT
    } else {
        ""
    };
    let right = format!("{}{so_far}; {}", found.join(", "), audit.plan());
    let room = usize::from(area.width).saturating_sub(right.len() + 2);
    // The end of a long name tells more than its beginning.
    let name: Vec<char> = audit.name.chars().collect();
    let name: String = name[name.len().saturating_sub(room)..].iter().collect();
    let left = Line::styled(state.theme.say(&name).into_owned(), state.theme.heading());
    super::head::two(frame, area, left, Line::raw(right));
}

fn draw_parts(state: &ScreenState, audit: &AuditView, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let mut spans = Vec::new();
    for part in AuditPart::ALL {
        if part == audit.part {
            spans.push(Span::styled(format!("[{}]", part.word()), theme.here()));
        } else {
            spans.push(Span::raw(format!(" {} ", part.word())));
        }
    }
    frame.render_widget(Line::from(spans), area);
}

/// Why it is no programme, or why lines are missing, in lines; none when neither is so.
fn told(state: &ScreenState, audit: &AuditView, width: usize) -> Vec<String> {
    let text = match (&audit.report.reason, &audit.unread) {
        (Some(reason), _) => format!("{}: {reason}", words::NOT_A_PROGRAMME),
        (None, Some(reason)) => reason.clone(),
        (None, None) => return Vec::new(),
    };
    wrapped(&state.theme.say(&text), width)
}

/// The sign of a use in table and path.
fn letter(place: usize) -> char {
    u8::try_from(place)
        .ok()
        .filter(|p| *p < 26)
        .map_or('*', |p| char::from(b'a' + p))
}

/// A use in a few words.
fn summary(of: &UseReport, shown: Shown) -> String {
    let number = |a: Option<Amount>| a.map_or("?".to_owned(), |a| shown.number(a.number()));
    let feed = if of.inverse_time {
        "G93".to_owned()
    } else {
        format!("F{}", number(of.feed_speed))
    };
    let tool = of.tool.map_or("no tool".to_owned(), |t| format!("T{t}"));
    format!(
        "{tool} S{} {feed}: {} in {}",
        significant(of.spindle_speed.number()),
        shown.length(of.length.number()),
        shown.time(of.time.number())
    )
}

fn draw_uses(state: &ScreenState, audit: &AuditView, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let mut rows = area.rows();
    let Some(head) = rows.next() else { return };
    if audit.report.uses.is_empty() {
        frame.render_widget(Line::raw(words::NO_USES), head);
        return;
    }
    let heading = "     tool      S       F  moves   length        time      f_z    v_c   line";
    let shown = Shown(state.system);
    frame.render_widget(Line::styled(heading, theme.heading()), head);
    let number = |a: Option<Amount>| a.map_or("?".to_owned(), |a| shown.number(a.number()));
    let surface = |a: Option<Amount>| a.map_or("?".to_owned(), |a| shown.surface(a.number()));
    let (count, height) = (audit.report.uses.len(), usize::from(area.height) - 1);
    let first = first_line(audit.line(), count, height);
    for ((at, of), place) in audit.report.uses.iter().enumerate().skip(first).zip(rows) {
        let here = at == audit.line();
        let tool = of.tool.map_or("-".to_owned(), |t| t.to_string());
        let feed = if of.inverse_time {
            "G93".to_owned()
        } else {
            number(of.feed_speed)
        };
        let text = format!(
            "{:>5} {:>6} {feed:>7} {:>6} {:>8} {:>11} {:>8} {:>6} {:>6}",
            tool,
            significant(of.spindle_speed.number()),
            of.moves,
            shown.number(of.length.number()),
            shown.time(of.time.number()),
            number(of.feed_per_tooth),
            surface(of.cutting_speed),
            of.first_line,
        );
        let style = if here { theme.here() } else { Style::new() };
        let mark = if here { '>' } else { ' ' };
        let sign = Style::new().fg(theme.of_use(at));
        let spans = vec![
            Span::raw(format!("{mark} ")),
            Span::styled(letter(at).to_string(), sign),
            Span::styled(text, style),
        ];
        frame.render_widget(Line::from(spans), place);
    }
}

/// What the programme is looked at against; the marked one is always in sight.
fn draw_against(state: &ScreenState, audit: &AuditView, frame: &mut Frame, area: Rect) {
    let (mut lines, mut cursor) = (Vec::new(), 0);
    let width = usize::from(area.width);
    if audit.against.is_empty() {
        let text = state.theme.say(words::AGAINST_NOTHING).into_owned();
        lines.extend(wrapped(&text, width).into_iter().map(Line::raw));
    }
    for (place, told) in audit.against.iter().enumerate() {
        let here = place == audit.line();
        let text = state.theme.say(&told.line()).into_owned();
        let parts = wrapped(&text, width.saturating_sub(11));
        if here {
            cursor = lines.len() + parts.len() - 1;
        }
        for (at, part) in parts.into_iter().enumerate() {
            let (mark, head) = match (at, here) {
                (0, true) => ('>', told.what),
                (0, false) => (' ', told.what),
                _ => (' ', ""),
            };
            lines.push(Line::raw(format!("{mark} {head:<8} {part}")));
        }
    }
    let first = first_line(cursor, lines.len(), usize::from(area.height));
    for (line, row) in lines.into_iter().skip(first).zip(area.rows()) {
        frame.render_widget(line, row);
    }
}

fn word(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "note",
    }
}

fn weight(state: &ScreenState, severity: Severity) -> Style {
    let theme = state.theme;
    match severity {
        Severity::Error => theme.state(feeds_core::limit::State::Over),
        Severity::Warning => theme.state(feeds_core::limit::State::Caution),
        Severity::Note => Style::new(),
    }
}

/// The list, and below it the marked finding in full with its line.
fn draw_findings(state: &ScreenState, audit: &AuditView, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let Some(marked) = audit.finding() else {
        frame.render_widget(Line::raw(words::NO_FINDINGS), area);
        return;
    };
    let full = in_full(state, audit, marked, usize::from(area.width));
    let height = u16::try_from(full.len()).unwrap_or(area.height);
    let [list, below] =
        Layout::vertical([Constraint::Min(3), Constraint::Length(height)]).areas(area);
    let first = first_line(audit.line(), audit.findings.len(), usize::from(list.height));
    let found = audit.findings.iter().enumerate().skip(first);
    for ((at, finding), place) in found.zip(list.rows()) {
        let here = at == audit.line();
        let head = format!(
            "{} {:<8}{:>8}  ",
            if here { '>' } else { ' ' },
            word(finding.severity),
            finding.line
        );
        let room = usize::from(area.width).saturating_sub(head.len());
        let text = fitted(&theme.say(&finding.text), room);
        let style = if here {
            theme.here()
        } else {
            weight(state, finding.severity)
        };
        let spans = vec![Span::raw(head), Span::styled(text, style)];
        frame.render_widget(Line::from(spans), place);
    }
    for (line, place) in full.into_iter().zip(below.rows()) {
        frame.render_widget(line, place);
    }
}

/// A finding with its words and the line it is about.
fn in_full(
    state: &ScreenState,
    audit: &AuditView,
    finding: &Finding,
    width: usize,
) -> Vec<Line<'static>> {
    let theme = state.theme;
    let head = format!(
        "{}, line {}, column {} [{}]",
        word(finding.severity),
        finding.line,
        finding.column,
        finding.code
    );
    let mut lines = vec![
        Line::styled("─".repeat(width), theme.dim()),
        Line::styled(head, theme.heading()),
    ];
    let elsewhere = finding.elsewhere();
    let stop = if elsewhere.is_empty() { "" } else { "; " };
    let text = format!("{}{stop}{elsewhere}", finding.text);
    let words = wrapped(&theme.say(&text), width.saturating_sub(2));
    lines.extend(words.into_iter().map(|w| Line::raw(format!("  {w}"))));
    if let Some(text) = audit.text(finding.line) {
        let text = fitted(&theme.say(text), width.saturating_sub(4));
        let text = format!("  | {text}");
        lines.push(Line::styled(text, theme.strong()));
    }
    lines
}

/// The lines of the programme around the cursor, each with the sign of its worst finding.
fn draw_lines(state: &ScreenState, audit: &AuditView, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let number = audit.line() as u64 + 1;
    let mut full: Vec<Line> = Vec::new();
    for finding in audit.of_line(number) {
        full.extend(in_full(state, audit, finding, usize::from(area.width)));
        // The line itself stands above.
        full.pop();
    }
    full.truncate(usize::from(area.height / 2));
    let below = u16::try_from(full.len()).unwrap_or(area.height);
    let [list, told] =
        Layout::vertical([Constraint::Min(3), Constraint::Length(below)]).areas(area);
    let first = first_line(audit.line(), audit.count(), usize::from(list.height));
    for (number, place) in (first as u64 + 1..=audit.report.lines).zip(list.rows()) {
        let here = number == audit.line() as u64 + 1;
        let sign = match audit.of_line(number).next().map(|f| f.severity) {
            Some(Severity::Error) => '!',
            Some(Severity::Warning) => '?',
            Some(Severity::Note) => '.',
            None => ' ',
        };
        let mark = if here { '>' } else { ' ' };
        let text = audit.text(number).unwrap_or("...");
        let style = if here { theme.here() } else { Style::new() };
        let spans = vec![
            Span::styled(format!("{mark}{number:>8} {sign} "), theme.dim()),
            Span::styled(theme.say(text).into_owned(), style),
        ];
        frame.render_widget(Line::from(spans), place);
    }
    for (line, place) in full.into_iter().zip(told.rows()) {
        frame.render_widget(line, place);
    }
}
