//! What the whole way comes to.

use super::judge::Judged;
use super::lines::beyond;
use super::result::ArcShares;
use super::settle::Looked;
use super::station::CutSide;
use crate::kernel::front::EngagedBand;

/// From here on an arc is a slot: a half turn but for five degrees; and from here on wide.
const SLOT_ARC: f64 = std::f64::consts::PI * 175.0 / 180.0;
const WIDE_ARC: f64 = std::f64::consts::FRAC_PI_2;
/// Most samples of force that the 99th part of the programme is read from.
const MOST_SAMPLES: usize = 1 << 16;

/// Sums over the way, mm, and the forces in N.
#[derive(Debug)]
pub(super) struct Sums {
    pub(super) way: f64,
    pub(super) rubs: f64,
    pub(super) shares: ArcShares,
    forces: Vec<(f64, f64)>,
    /// Each of the forces stands for so many.
    every: usize,
    turn: usize,
    pub(super) most: Option<HardestFront>,
}

/// The front with the largest force, N.
#[derive(Debug)]
pub(super) struct HardestFront {
    force: f64,
    pub(super) tool: usize,
    pub(super) pass: Option<usize>,
    pub(super) front: Vec<EngagedBand>,
    /// Feed per tooth in mm.
    pub(super) f_z: f64,
}

impl Default for Sums {
    fn default() -> Self {
        Self {
            way: 0.0,
            rubs: 0.0,
            shares: ArcShares::default(),
            forces: Vec::new(),
            every: 1,
            turn: 0,
            most: None,
        }
    }
}

impl Sums {
    /// Adds up what a station comes to.
    pub(super) fn add(&mut self, looked: &Looked<'_>, judged: &Judged) {
        let station = &looked.station;
        let way = station.way;
        self.way += way;
        let share = match station.arc {
            _ if !station.cuts() => &mut self.shares.air,
            arc if arc >= SLOT_ARC => &mut self.shares.slot,
            arc if arc > WIDE_ARC => &mut self.shares.wide,
            _ => &mut self.shares.narrow,
        };
        *share += way;
        if station.side == CutSide::Up {
            self.shares.up += way;
        }
        if judged.rubs.is_some_and(|share| share >= 1.0 - 1e-9) {
            self.rubs += way;
        }
        let Some(force) = station.force else { return };
        if self.most.as_ref().is_none_or(|most| force > most.force) {
            self.most = Some(HardestFront {
                force,
                tool: looked.of.tool,
                pass: looked.of.pass,
                front: looked.front.to_vec(),
                f_z: judged.f_z.unwrap_or(0.0),
            });
        }
        self.turn += 1;
        if self.turn.is_multiple_of(self.every) {
            self.forces.push((force, way));
        }
        if self.forces.len() >= MOST_SAMPLES {
            let mut keep = false;
            self.forces.retain(|_| {
                keep = !keep;
                keep
            });
            self.every *= 2;
        }
    }

    /// The largest force, and the one that 99 % of the cutting way stay under.
    pub(super) fn force(&mut self) -> Option<[f64; 2]> {
        let most = self.most.as_ref().map(|m| m.force);
        let part = beyond(&mut self.forces, 0.01);
        most.zip(part).map(|(most, part)| [most, part])
    }
}
