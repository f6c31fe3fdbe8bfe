//! A job worked out: every pass with its answer, and what the passes come to together.

use crate::feature::Advice;
use crate::pass::answered::{Answered, answered};
use crate::pass::decision;
use crate::pass::description::Description;
use crate::pass::field::{Key, Shelf};
use crate::pass::overrides::Overrides;
use crate::pass::part;
use crate::pass::resolve::Shelves;
use crate::store::job::{Job, JobFeature, NONE, Pass};
use crate::words::count;
use feeds_core::error::EntryError;
use feeds_core::limit::Moment;
use feeds_core::plan::{Plan, Planner};
use feeds_core::quantity::{Quantity, Time};
use feeds_core::symbol::{self as s, Symbol, System};
use feeds_core::verdict::Verdict;
use std::cell::LazyCell;

/// A pass of a job with its answer.
#[derive(Clone, Debug)]
pub struct WorkedPass<'j> {
    /// The pass as it stands in the job.
    pub pass: &'j Pass,
    /// Everything it is described with.
    pub description: Description,
    /// The answer, or every entry that is wrong or missing.
    pub outcome: Result<Answered, Vec<EntryError>>,
    /// What turning the overrides does.
    pub overrides: Option<Overrides>,
    /// Time at the feed, if a length was given.
    pub time: Option<Time>,
    /// The earlier pass whose corners it meets.
    pub left_by: Option<usize>,
    /// The slot it is cut in: the pass that left it, and its width in metres.
    pub slot: Option<(usize, f64)>,
    /// Whether the cutter has to be changed before it.
    pub changes_cutter: bool,
}

/// A job with its answers.
#[derive(Clone, Debug)]
pub struct Worked<'j> {
    /// The job.
    pub job: &'j Job,
    /// Its passes.
    pub passes: Vec<WorkedPass<'j>>,
}

/// Works out every pass of a job, how sure it is, and what turning its overrides does.
pub fn worked<'j>(job: &'j Job, shelves: &impl Shelves) -> Worked<'j> {
    surely(job, shelves, Overrides::of)
}

/// The same without what turning its overrides does.
pub fn sure_answers<'j>(job: &'j Job, shelves: &impl Shelves) -> Worked<'j> {
    surely(job, shelves, |_, _| None)
}

fn surely<'j>(
    job: &'j Job,
    shelves: &impl Shelves,
    turned: impl Fn(&Answered, &Planner) -> Option<Overrides>,
) -> Worked<'j> {
    let mut worked = answers(job, shelves);
    for pass in &mut worked.passes {
        let Ok(answer) = &mut pass.outcome else {
            continue;
        };
        let planner = Planner::new(&answer.resolved.setup);
        *answer = answer.clone().surely(&planner);
        pass.overrides = turned(answer, &planner);
    }
    worked
}

/// Whether an entry of a pass is as its feature was planned: nobody typed it, and nobody is asked.
fn is_planned(job: &Job, pass: &Pass, symbol: &Symbol) -> bool {
    let mut features = job.features.iter();
    let Some(feature) = features.find(|feature| feature.stage_of(pass).is_some()) else {
        return false;
    };
    let of = |texts: &Description| texts.iter().any(|(f, _)| f.symbol() == Some(symbol));
    of(&pass.texts) && !of(&feature.typed_by_hand(pass))
}

/// Works out every pass of a job, without how sure it is and the overrides, which take most of the
/// time.
pub fn answers<'j>(job: &'j Job, shelves: &impl Shelves) -> Worked<'j> {
    let mut planner = Planner::default();
    let mut before: Option<String> = None;
    let mut passes = Vec::new();
    let cleared = LazyCell::new(|| cleared(job, shelves));
    for (at, pass) in job.passes.iter().enumerate() {
        let (description, left_by) = described(job, at, shelves, &cleared);
        let mut outcome = answered(&description, shelves, &mut planner);
        if let Ok(answer) = &mut outcome {
            let doubts = &mut answer.resolved.doubts;
            doubts.retain(|doubt| !is_planned(job, pass, doubt.symbol));
        }
        let time = outcome
            .as_ref()
            .ok()
            .zip(pass.length_si())
            .map(|(a, length)| Time::from_si(length / a.plan.v_f.si()));
        let cutter = cutter_of(&description);
        passes.push(WorkedPass {
            pass,
            outcome,
            overrides: None,
            time,
            left_by,
            slot: slot(job, at, shelves),
            changes_cutter: before.as_ref() != Some(&cutter),
            description,
        });
        before = Some(cutter);
    }
    Worked { job, passes }
}

/// Everything a pass is described with, and the earlier pass whose corners it meets: the diameter
/// of that one's cutter is part of the description.
pub fn description_of(
    job: &Job,
    at: usize,
    shelves: &impl Shelves,
) -> (Description, Option<usize>) {
    described(job, at, shelves, &LazyCell::new(|| cleared(job, shelves)))
}

