//! The engagement seen from above, as SVG in black and white.
//!
//! The feed goes to the right and the spindle turns clockwise, so that in down milling the work
//! stands on the right of the feed, below the cutter.

use crate::pass::answered::Answered;
use feeds_core::cut::{Direction, Path};
use std::f64::consts::PI;
use std::fmt::Write as _;

/// The engagement seen from above.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Picture {
    /// Where the engaged arc begins and ends, in radians from the feed, clockwise on paper.
    pub from: f64,
    /// Its end, above `from`.
    pub to: f64,
    /// What stands beside the cutter.
    pub walls: Walls,
}

/// Where finished walls stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Walls {
    /// On both sides: a slot.
    Both,
    /// On the right of the feed: down milling.
    Right,
    /// On the left of the feed: up milling.
    Left,
    /// On none: a face.
    None,
}

/// Radius of the cutter on paper.
const R: f64 = 40.0;
/// Half the side of the picture.
const HALF: f64 = 60.0;

impl Picture {
    /// The nominal engagement of a pass.
    pub fn of(answer: &Answered) -> Self {
        let phi = answer.plan.phi_s.value.clamp(0.0, PI);
        let cut = &answer.resolved.setup.cut;
        let (from, to, walls) = match (cut.path, cut.direction) {
            (Path::Face, _) => (-phi / 2.0, phi / 2.0, Walls::None),
            _ if phi >= PI => (-PI / 2.0, PI / 2.0, Walls::Both),
            (_, Direction::Down) => (PI / 2.0 - phi, PI / 2.0, Walls::Right),
            (_, Direction::Up) => (-PI / 2.0, phi - PI / 2.0, Walls::Left),
        };
        Self { from, to, walls }
    }

    /// The stock as a closed line: the engaged arc, then around the part that still stands.
    fn stock(&self) -> String {
        let ((x0, y0), (x1, y1)) = (point(self.from), point(self.to));
        let sweep = i32::from(self.to - self.from > PI);
        let mut d = format!("M{x0:.2} {y0:.2} A{R} {R} 0 {sweep} 1 {x1:.2} {y1:.2} ");
        let (top, bottom) = match self.walls {
            Walls::Both => (-HALF, HALF),
            Walls::Right => (y0, HALF),
            Walls::Left => (-HALF, y1),
            Walls::None => (y0, y1),
        };
        // Behind the cutter only finished walls stand.
        if matches!(self.walls, Walls::Both | Walls::Right) {
            let _ = write!(d, "L{:.2} {R} L{:.2} {HALF} ", -HALF, -HALF);
        }
        let _ = write!(d, "L{HALF} {bottom:.2} L{HALF} {top:.2} ");
        if matches!(self.walls, Walls::Both | Walls::Left) {
            let _ = write!(d, "L{:.2} {:.2} L{:.2} {:.2} ", -HALF, -HALF, -HALF, -R);
        }
        d.push('Z');
        d
    }

    /// The picture as an `svg` element; `id` tells its hatching from that of other pictures.
    pub fn svg(&self, id: usize) -> String {
        let ((x0, y0), (x1, y1)) = (point(self.from), point(self.to));
        let large = i32::from(self.to - self.from > PI);
        let side = 2.0 * HALF;
        format!(
            "<svg viewBox=\"{low} {low} {side} {side}\" role=\"img\" aria-label=\"engagement\">\
             <defs><pattern id=\"h{id}\" width=\"5\" height=\"5\" patternUnits=\"userSpaceOnUse\" \
             patternTransform=\"rotate(45)\"><line x1=\"0\" y1=\"0\" x2=\"0\" y2=\"5\" \
             stroke=\"#000\" stroke-width=\"0.8\"/></pattern></defs>\
             <path d=\"{stock}\" fill=\"url(#h{id})\" stroke=\"#000\" stroke-width=\"0.8\"/>\
             <circle r=\"{R}\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"1\"/>\
             <path d=\"M{x0:.2} {y0:.2} A{R} {R} 0 {large} 1 {x1:.2} {y1:.2}\" fill=\"none\" \
             stroke=\"#000\" stroke-width=\"4\"/>\
             <path d=\"M-18 0 H16 M8 -6 L18 0 L8 6\" fill=\"none\" stroke=\"#000\" \
             stroke-width=\"2\"/>\
             <path d=\"M-19.3 -20.7 A28.3 28.3 0 0 1 10 -26.5 M2 -32 L10.5 -26.3 L1 -22\" \
             fill=\"none\" stroke=\"#000\" stroke-width=\"1\"/></svg>",
            low = -HALF,
            stock = self.stock(),
        )
    }

    /// The picture in words, for paper without pictures.
    pub fn words(&self) -> &'static str {
        match self.walls {
            Walls::Both => "walls on both sides, the whole front cuts",
            Walls::Right => "work on the right of the feed, chips start thick",
            Walls::Left => "work on the left of the feed, chips start thin",
            Walls::None => "centred on the work, no wall",
        }
    }
}

/// A point of the cutter's circle on paper, where y goes down.
fn point(angle: f64) -> (f64, f64) {
    (R * angle.cos(), R * angle.sin())
}
