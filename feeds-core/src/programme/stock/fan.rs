//! What the front of the cutter meets: intervals of the half turn ahead that stand in stock.

use std::f64::consts::PI;

use super::StockEnd;
use super::cells::{StockField, count, kept};
use super::course::{CoursePiece, CourseStation};
use super::rings::{StockRing, bottom, rings};
use crate::kernel::front::EngagedBand;

/// Stock that stands no higher than this is not cut, mm.
const TOUCH: f32 = 0.002;
/// Between two directions the depth has stepped where it changes by more than this share.
const JUMP: f32 = 0.3;
/// How near a wall is beside a front, in cells: there the front just made, half a step behind, is
/// a quarter of a cell away or less.
const WALL_CELLS: f64 = 2.5;
/// Beside a wall, what stands so much higher than farther in is no even floor.
const TALLER: f32 = 1.1;
/// How often the edge of a span between two directions is halved: 2.8° to 0.01°.
const HALVINGS: usize = 8;
/// Most spans that are told apart.
const MOST_SPANS: usize = 4;

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
    foot_mm: f64,
    /// Height of the round part, mm.
    corner_mm: f64,
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
        self.put_bands(&mut bands);
        bands
    }

    /// The same behind others.
    pub(crate) fn put_bands(&self, bands: &mut Vec<EngagedBand>) {
        let rings = self.rings.iter().filter(|r| !r.windows.is_empty());
        bands.extend(rings.map(|r| {
            let windows = r.windows.iter().map(|w| [w.0, w.1]);
            EngagedBand::within(r.low_mm, r.high_mm, windows)
        }));
        let mut low = self.foot_mm.max(self.corner_mm);
        let deeper = |than: f64| {
            let depths = self.spans.iter().map(|s| s.depth_mm);
            depths.filter(|depth| *depth > than).reduce(f64::min)
        };
        let mut next = deeper(f64::NEG_INFINITY);
        while let Some(top) = next {
            let deep = self.spans.iter().filter(|s| s.depth_mm >= top);
            let windows = deep.map(|s| [s.start, s.exit]);
            bands.push(EngagedBand::within(low, self.foot_mm + top, windows));
            low = self.foot_mm + top;
            next = deeper(top);
        }
    }

    fn clear(&mut self) {
        self.spans.clear();
        self.rings.iter_mut().for_each(|r| r.windows.clear());
        (self.depth_mm, self.section_mm2) = (0.0, 0.0);
        (self.plunges, self.end_share) = (false, 0.0);
    }
}

/// Looks at the front of a cutter. Keeps what every look needs, so it allocates nothing.
#[derive(Clone, Debug)]
pub struct Fan {
    end: StockEnd,
    /// Sine and cosine of each direction, from the left to the right.
    ways: Vec<(f64, f64)>,
    /// Every second of them, for rings.
    ring_ways: Vec<(f64, f64)>,
    /// Half of one over the cosine of a half, a quarter, ... of the angle between two directions:
    /// two directions added and multiplied by it are the one between them.
    between: [f64; HALVINGS],
    places: Vec<(f64, f64)>,
    depths: Vec<f32>,
    met: Engagement,
}

/// The front at a station, in cells of the field.
pub(super) struct Front<'a> {
    pub(super) field: &'a StockField,
    /// The axis.
    centre: [f64; 2],
    ahead: [f64; 2],
}

