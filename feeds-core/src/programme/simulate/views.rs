//! The stock from above at a bounded number of places along the way, for pictures.

use super::super::setting::Bounds;
use super::super::stock::{Engagement, StockField};

/// Columns and rows of a view.
const SIZE: [usize; 2] = [96, 48];
/// Most views; of more every other is dropped.
const MOST: usize = 48;

/// The stock from above, with the cutter where it stands. Lengths in mm, angles in rad.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StockView {
    /// Way at feed up to there.
    pub way: f64,
    /// Physical line, from 1.
    pub line: u64,
    /// The tip of the cutter.
    pub at: [f64; 3],
    /// Its radius.
    pub radius: f64,
    /// Where the feed goes, from +X counter-clockwise.
    pub heading: f64,
    /// What of its front is engaged: 0 at the left of the feed, a half turn at the right.
    pub spans: Vec<[f64; 2]>,
    /// Heights, row by row from the least Y, each from the least X.
    pub heights: Vec<f32>,
}

/// The stock along the way.
#[derive(Clone, Debug, PartialEq)]
pub struct StockViews {
    /// The box they show.
    pub bounds: Bounds,
    /// Columns and rows.
    pub size: [usize; 2],
    /// The views in order; the last is the stock that is left.
    pub list: Vec<StockView>,
    every: f64,
}

impl StockViews {
    pub(super) fn new(bounds: Bounds) -> Self {
        Self {
            bounds,
            size: SIZE,
            list: Vec::new(),
            every: 0.5,
        }
    }

    /// The view at a way, or the last before it.
    pub fn at(&self, way: f64) -> Option<&StockView> {
        let after = self.list.partition_point(|view| view.way <= way);
        self.list.get(after.saturating_sub(1))
    }

    /// Whether a view is due after so much way.
    pub(super) fn due(&self, way: f64) -> bool {
        self.list
            .last()
            .is_none_or(|last| way >= last.way + self.every)
    }

    /// Takes a view of the stock.
    pub(super) fn take(&mut self, view: StockView, stock: &StockField) {
        if self.list.len() >= MOST {
            let mut keep = false;
            self.list.retain(|_| {
                keep = !keep;
                keep
            });
            self.every *= 2.0;
        }
        let mut view = view;
        view.heights = self.heights(stock);
        self.list.push(view);
    }

    /// Takes the stock that is left.
    pub(super) fn finish(&mut self, way: f64, stock: &StockField) {
        let mut last = self.list.last().cloned().unwrap_or_default();
        last.way = last.way.max(way);
        last.spans.clear();
        last.heights = self.heights(stock);
        self.list.push(last);
    }

    fn heights(&self, stock: &StockField) -> Vec<f32> {
        let [columns, rows] = self.size;
        let place = |k: usize, count: usize, axis: usize| {
            let (least, most) = (self.bounds.least[axis], self.bounds.most[axis]);
            #[expect(clippy::cast_precision_loss)] // far below 2^52
            let share = (k as f64 + 0.5) / count as f64;
            least + share * (most - least)
        };
        let each = (0..rows).flat_map(|row| (0..columns).map(move |column| (column, row)));
        let height = |(column, row)| {
            #[expect(clippy::cast_possible_truncation)] // for a picture
            let z = stock.height(place(column, columns, 0), place(row, rows, 1)) as f32;
            z
        };
        each.map(height).collect()
    }
}

impl StockView {
    pub(super) fn of(front: &Engagement) -> Vec<[f64; 2]> {
        front.spans.iter().map(|s| [s.start, s.exit]).collect()
    }
}
