//! Loads where something outside says how the cutter is engaged, as a field of stock does along a
//! programme: the same laws, bending and walls as those of a pass.

pub mod classes;

use self::classes::Classes;
use super::law::Coefficients;
use super::loads::{Clamped, LoadModel, Loads, WallSpot, round};
use super::setup::Setup;
use crate::band;
use crate::kernel::front::EngagedBand;
use crate::kernel::kept::KeptTurn;
use crate::kernel::turn::TurnWall;
use crate::quantity::{Length, in_mm, mm};
use std::f64::consts::{PI, TAU};

/// A window that ends this near to a wall, rad, reaches it.
const AT_WALL: f64 = 1e-6;

/// The loads of one cutter in one stock on one machine, wherever it is engaged.
///
/// Of the cut of its setup only the path counts, for whether the end makes a floor.
#[derive(Clone, Debug)]
pub struct Fronts {
    model: LoadModel,
    setup: Setup,
}

impl Fronts {
    /// The loads of the cutter of a setup; `None` where no force is known.
    pub fn of(setup: &Setup) -> Option<Self> {
        let resistance = setup.stock.resistance.as_ref()?;
        let coefficients = Coefficients::of(resistance, &setup.cutter)?;
        Some(Self {
            model: LoadModel::new(coefficients),
            // Where the numbers are from does not matter here, and is much to copy.
            setup: Setup {
                origins: Vec::new(),
                ..setup.clone()
            },
        })
    }

    /// Makes an engagement ready to be asked at any feed; bands from the tip up.
    pub fn meet(&self, bands: &[EngagedBand]) -> MetFront {
        let met = Met::of(bands, &self.setup);
        let setup = met.setup(self);
        let ready = self.model.ready_met(&setup, bands, (met.reach, &met.spots));
        let (turn, cutter) = ready.kept();
        MetFront {
            bands: bands.to_vec(),
            turn,
            cutter,
        }
    }
}

impl Fronts {
    /// Classes of engagements for this cutter, never more than `most`.
    pub fn classes<V>(&self, most: usize) -> Classes<V> {
        let cutter = &self.setup.cutter;
        let lag_per_mm = 2.0 * cutter.helix.value.tan() / in_mm(cutter.diameter);
        Classes::new(lag_per_mm, most)
    }
}

/// One engagement, ready to be asked at any feed.
#[derive(Clone, Debug)]
pub struct MetFront {
    bands: Vec<EngagedBand>,
    turn: KeptTurn,
    cutter: Clamped,
}

/// Least and most that nine of ten cuts come to, by how far sources differ.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MetRange {
    /// Largest lateral force, N.
    pub lateral: (f64, f64),
    /// Larger wall error, m.
    pub wall: (f64, f64),
}

impl MetFront {
    /// The loads at a feed per tooth and so many turns a second. The walls are asked at the lowest
    /// and at the highest place where a window reaches one: φ = 0 or π.
    pub fn at(&self, f_z: Length, turns: f64) -> Loads {
        let loads = self.turn.at(in_mm(f_z));
        let energy = loads.mean.torque * 1e-3 * TAU;
        let walls = loads.walls.iter().copied();
        self.cutter.loads(&loads.peaks, walls, energy * turns)
    }

    /// The range of lateral force and wall at a feed per tooth and so many turns a second, from so
    /// many draws of one seed as [`LikelyRange`](band::LikelyRange) has it for a pass. `fronts` are
    /// those it was met with.
    pub fn range(
        &self,
        fronts: &Fronts,
        (f_z, turns): (Length, f64),
        (draws, seed): (usize, u64),
    ) -> MetRange {
        let met = Met::of(&self.bands, &fronts.setup);
        let setup = met.setup(fronts);
        let walls = (met.reach, &met.spots[..]);
        let mut ready = fronts.model.ready_met(&setup, &self.bands, walls);
        let loads: Vec<Loads> = band::drawn(&setup, draws, seed)
            .map(|drawn| {
                ready.take(&drawn);
                ready.at(f_z, turns)
            })
            .collect();
        MetRange {
            lateral: band::ends(loads.iter().map(|l| l.lateral)),
            wall: band::ends(loads.iter().map(Loads::wall)),
        }
    }
}

/// What bands tell beside the turn.
struct Met {
    /// Upper end of what is engaged.
    top: Length,
    /// Lower and upper end together: the force acts in the middle between them.
    reach: Length,
    spots: Vec<WallSpot>,
}

impl Met {
    /// A wall reaches as high as anything is engaged, or beyond a round end; what does not is a
    /// floor that a ball leaves below itself.
    fn of(bands: &[EngagedBand], setup: &Setup) -> Self {
        let ends = |reaches: &dyn Fn([f64; 2]) -> bool| {
            let mut bands = bands.iter().filter(|band| band.open().any(reaches));
            let first = bands.next()?;
            Some((first.low, bands.next_back().unwrap_or(first).high))
        };
        let (lowest, highest) = ends(&|_| true).unwrap_or_default();
        let round = in_mm(round(&setup.cutter));
        let mut spots = Vec::new();
        let up = ends(&|[start, _]| start < AT_WALL);
        let down = ends(&|[_, end]| end > PI - AT_WALL);
        for (wall, ends) in [(TurnWall::Up, up), (TurnWall::Down, down)] {
            let Some((low, high)) = ends.filter(|e| e.1 >= highest || e.1 > round) else {
                continue;
            };
            let ends = [(low, false), (high, true)];
            spots.extend(ends.map(|(height, top)| WallSpot { wall, height, top }));
        }
        Self {
            top: mm(highest),
            reach: mm(lowest + highest),
            spots,
        }
    }

    /// The setup of the fronts, as deep as they are engaged.
    fn setup(&self, fronts: &Fronts) -> Setup {
        let mut setup = fronts.setup.clone();
        setup.cut.a_p = self.top;
        setup
    }
}
