//! Own and book side by side, as text and for scripts.

use crate::pass::answered::Answered;
use feeds_core::band::{AnswerBand, Input, LikelyRange};
use feeds_core::own::OwnFactors;
use feeds_core::plan::setup::Setup;
use feeds_core::symbol::{self as s, Symbol, System};
use serde_json::{Value, json};

/// Own cuts that a pass is worked out with, and the book beside them.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnBeside {
    /// What they say.
    pub factors: OwnFactors,
    /// Readings of this stock with such cutters.
    pub here: usize,
    /// Readings of any stock on this machine.
    pub on_machine: usize,
    /// Readings inside the range that was given before they were learnt, of so many.
    pub inside: (usize, usize),
    /// The pass as the book has it.
    pub book: Box<Setup>,
}

/// What the book says of a pass with own numbers.
#[derive(Clone, Debug, PartialEq)]
pub struct BookBeside {
    /// The same settings, by the book.
    pub range: LikelyRange,
    /// The feed that the book would choose, m/s; `None` where it has no answer.
    pub v_f: Option<f64>,
}

/// Answers that are shown side by side; the second where there is no wall.
const SHOWN: [&Symbol; 2] = [&s::WALL_ERROR, &s::F_XY];
/// A factor nearer to 1 than this is not worth a word.
const WORTH: f64 = 0.03;

/// A range in the unit of its high end.
pub fn range(symbol: &Symbol, low: f64, high: f64, system: System) -> String {
    let high = symbol.show(high, system);
    let low = symbol.show(low, system);
    let unit = high.rsplit(' ').next().unwrap_or_default();
    match low.strip_suffix(unit) {
        Some(number) => format!("{} to {high}", number.trim_end()),
        None => format!("{low} to {high}"),
    }
}

/// The range of an answer.
pub fn band<'b>(range: &'b LikelyRange, symbol: &Symbol) -> Option<&'b AnswerBand> {
    range.answers.iter().find(|a| a.symbol.name == symbol.name)
}

/// The first range that is worth showing: of the wall, or of the force.
pub fn shown(range: &LikelyRange) -> Option<&AnswerBand> {
    let found = SHOWN.iter().filter_map(|symbol| band(range, symbol));
    found.into_iter().find(|b| b.high > 0.0)
}

/// How often own readings were inside the range before.
pub fn calibration((inside, of): (usize, usize)) -> Option<String> {
    (of > 0).then(|| format!("{inside} of {of} own cuts inside the range"))
}

/// Factors that have moved.
fn moved(own: &OwnBeside) -> Vec<String> {
    let factors = OwnFactors::INPUTS.iter().filter_map(|input| {
        let (factor, _) = own.factors.factor(*input)?;
        ((factor - 1.0).abs() > WORTH).then(|| format!("{} x {factor:.2}", input.words()))
    });
    factors.collect()
}

/// Own and book in a line; `None` where it goes by the book alone.
pub fn own_line(answer: &Answered, system: System) -> Option<String> {
    let own = answer.resolved.own.as_ref()?;
    let mut parts: Vec<String> = Vec::new();
    let mine = answer.sure.as_ref().and_then(shown);
    if let Some(mine) = mine {
        let show = |b: &AnswerBand| range(b.symbol, b.low, b.high, system);
        let book = answer
            .book
            .as_ref()
            .and_then(|b| band(&b.range, mine.symbol));
        let book = book.map_or_else(String::new, |book| format!(", by the book {}", show(book)));
        parts.push(format!("{} {}{book}", mine.symbol.name, show(mine)));
    }
    let readings = |n| crate::words::count(n, "reading", "readings");
    parts.push(if own.here > 0 {
        format!("{} of this stock and cutter", readings(own.here))
    } else {
        format!("{} on this machine", readings(own.on_machine))
    });
    parts.extend(calibration(own.inside));
    Some(parts.join("; "))
}

/// What own cuts have moved, and how to answer without them.
fn moved_line(answer: &Answered, system: System) -> Option<String> {
    let own = answer.resolved.own.as_ref()?;
    let mut parts = moved(own);
    let now = s::V_F.show(answer.plan.v_f.value, system);
    let other = answer.book.as_ref().and_then(|book| book.v_f);
    let other = other.map(|v_f| s::V_F.show(v_f, system));
    parts.extend(
        other
            .filter(|v_f| *v_f != now)
            .map(|v_f| format!("the book: F {v_f}")),
    );
    (!parts.is_empty()).then(|| parts.join("; "))
}

/// Own and book, a line each; none where it goes by the book alone.
pub fn lines(answer: &Answered, system: System) -> Vec<String> {
    let own = own_line(answer, system).map(|line| format!("own cuts: {line}"));
    let moved = moved_line(answer, system).map(|line| format!("moved by own cuts: {line}"));
    own.into_iter().chain(moved).collect()
}

/// Own and book as scripts read them.
pub fn document(answer: &Answered) -> Option<Value> {
    let own = answer.resolved.own.as_ref()?;
    let factor = |input: &Input| {
        let (factor, [low, high]) = own.factors.factor(*input)?;
        let is_sure = high <= low;
        (!is_sure)
            .then(|| json!({ "input": input.words(), "factor": factor, "low": low, "high": high }))
    };
    let ends = |range: Option<&LikelyRange>, symbol: &'static Symbol| {
        let band = band(range?, symbol)?;
        Some(json!({ "low": symbol.amount(band.low), "high": symbol.amount(band.high) }))
    };
    let book = answer.book.as_ref();
    let answers = answer.sure.iter().flat_map(|r| &r.answers);
    let answers = answers.map(|band| {
        json!({
            "answer": band.symbol.name,
            "own": ends(answer.sure.as_ref(), band.symbol),
            "book": ends(book.map(|b| &b.range), band.symbol),
        })
    });
    Some(json!({
        "readings": own.here,
        "readings_on_machine": own.on_machine,
        "inside": own.inside.0,
        "of": own.inside.1,
        "factors": OwnFactors::INPUTS.iter().filter_map(factor).collect::<Vec<_>>(),
        "answers": answers.collect::<Vec<_>>(),
        "book_feed_speed": book.and_then(|b| b.v_f).map(|v_f| s::V_F.amount(v_f)),
    }))
}
