//! One pass, tried in levels and widths: the fewest levels that run.

use super::cutters::Fitting;
use super::plan::{PlannedPass, StraightFeed};
use super::stage::{FeatureStage, GoesIn};
use super::tries::PlanTries;
use crate::pass::answered::{Answered, answered};
use crate::pass::description::Description;
use crate::pass::field::Key;
use crate::pass::resolve::Shelves;
use crate::store::job::{Job, Pass};
use feeds_core::cut::Descent;
use feeds_core::error::EntryError;
use feeds_core::feature::level::steps;
use feeds_core::feature::time::time;
use feeds_core::feature::way::{Way, helix, ramp};
use feeds_core::plan::{Planner, limits};
use feeds_core::quantity::{Acceleration, Length, Quantity, Time, Velocity, Volume, unit};
use feeds_core::symbol::{self as s, System};
use feeds_core::verdict::Verdict;
use reference_tables::Tables;

/// Where plans are made: the job, its shelves, what the axes can do.
#[derive(Debug)]
pub(super) struct Shopfloor<'a, S> {
    pub(super) job: &'a Job,
    /// Its common entries, written.
    pub(super) common: String,
    pub(super) shelves: &'a S,
    pub(super) tables: &'static Tables,
    pub(super) planner: Planner,
    pub(super) tries: &'a mut PlanTries,
    pub(super) acceleration: Option<Acceleration>,
    pub(super) system: System,
    /// The cutter that takes what larger ones leave in corners, once it is found for what is left.
    pub(super) rest: Option<(Length, String)>,
}

/// What a pass has to do.
#[derive(Clone, Debug)]
pub(super) struct Task<'a> {
    pub(super) stage: FeatureStage,
    pub(super) cutter: &'a Fitting,
    /// Entries that all tries share.
    pub(super) texts: Vec<(Key, String)>,
    /// From where it begins to where it ends.
    pub(super) depth: Length,
    /// The fewest levels.
    pub(super) least: u32,
    pub(super) way_in: GoesIn,
    pub(super) left_wall: Length,
    pub(super) left_floor: Length,
}

/// Feeds that are tried along a straight wall, over that around the corners.
const FASTER: [f64; 6] = [1.2, 1.4, 1.6, 2.0, 2.5, 3.0];
/// So often twice the levels are tried where it does not get better.
const IN_VAIN: u32 = 2;
/// The most levels that are tried, over the fewest.
const MOST_LEVELS: u32 = 64;

/// A length as it is typed at the machine: three places of a millimetre, four of an inch, no less
/// than it is.
pub(super) fn typed(length: Length, system: System) -> String {
    let (unit, places) = match system {
        System::Metric => (&unit::MILLIMETRE, 3),
        System::Inch => (&unit::INCH, 4),
    };
    let scale = 10_f64.powi(places);
    let number = ((length.si() / unit.size) * scale - 1e-6).ceil() / scale;
    format!("{number} {}", unit.text)
}

