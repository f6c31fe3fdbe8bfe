//! What one depth and width allow: force caps the feed, then speed, feed and power cap the turns
//! (see [`pace`](super::pace)).

use super::pace::Pace;
use crate::cut::{Path, Width};
use crate::cutter::End;
use crate::formula::Formula;
use crate::formula::chip::MeanChip;
use crate::kernel::best::{Area, Worth};
use crate::kernel::root::Hill;
use crate::kernel::{best, root};
use crate::limit::{Bound, Check, Found, Limit};
use crate::notebook::Silent;
use crate::plan::checks::{self, At};
use crate::plan::limits as l;
use crate::plan::loads::{LoadModel, Loadings, Loads};
use crate::plan::moments::Moments;
use crate::plan::setup::Setup;
use crate::plan::{effective_diameter, limits, start};
use crate::quantity::{Angle, Length, Quantity, SpindleSpeed};
use std::cell::RefCell;
use std::f64::consts::PI;

/// Relative rounding that every cap stays inside of.
pub(super) const INSIDE: f64 = 1e-9;
/// Least feed, depth and width that are looked at, over the diameter.
const LEAST_FEED: f64 = 1e-7;
const LEAST_DEPTH: f64 = 0.005;
const LEAST_WIDTH: f64 = 0.002;
/// Steps in which a stretch of feeds is looked over for whether it is worth more.
const LOOKS: f64 = 3.0;
/// How much wider a limit is made to see what that would gain.
pub(super) const WIDER: f64 = 0.01;

/// A pass whose depth, width, feed and speed are to be found, as far as they are free.
#[derive(Clone, Debug)]
pub(super) struct Ground<'a> {
    /// The pass, at the depth and width looked at last.
    pub(super) setup: Setup,
    pub(super) model: Option<&'a LoadModel>,
    pub(super) free: super::Free,
    /// Guidelines for depth, width and bending are kept, too.
    pub(super) guides: bool,
    /// Depth and width are looked for up to here.
    pub(super) most: (f64, f64),
    /// A limit whose bound is made wider.
    pub(super) wider: Option<&'static Limit>,
    /// A round end is only sketched.
    pub(super) sketch: bool,
}

/// The pass at one depth and width.
pub(super) struct Spot<'a> {
    moments: Moments,
    loadings: Option<RefCell<Loadings<'a>>>,
    pub(super) d_eff: f64,
    /// Turns a second between which speed and machine keep it.
    pub(super) turns: (f64, f64),
}

impl Spot<'_> {
    /// Hands over the loads there.
    fn with_loads<T>(&self, at: At, to: impl FnOnce(Option<&[Loads]>) -> T) -> T {
        match &self.loadings {
            Some(loadings) => to(Some(loadings.borrow_mut().at(at))),
            None => to(None),
        }
    }

    /// Energy of a turn at the moment that takes most.
    pub(super) fn energy(&self, f_z: f64) -> f64 {
        let loadings = self.loadings.as_ref();
        loadings.map_or(0.0, |l| l.borrow_mut().energy(Length::from_si(f_z)))
    }
}

impl<'a> Ground<'a> {
    /// The bound of a ceiling, wider where it is asked for.
    pub(super) fn ceiling(&self, limit: &Limit, bound: f64) -> f64 {
        bound * self.widening(limit)
    }

    fn widening(&self, limit: &Limit) -> f64 {
        if self.wider.is_some_and(|w| w == limit) {
            1.0 + WIDER
        } else {
            1.0
        }
    }

    /// How far a check is inside its wanted margin; `None` when nothing is known.
    pub(super) fn spare(&self, check: &Check) -> Option<f64> {
        let Found::Known { value, bound } = check.found else {
            return None;
        };
        let wider = self.widening(check.limit);
        let bound = match bound {
            Bound::AtMost(b) => Bound::AtMost(b * wider),
            Bound::AtLeast(b) => Bound::AtLeast(b / wider),
        };
        // A search needs no more than the sign beyond this.
        Some(bound.margin(value).max(-9.99) - check.wanted)
    }

