//! A plan of a feature: its passes, what they leave, how long they take, what holds them back.

use super::advice::{Advice, WallOff};
use super::candidate::hair;
use super::stage::{FeatureStage, GoesIn};
use crate::pass::answered::Answered;
use crate::pass::decision;
use crate::pass::description::Description;
use crate::pass::field::Key;
use feeds_core::cut::Path;
use feeds_core::feature::way::Way;
use feeds_core::limit::{Check, Found};
use feeds_core::plan::limits::{DEPTH_GUIDE, PLAY, TIPPING, WALL};
use feeds_core::quantity::{Length, Quantity, Time, Velocity, Volume};
use feeds_core::symbol::System;
use feeds_core::verdict::{Verdict, because};
use std::f64::consts::PI;

/// What to do where a wall is straight and its pass, fed for hollow ones, only rubs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StraightFeed {
    /// At that feed it cuts.
    Cuts(Velocity),
    /// None that was tried cuts there.
    Rubs,
}

impl StraightFeed {
    fn advice(self) -> Advice {
        Advice::RubsStraight(match self {
            Self::Cuts(feed) => Some(feed),
            Self::Rubs => None,
        })
    }
}

/// A pass of a plan, worked out.
#[derive(Clone, Debug)]
pub struct PlannedPass {
    /// What it is for.
    pub stage: FeatureStage,
    /// Its own entries.
    pub texts: Description,
    /// The diameter of its cutter.
    pub diameter: Length,
    /// In how many levels.
    pub levels: u32,
    /// How it gets in.
    pub way_in: GoesIn,
    /// The way of the cutter's centre: all levels and rounds, ways in.
    pub way: Way,
    /// How long that takes.
    pub time: Time,
    /// What it removes.
    pub removes: Volume,
    /// From its floor to its top.
    pub top: Length,
    /// What to do where a hollow wall is straight, if it only rubs there.
    pub rubs_straight: Option<StraightFeed>,
    /// What stays on the walls behind it.
    pub left_wall: Length,
    /// What stays on the floor behind it.
    pub left_floor: Length,
    /// Whether it goes around twice, the second time without taking more.
    pub spring: bool,
    /// The answer.
    pub answered: Answered,
    /// Entries that were typed by hand and stay.
    pub typed: Vec<&'static str>,
}

impl PlannedPass {
    /// What it comes to, with what its checks do not see.
    pub fn verdict(&self) -> Verdict {
        let checks = Verdict::of(&self.answered.plan.checks);
        let rubs = self.rubs_straight.is_some();
        let cares = rubs || self.wall_off().is_some() || self.tips().is_some();
        let tips = self.tips().is_some_and(|used| used > 1.0);
        let seen = match (tips, cares) {
            (true, _) => Verdict::Stop,
            (false, true) => Verdict::Care,
            (false, false) => Verdict::Run,
        };
        checks.max(seen)
    }

    /// How far a finished wall comes out off by play, backlash and bending together, where that is
    /// more than it may be, and how far without the backlash. Walls across from each other are met
    /// from both sides; around a hole the play of the pass has the backlash in it.
    pub fn wall_off(&self) -> Option<WallOff> {
        let setup = &self.answered.resolved.setup;
        let tolerance = setup.cut.tolerance;
        let tolerance = tolerance.filter(|_| self.stage == FeatureStage::Walls)?;
        let machine = setup.machine.as_ref();
        let backlash = machine.and_then(|machine| machine.backlash);
        let backlash = backlash.unwrap_or_default();
        let off = match setup.cut.path {
            Path::Bore => self.off()?,
            _ => self.off()? + backlash,
        };
        let rest = off - backlash;
        (off > tolerance).then_some(WallOff {
            off,
            rest,
            tolerance,
        })
    }

    /// How far play and bending together leave a wall off, where a tolerance was given.
    pub(super) fn off(&self) -> Option<Length> {
        let of = |limit: &str| Some(self.answered.plan.check(limit)?.value()?.si);
        Some(Length::from_si(of(PLAY.name)? + of(WALL.name)?))
    }

