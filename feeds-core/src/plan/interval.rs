//! The interval of feeds that keeps every wanted margin, and the check that closes each end.

use super::checks::{At, moving};
use super::limits::{closes_above, closes_below};
use super::loads::LoadModel;
use super::moments::Moments;
use super::setup::Setup;
use crate::kernel::root;
use crate::limit::{Check, Limit, Moment};
use crate::quantity::{Length, Quantity, SpindleSpeed};

/// One end of the interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct End {
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
    /// The least feed: below it a floor is broken. `None` when no floor is known.
    pub least: Option<End>,
    /// The most feed: above it a ceiling is broken. `None` when no ceiling is known.
    pub most: Option<End>,
}

/// Feeds are searched between these shares of the diameter.
const RANGE: (f64, f64) = (1e-7, 1.0);

impl Interval {
    /// The interval of feeds at one spindle speed.
    pub fn of(
        setup: &Setup,
        moments: &Moments,
        model: Option<&LoadModel>,
        n: SpindleSpeed,
    ) -> Self {
        let d = setup.cutter.diameter.value;
        let at = |log: f64| At::new(setup, n, Length::from_si(d * log.exp()));
        let tightest = |log: f64, side: fn(&Limit) -> bool| {
            let checks = moving(setup, moments, model, at(log));
            checks
                .iter()
                .filter(|c| side(c.limit))
                .filter_map(|c| Some((c.margin()? - c.wanted, *c)))
                .min_by(|a, b| a.0.total_cmp(&b.0))
        };
        let end = |log: f64, check: Check| End {
            f_z: at(log).f_z,
            limit: check.limit,
            moment: check.moment,
        };
        let (low, high) = (RANGE.0.ln(), RANGE.1.ln());
        let close = |side: fn(&Limit) -> bool, rises: bool| {
            let (good, bad) = if rises { (high, low) } else { (low, high) };
            let (spare_good, at_good) = tightest(good, side)?;
            let (spare_bad, at_bad) = tightest(bad, side)?;
            if spare_good < 0.0 {
                return Some(end(good, at_good));
            }
            if spare_bad >= 0.0 {
                return Some(end(bad, at_bad));
            }
            let spare = |log: f64| tightest(log, side).map_or(f64::NAN, |t| t.0);
            let edge = root::bracketed(low, high, 1e-12, spare)?;
            // One step of rounding inside, so that the end itself keeps the margin.
            let inside = edge + if rises { 4e-12 } else { -4e-12 };
            let (_, closing) = tightest(edge + (edge - inside), side)?;
            Some(end(inside, closing))
        };
        Self {
            least: close(closes_below, true),
            most: close(closes_above, false),
        }
    }

    /// Whether no feed keeps every wanted margin.
    pub fn is_empty(&self) -> bool {
        matches!((self.least, self.most), (Some(l), Some(m)) if l.f_z > m.f_z)
    }

    /// Whether a feed keeps every wanted margin.
    pub fn holds(&self, f_z: Length) -> bool {
        self.least.is_none_or(|l| f_z >= l.f_z) && self.most.is_none_or(|m| f_z <= m.f_z)
    }
}
