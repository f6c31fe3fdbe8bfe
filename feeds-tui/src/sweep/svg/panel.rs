//! One panel: frame, marks, curves.

use super::{Across, DASHES, LEFT, PANEL, RIGHT, line, words};
use crate::sweep::panel::Panel;
use crate::sweep::{Swept, hatch};
use feeds_core::symbol::System;
use std::fmt::Write as _;

/// Draws a panel with its upper edge at `y`.
pub(super) fn draw(
    out: &mut String,
    panel: &Panel,
    passes: &[Swept],
    across: &Across,
    (y, system): (f64, System),
) {
    let (axis, size) = panel.scale(passes, system, 4.0);
    let height = |v: f64| y + PANEL - axis.share(v / size) * PANEL;
    let heading = panel.heading(passes, axis, system);
    words(out, (LEFT, y - 7.0), "start", 12.0, &heading);
    if panel.is_use() && axis.most > 1.0 / size {
        let all = height(1.0);
        let _ = writeln!(
            out,
            "<rect x=\"{LEFT}\" y=\"{y:.1}\" width=\"{:.1}\" height=\"{:.1}\" fill=\"{}\" \
             opacity=\"0.35\"/>",
            RIGHT - LEFT,
            all - y,
            hatch::fill(0)
        );
        line(out, (LEFT, all), (RIGHT, all), "none", 1.2);
        boxed(out, (RIGHT - 6.0, y + 14.0), "beyond the limit");
    }
    for mark in axis.marks() {
        let at = height(mark * size);
        line(out, (LEFT - 4.0, at), (LEFT, at), "none", 1.0);
        words(out, (LEFT - 8.0, at + 4.0), "end", 11.0, &axis.label(mark));
    }
    for mark in across.axis.marks() {
        let x = across.x(mark * across.unit.size);
        line(out, (x, y + PANEL), (x, y + PANEL + 4.0), "none", 1.0);
    }
    let clip = format!("c{y:.0}");
    let _ = writeln!(
        out,
        "<clipPath id=\"{clip}\"><rect x=\"{LEFT}\" y=\"{y:.1}\" width=\"{:.1}\" \
         height=\"{PANEL}\"/></clipPath>\n<g clip-path=\"url(#{clip})\">",
        RIGHT - LEFT
    );
    for (swept, dash) in passes.iter().zip(DASHES) {
        for run in panel.floor(swept) {
            curve(out, &run, across, &height, ("1.5 3", 1.4));
        }
        for run in panel.curve(swept) {
            curve(out, &run, across, &height, (dash, 1.8));
        }
    }
    out.push_str("</g>\n");
    let _ = writeln!(
        out,
        "<rect x=\"{LEFT}\" y=\"{y:.1}\" width=\"{:.1}\" height=\"{PANEL}\" fill=\"none\" \
         stroke=\"black\"/>",
        RIGHT - LEFT
    );
}

fn curve(
    out: &mut String,
    run: &[(f64, f64)],
    across: &Across,
    height: &impl Fn(f64) -> f64,
    (dash, wide): (&str, f64),
) {
    let points: Vec<String> = run
        .iter()
        .map(|&(at, v)| format!("{:.1},{:.1}", across.x(at), height(v)))
        .collect();
    let _ = writeln!(
        out,
        "<polyline points=\"{}\" fill=\"none\" stroke=\"black\" stroke-width=\"{wide}\" \
         stroke-dasharray=\"{dash}\" stroke-linejoin=\"round\"/>",
        points.join(" ")
    );
}

/// Words on white, so that no hatching runs through them; `at` is their lower right end.
pub(super) fn boxed(out: &mut String, at: (f64, f64), text: &str) {
    let wide = 6.6 * super::width(text) + 6.0;
    let _ = writeln!(
        out,
        "<rect x=\"{:.1}\" y=\"{:.1}\" width=\"{wide:.1}\" height=\"15\" fill=\"white\"/>",
        at.0 - wide + 3.0,
        at.1 - 11.5
    );
    words(out, at, "end", 11.0, text);
}
