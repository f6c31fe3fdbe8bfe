//! What the cut does to cutter, machine and part: forces, bending, stress.

use super::bending::Bending;
use super::checks::At;
use super::law::{self, Coefficients};
use super::moments::{Engaged, Moments};
use super::setup::Setup;
use crate::cut::{Direction, Path};
use crate::cutter::{Cutter, End};
use crate::kernel::arc::ArcTable;
use crate::kernel::front::EngagedBand;
use crate::kernel::kept::KeptTurn;
use crate::kernel::peak::Peaks;
use crate::kernel::survey::{Survey, UnitLoads};
use crate::kernel::turn::{self, Law, Turn, TurnWall};
use crate::quantity::{Length, Quantity, in_mm};
use std::f64::consts::{PI, TAU};

/// The loads at one moment. Forces in N, torque in N m, power in W, lengths in m, stress in Pa.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Loads {
    /// Largest lateral force over a turn.
    pub lateral: f64,
    /// Largest pull along the axis, 0 when the cut only presses down.
    pub lift: f64,
    /// Largest force that pulls the table along the feed.
    pub along: f64,
    /// Largest torque.
    pub torque: f64,
    /// Mean cutting power.
    pub power: f64,
    /// Deflection of the tip at the largest lateral force.
    pub tip: f64,
    /// Wall error at the bottom, positive where stock is left.
    pub wall_bottom: f64,
    /// Wall error at the top of the depth.
    pub wall_top: f64,
    /// Largest principal stress in the cutter.
    pub stress: f64,
}

impl Loads {
    /// The larger wall error, without its sign.
    pub fn wall(&self) -> f64 {
        self.wall_bottom.abs().max(self.wall_top.abs())
    }
}

/// How a cut is made ready.
type MakesTurn<'a> = fn(&'a ArcTable, &turn::TurnCut, &Law) -> Turn<'a>;

/// The force model of a stock and a cutter, with the table it needs: build once, ask often.
#[derive(Clone, Debug)]
pub struct LoadModel {
    arc: ArcTable,
    coefficients: Coefficients,
}

impl LoadModel {
    /// Builds the table, about a tenth of a millisecond; every straight law has the same.
    pub fn new(coefficients: Coefficients) -> Self {
        Self {
            arc: ArcTable::new(0.0),
            coefficients,
        }
    }

    /// The same table for other coefficients.
    #[must_use]
    pub fn with(self, coefficients: Coefficients) -> Self {
        Self {
            coefficients,
            ..self
        }
    }

    /// The coefficients.
    pub fn coefficients(&self) -> &Coefficients {
        &self.coefficients
    }

    fn hardest(&self, setup: &Setup) -> Law {
        law::law(setup, &self.coefficients.hardest)
    }

    /// The engagement as the kernel takes it.
    fn cut(setup: &Setup, engaged: &Engaged, f_z: Length) -> turn::TurnCut {
        turn::TurnCut {
            a_p: in_mm(engaged.a_p),
            arc: engaged.arc_at_full(setup.cutter.diameter).value,
            path: engaged.path,
            ..Self::slot(setup, f_z)
        }
    }

    /// The cutter as the kernel takes it, in a slot.
    fn slot(setup: &Setup, f_z: Length) -> turn::TurnCut {
        let cutter = &setup.cutter;
        turn::TurnCut {
            d: in_mm(cutter.diameter),
            z: cutter.edges,
            helix: cutter.helix.value,
            r_e: in_mm(round(cutter)),
            a_p: in_mm(setup.cut.a_p),
            arc: PI,
            path: turn::TurnPart::Slot,
            f_z: in_mm(f_z),
            tir: setup
                .machine
                .as_ref()
                .and_then(|m| m.runout)
                .map_or(0.0, in_mm),
        }
    }

