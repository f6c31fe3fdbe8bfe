//! What the cutter meets at a station.

use super::rings::StockRing;
use crate::kernel::front::EngagedBand;

/// An interval of the front in stock, at full radius.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct StockSpan {
    /// Where an edge of a clockwise spindle comes in: rad, 0 on the left of the feed, π/2 ahead, π
    /// on its right.
    pub start: f64,
    /// Where it goes out.
    pub exit: f64,
    /// How deep it stands in stock, from the tip up, in mm.
    pub depth_mm: f64,
}

/// What the cutter meets at a station.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Engagement {
    /// Up to four intervals at full radius, in order.
    pub spans: Vec<StockSpan>,
    /// The round part of the end, from the tip up; none of a flat end.
    pub rings: Vec<StockRing>,
    /// How high the stock is cut at most, mm.
    pub depth_mm: f64,
    /// Area cut across the feed, mm².
    pub section_mm2: f64,
    /// Whether the bottom is engaged going down.
    pub plunges: bool,
    /// The share of the end that is, by area.
    pub end_share: f64,
    /// How far below the floor of the stock the tip is, mm.
    pub(super) foot_mm: f64,
    /// Height of the round part, mm.
    pub(super) corner_mm: f64,
}

impl Engagement {
    /// Angle engaged in all, rad: at full radius, or, where only the round part of the end cuts,
    /// of its widest ring.
    pub fn arc(&self) -> f64 {
        if self.spans.is_empty() {
            return self.rings.iter().map(StockRing::arc).fold(0.0, f64::max);
        }
        self.spans.iter().map(|s| s.exit - s.start).sum()
    }

    /// The width a_e of a plain cut with this section and depth, mm.
    pub fn radial_width_mm(&self) -> f64 {
        if self.depth_mm > 0.0 {
            self.section_mm2 / self.depth_mm
        } else {
            0.0
        }
    }

    /// Where the edges are engaged at each height, from the tip up.
    pub fn bands(&self) -> Vec<EngagedBand> {
        let mut bands = Vec::new();
        self.put_rings(&mut bands);
        put_spans(&self.spans, self.feet_mm(), &mut bands);
        bands
    }

    /// The rings as bands, behind others.
    pub(crate) fn put_rings(&self, bands: &mut Vec<EngagedBand>) {
        let rings = self.rings.iter().filter(|r| !r.windows.is_empty());
        bands.extend(rings.map(|r| {
            let windows = r.windows.iter().map(|w| [w.0, w.1]);
            EngagedBand::within(r.low_mm, r.high_mm, windows)
        }));
    }

    /// Where depths begin and where spans do, above the tip, mm: at the floor of the stock, and
    /// above the round part.
    pub(crate) fn feet_mm(&self) -> [f64; 2] {
        [self.foot_mm, self.foot_mm.max(self.corner_mm)]
    }

    pub(super) fn clear(&mut self) {
        self.spans.clear();
        self.rings.iter_mut().for_each(|r| r.windows.clear());
        (self.depth_mm, self.section_mm2) = (0.0, 0.0);
        (self.plunges, self.end_share) = (false, 0.0);
    }
}

/// Spans as bands, behind others: where depths begin, and where the lowest band does, mm.
pub(crate) fn put_spans(spans: &[StockSpan], [foot, low]: [f64; 2], bands: &mut Vec<EngagedBand>) {
    let mut low = low;
    let deeper = |than: f64| {
        let depths = spans.iter().map(|s| s.depth_mm);
        depths.filter(|depth| *depth > than).reduce(f64::min)
    };
    let mut next = deeper(f64::NEG_INFINITY);
    while let Some(top) = next {
        let deep = spans.iter().filter(|s| s.depth_mm >= top);
        let windows = deep.map(|s| [s.start, s.exit]);
        bands.push(EngagedBand::within(low, foot + top, windows));
        low = foot + top;
        next = deeper(top);
    }
}

#[cfg(test)]
mod tests;
