//! What is asked back about a typed value that is out of the ordinary: mostly a decimal point that
//! slipped, or an inch that was read as a millimetre.

use super::ordinary::{Beside, Ordinary, alone, ordinary};
use crate::sourced::Basis;
use feeds_core::plan::setup::Setup;
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, Symbol, System};

/// A value that is out of the ordinary. It stops nothing; whoever typed it is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Doubt {
    /// The quantity.
    pub symbol: &'static Symbol,
    /// What is asked, in a sentence that names the entry.
    pub text: String,
}

/// A value that was typed.
#[derive(Clone, Debug)]
pub(super) struct Typed {
    pub(super) symbol: &'static Symbol,
    /// What the reader calls it.
    pub(super) called: &'static str,
    /// In SI base units.
    pub(super) si: f64,
    pub(super) text: String,
    /// What stands in the tables under it.
    pub(super) printed: Option<f64>,
}

/// A decimal point that slipped by a place.
const PLACE: f64 = 10.0;
/// How far from what the tables have a value may stand that is typed over it (common practice).
const OVER_ROW: f64 = 4.0;
/// What is asked where no slip explains a value.
const AGAIN: &str = "is that right?";

/// A typed value that is out of the ordinary.
struct Odd<'a> {
    typed: &'a Typed,
    row: Ordinary,
    /// What it is held against, in SI base units.
    scale: f64,
}

/// What is asked about a pass.
pub(super) fn doubts(setup: &Setup, typed: &[Typed]) -> Vec<Doubt> {
    let odd = odd(setup, typed);
    if let Some(question) = of_the_diameter(&odd, typed) {
        return vec![question];
    }
    let asked = |typed: &Typed| odd.iter().any(|odd| odd.typed.symbol == typed.symbol);
    let over = typed.iter().filter(|typed| !asked(typed));
    let over = over.filter_map(|typed| over_its_row(typed, setup.typed_in));
    let system = setup.typed_in;
    odd.iter()
        .map(|odd| odd.doubt(system))
        .chain(over)
        .collect()
}

/// What is asked about a value that nobody sees beside a whole pass; nothing where it is ordinary.
///
/// # Example
/// ```
/// use feeds_core::symbol::D;
/// use reference_tables::pass::doubt_alone;
/// let asked = doubt_alone(&D, "diameter", "3.175in", 0.080_645).unwrap();
/// assert!(asked.text.ends_with("did you mean 0.3175 in or 3.175 mm?"), "{}", asked.text);
/// assert_eq!(doubt_alone(&D, "diameter", "3.175mm", 0.003_175), None);
/// ```
pub fn doubt_alone(
    symbol: &'static Symbol,
    called: &'static str,
    text: &str,
    si: f64,
) -> Option<Doubt> {
    let row = alone(symbol)?;
    let typed = Typed {
        symbol,
        called,
        si,
        text: text.to_owned(),
        printed: None,
    };
    let odd = Odd {
        typed: &typed,
        row,
        scale: row.symbol.unit.size,
    };
    let system = if is_in_inches(text) {
        System::Inch
    } else {
        System::Metric
    };
    (si > 0.0 && !odd.is_ordinary(si)).then(|| odd.doubt(system))
}

fn odd<'a>(setup: &Setup, typed: &'a [Typed]) -> Vec<Odd<'a>> {
    let rows = ordinary(setup);
    let odd = |typed: &'a Typed| {
        let mut own = rows.iter().filter(|row| row.symbol == typed.symbol);
        own.find_map(|row| {
            let scale = scale(setup, row)?;
            let odd = Odd {
                typed,
                row: *row,
                scale,
            };
            // Nothing says that there is none of it.
            (typed.si > 0.0 && !odd.is_ordinary(typed.si)).then_some(odd)
        })
    };
    typed.iter().filter_map(odd).collect()
}

/// What a value is held against, in SI base units.
fn scale(setup: &Setup, row: &Ordinary) -> Option<f64> {
    let c = &setup.cutter;
    let turn = std::f64::consts::PI * c.diameter.si();
    Some(match row.beside {
        Beside::Nothing => row.symbol.unit.size,
        Beside::Diameter => c.diameter.si(),
        Beside::Shank => c.shank.si(),
        Beside::UsualEdge => c.usual_edge_radius?.si(),
        Beside::LowFeed => setup.stock.f_z?.least.si(),
        Beside::SlowSpeed => {
            let (slowest, _) = setup.stock.v_c?;
            let top = setup.machine.as_ref().map(|m| m.n_max.turns().si() * turn);
            let v_c = top.map_or(slowest.si(), |top| slowest.si().min(top));
            if row.symbol == &s::N { v_c / turn } else { v_c }
        }
    })
}