    /// Makes a moment ready to be asked for its loads at any feed.
    pub fn ready<'a>(&'a self, setup: &Setup, engaged: &Engaged) -> ReadyMoment<'a> {
        self.ready_by(setup, engaged, Turn::new)
    }

    fn ready_by<'a>(
        &'a self,
        setup: &Setup,
        engaged: &Engaged,
        by: MakesTurn<'a>,
    ) -> ReadyMoment<'a> {
        let cut = Self::cut(setup, engaged, near(setup));
        let turn = |law: &Law| by(&self.arc, &cut, law);
        self.ready_turn(setup, engaged.a_p, &spots(setup, engaged.a_p), turn)
    }

    /// Makes an engagement that was met outside ready; see [`Fronts`](super::met::Fronts).
    pub(super) fn ready_met<'a>(
        &'a self,
        setup: &Setup,
        bands: &[EngagedBand],
        (reach, spots): (Length, &[WallSpot]),
    ) -> ReadyMoment<'a> {
        let cut = Self::slot(setup, near(setup));
        let turn = |law: &Law| Turn::engaged(&self.arc, &cut, bands, law);
        self.ready_turn(setup, reach, spots, turn)
    }

    fn ready_turn<'a>(
        &'a self,
        setup: &Setup,
        a_p: Length,
        spots: &[WallSpot],
        turn: impl Fn(&Law) -> Turn<'a>,
    ) -> ReadyMoment<'a> {
        let law = self.hardest(setup);
        let hard = turn(&law);
        let layered = self.coefficients.layered();
        ReadyMoment {
            survey: Survey::new(&hard),
            mean: layered.then(|| turn(&law::law(setup, &self.coefficients.mean))),
            hard,
            law,
            units: None,
            a_p,
            cutter: Clamped::of(setup, a_p, spots),
        }
    }

    /// Makes every moment ready.
    pub fn ready_all<'a>(&'a self, setup: &Setup, moments: &Moments) -> Loadings<'a> {
        self.ready_all_by(setup, moments, Turn::new)
    }

    /// The same in a [sketch](Turn::sketched).
    pub(super) fn sketch_all<'a>(&'a self, setup: &Setup, moments: &Moments) -> Loadings<'a> {
        self.ready_all_by(setup, moments, Turn::sketched)
    }

    fn ready_all_by<'a>(
        &'a self,
        setup: &Setup,
        moments: &Moments,
        by: MakesTurn<'a>,
    ) -> Loadings<'a> {
        let each = moments.iter().map(|m| self.ready_by(setup, m, by));
        let ready: Vec<ReadyMoment<'a>> = each.collect();
        Loadings {
            loads: vec![Loads::default(); ready.len()],
            ready,
        }
    }

    /// The loads at a moment.
    pub fn at(&self, setup: &Setup, engaged: &Engaged, f_z: Length, turns: f64) -> Loads {
        self.ready(setup, engaged).at(f_z, turns)
    }

    /// How far the walls of a slot are off at a height above the tip, m: the one cut up and the
    /// one cut down, positive where stock is left.
    pub fn slot_walls(
        &self,
        setup: &Setup,
        engaged: &Engaged,
        f_z: Length,
        height: Length,
    ) -> [f64; 2] {
        let cut = Self::cut(setup, engaged, f_z);
        let hard = Turn::new(&self.arc, &cut, &self.hardest(setup));
        let height = in_mm(height);
        let give = Bending::of(setup, engaged.a_p).give(height) * 1e-3;
        [TurnWall::Up, TurnWall::Down].map(|wall| hard.off_wall(wall, height) * give)
    }

    /// Lateral force, torque and force along the feed at even angles over a turn: N and N m.
    pub fn trace(
        &self,
        setup: &Setup,
        engaged: &Engaged,
        f_z: Length,
        count: usize,
    ) -> Vec<[f64; 3]> {
        let cut = Self::cut(setup, engaged, f_z);
        let mut loads = vec![turn::Load::default(); count];
        Turn::new(&self.arc, &cut, &self.hardest(setup)).trace(&mut loads);
        loads
            .iter()
            .map(|l| [l.lateral(), l.torque * 1e-3, l.x])
            .collect()
    }
}

