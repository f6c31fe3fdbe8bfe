//! The edge cut into bands of constant lead angle: one for a square end, more on a round one.
//!
//! On a corner radius or ball the lead angle κ runs from 0 at the tip to 90° at full diameter:
//!
//! ```text
//! z = r_e (1 - cos κ)   r = d/2 - r_e (1 - sin κ)   db = r_e dκ   h = f_z sin κ sin φ
//! ```
//!
//! The radial force acts square to the edge, so it leans: towards the axis `F_r sin κ + F_a cos κ`,
//! along it `F_a sin κ - F_r cos κ`. The stock left by the pass before is taken to have this
//! cutter's own shape, so at every height it is `a_e` wide: `φ_s = acos(1 - a_e/r)`, the whole
//! half turn where r < `a_e/2`.
//!
//! # Holds for
//! Constant lead (the lag grows with height as on the shank) and level floors. Within a band κ
//! and r enter by quadrature, and the ends of the engaged arc change evenly.

use core::f64::consts::{FRAC_PI_2, PI};

use super::arc::{ArcIntegrals, ArcTable};
use super::turn::{Law, Load, TurnCut, TurnPart};

/// Bands on a whole quarter round.
pub const ROUND_BANDS: u32 = 24;
/// The same for a sketch.
pub const SKETCH_BANDS: u32 = 6;
/// Fewest bands where the arc narrows, as a share of those on a whole quarter: on a shallow cut it
/// narrows as much.
const FEWEST: f64 = 0.6;

/// Spans of lag below this, rad, count as straight: no difference can be told any more.
const STRAIGHT: f64 = 1e-8;

/// A piece of every edge, with everything that does not change over the turn.
#[derive(Clone, Debug)]
pub(super) struct Band {
    /// Lag of its lower end behind the tip, and over its own height, rad.
    pub(super) lag: f64,
    pub(super) span: f64,
    pub(super) straight: bool,
    /// Engaged arc at its lower and upper end, rad.
    pub(super) low: Window,
    pub(super) high: Window,
    /// The same arc over its whole height, as on a square end, and the integrals at its ends.
    pub(super) even: bool,
    pub(super) at_start: ArcIntegrals,
    pub(super) at_end: ArcIntegrals,
    /// At an end of the engaged edge: where it enters or leaves the load has a kink.
    pub(super) outer: bool,
    /// Over a turn, of chip and edge.
    sums: [Sums; 2],
    cut: Lean,
    edge: Lean,
    /// The parts of the law it has.
    parts: [[f64; 3]; 2],
    /// How the parts of a law lean here: of the chip, and of the edge or the end edge.
    shapes: [Shape; 2],
    law: LawPart,
}

/// Which edge force a band has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum LawPart {
    Side,
    End,
}

/// Width of edge, mm, with the sums over it that turn a law into the directions of a band.
#[derive(Clone, Copy, Debug, Default)]
struct Shape {
    width: f64,
    sin: f64,
    cos: f64,
    radius: f64,
}

impl Shape {
    fn lean(&self, [t, r, a]: [f64; 3]) -> Lean {
        Lean {
            tangential: t * self.width,
            inward: r * self.sin + a * self.cos,
            axial: a * self.sin - r * self.cos,
            torque: t * self.radius,
        }
    }
}

/// The integrals over the engaged arc, each place of a band with its own, by the same sums.
#[derive(Clone, Copy, Debug, Default)]
struct Sums {
    width: ArcIntegrals,
    sin: ArcIntegrals,
    cos: ArcIntegrals,
    radius: ArcIntegrals,
}

impl Sums {
    fn add(&mut self, p: &Point, arc: ArcIntegrals, width: f64) {
        add(&mut self.width, arc, width);
        add(&mut self.sin, arc, width * p.sin);
        add(&mut self.cos, arc, width * p.cos);
        add(&mut self.radius, arc, width * p.radius);
    }

