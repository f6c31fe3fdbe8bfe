//! The interval of feeds that keeps every wanted margin, and the check that closes each end.

use super::checks::{self, At};
use super::limits as l;
use super::limits::closes;
use super::loads::{LoadModel, Loadings, Loads};
use super::moments::Moments;
use super::setup::{Intent, Setup};
use crate::kernel::root::{self, Hill};
use crate::limit::{Bound, Check, Found, Limit, Moment};
use crate::quantity::{Length, Quantity, SpindleSpeed};

/// One end of the interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FeedEnd {
    /// The feed per tooth there.
    pub f_z: Length,
    /// The limit that closes it.
    pub limit: &'static Limit,
    /// The moment at which it does.
    pub moment: Moment,
}

/// Feeds per tooth that keep every wanted margin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// The least feed: below it a check is broken. `None` when none is known to be. Mostly it is
    /// the chip floor; but where the edge presses one way and the chip the other, a wall can be
    /// further off at a lower feed.
    pub least: Option<FeedEnd>,
    /// The most feed: above it a check is broken. `None` when none is known to be; no feed at all
    /// when the loads are broken at any.
    pub most: Option<FeedEnd>,
}

impl Interval {
    /// Whether no feed keeps every wanted margin.
    pub fn is_empty(&self) -> bool {
        let most = self.most.map_or(f64::INFINITY, |m| m.f_z.value);
        most <= 0.0 || self.least.is_some_and(|l| l.f_z.value > most)
    }

    /// Whether a feed keeps every wanted margin.
    pub fn holds(&self, f_z: Length) -> bool {
        self.least.is_none_or(|l| f_z >= l.f_z) && self.most.is_none_or(|m| f_z <= m.f_z)
    }
}

/// Feeds are searched between these shares of the diameter.
const RANGE: (f64, f64) = (1e-7, 1.0);
/// Logarithm to which an end is known.
const EXACT: f64 = 1e-11;

/// A pass at any feed: its moments, with their loads where the stock's force is known.
pub(super) struct Feeds<'a> {
    setup: &'a Setup,
    moments: &'a Moments,
    loadings: Option<Loadings<'a>>,
}

impl<'a> Feeds<'a> {
    pub(super) fn new(
        setup: &'a Setup,
        moments: &'a Moments,
        model: Option<&'a LoadModel>,
    ) -> Self {
        Self {
            setup,
            moments,
            loadings: model.map(|m| m.ready_all(setup, moments)),
        }
    }

    /// The loads of the moments.
    pub(super) fn loads(&mut self, at: At) -> Option<&[Loads]> {
        self.loadings.as_mut().map(|l| l.at(at))
    }

    /// The moments.
    pub(super) fn moments(&self) -> &'a Moments {
        self.moments
    }

    /// The interval at one spindle speed.
    pub(super) fn interval(&mut self, n: SpindleSpeed) -> Interval {
        self.interval_of(n, self.setup.intent, |_| true)
    }

    /// The interval with the margins of an intent, by those checks of the loads that count.
    pub(super) fn interval_of(
        &mut self,
        n: SpindleSpeed,
        intent: Intent,
        counts: fn(&Check) -> bool,
    ) -> Interval {
        let chips = self.of_chips(n, intent);
        if self.loadings.is_none() {
            return chips;
        }
        let d = self.setup.cutter.diameter.value;
        let log = |end: Option<FeedEnd>, share: f64| end.map_or(d * share, |e| e.f_z.value).ln();
        let (low, high) = (log(chips.least, RANGE.0), log(chips.most, RANGE.1));
        let far = (d * RANGE.0).ln().min(high);
        let mut tightest = |log: f64| {
            let at = At::new(self.setup, n, feed(log));
            self.tightest(at, intent, counts)
        };
        let mut spare = |log: f64| tightest(log).map_or(f64::MAX, |t| t.0);
        // Where every feed above the floor is too much, the end lies below it.
        let hill = match root::hill(low.min(high), high, EXACT, &mut spare) {
            Hill::Below(_) if low > far => root::hill(far, low.min(high), EXACT, &mut spare),
            hill => hill,
        };
        let mut end = |log: f64, beyond: f64| {
            let (_, check) = tightest(log + beyond)?;
            Some(FeedEnd {
                f_z: feed(log),
                limit: check.limit,
                moment: check.moment,
            })
        };
        match hill {
            Hill::Above(from, to) => Interval {
                least: if from > low {
                    end(from, -2.0 * EXACT)
                } else {
                    chips.least
                },
                most: if to < high {
                    end(to, 2.0 * EXACT)
                } else {
                    chips.most
                },
            },
            Hill::Below(top) => Interval {
                least: chips.least,
                most: end(top, 0.0).map(|e| FeedEnd {
                    f_z: Length::from_si(0.0),
                    ..e
                }),
            },
        }
    }

    /// What chips and feed speed leave: they are proportional to the feed, so one look is enough.
    fn of_chips(&self, n: SpindleSpeed, intent: Intent) -> Interval {
        let looked = self.setup.cutter.diameter;
        let at = At::new(self.setup, n, looked);
        let checks = checks::proportional(self.setup, intent, self.moments, at);
        let ends = |floor: bool| {
            let ends = checks.iter().filter_map(move |c| {
                let Found::Known { value, bound } = c.found else {
                    return None;
                };
                let used = bound.used(value) / (1.0 - c.wanted);
                let is_floor = matches!(bound, Bound::AtLeast(_));
                (is_floor == floor).then(|| FeedEnd {
                    f_z: if is_floor {
                        looked * used
                    } else {
                        looked / used
                    },
                    limit: c.limit,
                    moment: c.moment,
                })
            });
            ends.collect::<Vec<FeedEnd>>().into_iter()
        };
        Interval {
            least: ends(true).max_by(|a, b| a.f_z.value.total_cmp(&b.f_z.value)),
            most: ends(false).min_by(|a, b| a.f_z.value.total_cmp(&b.f_z.value)),
        }
    }

    /// Whether spindle and drives carry a feed at a spindle speed, with the margin that is wanted.
    pub(super) fn carries(&mut self, n: SpindleSpeed, f_z: Length) -> bool {
        let (setup, moments) = (self.setup, self.moments);
        let at = At::new(setup, n, f_z);
        let chips = checks::proportional(setup, setup.intent, moments, at);
        let loads = self.loadings.as_mut().map(|l| l.at(at));
        let loads = checks::loaded(setup, setup.intent, moments, loads, at);
        let of_machine = [&l::FEED_SPEED, &l::POWER];
        let mut checks = chips.iter().chain(loads.iter());
        checks.all(|c| c.holds() || !of_machine.contains(&c.limit))
    }

    /// The check of the loads that is least inside its wanted margin, with how far.
    fn tightest(
        &mut self,
        at: At,
        intent: Intent,
        counts: fn(&Check) -> bool,
    ) -> Option<(f64, Check)> {
        let loads = self.loadings.as_mut().map(|l| l.at(at));
        let checks = checks::loaded(self.setup, intent, self.moments, loads, at);
        checks
            .iter()
            .filter(|c| closes(c.limit) && counts(c))
            .filter_map(|c| Some((c.spare()?, *c)))
            .min_by(|a, b| a.0.total_cmp(&b.0))
    }
}

fn feed(log: f64) -> Length {
    Length::from_si(log.exp())
}
