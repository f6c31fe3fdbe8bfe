//! One entry varied: the pass worked out at each value of it.
//!
//! [`SweepRange::read`] reads what is varied, [`sweep`] works it out, [`text`] and [`svg`] show it.

pub mod axis;
pub mod chart;
pub mod document;
pub mod governed;
pub mod hatch;
pub mod panel;
pub mod svg;
pub mod text;

use crate::pass::alias::{meant, names};
use crate::pass::answered::answered;
use crate::pass::description::Description;
use crate::pass::field::{Field, Takes, field};
use crate::pass::resolve::Shelves;
use crate::words::STARRED;
use feeds_core::error::{Cause, EntryError};
use feeds_core::limit::{Check, Limit, State};
use feeds_core::nearest::advice;
use feeds_core::plan::Planner;
use feeds_core::symbol::{Symbol, System};
use feeds_core::verdict::nearest as nearest_to_trouble;
use panel::unit;

/// The least and the most values an entry is varied over.
pub const POINTS: std::ops::RangeInclusive<usize> = 2..=1000;

/// What is varied, from where to where, in SI base units.
#[derive(Clone, Copy, Debug)]
pub struct SweepRange {
    /// The entry.
    pub entry: &'static Field,
    /// Its symbol.
    pub symbol: &'static Symbol,
    /// The first value.
    pub from: f64,
    /// The last one, more than the first.
    pub to: f64,
    /// Only whole numbers.
    whole: bool,
}

impl SweepRange {
    /// Reads `width=0.1mm..6mm`.
    ///
    /// # Errors
    /// When the form is another, the entry unknown or no quantity, an end cannot be read or used,
    /// or the second end is not above the first.
    ///
    /// # Example
    /// ```
    /// use feeds_tui::sweep::SweepRange;
    /// let range = SweepRange::read("width=0.1mm..1/4in").unwrap();
    /// assert_eq!(range.entry.key, "width");
    /// assert!((range.to - 0.006_35).abs() < 1e-12);
    /// let wrong = SweepRange::read("width=0.1mm").unwrap_err().to_string();
    /// assert!(wrong.contains("width=0.1mm..6mm"));
    /// ```
    pub fn read(text: &str) -> Result<Self, EntryError> {
        let form = || {
            EntryError::because(Cause::Form, format!(
                "«{text}» is not a range: type an entry and two values, such as width=0.1mm..6mm"
            ))
            .of("sweep")
        };
        let (key, ends) = text.split_once('=').ok_or_else(form)?;
        let (from, to) = ends.split_once("..").ok_or_else(form)?;
        let (entry, range) = varied(key.trim())?;
        let end = |text: &str| {
            let value = range.read(&meant(key.trim(), text), entry.why());
            value.map_err(|e| e.of(entry.key))
        };
        let (from, to) = (end(from)?, end(to)?);
        // Compared positively, so that what is not a number is refused as well.
        if to > from {
            Ok(Self {
                entry,
                symbol: range.symbol,
                from,
                to,
                whole: range.whole,
            })
        } else {
            let (least, most) = (range.symbol.amount(from), range.symbol.amount(to));
            Err(EntryError::because(
                Cause::Form,
                format!("{most} is not above {least}: the smaller value comes first"),
            )
            .of(entry.key))
        }
    }

    /// A range about a value: these shares of it, as far as the entry can be so.
    ///
    /// `None` if the entry is no quantity, or there is nothing about the value.
    pub fn around(entry: &'static Field, value: f64, shares: (f64, f64)) -> Option<Self> {
        let Takes::Quantity(range) = entry.takes else {
            return None;
        };
        let (least, most) = range.ends();
        let (mut from, mut to) = (value * shares.0, value * shares.1);
        if value == 0.0 {
            to = most.si / 10.0;
        }
        if range.whole {
            (from, to) = (from.floor(), to.ceil());
        }
        let (from, to) = (from.max(least.si), to.min(most.si));
        (to > from).then_some(Self {
            entry,
            symbol: range.symbol,
            from,
            to,
            whole: range.whole,
        })
    }

    /// Whether only whole numbers can be typed.
    pub fn is_whole(&self) -> bool {
        self.whole
    }

    /// So many values, evenly from end to end; whole numbers where the entry takes no others.
    pub fn values(&self, points: usize) -> Vec<f64> {
        if self.whole {
            let mut values: Vec<f64> = self.even(points).map(f64::round).collect();
            values.dedup();
            return values;
        }
        self.even(points).collect()
    }

    #[expect(clippy::cast_precision_loss, reason = "at most a few thousand points")]
    fn even(&self, points: usize) -> impl Iterator<Item = f64> {
        let last = points.max(2) - 1;
        (0..=last).map(move |i| {
            let share = i as f64 / last as f64;
            self.from * (1.0 - share) + self.to * share
        })
    }

