//! A turn that is kept to be asked at many feeds, without the table it was made with.

use super::peak::Peaks;
use super::runout;
use super::survey::{Pinned, Survey};
use super::turn::{Load, Turn, TurnWall};

/// What the loads of a cut at any feed need, and nothing else.
#[derive(Clone, Debug)]
pub struct KeptTurn {
    survey: Survey,
    /// Means of the chip at a share of 1 and of the edge.
    mean: [Load; 2],
    walls: Vec<(TurnWall, Pinned)>,
    /// Teeth, runout and p.
    run: (u32, f64, f64),
}

/// The loads of a [`KeptTurn`] at one feed.
#[derive(Clone, Debug, PartialEq)]
pub struct KeptLoads {
    /// Over the turn.
    pub peaks: Peaks,
    /// Mean over the turn.
    pub mean: Load,
    /// Away from each wall, N, as [`Turn::off_wall`] gives it, in the order the walls were named.
    pub walls: Vec<f64>,
}

impl KeptTurn {
    /// Keeps a turn surveyed before; its means are those of `mean`, which may have another law.
    /// `walls` are asked at their heights above the tip, mm.
    pub fn of(
        turn: &Turn<'_>,
        survey: Survey,
        mean: &Turn<'_>,
        walls: impl IntoIterator<Item = (TurnWall, f64)>,
    ) -> Self {
        let pin = |(wall, height)| (wall, Pinned::at(turn, turn.generates(wall, height)));
        Self {
            survey,
            mean: mean.mean_parts(),
            walls: walls.into_iter().map(pin).collect(),
            run: turn.run(),
        }
    }

    /// The loads at a feed per tooth, mm.
    pub fn at(&self, f_z: f64) -> KeptLoads {
        let (z, tir, power) = self.run;
        let mut teeth = Vec::new();
        runout::teeth(&mut teeth, (z, f_z, tir), power);
        let [cut, edge] = self.mean;
        let walls = self.walls.iter();
        KeptLoads {
            peaks: self.survey.peaks(&teeth),
            mean: runout::mean(&teeth, cut, edge),
            walls: walls.map(|(w, at)| w.off(&at.load(&teeth))).collect(),
        }
    }
}
