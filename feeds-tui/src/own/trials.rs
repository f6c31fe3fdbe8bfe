//! Which small cuts in scrap would say most of a pass to come: planned, as cards, and taken in.
//!
//! Straight walls and short slots in the same stock with the same cutter are tried, each inside
//! every limit, and chosen one after the other by how far their readings narrow what decides:
//! bending, breaking, rubbing and hold.

use super::gain::Gain;
use super::learnt::{Rebuilt, group};
use super::record::as_cut;
use super::seen::{CutSeen, SeenKey, at_cutter, expected};
use crate::pass::answered::{Answered, answered};
use crate::pass::description::Description;
use crate::pass::field::Key;
use crate::pass::resolve::{KnownAs, Shelves};
use crate::pass::sure::{DRAWS, SEED};
use crate::store::job::{Job, Pass};
use crate::store::log::{LoggedCut, TestCut};
use feeds_core::band::LikelyRange;
use feeds_core::error::{Cause, EntryError};
use feeds_core::limit::{Harm, Limit};
use feeds_core::notebook::Silent;
use feeds_core::own::{Own, OwnCut, Sighting, Trial, choose};
use feeds_core::plan::setup::Setup;
use feeds_core::plan::{Plan, Planner, limits};
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, System};
use std::collections::BTreeSet;

/// Cuts of a plan: enough to narrow an answer, few enough to be made before lunch.
const FEWEST: usize = 2;
/// The most of them.
pub const MOST: usize = 4;
/// How many are planned where nobody says.
pub const USUAL: usize = 3;
/// Readings that are looked at: several of one cut can be worth more than another cut.
const READINGS: usize = 8;
/// A reading that narrows no limit by more than this share is not asked for.
const WORTH: f64 = 0.02;
/// What an indicator and a watt meter can read, m and W (common practice).
const READABLE: (f64, f64) = (3e-6, 5.0);
/// A wall in scrap may be off by as much.
const IN_SCRAP: &str = "0.1 mm";

/// What decides of a pass.
const DECIDES: [&Limit; 4] = [
    &limits::WALL,
    &limits::RUPTURE,
    &limits::CHIP_FLOOR,
    &limits::HOLD,
];

/// Cuts that were planned, and what they would make of the range.
#[derive(Debug)]
pub struct TestCuts {
    /// The cuts with what to measure of each.
    pub cuts: Vec<TestCut>,
    /// Each as it is answered now.
    pub answers: Vec<Answered>,
    /// The range of the pass now, and about what it will be.
    pub gain: Option<Gain>,
}

/// What a plan is for.
#[derive(Clone, Copy, Debug)]
pub struct TestCutsAsked<'a> {
    /// The job, for its name.
    pub job: &'a str,
    /// The pass, for its name.
    pub pass: &'a str,
    /// Everything the pass is described with.
    pub description: &'a Description,
    /// How many cuts.
    pub most: usize,
    /// The system that is typed at the machine.
    pub system: System,
    /// The day.
    pub date: &'a str,
}

/// A cut that could be made.
struct Possible {
    texts: Description,
    answer: Answered,
    /// As the book has it.
    book: Setup,
    planner: Planner,
    plan: Plan,
    /// What could be read, with the reading that is expected.
    readings: Vec<(SeenKey, Sighting)>,
}

impl Possible {
    fn cut(&self, seen: Sighting) -> OwnCut<'_> {
        OwnCut {
            planner: &self.planner,
            setup: &self.book,
            plan: &self.plan,
            group: 0,
            seen,
        }
    }
}

/// The setup as the book has it.
fn book(answer: &Answered) -> &Setup {
    let own = answer.resolved.own.as_ref();
    own.map_or(&answer.resolved.setup, |own| &*own.book)
}

