//! The cut that removes most with every check at its wanted margin, and what stops it.
//!
//! What the user fixed is kept; of depth, width, feed and speed the rest is found. Margins are
//! those of production. Limits that nothing is known about stay unknown: they stop nothing, and
//! the checks of the answer say so.

mod beside;
mod flat;
mod ground;
mod none;
mod pace;

use super::setup::{Intent, Setup, SetupError};
use super::{Planner, limits as l};
use crate::cut::{Path, Width};
use crate::kernel::best::{Area, FINE, Fineness, Ground as _, Summit, Worth, search_beyond};
use crate::limit::{Check, Limit};
use crate::notebook::Origin;
use crate::quantity::{Length, Quantity, SpindleSpeed, VolumeRate};
use crate::symbol as s;
use beside::beside;
pub use flat::{Flat, Stop};
use ground::Ground;
pub use none::Conflict;

/// Which of depth and width are to be found. The values a setup holds for them do not count then,
/// as long as some cut could have them. A slot and an engagement angle fix the width.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Free {
    /// Depth.
    pub a_p: bool,
    /// Width.
    pub a_e: bool,
}

/// What to find, and by which rules.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wish {
    /// What is free.
    pub free: Free,
    /// Keep the guidelines for depth, width, room for chips and bending of the tip as well.
    pub guides: bool,
}

/// The cut that removes most.
#[derive(Clone, Debug)]
pub struct Best {
    /// The pass with everything fixed as found, ready to be worked out.
    pub setup: Setup,
    /// Spindle speed.
    pub n: SpindleSpeed,
    /// Feed per tooth.
    pub f_z: Length,
    /// Depth.
    pub a_p: Length,
    /// Width.
    pub a_e: Length,
    /// Removal rate.
    pub q: VolumeRate,
    /// The limits it stands at, the one whose easing gains most first: that one governs.
    pub stops: Vec<Stop>,
    /// Where it could be changed at no loss.
    pub flat: Flat,
}

impl Best {
    /// The limit that stops it.
    pub fn governs(&self) -> Option<&'static Limit> {
        self.stops.first().map(|s| s.limit)
    }
}

/// The best cut, or why there is none.
#[derive(Clone, Debug)]
pub enum Search {
    /// There is one.
    Found(Box<Best>),
    /// No cut keeps every margin.
    None(Box<Conflict>),
}

impl Planner {
    /// Finds the cut that removes most: see [the module](self).
    ///
    /// # Errors
    /// [`SetupError`] when no cut can be as described, or when nothing bounds the spindle speed.
    pub fn best(&self, setup: &Setup, wish: Wish) -> Result<Search, SetupError> {
        let mut ground = self.ground(setup, wish)?;
        let mut search = climbed(&mut ground, setup);
        if let Search::Found(best) = &mut search {
            best.flat = flat::flat(&mut ground, best);
        }
        Ok(search)
    }

    /// The same without where it could be changed at no loss: to compare cutters.
    ///
    /// # Errors
    /// As [`Planner::best`].
    pub fn best_alone(&self, setup: &Setup, wish: Wish) -> Result<Search, SetupError> {
        let mut ground = self.ground(setup, wish)?;
        Ok(climbed(&mut ground, setup))
    }

    /// The removal rate of the best cut, to a few per cent, if there is one: for ranking. Where it
    /// is no more than `enough`, any rate up to that stands for it.
    ///
    /// # Errors
    /// As [`Planner::best`].
    pub fn glance(
        &self,
        setup: &Setup,
        wish: Wish,
        enough: VolumeRate,
    ) -> Result<Option<VolumeRate>, SetupError> {
        let mut ground = self.ground(setup, wish)?;
        if none::fixed(&ground).is_some() {
            return Ok(None);
        }
        let seen = if enough.value > 0.0 {
            glimpsed(&mut ground)
        } else {
            None
        };
        let enough = if seen.is_some() { enough.value } else { 0.0 };
        let place = glanced(&mut ground, enough);
        let found = match place.worth {
            Worth::Cut { q, .. } => Some(q),
            _ => None,
        };
        Ok(found.or(seen).map(VolumeRate::from_si))
    }
}

