//! The plan of a rounded surface: stairs with one cutter, then a ball, once over what is coarse.

use super::advice::Advice;
use super::candidate::{ALONG_WALL, larger, smaller};
use super::cutters::Fitting;
use super::plan::{FeaturePlan, PlannedPass};
use super::rough::Made;
use super::scan::{Shopfloor, Task};
use super::stage::{FeatureStage, GoesIn};
use crate::pass::field::Key;
use crate::pass::resolve::Shelves;
use feeds_core::feature::dome::Dome;
use feeds_core::feature::way::Way;
use feeds_core::quantity::{Length, Quantity, Volume};

impl<S: Shelves> Shopfloor<'_, S> {
    /// The plan of a rounded surface: stairs with one cutter, finished with a ball.
    pub(super) fn domed(
        &mut self,
        dome: Dome,
        (cutter, ball): (&Fitting, &Fitting),
        jaw_clear: Length,
    ) -> Made {
        let d = cutter.cutter.diameter;
        let round = ball.cutter.diameter;
        // What a finish cuts and does not rub on, left on the round by all that comes before it.
        let least = self.least_on_floor(round);
        let task = Task {
            stage: FeatureStage::Rough,
            cutter,
            texts: vec![(Key::Path, "side".to_owned())],
            depth: dome.height(),
            least: LEAST_STAIRS,
            way_in: GoesIn::Open,
            left_wall: Length::default(),
            left_floor: Length::default(),
        };
        let widths = ALONG_WALL.map(|share| d * share);
        // The way of all stairs over their number, for it is taken as often as there are levels.
        let way = |width: Length, levels: u32| {
            let all = dome.rough_way(levels, least, d, width);
            Way {
                length: all.length / f64::from(levels),
                legs: all.legs / f64::from(levels),
            }
        };
        let removes = |levels| dome.roughed(levels, least);
        let (rough, _) = self.best(&task, &widths, way, removes)?;
        let stairs = dome.height() / f64::from(rough.levels);
        let smooth: Volume = dome.volume() - rough.removes;
        let fine = dome.step(round);
        let mut pass = |stage, depth, step: Length, removes| {
            let task = Task {
                stage,
                cutter: ball,
                texts: vec![(Key::Path, "ball-finish".to_owned())],
                depth,
                least: 1,
                ..task.clone()
            };
            // A ball goes over the surface once, however deep the stairs are.
            self.once(&task, step, |step, _| dome.ball_way(round, step), removes)
        };
        let mut passes = vec![rough];
        let mut minds = vec![(FeatureStage::Rough, Advice::LeaveRound(least))];
        // The stairs come off in wide steps before: what they leave is as even as the ball bears,
        // some ridges of the coarse steps, and no less than a finish cuts.
        let wanted = larger(dome.cusp * (COARSE * COARSE), least);
        let coarse = fine * (wanted / dome.cusp).si().sqrt();
        let coarse = smaller(coarse, round / 4.0);
        let ridges = dome.cusp * ((coarse / fine) * (coarse / fine)).si();
        if coarse > fine && ridges < stairs {
            let under = dome.under_ridges(ridges) + dome.under_skin(least);
            let stage = FeatureStage::SemiFinish;
            passes.push(pass(stage, stairs, coarse, smooth - under)?);
            passes.push(pass(FeatureStage::Surface, ridges + least, fine, under)?);
            minds.push((stage, Advice::LeaveRound(least)));
        } else {
            passes.push(pass(FeatureStage::Surface, stairs + least, fine, smooth)?);
        }
        if let Some(surface) = passes.last() {
            let dips = dome.dips(round);
            minds.push((surface.stage, Advice::Ridges(dome.cusp)));
            minds.push((surface.stage, Advice::Dips(dips)));
            minds.extend(surface.jaws(dips, jaw_clear));
        }
        minds.extend(passes.iter().flat_map(PlannedPass::minds));
        Ok(FeaturePlan {
            how: "stairs, then a ball",
            cuts: "stairs, then a ball,",
            passes,
            leaves: Volume::default(),
            instead: None,
            minds,
        })
    }
}

/// Steps of the coarse ball over those of the fine one (common practice).
const COARSE: f64 = 3.0;
/// Stairs of fewer levels leave the ball most of the work.
const LEAST_STAIRS: u32 = 4;
