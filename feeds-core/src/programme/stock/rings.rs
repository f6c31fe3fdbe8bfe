//! The round part of an end, ring by ring from the tip up.

use std::f64::consts::PI;

use super::StockEnd;
use super::cells::{count, kept};
use super::engagement::Engagement;
use super::fan::angle_of;
use super::front::Front;

/// Rings of the round part that is in stock.
const RINGS: usize = 8;
/// Stock that stands no higher above the round part is not cut by it, mm.
const TOUCH: f64 = 0.000_5;
/// How often the edge of a window is halved before the rest is taken as even.
const HALVINGS: u32 = 5;
/// How often the height up to which the round part is in stock is halved.
const REFINED: u32 = 5;
/// Most windows of a ring.
const MOST_WINDOWS: usize = 4;
/// Places of the bottom are looked at along so many radii of equal area, in the directions that
/// halve the eight parts of a turn: sine and cosine.
const BOTTOM: usize = 3;
const BOTTOM_WAYS: [(f64, f64); 8] = {
    const SIN: f64 = 0.382_683_432_365_089_8;
    const COS: f64 = 0.923_879_532_511_286_7;
    [
        (SIN, COS),
        (COS, SIN),
        (COS, -SIN),
        (SIN, -COS),
        (-SIN, -COS),
        (-COS, -SIN),
        (-COS, SIN),
        (-SIN, COS),
    ]
};

/// A ring of the round part of the end.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StockRing {
    /// Its lower edge above the tip, mm.
    pub low_mm: f64,
    /// Its upper edge, mm.
    pub high_mm: f64,
    /// Up to four intervals in stock at the middle of its height: rad, as of
    /// [`StockSpan`](super::StockSpan).
    pub windows: Vec<(f64, f64)>,
}

impl StockRing {
    /// Angle engaged in all, rad.
    pub fn arc(&self) -> f64 {
        self.windows.iter().map(|(start, exit)| exit - start).sum()
    }
}

/// The share of the end below which stock stands.
pub(super) fn bottom(front: &Front<'_>, end: &StockEnd, tip: f64) -> f64 {
    // A gentle ramp goes down a micrometre between two steps.
    const BELOW: f64 = 0.000_2;
    let floor = f64::from(front.field.floor);
    let mut engaged = 0;
    for i in 0..BOTTOM {
        let radius = end.radius_mm * ((count(i) + 0.5) / count(BOTTOM)).sqrt();
        let height = (tip + end.lift(radius)).max(floor) + BELOW;
        let stands = |way: &&(f64, f64)| f64::from(front.seen(radius, **way)) > height;
        engaged += BOTTOM_WAYS.iter().filter(stands).count();
    }
    count(engaged) / count(BOTTOM * BOTTOM_WAYS.len())
}

/// Looks at the rings, and adds them to what is met.
pub(super) fn rings(
    front: &Front<'_>,
    end: &StockEnd,
    tip: f64,
    ways: &[(f64, f64)],
    met: &mut Engagement,
) {
    let top = if met.spans.is_empty() {
        highest(front, end, tip, ways)
    } else {
        end.corner_mm
    };
    met.rings
        .resize_with(if top > 0.0 { RINGS } else { 0 }, StockRing::default);
    let outer = end.radius_at(top);
    let radius = |k: usize| end.flat() + (outer - end.flat()) * count(k) / count(RINGS);
    for (k, ring) in met.rings.iter_mut().enumerate() {
        (ring.low_mm, ring.high_mm) = (end.lift(radius(k)), end.lift(radius(k + 1)));
        let height = f64::midpoint(ring.low_mm, ring.high_mm);
        let q = end.radius_at(height);
        let radii = (q, end.corner_mm);
        windows(front, radii, tip + height, ways, &mut ring.windows);
        if ring.windows.is_empty() {
            continue;
        }
        let width: f64 = ring.windows.iter().map(|(a, b)| a.cos() - b.cos()).sum();
        met.section_mm2 += (ring.high_mm - ring.low_mm) * q * width;
        met.depth_mm = met.depth_mm.max(ring.high_mm);
    }
}

/// How high above the tip the round part is in stock.
fn highest(front: &Front<'_>, end: &StockEnd, tip: f64, ways: &[(f64, f64)]) -> f64 {
    let floor = f64::from(front.field.floor);
    // The most that stands above the tip at a radius.
    let stands = |radius: f64| {
        let heights = ways.iter().step_by(2).map(|way| front.seen(radius, *way));
        let most = f64::from(heights.fold(front.field.floor, f32::max));
        if most > floor { most - tip } else { 0.0 }
    };
    let (mut low, mut high) = (0.0_f64, 0.0_f64);
    for k in 1..=RINGS {
        // Denser towards the tip, where a finishing cut is.
        let share = count(k) / count(RINGS);
        let radius = end.flat() + end.corner_mm * share * share;
        let above = stands(radius).min(end.corner_mm);
        high = high.max(above);
        if above > end.lift(radius) + TOUCH {
            low = low.max(end.lift(radius));
        }
    }
    if high <= TOUCH {
        return 0.0;
    }
    // Most often all of what stands is met.
    let met = |height: f64| stands(end.radius_at(height)) > height + TOUCH;
    if met(high - 2.0 * TOUCH) {
        return high;
    }
    for _ in 0..REFINED {
        let middle = f64::midpoint(low, high);
        if met(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

/// Where a ring is in stock.
fn windows(
    front: &Front<'_>,
    (radius, round): (f64, f64),
    height: f64,
    ways: &[(f64, f64)],
    found: &mut Vec<(f64, f64)>,
) {
    found.clear();
    let floor = front.field.floor;
    // Between nodes a groove seems this much shallower.
    let cell = front.field.cell;
    let level = kept(height + cell * cell / (8.0 * round)).max(floor);
    let above = |way: (f64, f64)| front.seen(radius, way) - level;
    let mut open = None;
    let mut before = above(ways[0]);
    if before > 0.0 {
        open = Some(0.0);
    }
    for (k, way) in ways.iter().enumerate().skip(1) {
        let here = above(*way);
        if (before > 0.0) != (here > 0.0) {
            let (mut low, mut high) = (angle_of(k - 1, ways.len()), angle_of(k, ways.len()));
            let (mut at_low, mut at_high) = (before, here);
            for _ in 0..HALVINGS {
                let middle = f64::midpoint(low, high);
                let value = above(middle.sin_cos());
                if (value > 0.0) == (at_low > 0.0) {
                    (low, at_low) = (middle, value);
                } else {
                    (high, at_high) = (middle, value);
                }
            }
            let share = f64::from(at_low / (at_low - at_high));
            let edge = low + (high - low) * share;
            match open.take() {
                Some(start) => found.push((start, edge)),
                None => open = Some(edge),
            }
        }
        before = here;
    }
    if let Some(start) = open {
        found.push((start, PI));
    }
    while found.len() > MOST_WINDOWS {
        let gap = |k: usize| found[k + 1].0 - found[k].1;
        let least = (1..found.len() - 1).fold(0, |m, k| if gap(k) < gap(m) { k } else { m });
        found[least].1 = found.remove(least + 1).1;
    }
}

#[cfg(test)]
mod tests;