/// What some cut removes, if one is seen at once: between the least and the most of each area.
fn glimpsed(ground: &mut Ground<'_>) -> Option<f64> {
    ground.sketch = true;
    let areas = ground.areas();
    let places = areas.iter().flat_map(|area| {
        let between = |(least, most): (f64, f64), share: f64| least * (most / least).powf(share);
        GLIMPSES.map(|share| (between(area.a_p, share), between(area.a_e, share)))
    });
    let mut cuts = places.filter_map(|(a_p, a_e)| match ground.worth(a_p, a_e, 0.0) {
        Worth::Cut { q, .. } => Some(q),
        _ => None,
    });
    let seen = cuts.next();
    ground.sketch = false;
    seen
}

/// The best cut of a ground, or the conflict there.
fn climbed(ground: &mut Ground<'_>, asked: &Setup) -> Search {
    if let Some(conflict) = none::fixed(ground) {
        return Search::None(Box::new(conflict));
    }
    let place = highest(ground);
    match place.worth {
        Worth::Cut { q, n, f_z } => {
            let place = Cut {
                a_p: place.a_p,
                a_e: place.a_e,
                n,
                f_z,
                q,
            };
            Search::Found(Box::new(found(ground, asked, place)))
        }
        _ => Search::None(Box::new(none::conflict(ground, place))),
    }
}

impl Planner {
    fn ground(&self, setup: &Setup, wish: Wish) -> Result<Ground<'_>, SetupError> {
        setup.checked()?;
        let given = &setup.given;
        let bounded = setup.machine.is_some()
            || setup.stock.v_c.is_some()
            || given.n.is_some()
            || given.v_c.is_some();
        if !bounded {
            return Err(SetupError::NoBand {
                field: "spindle speed",
                unknown: "neither a machine nor a band of cutting speeds is known",
                instead: "a machine or the spindle speed",
            });
        }
        if setup.stock.resistance.is_none() && setup.stock.f_z.is_none() && given.f_z.is_none() {
            return Err(SetupError::NoBand {
                field: "feed",
                unknown: "neither a cutting force nor a band of feeds is known",
                instead: "the feed per tooth or the stock's force",
            });
        }
        let fixed =
            setup.cut.path == Path::Slot || matches!(setup.cut.width, Some(Width::Angle(_)));
        Ok(Ground {
            setup: Setup {
                intent: Intent::Production,
                origins: Vec::new(),
                ..setup.clone()
            },
            model: self.model(),
            free: Free {
                a_p: wish.free.a_p,
                a_e: wish.free.a_e && !fixed,
            },
            guides: wish.guides,
            most: (f64::MAX, f64::MAX),
            wider: None,
            sketch: false,
        })
    }
}

/// Places of a sketch that remove this share of its best may be the best of the whole.
const NEARLY: f64 = 0.992;
/// Those nearer to each other than this, as a logarithm, are one.
const ALIKE: f64 = 0.01;
/// How far around a place of the sketch the whole is searched, and how finely.
const BESIDE: f64 = 0.006;
const WHOLE: Fineness = Fineness {
    nodes: 2,
    tolerance: 5e-5,
};

/// Where between the least and the most of an area a cut is looked for at once.
const GLIMPSES: [f64; 4] = [0.75, 0.9, 0.5, 0.25];

/// Enough to tell whether there is a cut, and to rank cutters.
const GLANCE: Fineness = Fineness {
    nodes: 8,
    tolerance: 3e-3,
};

/// A cut in SI base units.
#[derive(Clone, Copy)]
struct Cut {
    a_p: f64,
    a_e: f64,
    n: f64,
    f_z: f64,
    q: f64,
}

