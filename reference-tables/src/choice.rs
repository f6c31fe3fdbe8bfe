//! Choosing one row among rows that disagree.
//!
//! Rows are never averaged. Among the rows that hold for a stock the first by this order is
//! taken, and the others are kept beside it:
//!
//! 1. rows known to print too small a force, or too high a speed, come last;
//! 2. firm before weak;
//! 3. printed before memory, memory before common practice;
//! 4. a row that names the alloy, then one that prints its hardness, then its group, its class,
//!    then rows for every stock;
//! 5. a row whose hardness holds before one that is merely near, the nearest of a series first;
//! 6. a row for this kind of cut before one for any cut;
//! 7. the careful one (larger force, lower speed or feed);
//! 8. the newer source.
//!
//! Rows of one series are of one source and family, or of one subject where they have no family,
//! and of one cut. Of a series those hold whose hardness encloses that of the stock. Where none
//! does, the rows next to it on either side are interpolated, and cited as the weaker of both.
//! Beyond all of them the nearest holds whose group the condition is read in, however far (weak
//! from 50 HB on), or which lies within 25 HB. Failing those, rows that print no hardness hold, as
//! they do for a stock without a Brinell number; otherwise the answer is refused and the nearest
//! row named.

use crate::error::Unknown;
use crate::scope::Reach;
use crate::sourced::{Band, Basis, Printable, Provenance};
use crate::state::{NEAR_HB, StockState};
use crate::tables::Tables;
use std::cmp::Ordering;

/// The order of the rule in one line, for the working.
pub const RULE: &str = "firm before weak, printed before memory before common practice, alloy \
    before hardness before group before class, this cut before any cut, the careful one, newest";

/// How well a row fits a stock. Better comes first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fit {
    /// The row names the alloy.
    Alloy,
    /// The row prints a hardness that holds, or two rows enclose it.
    Hardness,
    /// The stock is read in the row's group.
    Group,
    /// The row is for a class the stock belongs to.
    Class,
    /// The row is for every stock.
    Every,
}

/// A row as it is shown beside a value.
#[derive(Clone, Debug, PartialEq)]
pub struct Cited {
    /// The table.
    pub table: &'static str,
    /// What the row is about.
    pub subject: String,
    /// What is printed.
    pub printed: String,
    /// Its origin; look the title up with [`Tables::source`].
    pub origin: Provenance,
}

/// A value chosen by the rule, with the rows it was chosen over.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice<T> {
    /// The value.
    pub value: T,
    /// The row it comes from; of two interpolated rows the weaker.
    pub row: Cited,
    /// Why this row.
    pub why: String,
    /// Whether it may only be shown with a warning.
    pub weak: bool,
    /// Whether it is that of a softer state of the stock, which bounds it.
    pub capped: bool,
    /// The other rows that hold, best first.
    pub kept: Vec<(T, Cited)>,
}

impl<T> Choice<T> {
    /// The same choice with every value changed by `f`.
    pub fn map<R>(self, f: impl Fn(T) -> R) -> Choice<R> {
        Choice {
            value: f(self.value),
            row: self.row,
            why: self.why,
            weak: self.weak,
            capped: self.capped,
            kept: self
                .kept
                .into_iter()
                .map(|(value, row)| (f(value), row))
                .collect(),
        }
    }
}

impl<Q: Printable> Choice<Band<Q>> {
    /// The chosen band, widened to hold every firm row that was kept: how far sources disagree.
    pub fn widened(&self) -> Band<Q> {
        let firm = self.kept.iter().filter(|(_, row)| !row.origin.weak);
        firm.fold(self.value, |band, (other, _)| band.hull(*other))
    }
}

/// A row that may hold.
pub(crate) struct Item<T> {
    pub(crate) value: T,
    pub(crate) row: Cited,
    pub(crate) reach: Reach,
    /// Rows with one key form a series along the hardness.
    pub(crate) series: String,
    /// Brinell range the row is printed for; `None` when it prints none.
    pub(crate) span: Option<(f64, f64)>,
    /// Whether the row is for this kind of cut alone.
    pub(crate) for_this_cut: bool,
}

/// Of two values, which is the careful one, and what lies between them.
pub(crate) trait Blend: Clone {
    fn blend(a: &Self, b: &Self, t: f64) -> Self;
    /// `Less` when `self` is the more careful.
    fn careful(&self, other: &Self) -> Ordering;
}

