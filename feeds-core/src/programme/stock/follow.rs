//! A piece carried out and looked at step by step.

use super::StockEnd;
use super::cells::{StockField, count};
use super::course::{CoursePiece, CourseStation};
use super::engagement::Engagement;
use super::fan::Fan;

impl StockField {
    /// Carries out a piece in steps of about `step_mm`, each looked at before it is cut off. A step
    /// should be two cells or longer.
    pub fn follow(
        &mut self,
        piece: &CoursePiece,
        end: &StockEnd,
        fan: &mut Fan,
        step_mm: f64,
        mut see: impl FnMut(&CourseStation, &Engagement),
    ) {
        self.carry_out(piece, end, step_mm, |field, station| {
            see(station, fan.look(field, station));
        });
    }

    /// Carries out a piece so, and halts at the middle of each step before it is cut off.
    pub(crate) fn carry_out(
        &mut self,
        piece: &CoursePiece,
        end: &StockEnd,
        step_mm: f64,
        mut halt: impl FnMut(&Self, &CourseStation),
    ) {
        // What a line has cut so far lies behind the front, unless a round end climbs.
        let climbs = end.corner_mm > 0.0 && piece.to[2] > piece.from[2];
        let stations = piece.stations(step_mm);
        if piece.arc.is_none() && !climbs {
            stations.for_each(|station| halt(self, &station));
            return self.cut_off(piece, end);
        }
        let steps = count(piece.steps(step_mm));
        for (k, station) in stations.enumerate() {
            halt(self, &station);
            let part = piece.part(count(k) / steps, count(k + 1) / steps);
            self.cut_off(&part, end);
        }
    }
}
