//! The stock, cut batch by batch: at once, or in a thread of its own.

use std::f64::consts::FRAC_1_SQRT_2;
use std::fmt::Debug;

use super::super::setting::Bounds;
use super::super::stock::{CourseStation, StockField};
use super::aside::{Aside, Fans};
use super::batch::{PieceAhead, StockBatch};
use super::views::{StockView, StockViews};

/// The stock along a programme while it is cut. It owns all it needs, so it may do so anywhere.
#[derive(Debug)]
pub struct StockStage {
    stock: StockField,
    fans: Fans,
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
            fans: Fans::default(),
            gone: 0.0,
            views: views.map(StockViews::new),
        }
    }

    /// Looks along the pieces of a batch and cuts them off, in their order.
    pub fn cut(&mut self, batch: &mut StockBatch) {
        let mut pieces = std::mem::take(&mut batch.pieces);
        let mut aside = std::mem::take(&mut batch.aside);
        let first = aside.first(&pieces, batch.looks_left(), &self.stock);
        let (own, left) = pieces.split_at_mut(first);
        self.look_along(own, batch);
        if !left.is_empty() {
            aside.open(&mut self.stock);
            self.pass_by(left, &mut aside);
            aside.close(&mut self.stock);
        }
        batch.aside = aside;
        batch.pieces = pieces;
    }

    /// Looks along pieces and cuts them off.
    fn look_along(&mut self, pieces: &mut [PieceAhead], batch: &mut StockBatch) {
        for ahead in pieces {
            if ahead.of.rapid {
                ahead.at_rapid = self.stock.remove(&ahead.piece, &ahead.end);
            } else {
                let (first, way) = (batch.looks.len(), ahead.way());
                let fan = self.fans.of(ahead.of.tool, &ahead.end);
                let due = is_due(self.views.as_ref(), self.gone);
                let mut last = None;
                let halt = |stock: &StockField, place: &CourseStation| {
                    let front = fan.look(stock, place);
                    if due {
                        last = Some((*place, StockView::of(front)));
                    }
                    batch.meet(place, front, way);
                };
                self.stock
                    .carry_out(&ahead.piece, &ahead.end, ahead.step, halt);
                batch.stand_round(first, ahead, &self.stock);
                self.go_on(ahead, last);
            }
            ahead.looks = batch.looks.len();
        }
    }

    /// Cuts pieces off whose looks are left to others.
    fn pass_by(&mut self, pieces: &mut [PieceAhead], aside: &mut Aside) {
        for ahead in pieces {
            if ahead.of.rapid {
                ahead.at_rapid = self.stock.remove(&ahead.piece, &ahead.end);
                continue;
            }
            let fan = self.fans.of(ahead.of.tool, &ahead.end);
            let due = is_due(self.views.as_ref(), self.gone);
            let mut last = None;
            let halt = |stock: &StockField, place: &CourseStation| {
                aside.mark(stock);
                if due {
                    last = Some((*place, StockView::of(fan.look(stock, place))));
                }
            };
            self.stock
                .carry_out(&ahead.piece, &ahead.end, ahead.step, halt);
            aside.mark(&self.stock);
            self.go_on(ahead, last);
        }
    }

    /// Takes the view that is due at the last look along a piece.
    fn go_on(&mut self, ahead: &PieceAhead, last: Option<(CourseStation, Vec<[f64; 2]>)>) {
        self.gone += ahead.piece.length();
        if let (Some(views), Some((place, spans))) = (&mut self.views, last) {
            let view = StockView {
                way: self.gone,
                line: ahead.piece.lines[1],
                at: place.at,
                radius: ahead.end.radius_mm,
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

/// Whether a view is due after so much way.
fn is_due(views: Option<&StockViews>, gone: f64) -> bool {
    views.is_some_and(|views| views.due(gone))
}

/// How high the stock stands round a cutter above its tip, mm: two cells beside it. What is lower
/// than `tall` is not looked for.
pub(super) fn stands(stock: &StockField, [x, y, z]: [f64; 3], radius: f64, tall: f64) -> f64 {
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
