//! All checks of a pass at one spindle speed and feed per tooth.
//!
//! A check is found by the same code that later writes down how: silently at every moment, and once
//! more with a notebook at the moment where it is tightest.

mod chips;
mod load;
mod shape;
mod speed;

use super::limits as l;
use super::loads::Loads;
use super::moments::{self, Engaged, Moments};
use super::setup::{Intent, Setup};
use super::working;
use crate::formula::chip::{CentredChip, LargestChip};
use crate::kernel::turn;
use crate::limit::{Bound, Check, Found, Limit, Moment};
use crate::notebook::{Notebook, Origin, Silent};
use crate::quantity::{Length, SpindleSpeed, Velocity};
use crate::symbol::{self as s, Symbol};

pub use load::ROUGHING;

/// The margin of a limit that a run of this intent wants.
pub(crate) fn wanted(limit: &Limit, intent: Intent) -> f64 {
    limit.wanted[usize::from(intent == Intent::Production)]
}

/// The checks of a pass, one of each limit: the moment where it is tightest.
#[derive(Clone, Copy, Debug)]
pub struct Checks {
    list: [Option<Check>; l::COUNT],
    intent: Intent,
    /// The tolerance of the wall that was asked for.
    asked: Option<Length>,
}

impl Checks {
    fn new(setup: &Setup, intent: Intent) -> Self {
        Self {
            list: [None; l::COUNT],
            intent,
            asked: setup.cut.tolerance,
        }
    }

    /// The checks, in the order they were made.
    pub fn iter(&self) -> impl Iterator<Item = &Check> {
        self.list.iter().flatten()
    }

    fn put(&mut self, limit: &'static Limit, moment: Moment, found: Found) {
        let check = Check {
            limit,
            moment,
            found,
            wanted: wanted(limit, self.intent),
            guessed: limit == &l::WALL && self.asked.is_none(),
        };
        let slot = self
            .list
            .iter_mut()
            .find(|c| c.is_none_or(|c| c.limit == limit));
        let Some(slot) = slot else { return };
        let tighter = slot.is_none_or(|old| match (check.spare(), old.spare()) {
            (Some(new), Some(old)) => new < old,
            (None, Some(_)) => true,
            _ => false,
        });
        if tighter {
            *slot = Some(check);
        }
    }

    /// The check of a limit, where it is tightest at a moment and known.
    fn known_at(&self, limit: &Limit, moment: Moment) -> Option<&Check> {
        let mut checks = self.iter();
        checks.find(|c| c.limit == limit && c.moment == moment && c.margin().is_some())
    }
}

/// Everything that depends on spindle speed and feed per tooth, and is asked again and again.
#[derive(Clone, Copy, Debug)]
pub struct At {
    /// Spindle speed.
    pub n: SpindleSpeed,
    /// Feed per tooth.
    pub f_z: Length,
    /// Feed speed.
    pub v_f: Velocity,
}

impl At {
    /// Spindle speed and feed per tooth of a cutter.
    pub fn new(setup: &Setup, n: SpindleSpeed, f_z: Length) -> Self {
        Self {
            n,
            f_z,
            v_f: f_z * f64::from(setup.cutter.edges) * n.turns(),
        }
    }
}

/// Makes every check at one spindle speed and feed; `loads` are those of the moments there.
pub fn all(
    setup: &Setup,
    moments: &Moments,
    loads: Option<&[Loads]>,
    d_eff: Length,
    at: At,
) -> Checks {
    let mut silent = Silent;
    let mut desk = Desk::new(setup, setup.intent, at, &mut silent);
    desk.all(moments, loads, d_eff);
    desk.checks
}

/// Writes down how the checks that were [found](all) came about, for a notebook that keeps it.
pub(super) fn written(
    found: &Checks,
    setup: &Setup,
    moments: &Moments,
    loads: Option<&[Loads]>,
    (d_eff, at): (Length, At),
    notes: &mut impl Notebook,
) {
    let mut desk = Desk::new(setup, setup.intent, at, notes);
    desk.found = Some(found);
    desk.all(moments, loads, d_eff);
}

/// The checks of what is proportional to the feed per tooth, chips and the feed speed, with the
/// margins an intent wants.
pub fn proportional(setup: &Setup, intent: Intent, moments: &Moments, at: At) -> Checks {
    let mut silent = Silent;
    let mut desk = Desk::new(setup, intent, at, &mut silent);
    desk.proportional(moments);
    desk.checks
}

/// The checks of the loads, with the margins an intent wants.
pub fn loaded(
    setup: &Setup,
    intent: Intent,
    moments: &Moments,
    loads: Option<&[Loads]>,
    at: At,
) -> Checks {
    let mut silent = Silent;
    let mut desk = Desk::new(setup, intent, at, &mut silent);
    desk.under_load(moments, loads);
    desk.checks
}

