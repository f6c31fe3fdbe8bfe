//! All checks of a pass at one spindle speed and feed per tooth.

use super::limits as l;
use super::loads::Loads;
use super::moments::{Engaged, Moments};
use super::plunge::Plunge;
use super::setup::{Intent, Setup};
use super::start::{self, Edges};
use crate::cut::{Entry, Path};
use crate::limit::{Bound, Check, Found, Limit, Moment};
use crate::quantity::{Length, SpindleSpeed, Velocity};
use std::f64::consts::{FRAC_PI_2, PI};

/// Share of the arc or of the edges that may rub (common practice).
const HALF: f64 = 0.5;
/// How far a wall may be off where nobody said, m: roughing (common practice).
pub const ROUGHING: f64 = 20e-6;
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
        let wanted = limit.wanted[usize::from(self.intent == Intent::Production)];
        let check = Check {
            limit,
            moment,
            found,
            wanted,
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

    fn most(&mut self, limit: &'static Limit, value: f64, bound: f64) {
        let bound = Bound::AtMost(bound);
        self.put(limit, Moment::Nominal, Found::Known { value, bound });
    }

    fn least(&mut self, limit: &'static Limit, value: f64, bound: f64) {
        let bound = Bound::AtLeast(bound);
        self.put(limit, Moment::Nominal, Found::Known { value, bound });
    }

    /// At most what is usual, where that is known.
    fn usual(&mut self, limit: &'static Limit, value: f64, usual: Option<f64>) {
        self.put(limit, Moment::Nominal, within_usual(value, usual));
    }

    fn needs(&mut self, limit: &'static Limit, what: &'static str) {
        self.put(limit, Moment::Nominal, Found::Needs(what));
    }
}

fn within_usual(value: f64, usual: Option<f64>) -> Found {
    usual.map_or(Found::Needs("what is usual for it"), |most| Found::Known {
        value,
        bound: Bound::AtMost(most),
    })
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
    let mut checks = proportional(setup, setup.intent, moments, at);
    under_load(&mut checks, setup, moments, loads, at);
    still(&mut checks, setup, moments, d_eff, at);
    checks
}

/// The checks of what is proportional to the feed per tooth, chips and the feed speed, with the
/// margins an intent wants.
pub fn proportional(setup: &Setup, intent: Intent, moments: &Moments, at: At) -> Checks {
    let mut c = Checks::new(setup, intent);
    if let Some(most) = setup.machine.as_ref().and_then(|m| m.v_f_max) {
        c.most(&l::FEED_SPEED, at.v_f.value, most.value);
    }
    chip_floor(&mut c, setup, moments, at.f_z);
    match start::most_at_full_width(setup) {
        Some(most) => feed_band(&mut c, setup, moments, at.f_z, most),
        None => c.needs(&l::FEED_BAND, "a feed band of this stock and cutter"),
    }
    c
}

/// The checks of the loads, with the margins an intent wants.
pub fn loaded(
    setup: &Setup,
    intent: Intent,
    moments: &Moments,
    loads: Option<&[Loads]>,
    at: At,
) -> Checks {
    let mut c = Checks::new(setup, intent);
    under_load(&mut c, setup, moments, loads, at);
    c
}

fn under_load(c: &mut Checks, setup: &Setup, moments: &Moments, loads: Option<&[Loads]>, at: At) {
    match loads {
        Some(loads) => {
            for (m, loads) in moments.iter().zip(loads) {
                loaded_at(c, setup, m, loads, at);
            }
        }
        None => {
            for limit in [&l::POWER, &l::WALL, &l::STRESS, &l::RUPTURE, &l::HOLD] {
                c.needs(limit, "a specific cutting force of this stock");
            }
        }
    }
}

/// The table's band is for the feed at full width. A narrow cut thins the chip, and both intents
/// take credit for that, up to a bound; the moments see to it that a wider bite is counted.
fn feed_band(c: &mut Checks, setup: &Setup, moments: &Moments, f_z: Length, most: Length) {
    for m in moments.iter() {
        let value = full_width_feed(setup, m, f_z);
        let bound = Bound::AtMost(most.value);
        c.put(&l::FEED_BAND, m.moment, Found::Known { value, bound });
    }
}

/// The feed at full width that a moment's chip stands for.
fn full_width_feed(setup: &Setup, m: &Engaged, f_z: Length) -> f64 {
    f_z.value / start::credit(setup, m)
}