    /// What the highest level uses of what the hold takes against tipping, where that is more than
    /// is wanted: a pass is judged at the height of its floor above the jaws.
    pub fn tips(&self) -> Option<f64> {
        let setup = &self.answered.resolved.setup;
        let plan = &self.answered.plan;
        let height = setup.hold.as_ref()?.height?;
        let check = plan.check(TIPPING.name)?;
        let Found::Known { bound, .. } = check.found else {
            return None;
        };
        let lever = height + self.top - setup.cut.a_p / 2.0;
        let loads = plan.moments.iter().filter_map(|(_, loads)| *loads);
        let lateral = loads.map(|loads| loads.lateral);
        let moment = lateral.fold(0.0, f64::max) * lever.si();
        let used = moment / bound.si();
        (lever > height && used > 1.0 - check.wanted).then_some(used)
    }

    /// The runout at which every edge cuts and none takes more than half as much again, where it
    /// leaves one without a chip.
    fn true_up(&self) -> Option<Length> {
        let plan = &self.answered.plan;
        let edges = &plan.edges;
        let z = self.answered.resolved.setup.cutter.edges;
        let gain = (PI / f64::from(z)).sin();
        (edges.at_work() < edges.feeds.len()).then(|| plan.f_z / 2.0 / gain)
    }

    /// The name of its cutter.
    pub fn cutter(&self) -> &str {
        self.texts.get(Key::Cutter).unwrap_or_default()
    }

    /// How far it is beyond what is allowed, in tenths, all checks together; what is not known
    /// counts as one.
    pub fn beyond(&self) -> u32 {
        let over = |used: f64| {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "between nothing and the most that counts"
            )]
            let tenths = ((used - 1.0) * 10.0).clamp(0.0, MOST_BEYOND).ceil() as u32;
            tenths
        };
        let checks = because(&self.answered.plan.checks);
        let checks: u32 = checks.map(|check| check.used().map_or(1, over)).sum();
        let off = self.wall_off();
        let off = off.map_or(0, |wall| over((wall.off / wall.tolerance).si()));
        let deep = over(self.deeper() / DEEPEST);
        checks
            + off
            + deep
            + u32::from(self.rubs_straight.is_some())
            + self.tips().map_or(0, |used| 1 + over(used))
    }

    /// What to mind of it that its checks do not see.
    pub(super) fn minds(&self) -> impl Iterator<Item = (FeatureStage, Advice)> {
        let long = self.time > of_an_edge();
        let minds = [
            self.wall_off().map(Advice::WallOff),
            self.rubs_straight.map(StraightFeed::advice),
            self.tips().map(Advice::Tips),
            long.then_some(Advice::ChangeCutter),
            self.true_up().map(Advice::TrueUp),
        ];
        let minds = minds.into_iter().flatten();
        minds.map(|advice| (self.stage, advice))
    }

    /// What to mind of the jaws, where it passes beyond the sides of the part and goes so far below
    /// its foot; nothing where nobody said how high that stands.
    pub(super) fn jaws(&self, dips: Length, clear: Length) -> Option<(FeatureStage, Advice)> {
        let height = self.answered.resolved.setup.hold.as_ref()?.height?;
        let gap = height - dips;
        let advice = if gap < -hair() {
            Advice::IntoJaws(-gap)
        } else {
            Advice::OverJaws(gap)
        };
        (gap < clear).then_some((self.stage, advice))
    }

    /// Its depth over the usual one, where that is known.
    fn deeper(&self) -> f64 {
        let check = self.answered.plan.check(DEPTH_GUIDE.name);
        check.and_then(Check::used).unwrap_or_default()
    }

    /// Whether more levels are wanted, though no limit asks for them.
    pub(super) fn is_too_deep(&self) -> bool {
        self.deeper() > DEEPEST
    }

    /// What it leaves for those behind it, and whether it goes around once more.
    fn leaves(&self) -> Vec<Advice> {
        let some = |left: &Length| left.si() > 0.0;
        let walls = Some(self.left_wall).filter(some).map(Advice::LeaveWalls);
        let floor = Some(self.left_floor).filter(some).map(Advice::LeaveFloor);
        let again = self.spring.then_some(Advice::OnceMore);
        walls.into_iter().chain(floor).chain(again).collect()
    }

    /// What holds it back, in a clause; nothing where it runs.
    pub fn held_back(&self) -> Option<String> {
        let check = because(&self.answered.plan.checks).next()?;
        let clause = decision::clause(check);
        Some(format!("{}: {clause}", self.stage.word()))
    }
}

