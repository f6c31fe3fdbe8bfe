//! A place on the way, and how the cutter is engaged there.

use std::f64::consts::PI;

use super::super::stock::StockSpan;
use super::batch::{Met, PieceAhead};

/// Which way an edge goes through the stock.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CutSide {
    /// Nothing is cut.
    #[default]
    Air,
    /// The chip ends at nothing: climb milling.
    Down,
    /// The chip begins at nothing: conventional milling.
    Up,
    /// Both walls, or neither.
    Both,
}

/// A place on the way of the cutter. Lengths in mm, angles in rad: 0 at the left of the feed, a
/// quarter turn ahead, a half turn at the right, the spindle turning clockwise seen from above.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CutStation {
    /// Physical line, from 1.
    pub line: u64,
    /// Way from the start of its move.
    pub along: f64,
    /// The way it stands for.
    pub way: f64,
    /// The tip of the cutter, in work coordinates.
    pub at: [f64; 3],
    /// Separate stretches of the front that are engaged.
    pub spans: usize,
    /// Angle engaged in all.
    pub arc: f64,
    /// Where an edge enters and leaves the largest span.
    pub entry: f64,
    /// Where it leaves it.
    pub exit: f64,
    /// Largest depth of cut.
    pub depth: f64,
    /// The same over more width than what a wall is uncertain by: not where one is only grazed.
    pub deep: f64,
    /// Width of a straight cut of the same section and depth.
    pub width: f64,
    /// Area cut across the feed, mm².
    pub section: f64,
    /// Which way it cuts.
    pub side: CutSide,
    /// Whether the end goes down into stock.
    pub plunges: bool,
    /// Feed that the axes reach there, mm/min.
    pub feed: f64,
    /// Spindle speed, 1/min.
    pub spindle_speed: f64,
    /// Thickest chip, where the number of flutes is known.
    pub chip: Option<f64>,
    /// Largest lateral force in N, where the pass is known.
    pub force: Option<f64>,
}

/// Sections below this share of the cutter's own, D², are noise of the cells, not a cut.
const NOTHING: f64 = 1e-5;
/// A wall is no more certain than that, mm (common practice): less of it is grazed, not cut.
const GRAZED: f64 = 0.02;
/// How near an end of a span has to be to a side of the cutter for it to leave a wall there, rad.
/// Near the side a degree is less than a thousandth of the diameter (arithmetic: 1 - cos 4 deg over
/// 2 is 0.0012).
const AT_SIDE: f64 = 0.07;

impl CutStation {
    /// Whether anything is cut there.
    pub fn cuts(&self) -> bool {
        self.side != CutSide::Air || self.plunges
    }

    /// Where the cutter was looked at on a piece, and how it is engaged there.
    pub(super) fn of(ahead: &PieceAhead, met: &Met<'_>) -> Self {
        let look = met.look;
        let mut station = Self {
            line: ahead.piece.lines[1],
            along: ahead.start + look.along,
            way: look.way,
            at: look.at,
            spindle_speed: ahead.of.spindle_speed,
            plunges: look.plunges,
            ..Self::default()
        };
        let diameter = 2.0 * ahead.end.radius_mm;
        if look.section > NOTHING * diameter * diameter {
            station.engage(met, diameter);
        }
        station
    }

    /// Takes over how the cutter is engaged.
    fn engage(&mut self, met: &Met<'_>, diameter_mm: f64) {
        let (look, spans) = (met.look, met.spans);
        self.spans = spans.len();
        self.arc = met.arc();
        self.depth = look.depth;
        let across = |s: &&StockSpan| diameter_mm / 2.0 * (s.start.cos() - s.exit.cos());
        let wide = spans.iter().filter(|s| across(s) >= GRAZED);
        self.deep = if spans.is_empty() {
            look.depth
        } else {
            wide.map(|s| s.depth_mm).fold(0.0, f64::max)
        };
        self.width = look.width;
        self.section = look.section;
        let size = |s: &&StockSpan| (s.exit - s.start) * s.depth_mm;
        let largest = spans.iter().max_by(|a, b| size(a).total_cmp(&size(b)));
        if let Some(span) = largest {
            (self.entry, self.exit) = (span.start, span.exit);
        }
        let left = spans.iter().any(|s| s.start < AT_SIDE);
        let right = spans.iter().any(|s| s.exit > PI - AT_SIDE);
        self.side = match (left, right) {
            (true, false) => CutSide::Up,
            (false, true) => CutSide::Down,
            _ => CutSide::Both,
        };
    }
}