    fn load(&self, [t, r, a]: [f64; 3]) -> Load {
        Load {
            x: -t * self.width.cos - (r * self.sin.sin + a * self.cos.sin),
            y: t * self.width.sin - (r * self.sin.cos + a * self.cos.cos),
            z: a * self.sin.one - r * self.cos.one,
            torque: t * self.radius.one,
        }
    }
}

/// A force law turned into the directions of a band: N and N mm per unit of the integrals, at a
/// chip of 1 mm full on.
#[derive(Clone, Copy, Debug)]
struct Lean {
    tangential: f64,
    inward: f64,
    axial: f64,
    torque: f64,
}

/// Engaged arc, rad.
#[derive(Clone, Copy, Debug)]
pub(super) struct Window {
    pub(super) start: f64,
    pub(super) end: f64,
}

impl Band {
    /// Takes another law.
    pub(super) fn take_law(&mut self, law: &Law) {
        let edge = match self.law {
            LawPart::Side => law.edge,
            LawPart::End => law.end,
        };
        self.parts = [law.cut, edge];
        self.cut = self.shapes[0].lean(law.cut);
        self.edge = self.shapes[1].lean(edge);
    }

    /// What the chip, or else the edge, adds up to over a turn, N rad and N mm rad.
    pub(super) fn over_a_turn(&self, part: usize) -> Load {
        self.sums[part].load(self.parts[part])
    }

    /// Angles of its lower end between which any of it can be engaged.
    #[inline]
    pub(super) fn reach(&self) -> (f64, f64) {
        let (low, high) = (self.low, self.high);
        (
            low.start.min(high.start + self.span),
            low.end.max(high.end + self.span),
        )
    }

    /// Shares of its height between which it is engaged with the lower end at `phi`; the ends of
    /// the arc change evenly along it. A straight line each, so that one stretch lies between.
    pub(super) fn engaged(&self, phi: f64) -> (f64, f64) {
        let (low, high) = (self.low, self.high);
        let mut part = (0.0_f64, 1.0_f64);
        // Behind its start and before its end at the lower end, and how that grows up the band.
        for (inside, rise) in [
            (phi - low.start, low.start - high.start - self.span),
            (low.end - phi, high.end - low.end + self.span),
        ] {
            let at = -inside / rise;
            if rise > 0.0 {
                part.0 = part.0.max(at);
            } else if rise < 0.0 {
                part.1 = part.1.min(at);
            } else if inside <= 0.0 {
                part.1 = 0.0;
            }
        }
        part
    }

    /// Whether all of it enters or leaves the cut at once.
    pub(super) fn jumps(&self) -> bool {
        let (low, high) = (self.low, self.high);
        let ends = [high.start - low.start, high.end - low.end];
        ends.iter()
            .any(|drift| (drift + self.span).abs() < STRAIGHT)
    }

    /// From summed integrals to forces.
    #[inline]
    pub(super) fn load(&self, cut: ArcIntegrals, edge: ArcIntegrals) -> Load {
        let (c, e) = (&self.cut, &self.edge);
        Load {
            x: -(c.tangential * cut.cos + e.tangential * edge.cos)
                - (c.inward * cut.sin + e.inward * edge.sin),
            y: (c.tangential * cut.sin + e.tangential * edge.sin)
                - (c.inward * cut.cos + e.inward * edge.cos),
            z: c.axial * cut.one + e.axial * edge.one,
            torque: c.torque * cut.one + e.torque * edge.one,
        }
    }
}

/// Integrals of the constant edge force from 0 to `phi`.
#[inline]
pub(super) fn edge_at(phi: f64) -> ArcIntegrals {
    let (s, c) = phi.sin_cos();
    ArcIntegrals {
        cos: s,
        sin: 1.0 - c,
        one: phi,
    }
}

/// What they integrate.
pub(super) fn edge_integrand(phi: f64) -> ArcIntegrals {
    let (s, c) = phi.sin_cos();
    ArcIntegrals {
        cos: c,
        sin: s,
        one: 1.0,
    }
}

