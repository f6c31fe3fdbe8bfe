//! A pass that was cut, as the log keeps it: the settings it was cut with, and the range that was
//! given before anything was learnt of it.

use super::beside::{band, range};
use super::seen::{CutSeen, SeenKey, at_cutter, expected};
use crate::command::pairs::pairs;
use crate::pass::alias::meant;
use crate::pass::answered::{Answered, answered};
use crate::pass::description::Description;
use crate::pass::field::{Key, field};
use crate::pass::resolve::Shelves;
use crate::store::job::{Job, Pass};
use crate::store::log::LoggedCut;
use feeds_core::error::{Cause, EntryError};
use feeds_core::nearest::advice;
use feeds_core::plan::Planner;
use feeds_core::quantity::Quantity;

/// A reading so many times beyond the range that was expected is taken for a slip of the unit or of
/// the decimal point, unless it is said to be sure (common practice).
const FAR: f64 = 4.0;
/// The word that says so.
const SURE: &str = "sure=yes";

/// What is logged.
#[derive(Clone, Debug)]
pub struct Logged<'a> {
    /// The job it is of; may be empty.
    pub job: &'a str,
    /// The pass of it.
    pub pass: &'a str,
    /// Everything the pass is described with.
    pub description: &'a Description,
    /// Length of its path, m, where that is known.
    pub length: Option<f64>,
    /// What was seen.
    pub seen: CutSeen,
    /// Whether a reading far from what was expected is meant as it is.
    pub sure: bool,
    /// The day, as 2026-11-29.
    pub date: String,
}

impl<'a> Logged<'a> {
    /// A pass of a job, cut on a day; what was seen of it, and whether that is sure.
    pub fn of(
        job: &'a Job,
        at: usize,
        description: &'a Description,
        (seen, sure): (CutSeen, bool),
        date: String,
    ) -> Self {
        let pass = &job.passes[at];
        Self {
            job: &job.name,
            pass: &pass.name,
            description,
            length: pass.length_si(),
            seen,
            sure,
            date,
        }
    }
}

/// Makes the row of the log.
///
/// # Errors
/// When nothing was seen, the pass cannot be worked out, it has no answer to a reading, or one is
/// far from what was expected.
pub fn record(logged: Logged<'_>, shelves: &impl Shelves) -> Result<LoggedCut, Vec<EntryError>> {
    let mut seen = logged.seen;
    if seen.is_empty() {
        let text = "nothing was seen: add what you saw, such as wall=0.012mm edge=used";
        return Err(vec![EntryError::because(Cause::Wanting, text).of("log")]);
    }
    let mut planner = Planner::default();
    let answer = answered(logged.description, shelves, &mut planner)?.surely(&planner);
    let unheld: Vec<EntryError> = seen
        .iter()
        .filter_map(|(key, _)| unheld(key, &answer))
        .collect();
    if !unheld.is_empty() {
        return Err(unheld);
    }
    let far = SeenKey::MEASURED.into_iter().filter_map(|key| {
        let text = seen.get(key)?;
        far((key, text), seen.value(key)?, said(key, &answer)?, shelves)
    });
    let far: Vec<EntryError> = far.filter(|_| !logged.sure).collect();
    if !far.is_empty() {
        return Err(far);
    }
    if let (None, Some(length)) = (seen.minutes(), logged.length) {
        let text = format!("{} min", length / answer.plan.v_f.value / 60.0);
        // A pass of a few seconds counts no minutes.
        let _ = seen.set(SeenKey::Minutes, &text);
    }
    // A job of the one pass keeps what the things of the shop were.
    let mut job = Job::new(logged.job, Description::default());
    let mut texts = as_cut(logged.description, &answer);
    if logged.description.get(Key::Wear).is_none() {
        // A reading is of the edge as it looked then.
        if let Some(wear) = seen.wear() {
            texts.put(Key::Wear, wear);
        }
    }
    job.passes.push(Pass::new(logged.pass, texts));
    job.keep(shelves);
    let said = SeenKey::MEASURED.into_iter().filter_map(|key| {
        let value = seen.value(key)?;
        let range = said(key, &answer)?;
        (value > 0.0).then_some((key, range))
    });
    Ok(LoggedCut::new(&job, logged.date, said.collect(), seen))
}