impl<S: Shelves> Shopfloor<'_, S> {
    /// Works a pass out, as the job would.
    pub(super) fn work(&mut self, texts: &Description) -> Result<Answered, Vec<EntryError>> {
        let (job, shelves, planner) = (self.job, self.shelves, &mut self.planner);
        self.tries.tried((&self.common, texts), || {
            let pass = Pass::new("pass", texts.clone());
            answered(&job.description(&pass), shelves, planner)
        })
    }

    /// Tries a task in the widths given, each in more and more levels; the best of all, and the
    /// one with the fewest levels. `way` is that of one level.
    pub(super) fn best(
        &mut self,
        task: &Task<'_>,
        widths: &[Length],
        way: impl Fn(Length, u32) -> Way,
        removes: impl Fn(u32) -> Volume,
    ) -> Result<(PlannedPass, PlannedPass), Vec<EntryError>> {
        let mut best: Option<PlannedPass> = None;
        let mut obvious: Option<PlannedPass> = None;
        let mut wrong = Vec::new();
        for &width in widths {
            let mut tried = |levels| self.tried(task, levels, width, &way, removes(levels));
            match fewest(task.least, &mut tried) {
                Err(errors) => wrong = errors,
                Ok((first, found)) => {
                    obvious.get_or_insert(first);
                    if best.as_ref().is_none_or(|b| rank(&found) < rank(b)) {
                        best = Some(found);
                    }
                }
            }
        }
        best.zip(obvious).ok_or(wrong)
    }

    /// A task in its fewest levels.
    pub(super) fn once(
        &mut self,
        task: &Task<'_>,
        width: Length,
        way: impl Fn(Length, u32) -> Way,
        removes: Volume,
    ) -> Tried {
        self.tried(task, task.least, width, &way, removes)
    }

    fn tried(
        &mut self,
        task: &Task<'_>,
        levels: u32,
        width: Length,
        way: &impl Fn(Length, u32) -> Way,
        removes: Volume,
    ) -> Result<PlannedPass, Vec<EntryError>> {
        let mut texts = Description::default();
        for (key, text) in &task.texts {
            texts.put(*key, text);
        }
        texts.put(Key::Cutter, &task.cutter.name);
        texts.put(Key::StickOut, &typed(task.cutter.stick_out, self.system));
        texts.put(
            Key::Depth,
            &typed(task.depth / f64::from(levels), self.system),
        );
        if width < task.cutter.cutter.diameter {
            texts.put(Key::Width, &typed(width, self.system));
        }
        if task.way_in.is_of_pass() {
            texts.put(Key::Entry, task.way_in.word());
        }
        let answered = self.work(&texts)?;
        let mut pass = PlannedPass {
            stage: task.stage,
            diameter: task.cutter.cutter.diameter,
            texts,
            levels,
            way_in: task.way_in,
            way: way(width, levels),
            top: task.depth,
            rubs_straight: None,
            time: Time::default(),
            removes,
            left_wall: task.left_wall,
            left_floor: task.left_floor,
            spring: false,
            answered,
            typed: Vec::new(),
        };
        pass.rubs_straight = self.rubs_straight(&pass);
        self.spring(&mut pass);
        self.timed(&mut pass, task.depth / f64::from(levels));
        Ok(pass)
    }

    /// Whether a pass along a hollow wall only rubs where that wall is straight, for the same width
    /// is a shorter arc there and its chip thinner; and the feed that cuts there.
    fn rubs_straight(&mut self, pass: &PlannedPass) -> Option<StraightFeed> {
        let side = pass.texts.get(Key::Path) == Some("side");
        if !side || pass.texts.get(Key::WallRadius).is_none() {
            return None;
        }
        let plan = &pass.answered.plan;
        let (n, v_f) = (plan.n.turns(), plan.v_f);
        let mut texts = Description::default();
        for (field, text) in pass.texts.iter() {
            if ![Key::Wall, Key::WallRadius].contains(&field.id) {
                texts.keep(field, text);
            }
        }
        texts.put(Key::Spindle, &s::N.amount(n.si()).to_string());
        let mut straight = |v_f: Velocity| {
            texts.put(Key::Feed, &s::V_F.amount(v_f.si()).to_string());
            self.work(&texts).ok()
        };
        let rubs = |straight: &Answered| {
            let limits = [&limits::CHIP_FLOOR, &limits::RUBBING];
            let mut checks = straight.plan.checks.iter();
            checks.any(|c| limits.contains(&c.limit) && Verdict::of_check(c) != Verdict::Run)
        };
        if !straight(v_f).is_some_and(|straight| rubs(&straight)) {
            return None;
        }
        let whole = |v_f: Velocity| Velocity::from_si((v_f.si() * 60e3).ceil() / 60e3);
        let faster = FASTER.map(|times| whole(v_f * times));
        let cuts = |v_f: &Velocity| {
            let straight = straight(*v_f);
            straight.is_some_and(|s| !rubs(&s) && Verdict::of(&s.plan.checks) != Verdict::Stop)
        };
        let cuts = faster.into_iter().find(cuts);
        Some(cuts.map_or(StraightFeed::Rubs, StraightFeed::Cuts))
    }

    /// A wall pass that is off by more of its tolerance than is usual goes around once more.
    fn spring(&self, pass: &mut PlannedPass) {
        let share = self.tables.spring_pass().map(|row| row.value.start.si());
        let wall = pass.answered.plan.check("wall-error");
        let given = pass.answered.resolved.setup.cut.tolerance.is_some();
        let used = wall.and_then(feeds_core::limit::Check::used);
        pass.spring = pass.stage == FeatureStage::Walls
            && given
            && used.zip(share).is_some_and(|(used, share)| used > share);
    }

    /// All levels with their ways in, and how long that takes.
    pub(super) fn timed(&self, pass: &mut PlannedPass, level: Length) {
        let plan = &pass.answered.plan;
        let setup = &pass.answered.resolved.setup;
        let d = setup.cutter.diameter;
        let share = self
            .tables
            .ramp_feed()
            .map_or(1.0, |row| row.value.start.si());
        let down = match setup.cut.entry {
            Some(Descent::Ramp(angle)) => ramp(level, angle),
            Some(Descent::Helix { hole, pitch }) => helix(level, hole, d, pitch),
            Some(Descent::Plunge) => Way::straight(level, 1),
            None => Way::default(),
        };
        let down = down.times(pass.levels);
        let rounds = if pass.spring { 2 } else { 1 };
        let level = pass.way.times(rounds);
        pass.way = level.times(pass.levels);
        let cutting = time(pass.way, plan.v_f, self.acceleration);
        let going_in = if down.legs >= 1.0 {
            time(down, plan.v_f * share, self.acceleration)
        } else {
            Time::default()
        };
        pass.time = cutting + going_in;
        pass.way = pass.way.and(down);
    }

    /// What the table leaves on a wall for a cutter: what is usual, or the most.
    pub(super) fn left_on_wall(&self, d: Length, most: bool) -> Length {
        let row = self.tables.wall_left().map(|row| row.value);
        let share = row.map(|band| if most { band.most } else { band.start });
        d * share.map_or(0.0, Quantity::si)
    }

    /// The least that the table leaves on a wall for a cutter: less only rubs.
    pub(super) fn least_on_wall(&self, d: Length) -> Length {
        let row = self.tables.wall_left().map(|row| row.value);
        d * row.map_or(0.0, |band| band.least.si())
    }

    /// What the table leaves on a floor for a cutter.
    pub(super) fn left_on_floor(&self, d: Length) -> Length {
        d * self
            .tables
            .floor_left()
            .map_or(0.0, |row| row.value.start.si())
    }

    /// The least that the table leaves on a floor for a cutter.
    pub(super) fn least_on_floor(&self, d: Length) -> Length {
        let row = self.tables.floor_left().map(|row| row.value);
        d * row.map_or(0.0, |band| band.least.si())
    }

    /// The arc in to a wall: that of the table, or as much as there is room for.
    pub(super) fn lead(&self, d: Length, room: Option<Length>) -> Length {
        let usual = d * self
            .tables
            .lead_in()
            .map_or(0.0, |row| row.value.start.si());
        match room {
            Some(room) if room < usual => room,
            _ => usual,
        }
    }
}

