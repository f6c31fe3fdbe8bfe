//! Pieces of the way on their way to the stock and back, many at a time.

use super::super::stock::{CoursePiece, CourseStation, Engagement, StockEnd, StockSpan, put_spans};
use super::around::Of;
use super::aside::Aside;
use crate::kernel::front::EngagedBand;

/// So many moves, or so many looks, are a batch: some hundred kilobytes, and half a megabyte with
/// the stock that goes with it.
const MOVES: usize = 128;
const LOOKS: usize = 256;

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

impl PieceAhead {
    /// How often it is looked at.
    pub(super) fn looks_ahead(&self) -> usize {
        if self.of.rapid {
            0
        } else {
            self.piece.steps(self.step)
        }
    }

    /// The way each of its looks stands for, mm.
    pub(super) fn way(&self) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "far below 2^52")]
        let steps = self.piece.steps(self.step) as f64;
        self.piece.length() / steps
    }
}

/// What was met at a place of the way: no more than has to be seen before the stock changes.
#[derive(Clone, Debug)]
pub(super) struct Look {
    /// The tip of the cutter.
    pub(super) at: [f64; 3],
    /// Way from the start of its piece, mm.
    pub(super) along: f64,
    /// The way it stands for, mm.
    pub(super) way: f64,
    /// How high the stock is cut at most, mm.
    pub(super) depth: f64,
    /// Width of a straight cut of the same section and depth, mm.
    pub(super) width: f64,
    /// Area cut across the feed, mm².
    pub(super) section: f64,
    /// Where depths and spans begin above the tip, mm.
    pub(super) feet: [f64; 2],
    /// Whether the bottom is engaged going down.
    pub(super) plunges: bool,
    /// The spans and rings of the batch up to those of this front.
    pub(super) ends: Ends,
    /// How high the stock stands round the cutter above its tip, mm, engaged or not, where that
    /// counts.
    pub(super) around: f64,
}

/// So many spans and rings of a batch.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Ends {
    pub(super) spans: usize,
    pub(super) rings: usize,
}

/// A look with the spans and rings of its front.
#[derive(Clone, Copy)]
pub(super) struct Met<'a> {
    pub(super) look: &'a Look,
    pub(super) spans: &'a [StockSpan],
    pub(super) rings: &'a [EngagedBand],
}

impl Met<'_> {
    /// Angle engaged in all, rad: at full radius, or, where only the round part of the end cuts,
    /// of its widest ring.
    pub(super) fn arc(&self) -> f64 {
        let wide = |ring: &EngagedBand| ring.open().map(|[from, to]| to - from).sum::<f64>();
        if self.spans.is_empty() {
            return self.rings.iter().map(wide).fold(0.0, f64::max);
        }
        self.spans.iter().map(|s| s.exit - s.start).sum()
    }

    /// Puts the front in bands, from the tip up.
    pub(super) fn put_bands(&self, bands: &mut Vec<EngagedBand>) {
        bands.extend_from_slice(self.rings);
        put_spans(self.spans, self.look.feet, bands);
    }
}

/// Pieces of the way of a programme, in the order in which they are cut, and what the cutter met
/// along them once a [`StockStage`](super::StockStage) has cut them: some hundred at most, and the
/// looks of the last one.
#[derive(Clone, Debug, Default)]
pub struct StockBatch {
    pub(super) pieces: Vec<PieceAhead>,
    pub(super) looks: Vec<Look>,
    pub(super) spans: Vec<StockSpan>,
    pub(super) rings: Vec<EngagedBand>,
    /// No piece after this batch is of a move up to this one.
    pub(super) through: u64,
    moves: usize,
    ahead: usize,
    /// The share of the looks that is left to the thread it comes back to, and what they need.
    left: f64,
    pub(super) aside: Aside,
}

impl StockBatch {
    /// Leaves a share of its looks, from 0 to 1, to the thread it comes back to.
    pub fn leave(&mut self, share: f64) {
        self.left = share;
    }

    /// A move was taken in, whether it has pieces or not.
    pub(super) fn moved(&mut self) {
        self.moves += 1;
    }

    /// Takes in a piece.
    pub(super) fn push(&mut self, piece: PieceAhead) {
        self.ahead += piece.piece.steps(piece.step);
        self.pieces.push(piece);
    }

    /// So many of its looks are left.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_precision_loss,
        clippy::cast_sign_loss,
        reason = "some thousand at most, and a share"
    )]
    pub(super) fn looks_left(&self) -> usize {
        (self.left * self.ahead as f64) as usize
    }

    /// Takes in what is met at a place that stands for some way of a piece.
    pub(super) fn meet(&mut self, place: &CourseStation, front: &Engagement, way: f64) {
        self.spans.extend_from_slice(&front.spans);
        front.put_rings(&mut self.rings);
        self.looks.push(Look {
            at: place.at,
            along: place.along_mm,
            way,
            depth: front.depth_mm,
            width: front.radial_width_mm(),
            section: front.section_mm2,
            feet: front.feet_mm(),
            plunges: front.plunges,
            ends: Ends {
                spans: self.spans.len(),
                rings: self.rings.len(),
            },
            around: 0.0,
        });
    }

    /// A look of it, whose spans and rings lie behind some.
    pub(super) fn met(&self, look: usize, from: Ends) -> Met<'_> {
        let look = &self.looks[look];
        Met {
            look,
            spans: &self.spans[from.spans..look.ends.spans],
            rings: &self.rings[from.rings..look.ends.rings],
        }
    }

    /// Whether it is time to cut them.
    pub(super) fn is_full(&self) -> bool {
        self.moves >= MOVES || self.ahead >= LOOKS
    }

    /// The same room, empty.
    pub(super) fn emptied(mut self) -> Self {
        self.pieces.clear();
        self.looks.clear();
        self.spans.clear();
        self.rings.clear();
        (self.through, self.moves, self.ahead) = (0, 0, 0);
        self.left = 0.0;
        self
    }
}
