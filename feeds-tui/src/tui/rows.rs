//! The lines of the views beside the walk, each with what it leads to.

use super::state::{ScreenState, View};
use super::words;
use crate::listen::{heard, text};
use crate::own::beside;
use crate::pass::answered::{Answered, Careful};
use crate::pass::decision::clause;
use crate::pass::field::{FIELDS, Key};
use crate::pass::{opens, sure};
use feeds_core::limit::Check;
use feeds_core::notebook::Origin;
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, Symbol, System};
use reference_tables::tables;

/// What a line leads to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Target {
    /// The entry with that key.
    Entry(Key),
    /// The source of that place.
    Source(usize),
    /// A step of the working.
    Step(usize),
    /// A moment.
    Moment(usize),
}

/// A line.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Its text.
    pub text: String,
    /// Blanks before it, and before what does not fit on its first line.
    pub indent: usize,
    /// What it leads to.
    pub target: Option<Target>,
    /// A heading.
    pub heading: bool,
    /// The check it shows, for its bar.
    pub check: Option<Check>,
}

impl Row {
    pub(super) fn plain(indent: usize, text: impl Into<String>) -> Self {
        Self {
            text: text.into(),
            indent,
            target: None,
            heading: false,
            check: None,
        }
    }

    pub(super) fn heading(text: impl Into<String>) -> Self {
        Self {
            heading: true,
            ..Self::plain(0, text)
        }
    }

    /// The lines of a printed text, each with its own indent.
    pub(super) fn printed(text: &str) -> Vec<Self> {
        let lines = text.lines().map(|line| {
            let text = line.trim_start();
            Self::plain(line.len() - text.len(), text)
        });
        lines.collect()
    }

    fn to(self, target: Option<Target>) -> Self {
        Self { target, ..self }
    }
}

/// The lines of the open view; the walk has none.
pub fn of(state: &ScreenState) -> Vec<Row> {
    if state.view == View::Rehearsal {
        return state.rehearsal.rows().to_vec();
    }
    let Some(answer) = &state.live.answer else {
        return vec![Row::plain(0, words::NO_ANSWER)];
    };
    match state.view {
        View::Walk
        | View::Audit
        | View::Vary
        | View::Practice
        | View::Lessons
        | View::Overrides
        | View::Big
        | View::Job
        | View::Features
        | View::Shop
        | View::Rehearsal => Vec::new(),
        View::Checks => checks(answer, state.system),
        View::Pictures => vec![
            Row::plain(0, words::PICTURES[0]),
            Row::plain(0, words::PICTURES[1]),
        ],
        View::Moments => moments(answer, state.system),
        View::Working => working(answer, state.system),
        View::Sources => sources(answer),
        View::Listen => listen(answer, state.system),
    }
}

fn checks(answer: &Answered, system: System) -> Vec<Row> {
    let mut rows = vec![Row::heading(words::CHECKS)];
    for check in &answer.plan.checks {
        rows.push(Row {
            target: entry_of_check(check),
            check: Some(*check),
            ..Row::plain(2, check.text(system))
        });
        if let Some(band) = sure::always(answer.sure.as_ref(), check.limit) {
            let text = format!("{}: {}", words::HOW_SURE, sure::one(band));
            rows.push(Row::plain(4, text));
        }
    }
    if !answer.opens.is_empty() {
        rows.push(Row::heading(words::OPENS));
        let opens = answer.opens.iter();
        rows.extend(opens.map(|o| Row::plain(2, opens::text(o, system))));
    }
    if let Some(band) = &answer.sure {
        rows.push(Row::heading(words::RANGE));
        let lines = sure::lines(band, false, system);
        rows.extend(lines.into_iter().map(|line| Row::plain(2, line)));
        let beside = beside::lines(answer, system);
        rows.extend(beside.into_iter().map(|line| Row::plain(2, line)));
    }
    rows.push(Row::heading(words::CAUTIONS));
    let always = crate::words::ALWAYS.iter().copied().map(Careful::Own);
    let all = answer.careful().chain(always);
    rows.extend(all.map(|c| Row::plain(2, format!("{}{}", c.mark(), c.text()))));
    rows
}

/// Every sign with its causes, the likeliest first; a step of an entry leads to the entry.
fn listen(answer: &Answered, system: System) -> Vec<Row> {
    // Tables that cannot be read have no answer.
    let Ok(tables) = tables() else {
        return Vec::new();
    };
    let mut rows = Vec::new();
    for sign in &tables.signs.signs {
        rows.push(Row::heading(format!("{}: {}", sign.name, sign.says)));
        let heard = heard(&tables.signs, sign, Some((answer, None)), system);
        for cause in &heard.causes {
            let (what, how) = cause.step.text();
            let key = cause.row.turn.key();
            let entry = !cause.row.turn.is_dial();
            let to = entry.then(|| self::entry(key)).flatten();
            rows.push(Row::plain(2, text::one(cause)));
            let turn = Row::plain(4, format!("{what}: {how}; {}", cause.row.next));
            rows.push(turn.to(to));
        }
    }
    rows.push(Row::heading(words::CAUTIONS));
    rows.push(Row::plain(2, text::STOP));
    rows
}

