//! A plain field of heights: nodes 4 bytes each, the nearest node tells, rows of the region a move
//! sweeps are lowered. No walls between nodes, so its engagement is wrong by degrees.

pub(crate) struct Plain {
    start: [f64; 2],
    cell: f64,
    columns: usize,
    rows: usize,
    z: Vec<f32>,
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "it saturates"
)]
fn whole(v: f64) -> usize {
    v as u32 as usize
}

#[expect(clippy::cast_precision_loss, reason = "far below 2^53")]
fn count(v: usize) -> f64 {
    v as f64
}

#[expect(clippy::cast_possible_truncation, reason = "heights are kept so")]
fn kept(v: f64) -> f32 {
    v as f32
}

impl Plain {
    pub(crate) fn new(size: [f64; 3], cell: f64) -> Self {
        let [columns, rows] = [0, 1].map(|k| whole((size[k] + 0.4) / cell) + 2);
        let mut field = Self {
            start: [-0.2; 2],
            cell,
            columns,
            rows,
            z: vec![kept(-size[2]); columns * rows],
        };
        for j in 0..rows {
            for i in 0..columns {
                let p = [count(i) * cell - 0.2, count(j) * cell - 0.2];
                if (0..2).all(|k| p[k] >= 0.0 && p[k] <= size[k]) {
                    field.z[j * columns + i] = 0.0;
                }
            }
        }
        field
    }

    fn near(&self, x: f64, y: f64) -> f32 {
        let at = |k: usize, v: f64| (v - self.start[k]) / self.cell + 0.5;
        let (u, v) = (at(0, x), at(1, y));
        let (i, j) = (whole(u), whole(v));
        if u < 0.0 || v < 0.0 || i >= self.columns || j >= self.rows {
            return f32::NEG_INFINITY;
        }
        self.z[j * self.columns + i]
    }

    /// Area cut across the feed at a place.
    pub(crate) fn section(&self, at: [f64; 3], u: [f64; 2], r: f64, ways: &[(f64, f64)]) -> f64 {
        let mut sum = 0.0;
        for (sin, cos) in ways {
            let p = [
                at[0] + r * (sin * u[0] - cos * u[1]),
                at[1] + r * (sin * u[1] + cos * u[0]),
            ];
            let depth = f64::from(self.near(p[0], p[1])) - at[2];
            sum += depth.max(0.0) * r * sin;
        }
        sum * std::f64::consts::PI / count(ways.len() - 1)
    }

    /// Lowers what is within a radius of a level line.
    pub(crate) fn remove(&mut self, a: [f64; 3], b: [f64; 3], r: f64) {
        let d = [b[0] - a[0], b[1] - a[1]];
        let long = (d[0] * d[0] + d[1] * d[1]).sqrt();
        let u = [d[0] / long, d[1] / long];
        let z = kept(a[2]);
        let at = |k: usize, v: f64| (v - self.start[k]) / self.cell;
        let first = whole(at(1, a[1].min(b[1]) - r).ceil());
        let last = (whole(at(1, a[1].max(b[1]) + r).floor()) + 1).min(self.rows);
        for j in first..last {
            let y = self.start[1] + count(j) * self.cell;
            let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
            for p in [a, b] {
                let q = r * r - (y - p[1]) * (y - p[1]);
                if q >= 0.0 {
                    low = low.min(p[0] - q.sqrt());
                    high = high.max(p[0] + q.sqrt());
                }
            }
            let dy = y - a[1];
            let (mut s, mut e) = (f64::NEG_INFINITY, f64::INFINITY);
            for (k, c, least, most) in [(u[0], u[1] * dy, 0.0, long), (-u[1], u[0] * dy, -r, r)] {
                if k.abs() < 1e-12 {
                    if c < least || c > most {
                        s = f64::INFINITY;
                    }
                    continue;
                }
                let (p, q) = ((least - c) / k, (most - c) / k);
                s = s.max(p.min(q));
                e = e.min(p.max(q));
            }
            if e >= s {
                low = low.min(a[0] + s);
                high = high.max(a[0] + e);
            }
            let from = whole(at(0, low).ceil());
            let to = (whole(at(0, high).floor() + 1.0)).min(self.columns);
            if from < to {
                let row = &mut self.z[j * self.columns + from..j * self.columns + to];
                for v in row {
                    *v = v.min(z);
                }
            }
        }
    }
}
