//! The pass from the side, to scale: holder, stick-out, depth, part, jaws and zero, seen along X.

use crate::axes;
use crate::pass::answered::Answered;
use crate::pass::description::Description;
use crate::pass::field::Key;
use crate::sheet::levels::level_count;
use feeds_core::cut::{Direction, Path};
use feeds_core::programme::Bounds;
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, System};
use std::fmt::Write as _;

/// A box seen from the side, in mm: least and most along Y, then along Z.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Face {
    /// Least and most along Y.
    pub y: [f64; 2],
    /// Least and most along Z.
    pub z: [f64; 2],
}

/// Where a pass begins below the top, and how deep it goes in all where that is more than a level;
/// in metres.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PassDepths {
    /// Where it begins, 0 or below.
    pub begins: f64,
    /// How deep it goes.
    pub in_all: Option<f64>,
}

/// What is at a place from the side; what is before the others is named first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SideSpot {
    /// The holder.
    Holder,
    /// The shank.
    Shank,
    /// The flutes.
    Flutes,
    /// The floor of a level.
    Level,
    /// The part.
    Part,
    /// What holds it.
    Jaw,
    /// Nothing.
    Nothing,
}

/// The pass from the side, in mm.
#[derive(Clone, Debug, PartialEq)]
pub struct SideView {
    /// The part.
    pub part: Face,
    /// What holds it; none where nothing says how it is held.
    pub jaws: Vec<Face>,
    /// The zero of the programme.
    pub zero: Option<(f64, f64)>,
    /// Where the middle of the cutter's end is.
    pub tip: (f64, f64),
    /// Cutting diameter.
    pub diameter: f64,
    /// Shank diameter.
    pub shank: f64,
    /// Flute length.
    pub flutes: f64,
    /// From the holder's face to the tip.
    pub stick_out: f64,
    /// From where it begins to the deepest level.
    pub depth: f64,
    /// The height of every level, from the top down.
    pub levels: Vec<f64>,
    /// What is written below it: stick-out, depth, and what holds the part.
    pub says: String,
}

/// Millimetres of a length in metres.
fn mm(si: f64) -> f64 {
    1e3 * si
}

/// A level of many as a share of all.
fn share(level: usize, count: usize) -> f64 {
    let whole = |n: usize| u32::try_from(n).map_or(1.0, f64::from);
    whole(level) / whole(count)
}

/// What stands in the entries of the programme, in its coordinates.
struct Placed {
    part: Face,
    jaws: Vec<Face>,
    zero: (f64, f64),
}

impl Placed {
    /// Of a size and a zero; the jaws may be missing.
    fn of(description: &Description) -> Option<Self> {
        let size = Key::StockSize.field();
        let size = size.axes(description.get(Key::StockSize)?).ok()?.map(mm);
        let zero = axes::zero(description.get(Key::Zero)?).ok()?;
        let face = |bounds: &Bounds| Face {
            y: [bounds.least[1], bounds.most[1]],
            z: [bounds.least[2], bounds.most[2]],
        };
        let jaws = description.get(Key::Jaws).and_then(|j| axes::boxes(j).ok());
        Some(Self {
            part: face(&zero.stock(size)),
            jaws: jaws.iter().flatten().map(face).collect(),
            zero: (0.0, 0.0),
        })
    }
}

