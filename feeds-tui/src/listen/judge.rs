//! Each cause held against the numbers of a pass: how much of what is allowed is used.

use super::notes;
use crate::pass::answered::Answered;
use feeds_core::cut::{Direction, Path};
use feeds_core::limit::{Check, Found, Limit, Moment};
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, System};
use reference_tables::signs::Cause;

/// How likely a cause is on a pass, the likeliest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Likelihood {
    /// What is allowed is used up, or more.
    Likely,
    /// More than [`NEAR`] of it is used.
    Possible,
    /// No number of the pass tells: only a look does.
    Unknown,
    /// Less is used.
    Unlikely,
}

/// Below this share of what is allowed a cause is not likely (common practice): a first cut that
/// keeps the widest room it wants has to count as fine.
pub const NEAR: f64 = 0.7;

/// So far beyond a limit that harms nothing it is worth a look (common practice).
const FAR: f64 = 2.0;

impl Likelihood {
    /// The words for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Likely => "likely",
            Self::Possible => "possible",
            Self::Unknown => "not known, look",
            Self::Unlikely => "not likely",
        }
    }
}

/// What the numbers of a pass say of a cause.
#[derive(Clone, Debug, PartialEq)]
pub struct Judged {
    /// How likely it is.
    pub verdict: Likelihood,
    /// How much of what is allowed is used, if a number tells.
    pub used: Option<f64>,
    /// The limit it rests on, if it is one.
    pub limit: Option<&'static Limit>,
    /// The number it rests on, in a clause.
    pub because: String,
    /// What tells it from other causes; may be empty.
    pub tell: String,
}

impl Judged {
    fn unknown(because: impl Into<String>) -> Self {
        Self {
            verdict: Likelihood::Unknown,
            used: None,
            limit: None,
            because: because.into(),
            tell: String::new(),
        }
    }

    fn ruled_out(because: &str) -> Self {
        Self {
            verdict: Likelihood::Unlikely,
            used: Some(0.0),
            ..Self::unknown(because)
        }
    }
}

/// The limits a cause is read from; the one that is used most counts.
pub fn limits_of(cause: Cause) -> &'static [&'static str] {
    match cause {
        Cause::Rubbing => &["chip-floor", "rubbing"],
        Cause::Chatter => &["tip-deflection", "stick-out", "depth-guide"],
        Cause::Bending => &["wall-error", "tip-deflection"],
        Cause::Runout => &["runout"],
        Cause::Overload => &["breakage"],
        Cause::Power => &["spindle-power"],
        Cause::Speed => &["cutting-speed"],
        Cause::Sticking => &["machine-limited"],
        Cause::Chips => &["chip-room"],
        Cause::Part => &["hold", "tipping"],
        Cause::Slips => &["pull-out"],
        Cause::Backlash => &["backlash"],
        Cause::Corner => &["corner"],
        Cause::ThickChip => &["feed-band"],
        // Wear is no matter of a limit.
        Cause::Dull => &[],
    }
}

/// Holds a cause against a pass.
pub fn judged(cause: Cause, answer: &Answered, system: System) -> Judged {
    let setup = &answer.resolved.setup;
    if cause == Cause::Dull {
        return dull(answer);
    }
    if let (Cause::Backlash, Direction::Up) = (cause, setup.cut.direction) {
        return Judged::ruled_out("milled conventionally, the cut pushes the table back");
    }
    let names = limits_of(cause);
    let mut checks: Vec<(&Check, f64)> = names
        .iter()
        .filter_map(|name| answer.plan.check(name))
        .filter_map(|check| Some((check, used(check)?)))
        .collect();
    // A bound that somebody gave says more than a guessed one that is used more.
    let order = |(check, used): &(&Check, f64)| verdict(check, *used);
    checks.sort_by(|a, b| order(a).cmp(&order(b)).then(b.1.total_cmp(&a.1)));
    match checks.first() {
        Some((check, used)) => Judged {
            verdict: verdict(check, *used),
            used: Some(*used),
            limit: Some(check.limit),
            because: number(cause, check, *used, answer, system),
            tell: tell(cause, answer),
        },
        None => Judged {
            tell: tell(cause, answer),
            ..not_checked(cause, answer)
        },
    }
}

/// The share of what is allowed that is used.
fn used(check: &Check) -> Option<f64> {
    match check.found {
        Found::Known { value, bound } => Some(bound.used(value)),
        Found::Needs(_) => None,
    }
}

/// A bound that nobody gave, and one that harms nothing, never makes a cause likely.
fn verdict(check: &Check, used: f64) -> Likelihood {
    if used < if check.limit.mild() { FAR } else { NEAR } {
        Likelihood::Unlikely
    } else if check.limit.mild() {
        Likelihood::Unknown
    } else if used < 1.0 || check.guessed {
        Likelihood::Possible
    } else {
        Likelihood::Likely
    }
}

