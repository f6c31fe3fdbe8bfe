//! The stock, cut batch by batch: at once, or in a thread of its own.

use std::collections::BTreeMap;
use std::f64::consts::FRAC_1_SQRT_2;
use std::fmt::Debug;

use super::super::setting::Bounds;
use super::super::stock::{CourseStation, Engagement, Fan, StockField};
use super::batch::{PieceAhead, StockBatch};
use super::views::{StockView, StockViews};

/// The stock along a programme while it is cut. It owns all it needs, so it may do so anywhere.
#[derive(Debug)]
pub struct StockStage {
    stock: StockField,
    /// A fan for each tool, by its place among those at work.
    fans: BTreeMap<usize, Fan>,
    /// Way at feed that is cut off, mm.
    gone: f64,
    views: Option<StockViews>,
}

/// Where batches go to have the stock cut, and come back in the same order: a [`StockStage`]
/// itself, which cuts each at once, or whatever hands them to one in another thread. The report is
/// the same.
pub trait StockLane: Debug {
    /// Hands over a batch; one comes back that is cut, if it is time for one.
    fn pass(&mut self, batch: StockBatch) -> Option<StockBatch>;

    /// Once no more is handed over, the next batch that has not come back, cut.
    fn rest(&mut self) -> Option<StockBatch>;

    /// The stage, once every batch is back.
    fn finish(self: Box<Self>) -> StockStage;
}

impl StockLane for StockStage {
    fn pass(&mut self, mut batch: StockBatch) -> Option<StockBatch> {
        self.cut(&mut batch);
        Some(batch)
    }

    fn rest(&mut self) -> Option<StockBatch> {
        None
    }

    fn finish(self: Box<Self>) -> StockStage {
        *self
    }
}

impl StockStage {
    /// With views of the stock in a box, where they are wanted.
    pub(super) fn new(stock: StockField, views: Option<Bounds>) -> Self {
        Self {
            stock,
            fans: BTreeMap::new(),
            gone: 0.0,
            views: views.map(StockViews::new),
        }
    }

    /// Looks along the pieces of a batch and cuts them off, in their order.
    pub fn cut(&mut self, batch: &mut StockBatch) {
        let mut pieces = std::mem::take(&mut batch.pieces);
        for ahead in &mut pieces {
            if ahead.of.rapid {
                ahead.at_rapid = self.stock.remove(&ahead.piece, &ahead.end);
            } else {
                self.follow(ahead, batch);
            }
            ahead.looks = batch.looks.len();
        }
        batch.pieces = pieces;
    }

    /// Looks along a piece at feed, and cuts it off.
    fn follow(&mut self, ahead: &PieceAhead, batch: &mut StockBatch) {
        let (piece, end) = (&ahead.piece, &ahead.end);
        let fan = self.fans.entry(ahead.of.tool);
        let fan = fan.or_insert_with(|| Fan::new(end, Fan::SAMPLES));
        #[expect(clippy::cast_precision_loss)] // far below 2^52
        let way = piece.length() / piece.steps(ahead.step) as f64;
        let views = self.views.as_ref();
        let due = views.is_some_and(|views| views.due(self.gone));
        let (first, mut last) = (batch.looks.len(), None);
        let see = |place: &CourseStation, front: &Engagement| {
            if due {
                last = Some((*place, StockView::of(front)));
            }
            batch.meet(place, front, way);
        };
        self.stock.follow(piece, end, fan, ahead.step, see);
        self.gone += piece.length();
        if let Some(tall) = ahead.tall {
            for look in &mut batch.looks[first..] {
                look.around = stands(&self.stock, look.at, end.radius_mm, tall);
            }
        }
        if let (Some(views), Some((place, spans))) = (&mut self.views, last) {
            let view = StockView {
                way: self.gone,
                line: piece.lines[1],
                at: place.at,
                radius: end.radius_mm,
                heading: place.heading(),
                spans,
                heights: Vec::new(),
            };
            views.take(view, &self.stock);
        }
    }

    /// The volume that still stands, mm³.
    pub(super) fn left(&self) -> f64 {
        self.stock.volume_mm3()
    }

    /// The views along the way and of the stock that is left, where they are wanted.
    pub(super) fn into_views(mut self) -> Option<StockViews> {
        let views = self.views.as_mut()?;
        views.finish(self.gone, &self.stock);
        self.views
    }
}

/// How high the stock stands round a cutter above its tip, mm: two cells beside it. What is lower
/// than `tall` is not looked for.
fn stands(stock: &StockField, [x, y, z]: [f64; 3], radius: f64, tall: f64) -> f64 {
    let off = radius + 2.0 * stock.cell_mm();
    let places = AROUND.map(|[cos, sin]| [x + off * cos, y + off * sin]);
    stock.highest_over(&places, z + tall) - z
}

/// Eight directions round a cutter.
const AROUND: [[f64; 2]; 8] = [
    [1.0, 0.0],
    [FRAC_1_SQRT_2, FRAC_1_SQRT_2],
    [0.0, 1.0],
    [-FRAC_1_SQRT_2, FRAC_1_SQRT_2],
    [-1.0, 0.0],
    [-FRAC_1_SQRT_2, -FRAC_1_SQRT_2],
    [0.0, -1.0],
    [FRAC_1_SQRT_2, -FRAC_1_SQRT_2],
];
