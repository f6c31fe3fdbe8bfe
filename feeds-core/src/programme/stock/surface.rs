//! The surface a cutter leaves behind along a piece, in closed form where there is one.

use std::f64::consts::TAU;

use super::StockEnd;
use super::course::CoursePiece;

/// Heights left within the region a piece sweeps.
pub(super) trait Surface {
    /// Whether all of it is at one height.
    const LEVEL: bool;
    /// Height left at a place of the region, mm.
    fn at(&self, x: f64, y: f64) -> f64;
    /// No place lies lower.
    fn lowest(&self) -> f64;
    /// A bound that costs little: the place does not lie lower.
    fn at_least(&self, _: f64, _: f64) -> f64 {
        self.lowest()
    }
    /// Height at the full radius beside a place: the foot of a wall.
    fn rim(&self, x: f64, y: f64) -> f64 {
        self.at(x, y)
    }
}

/// A flat end at one height, or straight down.
pub(super) struct Level(pub(super) f64);

impl Surface for Level {
    const LEVEL: bool = true;

    #[inline]
    fn at(&self, _: f64, _: f64) -> f64 {
        self.0
    }

    fn lowest(&self) -> f64 {
        self.0
    }
}

/// A line with its slope.
#[derive(Clone, Copy)]
struct Line {
    a: [f64; 2],
    u: [f64; 2],
    len: f64,
    z: f64,
    slope: f64,
}

impl Line {
    fn of(piece: &CoursePiece) -> Self {
        let d = [0, 1].map(|k| piece.to[k] - piece.from[k]);
        let len = (d[0] * d[0] + d[1] * d[1]).sqrt();
        Self {
            a: [piece.from[0], piece.from[1]],
            u: d.map(|v| v / len),
            len,
            z: piece.from[2],
            slope: (piece.to[2] - piece.from[2]) / len,
        }
    }

    /// Way along it, and off it, of a place.
    #[inline]
    fn beside(&self, x: f64, y: f64) -> (f64, f64) {
        let d = [x - self.a[0], y - self.a[1]];
        (
            d[0] * self.u[0] + d[1] * self.u[1],
            d[0] * self.u[1] - d[1] * self.u[0],
        )
    }

    fn tip(&self, along: f64) -> f64 {
        self.z + self.slope * along.clamp(0.0, self.len)
    }

    fn lowest(&self) -> f64 {
        self.z.min(self.tip(self.len))
    }
}

/// A flat end along a ramp: a place keeps the height at which the end left it, or, going up, met
/// it.
pub(super) struct Ramp {
    line: Line,
    r2: f64,
}

impl Ramp {
    pub(super) fn of(piece: &CoursePiece, r: f64) -> Self {
        Self {
            line: Line::of(piece),
            r2: r * r,
        }
    }
}

impl Surface for Ramp {
    const LEVEL: bool = false;

    #[inline]
    fn at(&self, x: f64, y: f64) -> f64 {
        let (along, off) = self.line.beside(x, y);
        let half = (self.r2 - off * off).max(0.0).sqrt();
        self.line.tip(along - half * self.line.slope.signum())
    }

    fn lowest(&self) -> f64 {
        self.line.lowest()
    }
}

/// A flat end along a helix: the same by the angle at which the end leaves a place.
pub(super) struct Helix {
    o: [f64; 2],
    rho: f64,
    r: f64,
    /// Direction of the start from the centre, and sense of the sweep.
    first: f64,
    sense: f64,
    sweep: f64,
    z: [f64; 2],
    /// Where the height is lowest.
    foot: [f64; 2],
}

impl Helix {
    pub(super) fn of(piece: &CoursePiece, centre: [f64; 2], sweep: f64, r: f64) -> Self {
        let z = [piece.from[2], piece.to[2]];
        let low = if z[1] < z[0] { piece.to } else { piece.from };
        Self {
            o: centre,
            rho: piece.rho(),
            r,
            first: (piece.from[1] - centre[1]).atan2(piece.from[0] - centre[0]),
            sense: sweep.signum(),
            sweep: sweep.abs(),
            z,
            foot: [low[0], low[1]],
        }
    }
}

impl Surface for Helix {
    const LEVEL: bool = false;

    #[inline]
    fn at(&self, x: f64, y: f64) -> f64 {
        let d = [x - self.foot[0], y - self.foot[1]];
        if d[0] * d[0] + d[1] * d[1] <= self.r * self.r {
            return self.lowest();
        }
        let v = [x - self.o[0], y - self.o[1]];
        let far = (v[0] * v[0] + v[1] * v[1]).sqrt();
        // The end covers the place while its axis is within this angle of it.
        let k = (self.rho * self.rho + far * far - self.r * self.r) / (2.0 * self.rho * far);
        let around = k.clamp(-1.0, 1.0).acos();
        let middle = (v[1].atan2(v[0]) - self.first) * self.sense;
        let down = self.z[1] < self.z[0];
        let mut best: Option<f64> = None;
        for turn in [-TAU, 0.0, TAU] {
            let (from, to) = (middle + turn - around, middle + turn + around);
            if to >= 0.0 && from <= self.sweep {
                let angle = if down {
                    to.min(self.sweep)
                } else {
                    from.max(0.0)
                };
                best = Some(match best {
                    Some(b) if down => b.max(angle),
                    Some(b) => b.min(angle),
                    None => angle,
                });
            }
        }
        // A hair outside: where the place is nearest.
        let nearest = || {
            let to_start = (middle.rem_euclid(TAU)).min(TAU - middle.rem_euclid(TAU));
            let end = (middle - self.sweep).rem_euclid(TAU);
            if to_start < end.min(TAU - end) {
                0.0
            } else {
                self.sweep
            }
        };
        let share = best.unwrap_or_else(nearest) / self.sweep;
        self.z[0] + (self.z[1] - self.z[0]) * share
    }