/// A moment ready to be asked for its loads at any feed.
#[derive(Clone, Debug)]
pub struct ReadyMoment<'a> {
    hard: Turn<'a>,
    survey: Survey,
    law: Law,
    /// What each part of a law adds, once another law was asked for.
    units: Option<UnitLoads>,
    /// The mean law where it is another.
    mean: Option<Turn<'a>>,
    a_p: Length,
    cutter: Clamped,
}

/// Where a wall is asked how far it is off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct WallSpot {
    pub(super) wall: TurnWall,
    /// Above the tip, mm.
    pub(super) height: f64,
    /// At the top of the wall, not at its bottom.
    pub(super) top: bool,
}

/// Bottom and top of the walls a pass leaves, if it leaves one.
fn spots(setup: &Setup, a_p: Length) -> Vec<WallSpot> {
    if matches!(setup.cut.path, Path::Face | Path::BallFinish) {
        return Vec::new();
    }
    let ends = [(0.0, false), (in_mm(a_p), true)];
    let spot = |wall| ends.map(|(height, top)| WallSpot { wall, height, top });
    sides(setup).iter().copied().flat_map(spot).collect()
}

/// What turns forces into bending and stress.
#[derive(Clone, Debug)]
pub(super) struct Clamped {
    bending: Bending,
    /// The walls, with the give there, m/N.
    walls: Vec<(WallSpot, f64)>,
    /// Give of the tip, m/N.
    tip: f64,
}

impl Clamped {
    fn of(setup: &Setup, a_p: Length, spots: &[WallSpot]) -> Self {
        let bending = Bending::of(setup, a_p);
        let give = |height: f64| bending.give(height) * 1e-3;
        Self {
            walls: spots.iter().map(|s| (*s, give(s.height))).collect(),
            tip: give(0.0),
            bending,
        }
    }

    /// The loads by the peaks of a turn, the force off each wall in their order, N, and the power.
    pub(super) fn loads(&self, peaks: &Peaks, off: impl Iterator<Item = f64>, power: f64) -> Loads {
        // The worse of both walls in a slot.
        let (mut wall_bottom, mut wall_top) = (0.0_f64, 0.0_f64);
        for ((spot, give), force) in self.walls.iter().zip(off) {
            let error = if spot.top {
                &mut wall_top
            } else {
                &mut wall_bottom
            };
            let here = force * give;
            if here.abs() >= error.abs() {
                *error = here;
            }
        }
        let (lateral, torque) = (peaks.lateral, peaks.torque);
        Loads {
            lateral,
            lift: peaks.lift,
            along: peaks.along,
            torque: torque * 1e-3,
            tip: lateral * self.tip,
            wall_bottom,
            wall_top,
            stress: self.bending.stress(lateral, torque) * 1e6,
            power,
        }
    }
}

