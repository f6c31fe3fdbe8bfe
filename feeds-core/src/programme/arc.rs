//! Circles, arcs and helices.

use std::f64::consts::TAU;

/// The plane of an arc.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Plane {
    /// G17
    #[default]
    Xy,
    /// G18
    Zx,
    /// G19
    Yz,
}

impl Plane {
    /// The axes of the plane, first and second, and the one it stands on: 0 is X, 1 is Y, 2 is Z.
    pub const fn axes(self) -> [usize; 3] {
        match self {
            Self::Xy => [0, 1, 2],
            Self::Zx => [2, 0, 1],
            Self::Yz => [1, 2, 0],
        }
    }
}

/// An arc, a full circle or a helix. Lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ArcMove {
    /// Its plane.
    pub plane: Plane,
    /// Centre along the two axes of the plane.
    pub centre: [f64; 2],
    /// Radius: the mean of those at start and end.
    pub radius: f64,
    /// Angle turned in radians, negative clockwise, whole turns included.
    pub sweep: f64,
    /// Whether it comes back to its start in the plane.
    pub full: bool,
    /// By how much the radii at start and end differ.
    pub mismatch: f64,
}

/// Why an arc cannot be drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ArcFault {
    /// Neither a centre nor a radius.
    NoCentre,
    /// The centre is the start.
    ZeroRadius,
    /// A radius and no way to go.
    SamePoint,
    /// The radius is too small to reach the end; half the distance in mm is inside.
    TooShort(f64),
}

impl ArcMove {
    /// Length of the path in the plane in mm.
    pub fn length(&self) -> f64 {
        self.radius * self.sweep.abs()
    }

    /// The arc around a centre. `turns` counts the ways round, 1 for a plain arc.
    ///
    /// Coinciding start and end make a full circle (NISTIR 6556, 3.5.3.2).
    ///
    /// # Errors
    /// [`ArcFault::ZeroRadius`] when the centre is the start.
    pub fn around(
        plane: Plane,
        from: [f64; 2],
        to: [f64; 2],
        centre: [f64; 2],
        clockwise: bool,
        turns: f64,
    ) -> Result<Self, ArcFault> {
        let a = [from[0] - centre[0], from[1] - centre[1]];
        let b = [to[0] - centre[0], to[1] - centre[1]];
        let (at_start, at_end) = (a[0].hypot(a[1]), b[0].hypot(b[1]));
        if at_start == 0.0 {
            return Err(ArcFault::ZeroRadius);
        }
        let full = (to[0] - from[0]).abs() < SAME && (to[1] - from[1]).abs() < SAME;
        let sense = if clockwise { -1.0 } else { 1.0 };
        let once = if full {
            TAU
        } else {
            let angle = (a[0] * b[1] - a[1] * b[0]).atan2(a[0] * b[0] + a[1] * b[1]) * sense;
            if angle <= 0.0 { angle + TAU } else { angle }
        };
        Ok(Self {
            plane,
            centre,
            radius: f64::midpoint(at_start, at_end),
            sweep: sense * (once + TAU * (turns - 1.0).max(0.0)),
            full,
            mismatch: (at_start - at_end).abs(),
        })
    }

    /// The point of the circle through `from` nearest to a wrong end.
    pub(crate) fn end_for(&self, from: [f64; 2], to: [f64; 2]) -> [f64; 2] {
        let [start, end] = [from, to].map(|p| (p[0] - self.centre[0]).hypot(p[1] - self.centre[1]));
        let ratio = if end > 0.0 { start / end } else { 1.0 };
        [0, 1].map(|axis| self.centre[axis] + (to[axis] - self.centre[axis]) * ratio)
    }

    /// Centres as far from the start as from the end, with one coordinate of the wrong centre
    /// kept: the nearest first, the other only when it is not much farther off.
    pub(crate) fn centres_for(&self, from: [f64; 2], to: [f64; 2]) -> Vec<[f64; 2]> {
        let middle = [0, 1].map(|axis| f64::midpoint(from[axis], to[axis]));
        let off = |moved: usize, kept: usize| {
            let chord = [0, 1].map(|axis| to[axis] - from[axis]);
            let along = chord[kept] * (self.centre[kept] - middle[kept]);
            middle[moved] - along / chord[moved] - self.centre[moved]
        };
        let mut moves = [(0, off(0, 1)), (1, off(1, 0))];
        moves.sort_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
        let most = 2.0 * moves[0].1.abs();
        let fits = moves
            .iter()
            .filter(|m| m.1.is_finite() && m.1.abs() <= most);
        fits.map(|(axis, by)| {
            let mut centre = self.centre;
            centre[*axis] += by;
            centre
        })
        .collect()
    }

