//! A feature from above, to scale: what is cut away, and what stays uncut, hatched.

use feeds_core::feature::kind::ClosedEnds;
use feeds_core::feature::outline::Outline;
use feeds_core::feature::{Feature, Form};
use feeds_core::quantity::{Length, Quantity, in_mm};
use std::fmt::Write as _;

/// A feature from above, in mm, its middle at nothing and its length along X.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TopView {
    /// Half its length and half its width.
    half: [f64; 2],
    /// The radius of its corners as drawn.
    corner: f64,
    /// Which ends are open: the near one, the far one.
    open: [bool; 2],
    /// The hole that was there before.
    hole: f64,
    /// What stays on the walls.
    left: f64,
    /// How far the part is drawn around it.
    around: f64,
    /// Cutting diameter.
    diameter: f64,
    /// The outline is not known: a square of the same area stands for it.
    pub stands_in: bool,
}

/// What is at a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TopSpot {
    /// The part, which nobody wants to cut.
    Part,
    /// What the feature wants away, and the cutter leaves.
    Uncut,
    /// What is cut away.
    Cleared,
    /// Nothing: beside the part, or a hole.
    Beside,
}

impl TopView {
    /// A feature behind a cutter of a diameter that leaves so much on the walls; `None` where it is
    /// not cut straight down.
    pub fn of(feature: &Feature, d: Length, left: Length) -> Option<Self> {
        let Form::Straight(outline, _) = feature.form else {
            return None;
        };
        let (d, left) = (in_mm(d), in_mm(left));
        let (length, width) = match outline {
            Outline::Channel(side, _)
            | Outline::Rectangle(side, _)
            | Outline::Along(side)
            | Outline::Open(side) => (in_mm(side.length), in_mm(side.width)),
            Outline::Round(diameter) | Outline::Ring { diameter, .. } => {
                (in_mm(diameter), in_mm(diameter))
            }
            Outline::Free { area, .. } => {
                let side = (area.si() * 1e6).sqrt();
                (side, side)
            }
        };
        let drawn = match outline {
            Outline::Rectangle(_, corner) => in_mm(corner),
            Outline::Free { inside, .. } => in_mm(inside),
            Outline::Along(_) | Outline::Open(_) => 0.0,
            Outline::Channel(..) | Outline::Round(_) | Outline::Ring { .. } => width / 2.0,
        };
        let open = match outline {
            Outline::Channel(_, ClosedEnds::None) | Outline::Along(_) | Outline::Open(_) => {
                [true, true]
            }
            Outline::Channel(_, ClosedEnds::One) => [true, false],
            _ => [false, false],
        };
        Some(Self {
            half: [length / 2.0, width / 2.0],
            corner: drawn,
            open,
            hole: match outline {
                Outline::Ring { hole, .. } => in_mm(hole),
                _ => 0.0,
            },
            left,
            around: match outline {
                Outline::Open(_) => 0.0,
                _ => (0.3 * width).max(0.1 * length),
            },
            diameter: d,
            stands_in: matches!(outline, Outline::Free { .. }),
        })
    }

    /// Least and most along X and along Y of what is drawn.
    pub fn bounds(&self) -> [[f64; 2]; 2] {
        let [x, y] = self.half;
        let beyond = |open: bool| if open { 0.0 } else { self.around };
        [
            [-x - beyond(self.open[0]), x + beyond(self.open[1])],
            [-y - self.around, y + self.around],
        ]
    }

    /// What is at a place.
    pub fn at(&self, x: f64, y: f64) -> TopSpot {
        let [[from, to], [below, above]] = self.bounds();
        if x < from || x > to || y < below || y > above || x.hypot(y) < self.hole / 2.0 {
            TopSpot::Beside
        } else if !self.is_within((x, y), false) {
            TopSpot::Part
        } else if self.is_within((x, y), true) {
            TopSpot::Cleared
        } else {
            TopSpot::Uncut
        }
    }

