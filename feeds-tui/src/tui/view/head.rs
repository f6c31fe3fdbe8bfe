//! The head: where you are, the answer so far, what governs. It is never out of sight.

use super::paint::wrapped;
use crate::pass::answered::Answered;
use crate::pass::decision;
use crate::pass::field::Station;
use crate::tui::state::{ScreenState, View, fields_of};
use crate::tui::words;
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, Symbol, System};
use feeds_core::verdict::Verdict;
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

/// Lines of the head above the rule.
const ABOVE: u16 = 4;

/// Lines of the head: its last is a rule, or what is to be looked at, in full.
pub(super) fn height(state: &ScreenState, width: u16) -> u16 {
    let lines = to_look_at(state, width).len().max(1);
    ABOVE + u16::try_from(lines).unwrap_or(1)
}

pub(super) fn draw(state: &ScreenState, frame: &mut Frame, area: Rect) {
    use ratatui::layout::{Constraint, Layout};
    let above = [Constraint::Length(1); ABOVE as usize];
    let [top, rule] =
        Layout::vertical([Constraint::Length(ABOVE), Constraint::Fill(1)]).areas(area);
    let [title, strip, answer, governs] = Layout::vertical(above).areas(top);
    draw_title(state, frame, title);
    frame.render_widget(stations(state), strip);
    // A programme has a verdict of its own; that of the open pass says nothing of it.
    if let Some(audit) = state.audit.as_ref().filter(|_| state.view == View::Audit) {
        super::audit::draw_head(state, audit, frame, [answer, governs]);
    } else {
        draw_answer(state, frame, answer);
        draw_governs(state, frame, governs);
    }
    draw_rule(state, frame, rule);
}

fn draw_title(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let system = match state.system {
        System::Metric => "metric",
        System::Inch => "inch",
    };
    let intent = state
        .live
        .answer
        .as_ref()
        .map_or("", |a| crate::words::run(a.resolved.setup.intent));
    let file = state
        .filed
        .file
        .as_deref()
        .and_then(std::path::Path::file_name);
    let file = file.map(|name| name.to_string_lossy().into_owned());
    let unsaved = state.is_unsaved().then(|| words::UNSAVED.to_owned());
    let filed: Vec<String> = file.into_iter().chain(unsaved).collect();
    let filed = match filed.join(" ") {
        filed if filed.is_empty() => filed,
        filed => format!("{}, ", theme.say(&filed)),
    };
    let right = format!("{filed}{system}, {intent}");
    let name = words::pass(state.at, state.job.passes.len(), &state.pass().name);
    let name = marked(state, name);
    two(
        frame,
        area,
        Line::styled(theme.say(&name), theme.heading()),
        Line::raw(right),
    );
}

/// A title, marked where it stands over the example.
pub(super) fn marked(state: &ScreenState, title: String) -> String {
    if state.job.example {
        format!("{} {title}", words::EXAMPLE)
    } else {
        title
    }
}

/// The stations in words: the open one in brackets, missing and wrong entries counted apart.
fn stations(state: &ScreenState) -> Line<'static> {
    let theme = state.theme;
    let mut spans = Vec::new();
    for station in Station::ALL {
        if !spans.is_empty() {
            spans.push(Span::styled(" > ", theme.dim()));
        }
        if station == state.station {
            spans.push(Span::styled(format!("[{}]", station.word()), theme.here()));
        } else {
            spans.push(Span::raw(station.word()));
        }
        let fields = fields_of(station);
        let missing = fields.iter().filter(|f| state.live.is_missing(f));
        let missing = missing.count();
        let errors = fields.iter().filter(|f| state.error(f).is_some()).count();
        for (count, word) in [(missing, "missing"), (errors - missing, "wrong")] {
            if count > 0 {
                spans.push(Span::styled(format!(" {count} {word}"), theme.wrong()));
            }
        }
    }
    Line::from(spans)
}

/// The verdict on what is shown, and the line that says it: a rehearsal has its own.
fn judged(state: &ScreenState, answer: &Answered) -> (Verdict, String) {
    let shown = state
        .rehearsal
        .head()
        .filter(|_| state.view == View::Rehearsal);
    shown.cloned().unwrap_or_else(|| {
        let plan = &answer.plan;
        (Verdict::of(&plan.checks), decision::head(plan))
    })
}

