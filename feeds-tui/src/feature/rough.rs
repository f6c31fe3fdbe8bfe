//! A whole plan with one roughing cutter, cut in one of two ways.

use super::asked::FeatureAsked;
use super::cutters::{Fitting, Shelved};
use super::plan::{FeaturePlan, PlannedPass};
use super::scan::{Shopfloor, Task, by_flutes, rank, typed};
use super::stage::{FeatureStage, WayIn};
use crate::pass::field::Key;
use crate::pass::resolve::Shelves;
use feeds_core::cut::WallSide;
use feeds_core::error::{Cause, EntryError};
use feeds_core::feature::dome::Dome;
use feeds_core::feature::kind::ClosedEnds;
use feeds_core::feature::outline::Outline;
use feeds_core::feature::removed::{Removed, Stages};
use feeds_core::feature::way::{Way, along, loops, widened};
use feeds_core::quantity::{Length, Quantity, Volume, mm};
use feeds_core::verdict::Verdict;

/// How the rough is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum How {
    /// Wide, in levels.
    Wide,
    /// With light width, as deep as the flutes go.
    Light,
}

impl How {
    pub(super) const BOTH: [Self; 2] = [Self::Wide, Self::Light];

    pub(super) fn word(self) -> &'static str {
        match self {
            Self::Wide => "wide, in levels",
            Self::Light => "light width at full depth",
        }
    }
}

/// What a plan is of.
#[derive(Clone, Copy)]
pub(super) struct Candidate<'a> {
    pub(super) asked: &'a FeatureAsked,
    pub(super) outline: Outline,
    pub(super) depth: Length,
    pub(super) cutter: &'a Fitting,
    pub(super) how: How,
    pub(super) shelf: &'a Shelved,
}

/// Lengths nearer than this are one and the same.
fn hair() -> Length {
    mm(1e-3)
}

/// Widths of a wide cut over the diameter, the widest first: half in a pocket, a third along a wall.
const IN_POCKET: [f64; 2] = [0.5, 0.25];
const ALONG_WALL: [f64; 2] = [0.3, 0.15];
const OVER_FACE: [f64; 2] = [0.7, 0.4];
const IN_CORNERS: [f64; 2] = [0.1, 0.04];
/// Shares of the light width that are tried.
const LIGHT: [f64; 2] = [1.0, 0.5];
/// The widest cutter that circles in a round pocket, and goes down a hole, over its diameter.
const CIRCLES: f64 = 0.85;

fn smaller(a: Length, b: Length) -> Length {
    if a < b { a } else { b }
}

/// A plan, or why there is none with this cutter.
pub(super) type Made = Result<FeaturePlan, Vec<EntryError>>;

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

impl<'a> Candidate<'a> {
    fn d(&self) -> Length {
        self.cutter.cutter.diameter
    }

    /// What the stages remove with that finishing cutter.
    fn removed(&self, finish: Length, left_wall: Length, left_floor: Length) -> Removed {
        let stages = Stages {
            outline: self.outline,
            depth: self.depth,
            rough: self.d(),
            finish,
            left_wall,
            left_floor,
            along_middle: self.how == How::Wide,
        };
        stages.removed()
    }