    /// The arc of a given radius: positive turns 180° or less, negative more (NISTIR 6556,
    /// 3.5.3.1).
    ///
    /// `slack` in mm is how much the radius may be short of half the distance.
    ///
    /// # Errors
    /// [`ArcFault::SamePoint`] without a distance, [`ArcFault::TooShort`] when it cannot reach.
    pub fn with_radius(
        plane: Plane,
        from: [f64; 2],
        to: [f64; 2],
        radius: f64,
        clockwise: bool,
        slack: f64,
    ) -> Result<Self, ArcFault> {
        let chord = [to[0] - from[0], to[1] - from[1]];
        let distance = chord[0].hypot(chord[1]);
        if distance < SAME {
            return Err(ArcFault::SamePoint);
        }
        let half = distance / 2.0;
        if radius.abs() < half - slack {
            return Err(ArcFault::TooShort(half));
        }
        let r = radius.abs().max(half);
        let height = (r * r - half * half).max(0.0).sqrt();
        // The centre lies left of the chord for a short counter-clockwise arc.
        let side = if clockwise == (radius > 0.0) {
            -height
        } else {
            height
        };
        let centre = [
            f64::midpoint(from[0], to[0]) - chord[1] / distance * side,
            f64::midpoint(from[1], to[1]) + chord[0] / distance * side,
        ];
        let short = 2.0 * (half / r).min(1.0).asin();
        let turned = if radius > 0.0 { short } else { TAU - short };
        let sweep = if clockwise { -turned } else { turned };
        Ok(Self {
            plane,
            centre,
            radius: r,
            sweep,
            full: false,
            mismatch: 0.0,
        })
    }
}

/// Points closer than this in mm are one point.
const SAME: f64 = 1e-9;

#[cfg(test)]
#[allow(clippy::unwrap_used)] // a test fails by panicking
mod tests {
    use super::*;

    fn near(a: f64, b: f64) {
        assert!((a - b).abs() < 1e-9, "{a} {b}");
    }

    #[test]
    fn centre_and_radius_give_the_same_arc() {
        for (radius, clockwise) in [(5.0, true), (5.0, false), (-5.0, true), (-5.0, false)] {
            let (from, to) = ([7.0, 7.0], [10.0, 16.0]);
            let by_radius =
                ArcMove::with_radius(Plane::Xy, from, to, radius, clockwise, 0.002).unwrap();
            let again =
                ArcMove::around(Plane::Xy, from, to, by_radius.centre, clockwise, 1.0).unwrap();
            near(by_radius.sweep, again.sweep);
            near(by_radius.radius, again.radius);
        }
    }

    /// By hand: from (0, 0) to (4, 0) a centre lies at x 2; for (3, 4) only x can change. The end
    /// for that centre lies 5 from it, towards (4, 0): that way is sqrt 17 long.
    #[test]
    fn a_missed_end_has_its_mends() {
        let (from, to) = ([0.0, 0.0], [4.0, 0.0]);
        let arc = ArcMove::around(Plane::Xy, from, to, [3.0, 4.0], false, 1.0).unwrap();
        assert_eq!(arc.centres_for(from, to), [[2.0, 4.0]]);
        let end = arc.end_for(from, to);
        near(end[0], 3.0 + 5.0 / 17.0_f64.sqrt());
        near(end[1], 4.0 - 20.0 / 17.0_f64.sqrt());
    }

    #[test]
    fn faults_are_told_apart() {
        let o = [0.0, 0.0];
        assert_eq!(
            ArcMove::around(Plane::Xy, o, [1.0, 0.0], o, true, 1.0),
            Err(ArcFault::ZeroRadius)
        );
        let r = |to, r| ArcMove::with_radius(Plane::Xy, o, to, r, true, 0.002);
        assert_eq!(r(o, 1.0), Err(ArcFault::SamePoint));
        assert_eq!(r([4.0, 0.0], 1.0), Err(ArcFault::TooShort(2.0)));
        assert!(r([4.0, 0.0], 1.999).is_ok());
    }
}