    /// What stays on the walls, and the radius of the corners: as drawn, or as it is cut.
    fn walls(&self, cut: bool) -> (f64, f64) {
        if !cut {
            return (0.0, self.corner);
        }
        let round = self.corner >= self.half[1] - 1e-9;
        let tool = if round { 0.0 } else { self.diameter / 2.0 };
        let most = self.half[1] - self.left;
        (self.left, (self.corner - self.left).max(tool).min(most))
    }

    /// What stays at an end, and the radius of its corners there.
    fn end(&self, far: bool, cut: bool) -> (f64, f64) {
        if self.open[usize::from(far)] {
            return (0.0, 0.0);
        }
        self.walls(cut)
    }

    /// Whether a place is inside the outline, as drawn or as it is cut.
    fn is_within(&self, (x, y): (f64, f64), cut: bool) -> bool {
        let (along, radius) = self.end(x > 0.0, cut);
        let inside = [
            self.half[0] - along - x.abs(),
            self.half[1] - self.walls(cut).0 - y.abs(),
        ];
        if inside.iter().any(|inside| *inside < 0.0) {
            return false;
        }
        let [dx, dy] = inside.map(|inside| (radius - inside).max(0.0));
        dx.hypot(dy) <= radius
    }

    /// The outline as a path, as drawn or as it is cut.
    fn path(&self, cut: bool) -> String {
        let y = self.half[1] - self.walls(cut).0;
        let ends = [false, true].map(|far| {
            let (left, radius) = self.end(far, cut);
            (self.half[0] - left, radius)
        });
        let [(near, small), (far, large)] = ends;
        let arc = |r: f64, x: f64, y: f64| format!("A{r:.3} {r:.3} 0 0 1 {x:.3} {y:.3} ");
        let mut d = format!("M{:.3} {:.3} H{:.3} ", -near + small, -y, far - large);
        if large > 0.0 {
            d.push_str(&arc(large, far, -y + large));
        }
        let _ = write!(d, "L{far:.3} {:.3} ", y - large);
        if large > 0.0 {
            d.push_str(&arc(large, far - large, y));
        }
        let _ = write!(d, "H{:.3} ", -near + small);
        if small > 0.0 {
            d.push_str(&arc(small, -near, y - small));
        }
        let _ = write!(d, "L{:.3} {:.3} ", -near, -y + small);
        if small > 0.0 {
            d.push_str(&arc(small, -near + small, -y));
        }
        d.push('Z');
        d
    }

    /// The picture as an `svg` element of one unit a millimetre; `id` tells its hatching apart.
    pub fn svg(&self, id: usize) -> String {
        let [[from, to], [below, above]] = self.bounds();
        let (width, height) = (to - from, above - below);
        let pen = width.max(height) / 150.0;
        let gap = 8.0 * pen;
        let mut out = format!(
            "<svg class=\"above\" viewBox=\"{from:.3} {below:.3} {width:.3} {height:.3}\" \
             role=\"img\" aria-label=\"from above, to scale\"><defs>\
             <pattern id=\"t{id}\" width=\"{gap:.3}\" height=\"{gap:.3}\" \
             patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\">\
             <rect width=\"{gap:.3}\" height=\"{gap:.3}\" fill=\"#fff\"/>\
             <line x1=\"0\" y1=\"0\" x2=\"0\" y2=\"{gap:.3}\" stroke=\"#000\" \
             stroke-width=\"{0:.3}\"/></pattern></defs>\
             <rect class=\"part\" x=\"{from:.3}\" y=\"{below:.3}\" width=\"{width:.3}\" \
             height=\"{height:.3}\" fill=\"#ddd\" stroke=\"#000\" stroke-width=\"{pen:.3}\"/>",
            2.0 * pen
        );
        let mut shape = |what: &str, d: &str, fill: &str| {
            let _ = write!(
                out,
                "<path class=\"{what}\" d=\"{d}\" fill=\"{fill}\" stroke=\"#000\" \
                 stroke-width=\"{pen:.3}\"/>"
            );
        };
        shape("uncut", &self.path(false), &format!("url(#t{id})"));
        shape("cleared", &self.path(true), "#fff");
        for (what, diameter) in [("hole", self.hole), ("cutter", self.diameter)] {
            let dashes = if what == "cutter" { 3.0 * pen } else { 0.0 };
            let _ = write!(
                out,
                "<circle class=\"{what}\" r=\"{:.3}\" fill=\"none\" stroke=\"#000\" \
                 stroke-width=\"{pen:.3}\" stroke-dasharray=\"{dashes:.3}\"/>",
                diameter / 2.0
            );
        }
        out.push_str("</svg>");
        out
    }
}