/// Where checks are made.
struct Desk<'a, N> {
    setup: &'a Setup,
    at: At,
    checks: Checks,
    notes: &'a mut N,
    /// The checks that were found, when it is written down how.
    found: Option<&'a Checks>,
    /// The moments whose arc and chip, and whose loads, were written down last.
    written: [Moment; 2],
}

impl<'a, N: Notebook> Desk<'a, N> {
    fn new(setup: &'a Setup, intent: Intent, at: At, notes: &'a mut N) -> Self {
        Self {
            setup,
            at,
            checks: Checks::new(setup, intent),
            notes,
            found: None,
            written: [Moment::Nominal; 2],
        }
    }

    fn all(&mut self, moments: &Moments, loads: Option<&[Loads]>, d_eff: Length) {
        self.proportional(moments);
        self.under_load(moments, loads);
        self.speeds(d_eff);
        self.full_width_low(moments);
        self.rubbing(moments);
        self.tell_again(&s::A_P);
        self.shape();
        self.play();
        self.entry();
        self.corners(moments);
    }

    /// Makes a check of the whole pass.
    fn put(&mut self, limit: &'static Limit, find: impl FnOnce(&mut N) -> Found) {
        self.look(limit, Moment::Nominal, |desk| find(desk.notes));
    }

    /// Makes a check of one moment: its arc and chip are written down before.
    fn put_at(&mut self, limit: &'static Limit, m: &Engaged, find: impl FnOnce(&mut N) -> Found) {
        self.look(limit, m.moment, |desk| {
            desk.go_to(m);
            find(desk.notes)
        });
    }

    /// Makes a check of the loads of one moment: they are written down before.
    fn put_load(
        &mut self,
        limit: &'static Limit,
        (m, loads): (&Engaged, &Loads),
        find: impl FnOnce(&mut N) -> Found,
    ) {
        self.look(limit, m.moment, |desk| {
            desk.go_to(m);
            if N::KEEPS && desk.written[1] != m.moment {
                desk.written[1] = m.moment;
                working::turned(desk.setup, desk.at, m, loads, desk.notes);
            }
            find(desk.notes)
        });
    }

    fn look(
        &mut self,
        limit: &'static Limit,
        moment: Moment,
        find: impl FnOnce(&mut Self) -> Found,
    ) {
        let Some(all) = self.found else {
            let found = find(self);
            self.checks.put(limit, moment, found);
            return;
        };
        if let Some(check) = all.known_at(limit, moment) {
            find(self);
            self.notes.weighed(check);
        }
    }

    fn needs(&mut self, limit: &'static Limit, what: &'static str) {
        self.put(limit, |_| Found::Needs(what));
    }

    /// Tells again where the setup has a number from, after a moment that has another.
    fn tell_again(&mut self, symbol: &'static Symbol) {
        for (of, origin) in &self.setup.origins {
            if of == &symbol {
                self.notes.told(symbol, || origin.clone());
            }
        }
    }

    /// Writes down the arc and the largest chip of a moment, unless they were the last.
    fn go_to(&mut self, m: &Engaged) {
        if !N::KEEPS || self.written[0] == m.moment {
            return;
        }
        self.written[0] = m.moment;
        let why = moments::write_arc(self.setup, m, self.notes);
        let moment = m.moment.words();
        let mut told = |symbol: &'static Symbol, why: String| {
            self.notes.told(symbol, || Origin::Chosen { why });
        };
        told(&s::PHI_S, format!("{moment}: {why}"));
        if m.a_p == self.setup.cut.a_p {
            self.tell_again(&s::A_P);
        } else {
            told(&s::A_P, format!("{moment}: the depth there"));
        }
        let (f_z, kappa) = (self.at.f_z, m.kappa());
        if m.path == turn::TurnPart::Centred {
            self.notes.take(CentredChip { f_z, kappa });
        } else {
            let phi_s = m.arc;
            self.notes.take(LargestChip { f_z, kappa, phi_s });
        }
    }
}

fn at_most(value: f64, bound: f64) -> Found {
    let bound = Bound::AtMost(bound);
    Found::Known { value, bound }
}

fn at_least(value: f64, bound: f64) -> Found {
    let bound = Bound::AtLeast(bound);
    Found::Known { value, bound }
}

/// At most what is usual, where that is known.
fn within_usual(value: f64, usual: Option<f64>) -> Found {
    usual.map_or(Found::Needs("what is usual for it"), |most| {
        at_most(value, most)
    })
}

/// Where a number of common practice is from.
fn practice<N: Notebook>(notes: &mut N, symbol: &'static Symbol, why: &str) {
    notes.told(symbol, || Origin::Default {
        why: format!("{why} (common practice)"),
    });
}
