//! What the cut does to cutter, machine and part: forces, bending, stress.

use super::bending::Bending;
use super::checks::At;
use super::law::{self, Coefficients};
use super::moments::{Engaged, Moments};
use super::setup::Setup;
use crate::cut::{Direction, Path};
use crate::cutter::End;
use crate::kernel::arc::ArcTable;
use crate::kernel::survey::{Survey, UnitLoads};
use crate::kernel::turn::{self, Law, Turn, TurnWall};
use crate::quantity::{Length, in_mm};
use std::f64::consts::TAU;

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
        let cutter = &setup.cutter;
        let r_e = match cutter.end {
            End::Square => 0.0,
            End::Corner => in_mm(cutter.corner_radius),
            End::Ball => in_mm(cutter.radius()),
        };
        turn::TurnCut {
            d: in_mm(cutter.diameter),
            z: cutter.edges,
            helix: cutter.helix.value,
            r_e,
            a_p: in_mm(engaged.a_p),
            arc: engaged.arc.value,
            path: engaged.path,
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
        // The feed is taken when one is asked for; this one is near those that will be.
        let near = setup
            .stock
            .f_z
            .map_or(setup.cutter.diameter * 0.005, |band| band.most);
        let cut = Self::cut(setup, engaged, near);
        let law = self.hardest(setup);
        let hard = Turn::new(&self.arc, &cut, &law);
        let layered = self.coefficients.layered();
        ReadyMoment {
            survey: Survey::new(&hard),
            mean: layered.then(|| {
                let law = law::law(setup, &self.coefficients.mean);
                Turn::new(&self.arc, &cut, &law)
            }),
            hard,
            law,
            units: None,
            a_p: engaged.a_p,
            cutter: Clamped::of(setup, engaged.a_p),
        }
    }

    /// Makes every moment ready.
    pub fn ready_all<'a>(&'a self, setup: &Setup, moments: &Moments) -> Loadings<'a> {
        let ready: Vec<ReadyMoment<'a>> = moments.iter().map(|m| self.ready(setup, m)).collect();
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

/// What turns forces into bending and stress.
#[derive(Clone, Debug)]
struct Clamped {
    bending: Bending,
    /// Bottom and top of the wall, if the pass leaves one.
    walls: Option<[WallPoint; 2]>,
    sides: &'static [TurnWall],
    /// Give of the tip, m/N.
    tip: f64,
}

/// A height on the wall, mm, and the give there, m/N.
#[derive(Clone, Copy, Debug)]
struct WallPoint {
    height: f64,
    give: f64,
}

impl Clamped {
    fn of(setup: &Setup, a_p: Length) -> Self {
        let bending = Bending::of(setup, a_p);
        let wall = |height: f64| WallPoint {
            height,
            give: bending.give(height) * 1e-3,
        };
        let has_wall = !matches!(setup.cut.path, Path::Face | Path::BallFinish);
        Self {
            walls: has_wall.then(|| [wall(0.0), wall(in_mm(a_p))]),
            sides: sides(setup),
            tip: bending.give(0.0) * 1e-3,
            bending,
        }
    }
}

impl ReadyMoment<'_> {
    /// The same engagement with another force, edge, clamping or machine, and another runout where
    /// there was some.
    pub fn take(&mut self, setup: &Setup) {
        self.take_force(setup);
        self.cutter = Clamped::of(setup, self.a_p);
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
        let cutter = &self.cutter;
        let [wall_bottom, wall_top] = cutter.walls.map_or([0.0; 2], |w| w.map(|p| self.off(p)));
        let (lateral, torque) = (peaks.lateral, peaks.torque);
        Loads {
            lateral,
            lift: peaks.lift,
            along: peaks.along,
            torque: torque * 1e-3,
            tip: lateral * cutter.tip,
            wall_bottom,
            wall_top,
            stress: cutter.bending.stress(lateral, torque) * 1e6,
            power: self.energy(f_z) * turns,
        }
    }

    /// Mean energy of a turn, J: the power at one turn a second.
    pub fn energy(&mut self, f_z: Length) -> f64 {
        let mean = self.mean.as_mut().unwrap_or(&mut self.hard);
        mean.take_feed(in_mm(f_z));
        mean.mean().torque * 1e-3 * TAU
    }

    /// How far the wall is off at a height, m: the worse of both walls in a slot.
    fn off(&self, point: WallPoint) -> f64 {
        let force = |wall: &TurnWall| self.hard.off_wall(*wall, point.height);
        let worse = |a: f64, b: f64| if a.abs() > b.abs() { a } else { b };
        let force = self.cutter.sides.iter().map(force).fold(0.0, worse);
        force * point.give
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

/// The walls a pass leaves.
fn sides(setup: &Setup) -> &'static [TurnWall] {
    match (setup.cut.path, setup.cut.direction) {
        (Path::Slot, _) => &[TurnWall::Up, TurnWall::Down],
        (_, Direction::Down) => &[TurnWall::Down],
        (_, Direction::Up) => &[TurnWall::Up],
    }
}
