//! A whole plan with one roughing cutter: rough, widening, floor, corners, walls.

use super::advice::{Advice, WallOff};
use super::candidate::{Candidate, How, IN_CORNERS, IN_POCKET, hair, smaller};
use super::cutters::Fitting;
use super::plan::{FeaturePlan, PlannedPass, nothing};
use super::scan::{Shopfloor, Task, by_flutes, rank, typed};
use super::stage::{FeatureStage, GoesIn};
use crate::pass::field::Key;
use crate::pass::resolve::Shelves;
use feeds_core::cut::WallSide;
use feeds_core::error::EntryError;
use feeds_core::feature::kind::ClosedEnds;
use feeds_core::feature::outline::Outline;
use feeds_core::feature::way::{Way, along, loops, widened};
use feeds_core::quantity::{Length, Quantity, Volume, mm};
use feeds_core::verdict::Verdict;

/// A plan, or why there is none with this cutter.
pub(super) type Made = Result<FeaturePlan, Vec<EntryError>>;

/// What a first look comes to: verdict, how far beyond, time.
pub(super) type Look = (Verdict, u32, u64);

/// The last passes, and the cutter that makes them.
type Last<'a> = (Vec<PlannedPass>, &'a Fitting);

/// What some passes come to together: the worst verdict, how far beyond, time.
fn together(passes: &[PlannedPass]) -> (Option<Verdict>, u32, u64) {
    let ranks = || passes.iter().map(rank);
    let verdict = ranks().map(|(verdict, ..)| verdict).max();
    let beyond = ranks().map(|(_, beyond, _)| beyond).sum();
    (verdict, beyond, ranks().map(|(.., time)| time).sum())
}

/// A rough, and what it leaves for the finish.
pub(super) struct Roughed {
    pub(super) pass: PlannedPass,
    /// The one with the fewest levels.
    obvious: PlannedPass,
    left: Length,
    floor: Length,
}

/// What to mind of the passes, where a finish pass cuts no less than that.
fn minds(
    c: &Candidate<'_>,
    passes: &[PlannedPass],
    least: Length,
    leaves: Volume,
) -> Vec<(FeatureStage, Advice)> {
    let Some((rough, last)) = passes.first().zip(passes.last()) else {
        return Vec::new();
    };
    let share = (rough.left_wall / least).si();
    let channel = matches!(c.outline, Outline::Channel(..));
    let bored = matches!(c.outline, Outline::Ring { .. });
    let walled = !matches!(c.outline, Outline::Open(_));
    let finishes = last.stage == FeatureStage::Walls;
    // Where nobody asked how far a wall may be off, one as the cutter leaves it will do.
    let wanted = finishes || (walled && c.asked.feature.wall.is_some());
    let mut minds = Vec::new();
    let mut mind = |is: bool, pass: &PlannedPass, advice| {
        if is {
            minds.push((pass.stage, advice));
        }
    };
    let through = c.through > Length::default();
    mind(through, rough, Advice::Through(c.through));
    mind(bored, rough, Advice::WhereThrough(c.beyond));
    let path = rough.texts.get(Key::Path);
    let narrow = channel || path == Some("slot");
    mind(
        narrow && rough.levels >= MANY_LEVELS,
        rough,
        Advice::ClearChips,
    );
    let hole = match c.outline {
        Outline::Ring { hole, .. } => Some(hole),
        _ => c.asked.feature.drilled,
    };
    let hole = hole.filter(|_| rough.way_in == GoesIn::Drilled);
    mind(
        hole.is_some(),
        rough,
        Advice::DownHole(hole.unwrap_or_default()),
    );
    let makes_walls = if finishes { last } else { rough };
    let there = c.outline.skin().map(|skin| (skin / least).si());
    let little = if let Some(there) = there.filter(|there| *there < 1.0) {
        Advice::TooLittleThere(there)
    } else if share < A_TENTH {
        Advice::NoFinish(makes_walls.off())
    } else {
        Advice::TooLittleLeft(share)
    };
    mind(wanted && share < 1.0, makes_walls, little);
    mind(leaves > nothing(), last, Advice::Rounder);
    let rolls = Advice::OwnRadius(rolling(last.diameter, c.rolls));
    mind(c.grips(last.diameter), last, rolls);
    if let Some(WallOff { off, .. }) = last.wall_off().filter(|_| finishes && !bored) {
        let enough = rough.left_wall - off > least / 2.0;
        mind(enough, last, Advice::StopShort(off));
    }
    mind(finishes && last.levels > 1, last, Advice::LinesShow);
    if let (Outline::Channel(side, _), How::Light) = (c.outline, c.how) {
        let radius = (side.width - 2.0 * rough.left_wall - c.d()) / 2.0;
        minds.push((rough.stage, Advice::Loops(radius)));
    }
    let over = match c.outline {
        Outline::Channel(_, ends) => ends != ClosedEnds::Both,
        Outline::Along(_) | Outline::Open(_) => true,
        _ => false,
    };
    let jaws = rough.jaws(Length::default(), c.jaw_clear);
    minds.extend(jaws.filter(|_| over));
    let reamed = c.outline.skin().is_some_and(|skin| skin * 2.0 > mm(0.2));
    let of_a_hole = |(stage, advice)| match advice {
        Advice::WallOff(wall) if bored && reamed => (stage, Advice::HoleOff(wall)),
        other => (stage, other),
    };
    // Where too little is left in all, more feed is no help.
    let little = wanted && share < 1.0;
    let more = passes.iter().flat_map(PlannedPass::minds);
    let more = more.filter(|(_, advice)| !(little && *advice == Advice::RubsStraight(None)));
    minds.extend(more.map(of_a_hole));
    minds
}

