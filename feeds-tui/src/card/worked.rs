//! What the readings of a card come to.

use super::Test;
use feeds_core::error::{Cause, EntryError};
use feeds_core::experiment::{FromReadings, acceleration, edge_radius, mean, slope};
use feeds_core::quantity::read::read;
use feeds_core::quantity::{Force, Length, Power, Quantity, Time, Velocity};
use feeds_core::symbol::{self as s, Symbol, System};

/// Readings that differ by more than this share of what they come to are no measurement (common
/// practice).
const DISAGREE: f64 = 0.3;

/// What readings come to.
#[derive(Clone, Debug, PartialEq)]
pub struct CardResult {
    /// In SI base units.
    pub measured: FromReadings,
    /// What it is.
    pub symbol: &'static Symbol,
    /// Number of readings.
    pub count: usize,
    /// As the shop keeps it.
    pub kept: String,
}

impl CardResult {
    /// Value and spread, for people.
    pub fn show(&self, system: System) -> String {
        let show = |si: f64| self.symbol.show(si, system);
        if self.count == 1 && self.measured.deviation == 0.0 {
            return format!(
                "{} (one reading: its spread is not known)",
                show(self.measured.value)
            );
        }
        format!(
            "{} ± {} (one standard deviation of {} readings)",
            show(self.measured.value),
            show(self.measured.deviation),
            self.count
        )
    }
}

/// Works out readings as they are typed: `25N:4um`, `0.05mm`, `length=5mm`.
///
/// # Errors
/// Which reading cannot be read, or what is missing.
pub fn worked(test: Test, readings: &[String]) -> Result<CardResult, EntryError> {
    let (named, plain): (Vec<&String>, Vec<&String>) =
        readings.iter().partition(|text| text.contains('='));
    let named = Named(&named);
    let allowed: &[&str] = match test {
        Test::Acceleration => &["length", "feed", "moves"],
        Test::EdgeRadius => &["width"],
        _ => &[],
    };
    named.only(allowed, test)?;
    let si = |measured: FromReadings, symbol: &'static Symbol| {
        if measured.value <= 0.0 {
            let text = format!("these readings come to {}", symbol.amount(measured.value));
            let text = format!("{text}: that cannot be, see the card for how to read");
            return Err(EntryError::because(Cause::NoResult, text).of("reading"));
        }
        // That of an edge radius is mostly the step of the ladder.
        let scatters = measured.deviation > DISAGREE * measured.value;
        if scatters && test != Test::EdgeRadius {
            let [value, off] = [measured.value, measured.deviation].map(|v| symbol.amount(v));
            let text = format!(
                "these readings disagree, {value} ± {off}: take them again, and leave out the one \
                 that slipped"
            );
            return Err(EntryError::because(Cause::NoResult, text).of("reading"));
        }
        Ok(CardResult {
            measured,
            symbol,
            count: plain.len(),
            kept: symbol.amount(measured.value).to_string(),
        })
    };
    match test {
        Test::Stiffness => {
            let pairs = pairs::<Force, Length>(&plain, test)?;
            let turned: Vec<(f64, f64)> = pairs.iter().map(|(f, x)| (*x, *f)).collect();
            si(slope(&turned).ok_or_else(|| few(test))?, &s::K_MACHINE)
        }
        Test::Backlash => si(mean_of::<Length>(&plain, test)?, &s::BACKLASH),
        Test::Runout => si(mean_of::<Length>(&plain, test)?, &s::TIR),
        Test::Watts => {
            let pairs = pairs::<Power, Power>(&plain, test)?;
            let more: Vec<f64> = pairs.iter().map(|(idle, cut)| cut - idle).collect();
            si(mean(&more).ok_or_else(|| few(test))?, &s::P_MEAN)
        }
        Test::Acceleration => {
            let length = named.of::<Length>("length", test)?;
            let feed = named.of::<Velocity>("feed", test)?;
            let moves = named.number("moves", test, 1.0..=10_000.0)?;
            let times = singles::<Time>(&plain, test)?;
            let each: Option<Vec<f64>> = times
                .iter()
                .map(|t| acceleration(length, feed, t / moves))
                .collect();
            let each = each.ok_or_else(|| {
                let text = "the moves took no longer than at the feed alone: time more and \
                            shorter moves";
                EntryError::because(Cause::NoResult, text).of("reading")
            })?;
            let result = si(mean(&each).ok_or_else(|| few(test))?, &s::ACCELERATION)?;
            let one = result.kept.clone();
            Ok(CardResult {
                kept: format!("X{one}, Y{one}, Z{one}"),
                ..result
            })
        }
        Test::EdgeRadius => {
            let share = named.number("width", test, 0.01..=1.0)?;
            let pairs = pairs::<Length, Length>(&plain, test)?;
            if let Some((rubs, cuts)) = pairs.iter().find(|(rubs, cuts)| rubs >= cuts) {
                let show = |f: f64| s::F_Z.amount(f).to_string();
                let text = format!(
                    "{} rubs and {} cuts: the feed that cuts is the higher one",
                    show(*rubs),
                    show(*cuts)
                );
                return Err(EntryError::because(Cause::Bound, text).of("reading"));
            }
            let each: Vec<FromReadings> = pairs
                .iter()
                .map(|(rubs, cuts)| edge_radius(*rubs, *cuts, share))
                .collect();
            let values: Vec<f64> = each.iter().map(|m| m.value).collect();
            let of = mean(&values).ok_or_else(|| few(test))?;
            let own = each.iter().map(|m| m.deviation).fold(0.0, f64::max);
            let measured = FromReadings {
                deviation: own.hypot(of.deviation),
                ..of
            };
            si(measured, &s::R_EDGE)
        }
    }
}

