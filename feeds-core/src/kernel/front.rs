//! An engagement that something outside measured, in bands from the tip up.
//!
//! A field of stock tells at a few heights between which angles each edge is in the work. On a
//! square end a window holds over the whole height of its band. On a round end it holds in the
//! middle of its ring, and between the middles of two rings the place where the edge enters or
//! leaves moves across the feed in a straight line with the radius,
//!
//! ```text
//! r cos φ = linear in r
//! ```
//!
//! so that a wall along the feed, and stock left by the same cutter, are met exactly from a few
//! rings; see [`Turn::engaged`](super::turn::Turn::engaged).

use super::arc::ArcTable;
use super::slices::{self, Band, GAUSS, Point, Window};
use super::turn::{Law, TurnCut};

/// Most windows of a band.
pub const MOST_WINDOWS: usize = 4;

/// Largest change of the lead angle within a band of a round end, rad.
const LEAD: f64 = 0.3;

/// Windows that differ by less, rad, are alike; heights that differ by less, mm, meet.
const ALIKE: f64 = 1e-9;

/// Between two heights, the angles at which an edge is in the work.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EngagedBand {
    /// Lower end above the tip, mm.
    pub low: f64,
    /// Upper end above the tip, mm.
    pub high: f64,
    /// Engaged angles from start to end, rad, within 0 ..= π and in their order; one whose end is
    /// not beyond its start is none.
    pub windows: [[f64; 2]; MOST_WINDOWS],
}

impl EngagedBand {
    /// A band with its windows; more than there is room for are left out.
    pub fn new(low: f64, high: f64, windows: &[[f64; 2]]) -> Self {
        let mut band = Self {
            low,
            high,
            windows: [[0.0; 2]; MOST_WINDOWS],
        };
        for (own, window) in band.windows.iter_mut().zip(windows) {
            *own = *window;
        }
        band
    }

    /// The windows that are engaged.
    pub fn open(&self) -> impl Iterator<Item = [f64; 2]> + '_ {
        self.windows.iter().copied().filter(|[from, to]| to > from)
    }
}

/// A band with the radius at which its windows were measured.
struct Ring {
    low: f64,
    high: f64,
    radius: f64,
    windows: Vec<[f64; 2]>,
}

impl Ring {
    /// Whether the windows of the ring above go on from these.
    fn goes_on(&self, above: &Self) -> bool {
        (self.high - above.low).abs() < ALIKE && self.windows.len() == above.windows.len()
    }
}

/// All bands of a cut, from the tip up.
pub(super) fn bands(of: (&ArcTable, &TurnCut, &Law), met: &[EngagedBand]) -> Vec<Band> {
    let (_, cut, law) = of;
    let round = cut.r_e.min(0.5 * cut.d).max(0.0);
    let rings = rings(cut, round, met);
    let mut bands = Vec::with_capacity(2 * rings.len());
    if law.end.iter().any(|k| k.abs() > 0.0) {
        let tip = rings.first().filter(|ring| ring.low < ALIKE);
        let windows = tip.into_iter().flat_map(|ring| &ring.windows);
        bands.extend(windows.map(|&[start, end]| slices::end_band(of, Window { start, end })));
    }
    for (i, ring) in rings.iter().enumerate() {
        let below = i.checked_sub(1).map(|i| &rings[i]);
        let below = below.filter(|below| below.goes_on(ring));
        let above = rings.get(i + 1).filter(|above| ring.goes_on(above));
        for (j, &[start, end]) in ring.windows.iter().enumerate() {
            if ring.high > round {
                let window = Window { start, end };
                bands.push(slices::shank_band(of, (ring.low, ring.high), window));
                continue;
            }
            let node = |ring: &Ring| Node {
                radius: ring.radius,
                ends: ring.windows[j],
            };
            let course = Course {
                here: node(ring),
                below: below.map(node),
                above: above.map(node),
            };
            let first = bands.len();
            curved(of, round, ring, &course, &mut bands);
            let last = bands.len() - 1;
            bands[first].outer |= below.is_none();
            bands[last].outer |= above.is_none();
        }
    }
    bands
}

/// The bands as rings, cut where the round part of the end begins and ends.
fn rings(cut: &TurnCut, round: f64, met: &[EngagedBand]) -> Vec<Ring> {
    let mut rings = Vec::with_capacity(met.len() + 1);
    for band in met {
        let mut add = |low: f64, high: f64| {
            if high - low < ALIKE {
                return;
            }
            let radius = if high > round {
                0.5 * cut.d
            } else {
                0.5 * cut.d - round + across(round, 0.5 * (low + high))
            };
            rings.push(Ring {
                low,
                high,
                radius,
                windows: band.open().collect(),
            });
        };
        let split = if band.high - round < ALIKE {
            band.high.min(round)
        } else {
            round.max(band.low).min(band.high)
        };
        add(band.low, split);
        add(split, band.high);
    }
    rings
}

/// How far a round end has widened at a height.
fn across(round: f64, height: f64) -> f64 {
    (height * (2.0 * round - height)).max(0.0).sqrt()
}

/// Where a window was measured.
#[derive(Clone, Copy)]
struct Node {
    radius: f64,
    ends: [f64; 2],
}

/// How a window changes up the edge.
struct Course {
    here: Node,
    below: Option<Node>,
    above: Option<Node>,
}

impl Course {
    /// The window at a radius; beyond the last ring it goes on as between the last two.
    fn at(&self, radius: f64) -> Window {
        let here = self.here;
        let other = if radius < here.radius {
            self.below.or(self.above)
        } else {
            self.above.or(self.below)
        };
        let end = |i: usize| {
            let Some(other) = other.filter(|o| (o.ends[i] - here.ends[i]).abs() > ALIKE) else {
                return here.ends[i];
            };
            let across = |node: Node| node.radius * node.ends[i].cos();
            let share = (radius - here.radius) / (other.radius - here.radius);
            let y = across(here) + share * (across(other) - across(here));
            (y / radius.max(ALIKE)).clamp(-1.0, 1.0).acos()
        };
        let (start, end) = (end(0), end(1));
        if end < start {
            let middle = 0.5 * (start + end);
            return Window {
                start: middle,
                end: middle,
            };
        }
        Window { start, end }
    }
}

/// Adds one window of a ring on the round part of the end.
fn curved(
    of: (&ArcTable, &TurnCut, &Law),
    round: f64,
    ring: &Ring,
    course: &Course,
    bands: &mut Vec<Band>,
) {
    let kappa = |height: f64| (1.0 - height / round).clamp(-1.0, 1.0).acos();
    let (low, high) = (kappa(ring.low), kappa(ring.high));
    let count = ((high - low) / LEAD).ceil().max(1.0);
    let mut k = 0.0;
    while k < count {
        let [from, to] = [k, k + 1.0].map(|k| low + (high - low) * (k / count));
        let at = |(x, w)| Point::on_round(of.1, round, from + x * (to - from), w);
        let heights = [from, to].map(|kappa| round * (1.0 - kappa.cos()));
        let radii = [at((0.0, 0.0)).radius, at((1.0, 0.0)).radius];
        let points = GAUSS.map(at);
        bands.push(slices::band(
            of,
            (heights[0], heights[1]),
            radii,
            round * (to - from),
            (&points, |radius| course.at(radius)),
        ));
        k += 1.0;
    }
}