/// Less than this over the least that a finish pass cuts is nothing.
const A_TENTH: f64 = 0.1;

/// The radius of a corner that a cutter rolls through, in steps of 0.05 mm.
fn rolling(d: Length, rolls: f64) -> Length {
    const STEP: f64 = 5e-5;
    let least = d.si() / 2.0 / rolls;
    Length::from_si((least / STEP - 1e-9).ceil() * STEP)
}

/// A slot in so many levels is deep.
const MANY_LEVELS: u32 = 4;

/// A task of a candidate, from the top to the floor.
fn task<'a>(c: &Candidate<'_>, stage: FeatureStage, cutter: &'a Fitting) -> Task<'a> {
    Task {
        stage,
        cutter,
        texts: Vec::new(),
        depth: c.depth + c.through,
        least: by_flutes(c.depth + c.through, cutter),
        way_in: GoesIn::Arc,
        left_wall: Length::default(),
        left_floor: Length::default(),
    }
}

impl<S: Shelves> Shopfloor<'_, S> {
    /// The rough of a candidate, with what is usual left on the walls, or the most; nothing where
    /// the cutter cannot work so.
    pub(super) fn roughed(
        &mut self,
        c: &Candidate<'_>,
        most: bool,
    ) -> Result<Option<Roughed>, Vec<EntryError>> {
        let d = c.d();
        let left = self.leaves(c, most);
        if !self.makes_sense(c) {
            return Ok(None);
        }
        let floor = if c.asked.feature.kind.has_floor() {
            smaller(self.left_on_floor(d), c.depth / 4.0)
        } else {
            Length::default()
        };
        let (pass, obvious) = self.rough(c, left, floor)?;
        Ok(Some(Roughed {
            pass,
            obvious,
            left,
            floor,
        }))
    }

    /// What is left on the walls for the finish.
    fn leaves(&self, c: &Candidate<'_>, most: bool) -> Length {
        let finisher = c.rest().first().map_or(c.d(), |f| f.cutter.diameter);
        c.left(self.left_on_wall(finisher, most))
    }

    /// Whether the cutter can work so.
    pub(super) fn makes_sense(&self, c: &Candidate<'_>) -> bool {
        let share = self.tables.loop_cutter();
        let share = share.map_or(0.0, |row| row.value.most.si());
        c.makes_sense(self.leaves(c, false), share)
    }

    /// The whole plan of a candidate.
    pub(super) fn completed(&mut self, c: &Candidate<'_>, roughed: Roughed) -> Made {
        let Roughed {
            pass,
            obvious,
            left,
            floor,
        } = roughed;
        let mut passes = vec![pass];
        passes.extend(self.widening(c, left)?);
        if floor > Length::default() {
            passes.push(self.floor(c, left, floor)?);
        }
        let (last, finisher) = self.last(c, left)?;
        passes.extend(last);
        let finish = finisher.cutter.diameter;
        let leaves = c.removed(finish, left, floor).leaves;
        let levels = passes[0].levels;
        let instead = obvious.held_back().filter(|_| obvious.levels != levels);
        let instead = instead.map(|why| {
            let tried = if obvious.levels == 1 {
                "in one go".to_owned()
            } else {
                format!("in {} levels", obvious.levels)
            };
            format!("{} {tried}: {why}; so in {levels}", c.cutter.name)
        });
        let least = self.least_on_wall(finish);
        let minds = minds(c, &passes, least, leaves);
        Ok(FeaturePlan {
            how: c.how.word(),
            cuts: c.how.says(),
            passes,
            leaves,
            instead,
            minds,
        })
    }

    /// The rough at a quarter of the diameter deep: a first look, to compare cutters of a size.
    pub(super) fn look(&mut self, c: &Candidate<'_>) -> Option<Look> {
        let level = smaller(c.d() * FIRST_LOOK, c.depth);
        let look = Candidate {
            depth: level,
            through: Length::default(),
            ..*c
        };
        let left = look.left(self.left_on_wall(look.d(), false));
        let (path, widths) = look.path(left, 1.0, c.way_in(left).unwrap_or(GoesIn::Open));
        let mut task = task(&look, FeatureStage::Rough, look.cutter);
        task.texts.push((Key::Path, path.to_owned()));
        let way = |_: Length, _| Way::straight(look.d(), 1);
        let once = self
            .once(&task, *widths.first()?, way, Volume::default())
            .ok()?;
        Some(rank(&once))
    }

    /// The best rough, and the one with the fewest levels.
    fn rough(
        &mut self,
        c: &Candidate<'_>,
        left: Length,
        floor: Length,
    ) -> Result<(PlannedPass, PlannedPass), Vec<EntryError>> {
        let d = c.d();
        let row = |row: Option<f64>| row.unwrap_or_default();
        let light = row(self.tables.light_width().map(|r| r.value.start.si()));
        let hole = self.tables.helix_hole().map(|r| r.value);
        let mut task = task(c, FeatureStage::Rough, c.cutter);
        task.depth -= floor;
        task.least = match c.how {
            How::Wide => 1,
            How::Light => by_flutes(task.depth, c.cutter),
        };
        task.left_wall = left;
        task.left_floor = floor;
        task.way_in = c.way_in(left).map_err(|e| vec![e])?;
        let (path, widths) = c.path(left, light, task.way_in);
        task.texts.push((Key::Path, path.to_owned()));
        if task.way_in == GoesIn::Helix {
            let usual = d * row(hole.map(|hole| hole.least.si().midpoint(hole.most.si())));
            let width = c.narrowest(left).map_or(usual, |most| smaller(usual, most));
            task.texts.push((Key::HelixHole, typed(width, self.system)));
        }
        // A rough wall may be off by what is left for the finish.
        let tolerance = if left > hair() {
            Some(left)
        } else {
            c.asked.feature.wall
        };
        let face = matches!(c.outline, Outline::Open(_));
        if let Some(tolerance) = tolerance.filter(|_| !face) {
            task.texts
                .push((Key::Tolerance, typed(tolerance, self.system)));
        }
        if let (How::Light, Outline::Channel(..)) | (_, Outline::Ring { .. }) = (c.how, c.outline) {
            self.curved(&mut task, c, left);
        }
        let middle = |width: Length| match (c.outline, c.how) {
            (Outline::Channel(side, ends), How::Wide) => along(side, ends, d, left),
            (Outline::Channel(side, ends), How::Light) => loops(side, ends, d, left, width),
            _ => c.outline.clearing(d, left, width),
        };
        let removed = c.removed(d, left, floor).rough;
        self.best(&task, &widths, |width, _| middle(width), |_| removed)
    }

    fn curved(&self, task: &mut Task<'_>, c: &Candidate<'_>, left: Length) {
        let d = task.cutter.cutter.diameter;
        let radius = c.wall(left).filter(|radius| *radius > d / 2.0 + hair());
        if let Some(radius) = radius {
            self.inside(task, radius);
        }
    }

    /// Along a wall that is hollow with that radius.
    fn inside(&self, task: &mut Task<'_>, radius: Length) {
        let side = WallSide::Inside.word().to_owned();
        task.texts.push((Key::Wall, side));
        task.texts
            .push((Key::WallRadius, typed(radius, self.system)));
    }

    /// What a slot cut along its middle still lacks to its walls.
    fn widening(
        &mut self,
        c: &Candidate<'_>,
        left: Length,
    ) -> Result<Option<PlannedPass>, Vec<EntryError>> {
        let (Outline::Channel(side, ends), How::Wide) = (c.outline, c.how) else {
            return Ok(None);
        };
        let d = c.d();
        let room = (side.width - d) / 2.0;
        if room - left <= hair() {
            return Ok(None);
        }
        let mut task = task(c, FeatureStage::Widen, c.cutter);
        task.left_wall = left;
        task.texts.push((Key::Path, "side".to_owned()));
        if left > hair() {
            task.texts.push((Key::Tolerance, typed(left, self.system)));
        }
        self.curved(&mut task, c, left);
        let widths: Vec<Length> = IN_POCKET
            .iter()
            .chain(&IN_CORNERS)
            .map(|share| smaller(d * *share, room - left))
            .collect();
        let removes = c.removed(d, left, Length::default()).widen;
        let found = self.best(
            &task,
            &widths,
            |width, _| widened(side, ends, d, left, width),
            |_| removes,
        )?;
        Ok(Some(found.0))
    }

    fn floor(
        &mut self,
        c: &Candidate<'_>,
        left: Length,
        floor: Length,
    ) -> Result<PlannedPass, Vec<EntryError>> {
        let d = c.d();
        let mut task = task(c, FeatureStage::Floor, c.cutter);
        (task.depth, task.least, task.left_wall) = (floor, 1, left);
        // What the rough left lies all over the floor: the cutter goes down into it anew.
        task.way_in = match c.way_in(left).map_err(|e| vec![e])? {
            GoesIn::Helix | GoesIn::Plunge => GoesIn::Ramp,
            other => other,
        };
        task.texts.push((Key::Path, "pocket".to_owned()));
        let removes = c.removed(d, left, floor).floor;
        let widths = IN_POCKET.map(|share| d * share);
        let way = |width: Length, _| c.outline.clearing(d, left, width);
        Ok(self.best(&task, &widths, way, |_| removes)?.0)
    }

    /// Corners and walls, and the cutter that takes them: of several the one that does it best,
    /// which is found once for what is left.
    fn last<'a>(&mut self, c: &Candidate<'a>, left: Length) -> Result<Last<'a>, Vec<EntryError>> {
        let rest = c.rest();
        let known = self
            .rest
            .as_ref()
            .filter(|(of, _)| (*of - left).abs() < hair());
        let known = known.and_then(|(_, name)| rest.iter().position(|f| f.name == *name));
        let tried = known.map_or(&rest[..], |at| &rest[at..=at]);
        if tried.is_empty() {
            let walls = self.walls(c, c.cutter, left)?;
            return Ok((walls.into_iter().collect(), c.cutter));
        }
        let mut best: Option<Last<'a>> = None;
        let mut wrong = Vec::new();
        for cutter in tried {
            let mut passes = match self.corners(c, cutter, left) {
                Ok(corners) => vec![corners],
                Err(errors) => {
                    wrong = errors;
                    continue;
                }
            };
            passes.extend(self.walls(c, cutter, left)?);
            if best
                .as_ref()
                .is_none_or(|(b, _)| together(&passes) < together(b))
            {
                best = Some((passes, cutter));
            }
        }
        let best = best.ok_or(wrong)?;
        self.rest = Some((left, best.1.name.clone()));
        Ok(best)
    }

    /// What the rough left in the corners.
    fn corners(
        &mut self,
        c: &Candidate<'_>,
        cutter: &Fitting,
        left: Length,
    ) -> Result<PlannedPass, Vec<EntryError>> {
        let (before, d) = (c.d(), cutter.cutter.diameter);
        let removes = c.removed(d, left, Length::default()).corners;
        let mut task = task(c, FeatureStage::Corners, cutter);
        task.left_wall = left;
        task.texts.push((Key::Path, "side".to_owned()));
        task.texts.push((Key::Corner, "yes".to_owned()));
        task.texts.push((Key::Previous, typed(before, self.system)));
        if left > hair() {
            let tolerance = typed(left, self.system);
            task.texts.push((Key::Tolerance, tolerance));
        }
        let widths = IN_CORNERS.map(|share| d * share);
        let way = |width: Length, _| c.outline.corners_way(before, d, left, width);
        Ok(self.best(&task, &widths, way, |_| removes)?.0)
    }

    /// The finish of the walls, where anything is left on them.
    fn walls(
        &mut self,
        c: &Candidate<'_>,
        cutter: &Fitting,
        left: Length,
    ) -> Result<Option<PlannedPass>, Vec<EntryError>> {
        if left <= hair() {
            return Ok(None);
        }
        let d = cutter.cutter.diameter;
        let mut task = task(c, FeatureStage::Walls, cutter);
        let round = matches!(c.outline, Outline::Round(_) | Outline::Ring { .. });
        let path = if round { "bore" } else { "side" };
        task.texts.push((Key::Path, path.to_owned()));
        match c.in_corners().map(|most| most / 2.0) {
            Some(corner) if d / 2.0 > corner - hair() => {
                task.texts.push((Key::Corner, "yes".to_owned()));
            }
            // Where the edge is longest in the stock: along the round of the corners.
            Some(corner) => self.inside(&mut task, corner),
            None => self.curved(&mut task, c, Length::default()),
        }
        if let Some(wall) = c.asked.feature.wall {
            task.texts.push((Key::Tolerance, typed(wall, self.system)));
        }
        let removes = c.removed(d, left, Length::default()).walls;
        let room = c.outline.widest().map(|width| (width - d) / 2.0);
        let lead = self.lead(d, room);
        let way = |_: Length, _| c.outline.wall_way(d, lead);
        let found = self.best(&task, &[left], way, |_| removes)?;
        Ok(Some(found.0))
    }
}

/// Depth of a first look over the diameter.
const FIRST_LOOK: f64 = 0.15;