    /// Its name and symbol, with the unit people of that system read it in.
    pub fn heading(&self, system: System) -> String {
        let mut heading = self.entry.name.to_owned();
        if !heading.ends_with(self.symbol.text) {
            heading = format!("{heading} {}", self.symbol.text);
        }
        match unit(self.symbol, system).text {
            "" => heading,
            unit => format!("{heading} [{unit}]"),
        }
    }

    /// A value as it would be typed.
    fn typed(&self, si: f64) -> String {
        let unit = self.symbol.unit;
        format!("{} {}", si / unit.size, unit.text)
    }
}

/// The entry of that key and its range; only quantities can be varied.
fn varied(key: &str) -> Result<(&'static Field, feeds_core::range::Range), EntryError> {
    let entry = field(key).ok_or_else(|| {
        let keys: Vec<&str> = names().collect();
        let nearest = advice(key, &keys);
        let kind = "entry";
        let name = key.to_owned();
        EntryError::UnknownName {
            kind,
            name,
            nearest,
        }
    })?;
    match entry.takes {
        _ if entry.is_of_programme() => {
            let text = "changes nothing in the cut: vary a quantity, such as width or stick-out";
            Err(EntryError::because(Cause::Idle, text).of(entry.key))
        }
        Takes::Quantity(range) => Ok((entry, range)),
        _ => Err(EntryError::because(
            Cause::Idle,
            "cannot be varied in steps: vary a quantity, such as width or stick-out",
        )
        .of(entry.key)),
    }
}

/// What the pass comes to at one value, in SI base units; `None` is not known.
#[derive(Clone, Debug)]
pub struct SweepPoint {
    /// Largest chip thickness.
    pub h_max: f64,
    /// Least chip thickness that cuts.
    pub h_min: Option<f64>,
    /// Peak lateral force.
    pub force: Option<f64>,
    /// Bending of the tip at that force.
    pub tip: Option<f64>,
    /// Whether its chip lies beyond those the force was measured at.
    pub extrapolated: bool,
    /// The check that gives way first, of those that are known.
    pub first: Option<Check>,
    /// The checks whose data are not.
    pub unknown: Vec<Check>,
}

impl SweepPoint {
    /// The limit that gives way first.
    pub fn limit(&self) -> Option<&'static Limit> {
        self.first.map(|c| c.limit)
    }

    /// How much of what is allowed it uses.
    pub fn used(&self) -> Option<f64> {
        self.first.and_then(|c| c.used())
    }

    /// How it stands.
    pub fn state(&self) -> Option<State> {
        self.first.map(|c| c.state())
    }
}

/// One value with what it comes to, or why no cut can be so.
#[derive(Clone, Debug)]
pub struct Point {
    /// The value of the varied entry.
    pub at: f64,
    /// What it comes to.
    pub outcome: Result<SweepPoint, String>,
}

/// A pass with one entry varied.
#[derive(Clone, Debug)]
pub struct Swept {
    /// What tells it from another, such as `stick-out=20mm`; empty for the pass itself.
    pub name: String,
    /// The values, in order.
    pub points: Vec<Point>,
}

impl Swept {
    /// What it is called beside another.
    pub fn name(&self) -> &str {
        match self.name.as_str() {
            "" => "as typed",
            name => name,
        }
    }

    fn outcomes(&self) -> impl Iterator<Item = &SweepPoint> {
        self.points.iter().filter_map(|p| p.outcome.as_ref().ok())
    }

    /// Checks that are unknown at some value, each limit once.
    pub fn unknown(&self) -> Vec<Check> {
        let mut unknown: Vec<Check> = Vec::new();
        for check in self.outcomes().flat_map(|o| &o.unknown) {
            if !unknown.iter().any(|c| c.limit == check.limit) {
                unknown.push(*check);
            }
        }
        unknown
    }
}

/// What is to be said of forces at chips beyond those they were measured at: `None` if none is.
pub fn extrapolation(passes: &[Swept]) -> Option<&'static str> {
    let mut outcomes = passes.iter().flat_map(Swept::outcomes);
    outcomes.any(|o| o.extrapolated).then_some(STARRED)
}