fn few(test: Test) -> EntryError {
    let text = format!("too few readings: type them like {}", test.card().type_in);
    EntryError::because(Cause::Wanting, text).of("reading")
}

fn one<Q: Quantity>(text: &str) -> Result<f64, EntryError> {
    let value = read::<Q>(text).map_err(|e| e.of("reading"))?.value.si();
    if value > 0.0 {
        return Ok(value);
    }
    let said = format!("{text} is not above zero: leave out what was not read");
    Err(EntryError::because(Cause::Bound, said).of("reading"))
}

fn singles<Q: Quantity>(texts: &[&String], test: Test) -> Result<Vec<f64>, EntryError> {
    if texts.is_empty() {
        return Err(few(test));
    }
    texts.iter().map(|text| one::<Q>(text)).collect()
}

fn mean_of<Q: Quantity>(texts: &[&String], test: Test) -> Result<FromReadings, EntryError> {
    mean(&singles::<Q>(texts, test)?).ok_or_else(|| few(test))
}

fn pairs<A: Quantity, B: Quantity>(
    texts: &[&String],
    test: Test,
) -> Result<Vec<(f64, f64)>, EntryError> {
    if texts.is_empty() {
        return Err(few(test));
    }
    let each = texts.iter().map(|text| {
        let (a, b) = text.split_once(':').ok_or_else(|| {
            let said = format!("{text} is not a pair: type it like {}", test.card().type_in);
            EntryError::because(Cause::Form, said).of("reading")
        })?;
        Ok((one::<A>(a)?, one::<B>(b)?))
    });
    each.collect()
}

/// What is typed as `name=value`.
struct Named<'a>(&'a [&'a String]);

impl Named<'_> {
    fn only(&self, allowed: &[&str], test: Test) -> Result<(), EntryError> {
        for text in self.0 {
            let name = text.split('=').next().unwrap_or_default();
            if !allowed.contains(&name) {
                let said = format!(
                    "{name} is not asked here: type readings like {}",
                    test.card().type_in
                );
                return Err(EntryError::because(Cause::Unknown, said).of(name));
            }
        }
        Ok(())
    }

    fn text(&self, name: &str, test: Test) -> Result<&str, EntryError> {
        let found = self.0.iter().find_map(|text| {
            let (key, value) = text.split_once('=')?;
            (key == name).then_some(value)
        });
        found.ok_or_else(|| {
            let said = format!("is needed: type it like {}", test.card().type_in);
            EntryError::because(Cause::Wanting, said).of(name)
        })
    }

    fn of<Q: Quantity>(&self, name: &str, test: Test) -> Result<f64, EntryError> {
        one::<Q>(self.text(name, test)?).map_err(|e| e.of(name))
    }

    fn number(
        &self,
        name: &str,
        test: Test,
        range: std::ops::RangeInclusive<f64>,
    ) -> Result<f64, EntryError> {
        let text = self.text(name, test)?;
        match text.trim().parse::<f64>() {
            Ok(value) if range.contains(&value) => Ok(value),
            _ => {
                let said = format!(
                    "{text} is not a number from {} to {}",
                    range.start(),
                    range.end()
                );
                Err(EntryError::because(Cause::Bound, said).of(name))
            }
        }
    }
}