    fn lowest(&self) -> f64 {
        self.z[0].min(self.z[1])
    }
}

/// A round end along a line.
pub(super) struct RoundLine {
    line: Line,
    end: StockEnd,
    /// Sine of the slope.
    tilt: f64,
}

impl RoundLine {
    pub(super) fn of(piece: &CoursePiece, end: &StockEnd) -> Self {
        let mut line = Line::of(piece);
        if line.len == 0.0 {
            line = Line {
                u: [1.0, 0.0],
                z: piece.from[2].min(piece.to[2]),
                slope: 0.0,
                ..line
            };
        }
        Self {
            tilt: line.slope / (1.0 + line.slope * line.slope).sqrt(),
            line,
            end: *end,
        }
    }

    /// Where along the line the end is lowest over a place: the height is convex along it.
    fn lowest_over(&self, along: f64, off2: f64) -> f64 {
        let (r, flat, c) = (self.end.radius_mm, self.end.flat(), self.end.corner_mm);
        if flat == 0.0 {
            let half = (r * r - off2).max(0.0).sqrt();
            return along - self.tilt * half;
        }
        let slope = self.line.slope;
        let half = (r * r - off2).max(0.0).sqrt();
        let (mut low, mut high) = (along - half, along + half);
        // To a thousandth of the radius: at the lowest place that is nothing in height.
        for _ in 0..10 {
            let middle = f64::midpoint(low, high);
            let d = middle - along;
            let far = (off2 + d * d).sqrt();
            let e = far - flat;
            let rises = if e > 0.0 {
                slope + e / (c * c - e * e).max(1e-12).sqrt() * d / far
            } else {
                slope
            };
            if rises > 0.0 {
                high = middle;
            } else {
                low = middle;
            }
        }
        f64::midpoint(low, high)
    }
}

impl Surface for RoundLine {
    const LEVEL: bool = false;

    #[inline]
    fn at(&self, x: f64, y: f64) -> f64 {
        let (along, off) = self.line.beside(x, y);
        let off2 = off * off;
        let s = if self.line.slope == 0.0 {
            along
        } else {
            self.lowest_over(along, off2)
        };
        let s = s.clamp(0.0, self.line.len);
        let far = (off2 + (along - s) * (along - s)).sqrt();
        if far <= self.end.radius_mm {
            self.line.z + self.line.slope * s + self.end.lift(far)
        } else {
            self.rim(x, y)
        }
    }

    fn lowest(&self) -> f64 {
        self.line.lowest()
    }

    #[inline]
    fn at_least(&self, x: f64, y: f64) -> f64 {
        self.lowest() + self.end.lift(self.line.beside(x, y).1.abs())
    }

    fn rim(&self, x: f64, y: f64) -> f64 {
        self.line.tip(self.line.beside(x, y).0) + self.end.corner_mm
    }
}

/// A round end along a level arc.
pub(super) struct RoundArc {
    o: [f64; 2],
    rho: f64,
    ends: [[f64; 2]; 2],
    sides: [[f64; 2]; 2],
    z: f64,
    end: StockEnd,
}

impl RoundArc {
    pub(super) fn of(piece: &CoursePiece, o: [f64; 2], sweep: f64, end: &StockEnd) -> Self {
        let ends = [piece.from, piece.to].map(|p| [p[0], p[1]]);
        let [a, b] = ends.map(|p| [p[0] - o[0], p[1] - o[1]]);
        Self {
            o,
            rho: piece.rho(),
            ends,
            sides: if sweep > 0.0 { [a, b] } else { [b, a] },
            z: piece.from[2],
            end: *end,
        }
    }
}

impl Surface for RoundArc {
    const LEVEL: bool = false;

    fn at(&self, x: f64, y: f64) -> f64 {
        let v = [x - self.o[0], y - self.o[1]];
        let [a, b] = self.sides;
        let far = if a[0] * v[1] - a[1] * v[0] >= 0.0 && v[0] * b[1] - v[1] * b[0] >= 0.0 {
            ((v[0] * v[0] + v[1] * v[1]).sqrt() - self.rho).abs()
        } else {
            let from = |p: [f64; 2]| (x - p[0]) * (x - p[0]) + (y - p[1]) * (y - p[1]);
            from(self.ends[0]).min(from(self.ends[1])).sqrt()
        };
        self.z + self.end.lift(far)
    }

    fn lowest(&self) -> f64 {
        self.z
    }

    fn rim(&self, _: f64, _: f64) -> f64 {
        self.z + self.end.corner_mm
    }
}

#[cfg(test)]
mod tests;
