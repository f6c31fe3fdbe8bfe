//! Slips: a decimal point that moved, an inch that was read as a millimetre, and sane jobs beside.
//!
//! A slip is one entry of a sane job that is 10 or 25.4 times too large or too small. It is
//! **flagged** when the answer says something that it does not say of the sane job:
//!
//! - the job is refused, or
//! - an entry is questioned («did you mean 8.5 mm?»), or
//! - a check is over its limit; a check that harms nothing does not count.
//!
//! A **false alarm** is a sane job that is refused or has an entry questioned. A check that is over
//! its limit says of a sane job what the cut does, and not that an entry looks like a slip; how
//! often that happens is counted beside. To hold the same definition against sane jobs in full,
//! each is compared with a second one in which one entry is drawn anew inside its published range:
//! what the answer then says that it did not say before is counted as **said of a change**.
//!
//! Where the sane jobs come from stands in `slips/jobs.rs`.

#[path = "slips/jobs.rs"]
mod jobs;

use feeds_core::kernel::seed::Seed;
use feeds_core::limit::{Harm, State};
use feeds_core::plan::Planner;
use feeds_core::verdict::Verdict;
use feeds_tui::pass::answered::answered;
use feeds_tui::pass::description::Description;
use feeds_tui::pass::resolve::TablesOnly;
use jobs::{Amount, SaneJob, pick};
use std::collections::{BTreeMap, BTreeSet};

const JOBS: u64 = 200;
/// The least share of slips that have to be flagged, in per cent.
const FLAGGED: usize = 95;
/// The most sane jobs with a false alarm, in per cent.
const ALARMS: usize = 2;

/// What an answer says that may be a flag.
#[derive(Debug, Default)]
struct Flags {
    refused: BTreeSet<String>,
    questioned: BTreeSet<&'static str>,
    over: BTreeSet<&'static str>,
    stops: bool,
    texts: Vec<String>,
}

impl Flags {
    fn of(job: &SaneJob) -> Self {
        let entries: Vec<(&str, String)> = job.entries();
        let entries: Vec<(&str, &str)> = entries.iter().map(|(k, t)| (*k, t.as_str())).collect();
        let pass = Description::default().with(&entries);
        let mut flags = Self::default();
        match answered(&pass, &TablesOnly, &mut Planner::default()) {
            Err(errors) => {
                flags.texts = errors.iter().map(ToString::to_string).collect();
                flags.refused = flags.texts.iter().cloned().collect();
            }
            Ok(answer) => {
                let doubts = &answer.resolved.doubts;
                flags.questioned = doubts.iter().map(|doubt| doubt.symbol.text).collect();
                flags.texts = doubts.iter().map(|doubt| doubt.text.clone()).collect();
                let over = answer.plan.checks.iter().filter(|check| {
                    check.state() == State::Over && check.limit.harm != Harm::Nothing
                });
                flags.over = over.map(|check| check.limit.name).collect();
                flags.stops = Verdict::of(&answer.plan.checks) == Verdict::Stop;
            }
        }
        flags
    }

    /// Whether something is said that is not said of another job, and by what.
    fn beside(&self, sane: &Self) -> Option<&'static str> {
        if !self.refused.is_subset(&sane.refused) {
            return Some("refused");
        }
        if !self.questioned.is_subset(&sane.questioned) {
            return Some("questioned");
        }
        (!self.over.is_subset(&sane.over)).then_some("over")
    }

    fn is_alarm(&self) -> bool {
        !self.refused.is_empty() || !self.questioned.is_empty()
    }
}

/// How an entry can be off, and what its text is then.
fn slips(amount: &Amount) -> Vec<(&'static str, Amount)> {
    let times = |by: f64| Amount {
        number: amount.number * by,
        unit: amount.unit,
    };
    let mut slips = vec![("x 10", times(10.0)), ("/ 10", times(0.1))];
    if let Some(other) = amount.other_system() {
        let swapped = Amount {
            number: amount.number,
            unit: other,
        };
        if amount.is_inch() {
            slips.extend([("/ 25.4", swapped), ("x 25.4", times(25.4))]);
        } else {
            slips.extend([("x 25.4", swapped), ("/ 25.4", times(1.0 / 25.4))]);
        }
    }
    slips
}

#[derive(Default)]
struct Count {
    flagged: usize,
    all: usize,
}

#[test]
fn slips_are_flagged_and_sane_jobs_are_not() {
    let mut by: BTreeMap<&str, usize> = BTreeMap::new();
    let mut of_entry: BTreeMap<&str, Count> = BTreeMap::new();
    let mut missed = Vec::new();
    for number in 0..JOBS {
        let mut seed = Seed::new(1_000 + number);
        let sane = SaneJob::drawn(&mut seed);
        let (at, key) = pick(&sane.quantities(), &mut seed);
        let (how, wrong) = pick(&slips(sane.amount(at)), &mut seed);
        let slipped = sane.with(at, wrong);
        let (before, after) = (Flags::of(&sane), Flags::of(&slipped));
        let count = of_entry.entry(key).or_default();
        count.all += 1;
        if let Some(how) = after.beside(&before) {
            *by.entry(how).or_default() += 1;
            count.flagged += 1;
        } else {
            missed.push(format!("{key} {how}: {:?}", slipped.entries()));
        }
    }
    let (mut alarms, mut stops, mut over, mut changed) = (Vec::new(), 0, 0, 0);
    for number in 0..JOBS {
        let mut seed = Seed::new(2_000 + number);
        let sane = SaneJob::drawn(&mut seed);
        let flags = Flags::of(&sane);
        stops += usize::from(flags.stops);
        over += usize::from(!flags.over.is_empty());
        if flags.is_alarm() {
            alarms.push(format!("{:?}: {:?}", flags.texts, sane.entries()));
        }
        let other = Flags::of(&sane.one_drawn_anew(&mut seed));
        changed += usize::from(other.beside(&flags).is_some());
    }
    let flagged: usize = by.values().sum();
    for (key, count) in of_entry {
        println!("{key:<16} {} of {}", count.flagged, count.all);
    }
    println!("{flagged} of {JOBS} slips flagged: {by:?}\nmissed: {missed:#?}");
    println!("{} false alarms: {alarms:#?}", alarms.len());
    println!("sane: {stops} stop, {over} over a limit, {changed} said of a change");
    let jobs = usize::try_from(JOBS).unwrap();
    assert!(
        100 * flagged >= FLAGGED * jobs,
        "{flagged} flagged: {missed:#?}"
    );
    assert!(100 * alarms.len() <= ALARMS * jobs, "{alarms:#?}");
}
