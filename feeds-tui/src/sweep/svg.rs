//! A varied pass as a picture: four curves over one axis, and which limit governs where.
//!
//! Black on white: passes differ by the dashes of their lines, limits by their hatching and a
//! number that the legend repeats.

mod panel;
mod strip;

use super::axis::Axis;
use super::governed::{Stretch, limits, stretches};
use super::panel::{PANELS, unit};
use super::{SweepRange, Swept, extrapolation, hatch};
use crate::sheet::html::escaped;
use feeds_core::quantity::Unit;
use feeds_core::symbol::System;
use std::fmt::Write as _;

/// Width of the picture.
const WIDTH: f64 = 760.0;
/// Where the curves begin and end.
const LEFT: f64 = 84.0;
const RIGHT: f64 = WIDTH - 24.0;
/// Height of a panel, and what lies between two.
const PANEL: f64 = 124.0;
const GAP: f64 = 30.0;

/// How the lines of a pass are drawn.
const DASHES: [&str; 2] = ["none", "9 5"];

/// The picture. At most two passes are drawn.
///
/// # Takes
/// `title` one line over the picture.
pub fn svg(title: &str, range: &SweepRange, passes: &[Swept], system: System) -> String {
    let passes = &passes[..passes.len().min(DASHES.len())];
    let governed: Vec<Vec<Stretch>> = passes.iter().map(|p| stretches(&p.points)).collect();
    let limits = limits(governed.iter().flatten());
    let unit = unit(range.symbol, system);
    let across = Across {
        axis: Axis::between(range.from / unit.size, range.to / unit.size, 8.0),
        unit,
    };
    let mut body = String::new();
    words(&mut body, (LEFT, 26.0), "start", 15.0, title);
    let mut y = legend_of_lines(&mut body, passes, 46.0) + 34.0;
    for panel in &PANELS {
        panel::draw(&mut body, panel, passes, &across, (y, system));
        for stretch in governed
            .iter()
            .flatten()
            .skip_while(|s| s.from <= range.from)
        {
            if stretch.from > range.from {
                let x = across.x(stretch.from);
                line(&mut body, (x, y), (x, y + PANEL), "1 4", 0.8);
            }
        }
        y += PANEL + GAP;
    }
    y = strip::draw(
        &mut body,
        passes,
        &governed,
        &limits,
        &across,
        y - GAP + 8.0,
    );
    y = strip::axis(&mut body, &across, &range.heading(system), y);
    y = strip::legend(&mut body, &limits, y);
    if let Some(said) = extrapolation(passes) {
        y += 12.0;
        let said = format!("force and bending {said}");
        words(&mut body, (LEFT, y), "start", 11.0, &said);
    }
    let height = y + 12.0;
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{WIDTH}\" height=\"{height:.0}\" \
         viewBox=\"0 0 {WIDTH} {height:.0}\" font-family=\"sans-serif\" font-size=\"12\">\n\
         <title>{}</title>\n\
         <rect width=\"100%\" height=\"100%\" fill=\"white\"/>\n{}{body}</svg>\n",
        escaped(title),
        hatch::definitions()
    )
}

/// The axis all panels share.
struct Across {
    axis: Axis,
    unit: &'static Unit,
}

impl Across {
    /// Where a value of the varied entry, in SI base units, lies.
    fn x(&self, si: f64) -> f64 {
        LEFT + self.axis.share(si / self.unit.size) * (RIGHT - LEFT)
    }
}

/// Which line is whose; gives the lower edge.
fn legend_of_lines(out: &mut String, passes: &[Swept], y: f64) -> f64 {
    let mut x = LEFT;
    let mut entry = |name: &str, dash: &str, wide: f64| {
        line(out, (x, y - 4.0), (x + 34.0, y - 4.0), dash, wide);
        words(out, (x + 40.0, y), "start", 12.0, name);
        x += 40.0 + 7.0 * width(name) + 24.0;
    };
    for (swept, dash) in passes.iter().zip(DASHES) {
        entry(swept.name(), dash, 1.8);
    }
    entry("chip floor h_min, below it the edge rubs", "1.5 3", 1.4);
    y
}

#[expect(clippy::cast_precision_loss, reason = "a name of a few dozen letters")]
fn width(name: &str) -> f64 {
    name.chars().count() as f64
}

fn line(out: &mut String, from: (f64, f64), to: (f64, f64), dash: &str, wide: f64) {
    let _ = writeln!(
        out,
        "<line x1=\"{:.1}\" y1=\"{:.1}\" x2=\"{:.1}\" y2=\"{:.1}\" stroke=\"black\" \
         stroke-width=\"{wide}\" stroke-dasharray=\"{dash}\"/>",
        from.0, from.1, to.0, to.1
    );
}

/// Words at a place: `start`, `middle` or `end` of them stands there.
pub fn words(out: &mut String, at: (f64, f64), anchor: &str, size: f64, text: &str) {
    let _ = writeln!(
        out,
        "<text x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"{anchor}\" font-size=\"{size}\">{}</text>",
        at.0,
        at.1,
        escaped(text)
    );
}
