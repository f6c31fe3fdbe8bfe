//! The front of a cutter, in cells of the field.

use super::cells::StockField;
use super::course::CourseStation;

/// The front at a station, in cells of the field.
pub(super) struct Front<'a> {
    pub(super) field: &'a StockField,
    /// The axis.
    centre: [f64; 2],
    ahead: [f64; 2],
}

impl<'a> Front<'a> {
    pub(super) fn new(field: &'a StockField, station: &CourseStation) -> Self {
        Self {
            field,
            centre: [0, 1].map(|k| (station.at[k] - field.start[k]) * field.per_mm),
            ahead: station.ahead.map(|v| v * field.per_mm),
        }
    }

    /// Height at a radius from the axis, in a direction given by its sine and cosine.
    #[inline]
    pub(super) fn seen(&self, radius: f64, way: (f64, f64)) -> f32 {
        self.look_up(radius, way).0
    }

    /// The same, and whether it is sure.
    #[inline]
    pub(super) fn look_up(&self, radius: f64, way: (f64, f64)) -> (f32, bool) {
        let (x, y) = self.place(radius, way);
        self.field.look_up(x, y)
    }

    /// The place at a radius, in a direction given by its sine and cosine.
    #[inline]
    pub(super) fn place(&self, radius: f64, (sin, cos): (f64, f64)) -> (f64, f64) {
        let [x, y] = self.ahead;
        let (s, c) = (radius * sin, radius * cos);
        let [at_x, at_y] = self.centre;
        (at_x + s * x - c * y, at_y + s * y + c * x)
    }
}
