//! What all cuts of the log say together, ready for the next pass.
//!
//! Cuts of one stock of the shop, in one state, with cutters of one material and coating, above or
//! below 1 mm, are learnt together: forces, least chip and strength. What a machine gives is
//! learnt of all cuts on it. Cuts on another machine say nothing here.

use super::beside::OwnBeside;
use super::edge::{CutterLife, is};
use super::seen::{SeenKey, expected};
use crate::pass::resolve::{KnownAs, resolve};
use crate::store::log::LoggedCut;
use feeds_core::notebook::Silent;
use feeds_core::own::{Own, OwnCut, Sighting};
use feeds_core::plan::setup::Setup;
use feeds_core::plan::{Plan, Planner};

/// What the log says.
#[derive(Clone, Debug)]
pub struct Learnt {
    machines: Vec<OnMachine>,
    /// Readings inside the range that was given before, of so many.
    pub inside: (usize, usize),
    /// What every cutter has done.
    pub lives: Vec<CutterLife>,
}

/// What the cuts on a machine say.
#[derive(Clone, Debug)]
struct OnMachine {
    name: String,
    own: Own,
    /// Stock and cutter class of each group, and how many readings it has.
    groups: Vec<(KnownAs, usize)>,
}

/// A cut as the book has it, worked out again.
#[derive(Debug)]
pub struct Rebuilt {
    /// Plans its kind.
    pub planner: Planner,
    /// As the book has it.
    pub setup: Setup,
    /// Its plan.
    pub plan: Plan,
    /// What it was cut with.
    pub known: KnownAs,
    /// What was seen of it, where the book has an answer to hold it against.
    pub seen: Vec<Sighting>,
}

impl Rebuilt {
    /// Works a logged cut out again; `None` where the tables cannot follow it any more.
    pub fn of(cut: &LoggedCut) -> Option<Self> {
        let resolved = resolve(&cut.cut, &cut.shelves()).ok()?;
        let planner = Planner::new(&resolved.setup);
        let plan = planner.work_out(&resolved.setup, &mut Silent).ok()?;
        let seen = cut.seen.sightings(&resolved.setup).into_iter();
        let seen = seen.filter(|(key, _)| expected(*key, &resolved.setup, &plan).is_some());
        Some(Self {
            seen: seen.map(|(_, sighting)| sighting).collect(),
            setup: resolved.setup,
            known: resolved.known,
            planner,
            plan,
        })
    }

    /// What was seen of it, for the estimate.
    pub fn cuts(&self, group: usize) -> impl Iterator<Item = OwnCut<'_>> {
        self.seen.iter().map(move |seen| OwnCut {
            planner: &self.planner,
            setup: &self.setup,
            plan: &self.plan,
            group,
            seen: *seen,
        })
    }
}

/// Which group of a list a cut belongs to; a new one is put at its end.
pub fn group(groups: &mut Vec<(KnownAs, usize)>, known: &KnownAs, readings: usize) -> usize {
    if let Some(at) = groups.iter().position(|(k, _)| k.is_cut_like(known)) {
        groups[at].1 += readings;
        return at;
    }
    groups.push((known.clone(), readings));
    groups.len() - 1
}

impl Learnt {
    /// Learns from a log.
    pub fn of(log: &[LoggedCut]) -> Self {
        let rebuilt: Vec<Rebuilt> = log.iter().filter_map(Rebuilt::of).collect();
        let mut names: Vec<&str> = Vec::new();
        for cut in rebuilt.iter().filter(|c| !c.seen.is_empty()) {
            let name = cut.known.machine.as_str();
            if !names.iter().any(|n| is(n, name)) {
                names.push(name);
            }
        }
        let machines = names.into_iter().map(|name| {
            let mut groups = Vec::new();
            let mut cuts = Vec::new();
            let there = rebuilt.iter().filter(|c| !c.seen.is_empty());
            for cut in there.filter(|c| is(&c.known.machine, name)) {
                let group = group(&mut groups, &cut.known, cut.seen.len());
                cuts.extend(cut.cuts(group));
            }
            OnMachine {
                name: name.to_owned(),
                own: Own::of(&cuts, &[]),
                groups,
            }
        });
        Self {
            machines: machines.collect(),
            inside: inside(log),
            lives: CutterLife::of(log),
        }
    }

    /// What concerns a pass: its setup moved to where the own cuts put it, beside that of the book.
    pub fn beside(&self, known: &KnownAs, book: &Setup) -> Option<(Setup, OwnBeside)> {
        let on = self.machines.iter().find(|m| is(&m.name, &known.machine))?;
        let group = on.groups.iter().position(|(k, _)| k.is_cut_like(known));
        let factors = on.own.of_group(group, book);
        let setup = factors.applied(book);
        let readings = |(_, readings): &(KnownAs, usize)| *readings;
        Some((
            setup,
            OwnBeside {
                factors,
                here: group.map_or(0, |at| on.groups[at].1),
                on_machine: on.groups.iter().map(readings).sum(),
                inside: self.inside,
                book: Box::new(book.clone()),
            },
        ))
    }

    /// What a cutter has done; `None` if it was never logged.
    pub fn life(&self, cutter: &str) -> Option<&CutterLife> {
        self.lives.iter().find(|life| is(&life.name, cutter))
    }
}

/// How many readings lay inside the range that was given before they were learnt, of so many.
fn inside(log: &[LoggedCut]) -> (usize, usize) {
    let mut count = (0, 0);
    for cut in log {
        for key in SeenKey::MEASURED {
            if let Some(within) = cut.was_inside(key) {
                count.0 += usize::from(within);
                count.1 += 1;
            }
        }
    }
    count
}
