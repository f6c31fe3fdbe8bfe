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
        let steps = piece.steps(step_mm);
        let share = |k: f64| k / count(steps);
        let mut station = |field: &Self, k: usize| {
            let station = piece.station(share(count(k) + 0.5));
            see(&station, fan.look(field, &station));
        };
        // What a line has cut so far lies behind the front, unless a round end climbs.
        let climbs = end.corner_mm > 0.0 && piece.to[2] > piece.from[2];
        if piece.arc.is_none() && !climbs {
            (0..steps).for_each(|k| station(self, k));
            return self.cut_off(piece, end);
        }
        for k in 0..steps {
            station(self, k);
            let part = piece.part(share(count(k)), share(count(k + 1)));
            self.cut_off(&part, end);
        }
    }
}
