//! Where the edges are engaged, height by height, as a front in real stock has it.

/// A band of heights and the angles at which its edges are in stock.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct EngagedBand {
    /// Its lower edge above the tip, mm.
    pub low: f64,
    /// Its upper edge, mm.
    pub high: f64,
    /// Intervals of φ in rad, in order.
    pub windows: Vec<(f64, f64)>,
}