fn described(
    job: &Job,
    at: usize,
    shelves: &impl Shelves,
    cleared: &LazyCell<Vec<Cleared>, impl FnOnce() -> Vec<Cleared>>,
) -> (Description, Option<usize>) {
    let mut description = job.description(&job.passes[at]);
    let Some((before, diameter)) = left_by(job, at, shelves, cleared) else {
        return (description, None);
    };
    if description.get(Key::Previous).is_none() {
        description.put(Key::Previous, &diameter);
    }
    (description, Some(before))
}

/// Diameters nearer to each other than this are one and the same, in metres.
const SAME: f64 = 1e-6;

impl Worked<'_> {
    /// What the plan of its feature says of a pass, in a line; what asks for care stands in its
    /// [head](Self::head).
    pub fn advised(&self, at: usize, system: System) -> Option<String> {
        self.says(at, system, false)
    }

    /// What a pass comes to, in a line: what its plan asks care for comes before what only is
    /// nearest to trouble.
    pub fn head(&self, at: usize, plan: &Plan, system: System) -> String {
        let head = decision::head(plan);
        let pass = self.passes[at].pass;
        let advice = self.job.features.iter().flat_map(|f| f.advice(pass));
        let worst = advice.map(Advice::verdict).max();
        let worst = worst.filter(|worst| *worst > Verdict::of(&plan.checks));
        match (self.says(at, system, true), worst) {
            (Some(says), Some(worst)) => format!("{}  {says}", worst.word()),
            (Some(says), None) => format!("{head}; {says}"),
            (None, _) => head,
        }
    }

    fn says(&self, at: usize, system: System, cares: bool) -> Option<String> {
        let pass = self.passes[at].pass;
        let says = |feature: &JobFeature| {
            let says = feature.advice(pass).into_iter();
            let says = says.filter(|advice| advice.cares() == cares);
            says.map(|advice| advice.says(system)).collect::<Vec<_>>()
        };
        let says: Vec<String> = self.job.features.iter().flat_map(says).collect();
        (!says.is_empty()).then(|| says.join("; "))
    }

    /// What the slot before a pass means for it, in a sentence.
    pub fn slot_left(&self, at: usize, system: System) -> Option<String> {
        let worked = &self.passes[at];
        let (before, width) = worked.slot?;
        let answer = worked.outcome.as_ref().ok()?;
        let diameter = answer.resolved.setup.cutter.diameter.si();
        let head = format!(
            "the slot that pass {} left is {} wide",
            before + 1,
            s::A_E.show(width, system)
        );
        Some(if (diameter - width).abs() < SAME {
            format!("{head}, as this cutter: beside it there is nothing to cut, only below")
        } else if diameter < width {
            let room = s::A_E.show(width - diameter, system);
            format!("{head}: {room} of room for this cutter before it touches a wall")
        } else {
            // From the slot's wall to the cutter's side, on both sides of the feed.
            let engaged = s::PHI_S.show(2.0 * (width / diameter).acos(), system);
            format!("{head}, less than this cutter: it cuts both walls at once, {engaged} in all")
        })
    }

    /// Time at the feed of the passes that have a length.
    pub fn time(&self) -> Time {
        let times = self.passes.iter().filter_map(|p| p.time);
        // A sum of nothing is minus zero.
        Time::from_si(times.map(Quantity::si).sum::<f64>() + 0.0)
    }

    /// How many passes have no time.
    pub fn untimed(&self) -> usize {
        self.passes.iter().filter(|p| p.time.is_none()).count()
    }

    /// How often the cutter is changed after the first.
    pub fn cutter_changes(&self) -> usize {
        let changes = self.passes.iter().skip(1);
        changes.filter(|p| p.changes_cutter).count()
    }

    /// The totals in a sentence.
    pub fn totals(&self, system: System) -> String {
        let mut text = format!(
            "{}, {}, {} at the feed",
            count(self.passes.len(), "pass", "passes"),
            count(self.cutter_changes(), "cutter change", "cutter changes"),
            s::T_CUT.show(self.time().si(), system)
        );
        if self.untimed() > 0 {
            let passes = count(self.untimed(), "pass", "passes");
            text = format!("{text}; not counted: {passes} without a length");
        }
        text
    }

    /// Whether every pass has an answer.
    pub fn complete(&self) -> bool {
        self.passes.iter().all(|p| p.outcome.is_ok())
    }

    /// Whether a check of some pass is over.
    pub fn stops(&self) -> bool {
        let mut answers = self.passes.iter().filter_map(|p| p.outcome.as_ref().ok());
        answers.any(Answered::stops)
    }

    /// What an earlier cutter left for a pass, in a sentence.
    pub fn left_over(&self, at: usize, system: System) -> Option<String> {
        let worked = &self.passes[at];
        let answer = worked.outcome.as_ref().ok()?;
        let nominal = answer.plan.phi_s.si();
        let (left, _) = answer
            .plan
            .moments
            .iter()
            .find(|(m, _)| m.moment == Moment::LeftOver)?;
        let by = worked
            .left_by
            .map_or("the cutter before".to_owned(), |before| {
                format!("pass {}, {},", before + 1, self.job.passes[before].name)
            });
        Some(format!(
            "corners that {by} left standing at {}: engaged {} there instead of {}",
            s::D.show(answer.resolved.setup.cut.previous?.si(), system),
            s::PHI_S.show(left.arc.si(), system),
            s::PHI_S.show(nominal, system),
        ))
    }
}