fn moments(answer: &Answered, system: System) -> Vec<Row> {
    let plan = &answer.plan;
    let show = |symbol: &Symbol, si: f64| format!("{} {}", symbol.text, symbol.show(si, system));
    let mut rows = vec![Row::heading(words::MOMENTS)];
    for (at, (engaged, loads)) in plan.moments.iter().enumerate() {
        let to = Some(Target::Moment(at));
        rows.push(Row::plain(2, engaged.moment.words()).to(to.clone()));
        let mut parts = vec![
            show(&s::PHI_S, engaged.arc.si()),
            show(&s::A_P, engaged.a_p.si()),
            show(&s::H_MAX, engaged.h_max(plan.f_z).si()),
        ];
        if let Some(l) = loads {
            let mark = answer.mark_of_loads();
            let loads = [show(&s::F_XY, l.lateral), show(&s::SIGMA, l.stress)];
            parts.extend(loads.map(|load| load + mark));
        }
        rows.push(Row::plain(4, parts.join("   ")).to(to));
        let here = plan.checks.iter().filter(|c| c.moment == engaged.moment);
        if let Some(check) = here.filter(|c| c.margin().is_some()).min_by(|a, b| {
            let margin = |c: &Check| c.margin().unwrap_or(f64::MAX);
            margin(a).total_cmp(&margin(b))
        }) {
            let text = format!("{}: {}", words::CLOSEST, clause(check));
            rows.push(Row::plain(4, text).to(Some(Target::Moment(at))));
        }
    }
    rows
}

/// The row of the view in which a source stands.
pub(super) fn row_of_source(answer: &Answered, source: usize) -> usize {
    let before = answer.resolved.sources.iter().take(source);
    // Below the heading; a reason takes a row of its own.
    before.fold(1, |row, s| row + 2 + usize::from(!s.why.is_empty()))
}

fn sources(answer: &Answered) -> Vec<Row> {
    let mut rows = vec![Row::heading(words::SOURCES)];
    for source in &answer.resolved.sources {
        let weak = source.marks();
        rows.push(Row::plain(
            2,
            format!("{}: {}", source.what, source.value_read()),
        ));
        let from = format!("{} [{}{weak}]", source.source, source.basis);
        rows.push(Row::plain(4, from));
        if !source.why.is_empty() {
            rows.push(Row::plain(4, format!("{}: {}", words::WHY_ROW, source.why)));
        }
    }
    rows
}

/// The steps as they are printed; the line of an input leads to where it is from.
fn working(answer: &Answered, system: System) -> Vec<Row> {
    let mut rows = vec![Row::heading(words::WORKING)];
    for step in &answer.working().steps {
        let mut inputs = step.inputs.iter().filter(|i| i.origin.is_some());
        for (at, line) in step.text(system).lines().enumerate() {
            let text = line.trim_start();
            let indent = line.len() - text.len();
            let row = match (at, indent) {
                (0, _) => Row::heading(text),
                // The register prints inputs two blanks further in than the formula.
                (_, 5..) => {
                    let input = inputs.next();
                    let to = input.and_then(|i| target(answer, i.symbol, i.origin.as_ref()));
                    Row::plain(indent, text).to(to)
                }
                _ => Row::plain(indent, text),
            };
            rows.push(row);
        }
    }
    rows.push(Row::heading(crate::words::WEIGHED));
    for weighed in &answer.working().weighed {
        rows.push(Row::plain(3, weighed.title()));
        for side in weighed.sides().iter().flatten() {
            let to = target(answer, side.symbol, side.origin);
            rows.push(Row::plain(5, side.text(system)).to(to));
        }
    }
    rows
}

/// The entry it was typed into, the row that is told, the step; else the entry it could be typed
/// into, which says where its value is from.
fn target(answer: &Answered, symbol: &Symbol, origin: Option<&Origin>) -> Option<Target> {
    match origin? {
        Origin::Typed { field, .. } => entry(field),
        Origin::Step { number } => Some(Target::Step(*number)),
        Origin::Row { row, .. } => {
            let at = answer.resolved.sources.iter().position(|s| s.is_of(row));
            at.map(Target::Source).or_else(|| entry_of_symbol(symbol))
        }
        Origin::Default { .. } | Origin::Chosen { .. } => entry_of_symbol(symbol),
    }
}

fn entry(key: &str) -> Option<Target> {
    Key::of(key).map(Target::Entry)
}

fn entry_of_check(check: &Check) -> Option<Target> {
    // The feed at full width is not an entry of its own.
    let symbol = match check.limit.symbol {
        symbol if symbol == &s::F_FULL => &s::F_Z,
        symbol => symbol,
    };
    entry_of_symbol(symbol).or_else(|| entry_of_symbol(check.limit.bound))
}

fn entry_of_symbol(symbol: &Symbol) -> Option<Target> {
    let field = FIELDS.iter().find(|f| f.symbol() == Some(symbol))?;
    Some(Target::Entry(field.id))
}
