//! Pieces of the way on their way to the stock and back, many at a time.

use super::super::stock::{CoursePiece, StockEnd};
use super::around::Of;
use super::station::CutStation;
use crate::kernel::front::EngagedBand;

/// So many moves, or so many looks, are a batch: some hundred kilobytes.
const MOVES: usize = 256;
const LOOKS: usize = 512;

/// A piece of the way with what its cut has to know.
#[derive(Clone, Debug)]
pub(super) struct PieceAhead {
    pub(super) piece: CoursePiece,
    pub(super) of: Of,
    pub(super) end: StockEnd,
    /// Distance of two looks, mm, about.
    pub(super) step: f64,
    /// Way from the start of its move to its own, mm.
    pub(super) start: f64,
    /// Above its tip, the height of the stock round the cutter counts from here on, mm, if ever.
    pub(super) tall: Option<f64>,
    /// Its lines, each with that of its F word, where a correction is wanted.
    pub(super) feed_lines: Vec<(u64, u64)>,
    /// Whether a cut was left out before, so that less may stand there than is known.
    pub(super) unsure: bool,
    /// Whether lengths are shown in inch there.
    pub(super) shows_inch: bool,
    /// Once it is cut, the looks of the batch up to its end.
    pub(super) looks: usize,
    /// What a rapid move cut away, mm³, once it has.
    pub(super) at_rapid: f64,
}

/// What was met at a place of the way.
#[derive(Clone, Debug)]
pub(super) struct Look {
    pub(super) station: CutStation,
    /// The bands of the batch up to those of this front.
    pub(super) bands: usize,
    /// How high the stock stands round the cutter above its tip, mm, engaged or not, where that
    /// counts.
    pub(super) around: f64,
}

/// Pieces of the way of a programme, in the order in which they are cut, and what the cutter met
/// along them once a [`StockStage`](super::StockStage) has cut them: some hundred at most, and the
/// looks of the last one.
#[derive(Clone, Debug, Default)]
pub struct StockBatch {
    pub(super) pieces: Vec<PieceAhead>,
    pub(super) looks: Vec<Look>,
    pub(super) bands: Vec<EngagedBand>,
    /// No piece after this batch is of a move up to this one.
    pub(super) through: u64,
    moves: usize,
    ahead: usize,
}

impl StockBatch {
    /// A move was taken in, whether it has pieces or not.
    pub(super) fn moved(&mut self) {
        self.moves += 1;
    }

    /// Takes in a piece.
    pub(super) fn push(&mut self, piece: PieceAhead) {
        self.ahead += piece.piece.steps(piece.step);
        self.pieces.push(piece);
    }

    /// Whether it is time to cut them.
    pub(super) fn is_full(&self) -> bool {
        self.moves >= MOVES || self.ahead >= LOOKS
    }

    /// The same room, empty.
    pub(super) fn emptied(mut self) -> Self {
        self.pieces.clear();
        self.looks.clear();
        self.bands.clear();
        (self.through, self.moves, self.ahead) = (0, 0, 0);
        self
    }
}
