//! Engagement from the history of moves, without cells: flat end, all cuts at one depth.
//!
//! A point of the front is stock where it lies in the block and in no region an earlier piece
//! swept. The front crosses the edges of these regions (lines and circles) at angles of closed
//! form; between two such angles one point tells for all.

use feeds_core::programme::CoursePiece;
use std::f64::consts::{PI, TAU};

/// A block seen from above, and what was swept in it.
pub(super) struct History {
    pub(super) least: [f64; 2],
    pub(super) most: [f64; 2],
    pub(super) r: f64,
    pub(super) swept: Vec<CoursePiece>,
}

fn xy(p: [f64; 3]) -> [f64; 2] {
    [p[0], p[1]]
}

fn sub(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [a[0] - b[0], a[1] - b[1]]
}

fn dot(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

fn norm(a: [f64; 2]) -> f64 {
    dot(a, a).sqrt()
}

/// Distance of a place from the axis' way.
fn distance(piece: &CoursePiece, p: [f64; 2]) -> f64 {
    let (a, b) = (xy(piece.from), xy(piece.to));
    let ends = norm(sub(p, a)).min(norm(sub(p, b)));
    if let Some(arc) = piece.arc {
        let (v, start) = (sub(p, arc.centre), sub(a, arc.centre));
        let turned = (v[1].atan2(v[0]) - start[1].atan2(start[0])) * arc.sweep.signum();
        return if turned.rem_euclid(TAU) <= arc.sweep.abs() {
            (norm(v) - norm(start)).abs()
        } else {
            ends
        };
    }
    let d = sub(b, a);
    let t = dot(sub(p, a), d) / dot(d, d);
    if (0.0..=1.0).contains(&t) {
        norm(sub(p, [a[0] + t * d[0], a[1] + t * d[1]]))
    } else {
        ends
    }
}

/// Angles of the front at which it crosses lines and circles.
struct Cuts {
    c: [f64; 2],
    r: f64,
    left: f64,
    list: Vec<f64>,
}

impl Cuts {
    fn add(&mut self, world: f64) {
        let phi = (self.left - world).rem_euclid(TAU);
        if phi < PI {
            self.list.push(phi);
        }
    }

    /// The line n·p = off.
    fn line(&mut self, n: [f64; 2], off: f64) {
        let d = (off - dot(n, self.c)) / self.r;
        if d.abs() < 1.0 {
            let way = n[1].atan2(n[0]);
            self.add(way + d.acos());
            self.add(way - d.acos());
        }
    }

    fn circle(&mut self, o: [f64; 2], radius: f64) {
        let v = sub(o, self.c);
        let d = norm(v);
        if d < 1e-12 {
            return;
        }
        let k = (d * d + self.r * self.r - radius * radius) / (2.0 * d * self.r);
        if k.abs() < 1.0 {
            let way = v[1].atan2(v[0]);
            self.add(way + k.acos());
            self.add(way - k.acos());
        }
    }
}

impl History {
    /// Intervals of the front in stock, rad.
    pub(super) fn front(&self, c: [f64; 2], heading: f64) -> Vec<(f64, f64)> {
        let r = self.r;
        let left = heading + PI / 2.0;
        let mut cuts = Cuts {
            c,
            r,
            left,
            list: vec![0.0, PI],
        };
        for (n, least, most) in [
            ([1.0, 0.0], self.least[0], self.most[0]),
            ([0.0, 1.0], self.least[1], self.most[1]),
        ] {
            cuts.line(n, least);
            cuts.line(n, most);
        }
        let near: Vec<&CoursePiece> = self
            .swept
            .iter()
            .filter(|p| distance(p, c) < 2.0 * r + 1e-9)
            .collect();
        for piece in &near {
            let (a, b) = (xy(piece.from), xy(piece.to));
            cuts.circle(a, r);
            cuts.circle(b, r);
            if let Some(arc) = piece.arc {
                let rho = norm(sub(a, arc.centre));
                cuts.circle(arc.centre, rho + r);
                cuts.circle(arc.centre, (rho - r).abs());
            } else {
                let d = sub(b, a);
                let n = [-d[1] / norm(d), d[0] / norm(d)];
                cuts.line(n, dot(n, a) + r);
                cuts.line(n, dot(n, a) - r);
            }
        }
        cuts.list.sort_by(f64::total_cmp);
        let mut spans: Vec<(f64, f64)> = Vec::new();
        for w in cuts.list.windows(2) {
            if w[1] - w[0] < 1e-9 {
                continue;
            }
            // Off the middle, where tangents meet by design.
            let world = left - (w[0] + 0.4321 * (w[1] - w[0]));
            let p = [c[0] + r * world.cos(), c[1] + r * world.sin()];
            let inside = (0..2).all(|k| p[k] > self.least[k] && p[k] < self.most[k]);
            if inside && near.iter().all(|piece| distance(piece, p) >= r) {
                match spans.last_mut() {
                    Some(last) if (last.1 - w[0]).abs() < 1e-9 => last.1 = w[1],
                    _ => spans.push((w[0], w[1])),
                }
            }
        }
        spans
    }
}

/// By hand: a slot of R 2 along X, then a pass 0.5 beside it on the left: up to acos(1 - 0.5/2),
/// 41.41°.
#[test]
fn the_oracle_knows_a_plain_cut() {
    let line = |y: f64, to: f64| CoursePiece::line([-9.0, y, 0.0], [to, y, 0.0]);
    let history = History {
        least: [-20.0, -20.0],
        most: [20.0, 20.0],
        r: 2.0,
        swept: vec![line(0.0, 9.0), line(0.5, -0.05)],
    };
    let [(start, exit)] = history.front([0.0, 0.5], 0.0)[..] else {
        panic!("one span");
    };
    assert!(start == 0.0 && (exit.to_degrees() - 41.4096).abs() < 1e-3);
}