    /// Cutters of the largest diameter that makes the corners, where this one is too large.
    fn rest(&self) -> Vec<&'a Fitting> {
        let most = self.outline.widest_in_corners();
        let Some(most) = most.filter(|most| self.d() > *most + hair()) else {
            return Vec::new();
        };
        let fit = || self.shelf.fit.iter();
        let largest = fit()
            .map(|f| f.cutter.diameter)
            .find(|d| *d <= most + hair());
        let of_size =
            |f: &&Fitting| largest.is_some_and(|d| (f.cutter.diameter - d).abs() < hair());
        fit().filter(of_size).collect()
    }

    /// What stays on the walls for the finish.
    fn left(&self, usual: Length) -> Length {
        let room = |whole: Length| {
            let half = (whole - self.d()) / 2.0;
            if half < Length::default() {
                Length::default()
            } else {
                half
            }
        };
        match self.outline {
            Outline::Channel(side, _) | Outline::Rectangle(side, _) => {
                smaller(usual, room(side.width))
            }
            Outline::Round(diameter) => smaller(usual, room(diameter)),
            Outline::Ring { diameter, hole } => smaller(usual, (diameter - hole) / 4.0),
            Outline::Along(side) => smaller(usual, side.width / 2.0),
            Outline::Free { .. } => usual,
            Outline::Open(_) => Length::default(),
        }
    }

    /// The narrowest place the cutter moves in, with something left on the walls.
    fn narrowest(&self, left: Length) -> Option<Length> {
        self.outline.widest().map(|width| width - 2.0 * left)
    }

    /// Whether a cutter can work in it in that way.
    fn makes_sense(&self, left: Length, loop_share: f64) -> bool {
        let d = self.d();
        match (self.outline, self.how) {
            (Outline::Channel(side, _), How::Light) => d <= (side.width - 2.0 * left) * loop_share,
            (Outline::Round(diameter), _) => d <= (diameter - 2.0 * left) * CIRCLES,
            (Outline::Ring { hole, .. }, _) => d <= hole * CIRCLES,
            (Outline::Rectangle(side, _), How::Light) => d <= side.width * CIRCLES,
            (Outline::Open(_), How::Light) => false,
            _ => true,
        }
    }

    /// The way in: what was asked for, or what there is room for.
    fn way_in(&self, left: Length, least_hole: f64) -> Result<WayIn, EntryError> {
        let d = self.d();
        let open = match self.outline {
            Outline::Channel(_, ends) => ends != ClosedEnds::Both,
            Outline::Ring { .. } | Outline::Along(_) | Outline::Open(_) => true,
            _ => false,
        };
        let drilled = self.asked.feature.drilled.is_some_and(|hole| hole > d);
        let helix = !matches!(self.outline, Outline::Channel(..))
            && self
                .narrowest(left)
                .is_none_or(|width| width >= d * least_hole);
        let refused = |why: &str| Err(EntryError::because(Cause::Clash, why).of("entry"));
        match self.asked.way_in {
            Some(WayIn::Open) if !open => refused("there is no open side to come in from"),
            Some(WayIn::Drilled) if !drilled => {
                refused("no drilled hole is wider than the cutter: give one as drilled=5mm")
            }
            Some(way) => Ok(way),
            None if open => Ok(WayIn::Open),
            None if drilled => Ok(WayIn::Drilled),
            None if helix => Ok(WayIn::Helix),
            None => Ok(WayIn::Ramp),
        }
    }

    /// Path and widths of the rough.
    fn path(&self, left: Length, light: f64) -> (&'static str, Vec<Length>) {
        let d = self.d();
        let of = |shares: &[f64]| shares.iter().map(|share| d * *share).collect::<Vec<_>>();
        let lights = || of(&LIGHT.map(|share| share * light));
        let (path, widths) = match (self.outline, self.how) {
            (Outline::Channel(..), How::Wide) => ("slot", vec![d]),
            (Outline::Channel(..), How::Light) => ("side", lights()),
            (Outline::Rectangle(side, _), How::Wide) if side.width - 2.0 * left < d + hair() => {
                ("slot", vec![d])
            }
            (Outline::Rectangle(..) | Outline::Round(_) | Outline::Free { .. }, How::Wide) => {
                ("pocket", of(&IN_POCKET))
            }
            (Outline::Rectangle(..) | Outline::Round(_) | Outline::Free { .. }, How::Light) => {
                ("pocket", lights())
            }
            (Outline::Ring { .. }, How::Wide) => ("bore", of(&ALONG_WALL)),
            (Outline::Ring { .. }, How::Light) => ("bore", lights()),
            (Outline::Along(_), How::Wide) => ("side", of(&ALONG_WALL)),
            (Outline::Along(_), How::Light) => ("side", lights()),
            (Outline::Open(_), _) => ("face", of(&OVER_FACE)),
        };
        let most = match self.outline {
            Outline::Ring { diameter, hole } => (diameter - hole) / 2.0 - left,
            Outline::Along(side) => side.width - left,
            Outline::Open(side) => side.width,
            _ => d,
        };
        (path, widths.into_iter().map(|w| smaller(w, most)).collect())
    }

    /// The curved wall of a pass along it, if there is one.
    fn wall(&self, left: Length) -> Option<Length> {
        match self.outline {
            Outline::Channel(side, ends) if self.how == How::Light || ends != ClosedEnds::None => {
                Some(side.width / 2.0 - left)
            }
            outline => outline.wall_radius().map(|radius| radius - left),
        }
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
        let finisher = c.rest().first().map_or(d, |f| f.cutter.diameter);
        let left = c.left(self.left_on_wall(finisher, most));
        let loop_share = self.tables.loop_cutter();
        let loop_share = loop_share.map_or(0.0, |row| row.value.most.si());
        if !c.makes_sense(left, loop_share) {
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
        Ok(FeaturePlan {
            how: c.how.word(),
            passes,
            leaves,
            instead,
        })
    }

    /// The rough at a quarter of the diameter deep: a first look, to compare cutters of a size.
    pub(super) fn look(&mut self, c: &Candidate<'_>) -> Option<(Verdict, u32, u64)> {
        let level = smaller(c.d() * FIRST_LOOK, c.depth);
        let look = Candidate { depth: level, ..*c };
        let left = look.left(self.left_on_wall(look.d(), false));
        let (path, widths) = look.path(left, 1.0);
        let mut task = self.task(&look, FeatureStage::Rough, look.cutter);
        task.texts.push((Key::Path, path.to_owned()));
        let way = |_: Length, _| Way::straight(look.d(), 1);
        let once = self
            .once(&task, *widths.first()?, way, Volume::default())
            .ok()?;
        Some(rank(&once))
    }

    fn task<'a>(&self, c: &Candidate<'_>, stage: FeatureStage, cutter: &'a Fitting) -> Task<'a> {
        Task {
            stage,
            cutter,
            texts: Vec::new(),
            depth: c.depth,
            least: by_flutes(c.depth, cutter),
            way_in: WayIn::Arc,
            left_wall: Length::default(),
            left_floor: Length::default(),
        }
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
        let least_hole = row(hole.map(|hole| hole.least.si()));
        let (path, widths) = c.path(left, light);
        let mut task = self.task(c, FeatureStage::Rough, c.cutter);
        task.depth = c.depth - floor;
        task.least = match c.how {
            How::Wide => 1,
            How::Light => by_flutes(task.depth, c.cutter),
        };
        task.left_wall = left;
        task.left_floor = floor;
        task.way_in = c.way_in(left, least_hole).map_err(|e| vec![e])?;
        task.texts.push((Key::Path, path.to_owned()));
        if task.way_in == WayIn::Helix {
            let usual = d * row(hole.map(|hole| (hole.least.si() + hole.most.si()) / 2.0));
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
            let side = WallSide::Inside.word().to_owned();
            task.texts.push((Key::Wall, side));
            task.texts
                .push((Key::WallRadius, typed(radius, self.system)));
        }
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
        let mut task = self.task(c, FeatureStage::Widen, c.cutter);
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
        let mut task = self.task(c, FeatureStage::Floor, c.cutter);
        (task.depth, task.least, task.left_wall) = (floor, 1, left);
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
        let mut task = self.task(c, FeatureStage::Corners, cutter);
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
        let mut task = self.task(c, FeatureStage::Walls, cutter);
        let round = matches!(c.outline, Outline::Round(_) | Outline::Ring { .. });
        let path = if round { "bore" } else { "side" };
        task.texts.push((Key::Path, path.to_owned()));
        if matches!(c.outline, Outline::Rectangle(_, corner) if d / 2.0 > corner - hair()) {
            task.texts.push((Key::Corner, "yes".to_owned()));
        } else {
            self.curved(&mut task, c, Length::default());
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

    /// The plan of a rounded surface: stairs with one cutter, finished with a ball.
    pub(super) fn domed(&mut self, dome: Dome, cutter: &Fitting, ball: &Fitting) -> Made {
        let d = cutter.cutter.diameter;
        let mut task = Task {
            stage: FeatureStage::Rough,
            cutter,
            texts: vec![(Key::Path, "side".to_owned())],
            depth: dome.height(),
            least: LEAST_STAIRS,
            way_in: WayIn::Open,
            left_wall: Length::default(),
            left_floor: Length::default(),
        };
        let widths = ALONG_WALL.map(|share| d * share);
        // The way of all stairs over their number, for it is taken as often as there are levels.
        let way = |width: Length, levels: u32| {
            let all = dome.rough_way(levels, d, width);
            Way {
                length: all.length / f64::from(levels),
                legs: all.legs / f64::from(levels),
            }
        };
        let removes = |levels| dome.roughed(levels);
        let (rough, _) = self.best(&task, &widths, way, removes)?;
        let stairs = dome.height() / f64::from(rough.levels);
        let round = ball.cutter.diameter;
        let smooth: Volume = dome.volume() - rough.removes;
        task = Task {
            stage: FeatureStage::Surface,
            cutter: ball,
            texts: vec![(Key::Path, "ball-finish".to_owned())],
            depth: stairs,
            least: 1,
            ..task
        };
        let step = dome.step(round);
        let finish = |_: Length, _| dome.finish_way(round);
        // A ball goes over the surface once, however deep the stairs are.
        let surface = self.once(&task, step, finish, smooth)?;
        Ok(FeaturePlan {
            how: "stairs, then a ball",
            passes: vec![rough, surface],
            leaves: Volume::default(),
            instead: None,
        })
    }
}

/// Depth of a first look over the diameter.
const FIRST_LOOK: f64 = 0.15;
/// Stairs of fewer levels leave the ball most of the work.
const LEAST_STAIRS: u32 = 4;