/// How long an edge lasts at the cutting speeds of books (common practice).
fn of_an_edge() -> Time {
    Time::from_si(15.0 * 60.0)
}

/// A volume that is nothing: a thousandth of a cubic millimetre.
pub(super) fn nothing() -> Volume {
    Volume::from_si(1e-12)
}

/// A level is at most so many times as deep as is usual (common practice).
const DEEPEST: f64 = 3.0;

/// A check that is further beyond counts no more.
const MOST_BEYOND: f64 = 1000.0;

/// A plan of a feature.
#[derive(Clone, Debug)]
pub struct FeaturePlan {
    /// How the rough is cut, as scripts and job files name it.
    pub how: &'static str,
    /// How the rough is cut, in words.
    pub cuts: &'static str,
    /// Its passes, in order.
    pub passes: Vec<PlannedPass>,
    /// What stays where no cutter of the plan gets.
    pub leaves: Volume,
    /// Why an obvious way fell out.
    pub instead: Option<String>,
    /// What to mind of its passes, beside what each leaves.
    pub minds: Vec<(FeatureStage, Advice)>,
}

impl FeaturePlan {
    /// What tells it from the other plans of its feature.
    pub fn title(&self) -> String {
        let first = self.passes.first().map_or("", PlannedPass::cutter);
        format!("{} with {first}", self.how)
    }

    /// The worst of its passes, and of what is to be minded.
    pub fn verdict(&self) -> Verdict {
        let each = self.passes.iter().map(PlannedPass::verdict);
        let minds = self.minds.iter().map(|(_, advice)| advice.verdict());
        each.chain(minds).max().unwrap_or(Verdict::Run)
    }

    /// What one of its passes comes to, with what is to be minded of it.
    pub fn verdict_of(&self, pass: &PlannedPass) -> Verdict {
        let minds = self.advice(pass).into_iter().map(Advice::verdict);
        minds.fold(pass.verdict(), Verdict::max)
    }

    /// What it says of a pass: what the pass leaves, and what to mind of it.
    pub fn advice(&self, pass: &PlannedPass) -> Vec<Advice> {
        let minds = self.minds.iter().filter(|(stage, _)| *stage == pass.stage);
        let mut advice = pass.leaves();
        advice.extend(minds.map(|(_, advice)| *advice));
        advice
    }

    /// How long it takes, cutter changes apart.
    pub fn time(&self) -> Time {
        let times = self.passes.iter().map(|pass| pass.time.si());
        Time::from_si(times.sum::<f64>() + 0.0)
    }

    /// What holds it back: a clause of each pass that does not run, and of what asks for care.
    pub fn because(&self, system: System) -> Vec<String> {
        let mut passes: Vec<&PlannedPass> = self.passes.iter().collect();
        // The worst first; of equals, the one that is cut first.
        passes.sort_by_key(|pass| std::cmp::Reverse(pass.verdict()));
        let held = passes.into_iter().filter_map(PlannedPass::held_back);
        let cares = self.minds.iter().filter(|(_, advice)| advice.cares());
        let cares =
            cares.map(|(stage, advice)| format!("{}: {}", stage.word(), advice.says(system)));
        held.chain(cares).collect()
    }

    /// Whether metal is left in the corners that should not be there.
    pub(super) fn leaves_corners(&self) -> bool {
        self.leaves > nothing()
    }
}

/// The plans of a feature that are worth knowing.
#[derive(Clone, Debug)]
pub struct FeaturePlans {
    /// What it is called.
    pub name: String,
    /// Its kind, as a word.
    pub kind: &'static str,
    /// What has to be removed.
    pub volume: Volume,
    /// The plans, the one to take first; never none.
    pub plans: Vec<FeaturePlan>,
    /// What was decided that nobody asked for, and what fell out.
    pub notes: Vec<String>,
    /// Where nothing runs: what would open it.
    pub opens: Vec<String>,
}