impl Odd<'_> {
    fn is_ordinary(&self, si: f64) -> bool {
        let ratio = si / self.scale;
        ratio >= self.row.least && ratio <= self.row.most
    }

    fn doubt(&self, system: System) -> Doubt {
        let (row, typed) = (&self.row, self.typed);
        let than = match row.beside.words() {
            None => {
                let show = |number: f64| row.symbol.show(number * self.scale, system);
                format!(
                    "is unusual, {} to {} is usual",
                    show(row.least),
                    show(row.most)
                )
            }
            Some(of) => {
                let (times, least) = (short(typed.si / self.scale), short(row.least));
                let most = short(row.most);
                let usual = match (row.least > 0.0, row.most.is_finite()) {
                    (true, true) => format!("{least} to {most} x"),
                    (false, _) => format!("at most {most} x"),
                    (true, false) => format!("at least {least} x"),
                };
                format!("is {times} x {of}, {usual} is usual")
            }
        };
        let basis = match row.basis {
            Basis::CommonPractice => row.basis.word().to_owned(),
            basis => format!("{}, {basis}", row.why),
        };
        let meant = meant(typed, |si| self.is_ordinary(si));
        let meant = meant.as_deref().unwrap_or(AGAIN);
        Doubt {
            symbol: typed.symbol,
            text: format!(
                "{}: «{}» {than} ({basis}): {meant}",
                typed.called, typed.text
            ),
        }
    }
}

/// One slip that explains several: what is odd beside the diameter is ordinary beside another one.
fn of_the_diameter(odd: &[Odd<'_>], typed: &[Typed]) -> Option<Doubt> {
    let shank = typed.iter().any(|typed| typed.symbol == &s::D_SHANK);
    let by_diameter = |odd: &&Odd<'_>| match odd.row.beside {
        Beside::Diameter => true,
        // Where nobody gave one, it is as thick as the cutter.
        Beside::Shank => !shank,
        _ => false,
    };
    let odd: Vec<_> = odd.iter().filter(by_diameter).collect();
    let diameter = typed.iter().find(|typed| typed.symbol == &s::D)?;
    let fits = |other: f64| {
        let times = other / diameter.si;
        odd.iter().all(|odd| odd.is_ordinary(odd.typed.si / times))
    };
    let meant = meant(diameter, fits).filter(|_| odd.len() > 1)?;
    let others: Vec<&str> = odd.iter().map(|odd| odd.typed.called).collect();
    Some(Doubt {
        symbol: diameter.symbol,
        text: format!(
            "{}: «{}» does not go with {} (common practice): {meant}",
            diameter.called,
            diameter.text,
            others.join(", ")
        ),
    })
}

/// A value that is far from what the tables have for the thing that was named.
fn over_its_row(typed: &Typed, system: System) -> Option<Doubt> {
    let printed = typed.printed.filter(|printed| *printed > 0.0)?;
    let near = |si: f64| si <= OVER_ROW * printed && OVER_ROW * si >= printed;
    // The tables have the careful end of what loose machines have: a true one has less.
    let true_one = [&s::BACKLASH, &s::TIR].contains(&typed.symbol) && typed.si < printed;
    if typed.si <= 0.0 || near(typed.si) || true_one {
        return None;
    }
    let shown = typed.symbol.show(printed, system);
    let meant = meant(typed, near);
    let meant = meant.as_deref().unwrap_or(AGAIN);
    Some(Doubt {
        symbol: typed.symbol,
        text: format!(
            "{}: «{}» where the tables have {shown}: {meant}",
            typed.called, typed.text
        ),
    })
}

/// What was probably meant, as a question; `None` where no slip explains it.
fn meant(typed: &Typed, fits: impl Fn(f64) -> bool) -> Option<String> {
    let symbol = typed.symbol;
    let (own, other) = if is_in_inches(&typed.text) {
        (System::Inch, System::Metric)
    } else {
        (System::Metric, System::Inch)
    };
    let has_inches = symbol.metric.0 != symbol.inch.0;
    let unit = symbol.read_in(other).0.size / symbol.read_in(own).0.size;
    let slips = [(1.0 / PLACE, own), (PLACE, own), (unit, other)];
    let slips = slips
        .into_iter()
        .filter(|(_, system)| *system == own || has_inches);
    let fitting = slips.filter(|(times, _)| fits(times * typed.si));
    let shown: Vec<String> = fitting
        .map(|(times, system)| symbol.show(times * typed.si, system))
        .collect();
    (!shown.is_empty()).then(|| format!("did you mean {}?", shown.join(" or ")))
}

/// Whether a text has a unit of the inch system.
fn is_in_inches(text: &str) -> bool {
    let text = text.replace("min", "");
    ["in", "\"", "thou", "ft", "ip"]
        .iter()
        .any(|unit| text.contains(unit))
}

/// A ratio in two digits.
fn short(ratio: f64) -> String {
    let places = match ratio {
        r if r >= 10.0 => 0,
        r if r >= 1.0 => 1,
        r if r >= 0.1 => 2,
        _ => 3,
    };
    let text = format!("{ratio:.places$}");
    if places == 0 {
        return text;
    }
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