impl SideView {
    /// The pass as it stands in the programme where its size and zero are given; otherwise with
    /// its top at nothing, held as deep and as high as the hold says.
    pub fn of(
        answer: &Answered,
        description: &Description,
        depths: PassDepths,
        system: System,
    ) -> Self {
        let setup = &answer.resolved.setup;
        let (c, cut) = (&setup.cutter, &setup.cut);
        let whole = depths.in_all.unwrap_or(cut.a_p.si());
        let (diameter, depth) = (mm(c.diameter.si()), mm(whole));
        let placed = Placed::of(description);
        let top = placed.as_ref().map_or(0.0, |p| p.part.z[1]) + mm(depths.begins);
        let tip = top - depth;
        let count = level_count(whole, cut.a_p.si());
        let level = |k: usize| top - depth * share(k, count);
        let grip = setup.hold.and_then(|hold| hold.grip.zip(hold.height));
        let grip = grip.map(|(grip, height)| (mm(grip.si()), mm(height.si())));
        let part = placed.as_ref().map_or_else(
            || {
                // Nobody said how large it is: three cutters wide.
                let bottom = grip.map_or(tip - diameter, |(grip, height)| tip - height - grip);
                Face {
                    y: [0.0, 3.0 * diameter],
                    z: [bottom, 0.0],
                }
            },
            |p| p.part,
        );
        let given = placed.as_ref().map_or(Vec::new(), |p| p.jaws.clone());
        let jaws = match grip {
            Some((_, height)) if given.is_empty() => {
                let wide = (part.y[1] - part.y[0]) / 2.0;
                let z = [part.z[0] - wide / 4.0, tip - height];
                let y = [[part.y[0] - wide, part.y[0]], [part.y[1], part.y[1] + wide]];
                y.map(|y| Face { y, z }).to_vec()
            }
            _ => given,
        };
        let unheld = jaws.is_empty();
        let width = mm(setup.a_e().si());
        let middle = f64::midpoint(part.y[0], part.y[1]);
        let along = match (cut.path, cut.direction) {
            // Seen along the feed, what is climbed stands on the right.
            (Path::Side, Direction::Down) => part.y[0] + width - diameter / 2.0,
            (Path::Side, Direction::Up) => part.y[1] - width + diameter / 2.0,
            _ => middle,
        };
        Self {
            part,
            jaws,
            zero: placed.map(|p| p.zero),
            tip: (along, tip),
            diameter,
            shank: mm(c.shank.si()),
            flutes: mm(c.flute_length.si()),
            stick_out: mm(c.stick_out.si()),
            depth,
            levels: (1..=count).map(level).collect(),
            says: format!(
                "to scale: out {}, deep {}{}{}",
                s::STICK_OUT.show(c.stick_out.si(), system),
                s::A_P.show(whole, system),
                if count > 1 {
                    format!(" in {count} levels")
                } else {
                    String::new()
                },
                if unheld { "; jaws not described" } else { "" }
            ),
        }
    }

    /// How wide the holder is drawn, and how high.
    fn holder(&self) -> [f64; 2] {
        let wide = 1.6 * self.shank.max(self.diameter);
        [wide, 0.4 * self.stick_out]
    }

    /// Least and most along Y and along Z of what is drawn.
    pub fn bounds(&self) -> [[f64; 2]; 2] {
        let (y, z) = self.tip;
        let [wide, high] = self.holder();
        let reach = (self.part.y[1] - self.part.y[0]) / 2.0;
        let left = (self.part.y[0] - reach).min(y - wide / 2.0);
        let right = (self.part.y[1] + reach).max(y + wide / 2.0);
        let below = self.part.z[1] - self.part.z[0];
        let bottom = self.part.z[0] - 0.2 * below;
        let top = (z + self.stick_out + high).max(self.part.z[1]);
        [[left, right], [bottom, top]]
    }

    /// What is at a place, a level as thick as `line`.
    pub fn at(&self, y: f64, z: f64, line: f64) -> SideSpot {
        let from_axis = 2.0 * (y - self.tip.0).abs();
        let above = z - self.tip.1;
        let fluted = self.flutes.min(self.stick_out);
        let [wide, _] = self.holder();
        let in_face =
            |face: &Face| y >= face.y[0] && y <= face.y[1] && z >= face.z[0] && z <= face.z[1];
        // Levels closer than that are drawn as one stretch.
        let level = |at: &f64| z - at <= line / 2.0 && z - at > -line / 2.0;
        if above >= self.stick_out && from_axis <= wide {
            SideSpot::Holder
        } else if above >= fluted && above < self.stick_out && from_axis <= self.shank {
            SideSpot::Shank
        } else if above >= 0.0 && above < fluted && from_axis <= self.diameter {
            SideSpot::Flutes
        } else if in_face(&self.part) && self.levels.iter().any(level) {
            SideSpot::Level
        } else if in_face(&self.part) {
            SideSpot::Part
        } else if self.jaws.iter().any(in_face) {
            SideSpot::Jaw
        } else {
            SideSpot::Nothing
        }
    }