impl<'a> Front<'a> {
    fn new(field: &'a StockField, station: &CourseStation) -> Self {
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
    fn look_up(&self, radius: f64, way: (f64, f64)) -> (f32, bool) {
        let (x, y) = self.place(radius, way);
        self.field.look_up(x, y)
    }

    /// The place at a radius, in a direction given by its sine and cosine.
    #[inline]
    fn place(&self, radius: f64, (sin, cos): (f64, f64)) -> (f64, f64) {
        let [x, y] = self.ahead;
        let (s, c) = (radius * sin, radius * cos);
        let [at_x, at_y] = self.centre;
        (at_x + s * x - c * y, at_y + s * y + c * x)
    }
}

/// A span being gathered.
struct Open {
    start: f64,
    last: f64,
    /// Depth times angle.
    sum: f64,
}

/// What lies between two directions.
enum Between {
    /// The depth changes evenly.
    Even,
    /// It steps at an angle, whose cosine is the second.
    Step(f64, f64),
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
        if self.sample(&front, foot) {
            self.gather(&front, foot);
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

    /// The depth in every direction; whether any is in stock.
    fn sample(&mut self, front: &Front<'_>, foot: f32) -> bool {
        let r = self.end.radius_mm;
        let last = self.ways.len() - 1;
        let mut guessed = false;
        self.places.clear();
        // All at once, so that the compiler takes several.
        self.places
            .extend(self.ways.iter().map(|way| front.place(r, *way)));
        for (depth, place) in self.depths.iter_mut().zip(&self.places) {
            if front.field.stands_at_most(*place) <= foot {
                *depth = 0.0;
                continue;
            }
            let (height, sure) = front.field.look_up(place.0, place.1);
            *depth = (height - foot).max(0.0);
            guessed |= !sure;
        }
        // At both sides the circle touches the wall the cutter itself makes: there the look is a
        // little ahead, where such a wall is farther off than it can seem to be.
        let cell = front.field.cell;
        let hair = 0.000_5 + cell * cell / (4.0 * r);
        let (sin, cos) = (2.0 * hair / r).sqrt().min(0.1).sin_cos();
        for (k, way) in [(0, (sin, cos)), (last, (sin, -cos))] {
            let (height, sure) = front.look_up(r, way);
            self.depths[k] = (height - foot).max(0.0);
            guessed |= !sure;
        }
        if guessed {
            self.doubt(front, (sin, cos));
        }
        self.reach_walls(front, foot, hair);
        self.depths.iter().any(|d| *d > TOUCH)
    }

    /// Beside a wall that the cutter touches, the front just made is so near that the field cannot
    /// tell its floor from the one ahead. What stands farther in then stands up to the wall.
    fn reach_walls(&mut self, front: &Front<'_>, foot: f32, hair: f64) {
        let r = self.end.radius_mm;
        let last = self.ways.len() - 1;
        let near = WALL_CELLS * front.field.cell;
        let beside = |k: usize| r * (1.0 - self.ways[k].1) < near;
        let Some(inner) = (1..=last / 2).find(|k| !beside(*k)) else {
            return;
        };
        for (first, edge, side) in [(0, inner, 0), (last - inner + 1, last - inner, last)] {
            let depth = self.depths[edge];
            if depth <= TOUCH {
                continue;
            }
            let outside = front.seen(r + 2.0 * hair, self.ways[side]) - foot;
            let walled = outside > depth * (1.0 - JUMP);
            // Stock that is higher would reach out to the side as well.
            let taller = |d: f32| d > depth * TALLER;
            let higher = taller(self.depths[side]);
            for d in &mut self.depths[first..first + inner] {
                let lower = *d < depth && steps(*d, depth);
                if lower && walled || taller(*d) && !higher {
                    *d = depth;
                }
            }
        }
    }

    /// Where a height is a guess, at the sides the next one that is sure stands for it, and between
    /// two alike what differs from both is nothing: there the front just made meets the wall.
    fn doubt(&mut self, front: &Front<'_>, side: (f64, f64)) {
        let r = self.end.radius_mm;
        let last = self.ways.len() - 1;
        let sure = |k: usize| {
            let way = match k {
                0 => side,
                k if k == last => (side.0, -side.1),
                k => self.ways[k],
            };
            front.look_up(r, way).1
        };
        if let Some(first) = (0..=last / 2).find(|k| sure(*k)) {
            let depth = self.depths[first];
            self.depths[..first].fill(depth);
        }
        if let Some(back) = (0..=last / 2).find(|k| sure(last - k)) {
            let depth = self.depths[last - back];
            self.depths[last - back..].fill(depth);
        }
        for k in 1..last {
            let [a, b, c] = [self.depths[k - 1], self.depths[k], self.depths[k + 1]];
            if steps(a, b) && steps(b, c) && !steps(a, c) && !sure(k) {
                self.depths[k] = 0.5 * (a + c);
            }
        }
    }

    /// Where the depth steps between a direction and the next.
    fn edge(&self, front: &Front<'_>, foot: f32, k: usize) -> Between {
        let r = self.end.radius_mm;
        let (a, b) = (self.depths[k], self.depths[k + 1]);
        let middle_depth = 0.5 * (a + b);
        let (mut low, mut high) = ((self.ways[k], a), (self.ways[k + 1], b));
        let mut part = PI / count(self.ways.len() - 1);
        let mut at = part * count(k);
        // Nearer than a cell, the wall is a straight line in one.
        let cell = front.field.cell / r;
        let steps = |low: f32, high: f32| (high - low).abs() >= 0.5 * (a - b).abs();
        for scale in self.between {
            if part < cell && part > 0.3 * cell && steps(low.1, high.1) {
                let ends = (front.place(r, low.0), front.place(r, high.0));
                if let Some(share) = front.field.wall_between(ends.0, ends.1) {
                    let cos = low.0.1 + share * (high.0.1 - low.0.1);
                    return Between::Step(at + share * part, cos);
                }
            }
            part *= 0.5;
            let ((s, c), (t, d)) = (low.0, high.0);
            let middle = ((s + t) * scale, (c + d) * scale);
            let depth = (front.seen(r, middle) - foot).max(0.0);
            if (depth > middle_depth) == (b > a) {
                high = (middle, depth);
            } else {
                low = (middle, depth);
                at += part;
            }
        }
        if !steps(low.1, high.1) {
            return Between::Even;
        }
        Between::Step(at + 0.5 * part, 0.5 * (low.0.1 + high.0.1))
    }

    fn gather(&mut self, front: &Front<'_>, foot: f32) {
        let n = self.ways.len() - 1;
        let r = self.end.radius_mm;
        let angle = |k: usize| PI * count(k) / count(n);
        let mut open: Option<Open> = None;
        for k in 0..n {
            let (a, b) = (self.depths[k], self.depths[k + 1]);
            if a <= TOUCH && b <= TOUCH {
                continue;
            }
            let (from, to) = (angle(k), angle(k + 1));
            self.met.depth_mm = self.met.depth_mm.max(f64::from(a.max(b)));
            let between = if steps(a, b) {
                self.edge(front, foot, k)
            } else {
                Between::Even
            };
            let (a_in, b_in) = (a > TOUCH, b > TOUCH);
            let (a, b) = (f64::from(a), f64::from(b));
            match between {
                Between::Even => {
                    let span = open.get_or_insert(Open {
                        start: from,
                        last: from,
                        sum: 0.0,
                    });
                    span.sum += 0.5 * (a + b) * (to - from);
                    span.last = to;
                    self.met.section_mm2 +=
                        0.5 * (a + b) * r * (self.ways[k].1 - self.ways[k + 1].1);
                    if !b_in {
                        close(&mut self.met.spans, open.take());
                    }
                }
                Between::Step(at, cos) => {
                    self.met.section_mm2 +=
                        a * r * (self.ways[k].1 - cos) + b * r * (cos - self.ways[k + 1].1);
                    if a_in {
                        let span = open.get_or_insert(Open {
                            start: from,
                            last: from,
                            sum: 0.0,
                        });
                        span.sum += a * (at - from);
                        span.last = at;
                    }
                    close(&mut self.met.spans, open.take());
                    if b_in {
                        open = Some(Open {
                            start: at,
                            last: to,
                            sum: b * (to - at),
                        });
                    }
                }
            }
        }
        close(&mut self.met.spans, open);
        join_nearest(&mut self.met.spans);
    }
}

/// Whether two depths differ by more than an even floor would make them.
fn steps(a: f32, b: f32) -> bool {
    (a - b).abs() > JUMP * a.max(b)
}

fn close(spans: &mut Vec<StockSpan>, open: Option<Open>) {
    if let Some(Open { start, last, sum }) = open.filter(|o| o.last - o.start > 1e-6) {
        spans.push(StockSpan {
            start,
            exit: last,
            depth_mm: sum / (last - start),
        });
    }
}

/// Of more spans than are told apart, neighbours with the least between them become one.
fn join_nearest(spans: &mut Vec<StockSpan>) {
    while spans.len() > MOST_SPANS {
        let gap = |k: usize| spans[k + 1].start - spans[k].exit;
        let least = (1..spans.len() - 1).fold(0, |m, k| if gap(k) < gap(m) { k } else { m });
        let b = spans.remove(least + 1);
        let a = &mut spans[least];
        let (wide_a, wide_b) = (a.exit - a.start, b.exit - b.start);
        a.depth_mm = (a.depth_mm * wide_a + b.depth_mm * wide_b) / (wide_a + wide_b);
        a.exit = b.exit;
    }
}

impl StockField {
    /// Carries out a piece in steps of about `step_mm`, each looked at before it is cut off. A step
    /// should be two cells or longer.
    pub fn follow(
        &mut self,
        piece: &CoursePiece,
        end: &StockEnd,
        fan: &mut Fan,
        step_mm: f64,
        mut see: impl FnMut(&CourseStation, &Engagement),
    ) {
        let steps = piece.steps(step_mm);
        let share = |k: f64| k / count(steps);
        let mut station = |field: &Self, k: usize| {
            let station = piece.station(share(count(k) + 0.5));
            see(&station, fan.look(field, &station));
        };
        // What a line has cut so far lies behind the front, unless a round end climbs.
        let climbs = end.corner_mm > 0.0 && piece.to[2] > piece.from[2];
        if piece.arc.is_none() && !climbs {
            (0..steps).for_each(|k| station(self, k));
            return self.cut_off(piece, end);
        }
        for k in 0..steps {
            station(self, k);
            let part = piece.part(share(count(k)), share(count(k + 1)));
            self.cut_off(&part, end);
        }
    }
}

/// Angle of a direction whose sine and cosine are kept.
pub(super) fn angle_of(k: usize, ways: usize) -> f64 {
    PI * count(k) / count(ways - 1)
}
