//! Looks of a batch that are left to the thread it comes back to.
//!
//! Cutting the stock is the longer work of two threads, and none of it can be shared out. Looking
//! can: a copy of the stock round the last pieces of a batch goes with it, and what changes there
//! before each look. What is met is the same to the last bit.

use std::collections::BTreeMap;

use super::super::stock::{Changes, ChangesMark, Fan, StockBox, StockEnd, StockField};
use super::batch::{PieceAhead, StockBatch};
use super::stage::stands;

/// Nodes that may be copied for each look: to copy more would take longer than to look.
const NODES: usize = 400;
/// Most nodes that are copied for a batch: half a megabyte.
const MOST_NODES: usize = 64 << 10;

/// A fan for each tool, by its place among those at work.
#[derive(Debug, Default)]
pub(super) struct Fans(BTreeMap<usize, Fan>);

impl Fans {
    pub(super) fn of(&mut self, tool: usize, end: &StockEnd) -> &mut Fan {
        let fan = self.0.entry(tool);
        fan.or_insert_with(|| Fan::new(end, Fan::SAMPLES))
    }
}

/// What the looks along the last pieces of a batch need.
#[derive(Clone, Debug, Default)]
pub(super) struct Aside {
    /// The first of these pieces; beyond the last where there are none.
    first: usize,
    round: StockBox,
    /// The stock round them as it stood before the first.
    part: Option<StockField>,
    changes: Changes,
    /// Up to where changes come before each look, and up to the end of each piece at feed.
    marks: Vec<ChangesMark>,
}

impl Aside {
    /// The first of the last pieces that are left: with about so many looks, and no more stock
    /// round them than is worth to be copied. If there are none, their number.
    pub(super) fn first(
        &mut self,
        pieces: &[PieceAhead],
        wanted: usize,
        stock: &StockField,
    ) -> usize {
        self.round = StockBox::default();
        let (mut looks, mut first) = (0, pieces.len());
        for (k, ahead) in pieces.iter().enumerate().rev() {
            let more = looks + ahead.looks_ahead();
            let wider = stock.box_with(self.round, &ahead.piece, &ahead.end);
            if more > wanted || stock.nodes_in(&wider) > MOST_NODES {
                break;
            }
            (looks, self.round, first) = (more, wider, k);
        }
        if !(1..=NODES * looks).contains(&stock.nodes_in(&self.round)) {
            first = pieces.len();
        }
        self.first = first;
        first
    }

    /// The stock stands as it does before the first of them.
    pub(super) fn open(&mut self, stock: &mut StockField) {
        stock.copy(&self.round, &mut self.part);
        self.marks.clear();
        self.changes.clear();
        stock.note(Some(std::mem::take(&mut self.changes)));
    }

    /// A look is passed by, or the end of a piece.
    pub(super) fn mark(&mut self, stock: &StockField) {
        self.marks.push(stock.changed());
    }

    /// Nothing more is left.
    pub(super) fn close(&mut self, stock: &mut StockField) {
        self.changes = stock.note(None).unwrap_or_default();
    }
}

impl StockBatch {
    /// Looks along the pieces that were left.
    pub(super) fn look_aside(&mut self, fans: &mut Fans) {
        let mut aside = std::mem::take(&mut self.aside);
        let mut pieces = std::mem::take(&mut self.pieces);
        if let (Some(left), Some(part)) = (pieces.get_mut(aside.first..), &mut aside.part) {
            let mut marks = aside.marks.iter();
            let mut at = ChangesMark::default();
            let mut catch_up = |part: &mut StockField| {
                if let Some(mark) = marks.next() {
                    part.catch_up(&aside.changes, at, *mark);
                    at = *mark;
                }
            };
            for ahead in left {
                if !ahead.of.rapid {
                    let first = self.looks.len();
                    let fan = fans.of(ahead.of.tool, &ahead.end);
                    let way = ahead.way();
                    for place in ahead.piece.stations(ahead.step) {
                        catch_up(part);
                        self.meet(&place, fan.look(part, &place), way);
                    }
                    catch_up(part);
                    self.stand_round(first, ahead, part);
                }
                ahead.looks = self.looks.len();
            }
        }
        self.pieces = pieces;
        self.aside = aside;
    }

    /// How high the stock stands round the cutter along a piece that is cut, whose looks begin with
    /// one.
    pub(super) fn stand_round(&mut self, first: usize, ahead: &PieceAhead, stock: &StockField) {
        if let Some(tall) = ahead.tall {
            for look in &mut self.looks[first..] {
                look.around = stands(stock, look.at, ahead.end.radius_mm, tall);
            }
        }
    }
}