/// The number a cause rests on.
fn number(cause: Cause, check: &Check, used: f64, answer: &Answered, system: System) -> String {
    let Found::Known { value, bound } = check.found else {
        return String::new();
    };
    let show = |si: f64| check.limit.symbol.show(si, system);
    let (is, most) = (show(value), show(bound.si()));
    let text = match check.limit.name {
        "chip-floor" => format!("chip {is} where {most} cuts"),
        "rubbing" => {
            let chip = answer.plan.h_min.map(|h_min| {
                let (is, least) = (answer.plan.h_max.si(), h_min.si());
                let (is, least) = (s::H_MAX.show(is, system), s::H_MIN.show(least, system));
                format!("chip {is} where {least} cuts, ")
            });
            let chip = chip.unwrap_or_default();
            format!("{chip}{is} of its arc or of its edges rub, {most} may")
        }
        "tip-deflection" => format!("the tip gives {is}, {most} is usual"),
        "stick-out" => format!("it sticks out {is} x its diameter, {most} is usual"),
        "depth-guide" | "chip-room" => format!("depth {is}, {most} is usual"),
        "wall-error" if check.guessed => {
            format!("the wall is off by {is} of {most}, a guess: no tolerance was typed")
        }
        "wall-error" => format!("the wall is off by {is} of {most}"),
        "runout" => format!("runout gives one edge {is} more, {most} is half the feed"),
        "breakage" => format!("it is loaded to {is}, {most} is a third of its strength"),
        "spindle-power" => format!("the cut takes {is} of {most}"),
        "cutting-speed" => format!("{is}, the book goes to {most}"),
        "machine-limited" => format!("{is}, the book begins at {most}"),
        "hold" | "pull-out" => format!("{is} pull, {most} may, with twofold safety"),
        "tipping" => format!("{is} tip it, {most} may, with twofold safety"),
        "backlash" => format!("the cut pulls with {is}, the axis holds {most}"),
        "corner" => format!("it is engaged {is} in a corner, {most} is usual"),
        "feed-band" => format!("{is} a tooth at full width, the book goes to {most}"),
        _ => format!("{is} of {most}"),
    };
    let moment = match check.moment {
        Moment::Nominal => String::new(),
        _ if cause == Cause::Corner => String::new(),
        moment => format!(", {}", moment.words()),
    };
    let mark = answer.mark(check);
    // How many times slower than the book is no share of anything that is used up.
    let share = if check.limit.mild() {
        String::new()
    } else {
        format!(" ({})", share(used, check.limit))
    };
    format!("{text}{mark}{moment}{share}")
}

/// A share of what is allowed or usual, in words.
fn share(used: f64, limit: &Limit) -> String {
    if used < 1.995 {
        format!("{:.0} % used", 100.0 * used)
    } else {
        let what = if limit.guides() {
            "the usual"
        } else {
            "the limit"
        };
        format!("{used:.1} x {what}")
    }
}

/// The note that tells the cause from others.
fn tell(cause: Cause, answer: &Answered) -> String {
    let (teeth, turns) = notes(answer);
    match cause {
        Cause::Chatter => {
            format!("the teeth sound at {teeth:.0} Hz; another, louder note is chatter")
        }
        Cause::Runout => format!("it beats at {turns:.0} Hz, once a turn"),
        _ => String::new(),
    }
}

/// The edge: the pass says how worn it is, no number says whether it still is so.
fn dull(answer: &Answered) -> Judged {
    let cutter = &answer.resolved.setup.cutter;
    if cutter.rounding > 1.0 {
        return Judged {
            verdict: Likelihood::Likely,
            ..Judged::unknown("this pass was worked out for a worn edge")
        };
    }
    Judged::unknown("no number shows wear; this pass was worked out for a fresh edge")
}

/// A cause whose limit the pass does not have, or for which data are missing.
fn not_checked(cause: Cause, answer: &Answered) -> Judged {
    let path = answer.resolved.setup.cut.path;
    let has_loads = answer.plan.loads.is_some();
    match cause {
        Cause::Corner => return Judged::ruled_out("this pass has no sharp corner"),
        Cause::Chips if !matches!(path, Path::Slot | Path::Pocket) => {
            return Judged::ruled_out("along an open wall chips fall clear");
        }
        Cause::Slips if has_loads && answer.plan.check("pull-out").is_none() => {
            return Judged::ruled_out("this cut only presses the cutter in");
        }
        _ => {}
    }
    let mut checks = limits_of(cause).iter().filter_map(|n| answer.plan.check(n));
    let needs = checks.find_map(|check| match check.found {
        Found::Needs(what) => Some(what),
        Found::Known { .. } => None,
    });
    let needs = needs.unwrap_or(match cause {
        Cause::Runout => "the runout at the cutter",
        Cause::Sticking => "a cutting-speed band of this stock and cutter",
        Cause::Bending | Cause::Chatter => "a specific cutting force of this stock",
        _ => "more of the pass",
    });
    Judged::unknown(format!("the pass lacks {needs}"))
}
