//! The stock as it stands while a programme is carried out, and what of it the cutter meets.
//!
//! A field of heights alone cannot say how wide a cut of a tenth of a millimetre is: at nodes
//! 50 µm apart its angle of engagement is wrong by several degrees. So beside each height stands
//! where a wall crosses the edges to the next nodes, to a few nanometres. Straight and round walls
//! then lie within h²/8R of their place, 0.2 µm at 50 µm and a radius of 1.5 mm.
//!
//! | to | use |
//! | --- | --- |
//! | keep the stock, and take away what a cutter sweeps | [`StockField`] |
//! | cut the moves of a programme into pieces | [`Course`] |
//! | see what the front of the cutter meets | [`Fan`], [`Engagement`] |
//!
//! Undercuts cannot be kept: a cutter is taken as the end of [`StockEnd`] with a straight shank.
//!
//! ```
//! use feeds_core::programme::{Bounds, CoursePiece, Fan, StockEnd, StockField, StockShape};
//!
//! let block = Bounds { least: [0.0, 0.0, -5.0], most: [30.0, 20.0, 0.0] };
//! let mut stock = StockField::new(&StockShape::Block(block), 0.05, 1_000_000).unwrap();
//! let end = StockEnd { radius_mm: 1.5, corner_mm: 0.0 };
//! let slot = CoursePiece::line([5.0, 10.0, -1.0], [25.0, 10.0, -1.0]);
//! let mut fan = Fan::new(&end, Fan::SAMPLES);
//! let met = fan.look(&stock, &slot.station(0.5));
//! assert!((met.arc().to_degrees() - 180.0).abs() < 0.1 && (met.depth_mm - 1.0).abs() < 1e-6);
//! // (2 R L + π R²) a_p = (60 + 7.0686) · 1
//! assert!((stock.remove(&slot, &end) - 67.0686).abs() < 0.01);
//! ```

mod cells;
mod changes;
mod course;
mod engagement;
mod fan;
mod follow;
mod front;
mod gather;
mod lower;
mod outline;
mod remove;
mod rings;
mod sample;
mod surface;
mod swept;
mod tops;
mod touched;
mod walled;

pub use cells::{StockField, TooFine};
pub(crate) use changes::{Changes, ChangesMark, StockBox};
pub use course::{Course, CourseArc, CoursePiece, CourseStation};
pub(crate) use engagement::put_spans;
pub use engagement::{Engagement, StockSpan};
pub use fan::Fan;
pub use rings::StockRing;

use super::setting::Bounds;

/// The end of a cutter below its straight shank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StockEnd {
    /// R in mm.
    pub radius_mm: f64,
    /// Radius of the corner in mm: 0 for a flat end, R for a ball.
    pub corner_mm: f64,
}

impl StockEnd {
    /// Radius of the flat part of the end, mm.
    fn flat(&self) -> f64 {
        self.radius_mm - self.corner_mm
    }

    /// Height above the tip at a distance from the axis, mm.
    fn lift(&self, distance: f64) -> f64 {
        let e = distance - self.flat();
        if e <= 0.0 {
            return 0.0;
        }
        let c = self.corner_mm;
        c - (c * c - e * e).max(0.0).sqrt()
    }

    /// Radius at a height above the tip, mm.
    fn radius_at(&self, height: f64) -> f64 {
        let l = height.clamp(0.0, self.corner_mm);
        self.flat() + (l * (2.0 * self.corner_mm - l)).sqrt()
    }
}

/// What the stock was before the first cut, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StockShape {
    /// A block along the axes.
    Block(Bounds),
    /// A round bar or disc that stands on its end.
    Round {
        /// Its lower end.
        least_z: f64,
        /// Its upper end.
        most_z: f64,
        /// X and Y of its axis.
        centre: [f64; 2],
        /// Its radius.
        radius_mm: f64,
    },
}

impl StockShape {
    /// The box around it.
    fn bounds(&self) -> Bounds {
        match *self {
            Self::Block(bounds) => bounds,
            Self::Round {
                least_z,
                most_z,
                centre: [x, y],
                radius_mm: r,
            } => Bounds {
                least: [x - r, y - r, least_z],
                most: [x + r, y + r, most_z],
            },
        }
    }

    /// The same, wider on every side.
    fn wider(&self, by: f64) -> Self {
        match *self {
            Self::Block(Bounds { least, most }) => Self::Block(Bounds {
                least: [least[0] - by, least[1] - by, least[2]],
                most: [most[0] + by, most[1] + by, most[2]],
            }),
            Self::Round {
                least_z,
                most_z,
                centre,
                radius_mm,
            } => Self::Round {
                least_z,
                most_z,
                centre,
                radius_mm: radius_mm + by,
            },
        }
    }

    /// From where to where a line along X at a place of Y lies within it.
    fn along_x(&self, y: f64) -> Option<(f64, f64)> {
        match self {
            Self::Block(b) => {
                (b.least[1] <= y && y <= b.most[1]).then_some((b.least[0], b.most[0]))
            }
            Self::Round {
                centre, radius_mm, ..
            } => {
                let off = y - centre[1];
                let half = radius_mm * radius_mm - off * off;
                let half = (half >= 0.0).then(|| half.sqrt())?;
                Some((centre[0] - half, centre[0] + half))
            }
        }
    }
}