fn chip_floor(c: &mut Checks, setup: &Setup, moments: &Moments, f_z: Length) {
    let Some(floor) = start::least_chip(setup) else {
        c.needs(&l::CHIP_FLOOR, "the cutting edge radius");
        return;
    };
    for m in moments.iter() {
        let (value, bound) = (m.h_max(f_z).value, Bound::AtLeast(floor.value));
        c.put(&l::CHIP_FLOOR, m.moment, Found::Known { value, bound });
    }
}

/// How much of the arc, or of the edges where that is more, rubs.
fn rubbing(c: &mut Checks, setup: &Setup, moments: &Moments, f_z: Length) {
    let Some(floor) = start::least_chip(setup) else {
        c.needs(&l::RUBBING, "the cutting edge radius");
        return;
    };
    let edges = Edges::of(setup, f_z);
    for m in moments.iter() {
        let value = m.rubbing(f_z, floor).max(edges.rubbing(m.chip, floor));
        let bound = Bound::AtMost(HALF);
        c.put(&l::RUBBING, m.moment, Found::Known { value, bound });
    }
}

/// Checks of the loads at one moment.
fn loaded_at(c: &mut Checks, setup: &Setup, m: &Engaged, loads: &Loads, at: At) {
    let mut most = |limit, value: f64, bound: f64| {
        c.put(
            limit,
            m.moment,
            Found::Known {
                value,
                bound: Bound::AtMost(bound),
            },
        );
    };
    let cutter = &setup.cutter;
    most(&l::TIP, loads.tip, 0.01 * cutter.diameter.value);
    most(&l::STRESS, loads.stress, cutter.rupture.value / 3.0);
    most(&l::RUPTURE, loads.stress, cutter.rupture.value);
    if !matches!(setup.cut.path, Path::Face | Path::BallFinish) {
        let tolerance = setup.cut.tolerance.map_or(ROUGHING, |t| t.value);
        most(&l::WALL, loads.wall(), tolerance);
    }
    let machine = setup.machine.as_ref();
    match machine.and_then(|mach| Some((mach, mach.power_at(at.n)?))) {
        Some((mach, power)) => most(&l::POWER, loads.power / mach.efficiency, power.value),
        None => c.needs(&l::POWER, "the machine's spindle power"),
    }
    match machine.and_then(|mach| mach.collet_grip) {
        Some(grip) => {
            let bound = Bound::AtMost(grip.value / 2.0);
            c.put(
                &l::PULL_OUT,
                m.moment,
                Found::Known {
                    value: loads.lift,
                    bound,
                },
            );
        }
        None if loads.lift > 0.0 => c.needs(&l::PULL_OUT, "the grip of the collet"),
        None => {}
    }
    let pulls = machine.and_then(|mach| Some((mach.backlash?, mach.drag?)));
    match (setup.cut.climbs(), pulls) {
        (false, _) => {}
        (true, None) => c.needs(&l::BACKLASH, "the machine's backlash and drag"),
        (true, Some((backlash, drag))) => {
            // More than twice the backlash a tooth, and a pull does no more than a tooth's share.
            let loose = 2.0 * backlash.value >= at.f_z.value;
            let found = Found::Known {
                value: if loose { loads.along } else { 0.0 },
                bound: Bound::AtMost(drag.value),
            };
            c.put(&l::BACKLASH, m.moment, found);
        }
    }
    held(c, setup, m, loads);
}

/// Friction and tipping.
fn held(c: &mut Checks, setup: &Setup, m: &Engaged, loads: &Loads) {
    let Some((hold, clamp)) = setup.hold.and_then(|h| Some((h, h.clamp_force?))) else {
        c.needs(&l::HOLD, "the clamping force");
        c.needs(&l::TIPPING, "the clamping force");
        return;
    };
    let friction = hold.friction * f64::from(hold.faces) * clamp.value;
    let bound = Bound::AtMost(friction / 2.0);
    let value = loads.lateral.hypot(loads.lift);
    c.put(&l::HOLD, m.moment, Found::Known { value, bound });
    match (hold.grip, hold.height) {
        (Some(grip), Some(height)) => {
            let bound = Bound::AtMost(clamp.value * grip.value / 2.0 / 2.0);
            let value = loads.lateral * height.value;
            c.put(&l::TIPPING, m.moment, Found::Known { value, bound });
        }
        _ => c.needs(
            &l::TIPPING,
            "the depth of grip and the height of the cut above it",
        ),
    }
}

