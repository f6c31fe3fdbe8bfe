//! One entry of the pass varied: a value is stepped through a range, the curves stay.

use super::ask::Purpose;
use super::edit::commit;
use super::effect::Effect;
use super::message::Action;
use super::state::{ScreenState, View};
use super::theme::Theme;
use super::update::moved;
use super::{lessons, practice, words};
use crate::pass::description::Description;
use crate::pass::field::{FIELDS, Field, Key, Takes};
use crate::sweep::axis::Axis;
use crate::sweep::chart::Chart;
use crate::sweep::governed::stretches;
use crate::sweep::panel::unit;
use crate::sweep::{SweepRange, Swept, sweep};
use feeds_core::limit::State as CheckState;
use feeds_core::quantity::Amount;
use feeds_core::symbol::System;

/// About so many steps lie in a range.
const STEPS: f64 = 40.0;
/// The range of an entry that is varied for the first time, as shares of its value.
const SHARES: (f64, f64) = (0.4, 2.0);

/// An entry while it is varied.
#[derive(Clone, Debug)]
pub struct Vary {
    /// What is varied, from where to where.
    pub range: SweepRange,
    /// The value it had, in SI base units.
    pub was: f64,
    /// The pass at every step, and the pass that is laid over it.
    pub passes: Vec<Swept>,
    /// Why there is no curve.
    pub error: Option<String>,
    values: Vec<f64>,
    at: usize,
    /// The value as it would be typed.
    text: String,
    over: Laid,
    /// The pair of curves that takes all the room, if one does.
    pair: Option<usize>,
}

/// What is laid over the pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Laid {
    Nothing,
    /// The same pass with the other intent.
    Intent,
    /// Another pass of the job.
    Pass(usize),
}

impl Vary {
    /// The value that is marked, in SI base units.
    pub fn value(&self) -> f64 {
        self.values.get(self.at).copied().unwrap_or(self.was)
    }

    /// The key of the entry and the text of the marked value; none where it was.
    pub fn draft(&self) -> Option<(&'static str, &str)> {
        self.has_moved()
            .then_some((self.range.entry.key, self.text.as_str()))
    }

    fn has_moved(&self) -> bool {
        (self.value() - self.was).abs() > 1e-9 * self.was.abs()
    }

    /// The curves, with the marked value.
    pub fn chart(&self, system: System, theme: Theme) -> Chart<'_> {
        Chart {
            range: &self.range,
            passes: &self.passes,
            system,
            theme,
            at: Some(self.value()),
            pair: self.pair,
            keyed: false,
        }
    }

    /// Which limit governs around the marked value.
    pub fn governed(&self, system: System) -> Option<String> {
        let show = |si: f64| self.range.symbol.show(si, system);
        let stretches = stretches(&self.passes.first()?.points);
        let here = stretches.iter().find(|s| self.value() <= s.to)?;
        let title = here.limit?.title;
        let state = here.state.map_or("", CheckState::word);
        Some(format!(
            "{} to {}: {title} gives way first, {state} at worst",
            show(here.from),
            show(here.to)
        ))
    }
}

/// Opens the view on the entry under the cursor, or on the first after it that can be varied.
pub(super) fn open(state: &mut ScreenState) {
    if state.view == View::Vary {
        leave(state);
        return;
    }
    let from = state.field().id as usize;
    match entry(state, from, false) {
        Some((field, value)) => {
            state.view = View::Vary;
            begin(state, field, value);
        }
        None => state.say(words::NOTHING_VARIED),
    }
}