impl ReadyMoment<'_> {
    /// The same engagement with another force, edge, clamping or machine, and another runout where
    /// there was some.
    pub fn take(&mut self, setup: &Setup) {
        self.take_force(setup);
        let spots: Vec<WallSpot> = self.cutter.walls.iter().map(|(spot, _)| *spot).collect();
        self.cutter = Clamped::of(setup, self.a_p, &spots);
        let tir = setup
            .machine
            .as_ref()
            .and_then(|m| m.runout)
            .map_or(0.0, in_mm);
        self.hard.take_runout(tir);
        if let Some(mean) = &mut self.mean {
            mean.take_runout(tir);
        }
    }

    fn take_force(&mut self, setup: &Setup) {
        let force = setup.stock.resistance.as_ref();
        let Some(of) = force.and_then(|r| Coefficients::of(r, &setup.cutter)) else {
            return;
        };
        let law = law::law(setup, &of.hardest);
        if law == self.law {
            return;
        }
        let units = self
            .units
            .get_or_insert_with(|| self.survey.units(&self.hard));
        self.survey.weigh(units, &law);
        self.hard.take_law(&law);
        if let Some(mean) = &mut self.mean {
            mean.take_law(&law::law(setup, &of.mean));
        }
        self.law = law;
    }

    /// The most that one edge takes across the cut, at the feed asked for last, N.
    pub fn radial(&mut self) -> f64 {
        let units = self
            .units
            .get_or_insert_with(|| self.survey.units(&self.hard));
        self.hard.radial_of(units, &self.law)
    }

    /// The loads at a feed per tooth and so many turns a second.
    pub fn at(&mut self, f_z: Length, turns: f64) -> Loads {
        self.hard.take_feed(in_mm(f_z));
        let peaks = self.hard.peaks_of(&self.survey);
        let power = self.energy(f_z) * turns;
        let walls = self.cutter.walls.iter();
        let off = walls.map(|(spot, _)| self.hard.off_wall(spot.wall, spot.height));
        self.cutter.loads(&peaks, off, power)
    }

    /// What is needed to ask again at any feed, without the model.
    pub(super) fn kept(self) -> (KeptTurn, Clamped) {
        let walls = self.cutter.walls.iter();
        let walls = walls.map(|(spot, _)| (spot.wall, spot.height));
        let mean = self.mean.as_ref().unwrap_or(&self.hard);
        let kept = KeptTurn::of(&self.hard, self.survey, mean, walls);
        (kept, self.cutter)
    }

    /// Mean energy of a turn, J: the power at one turn a second.
    pub fn energy(&mut self, f_z: Length) -> f64 {
        let mean = self.mean.as_mut().unwrap_or(&mut self.hard);
        mean.take_feed(in_mm(f_z));
        mean.mean().torque * 1e-3 * TAU
    }
}

/// The moments of a pass, ready to be asked for their loads.
#[derive(Clone, Debug)]
pub struct Loadings<'a> {
    ready: Vec<ReadyMoment<'a>>,
    loads: Vec<Loads>,
}

impl Loadings<'_> {
    /// The loads at a spindle speed and feed, in the order of the moments.
    pub fn at(&mut self, at: At) -> &[Loads] {
        let turns = at.n.turns().value;
        for (loads, ready) in self.loads.iter_mut().zip(&mut self.ready) {
            *loads = ready.at(at.f_z, turns);
        }
        &self.loads
    }

    /// The most that one edge takes across the cut at the nominal engagement, at the feed asked for
    /// last, N.
    pub fn radial(&mut self) -> f64 {
        self.ready.first_mut().map_or(0.0, ReadyMoment::radial)
    }

    /// The same moments with another force, edge, clamping or machine: see [`ReadyMoment::take`].
    pub fn take(&mut self, setup: &Setup) {
        for ready in &mut self.ready {
            ready.take(setup);
        }
    }

    /// Mean energy of a turn at the moment that takes most, J.
    pub fn energy(&mut self, f_z: Length) -> f64 {
        let each = self.ready.iter_mut().map(|r| r.energy(f_z));
        each.fold(0.0, f64::max)
    }
}

/// Radius of the corner, half the diameter for a ball.
pub(super) fn round(cutter: &Cutter) -> Length {
    match cutter.end {
        End::Square => Length::from_si(0.0),
        End::Corner => cutter.corner_radius,
        End::Ball => cutter.radius(),
    }
}

/// A feed near those that will be asked for: of a round end it tells where to look closely.
fn near(setup: &Setup) -> Length {
    let band = setup.stock.f_z;
    band.map_or(setup.cutter.diameter * 0.005, |band| band.most)
}

/// The walls a pass leaves.
fn sides(setup: &Setup) -> &'static [TurnWall] {
    match (setup.cut.path, setup.cut.direction) {
        (Path::Slot, _) => &[TurnWall::Up, TurnWall::Down],
        (_, Direction::Down) => &[TurnWall::Down],
        (_, Direction::Up) => &[TurnWall::Up],
    }
}