    /// Whether a limit has to be kept; guidelines only for what is not fixed.
    pub(super) fn keeps(&self, limit: &Limit) -> bool {
        let guide = match limit {
            x if x == &l::DEPTH_GUIDE || x == &l::CHIP_ROOM => self.free.a_p,
            x if x == &l::WIDTH_GUIDE => self.free.a_e,
            x => x == &l::TIP,
        };
        limit.hard() || limit == &l::STRESS || self.guides && guide
    }

    /// The areas of depth and width to search: where a guideline steps there are two.
    pub(super) fn areas(&self) -> Vec<Area> {
        let (cutter, cut) = (&self.setup.cutter, &self.setup.cut);
        let d = cutter.diameter.value;
        let guides = &self.setup.guides;
        let mut most = cutter
            .stick_out
            .value
            .min(self.ceiling(&l::FLUTE_LENGTH, cutter.flute_length.value));
        if self.guides {
            if let Some(deep) = guides.depth {
                most = most.min(self.ceiling(&l::DEPTH_GUIDE, deep * d));
            }
            let walls = matches!(cut.path, Path::Slot | Path::Pocket);
            if let Some(room) = guides.chip_room.filter(|_| walls) {
                most = most.min(self.ceiling(&l::CHIP_ROOM, room * d));
            }
        }
        most = most.min(self.most.0);
        let least = (LEAST_DEPTH * d).min(most);
        // Where the guideline for the width steps.
        let step = guides.width.and_then(|w| Some(w.deeper?.0 * d));
        let depths = match step.filter(|step| self.guides && most > *step) {
            _ if !self.free.a_p => vec![(cut.a_p.value, cut.a_p.value)],
            Some(step) => vec![(least, step), (step * (1.0 + INSIDE), most)],
            None => vec![(least, most)],
        };
        depths
            .into_iter()
            .map(|a_p| Area {
                a_p,
                a_e: self.widths(a_p.1 / d),
            })
            .collect()
    }

    fn widths(&self, depth: f64) -> (f64, f64) {
        let (cut, d) = (&self.setup.cut, self.setup.cutter.diameter.value);
        if !self.free.a_e {
            let a_e = self.setup.a_e().value;
            return (a_e, a_e);
        }
        let mut most = d;
        let guide = self.setup.guides.width.filter(|_| self.guides);
        if let Some(guide) = guide.filter(|_| cut.path != Path::Face) {
            most = most.min(self.ceiling(&l::WIDTH_GUIDE, guide.at(depth) * d));
        }
        if cut.corner || cut.previous.is_some() {
            most = most.min(d / 2.0);
        }
        most = most.min(self.most.1);
        ((LEAST_WIDTH * d).min(most), most)
    }

    /// Whether a sketch is less than the whole.
    pub(super) fn is_round(&self) -> bool {
        self.setup.cutter.end != End::Square
    }

    /// Goes to a depth and width.
    pub(super) fn go(&mut self, a_p: f64, a_e: f64) {
        if self.free.a_p {
            self.setup.cut.a_p = Length::from_si(a_p);
        }
        if self.free.a_e {
            self.setup.cut.width = Some(Width::Across(Length::from_si(a_e)));
        }
    }