/// The slot a pass is cut in: that of the pass it follows by name, or of the pass just before it.
fn slot(job: &Job, at: usize, shelves: &impl Shelves) -> Option<(usize, f64)> {
    let pass = &job.passes[at];
    let before = match pass.follows.as_str() {
        "" => at.checked_sub(1)?,
        named => job.position(named).ok().filter(|b| *b < at)?,
    };
    let is = |at: usize, path: &str| {
        let description = job.description(&job.passes[at]);
        let own = description.get(Key::Path).unwrap_or_default();
        own.eq_ignore_ascii_case(path)
    };
    // Only these go along the slot.
    let along = is(at, "slot") || is(at, "side");
    let (width, _) = diameter_of(&job.description(&job.passes[before]), shelves)?;
    (along && is(before, "slot")).then_some((before, width))
}

/// What tells one cutter from another.
pub(crate) fn cutter_of(description: &Description) -> String {
    let texts = Shelf::Cutters.fields().map(|f| f.id);
    let all: Vec<&str> = std::iter::once(Key::Cutter)
        .chain(texts)
        .map(|key| description.get(key).unwrap_or_default())
        .collect();
    all.join("|").to_lowercase()
}

/// The cutter that leaves corners behind it, if a pass does: its diameter in metres, and as typed.
type Cleared = Option<(f64, String)>;

fn yes(description: &Description, key: Key) -> bool {
    let text = description.get(key);
    text.is_some_and(|text| crate::pass::field::yes(text) == Ok(true))
}

/// What each pass leaves corners with: a pocket, or a pass into a corner. Read once for all that
/// look back.
fn cleared(job: &Job, shelves: &impl Shelves) -> Vec<Cleared> {
    let of = |pass: &Pass| {
        let description = job.description(pass);
        let path = description.get(Key::Path);
        let pocket = path.is_some_and(|path| path.eq_ignore_ascii_case("pocket"));
        let clears = pocket || yes(&description, Key::Corner);
        clears.then(|| diameter_of(&description, shelves)).flatten()
    };
    job.passes.iter().map(of).collect()
}

/// The earlier pass whose corners a pass meets, and the diameter of its cutter as text.
///
/// Told by `follows`; found out for a pass into a sharp corner: the nearest earlier pocket, or pass
/// into a corner, that was cut with a larger cutter.
fn left_by(
    job: &Job,
    at: usize,
    shelves: &impl Shelves,
    cleared: &LazyCell<Vec<Cleared>, impl FnOnce() -> Vec<Cleared>>,
) -> Option<(usize, String)> {
    let pass = &job.passes[at];
    if pass.follows.eq_ignore_ascii_case(NONE) {
        return None;
    }
    let own = job.description(pass);
    let found_out = pass.follows.is_empty();
    if found_out && (own.get(Key::Previous).is_some() || !yes(&own, Key::Corner)) {
        return None;
    }
    let (diameter, _) = diameter_of(&own, shelves)?;
    if !found_out {
        let before = job.position(&pass.follows).ok().filter(|b| *b < at)?;
        let (other, text) = diameter_of(&job.description(&job.passes[before]), shelves)?;
        return (other > diameter).then_some((before, text));
    }
    let larger = |(before, cleared): (usize, &Cleared)| {
        let (_, text) = cleared.as_ref().filter(|(other, _)| *other > diameter)?;
        Some((before, text.clone()))
    };
    cleared[..at].iter().enumerate().rev().find_map(larger)
}

/// The cutting diameter in metres, and as it was typed.
pub(crate) fn diameter_of(
    description: &Description,
    shelves: &impl Shelves,
) -> Option<(f64, String)> {
    let text = match (description.get(Key::Diameter), description.get(Key::Cutter)) {
        (Some(text), _) => text.to_owned(),
        (None, Some(name)) => {
            let part = match shelves.find(Shelf::Cutters, name).ok()? {
                Some(part) => part,
                None => part::cutter(reference_tables::tables().ok()?, name).ok()?,
            };
            part.get("diameter")?.0.to_owned()
        }
        (None, None) => return None,
    };
    let si = Key::Diameter.field().read(&text).ok().flatten()?;
    Some((si, text))
}