/// Checks that feed per tooth does not move, or that only guide.
fn still(c: &mut Checks, setup: &Setup, moments: &Moments, d_eff: Length, at: At) {
    let (cutter, cut) = (&setup.cutter, &setup.cut);
    match &setup.machine {
        Some(machine) => {
            c.most(
                &l::SPINDLE_MOST,
                at.n.turns().value,
                machine.n_max.turns().value,
            );
            c.least(
                &l::SPINDLE_LEAST,
                at.n.turns().value,
                machine.n_min.turns().value,
            );
            if let Some(tir) = machine.runout {
                let gain = tir.value * (PI / f64::from(cutter.edges)).sin();
                c.most(&l::RUNOUT, gain, at.f_z.value / 2.0);
            }
        }
        None => c.needs(&l::SPINDLE_MOST, "a machine"),
    }
    match setup.stock.v_c {
        Some((low, high)) => {
            let v_c = (PI * d_eff * at.n.turns()).value;
            c.most(&l::CUTTING_SPEED, v_c, high.value);
            c.least(&l::MACHINE_LIMITED, v_c, low.value);
        }
        None => c.needs(
            &l::CUTTING_SPEED,
            "a cutting-speed band of this stock and cutter",
        ),
    }
    if let (Some(band), Some(nominal)) = (setup.stock.f_z, moments.iter().next()) {
        let value = full_width_feed(setup, nominal, at.f_z);
        c.least(&l::FEED_LOW, value, band.least.value);
    }
    rubbing(c, setup, moments, at.f_z);
    let d = cutter.diameter.value;
    let a_p = cut.a_p.value;
    // Flutes inside the holder cut nothing.
    c.most(&l::FLUTE_LENGTH, a_p, cutter.fluted().value);
    let guides = &setup.guides;
    c.usual(&l::STICK_OUT, cutter.slenderness(), guides.stick_out);
    c.usual(&l::DEPTH_GUIDE, a_p, guides.depth.map(|x| x * d));
    if !matches!(cut.path, Path::Slot | Path::Face) {
        let wide = guides.width.map(|w| w.at(a_p / d) * d);
        c.usual(&l::WIDTH_GUIDE, setup.a_e().value, wide);
    }
    if matches!(cut.path, Path::Slot | Path::Pocket) {
        c.usual(&l::CHIP_ROOM, a_p, guides.chip_room.map(|x| x * d));
    }
    entered(c, setup, at);
    for m in moments
        .iter()
        .filter(|m| matches!(m.moment, Moment::Corner | Moment::LeftOver))
    {
        let found = within_usual(m.arc.value, guides.corner.map(|arc| arc.value));
        c.put(&l::CORNER, m.moment, found);
    }
}

/// Checks of the way down.
fn entered(c: &mut Checks, setup: &Setup, at: At) {
    let (cutter, d) = (&setup.cutter, setup.cutter.diameter.value);
    let steepest = setup.guides.steepest.map(|angle| angle.value);
    match setup.cut.entry {
        Some(Entry::Ramp(angle)) => c.usual(&l::RAMP_ANGLE, angle.value, steepest),
        Some(Entry::Helix { hole, pitch }) => {
            let angle = (pitch.value / (PI * (hole.value - d))).atan();
            c.usual(&l::RAMP_ANGLE, angle, steepest);
            c.most(&l::HELIX_HOLE, hole.value, 2.0 * d);
        }
        Some(Entry::Plunge) => {
            match cutter.centre_cutting {
                Some(true) => c.most(&l::RAMP_ANGLE, FRAC_PI_2, FRAC_PI_2),
                Some(false) => c.usual(&l::RAMP_ANGLE, FRAC_PI_2, steepest),
                None => c.needs(&l::RAMP_ANGLE, "whether the end cuts to its centre"),
            }
            match Plunge::of(setup, at.f_z) {
                Some(plunge) => c.most(&l::PLUNGE, plunge.stress, cutter.rupture.value / 3.0),
                None => c.needs(
                    &l::PLUNGE,
                    "the force of this stock and a feed to plunge with",
                ),
            }
        }
        None => {}
    }
}