/// What a key does here.
pub(super) fn act(state: &mut ScreenState, action: Action) -> Effect {
    match action {
        Action::Left
        | Action::Right
        | Action::PageUp
        | Action::PageDown
        | Action::First
        | Action::Last => step(state, action),
        Action::Up | Action::Down => other_entry(state, action == Action::Up),
        Action::Overlay => lay_over(state),
        Action::Curves => {
            if let Some(vary) = &mut state.vary {
                vary.pair = match vary.pair {
                    None => Some(0),
                    Some(0) => Some(1),
                    Some(_) => None,
                };
            }
        }
        Action::Range => ask_range(state),
        Action::Commit => take(state),
        Action::Vary | Action::GiveUp => leave(state),
        Action::Practice => {
            leave(state);
            practice::open(state);
        }
        Action::Lessons => {
            leave(state);
            lessons::open(state);
        }
        _ => return Effect::Rest,
    }
    Effect::Draw
}

/// The nearest entry from a place of the register on, or back, that has a value to vary.
fn entry(state: &ScreenState, from: usize, back: bool) -> Option<(&'static Field, f64)> {
    let count = FIELDS.len();
    let mut places = (0..count).map(|i| {
        let i = if back { count - i } else { i };
        (from + i) % count
    });
    places.find_map(|place| Some((&FIELDS[place], value(state, &FIELDS[place])?)))
}

/// The value of a quantity that was typed or is in effect, in SI base units.
fn value(state: &ScreenState, field: &'static Field) -> Option<f64> {
    let Takes::Quantity(_) = field.takes else {
        return None;
    };
    if field.is_of_programme() {
        return None;
    }
    let in_effect = || state.in_effect(field).map(|e| e.text);
    let typed = state.pass().typed.get(field.key).map(str::to_owned);
    field.read(&typed.or_else(in_effect)?).ok().flatten()
}

fn begin(state: &mut ScreenState, field: &'static Field, was: f64) {
    if let Some(range) = SweepRange::around(field, was, SHARES) {
        state.vary = Some(Vary {
            range,
            was,
            passes: Vec::new(),
            error: None,
            values: Vec::new(),
            at: 0,
            text: String::new(),
            over: Laid::Nothing,
            pair: state.vary.as_ref().and_then(|before| before.pair),
        });
        draw_anew(state, was);
    }
}

/// Works all curves out, and marks the step nearest to a value.
fn draw_anew(state: &mut ScreenState, marked: f64) {
    let Some(mut vary) = state.vary.take() else {
        return;
    };
    let inside = vary.was >= vary.range.from && vary.was <= vary.range.to;
    vary.values = steps(&vary.range, state.system, inside.then_some(vary.was));
    let far = |value: f64| (value - marked).abs();
    let at = (0..vary.values.len()).min_by(|a, b| {
        let [a, b] = [*a, *b].map(|i| far(vary.values[i]));
        a.total_cmp(&b)
    });
    vary.at = at.unwrap_or(0);
    let pass = &state.pass().typed;
    let laid = match vary.over {
        Laid::Nothing => None,
        Laid::Intent => {
            let other = other_intent(state);
            Some((
                format!("intent={other}"),
                pass.clone().with(&[(Key::Intent, other)]),
            ))
        }
        Laid::Pass(at) => {
            let pass = state.job.passes.get(at);
            pass.map(|p| (p.name.clone(), state.job.description(p)))
        }
    };
    let mut error = None;
    let mut swept = |name: String, pass: &Description| match sweep(
        pass,
        &state.shop,
        &vary.range,
        &vary.values,
    ) {
        Ok(points) => Some(Swept { name, points }),
        Err(errors) => {
            error = error.take().or(errors.first().map(ToString::to_string));
            None
        }
    };
    let own = swept(String::new(), pass);
    let laid = laid.and_then(|(name, pass)| swept(name, &pass));
    vary.passes = own.into_iter().chain(laid).collect();
    vary.error = error;
    show(state, vary);
}

/// The live answer follows the marked value.
fn show(state: &mut ScreenState, mut vary: Vary) {
    let unit = unit(vary.range.symbol, state.system);
    vary.text = Amount::of(vary.value(), unit).to_string();
    state.vary = Some(vary);
    state.work_out();
}