#[cfg(test)]
mod tests {
    use super::{TopSpot, TopView};
    use feeds_core::feature::{Feature, FeatureKind};
    use feeds_core::quantity::mm;

    fn view(kind: FeatureKind, sizes: &[(&str, &str)], d: f64, left: f64) -> TopView {
        let feature = Feature::read(kind, sizes).unwrap();
        TopView::of(&feature, mm(d), mm(left)).unwrap()
    }

    /// What a grid of the picture holds of one kind, in mm².
    fn area(view: &TopView, spot: TopSpot) -> f64 {
        const STEP: f64 = 0.02;
        let [[from, to], [below, above]] = view.bounds();
        let (mut count, mut y) = (0.0, below + STEP / 2.0);
        while y < above {
            let mut x = from + STEP / 2.0;
            while x < to {
                count += f64::from(u8::from(view.at(x, y) == spot));
                x += STEP;
            }
            y += STEP;
        }
        count * STEP * STEP
    }

    /// By hand: corners of radius 1 cut by a cutter of 4 mm keep (4 − π)(2² − 1²) mm²; half a
    /// millimetre on every wall of 20 by 12 keeps 240 − 19·11 mm² less the drawn corners, and
    /// (4 − π)·2² in the corners of the rough.
    #[test]
    fn what_stays_uncut_has_the_area_it_has_by_hand() {
        let sizes = [
            ("length", "20mm"),
            ("width", "12mm"),
            ("corner", "1mm"),
            ("depth", "3mm"),
        ];
        let corners = 4.0 - std::f64::consts::PI;
        let near = |got: f64, expect: f64| assert!((got - expect).abs() < 0.15, "{got} {expect}");
        let finished = view(FeatureKind::Pocket, &sizes, 4.0, 0.0);
        near(area(&finished, TopSpot::Uncut), 3.0 * corners);
        let rough = view(FeatureKind::Pocket, &sizes, 4.0, 0.5);
        near(
            area(&rough, TopSpot::Uncut),
            240.0 - corners - (209.0 - 4.0 * corners),
        );
    }

    /// By hand: 28 by 3.2 less one end of (2 − π/2)·1.6².
    #[test]
    fn a_slot_runs_out_where_it_is_open() {
        let sizes = [
            ("width", "3.2mm"),
            ("depth", "9.5mm"),
            ("length", "28mm"),
            ("closed", "one"),
        ];
        let slot = view(FeatureKind::Slot, &sizes, 3.0, 0.0);
        let expect = 28.0 * 3.2 - (2.0 - std::f64::consts::FRAC_PI_2) * 2.56;
        assert!((area(&slot, TopSpot::Cleared) - expect).abs() < 0.3);
        assert!(area(&slot, TopSpot::Uncut) < 0.05);
        let [[from, to], _] = slot.bounds();
        assert!(
            (from + 14.0).abs() < 1e-9 && to > 14.5,
            "open on one side alone"
        );
        let drawn = slot.svg(1);
        assert_eq!(
            drawn.matches('A').count(),
            4,
            "two arcs of the end, twice: {drawn}"
        );
    }
}