/// Plans cuts for a pass.
///
/// # Errors
/// When the pass cannot be worked out, its force is not known, or no cut in scrap is inside every
/// limit.
pub fn plan(
    asked: TestCutsAsked<'_>,
    log: &[LoggedCut],
    shelves: &impl Shelves,
) -> Result<TestCuts, Vec<EntryError>> {
    let mut planner = Planner::default();
    let wanted = answered(asked.description, shelves, &mut planner)?.surely(&planner);
    let known = |cause, text: &str| vec![EntryError::because(cause, text).of("pass")];
    if wanted.plan.loads.is_none() {
        let text = "the cutting force of this pass is not known: add stock and condition first";
        return Err(known(Cause::Wanting, text));
    }
    let possible: Vec<Possible> = possible(&wanted, asked, shelves);
    // Before the choice: one that cannot be read, or breaks something, teaches nothing.
    let trials: Vec<(usize, SeenKey, Sighting)> = possible
        .iter()
        .enumerate()
        .flat_map(|(at, p)| p.readings.iter().map(move |(key, seen)| (at, *key, *seen)))
        .collect();
    if trials.is_empty() {
        let text = "no cut in scrap is inside every limit and large enough to be read: try a \
            shorter stick-out, or a stiffer cutter";
        return Err(known(Cause::NoResult, text));
    }
    let book = book(&wanted);
    let book_planner = Planner::new(book);
    let made = Made::of(log, &wanted.resolved.known);
    let target = OwnCut {
        planner: &book_planner,
        setup: book,
        plan: &wanted.plan,
        group: 0,
        seen: trials[0].2,
    };
    let decides = DECIDES.into_iter().filter(|limit| {
        let check = wanted.plan.check(limit.name);
        let used = check.and_then(feeds_core::limit::Check::used);
        used.is_some_and(|used| used.is_finite() && used > 0.0)
    });
    let target = Trial {
        pass: target,
        limits: decides.collect(),
    };
    let cuts: Vec<OwnCut<'_>> = trials
        .iter()
        .map(|(at, _, seen)| possible[*at].cut(*seen))
        .collect();
    let (before, chosen) = choose(&made.cuts(), &cuts, &target, READINGS);
    let mut taken: Vec<usize> = Vec::new();
    let mut distinct = BTreeSet::new();
    let mut last = before;
    for trial in &chosen {
        let narrows = last.iter().zip(&trial.within);
        let narrows = narrows.map(|(was, is)| 1.0 - is.ln() / was.ln());
        let worth = narrows.fold(0.0, f64::max) > WORTH;
        let at = trials[trial.cut].0;
        let new = !distinct.contains(&at);
        if (new && distinct.len() >= asked.most) || (!worth && distinct.len() >= FEWEST) {
            continue;
        }
        last.clone_from(&trial.within);
        distinct.insert(at);
        taken.push(trial.cut);
    }
    let seen: Vec<OwnCut<'_>> = taken.iter().map(|k| cuts[*k].clone()).collect();
    let gain = expected_gain(&wanted, &made, &seen);
    // In the order they were chosen: the first says most.
    let mut order: Vec<usize> = Vec::new();
    for k in &taken {
        if !order.contains(&trials[*k].0) {
            order.push(trials[*k].0);
        }
    }
    let cards = order.iter().zip(1..).map(|(at, number)| {
        let of = taken.iter().filter(|k| trials[**k].0 == *at);
        let mut measure: Vec<SeenKey> = of.map(|k| trials[*k].1).collect();
        measure.sort_unstable();
        card(&possible[*at], number, measure, asked, shelves)
    });
    Ok(TestCuts {
        cuts: cards.collect(),
        answers: order
            .iter()
            .map(|at| possible[*at].answer.clone())
            .collect(),
        gain,
    })
}

/// A card, with what the shop's things are now.
fn card(
    possible: &Possible,
    number: u64,
    measure: Vec<SeenKey>,
    asked: TestCutsAsked<'_>,
    shelves: &impl Shelves,
) -> TestCut {
    let name = format!("test cut {number} for {}", asked.pass);
    let mut job = Job::new(asked.job, Description::default());
    job.passes.push(Pass::new(&name, possible.texts.clone()));
    job.passes
        .push(Pass::new(asked.pass, asked.description.clone()));
    job.keep(shelves);
    let mut cut = LoggedCut::new(&job, asked.date.to_owned(), Vec::new(), CutSeen::default());
    cut.number = number;
    TestCut {
        cut,
        measure,
        wanted: job.passes.pop().map(|pass| pass.texts).unwrap_or_default(),
    }
}

/// Cuts of the log on the machine of a pass, those like it as group 0.
struct Made {
    cuts: Vec<(usize, Rebuilt)>,
}

impl Made {
    fn of(log: &[LoggedCut], known: &KnownAs) -> Self {
        let mut groups = vec![(known.clone(), 0)];
        let there = log.iter().filter_map(Rebuilt::of);
        let there = there.filter(|cut| cut.known.machine == known.machine);
        let cuts = there.map(|cut| (group(&mut groups, &cut.known, cut.seen.len()), cut));
        Self {
            cuts: cuts.collect(),
        }
    }

    fn cuts(&self) -> Vec<OwnCut<'_>> {
        self.cuts
            .iter()
            .flat_map(|(group, cut)| cut.cuts(*group))
            .collect()
    }
}