/// All bands of a cut, from the tip up, so many on a whole quarter round.
pub(super) fn bands(arc: &ArcTable, cut: &TurnCut, law: &Law, on_round: u32) -> Vec<Band> {
    let round = cut.r_e.min(0.5 * cut.d).max(0.0);
    let curved = cut.a_p.min(round);
    let least = if on_round > SKETCH_BANDS { FEWEST } else { 0.0 };
    let mut bands = Vec::new();
    if law.end.iter().any(|k| k.abs() > 0.0) {
        let met = window(cut, 0.5 * cut.d - cut.r_e);
        bands.push(end_band((arc, cut, law), met));
    }
    if curved > 0.0 {
        let top = (1.0 - curved / round).acos();
        let split = widening(cut, round).min(top);
        for (low, high, least) in [(0.0, split, 0.0), (split, top, least)] {
            let part = ((high - low) / FRAC_PI_2).sqrt().max(least);
            let count = if high > low {
                (f64::from(on_round) * part).ceil()
            } else {
                0.0
            };
            // Finer towards the low end, where the engaged arc changes as a root does.
            let kappa = |k: f64| low + (high - low) * (k / count) * (k / count);
            let height = |kappa: f64| round * (1.0 - kappa.cos());
            let mut k = 0.0;
            while k < count {
                let (from, to) = (kappa(k), kappa(k + 1.0));
                // Places of the root, so that the quadrature sees it straight.
                let at = |(x, w)| {
                    let weight = w * 2.0 * (k + x) / (2.0 * k + 1.0);
                    Point::on_round(cut, round, kappa(k + x), weight)
                };
                let heights = (height(from), height(to));
                let radii = [at((0.0, 0.0)).radius, at((1.0, 0.0)).radius];
                let width = round * (to - from);
                let points = GAUSS.map(at);
                let met = |radius| window(cut, radius);
                bands.push(band((arc, cut, law), heights, radii, width, (&points, met)));
                k += 1.0;
            }
        }
    }
    if cut.a_p > round {
        let met = window(cut, 0.5 * cut.d);
        bands.push(shank_band((arc, cut, law), (round, cut.a_p), met));
    }
    if let Some(first) = bands.first_mut() {
        first.outer = true;
    }
    if let Some(last) = bands.last_mut() {
        last.outer = true;
    }
    bands
}

/// A band at the full diameter between two heights, engaged alike all along.
pub(super) fn shank_band(
    of: (&ArcTable, &TurnCut, &Law),
    (from, to): (f64, f64),
    met: Window,
) -> Band {
    let shank = Point {
        sin: 1.0,
        cos: 0.0,
        radius: 0.5 * of.1.d,
        weight: 1.0,
    };
    let radii = [shank.radius; 2];
    let mut band = band(of, (from, to), radii, to - from, (&[shank], |_| met));
    band.outer = true;
    band
}

/// Points and weights of three-point Gauss quadrature over 0 ..= 1.
pub(super) const GAUSS: [(f64, f64); 3] = [
    (0.112_701_665_379_258_31, 5.0 / 18.0),
    (0.5, 8.0 / 18.0),
    (0.887_298_334_620_741_7, 5.0 / 18.0),
];

/// A point on the edge: its lead angle, its radius and its share of the band.
pub(super) struct Point {
    sin: f64,
    cos: f64,
    pub(super) radius: f64,
    weight: f64,
}

impl Point {
    pub(super) fn on_round(cut: &TurnCut, round: f64, kappa: f64, weight: f64) -> Self {
        let (sin, cos) = kappa.sin_cos();
        Self {
            sin,
            cos,
            radius: 0.5 * cut.d - round * (1.0 - sin),
            weight,
        }
    }
}

