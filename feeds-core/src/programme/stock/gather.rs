//! From depths in the directions of a front to the spans it stands in.

use std::f64::consts::PI;

use super::cells::count;
use super::engagement::StockSpan;
use super::fan::{Fan, MOST_SPANS, TOUCH};
use super::front::Front;

/// Between two directions the depth has stepped where it changes by more than this share.
pub(super) const JUMP: f32 = 0.3;

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

    /// The spans, of directions of which those from the first to the last may be in stock.
    pub(super) fn gather(&mut self, front: &Front<'_>, foot: f32, (first, last): (usize, usize)) {
        let n = self.ways.len() - 1;
        let r = self.end.radius_mm;
        let angle = |k: usize| PI * count(k) / count(n);
        let mut open: Option<Open> = None;
        for k in first.saturating_sub(1)..(last + 1).min(n) {
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
pub(super) fn steps(a: f32, b: f32) -> bool {
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

#[cfg(test)]
mod tests;