    /// The picture as an `svg` element of one unit a millimetre; `id` tells its hatching apart.
    pub fn svg(&self, id: usize) -> String {
        let (y, z) = self.tip;
        let face = z + self.stick_out;
        let [wide, holder] = self.holder();
        let [[left, right], [bottom, top]] = self.bounds();
        let (width, height) = (right - left, top - bottom);
        let pen = width.max(height) / 250.0;
        let mut out = format!(
            "<svg class=\"side\" viewBox=\"{left:.3} {above:.3} {across:.3} {height:.3}\" \
             role=\"img\" aria-label=\"from the side, to scale\"><defs>\
             <pattern id=\"s{id}\" width=\"{gap:.3}\" height=\"{gap:.3}\" \
             patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\">\
             <line x1=\"0\" y1=\"0\" x2=\"0\" y2=\"{gap:.3}\" stroke=\"#000\" \
             stroke-width=\"{pen:.3}\"/></pattern></defs>",
            above = -top,
            across = width,
            gap = 8.0 * pen,
        );
        let mut square = |y: [f64; 2], z: [f64; 2], fill: &str, what: &str| {
            let z = [z[0].max(bottom), z[1]];
            let y = [y[0].max(left), y[1].min(right)];
            let _ = write!(
                out,
                "<rect class=\"{what}\" x=\"{:.3}\" y=\"{:.3}\" width=\"{:.3}\" height=\"{:.3}\" \
                 fill=\"{fill}\" stroke=\"#000\" stroke-width=\"{pen:.3}\"/>",
                y[0],
                -z[1],
                (y[1] - y[0]).max(0.0),
                (z[1] - z[0]).max(0.0)
            );
        };
        let hatched = format!("url(#s{id})");
        for jaw in &self.jaws {
            square(jaw.y, jaw.z, &hatched, "jaw");
        }
        square(self.part.y, self.part.z, "#ddd", "part");
        let about = |wide: f64| [y - wide / 2.0, y + wide / 2.0];
        square(about(wide), [face, face + holder], &hatched, "holder");
        let fluted = self.flutes.min(self.stick_out);
        square(about(self.shank), [z + fluted, face], "#fff", "shank");
        square(about(self.diameter), [z, z + fluted], "#fff", "flutes");
        let begins = self.tip.1 + self.depth;
        for &z in std::iter::once(&begins).chain(&self.levels) {
            let _ = write!(
                out,
                "<line x1=\"{:.3}\" y1=\"{1:.3}\" x2=\"{right:.3}\" y2=\"{1:.3}\" stroke=\"#000\" \
                 stroke-width=\"{pen:.3}\" stroke-dasharray=\"{2:.3}\"/>",
                y,
                -z,
                4.0 * pen
            );
        }
        if let Some((y, z)) = self.zero {
            let arm = width.max(height) / 22.0;
            let _ = write!(
                out,
                "<path class=\"zero\" d=\"M{:.3} {:.3} h{:.3} M{:.3} {:.3} v{:.3}\" \
                 stroke=\"#000\" stroke-width=\"{:.3}\"/>\
                 <circle cx=\"{y:.3}\" cy=\"{:.3}\" r=\"{:.3}\" fill=\"none\" \
                 stroke=\"#000\" stroke-width=\"{pen:.3}\"/>",
                y - arm,
                -z,
                2.0 * arm,
                y,
                -z - arm,
                2.0 * arm,
                2.0 * pen,
                -z,
                arm / 2.0
            );
        }
        out.push_str("</svg>");
        out
    }
}