/// The best place of all areas, with the ground left there. A round end is sketched, and whole
/// only around the best places of the sketch.
fn highest(ground: &mut Ground<'_>) -> Summit {
    let mut tops = sketched(ground, &FINE, 0.0);
    if ground.is_round() {
        let least = tops.first().map_or(0.0, |top| NEARLY * top.height());
        tops.retain(|top| top.height() >= least);
        let apart = |a: f64, b: f64| (a / b).ln().abs() > ALIKE;
        tops.dedup_by(|b, a| !apart(a.a_p, b.a_p) && !apart(a.a_e, b.a_e));
        tops = tops
            .iter()
            .filter_map(|top| beside(ground, (top.a_p, top.a_e), BESIDE, &WHOLE))
            .collect();
        sort(&mut tops);
    }
    first(ground, &tops)
}

/// The best place of a glance, with the ground left there.
fn glanced(ground: &mut Ground<'_>, enough: f64) -> Summit {
    let tops = sketched(ground, &GLANCE, enough);
    first(ground, &tops)
}

/// The best places of a sketch, the best first: of every area, and of the ridges at the ends of it
/// where there is more to a cutter than its sketch.
fn sketched(ground: &mut Ground<'_>, fine: &Fineness, enough: f64) -> Vec<Summit> {
    let round = ground.is_round();
    ground.sketch = true;
    let mut tops = Vec::new();
    for area in ground.areas() {
        let mut highest = |area: &Area| tops.push(search_beyond(ground, area, fine, enough));
        highest(&area);
        if round && enough <= 0.0 {
            area.ridges().iter().for_each(highest);
        }
    }
    ground.sketch = false;
    sort(&mut tops);
    tops
}

fn sort(tops: &mut [Summit]) {
    tops.sort_by(|a, b| b.height().total_cmp(&a.height()));
}

/// Goes to the first of some places, or stays where there is none.
fn first(ground: &mut Ground<'_>, tops: &[Summit]) -> Summit {
    let place = tops.first().copied().unwrap_or(Summit {
        a_p: ground.setup.cut.a_p.value,
        a_e: ground.setup.a_e().value,
        worth: Worth::Out(f64::NEG_INFINITY),
    });
    ground.go(place.a_p, place.a_e);
    place
}

fn found(ground: &mut Ground<'_>, asked: &Setup, cut: Cut) -> Best {
    ground.go(cut.a_p, cut.a_e);
    let stops = flat::stops(ground, &cut);
    let (n, f_z) = (SpindleSpeed::from_si(cut.n), Length::from_si(cut.f_z));
    let mut setup = ground.setup.clone();
    setup.origins.clone_from(&asked.origins);
    let mut chosen = |symbol| {
        setup.origins.retain(|(known, _)| *known != symbol);
        let why = "with the others, removes most inside every limit, with room".to_owned();
        setup.origins.push((symbol, Origin::Chosen { why }));
    };
    let given = &mut setup.given;
    let feeds = (given.f_z.is_some(), given.v_f.is_some());
    if given.n.is_none() && given.v_c.is_none() && feeds != (true, true) {
        given.n = Some(n);
        chosen(&s::N);
    }
    if feeds == (false, false) {
        setup.given.f_z = Some(f_z);
        chosen(&s::F_Z);
    }
    if ground.free.a_p {
        chosen(&s::A_P);
    }
    if ground.free.a_e {
        chosen(&s::A_E);
    }
    Best {
        setup,
        n,
        f_z,
        a_p: Length::from_si(cut.a_p),
        a_e: Length::from_si(cut.a_e),
        q: VolumeRate::from_si(cut.q),
        stops,
        flat: Flat::default(),
    }
}

/// Whether a check is kept by a ground, and how far it is inside then.
fn kept(ground: &Ground<'_>, check: &Check) -> Option<f64> {
    let spare = ground.spare(check)?;
    // A pull on the table is a matter of yes or no, and only its breach counts.
    let counts = ground.keeps(check.limit) && (check.limit != &l::BACKLASH || spare < 0.0);
    counts.then_some(spare)
}
