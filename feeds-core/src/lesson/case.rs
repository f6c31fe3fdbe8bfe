//! The numbers of an exercise: drawn from those of a shop, and changed as slips change them.

use super::worked::{Entries, Worked, work};
use crate::filled::filled;
use crate::kernel::seed::Seed;
use crate::quantity::unit::Dimension;
use crate::quantity::{inch, read, unit};
use crate::symbol::System;

/// Diameters a drawer of small cutters has.
pub(super) const DIAMETERS: &[&str] = &[
    "1 mm", "1.5 mm", "2 mm", "2.5 mm", "3 mm", "4 mm", "5 mm", "6 mm", "8 mm", "10 mm",
];
/// Spindle speeds of a light mill.
pub(super) const SPEEDS: &[&str] = &[
    "900 rpm", "1200 rpm", "1600 rpm", "2100 rpm", "2800 rpm", "3500 rpm", "4400 rpm", "5000 rpm",
];
/// Edges of small end mills.
pub(super) const EDGES: &[&str] = &["2", "3", "4"];
/// Feeds per tooth of small end mills in steel.
pub(super) const FEEDS: &[&str] = &[
    "0.006 mm", "0.008 mm", "0.01 mm", "0.012 mm", "0.015 mm", "0.02 mm", "0.025 mm", "0.03 mm",
    "0.04 mm", "0.05 mm",
];

/// One of some things; `None` of nothing.
pub(super) fn pick<'a, T>(seed: &mut Seed, things: &'a [T]) -> Option<&'a T> {
    let count = u64::try_from(things.len()).ok().filter(|n| *n > 0)?;
    things.get(usize::try_from(seed.bits() % count).ok()?)
}

/// Draws entries, one after the other.
pub(super) struct Draws<'a> {
    pub(super) seed: &'a mut Seed,
    /// What the numbers are round in.
    pub(super) system: System,
    pub(super) entries: Entries,
}

impl Draws<'_> {
    /// Draws one of these texts.
    pub(super) fn pick(&mut self, key: &'static str, texts: &[&str]) -> &mut Self {
        if let Some(text) = pick(self.seed, texts) {
            self.push(key, text);
        }
        self
    }

    /// Adds an entry, made round for the system.
    fn push(&mut self, key: &'static str, text: &str) {
        let text = match self.system {
            System::Metric => text.to_owned(),
            System::Inch => inch::rounded(key, text),
        };
        self.entries.push((key, text));
    }

    /// Draws a share of an entry that is there, rounded to so many places of its unit.
    pub(super) fn share(
        &mut self,
        key: &'static str,
        of: &str,
        shares: &[f64],
        places: usize,
    ) -> &mut Self {
        let whole = number(&self.entries, of);
        if let (Some((whole, unit)), Some(share)) = (whole, pick(self.seed, shares)) {
            // An inch is so much more than a millimetre that it needs two places more.
            let more = if unit == unit::INCH.text { 2 } else { 0 };
            let number = format!("{:.*}", places + more, whole * share);
            let text = format!("{} {unit}", trimmed(&number));
            self.entries.push((key, text.trim_end().to_owned()));
        }
        self
    }

    /// Draws the feed speed `v_f` of a feed per tooth, with `z` and `n` that are there.
    pub(super) fn feed(&mut self) -> &mut Self {
        let of = |key: &str| number(&self.entries, key).map_or(1.0, |(value, _)| value);
        let (z, n) = (of("z"), of("n"));
        let f_z =
            pick(self.seed, FEEDS).and_then(|text| text.split(' ').next()?.parse::<f64>().ok());
        if let Some(f_z) = f_z {
            let v_f = (f_z * z * n / 5.0).round().max(1.0) * 5.0;
            self.push("v_f", &format!("{v_f} mm/min"));
        }
        self
    }
}

/// A number without the zeros behind its point that say nothing.
fn trimmed(number: &str) -> &str {
    if number.contains('.') {
        number.trim_end_matches('0').trim_end_matches('.')
    } else {
        number
    }
}

/// The number and the unit of an entry written as such.
pub(super) fn number<'e>(entries: &'e Entries, key: &str) -> Option<(f64, &'e str)> {
    let (_, text) = entries.iter().find(|(k, _)| *k == key)?;
    let (number, unit) = read::number(text, Dimension::Ratio).ok()?;
    Some((number, unit.trim_start()))
}

/// Numbers with the calculation they are for.
#[derive(Clone, Debug)]
pub(super) struct Case {
    pub(super) calculation: &'static str,
    pub(super) wants: &'static str,
    /// What its numbers are round in.
    pub(super) system: System,
    pub(super) entries: Entries,
}

impl Case {
    /// The same numbers with one of them replaced, or added.
    pub(super) fn set(&self, key: &'static str, text: impl Into<String>) -> Self {
        let mut case = self.clone();
        case.entries.retain(|(k, _)| *k != key);
        case.entries.push((key, text.into()));
        case
    }

    /// The same numbers with one of them so many times as large.
    pub(super) fn times(&self, key: &'static str, factor: f64) -> Self {
        match number(&self.entries, key) {
            Some((value, unit)) => self.set(key, format!("{} {unit}", value * factor)),
            None => self.clone(),
        }
    }

    /// The same numbers with one of them taken from another.
    pub(super) fn copy(&self, key: &'static str, from: &str) -> Self {
        match self.entries.iter().find(|(k, _)| *k == from) {
            Some((_, text)) => self.set(key, text.clone()),
            None => self.clone(),
        }
    }

    /// A number as it stands, without its unit.
    pub(super) fn number(&self, key: &str) -> Option<f64> {
        number(&self.entries, key).map(|(value, _)| value)
    }

    /// A number with its unit, in SI base units.
    pub(super) fn si(&self, key: &str) -> Option<f64> {
        let (value, of) = number(&self.entries, key)?;
        Some(value * unit::named(of)?.size)
    }

    /// How many times too large a length becomes that is taken for one of the other system.
    pub(super) fn other_system(&self) -> f64 {
        match self.system {
            System::Metric => unit::INCH.size / unit::MILLIMETRE.size,
            System::Inch => unit::MILLIMETRE.size / unit::INCH.size,
        }
    }

    /// The unit of lengths, in metres.
    pub(super) fn length(&self) -> f64 {
        match self.system {
            System::Metric => unit::MILLIMETRE.size,
            System::Inch => unit::INCH.size,
        }
    }

    /// The length in a cutting speed over that of a diameter: metre over millimetre, or foot over
    /// inch.
    pub(super) fn length_of_speed(&self) -> f64 {
        match self.system {
            System::Metric => unit::METRE.size / unit::MILLIMETRE.size,
            System::Inch => unit::FOOT.size / unit::INCH.size,
        }
    }

    /// The calculation.
    pub(super) fn worked(&self) -> Option<Worked> {
        work(self.calculation, &self.entries).ok()
    }

    /// What is wanted, in SI base units.
    pub(super) fn value(&self) -> Option<f64> {
        self.result(self.wants)
    }

    /// Another result of the calculation, in SI base units.
    pub(super) fn result(&self, key: &str) -> Option<f64> {
        Some(self.worked()?.result(key)?.si)
    }

    /// A text with `{key}` replaced by the entry; `None` when one is missing.
    pub(super) fn told(&self, text: &str) -> Option<String> {
        let entry = |key: &str| {
            let (_, entry) = self.entries.iter().find(|(k, _)| *k == key)?;
            Some(entry.clone())
        };
        filled(text, &entry).ok()
    }
}
