//! What the cut does to cutter, machine and part: forces, bending, stress.

use super::bending::Bending;
use super::checks::At;
use super::moments::{Engaged, Moments};
use super::setup::Setup;
use crate::cut::{Direction, Path};
use crate::cutter::End;
use crate::formula::force::EdgeForce;
use crate::kernel::arc::Arc;
use crate::kernel::survey::Survey;
use crate::kernel::turn::{self, Law, Turn, Wall};
use crate::notebook::{Notebook, Silent};
use crate::quantity::{Length, Quantity, Stiffness, in_mm};
use crate::workpiece::{ForceLaw, Kienzle, Pairs, Resistance};
use std::f64::consts::TAU;

/// What an edge takes over its width whatever the chip.
pub(super) fn edge_force(pairs: &Pairs, pair: Kienzle, notes: &mut impl Notebook) -> Stiffness {
    let Kienzle { kc11, m_c } = pair;
    if pairs.edge_share > 0.0 {
        pairs.edge_share * notes.take(EdgeForce { kc11, m_c })
    } else {
        Stiffness::from_si(0.0)
    }
}

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

/// The force model of a stock, with the tables it needs: build once, ask often.
#[derive(Clone, Debug)]
pub struct LoadModel {
    mean: (Arc, Law),
    hardest: (Arc, Law),
}

impl LoadModel {
    /// Builds the tables, about a tenth of a millisecond.
    pub fn new(resistance: &Resistance) -> Self {
        let [mean, hardest] = match &resistance.law {
            ForceLaw::Kienzle(pairs) => [pairs.mean, pairs.hardest].map(|pair| {
                let kc11 = pair.kc11.value * 1e-6;
                let edge = edge_force(pairs, pair, &mut Silent).si() / 1e3;
                let law = Law::kienzle(kc11, pair.m_c, pairs.k_r, pairs.k_a);
                // An edge that only presses does so across the cut as much as along it.
                law.with_edge([edge, edge, 0.0])
            }),
            ForceLaw::Linear(linear) => [linear.law(); 2],
        };
        Self {
            mean: (Arc::new(mean.m_c), mean),
            hardest: (Arc::new(hardest.m_c), hardest),
        }
    }

    /// The engagement as the kernel takes it.
    fn cut(setup: &Setup, engaged: &Engaged, f_z: Length) -> turn::Cut {
        let cutter = &setup.cutter;
        let r_e = match cutter.end {
            End::Square => 0.0,
            End::Corner => in_mm(cutter.corner_radius),
            End::Ball => in_mm(cutter.radius()),
        };
        turn::Cut {
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

    /// A law with the wear of the edge.
    fn worn(law: &Law, setup: &Setup) -> Law {
        let wear = setup.stock.resistance.map_or(1.0, |r| r.wear);
        let scaled = |part: [f64; 3]| part.map(|k| k * wear);
        Law {
            cut: scaled(law.cut),
            edge: scaled(law.edge),
            ..*law
        }
    }

    /// Makes a moment ready to be asked for its loads at any feed.
    pub fn ready<'a>(&'a self, setup: &Setup, engaged: &Engaged) -> Ready<'a> {
        // The feed is taken when one is asked for; this one is near those that will be.
        let near = setup
            .stock
            .f_z
            .map_or(setup.cutter.diameter * 0.005, |(_, most)| most);
        let turn =
            |(arc, law): &'a (Arc, Law)| Turn::new(arc, &Self::cut(setup, engaged, near), law);
        let hard = turn(&self.hardest);
        Ready {
            survey: Survey::new(&hard),
            mean: (self.mean.1 != self.hardest.1).then(|| turn(&self.mean)),
            hard,
            a_p: engaged.a_p,
            cutter: Clamped::of(setup, engaged.a_p),
        }
    }

    /// Makes every moment ready.
    pub fn ready_all<'a>(&'a self, setup: &Setup, moments: &Moments) -> Loadings<'a> {
        let ready: Vec<Ready<'a>> = moments.iter().map(|m| self.ready(setup, m)).collect();
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
        let hard = Turn::new(&self.hardest.0, &cut, &Self::worn(&self.hardest.1, setup));
        let height = in_mm(height);
        let give = Bending::of(setup, engaged.a_p).give(height) * 1e-3;
        [Wall::Up, Wall::Down].map(|wall| hard.off_wall(wall, height) * give)
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
        Turn::new(&self.hardest.0, &cut, &Self::worn(&self.hardest.1, setup)).trace(&mut loads);
        loads
            .iter()
            .map(|l| [l.lateral(), l.torque * 1e-3, l.x])
            .collect()
    }
}

/// A moment ready to be asked for its loads at any feed.
#[derive(Clone, Debug)]
pub struct Ready<'a> {
    /// With a sharp edge, as the mean.
    hard: Turn<'a>,
    survey: Survey,
    /// The mean law where it is another.
    mean: Option<Turn<'a>>,
    a_p: Length,
    cutter: Clamped,
}

/// What turns forces into bending and stress.
#[derive(Clone, Debug)]
struct Clamped {
    /// What a worn edge does to every force.
    wear: f64,
    bending: Bending,
    /// Bottom and top of the wall, if the pass leaves one.
    walls: Option<[WallPoint; 2]>,
    sides: &'static [Wall],
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
            wear: setup.stock.resistance.map_or(1.0, |r| r.wear),
            walls: has_wall.then(|| [wall(0.0), wall(in_mm(a_p))]),
            sides: sides(setup),
            tip: bending.give(0.0) * 1e-3,
            bending,
        }
    }
}

impl Ready<'_> {
    /// The same engagement with another wear, clamping or machine, and another runout where there
    /// was some.
    pub fn take(&mut self, setup: &Setup) {
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

    /// The loads at a feed per tooth and so many turns a second.
    pub fn at(&mut self, f_z: Length, turns: f64) -> Loads {
        self.hard.take_feed(in_mm(f_z));
        let peaks = self.hard.peaks_of(&self.survey);
        let cutter = &self.cutter;
        let [wall_bottom, wall_top] = cutter.walls.map_or([0.0; 2], |w| w.map(|p| self.off(p)));
        let (lateral, torque) = (cutter.wear * peaks.lateral, cutter.wear * peaks.torque);
        Loads {
            lateral,
            lift: cutter.wear * peaks.lift,
            along: cutter.wear * peaks.along,
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
        self.cutter.wear * mean.mean().torque * 1e-3 * TAU
    }

    /// How far the wall is off at a height, m: the worse of both walls in a slot.
    fn off(&self, point: WallPoint) -> f64 {
        let force = |wall: &Wall| self.hard.off_wall(*wall, point.height);
        let worse = |a: f64, b: f64| if a.abs() > b.abs() { a } else { b };
        let force = self.cutter.sides.iter().map(force).fold(0.0, worse);
        self.cutter.wear * force * point.give
    }
}

/// The moments of a pass, ready to be asked for their loads.
#[derive(Clone, Debug)]
pub struct Loadings<'a> {
    ready: Vec<Ready<'a>>,
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

    /// The same moments with another wear, clamping or machine: see [`Ready::take`].
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
fn sides(setup: &Setup) -> &'static [Wall] {
    match (setup.cut.path, setup.cut.direction) {
        (Path::Slot, _) => &[Wall::Up, Wall::Down],
        (_, Direction::Down) => &[Wall::Down],
        (_, Direction::Up) => &[Wall::Up],
    }
}
