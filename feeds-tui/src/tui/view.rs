//! Draws the state, and changes nothing.
//!
//! ```text
//! pass 1 of 4: relief pocket                        metric, cautious
//! [cutter] > stock > hold and machine > engagement > answer
//! S ...   F ...   f_z ...                                       head
//! RUN  nearest to trouble: may break, 69 % used            2 cautions
//! ------------------------------------------------------------------
//! entries of the station, or a view            | picture and checks
//! ------------------------------------------------------------------
//! what the entry is for, what it takes                           foot
//! keys
//! ```

mod audit;
mod big;
mod chip;
mod engagement;
mod entries;
mod features;
mod foot;
mod force;
mod head;
mod job;
mod list;
mod margins;
mod over;
mod overrides;
mod page;
mod paint;
mod pictures;
mod shelves;
mod vary;

use super::state::{ScreenState, View};
use super::words;
use crate::pass::decision;
use feeds_core::plan::Plan;
use feeds_core::verdict::Verdict;
use paint::wrapped;
use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Line;

/// The least size that shows everything.
pub const LEAST: (u16, u16) = (80, 24);
/// From this width on, pictures and checks stand beside the entries.
const WIDE: u16 = 100;
/// From this height of the middle on, checks stand below the entries.
const TALL: u16 = 30;

/// Draws the whole screen.
pub fn view(state: &ScreenState, frame: &mut Frame) {
    let area = frame.area();
    if area.width < LEAST.0 || area.height < LEAST.1 {
        small(state, frame, area);
    } else if let View::Practice | View::Lessons = state.view {
        match state.view {
            View::Practice => page::practice(state, frame, area),
            _ => page::lesson(state, frame, area),
        }
        over::draw(state, frame, area);
    } else {
        let [top, middle, bottom] = Layout::vertical([
            Constraint::Length(head::height(state, area.width)),
            Constraint::Min(1),
            Constraint::Length(foot::HEIGHT),
        ])
        .areas(area);
        head::draw(state, frame, top);
        body(state, frame, middle);
        foot::draw(state, frame, bottom);
        over::draw(state, frame, middle);
    }
    state.theme.plain(frame.buffer_mut());
}

fn body(state: &ScreenState, frame: &mut Frame, area: Rect) {
    match state.view {
        View::Walk => {
            let (entries, beside) = split(area);
            let below = if beside.is_some() {
                entries::draw(state, frame, entries)
            } else {
                let (upper, lower) = if area.height >= TALL {
                    let [upper, lower] =
                        Layout::vertical([Constraint::Fill(1), Constraint::Fill(1)]).areas(entries);
                    (upper, Some(lower))
                } else {
                    (entries, None)
                };
                let rest = entries::draw(state, frame, upper);
                lower.or(rest)
            };
            if let Some(beside) = beside {
                pictures::beside(state, frame, beside);
            } else if let Some(below) = below {
                margins::draw(state, frame, below);
            }
        }
        View::Pictures => pictures::draw(state, frame, area),
        View::Vary => vary::draw(state, frame, area),
        View::Moments => {
            let (rows, beside) = split(area);
            list::rows(state, frame, rows);
            if let Some(beside) = beside {
                pictures::beside(state, frame, beside);
            }
        }
        View::Audit => audit::draw(state, frame, area),
        View::Practice | View::Lessons => {}
        View::Overrides => overrides::draw(state, frame, area),
        View::Big => big::draw(state, frame, area),
        View::Job => job::draw(state, frame, area),
        View::Features => features::draw(state, frame, area),
        View::Shop => shelves::draw(state, frame, area),
        View::Checks | View::Working | View::Sources | View::Listen | View::Rehearsal => {
            list::rows(state, frame, area);
        }
    }
}

/// The part for text, and the part for pictures where there is room for it.
fn split(area: Rect) -> (Rect, Option<Rect>) {
    if area.width < WIDE {
        return (area, None);
    }
    let [text, _, beside] = Layout::horizontal([
        Constraint::Fill(3),
        Constraint::Length(2),
        Constraint::Fill(2),
    ])
    .areas(area);
    (text, Some(beside))
}

/// Below the least size: the figures first, then why there is no more.
fn small(state: &ScreenState, frame: &mut Frame, area: Rect) {
    let theme = state.theme;
    let mut lines = match (&state.live.answer, head::not_ready(state)) {
        // An earlier answer could be taken for that of what is typed.
        (_, Some(said)) => wrapped(&said, usize::from(area.width)),
        (Some(answer), None) => {
            let verdict = Verdict::of(&answer.plan.checks);
            let mut lines = head::figures(answer, verdict, state.system);
            lines.truncate(3);
            lines.push(decision::head(&answer.plan));
            lines.push(words::cautions(answer.cautions()));
            lines
        }
        (None, None) => vec![words::NO_ANSWER.to_owned()],
    };
    lines.push(words::TOO_SMALL.to_owned());
    if state.job.example {
        lines.insert(0, words::EXAMPLE.to_owned());
    }
    for (text, row) in lines.iter().zip(area.rows()) {
        frame.render_widget(Line::raw(theme.say(text)), row);
    }
}

/// The plan of the answer, if there is one.
fn plan(state: &ScreenState) -> Option<&Plan> {
    state.live.answer.as_ref().map(|a| &a.plan)
}