impl<Q: Printable> Blend for Band<Q> {
    fn blend(a: &Self, b: &Self, t: f64) -> Self {
        Band::between(*a, *b, t)
    }

    fn careful(&self, other: &Self) -> Ordering {
        self.start
            .partial_cmp(&other.start)
            .unwrap_or(Ordering::Equal)
    }
}

/// How a row came to hold.
#[derive(Clone, Copy, PartialEq, Eq)]
enum How {
    Inside,
    Interpolated,
    Unstated,
    Covered,
    Near,
}

impl How {
    fn words(self) -> &'static str {
        match self {
            Self::Inside => "the hardness lies in the row",
            Self::Interpolated => "interpolated between two rows",
            Self::Unstated => "the row states no hardness",
            Self::Covered => "the condition is read in the row's group",
            Self::Near => "the row is printed for a hardness within 25 HB",
        }
    }
}

impl Tables {
    /// Chooses among `items` for `state`; `what` names the quantity in the error.
    pub(crate) fn choose<T: Blend>(
        &self,
        what: &str,
        state: &StockState<'_>,
        items: &[Item<T>],
    ) -> Result<Choice<T>, Unknown> {
        Ok(self.choose_in_series(what, state, items)?.0)
    }

    /// As [`Tables::choose`], with the series that was chosen.
    pub(crate) fn choose_in_series<T: Blend>(
        &self,
        what: &str,
        state: &StockState<'_>,
        items: &[Item<T>],
    ) -> Result<(Choice<T>, String), Unknown> {
        let mut held: Vec<(Item<T>, How)> = Vec::new();
        let mut done: Vec<&str> = Vec::new();
        for item in items {
            if !done.contains(&item.series.as_str()) {
                done.push(&item.series);
                let series = items.iter().filter(|i| i.series == item.series);
                held.extend(hold(&series.collect::<Vec<_>>(), state.brinell));
            }
        }
        held.sort_by(|a, b| self.order(a, b));
        let mut held = held.into_iter();
        let Some((first, how)) = held.next() else {
            return Err(outside(what, state, items));
        };
        let choice = Choice {
            capped: false,
            weak: first.row.origin.weak || first.reach.weak,
            why: format!("{}; {RULE}", how.words()),
            value: first.value,
            row: first.row,
            kept: held.map(|(item, _)| (item.value, item.row)).collect(),
        };
        Ok((choice, first.series))
    }

    fn order<T: Blend>(&self, a: &(Item<T>, How), b: &(Item<T>, How)) -> Ordering {
        let key = |(item, how): &(Item<T>, How)| {
            let origin = &item.row.origin;
            let weak = origin.weak || item.reach.weak;
            (
                item.reach.unsafe_side,
                weak,
                origin.basis,
                item.reach.fit,
                *how == How::Near,
                !item.for_this_cut,
            )
        };
        let year = |i: &Item<T>| self.source(&i.row.origin.source).and_then(|s| s.year);
        key(a)
            .cmp(&key(b))
            .then_with(|| a.0.value.careful(&b.0.value))
            .then_with(|| year(&b.0).cmp(&year(&a.0)))
    }
}

/// How far a stock's hardness may lie from a row that its condition is read in before the answer
/// is weak: the usual step between rows (common practice).
const FAR_HB: f64 = 50.0;