/// The range once the cuts are made and read as they are expected.
fn expected_gain(wanted: &Answered, made: &Made, seen: &[OwnCut<'_>]) -> Option<Gain> {
    let mut cuts = made.cuts();
    cuts.extend(seen.iter().cloned());
    let book = book(wanted);
    let setup = Own::of(&cuts, &[(0, book)])
        .of_group(Some(0), book)
        .applied(book);
    let planner = Planner::new(&setup);
    let after = LikelyRange::of(&planner, &setup, &wanted.plan, DRAWS, SEED);
    Some(Gain {
        before: *super::beside::shown(wanted.sure.as_ref()?)?,
        after: *super::beside::shown(&after)?,
    })
}

/// Entries that belong to the place a pass cuts, not to how it cuts.
const OF_PLACE: [Key; 20] = [
    Key::Path,
    Key::Depth,
    Key::Width,
    Key::EngagementAngle,
    Key::Wall,
    Key::WallRadius,
    Key::Corner,
    Key::Previous,
    Key::Tilt,
    Key::Slope,
    Key::Entry,
    Key::RampAngle,
    Key::HelixHole,
    Key::HelixPitch,
    Key::Tolerance,
    Key::Spindle,
    Key::CuttingSpeed,
    Key::FeedPerTooth,
    Key::Feed,
    Key::Direction,
];

/// Depth and width of the walls that are tried, over the diameter.
const WALLS: [(f64, f64); 6] = [
    (0.5, 0.03),
    (1.0, 0.03),
    (1.0, 0.08),
    (0.5, 0.15),
    (1.5, 0.03),
    (0.25, 0.3),
];
/// Depth of the slots that are tried, over the diameter.
const SLOTS: [f64; 2] = [0.1, 0.25];
/// Feeds over the one that is planned.
const FEEDS: [f64; 3] = [1.0, 0.5, 1.5];

/// The cuts that could be made.
fn possible(wanted: &Answered, asked: TestCutsAsked<'_>, shelves: &impl Shelves) -> Vec<Possible> {
    let diameter = wanted.resolved.setup.cutter.diameter.si();
    // As the pass is cut: what would pull the table there pulls it in scrap.
    let direction = wanted.resolved.setup.cut.direction.word();
    let mut base = asked.description.clone();
    for key in OF_PLACE {
        base.put(key, "");
    }
    base.put(Key::Tolerance, IN_SCRAP);
    let length = |share: f64| length(share * diameter, asked.system);
    let walls = WALLS.map(|(depth, width)| {
        base.clone().with(&[
            (Key::Path, "side"),
            (Key::Direction, direction),
            (Key::Depth, &length(depth)),
            (Key::Width, &length(width)),
        ])
    });
    let slots = SLOTS.map(|depth| {
        base.clone()
            .with(&[(Key::Path, "slot"), (Key::Depth, &length(depth))])
    });
    let all = walls.into_iter().chain(slots);
    all.flat_map(|texts| FEEDS.map(|share| one(&texts, share, asked.system, shelves)))
        .flatten()
        .collect()
}

/// A length that can be set at the machine.
fn length(si: f64, system: System) -> String {
    match system {
        System::Metric => format!("{:.2} mm", (si * 1e3 * 20.0).round() / 20.0 + 0.0)
            .replace("0.00 mm", "0.05 mm"),
        System::Inch => {
            let thou = (si / 25.4e-6).round().max(1.0);
            format!("{:.3} in", thou / 1e3)
        }
    }
}

/// A cut at a share of the feed that is planned for it; `None` where it is not inside every limit.
fn one(
    texts: &Description,
    share: f64,
    system: System,
    shelves: &impl Shelves,
) -> Option<Possible> {
    let mut planner = Planner::default();
    let planned = answered(texts, shelves, &mut planner).ok()?;
    let mut set = texts.clone();
    set.put(
        Key::Spindle,
        &s::N.show(planned.plan.n.turns().value, system),
    );
    set.put(
        Key::Feed,
        &s::V_F.show(planned.plan.v_f.value * share, system),
    );
    let answer = answered(&set, shelves, &mut planner).ok()?;
    let within = |c: &feeds_core::limit::Check| {
        matches!(c.limit.harm, Harm::Book | Harm::Nothing) || c.used().is_none_or(|u| u <= 1.0)
    };
    if answer.stops() || !answer.plan.checks.iter().all(within) {
        return None;
    }
    let texts = as_cut(&set, &answer);
    let now = &answer.resolved.setup;
    let readings = SeenKey::ALL.into_iter().filter_map(|key| {
        let value = expected(key, now, &answer.plan)?;
        let sighting = reading(key, value, now)?;
        Some((key, sighting))
    });
    let readings: Vec<_> = readings.collect();
    let book = book(&answer).clone();
    let planner = Planner::new(&book);
    let mut given = book.clone();
    given.given = now.given;
    let plan = planner.work_out(&given, &mut Silent).ok()?;
    Some(Possible {
        texts,
        book: given,
        planner,
        plan,
        readings,
        answer,
    })
}

/// What would be read of a cut; `None` where it cannot be.
fn reading(key: SeenKey, value: f64, setup: &Setup) -> Option<Sighting> {
    let (wall, watts) = READABLE;
    match key {
        SeenKey::Wall if value >= wall => {}
        SeenKey::Watts if value >= watts => {}
        // A chip is worth looking for only near the least one.
        SeenKey::Chip if (0.5..=1.0).contains(&value) => return Some(Sighting::Chip(true)),
        _ => return None,
    }
    Some(Sighting::Measured {
        symbol: key.answer()?,
        value: value * at_cutter(key, setup)?,
        within: key.within(value),
    })
}