/// The ends, round values between them, and the value the entry has.
fn steps(range: &SweepRange, system: System, was: Option<f64>) -> Vec<f64> {
    let unit = unit(range.symbol, system);
    let axis = Axis::between(range.from / unit.size, range.to / unit.size, STEPS);
    let mut values: Vec<f64> = axis.marks().map(|mark| mark * unit.size).collect();
    values.extend([range.from, range.to]);
    values.extend(was);
    if range.is_whole() {
        for value in &mut values {
            *value = value.round();
        }
    }
    values.sort_by(f64::total_cmp);
    values.dedup_by(|a, b| (*a - *b).abs() <= 1e-9 * b.abs());
    values
}

fn step(state: &mut ScreenState, action: Action) {
    let Some(mut vary) = state.vary.take() else {
        return;
    };
    let action = match action {
        Action::Left => Action::Up,
        Action::Right => Action::Down,
        other => other,
    };
    vary.at = moved(vary.at, vary.values.len(), action);
    show(state, vary);
}

fn other_entry(state: &mut ScreenState, back: bool) {
    let Some(vary) = &state.vary else { return };
    let here = vary.range.entry.id as usize;
    let next = if back {
        here + FIELDS.len() - 1
    } else {
        here + 1
    };
    if let Some((field, value)) = entry(state, next % FIELDS.len(), back) {
        begin(state, field, value);
    }
}

/// Nothing, the other intent, then each other pass of the job.
fn lay_over(state: &mut ScreenState) {
    let (count, open) = (state.job.passes.len(), state.at);
    let from = |at: usize| (at..count).find(|at| *at != open);
    let Some(vary) = &mut state.vary else { return };
    let next = match vary.over {
        Laid::Nothing => Some(Laid::Intent),
        Laid::Intent => from(0).map(Laid::Pass),
        Laid::Pass(at) => from(at + 1).map(Laid::Pass),
    };
    vary.over = next.unwrap_or(Laid::Nothing);
    let marked = vary.value();
    draw_anew(state, marked);
}

fn other_intent(state: &ScreenState) -> &'static str {
    match state.pass().typed.get(Key::Intent) {
        Some("production") => "cautious",
        _ => "production",
    }
}

fn ask_range(state: &mut ScreenState) {
    let Some(vary) = &state.vary else { return };
    let unit = unit(vary.range.symbol, state.system);
    let end = |si: f64| Amount::of(si, unit).to_string();
    let text = format!("{}..{}", end(vary.range.from), end(vary.range.to));
    let title = format!("{}: {}", vary.range.entry.name, words::FROM_TO);
    state.ask(title, Purpose::Range, &text);
}

/// Takes a range as typed: `0.1mm..6mm`, or `depth=0.1mm..2mm` for another entry.
///
/// # Errors
/// As [`SweepRange::read`], in words.
pub(super) fn ranged(state: &mut ScreenState, text: &str) -> Result<Effect, String> {
    let Some(vary) = &state.vary else {
        return Ok(Effect::Draw);
    };
    let named = if text.contains('=') {
        text.to_owned()
    } else {
        format!("{}={text}", vary.range.entry.key)
    };
    let range = SweepRange::read(&named).map_err(|e| e.to_string())?;
    let is_other = range.entry.key != vary.range.entry.key;
    let was = if is_other {
        value(state, range.entry).unwrap_or(range.from)
    } else {
        vary.was
    };
    let marked = if is_other { was } else { vary.value() };
    if let Some(vary) = &mut state.vary {
        (vary.range, vary.was) = (range, was);
    }
    draw_anew(state, marked);
    Ok(Effect::Draw)
}

/// Keeps the marked value.
fn take(state: &mut ScreenState) {
    let Some(vary) = state.vary.take() else {
        return;
    };
    let key = vary.range.entry.key;
    state.go_to(vary.range.entry.id);
    if vary.has_moved() {
        commit(state, key, &vary.text);
    }
}

/// Back to the walk; the pass is as it was.
fn leave(state: &mut ScreenState) {
    state.vary = None;
    state.view = View::Walk;
    state.work_out();
}
