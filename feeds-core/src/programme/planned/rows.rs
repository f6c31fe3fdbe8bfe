//! Planned against posted: the step to the side between parallel rows.
//!
//! Without the stock, a width is known only of rows: long lines side by side at one height. The
//! third of them at the same step cuts that step, whatever the first one met.

use super::super::checks::{name, place};
use super::super::finding::{self as f, Findings};
use super::super::modal::Modal;
use super::super::motion::{Motion, MoveKind, Tool};
use super::super::setting::{AS_PLANNED, ProgrammeTool};
use super::called;
use super::levels::NOISE;

/// Rows that are kept of a level: enough for both sides of a pocket cleared in loops.
const MOST: usize = 16;
/// Directions that differ by no more than this are one (a thousandth of the run of a row, what is
/// left of rounded positions).
const PARALLEL: f64 = 1e-3;
/// Steps that differ by no more than this share are the same step: rows of equal steps are posted
/// with rounded positions.
const SAME_STEP: f64 = 0.01;

/// Shares of the planned width are told apart to this.
const SAME_USE: f64 = 1e-4;

/// A long line at one height.
#[derive(Clone, Copy, Debug)]
struct Row {
    direction: [f64; 2],
    /// Its distance from the origin, to the left of its direction, and where along it begins and
    /// ends, mm.
    across: f64,
    along: (f64, f64),
    /// How far it lies beside the row before, with the side.
    step: Option<f64>,
}

impl Row {
    fn of(motion: &Motion) -> Self {
        let run = [0, 1].map(|a| motion.to[a] - motion.from[a]);
        let length = run[0].hypot(run[1]);
        // There and back are one direction.
        let back = run[0] < -PARALLEL * length || run[0] < PARALLEL * length && run[1] < 0.0;
        let sign = if back { -1.0 } else { 1.0 };
        let direction = run.map(|a| sign * a / length);
        let dot = |p: [f64; 3], d: [f64; 2]| p[0] * d[0] + p[1] * d[1];
        let (from, to) = (dot(motion.from, direction), dot(motion.to, direction));
        Self {
            direction,
            across: dot(motion.from, [-direction[1], direction[0]]),
            along: (from.min(to), from.max(to)),
            step: None,
        }
    }

    /// How far another row lies beside it, where they run side by side.
    fn beside(&self, other: &Self) -> Option<f64> {
        let turn = self.direction[0] * other.direction[1] - self.direction[1] * other.direction[0];
        let together = self.along.1.min(other.along.1) - self.along.0.max(other.along.0);
        let shorter = (self.along.1 - self.along.0).min(other.along.1 - other.along.0);
        let step = other.across - self.across;
        (turn.abs() <= PARALLEL && together > shorter / 2.0 && step.abs() > NOISE).then_some(step)
    }
}

/// The rows of one tool at one height, in one pass.
#[derive(Debug, Default)]
pub(super) struct Rows {
    of: Option<(usize, u64)>,
    rows: Vec<Row>,
}

impl Rows {
    /// A cut at one height.
    pub(super) fn cut(
        &mut self,
        motion: &Motion,
        pass: Option<usize>,
        tool: &ProgrammeTool,
        modal: &Modal,
        findings: &mut Findings,
    ) {
        let Some((pass, diameter)) = pass.zip(tool.diameter_mm()) else {
            return;
        };
        let planned = &tool.planned[pass];
        let Some(width) = planned.path.width_mm.filter(|w| *w < diameter) else {
            return;
        };
        if motion.kind != MoveKind::Line || motion.length < diameter {
            return;
        }
        let of = Some((pass, motion.to[2].to_bits()));
        if self.of != of {
            (self.of, self.rows) = (of, Vec::new());
        }
        let mut row = Row::of(motion);
        let near = self
            .rows
            .iter()
            .filter_map(|r| Some((r.beside(&row)?, r.step)));
        let near = near.min_by(|a, b| a.0.abs().total_cmp(&b.0.abs()));
        if let Some((step, before)) = near.filter(|(step, _)| step.abs() < diameter) {
            row.step = Some(step);
            let again = before.is_some_and(|b| (step - b).abs() <= SAME_STEP * step.abs());
            let posted = step.abs();
            if again && posted > width * (1.0 + AS_PLANNED) + NOISE {
                // Rows that differ by rounding alone are told where the first of them is.
                let used = (posted / width / SAME_USE).round() * SAME_USE;
                findings.worst(place(motion), f::ROWS_APART, Some(tool.number), used, || {
                    format!(
                        "{} steps {} to the side from row to row, planned for {} was a width of \
                         {}: post it with the planned width, or plan the wider one",
                        name(Tool::Chosen(tool.number)),
                        modal.length(posted),
                        called(planned),
                        modal.length(width)
                    )
                });
            }
        }
        if self.rows.len() == MOST {
            self.rows.remove(0);
        }
        self.rows.push(row);
    }
}