/// Works a pass out at some values of an entry.
///
/// # Takes
/// `pass` with everything but the varied entry, which is replaced if it is there; `values` in SI
/// base units, rising.
///
/// # Errors
/// When no value has an answer: every error of the first one.
pub fn sweep(
    pass: &Description,
    shelves: &impl Shelves,
    range: &SweepRange,
    values: &[f64],
) -> Result<Vec<Point>, Vec<EntryError>> {
    let mut planner = Planner::default();
    let mut first = None;
    let mut pass = pass.clone();
    let points: Vec<Point> = values
        .iter()
        .map(|&at| {
            let outcome = pass
                .set(range.entry.key, &range.typed(at))
                .map_err(|e| vec![e])
                .and_then(|()| answered(&pass, shelves, &mut planner));
            let outcome = match outcome {
                Ok(answer) => {
                    let plan = &answer.plan;
                    Ok(SweepPoint {
                        h_max: plan.h_max.value,
                        h_min: plan.h_min.map(|h| h.value),
                        force: plan.loads.as_ref().map(|l| l.lateral),
                        tip: plan.loads.as_ref().map(|l| l.tip),
                        extrapolated: answer.is_extrapolated(),
                        first: nearest_to_trouble(&plan.checks).first().map(|c| **c),
                        unknown: plan
                            .checks
                            .iter()
                            .filter(|c| c.state() == State::Unknown)
                            .copied()
                            .collect(),
                    })
                }
                Err(errors) => {
                    let said = errors.first().map(ToString::to_string).unwrap_or_default();
                    first.get_or_insert(errors);
                    Err(said)
                }
            };
            Point { at, outcome }
        })
        .collect();
    match first {
        Some(errors) if points.iter().all(|p| p.outcome.is_err()) => Err(errors),
        _ => Ok(points),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pass::resolve::TablesOnly;

    fn pass() -> Description {
        Description::default().with(&[
            ("diameter", "6 mm"),
            ("edges", "4"),
            ("cutter-material", "carbide"),
            ("path", "side"),
            ("depth", "1 mm"),
            ("stock", "1018"),
            ("condition", "hot rolled"),
            ("spindle", "4400 rpm"),
            ("feed-per-tooth", "0.02 mm"),
        ])
    }

    #[test]
    fn the_chip_of_a_tenth_of_the_diameter_is_six_tenths_of_the_feed() {
        let range = SweepRange::read("width=0.6mm..6mm").unwrap();
        let points = sweep(&pass(), &TablesOnly, &range, &range.values(10)).unwrap();
        let chip = |i: usize| points[i].outcome.as_ref().unwrap().h_max / 0.02e-3;
        // sin(acos(1 − 2 · 0.1)) = 0.6; from half the diameter on the chip is the feed.
        assert!((chip(0) - 0.6).abs() < 1e-9, "{}", chip(0));
        // 1.2 mm is a fifth: sin(acos 0.6) = 0.8.
        assert!((chip(1) - 0.8).abs() < 1e-9, "{}", chip(1));
        assert!((chip(4) - 1.0).abs() < 1e-9 && (chip(9) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn bending_grows_with_the_stick_out_by_more_than_its_square() {
        let range = SweepRange::read("stick-out=15mm..30mm").unwrap();
        let pass = pass().with(&[("width", "1 mm")]);
        let points = sweep(&pass, &TablesOnly, &range, &range.values(4)).unwrap();
        let tip: Vec<f64> = points
            .iter()
            .map(|p| p.outcome.as_ref().unwrap().tip.unwrap())
            .collect();
        assert!(tip.windows(2).all(|w| w[1] > w[0]), "{tip:?}");
        // Twice the length of one round: 8 times the bending; the fluted tip stays as it is.
        let growth = tip[3] / tip[0];
        assert!((4.0..8.5).contains(&growth), "{growth}");
    }

    #[test]
    fn a_value_no_cut_can_have_is_a_gap_and_not_the_end() {
        let range = SweepRange::read("width=3mm..9mm").unwrap();
        let points = sweep(&pass(), &TablesOnly, &range, &range.values(3)).unwrap();
        assert!(points[0].outcome.is_ok() && points[1].outcome.is_ok());
        let said = points[2].outcome.as_ref().unwrap_err();
        assert!(said.contains("9 mm"), "{said}");
    }

    #[test]
    fn whole_entries_take_whole_values() {
        let range = SweepRange::read("edges=2..4").unwrap();
        assert_eq!(range.values(25), [2.0, 3.0, 4.0]);
    }

    #[track_caller]
    fn refused(text: &str, says: &str) {
        let error = SweepRange::read(text).unwrap_err().to_string();
        assert!(error.contains(says), "{error}");
    }

    #[test]
    fn what_cannot_be_varied_is_told() {
        refused("width", "width=0.1mm..6mm");
        refused("widht=1mm..2mm", "«width»");
        refused("stock=1018..1095", "stock: cannot be varied in steps");
        refused("width=2mm..1mm", "1 mm is not above 2 mm");
        refused("width=2..3", "has no unit");
        refused("width=1mm..80mm", "50 mm");
    }
}
