//! The stock along a programme: what stands, what the cutter meets, what is removed.
//!
//! Expected values are closed forms of `cases/stock.json`, hand arithmetic, or an oracle without
//! cells that keeps the history of all moves (`oracle.rs`).

mod case;
mod cases;
mod convention;
mod course;
mod laws;
mod oracle;
mod random;
mod second;
mod sloped;
mod turned;

use std::f64::consts::PI;

use feeds_core::programme::{
    Bounds, CourseArc, CoursePiece, CourseStation, Engagement, Fan, StockEnd, StockField,
    StockShape,
};

/// A stock, a cutter in it, and the look of its front.
struct Bench {
    stock: StockField,
    end: StockEnd,
    fan: Fan,
}

fn flat(radius_mm: f64) -> StockEnd {
    StockEnd {
        radius_mm,
        corner_mm: 0.0,
    }
}

/// The cell an audit takes: a sixtieth of D, at most 50 µm.
fn usual_cell(end: &StockEnd) -> f64 {
    (end.radius_mm / 30.0).min(0.05)
}

impl Bench {
    fn new(end: StockEnd, least: [f64; 3], most: [f64; 3], cell: f64) -> Self {
        let block = StockShape::Block(Bounds { least, most });
        Self {
            stock: StockField::new(&block, cell, 50_000_000).unwrap(),
            fan: Fan::new(&end, Fan::SAMPLES),
            end,
        }
    }

    fn line(&mut self, from: [f64; 3], to: [f64; 3]) -> f64 {
        self.stock.remove(&CoursePiece::line(from, to), &self.end)
    }

    fn cut(&mut self, piece: &CoursePiece) -> f64 {
        self.stock.remove(piece, &self.end)
    }

    fn look(&mut self, station: &CourseStation) -> &Engagement {
        self.fan.look(&self.stock, station)
    }

    fn look_along(&mut self, at: [f64; 3], heading: f64) -> &Engagement {
        self.look(&level(at, heading))
    }
}

/// A place on a level cut.
fn level(at: [f64; 3], heading: f64) -> CourseStation {
    CourseStation {
        at,
        ahead: [heading.cos(), heading.sin()],
        slope: 0.0,
        along_mm: 0.0,
    }
}

/// An arc around a centre, from one height to another, in pieces of 15° or less.
fn arc(o: [f64; 2], rho: f64, from: f64, sweep: f64, z: [f64; 2]) -> Vec<CoursePiece> {
    let n = (sweep.abs() / (PI / 12.0) - 1e-9).ceil();
    let at = |k: f64| {
        let angle = from + sweep * k / n;
        [
            o[0] + rho * angle.cos(),
            o[1] + rho * angle.sin(),
            z[0] + (z[1] - z[0]) * k / n,
        ]
    };
    let mut k = 0.0;
    let mut pieces = Vec::new();
    while k < n {
        pieces.push(CoursePiece {
            arc: Some(CourseArc {
                centre: o,
                sweep: sweep / n,
            }),
            ..CoursePiece::line(at(k), at(k + 1.0))
        });
        k += 1.0;
    }
    pieces
}
