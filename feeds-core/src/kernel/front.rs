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

use core::f64::consts::PI;

use super::arc::ArcTable;
use super::slices::{self, Band, GAUSS, Point, Window};
use super::turn::{Law, TurnCut};

/// Most windows of a band.
const MOST_WINDOWS: usize = 4;

/// Largest change of the lead angle within a band of a round end, rad.
const LEAD: f64 = 0.15;

/// Largest change of an end of the window within one, rad.
const SWING: f64 = 0.3;

/// Most bands between two turns of a window.
const MOST_PARTS: f64 = 4.0;

/// Nearer to the axis than this share of the radius where it was measured, a window keeps its
/// angles: there what is left of a line says nothing.
const NEAREST: f64 = 0.25;

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
        Self::within(low, high, windows.iter().copied())
    }

    /// The same with windows as they come.
    pub(crate) fn within(low: f64, high: f64, windows: impl IntoIterator<Item = [f64; 2]>) -> Self {
        let mut band = Self {
            low,
            high,
            windows: [[0.0; 2]; MOST_WINDOWS],
        };
        for (own, window) in band.windows.iter_mut().zip(windows) {
            *own = window;
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
    let ends = law.end.iter().any(|k| k.abs() > 0.0);
    for (i, ring) in rings.iter().enumerate() {
        let below = |i: usize| {
            let below = rings.get(i.checked_sub(1)?)?;
            below.goes_on(&rings[i]).then_some(below)
        };
        let above = |i: usize| {
            let above = rings.get(i + 1)?;
            rings[i].goes_on(above).then_some(above)
        };
        let below = [below(i), below(i).and_then(|_| below(i - 1))];
        let above = [above(i), above(i).and_then(|_| above(i + 1))];
        let ends = ends && i == 0 && ring.low < ALIKE;
        for (j, &[start, end]) in ring.windows.iter().enumerate() {
            if ring.high > round {
                let window = Window { start, end };
                if ends {
                    bands.push(slices::end_band(of, window));
                }
                bands.push(slices::shank_band(of, (ring.low, ring.high), window));
                continue;
            }
            let node = |ring: &Ring| Node {
                radius: ring.radius,
                ends: ring.windows[j],
            };
            let beyond = [below, above].map(|rings| rings.map(|ring| ring.map(node)));
            let course = Course::new(node(ring), beyond[0], beyond[1]);
            if ends {
                bands.push(slices::end_band(of, course.at(0.5 * cut.d - round)));
            }
            let first = bands.len();
            curved(of, round, ring, &course, &mut bands);
            if let Some(band) = bands.get_mut(first) {
                band.outer |= below[0].is_none();
            }
            if let Some(band) = bands.last_mut() {
                band.outer |= above[0].is_none();
            }
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
        let near = |height: f64| (height - round).abs() < ALIKE;
        let [low, high] = [band.low, band.high].map(|h| if near(h) { round } else { h });
        let split = round.max(low).min(high);
        add(low, split);
        add(split, high);
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

/// A straight line across the feed: the place at a radius, and its rise with it.
#[derive(Clone, Copy)]
struct Line {
    from: f64,
    across: f64,
    rise: f64,
}

impl Line {
    /// Through an end of two windows.
    fn through(a: Node, b: Node, end: usize) -> Self {
        let [from, to] = [a, b].map(|node| node.radius * node.ends[end].cos());
        Self {
            from: a.radius,
            across: from,
            rise: (to - from) / (b.radius - a.radius),
        }
    }

    fn at(&self, radius: f64) -> f64 {
        self.across + self.rise * (radius - self.from)
    }

    /// The radius at which it meets a wall, at plus or minus it.
    fn meets(&self, wall: f64) -> f64 {
        (self.rise * self.from - self.across) / (self.rise - wall)
    }
}

/// What is below and above a window, nearest first.
type Beyond = [Option<Node>; 2];

/// How a window changes up the edge.
struct Course {
    here: Node,
    /// The lines of each end, below the middle of the ring and above it; none where it stays.
    lines: [[Option<Line>; 2]; 2],
}

impl Course {
    fn new(here: Node, below: Beyond, above: Beyond) -> Self {
        let lines = [0, 1].map(|end| {
            let lines = [(below, above), (above, below)].map(|(near, far)| {
                near[0].and_then(|other| line(here, (other, near[1]), far, end))
            });
            // Beyond the last ring it goes on as between the last two.
            [
                if below[0].is_some() {
                    lines[0]
                } else {
                    lines[1]
                },
                if above[0].is_some() {
                    lines[1]
                } else {
                    lines[0]
                },
            ]
        });
        Self { here, lines }
    }

    /// The window at a radius.
    fn at(&self, radius: f64) -> Window {
        let half = usize::from(radius >= self.here.radius);
        let radius = radius.max(NEAREST * self.here.radius);
        let [start, end] = [0, 1].map(|end| {
            self.lines[end][half].map_or(self.here.ends[end], |line| {
                let cos = line.at(radius) / radius;
                cos.clamp(-1.0, 1.0).acos()
            })
        });
        let middle = 0.5 * (start + end);
        Window {
            start: start.min(middle),
            end: end.max(middle),
        }
    }

    /// The radii at which an end of the window comes to a wall or leaves it.
    fn turns(&self) -> impl Iterator<Item = f64> + '_ {
        self.lines.iter().flat_map(|lines| {
            lines.iter().enumerate().flat_map(|(half, line)| {
                let turns = line.map_or([f64::NAN; 2], |line| [1.0, -1.0].map(|w| line.meets(w)));
                let here = self.here.radius;
                turns
                    .into_iter()
                    .filter(move |r| half == usize::from(*r >= here))
            })
        })
    }
}

/// The line of an end between a window and the next; none where it stays.
fn line(here: Node, (other, next): (Node, Option<Node>), far: Beyond, end: usize) -> Option<Line> {
    if (other.ends[end] - here.ends[end]).abs() < ALIKE {
        return None;
    }
    off_wall(other, here, far[0], end)
        .or_else(|| off_wall(here, other, next, end))
        .or(Some(Line::through(here, other, end)))
}

/// The line of an end that is at a wall in one window, and has left it in the next: through the one
/// after that, if there is one. Else it is that of stock left by this cutter where the other end
/// stays at its wall, and of a wall along the feed where it does not. None where the first window
/// does not bear it out.
fn off_wall(wall: Node, next: Node, after: Option<Node>, end: usize) -> Option<Line> {
    let angle = wall.ends[end];
    let side = if angle < ALIKE {
        1.0
    } else if angle > PI - ALIKE {
        -1.0
    } else {
        return None;
    };
    let line = after.map_or_else(
        || {
            let stays = (wall.ends[1 - end] - next.ends[1 - end]).abs() < ALIKE;
            Line {
                from: next.radius,
                across: next.radius * next.ends[end].cos(),
                rise: if stays { -side } else { 0.0 },
            }
        },
        |after| Line::through(next, after, end),
    );
    (line.at(wall.radius) * side >= wall.radius).then_some(line)
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
    let inner = 0.5 * of.1.d - round;
    let (low, high) = (kappa(ring.low), kappa(ring.high));
    let turns = course
        .turns()
        .map(|radius| ((radius - inner) / round).asin());
    let turns: Vec<f64> = turns.filter(|k| *k > low && *k < high).collect();
    let mut cuts = turns.clone();
    cuts.extend([low, high]);
    cuts.sort_by(f64::total_cmp);
    cuts.dedup_by(|a, b| *a - *b < ALIKE);
    for ends in cuts.windows(2) {
        let [from, to] = [ends[0], ends[1]].map(|k| course.at(inner + round * k.sin()));
        let swing = (to.start - from.start).abs().max((to.end - from.end).abs());
        let count = (ends[1] - ends[0]) / LEAD;
        let count = count.max(swing / SWING).ceil().clamp(1.0, MOST_PARTS);
        // Finer towards a turn, where the window changes fastest.
        let [after, before] = [ends[0], ends[1]].map(|end| turns.contains(&end));
        let share = |x: f64| match (after, before) {
            (true, false) => x * x,
            (false, true) => x * (2.0 - x),
            _ => x,
        };
        let mut k = 0.0;
        while k < count {
            let kappa = |k: f64| ends[0] + (ends[1] - ends[0]) * share(k / count);
            let (from, to) = (kappa(k), kappa(k + 1.0));
            let at = |(x, w)| Point::on_round(of.1, round, from + x * (to - from), w);
            let [low, high] = [from, to].map(|kappa| round * (1.0 - kappa.cos()));
            let radii = [0.0, 1.0].map(|x| at((x, 0.0)).radius);
            let points = (&GAUSS.map(at)[..], |radius| course.at(radius));
            bands.push(slices::band(
                of,
                (low, high),
                radii,
                round * (to - from),
                points,
            ));
            k += 1.0;
        }
    }
}
