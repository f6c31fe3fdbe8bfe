//! The lobes on a terminal: what lies over them chatters.

use super::Quiet;
use crate::sweep::axis::Axis;
use crate::sweep::panel::unit;
use feeds_core::quantity::{Quantity, SpindleSpeed};
use feeds_core::symbol::{self as s, System};
use std::fmt::Write as _;

/// Rows of the picture.
const ROWS: u32 = 12;
/// Signs left of it.
const LABEL: usize = 7;
/// What chatters, what is quiet, and where the pass is.
const SIGNS: [char; 3] = ['▒', ' ', '@'];

/// Depths over which nothing more is drawn: those of the best pocket, or of the pass.
pub fn top(quiet: &Quiet) -> f64 {
    let pockets = quiet.pockets.iter().filter_map(|p| p.at.depth());
    let curve = quiet.curve.iter().filter_map(|p| p.at.depth());
    let highest = pockets.chain(curve).map(Quantity::si).fold(0.0, f64::max);
    let floor = quiet.least.map_or(highest, |(a, _)| 8.0 * a.si());
    highest.min(floor).max(1.15 * quiet.a_p.si())
}

/// The picture in 80 columns.
pub fn chart(quiet: &Quiet, system: System) -> String {
    let unit = unit(&s::A_STABLE, system);
    let axis = Axis::over([0.0, top(quiet) / unit.size], 4.0);
    let mut out = format!(
        "depth [{}] over rpm: {} chatters, {} is this pass\n",
        unit.text, SIGNS[0], SIGNS[2]
    );
    let [least, most] = quiet.range.map(SpindleSpeed::in_per_minute);
    let last = quiet.curve.len().saturating_sub(1);
    let share = ((quiet.n.in_per_minute() - least) / (most - least)).clamp(0.0, 1.0);
    let column = place(share * real(last / 2));
    let height = axis.most / f64::from(ROWS);
    let row_of = |value: f64| place((f64::from(ROWS) - value / height - 0.5).max(0.0));
    let marks: Vec<(usize, String)> = axis
        .marks()
        .map(|m| (row_of(m).min(ROWS as usize - 1), axis.label(m)))
        .collect();
    for row in 0..ROWS {
        let middle = (f64::from(ROWS - row) - 0.5) * height;
        let label = marks.iter().find(|(at, _)| *at == row as usize);
        let label = label.map_or("", |(_, text)| text.as_str());
        let _ = write!(out, "{label:>LABEL$} |");
        let mut line = String::new();
        for (k, point) in quiet.curve.iter().step_by(2).enumerate() {
            let stable = point.at.depth().map_or(f64::INFINITY, Quantity::si);
            let is_pass = k == column && row_of(quiet.a_p.si() / unit.size) == row as usize;
            line.push(match (is_pass, middle * unit.size > stable) {
                (true, _) => SIGNS[2],
                (false, true) => SIGNS[0],
                (false, false) => SIGNS[1],
            });
        }
        out.push_str(line.trim_end());
        out.push('\n');
    }
    let ends = [least, most].map(|n| format!("{n:.0}"));
    let between = (last / 2 + 1).saturating_sub(ends[0].len() + ends[1].len());
    let _ = writeln!(
        out,
        "{:LABEL$}  {}{:between$}{}",
        "rpm", ends[0], "", ends[1]
    );
    out
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a row or a column; a cast saturates"
)]
fn place(value: f64) -> usize {
    value.round() as usize
}

#[expect(clippy::cast_precision_loss, reason = "a count of columns")]
fn real(count: usize) -> f64 {
    count as f64
}