/// The fewest levels that flutes of a length can be used in.
pub(super) fn by_flutes(depth: Length, cutter: &Fitting) -> u32 {
    steps(depth, cutter.cutter.flute_length)
}

/// A try in so many levels.
type Tried = Result<PlannedPass, Vec<EntryError>>;

/// The first try, and the fewest levels that run: twice as many until one does, then halved
/// between. Where none runs, the best of them.
fn fewest(
    least: u32,
    tried: &mut impl FnMut(u32) -> Tried,
) -> Result<(PlannedPass, PlannedPass), Vec<EntryError>> {
    // What is beyond at every depth is no reason for more levels.
    let runs = |pass: &PlannedPass| {
        let checks = &pass.answered.plan.checks;
        let by_depth = checks.iter().filter(|check| check.limit != &limits::PLAY);
        let runs = Verdict::of(by_depth) == Verdict::Run;
        runs && pass.tips().is_none() && !pass.is_too_deep()
    };
    let first = tried(least)?;
    let mut best = first.clone();
    let (mut few, mut levels, mut vain) = (least, least, 0);
    while !runs(&best) && levels < least * MOST_LEVELS {
        (few, levels) = (levels, levels * 2);
        let pass = tried(levels)?;
        let (before, now) = (best.beyond(), pass.beyond());
        let cares = best.verdict() == Verdict::Care && pass.verdict() == Verdict::Care;
        if rank(&pass) < rank(&best) {
            best = pass;
        }
        // What is beyond may not go away with less depth.
        vain = if cares && now >= before { vain + 1 } else { 0 };
        if vain >= IN_VAIN {
            break;
        }
    }
    if runs(&best) && best.levels > least {
        let mut many = best.levels;
        while many - few > 1 {
            let middle = few.midpoint(many);
            let pass = tried(middle)?;
            if runs(&pass) {
                many = middle;
                best = pass;
            } else {
                few = middle;
            }
        }
    }
    Ok((first, best))
}

/// The order of tries: verdict, how far it is beyond, time.
pub(super) fn rank(pass: &PlannedPass) -> (Verdict, u32, u64) {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a time of less than a century in microseconds"
    )]
    let time = (pass.time.si() * 1e6) as u64;
    (pass.verdict(), pass.beyond(), time)
}