    fn spot(&self) -> Spot<'a> {
        let setup = &self.setup;
        let d_eff = effective_diameter(setup, &mut Silent);
        let machine = setup.machine.as_ref();
        let mut turns = machine.map_or((0.0, f64::MAX), |m| {
            let most = self.ceiling(&l::SPINDLE_MOST, m.n_max.turns().value);
            (m.n_min.turns().value, most)
        });
        if let Some((_, high)) = setup.stock.v_c {
            let most = self.ceiling(&l::CUTTING_SPEED, high.value) / (PI * d_eff.value);
            turns.1 = turns.1.min(most);
        }
        let given = match (setup.given.n, setup.given.v_c) {
            (Some(n), _) => Some(n.turns().value),
            (None, Some(v_c)) => Some((v_c / d_eff).value / PI),
            (None, None) => None,
        };
        if let Some(n) = given {
            turns = (n, n);
        }
        let moments = Moments::of(setup, d_eff);
        let ready = |model: &'a LoadModel| {
            let ready = if self.sketch {
                model.sketch_all(setup, &moments)
            } else {
                model.ready_all(setup, &moments)
            };
            RefCell::new(ready)
        };
        Spot {
            loadings: self.model.map(ready),
            moments,
            d_eff: d_eff.value,
            turns,
        }
    }

    /// Turns a second between which speed and machine keep a depth and width.
    pub(super) fn turns(&mut self, a_p: f64, a_e: f64) -> (f64, f64) {
        self.go(a_p, a_e);
        let (least, most) = self.spot().turns;
        (least.max(most * 1e-3), most)
    }

    /// The slowest turns and the least feed there are at this depth and width.
    pub(super) fn slowest(&self) -> (f64, f64) {
        let spot = self.spot();
        let given = &self.setup.given;
        let z = f64::from(self.setup.cutter.edges);
        let turned = given.n.is_some() || given.v_c.is_some();
        let f_z = match (given.f_z, given.v_f) {
            (Some(f_z), _) => f_z.value,
            // Speed and feed are both given: there is one feed per tooth.
            (None, Some(v_f)) if turned => v_f.value / (spot.turns.0 * z),
            _ => self.floor(&spot.moments),
        };
        let n = match given.v_f {
            Some(v_f) => v_f.value / (f_z * z),
            None => spot.turns.0.max(1.0),
        };
        (n, f_z)
    }

    /// Every check at a feed and speed.
    pub(super) fn checks(&self, n: f64, f_z: f64) -> checks::Checks {
        let spot = self.spot();
        let at = self.at(n, f_z);
        let d_eff = Length::from_si(spot.d_eff);
        spot.with_loads(at, |loads| {
            checks::all(&self.setup, &spot.moments, loads, d_eff, at)
        })
    }

    fn at(&self, n: f64, f_z: f64) -> At {
        At::new(&self.setup, SpindleSpeed::from_si(n), Length::from_si(f_z))
    }

    /// How far inside its margin that check of the loads is that is least so, among those that
    /// only feed moves.
    fn room(&self, spot: &Spot<'_>, f_z: f64) -> f64 {
        let checks = self.loaded(spot, f_z);
        let moved = checks.iter().filter(|c| self.is_moved_by_feed(c.limit));
        moved.filter_map(|c| self.spare(c)).fold(1.0, f64::min)
    }

    /// Whether a limit of the loads is moved by the feed alone, and kept.
    fn is_moved_by_feed(&self, limit: &Limit) -> bool {
        let guide = limit == &l::TIP && self.guides;
        limits::closes(limit) && limit != &l::POWER || guide
    }

    /// The checks of the loads at a feed.
    pub(super) fn loaded(&self, spot: &Spot<'_>, f_z: f64) -> checks::Checks {
        let at = self.at(1.0, f_z);
        spot.with_loads(at, |loads| {
            checks::loaded(&self.setup, self.setup.intent, &spot.moments, loads, at)
        })
    }

    /// Whether the mean chip of a feed lies beyond those the force was measured at.
    pub(super) fn is_extrapolated(&self, f_z: f64) -> bool {
        let spot = self.spot();
        let nominal = spot.moments.iter().next();
        let force = self.setup.stock.resistance;
        nominal.zip(force).is_some_and(|(m, force)| {
            let chip = MeanChip {
                f_z: Length::from_si(f_z),
                kappa: Angle::from_si(m.sin_kappa.asin()),
                a_e: m.width,
                d: m.circle,
                phi_s: m.arc,
            };
            force.extrapolated_from(chip.value()).is_some()
        })
    }

    /// Least feed: the floor of the chip, or next to nothing where none is known.
    pub(super) fn floor(&self, moments: &Moments) -> f64 {
        let least = LEAST_FEED * self.setup.cutter.diameter.value;
        let floor = start::floor(&self.setup, moments);
        floor.map_or(least, |floor| {
            (floor.f_z.value / self.widening(&l::CHIP_FLOOR) * (1.0 + INSIDE)).max(least)
        })
    }

    /// Most feed that the table's band allows, without asking for any load.
    fn band(&self, moments: &Moments) -> f64 {
        let d = self.setup.cutter.diameter.value;
        let Some(most) = start::most_at_full_width(&self.setup) else {
            return d;
        };
        let credits = moments.iter().map(|m| start::credit(&self.setup, m));
        let credit = credits.fold(f64::MAX, f64::min);
        self.ceiling(&l::FEED_BAND, most.value) * credit * (1.0 - INSIDE)
    }

    /// Whether the loads keep one of a few feeds between two: what is not worth much need not be
    /// looked over as closely as [`Self::kept_by_loads`] does.
    fn is_promising(&self, spot: &Spot<'_>, from: f64, to: f64) -> bool {
        let at = |k: f64| from * (to / from).powf(k / LOOKS);
        let mut k = 0.0;
        while k <= LOOKS {
            if self.room(spot, at(k)) >= 0.0 {
                return true;
            }
            k += 1.0;
        }
        false
    }

    /// The feeds between two that every load keeps.
    fn kept_by_loads(&self, spot: &Spot<'_>, from: f64, to: f64) -> Option<(f64, f64)> {
        // As the logarithm of what is allowed over what is used: nearly straight in that of the
        // feed, so that a root takes few steps.
        let room = |log: f64| {
            let checks = self.loaded(spot, log.exp());
            let moved = checks.iter().filter(|c| self.is_moved_by_feed(c.limit));
            let used = |c: &Check| Some(c.used()? / (1.0 - c.wanted) / self.widening(c.limit));
            let most = moved.filter_map(used).fold(f64::MIN_POSITIVE, f64::max);
            -most.ln()
        };
        match root::hill(from.ln(), to.ln(), INSIDE, room) {
            Hill::Above(least, most) => Some((least.exp().max(from), most.exp().min(to))),
            Hill::Below(_) => None,
        }
    }
}