/// The figures of the answer, the most wanted first; what stops is no setting.
pub(super) fn figures(answer: &Answered, verdict: Verdict, system: System) -> Vec<String> {
    let plan = &answer.plan;
    let show = |symbol: &Symbol, si: f64| format!("{} {}", symbol.text, symbol.show(si, system));
    let (open, close) = match verdict {
        Verdict::Stop => ("(", ")"),
        _ => ("", ""),
    };
    let mut figures = vec![
        format!("{open}S {}", s::N.show(plan.n.si(), system)),
        format!("F {}{close}", s::V_F.show(plan.v_f.si(), system)),
        show(&s::F_Z, plan.f_z.si()),
        show(&s::H_MAX, plan.h_max.si()),
        show(&s::V_C, plan.v_c.si()),
        show(&s::Q, plan.q.si()),
    ];
    figures.extend(plan.cusp.map(|cusp| show(&s::CUSP, cusp.si())));
    if let Some(loads) = &plan.loads {
        let mark = answer.mark_of_loads();
        let tip = format!("tip {}", s::DEFLECTION.show(loads.tip, system));
        figures.extend([show(&s::F_XY, loads.lateral), tip].map(|load| load + mark));
    }
    figures
}

fn draw_answer(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let Some(answer) = &state.live.answer else {
        frame.render_widget(Line::styled(words::NO_ANSWER, theme.wrong()), area);
        return;
    };
    let mut text = String::new();
    let (verdict, _) = judged(state, answer);
    for figure in figures(answer, verdict, state.system) {
        let figure = theme.say(&figure);
        if text.chars().count() + 3 + figure.chars().count() > usize::from(area.width) {
            break;
        }
        if !text.is_empty() {
            text.push_str("   ");
        }
        text.push_str(&figure);
    }
    frame.render_widget(Line::styled(text, theme.strong()), area);
}

fn draw_governs(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let Some(answer) = &state.live.answer else {
        return;
    };
    let (verdict, text) = judged(state, answer);
    let left = Line::styled(theme.say(&text).into_owned(), theme.verdict(verdict));
    let right = Line::styled(words::cautions(answer.cautions()), theme.strong());
    two(frame, area, left, right);
}

/// What keeps the answer back, or is out of the ordinary, in lines; none when nothing is.
fn to_look_at(state: &ScreenState, width: u16) -> Vec<String> {
    let lines = |text: &str| {
        let room = usize::from(width).saturating_sub(4);
        wrapped(&state.theme.say(text), room)
    };
    let Some(said) = not_ready(state) else {
        let answer = state.live.answer.as_ref();
        let doubt = answer.and_then(|answer| answer.resolved.doubts.first());
        return doubt.map_or_else(Vec::new, |doubt| lines(&doubt.text));
    };
    let old = if state.live.answer.is_some() {
        format!("{}; ", words::OLD)
    } else {
        String::new()
    };
    lines(&format!("{old}{said}"))
}

/// Why there is no answer to what is typed; none where there is one.
pub(super) fn not_ready(state: &ScreenState) -> Option<String> {
    let first = state.live.errors.first()?;
    // The name on the screen, not the key of files and flags.
    let named = first.field().and_then(crate::pass::field::field);
    let said = named.and_then(|f| Some(format!("{}: {}", f.name, state.error(f)?)));
    let said = said.unwrap_or_else(|| first.to_string());
    Some(format!("{} {said}", words::TO_PUT_RIGHT))
}

/// The lines below the head: a rule, or what is to be looked at.
fn draw_rule(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let rule = "─".repeat(usize::from(area.width));
    frame.render_widget(Line::styled(rule, theme.dim()), area);
    let said = to_look_at(state, area.width);
    for (text, row) in said.into_iter().zip(area.rows()) {
        let inner = Rect {
            x: row.x + 1,
            width: row.width.saturating_sub(2),
            ..row
        };
        frame.render_widget(Line::styled(format!(" {text} "), theme.wrong()), inner);
    }
}

/// A line with a left and a right part; the right one always fits.
pub(super) fn two(frame: &mut Frame, area: Rect, left: Line, right: Line) {
    let width = u16::try_from(right.width())
        .unwrap_or(area.width)
        .min(area.width);
    let place = Rect {
        x: area.x + area.width - width,
        width,
        ..area
    };
    let rest = Rect {
        width: (area.width - width).saturating_sub(2),
        ..area
    };
    frame.render_widget(left, rest);
    frame.render_widget(right, place);
}
