//! What to turn and how far: a step of an override dial or of an entry, held back where this pass
//! would break or stop cutting.

use crate::pass::answered::Answered;
use crate::pass::overrides::{Cell, turned};
use feeds_core::plan::Planner;
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, System};
use reference_tables::signs::{Cause, CauseRow, LimitRow, Turn};

/// Dials go in steps of so many per cent (common practice).
const NOTCH: u32 = 10;
/// A dial that is turned to nothing.
const STOPPED: f64 = -100.0;

/// What to turn, and how far on this pass.
#[derive(Clone, Debug, PartialEq)]
pub struct DialStep {
    /// What.
    pub turn: Turn,
    /// By how many per cent, from where it is.
    pub percent: f64,
    /// How far that is on this pass, or why not so far; may be empty.
    pub here: String,
}

impl DialStep {
    /// The step of a row on a pass, if there is one.
    pub fn of(row: &CauseRow, pass: Option<(&Answered, Option<&Planner>)>, system: System) -> Self {
        let (percent, turn) = (row.step.value.printed().0, row.turn);
        let here = match pass {
            Some(_) if stops(percent) => String::new(),
            Some((answer, _)) if !turn.is_dial() => entry(turn, percent, answer, system),
            Some((answer, Some(planner))) => dial(row.cause, (turn, percent), answer, planner),
            None | Some((_, None)) => String::new(),
        };
        Self {
            turn,
            percent,
            here,
        }
    }

    /// What to do, in a word, and how.
    pub fn text(&self) -> (&'static str, String) {
        if stops(self.percent) {
            // A feed hold with the cutter in the work rubs: see `rehearse::words::FEED_HOLD`.
            return ("stop", "raise Z first, then stop the spindle".to_owned());
        }
        ("turn", self.dial())
    }

    fn dial(&self) -> String {
        match (in_words(self.turn, self.percent), self.here.as_str()) {
            (words, "") => words,
            (words, here) => format!("{words}: {here}"),
        }
    }
}

/// Whether the step is a stop.
pub fn stops(percent: f64) -> bool {
    percent <= STOPPED
}

/// The step in words.
fn in_words(turn: Turn, percent: f64) -> String {
    let way = if percent < 0.0 { "down" } else { "up" };
    format!("{} {way} {:.0} %", turn.says(), percent.abs())
}

/// The step of a limit's row, short enough for a setup sheet.
pub fn short(row: &LimitRow) -> String {
    let percent = row.step.value.printed().0;
    let step = if stops(percent) {
        "stop".to_owned()
    } else {
        in_words(row.turn, percent)
    };
    match row.next.as_str() {
        "" => step,
        next => format!("{step}, {next}"),
    }
}

/// What the entry comes to.
fn entry(turn: Turn, percent: f64, answer: &Answered, system: System) -> String {
    let setup = &answer.resolved.setup;
    let (symbol, is) = match turn {
        Turn::Depth => (&s::A_P, setup.cut.a_p),
        Turn::Width => (&s::A_E, setup.a_e()),
        _ => (&s::STICK_OUT, setup.cutter.stick_out),
    };
    let to = is.si() * (1.0 + percent / 100.0);
    let (is, to) = (symbol.show(is.si(), system), symbol.show(to, system));
    format!("from {is} to {to}")
}

/// Where the dial ends up, notch by notch, as far as the pass stands it.
fn dial(cause: Cause, step: (Turn, f64), answer: &Answered, planner: &Planner) -> String {
    let (turn, percent) = step;
    let at = |dial: u32| match turn {
        Turn::Feed => turned(answer, planner, 100, dial),
        _ => turned(answer, planner, dial, 100),
    };
    let Some(now) = at(100) else {
        return String::new();
    };
    let notches = (1..).map(|n| NOTCH * n);
    let wanted = |by: &u32| f64::from(*by) <= percent.abs();
    let mut reached = 100;
    for by in notches.take_while(wanted) {
        let next = if percent < 0.0 { 100 - by } else { 100 + by };
        match at(next).and_then(|cell| worse(&now, &cell)) {
            Some(why) if reached == 100 => return format!("not on this pass: {why}"),
            Some(why) => return format!("to {reached} %, no further: {why}"),
            None => reached = next,
        }
    }
    let rubs = |dial: u32| at(dial).is_some_and(|cell| cell.beyond.rubs);
    if cause == Cause::Rubbing && rubs(reached) {
        // A chip is as much thicker as the feed is higher.
        let floor = now.floor.map_or(0.0, |margin| 100.0 * (1.0 - margin));
        return format!("to {reached} %, where it still rubs: it needs {floor:.0} %");
    }
    format!("to {reached} %")
}

/// What turns worse on the way.
fn worse(now: &Cell, then: &Cell) -> Option<&'static str> {
    let weaker = then.strength < now.strength;
    let (now, then) = (now.beyond, then.beyond);
    if then.breaks && weaker {
        Some(if now.breaks {
            "the cutter or the hold is at its limit already"
        } else {
            "beyond, the cutter may break or the part slip"
        })
    } else if then.machine && !now.machine {
        Some("the machine goes no further")
    } else if then.rubs && !now.rubs {
        Some("beyond, it rubs")
    } else {
        None
    }
}