/// A band between two heights and radii with `width` mm of edge, engaged as it is met at a radius.
pub(super) fn band(
    (arc, cut, law): (&ArcTable, &TurnCut, &Law),
    (from, to): (f64, f64),
    radii: [f64; 2],
    width: f64,
    (points, met): (&[Point], impl Fn(f64) -> Window),
) -> Band {
    let lag = cut.lag_per_mm();
    let span = lag * (to - from);
    let straight = span < STRAIGHT;
    let [low, high] = radii.map(&met);
    let even = (low.start - high.start).abs() + (low.end - high.end).abs() < STRAIGHT;
    let mut sums = [Sums::default(); 2];
    for p in points {
        let w = met(p.radius);
        let [from, to] = [w.start, w.end].map(|end| arc.of_both(end));
        let here = width * p.weight;
        sums[0].add(p, to[0] - from[0], here * p.sin.powf(arc.power()));
        sums[1].add(p, to[1] - from[1], here);
    }
    let density = if straight { width } else { width / span };
    let shape = |size: &dyn Fn(&Point) -> f64| {
        let mut shape = Shape::default();
        for p in points {
            let k = density * p.weight * size(p);
            shape.width += k;
            shape.sin += k * p.sin;
            shape.cos += k * p.cos;
            shape.radius += k * p.radius;
        }
        shape
    };
    let shapes = [shape(&|p| p.sin.powf(arc.power())), shape(&|_| 1.0)];
    Band {
        lag: lag * from,
        span: if straight { 0.0 } else { span },
        straight,
        low,
        high,
        even,
        outer: false,
        at_start: arc.at(low.start),
        at_end: arc.at(low.end),
        sums,
        cut: shapes[0].lean(law.cut),
        edge: shapes[1].lean(law.edge),
        parts: [law.cut, law.edge],
        shapes,
        law: LawPart::Side,
    }
}

/// The end edge where the corner meets the floor: one straight band of a millimetre, since its law
/// is in N.
pub(super) fn end_band(of: (&ArcTable, &TurnCut, &Law), met: Window) -> Band {
    let (_, cut, law) = of;
    let radius = 0.5 * cut.d - cut.r_e;
    let tip = Point {
        sin: 1.0,
        cos: 0.0,
        radius,
        weight: 1.0,
    };
    let mut band = band(of, (0.0, 0.0), [radius; 2], 1.0, (&[tip], |_| met));
    band.shapes[0] = Shape::default();
    band.sums[0] = Sums::default();
    band.law = LawPart::End;
    band.outer = true;
    band.take_law(law);
    band
}

/// Lead angle up to which the tip is engaged as far as it can be; the arc narrows above.
fn widening(cut: &TurnCut, round: f64) -> f64 {
    let full = 0.5 * cut.d;
    let radius = match cut.path {
        TurnPart::Slot => full,
        TurnPart::Centred => full * (0.5 * cut.arc).sin(),
        TurnPart::Up | TurnPart::Down => 0.5 * full * (1.0 - cut.arc.cos()),
    };
    (1.0 - (full - radius) / round).clamp(0.0, 1.0).asin()
}

/// Engaged arc at a local radius.
fn window(cut: &TurnCut, radius: f64) -> Window {
    let full = 0.5 * cut.d;
    let (start, end) = match cut.path {
        TurnPart::Slot => (0.0, PI),
        TurnPart::Centred => {
            let half = (full * (0.5 * cut.arc).sin() / radius).min(1.0).asin();
            (FRAC_PI_2 - half, FRAC_PI_2 + half)
        }
        TurnPart::Up | TurnPart::Down => {
            let a_e = full * (1.0 - cut.arc.cos());
            let at_full = radius >= full;
            let arc = if at_full {
                cut.arc
            } else {
                (1.0 - a_e / radius).max(-1.0).acos()
            };
            if cut.path == TurnPart::Up {
                (0.0, arc)
            } else {
                (PI - arc, PI)
            }
        }
    };
    Window { start, end }
}

/// Adds `k` times `m`.
#[inline]
pub(super) fn add(sum: &mut ArcIntegrals, m: ArcIntegrals, k: f64) {
    sum.cos += k * m.cos;
    sum.sin += k * m.sin;
    sum.one += k * m.one;
}