/// Reads what was seen, each as `wall=0.012mm`; entries of the pass, such as `feed=100mm/min`, are
/// put into its description. Also whether they are said to be sure.
///
/// # Errors
/// Every entry that is not known or cannot be read.
pub fn as_logged(
    entries: &[&str],
    description: &mut Description,
) -> Result<(CutSeen, bool), Vec<EntryError>> {
    let mut seen = CutSeen::default();
    let mut errors = Vec::new();
    let named: Vec<&str> = entries
        .iter()
        .copied()
        .filter(|entry| *entry != SURE)
        .collect();
    for parted in pairs(&named, "wall=0.012mm") {
        let set = parted.and_then(|(key, text)| {
            // The side of a curved wall is a word of the pass; here it is how far the wall is off.
            match (SeenKey::of_word(key), field(key)) {
                (Some(key), _) => seen.set(key, text),
                (None, Some(field)) => {
                    field.read(&meant(key, text))?;
                    in_its_place(description, key, text)
                }
                (None, None) => {
                    let keys = SeenKey::ALL.map(SeenKey::word);
                    let text = format!("there is no such entry: {}", advice(key, &keys));
                    Err(EntryError::because(Cause::Unknown, text).of(key))
                }
            }
        });
        errors.extend(set.err());
    }
    if errors.is_empty() {
        Ok((seen, entries.contains(&SURE)))
    } else {
        Err(errors)
    }
}

/// Puts in how the pass was cut. A speed or feed takes the place of the other form of it.
fn in_its_place(description: &mut Description, key: &str, text: &str) -> Result<(), EntryError> {
    let pairs = [
        [Key::Spindle, Key::CuttingSpeed],
        [Key::Feed, Key::FeedPerTooth],
    ];
    if let Some(field) = field(key) {
        let of = pairs.iter().filter(|pair| pair.contains(&field.id));
        of.flatten().for_each(|other| description.put(*other, ""));
    }
    description.set(key, text)
}

/// The range that was given of what a reading measures.
fn said(key: SeenKey, answer: &Answered) -> Option<[f64; 2]> {
    let band = band(answer.sure.as_ref()?, key.answer()?)?;
    let at_cutter = at_cutter(key, &answer.resolved.setup)?;
    Some([band.low / at_cutter, band.high / at_cutter])
}

/// Why a reading is taken for a slip.
fn far(
    (key, text): (SeenKey, &str),
    value: f64,
    [low, high]: [f64; 2],
    shelves: &impl Shelves,
) -> Option<EntryError> {
    let near = value <= FAR * high && value * FAR >= low;
    if near || value == 0.0 {
        return None;
    }
    let expected = range(key.answer()?, low, high, shelves.typed_in());
    let text = format!(
        "{text} is far from the {expected} that were expected: look at the unit and the decimal \
         point; if it was so, add {SURE}"
    );
    Some(EntryError::because(Cause::Bound, text).of(key.word()))
}

/// Why nothing can be learnt from a reading.
fn unheld(key: SeenKey, answer: &Answered) -> Option<EntryError> {
    let learns = key.answer().is_some() || matches!(key, SeenKey::Chip | SeenKey::Broke);
    if !learns || expected(key, &answer.resolved.setup, &answer.plan).is_some() {
        return None;
    }
    let text = match key {
        SeenKey::Chip => {
            "the least chip of this pass is not known: leave it out, or add the \
            cutter's edge radius to the pass"
        }
        SeenKey::Watts if answer.resolved.setup.machine.is_none() => {
            "the pass names no machine, so its efficiency is not known: add the machine"
        }
        _ => {
            "the pass has no cutting force to hold it against: add stock and condition, or leave \
            it out"
        }
    };
    Some(EntryError::because(Cause::Wanting, text).of(key.word()))
}

/// The entries of a pass with the speed, feed and wear it was cut with.
pub(super) fn as_cut(description: &Description, answer: &Answered) -> Description {
    let mut cut = description.clone();
    for key in [Key::CuttingSpeed, Key::FeedPerTooth] {
        cut.put(key, "");
    }
    let plan = &answer.plan;
    cut.put(
        Key::Spindle,
        &format!("{} 1/min", plan.n.turns().value * 60.0),
    );
    cut.put(Key::Feed, &format!("{} mm/min", plan.v_f.value * 60e3));
    let resistance = answer.resolved.setup.stock.resistance.as_ref();
    let land = resistance.map_or(0.0, |r| r.land.si());
    if cut.get(Key::Wear).is_none() && land > 0.0 {
        cut.put(Key::Wear, &format!("{} mm", land * 1e3));
    }
    cut
}
