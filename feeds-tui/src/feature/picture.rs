//! A planned feature to scale: from the side with holder, levels and jaws, and from above with what
//! stays uncut. In characters for a terminal, and as one SVG.

use super::plan::{FeaturePlan, PlannedPass};
use crate::pass::description::Description;
use crate::sheet::html::escaped;
use crate::sheet::side::{PassDepths, SideSpot, SideView};
use crate::sheet::top::{TopSpot, TopView};
use feeds_core::feature::Feature;
use feeds_core::quantity::{Length, Quantity};
use feeds_core::symbol::System;
use std::fmt::Write as _;

/// Columns of a picture in characters, and the most lines of each view.
const COLUMNS: usize = 72;
const SIDE_LINES: usize = 20;
const TOP_LINES: usize = 12;
/// A character is about twice as high as it is wide.
const TALL: f64 = 2.0;

/// A planned feature as it is drawn.
#[derive(Clone, Debug)]
pub struct FeaturePicture {
    title: String,
    side: SideView,
    top: Option<TopView>,
}

impl FeaturePicture {
    /// The plan of a feature: the side of the pass that reaches deepest, and what stays uncut when
    /// all is done. `common` is what every pass of the job has.
    pub fn of(
        name: &str,
        feature: &Feature,
        plan: &FeaturePlan,
        common: &Description,
        system: System,
    ) -> Option<Self> {
        let rough = plan.passes.first()?;
        let last = plan.passes.last()?;
        let depth = feature.depth();
        let depths = PassDepths {
            begins: 0.0,
            in_all: Some(depth.si() - rough.left_floor.si()),
        };
        Some(Self {
            title: format!("{name}: {} with {}", plan.how, cutters(plan)),
            side: SideView::of(&rough.answered, common, depths, system),
            top: TopView::of(feature, last.diameter, Length::default()),
        })
    }

    /// In characters.
    pub fn text(&self) -> String {
        let mut out = format!("{}\n", self.side.says);
        let side = self.side.bounds();
        let line = TALL * step(side, SIDE_LINES);
        drawn(&mut out, side, SIDE_LINES, |y, z| {
            match self.side.at(y, z, line) {
                SideSpot::Holder => 'H',
                SideSpot::Shank => ':',
                SideSpot::Flutes => '|',
                SideSpot::Jaw => 'X',
                SideSpot::Part => '/',
                SideSpot::Level => '-',
                SideSpot::Nothing => ' ',
            }
        });
        out.push_str("H holder  : shank  | flutes  / part  - levels  X jaws\n");
        let Some(top) = &self.top else { return out };
        let _ = writeln!(out, "from above{}", stands_in(top));
        drawn(&mut out, top.bounds(), TOP_LINES, |x, y| {
            match top.at(x, y) {
                TopSpot::Part => '/',
                TopSpot::Uncut => '#',
                TopSpot::Cleared => '.',
                TopSpot::Beside => ' ',
            }
        });
        out.push_str("/ part  . cut away  # stays uncut\n");
        out
    }
}

fn stands_in(top: &TopView) -> &'static str {
    if top.stands_in {
        "; the outline is not known: a square of its area"
    } else {
        ""
    }
}

fn cutters(plan: &FeaturePlan) -> String {
    let mut names: Vec<&str> = plan.passes.iter().map(PlannedPass::cutter).collect();
    names.dedup();
    names.join(", then ")
}

/// How wide a character is, so that a field has room in so many lines.
fn step([[left, right], [bottom, top]]: [[f64; 2]; 2], lines: usize) -> f64 {
    let count = |n: usize| f64::from(u16::try_from(n).unwrap_or(u16::MAX));
    let (wide, high) = (right - left, top - bottom);
    (wide / count(COLUMNS)).max(high / (TALL * count(lines)))
}

/// Draws a field of characters: x to the right, y up, both to one scale.
fn drawn(
    out: &mut String,
    [[left, right], [bottom, top]]: [[f64; 2]; 2],
    lines: usize,
    at: impl Fn(f64, f64) -> char,
) {
    let step = step([[left, right], [bottom, top]], lines);
    let mut y = top - TALL * step / 2.0;
    while y > bottom {
        let mut line = String::new();
        let mut x = left + step / 2.0;
        while x < right {
            line.push(at(x, y));
            x += step;
        }
        let _ = writeln!(out, "  {}", line.trim_end());
        y -= TALL * step;
    }
}

/// Pictures of features as one SVG, one below the other.
pub fn svg(pictures: &[FeaturePicture]) -> String {
    const WIDE: f64 = 640.0;
    const HIGH: f64 = 360.0;
    const LINE: f64 = 24.0;
    let mut body = String::new();
    let mut y = 0.0;
    for (at, picture) in pictures.iter().enumerate() {
        let mut line = |y: f64, text: &str| {
            let _ = write!(
                body,
                "<text x=\"12\" y=\"{y:.0}\" font-family=\"sans-serif\" \
                 font-size=\"14\">{}</text>",
                escaped(text)
            );
        };
        line(y + LINE, &picture.title);
        line(y + 2.0 * LINE, &picture.side.says);
        let mut put = |svg: &str, y: f64| {
            let place = format!("<svg x=\"12\" y=\"{y:.0}\" width=\"{WIDE}\" height=\"{HIGH}\"");
            body.push_str(&svg.replacen("<svg", &place, 1));
        };
        y += 2.5 * LINE;
        put(&picture.side.svg(at), y);
        y += HIGH;
        if let Some(top) = &picture.top {
            put(&top.svg(at), y + LINE);
            y += HIGH + LINE;
        }
        y += LINE;
    }
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {:.0} {y:.0}\">\
         <rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>{body}</svg>\n",
        WIDE + 24.0
    )
}
