//! Looking at the front of the cutter: intervals of the half turn ahead that stand in stock.

use std::f64::consts::PI;

use super::StockEnd;
use super::cells::{StockField, count, kept};
use super::course::CourseStation;
use super::engagement::Engagement;
use super::front::Front;
use super::rings::{bottom, rings};
use super::sample::Side;

/// Stock that stands no higher than this is not cut, mm.
pub(super) const TOUCH: f32 = 0.002;
/// How often the edge of a span between two directions is halved: 2.8° to 0.01°.
pub(super) const HALVINGS: usize = 8;
/// Most spans that are told apart.
pub(super) const MOST_SPANS: usize = 4;

/// Looks at the front of a cutter. Keeps what every look needs, so it allocates nothing.
#[derive(Clone, Debug)]
pub struct Fan {
    pub(super) end: StockEnd,
    /// Sine and cosine of each direction, from the left to the right.
    pub(super) ways: Vec<(f64, f64)>,
    /// Every second of them, for rings.
    pub(super) ring_ways: Vec<(f64, f64)>,
    /// Half of one over the cosine of a half, a quarter, ... of the angle between two directions:
    /// two directions added and multiplied by it are the one between them.
    pub(super) between: [f64; HALVINGS],
    pub(super) places: Vec<(f64, f64)>,
    pub(super) depths: Vec<f32>,
    pub(super) side: Side,
    /// Directions whose depth is a guess.
    pub(super) unsure: Vec<usize>,
    pub(super) met: Engagement,
}

impl Fan {
    /// Directions that are enough: the edges of spans are then sought between them. What lies
    /// between two, stock or air, is narrower than 2.8°.
    pub const SAMPLES: usize = 64;

    /// For an end, with so many parts of the half turn.
    pub fn new(end: &StockEnd, samples: usize) -> Self {
        let samples = samples.max(2).next_multiple_of(2);
        let angle = |k: usize| PI * count(k) / count(samples);
        let mut ways: Vec<(f64, f64)> = (0..=samples).map(|k| angle(k).sin_cos()).collect();
        ways[samples] = (0.0, -1.0);
        Self {
            end: *end,
            places: Vec::with_capacity(samples + 1),
            depths: vec![0.0; samples + 1],
            side: Side::default(),
            unsure: Vec::with_capacity(samples + 1),
            ring_ways: ways.iter().copied().step_by(2).collect(),
            ways,
            between: std::array::from_fn(|k| {
                let angle = PI / count(samples) * 0.5_f64.powi(i32::try_from(k).unwrap_or(0) + 1);
                0.5 / angle.cos()
            }),
            met: Engagement {
                spans: Vec::with_capacity(2 * MOST_SPANS),
                corner_mm: end.corner_mm,
                ..Engagement::default()
            },
        }
    }

    /// What the front meets, asked before the piece is removed and half a step ahead of what has
    /// been: on the edge of what was removed everything would be noise.
    pub fn look(&mut self, field: &StockField, station: &CourseStation) -> &Engagement {
        let front = Front::new(field, station);
        let tip = station.at[2];
        self.met.clear();
        self.met.foot_mm = (f64::from(field.floor) - tip).max(0.0);
        if station.slope < 0.0 {
            self.met.end_share = bottom(&front, &self.end, tip);
            self.met.plunges = self.met.end_share > 0.0;
        }
        if station.slope.is_infinite() {
            self.met.rings.clear();
            return &self.met;
        }
        let foot = kept(tip + self.end.corner_mm).max(field.floor);
        if let Some(stands) = self.sample(&front, foot) {
            self.gather(&front, foot, stands);
        }
        if self.end.corner_mm > 0.0 {
            for span in &mut self.met.spans {
                span.depth_mm += self.end.corner_mm;
            }
            if self.met.depth_mm > 0.0 {
                self.met.depth_mm += self.end.corner_mm;
            }
            rings(&front, &self.end, tip, &self.ring_ways, &mut self.met);
        }
        &self.met
    }
}

/// Angle of a direction whose sine and cosine are kept.
pub(super) fn angle_of(k: usize, ways: usize) -> f64 {
    PI * count(k) / count(ways - 1)
}
