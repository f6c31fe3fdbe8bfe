//! Under the panels: which limit governs where, the shared axis, and the legend.

use super::{Across, LEFT, RIGHT, line, words};
use crate::sweep::governed::Stretch;
use crate::sweep::{Swept, hatch};
use feeds_core::limit::Limit;
use std::fmt::Write as _;

/// Height of a strip.
const STRIP: f64 = 20.0;
/// Height of a row of the legend, and its columns.
const ROW: f64 = 21.0;
const COLUMNS: usize = 3;

/// Draws a strip for each pass from `y` on; gives the lower edge.
pub(super) fn draw(
    out: &mut String,
    passes: &[Swept],
    governed: &[Vec<Stretch>],
    limits: &[&'static Limit],
    across: &Across,
    mut y: f64,
) -> f64 {
    for (at, stretches) in governed.iter().enumerate() {
        let label = match passes.len() {
            1 => "first".to_owned(),
            _ => format!("pass {}", at + 1),
        };
        words(out, (LEFT - 8.0, y + 14.0), "end", 11.0, &label);
        for stretch in stretches {
            let (from, to) = (across.x(stretch.from), across.x(stretch.to));
            let place = limits.iter().position(|l| Some(*l) == stretch.limit);
            let fill = place.map_or_else(|| "none".to_owned(), hatch::fill);
            let _ = writeln!(
                out,
                "<rect x=\"{from:.1}\" y=\"{y:.1}\" width=\"{:.1}\" height=\"{STRIP}\" \
                 fill=\"{fill}\" stroke=\"black\"/>",
                to - from
            );
            if let Some(place) = place.filter(|_| to - from > 24.0) {
                number(out, (f64::midpoint(from, to), y + STRIP / 2.0), place);
            }
        }
        y += STRIP + 4.0;
    }
    y
}

/// The marks and the name of the axis; gives the lower edge.
pub(super) fn axis(out: &mut String, across: &Across, name: &str, y: f64) -> f64 {
    for mark in across.axis.marks() {
        let x = across.x(mark * across.unit.size);
        line(out, (x, y - 4.0), (x, y + 2.0), "none", 1.0);
        words(out, (x, y + 15.0), "middle", 11.0, &across.axis.label(mark));
    }
    words(
        out,
        (f64::midpoint(LEFT, RIGHT), y + 34.0),
        "middle",
        12.0,
        name,
    );
    y + 44.0
}

/// What each hatching stands for; gives the lower edge.
pub(super) fn legend(out: &mut String, limits: &[&'static Limit], y: f64) -> f64 {
    let column = (RIGHT - LEFT) / 3.0;
    let mut rows = 0.0;
    for (row, chunk) in limits.chunks(COLUMNS).enumerate() {
        let mut x = LEFT;
        let top = y + rows * ROW;
        for (i, limit) in chunk.iter().enumerate() {
            let place = row * COLUMNS + i;
            let _ = writeln!(
                out,
                "<rect x=\"{x:.1}\" y=\"{top:.1}\" width=\"30\" height=\"15\" fill=\"{}\" \
                 stroke=\"black\"/>",
                hatch::fill(place)
            );
            number(out, (x + 15.0, top + 7.5), place);
            words(out, (x + 36.0, top + 12.0), "start", 11.0, limit.title);
            x += column;
        }
        rows += 1.0;
    }
    y + rows * ROW
}

/// The number of a limit, on white.
fn number(out: &mut String, centre: (f64, f64), place: usize) {
    let _ = writeln!(
        out,
        "<rect x=\"{:.1}\" y=\"{:.1}\" width=\"13\" height=\"12\" fill=\"white\"/>",
        centre.0 - 6.5,
        centre.1 - 6.0
    );
    words(
        out,
        (centre.0, centre.1 + 4.0),
        "middle",
        11.0,
        &(place + 1).to_string(),
    );
}