impl best::Ground for Ground<'_> {
    fn worth(&mut self, a_p: f64, a_e: f64, enough: f64) -> Worth {
        self.go(a_p, a_e);
        let spot = self.spot();
        let z = f64::from(self.setup.cutter.edges);
        let area = a_p * a_e * z;
        let mut least = self.floor(&spot.moments);
        let mut most = self.band(&spot.moments);
        let given = self.setup.given;
        if let Some(f_z) = given.f_z.map(|f| f.value) {
            if f_z < least {
                return Worth::Out(1.0 - least / f_z);
            }
            (least, most) = (f_z, f_z);
        }
        if most < least {
            return Worth::Out((1.0 - least / most).min(self.room(&spot, least)));
        }
        if area * most * spot.turns.1 <= enough {
            return Worth::Less;
        }
        let wanted = enough / (area * spot.turns.1);
        let from = wanted.max(least);
        if wanted > least && !self.is_promising(&spot, from, most.max(from)) {
            return Worth::Less;
        }
        match self.kept_by_loads(&spot, from, most.max(from)) {
            Some(kept) => (least, most) = kept,
            None if wanted > least => return Worth::Less,
            None => return Worth::Out(self.room(&spot, least)),
        }
        let pace = match given.v_f {
            Some(v_f) if given.f_z.is_some() => {
                let n = v_f.value / (z * most);
                let inside = n >= spot.turns.0 && n <= spot.turns.1;
                let carried = self
                    .fastest(&spot, most)
                    .is_some_and(|fastest| fastest >= n);
                let unpulled = !self.pulls() || self.unpulled(&spot, most);
                (inside && carried && unpulled).then_some(Pace { f_z: most, n })
            }
            Some(v_f) => self.kept(&spot, least, most, v_f.value),
            None => self.pace(&spot, least, most),
        };
        match pace {
            Some(Pace { f_z, n }) => Worth::Cut {
                q: area * f_z * n,
                n,
                f_z,
            },
            None if self.unpulled_up_to(&spot, least, least).is_none() => Worth::Out(-PULLED),
            None => Worth::Out(-spot.energy(least)),
        }
    }
}

/// Stands for how far a table that is pulled is out: it has no measure of its own.
const PULLED: f64 = 1e-3;