/// The rows of one series that hold at a hardness, with how they hold.
fn hold<T: Blend>(series: &[&Item<T>], brinell: Option<f64>) -> Vec<(Item<T>, How)> {
    let unstated = || {
        series
            .iter()
            .filter(|i| i.span.is_none())
            .map(|i| (i.copy(), How::Unstated))
    };
    let Some(hb) = brinell else {
        return unstated().collect();
    };
    let gap = |(a, b): (f64, f64)| (a - hb).max(hb - b);
    let spanned = || series.iter().filter_map(|i| i.span.map(|s| (*i, s)));
    let inside: Vec<_> = spanned()
        .filter(|(_, s)| gap(*s) <= 0.0)
        .map(|(i, _)| (i.copy(), How::Inside))
        .collect();
    if !inside.is_empty() {
        return inside;
    }
    let below = spanned()
        .filter(|(_, (_, b))| *b < hb)
        .max_by(|x, y| x.1.1.total_cmp(&y.1.1));
    let above = spanned()
        .filter(|(_, (a, _))| *a > hb)
        .min_by(|x, y| x.1.0.total_cmp(&y.1.0));
    if let (Some((low, (_, from))), Some((high, (to, _)))) = (below, above) {
        return vec![(
            low.blend(high, (hb - from) / (to - from)),
            How::Interpolated,
        )];
    }
    let taken = || spanned().filter(|(i, s)| i.reach.covers || gap(*s) <= NEAR_HB);
    let Some(nearest) = taken().map(|(_, s)| gap(s)).min_by(f64::total_cmp) else {
        return unstated().collect();
    };
    let nearest = taken().filter(|(_, s)| gap(*s) <= nearest);
    nearest
        .map(|(i, s)| {
            let mut item = i.copy();
            item.reach.weak |= gap(s) > FAR_HB;
            let how = if i.reach.covers {
                How::Covered
            } else {
                How::Near
            };
            (item, how)
        })
        .collect()
}

fn outside<T>(what: &str, state: &StockState<'_>, items: &[Item<T>]) -> Unknown {
    let hb = state.brinell.unwrap_or_default();
    let gap = |item: &Item<T>| item.span.map_or(0.0, |(a, b)| (a - hb).max(hb - b));
    let nearest = items.iter().min_by(|a, b| gap(a).total_cmp(&gap(b)));
    Unknown {
        needs: format!("no row of {what} holds for {}", state.words()),
        nearest: nearest.map(|item| {
            let span = item.span.map_or_else(String::new, |(a, b)| {
                if a < b {
                    format!(" ({a:.0}-{b:.0} HB)")
                } else {
                    format!(" ({a:.0} HB)")
                }
            });
            format!("{}{span}: {}", item.row.subject, item.row.printed)
        }),
        advice: "give the value yourself, or bring the stock to a condition that has a row"
            .to_owned(),
    }
}

impl<T: Blend> Item<T> {
    fn copy(&self) -> Self {
        self.blend(self, 0.0)
    }

    fn blend(&self, other: &Self, t: f64) -> Self {
        let (a, b) = (&self.row, &other.row);
        let mut row = a.clone();
        row.origin = weaker(&a.origin, &b.origin);
        if a.printed != b.printed {
            row.printed = format!("{} and {}", a.printed, b.printed);
        }
        if a.subject != b.subject {
            row.subject = format!("{}; {}", a.subject, b.subject);
        }
        Self {
            value: T::blend(&self.value, &other.value, t),
            row,
            reach: Reach {
                fit: self.reach.fit.min(other.reach.fit),
                covers: self.reach.covers || other.reach.covers,
                weak: self.reach.weak || other.reach.weak,
                unsafe_side: self.reach.unsafe_side || other.reach.unsafe_side,
            },
            series: self.series.clone(),
            span: None,
            for_this_cut: self.for_this_cut,
        }
    }
}

/// The weaker of two bases and flags.
pub(crate) fn weaker(a: &Provenance, b: &Provenance) -> Provenance {
    let rank = |o: &Provenance| (o.weak, o.basis);
    let (low, high): ((bool, Basis), (bool, Basis)) = (rank(a), rank(b));
    if low < high { b.clone() } else { a.clone() }
}

#[cfg(test)]
mod tests {
    use super::{Basis, Provenance, weaker};

    #[test]
    fn of_two_origins_the_weaker_is_told_and_of_equals_the_first() {
        let of = |source: &str, basis, weak| Provenance {
            source: source.to_owned(),
            basis,
            weak,
            note: String::new(),
        };
        let printed = of("A", Basis::Printed, false);
        let weak = of("B", Basis::Printed, true);
        let memory = of("C", Basis::Memory, false);
        let practice = of("D", Basis::CommonPractice, false);
        for (strong, weak) in [
            (&printed, &weak),
            (&printed, &memory),
            (&memory, &practice),
            (&practice, &weak),
        ] {
            assert_eq!(weaker(strong, weak), *weak);
            assert_eq!(weaker(weak, strong), *weak);
        }
        let other = of("E", Basis::Memory, false);
        assert_eq!(weaker(&memory, &other), memory);
    }
}
