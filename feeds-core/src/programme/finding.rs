//! What the audit has to say about a programme: each thing once.
//!
//! Findings of one kind with the same words are one finding that counts its places. Where every
//! place has a value of its own, as each ramp has its angle, those of one tool are one, and the
//! words are about the worst.

use std::cmp::Ordering;
use std::collections::{HashMap, HashSet};
use std::hash::{DefaultHasher, Hash, Hasher};

use serde::{Serialize, Serializer};

use super::Where;
use crate::limit::Harm;
use crate::verdict::Verdict;

mod kinds;

pub use kinds::KINDS;
pub(crate) use kinds::*;

/// How serious a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Do not run the programme before this is settled.
    Error,
    /// Probably not meant so.
    Warning,
    /// Worth knowing, or could not be checked.
    Note,
}

/// One finding, with all the places it is true of.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// Physical line the words are about, from 1: the first, or the worst where places differ.
    pub line: u64,
    /// Byte of that line, from 1.
    pub column: u32,
    /// Stable name of the kind of finding.
    pub code: &'static str,
    /// How serious it is.
    pub severity: Severity,
    /// What is harmed.
    #[serde(serialize_with = "word")]
    pub rank: Harm,
    /// How much of what is allowed is used, 1 for all of it, where that is a number.
    pub used: Option<f64>,
    /// What is wrong and what to do.
    pub text: String,
    /// At how many places it is so.
    pub count: u64,
    /// The first and the last line of them.
    pub first_line: u64,
    /// The last line of them.
    pub last_line: u64,
    /// The tool, of findings that are alike for each tool they are true of.
    pub tool: Option<u32>,
}

/// What findings of a kind are one by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Cause {
    /// The same words, by their hash.
    Words(u64),
    /// The kind alone.
    Kind,
    /// A tool.
    Tool(u32),
    /// The speed and feed that were planned for a tool, and its planned step down: each has
    /// figures of its own.
    Plan(u32),
    Step(u32),
}

impl From<Option<u32>> for Cause {
    fn from(tool: Option<u32>) -> Self {
        tool.map_or(Self::Kind, Self::Tool)
    }
}

#[expect(clippy::trivially_copy_pass_by_ref)] // serde hands over a reference
fn word<S: Serializer>(rank: &Harm, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(rank.word())
}

impl Finding {
    /// What the programme comes to with this finding alone.
    pub fn verdict(&self) -> Verdict {
        match self.severity {
            Severity::Error => Verdict::Stop,
            Severity::Warning | Severity::Note if self.rank < Harm::Book => Verdict::Care,
            Severity::Warning | Severity::Note => Verdict::Run,
        }
    }

    /// Whether it says that something is not known, which is neither right nor wrong.
    pub fn is_not_known(&self) -> bool {
        let open = [
            NO_MODEL,
            TOOL_QUESTION,
            COMPENSATION,
            ROTARY,
            PROBE,
            START_UNKNOWN,
            NOT_SIMULATED,
        ];
        open.iter().any(|kind| kind.code == self.code)
    }

    /// Which of two is to be read first: by how serious it is, what is harmed, and how much of
    /// what is allowed is used.
    pub(crate) fn before(&self, other: &Self) -> Ordering {
        let used = |f: &Self| f.used.unwrap_or(0.0);
        let rank = |f: &Self| (f.severity, f.rank);
        let place = |f: &Self| (f.line, f.column);
        rank(self)
            .cmp(&rank(other))
            .then(used(other).total_cmp(&used(self)))
            .then(place(self).cmp(&place(other)))
    }

    /// Where else it is so, such as `and 98 more: lines 54 to 2712`; empty for a single place.
    pub fn elsewhere(&self) -> String {
        match (self.count, self.first_line, self.last_line) {
            (0 | 1, ..) => String::new(),
            (n, first, last) if first == last => format!("and {} more in line {first}", n - 1),
            (2, first, last) => {
                let other = if first == self.line { last } else { first };
                format!("and in line {other}")
            }
            (n, first, last) => format!("and {} more: lines {first} to {last}", n - 1),
        }
    }
}

/// Findings of a kind that were counted but not kept.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LeftOut {
    /// The kind.
    pub code: &'static str,
    /// How many more there were.
    pub count: u64,
}

/// A kind of finding: its stable name, how serious it is, and what is harmed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FindingKind {
    /// Stable name.
    pub code: &'static str,
    /// Severity of every finding of this kind.
    pub severity: Severity,
    /// What is harmed.
    pub rank: Harm,
}

/// Most findings kept of one kind, and most places of a kind that are known again.
const MOST: usize = 100;
const MOST_PLACES: usize = 1000;

/// All findings of an audit, bounded.
#[derive(Debug, Default)]
pub(crate) struct Findings {
    list: Vec<Finding>,
    /// Where a finding of a kind and a cause stands in the list.
    causes: HashMap<(&'static str, Cause), usize>,
    kinds: Vec<Tally>,
}

/// What was found of one kind.
#[derive(Debug)]
struct Tally {
    code: &'static str,
    /// Loops and calls come to a place again.
    places: HashSet<(u64, u32)>,
    furthest: (u64, u32),
    kept: usize,
    left_out: u64,
}

impl Tally {
    /// Takes in a place; false when it was met before.
    fn is_new(&mut self, place: (u64, u32)) -> bool {
        let new = if self.places.len() < MOST_PLACES {
            self.places.insert(place)
        } else {
            place > self.furthest && !self.places.contains(&place)
        };
        self.furthest = self.furthest.max(place);
        new
    }
}

impl Findings {
    /// Adds a finding. Those of a kind with the same words are one.
    #[cold]
    pub(crate) fn add(
        &mut self,
        line: u64,
        at: u32,
        kind: FindingKind,
        text: impl FnOnce() -> String,
    ) {
        let tally = self.tally(kind);
        if !tally.is_new((line, at)) {
            return;
        }
        if tally.kept >= MOST {
            tally.left_out += 1;
            return;
        }
        let text = text();
        let mut hasher = DefaultHasher::new();
        text.hash(&mut hasher);
        self.put(
            Where { line, at },
            kind,
            Cause::Words(hasher.finish()),
            None,
            true,
            || text,
        );
    }

    /// Adds a finding of a `cause`, such as a tool. Those of one kind and one cause
    /// are one, and its words are about the place that uses most of what is allowed, or about the
    /// first where that is not a number.
    #[cold]
    pub(crate) fn worst(
        &mut self,
        at: Where,
        kind: FindingKind,
        cause: impl Into<Cause>,
        used: impl Into<Option<f64>>,
        text: impl FnOnce() -> String,
    ) {
        let new = self.tally(kind).is_new((at.line, at.at));
        self.put(at, kind, cause.into(), used.into(), new, text);
    }

    fn put(
        &mut self,
        at: Where,
        kind: FindingKind,
        cause: Cause,
        used: Option<f64>,
        new: bool,
        text: impl FnOnce() -> String,
    ) {
        // What holds from the start stands in the first line.
        let (line, column) = (at.line.max(1), at.at.saturating_add(1));
        let used = used.filter(|u| u.is_finite());
        if let Some(place) = self.causes.get(&(kind.code, cause)) {
            let found = &mut self.list[*place];
            if new {
                found.count += 1;
                found.first_line = found.first_line.min(line);
                found.last_line = found.last_line.max(line);
            }
            if used > found.used {
                found.text = text();
                (found.line, found.column, found.used) = (line, column, used);
            }
            return;
        }
        let tally = self.tally(kind);
        if tally.kept >= MOST {
            tally.left_out += u64::from(new);
            return;
        }
        tally.kept += 1;
        self.causes.insert((kind.code, cause), self.list.len());
        self.list.push(Finding {
            line,
            column,
            code: kind.code,
            severity: kind.severity,
            rank: kind.rank,
            used,
            text: text(),
            count: 1,
            first_line: line,
            last_line: line,
            tool: match cause {
                Cause::Tool(number) => Some(number),
                Cause::Words(_) | Cause::Kind | Cause::Plan(_) | Cause::Step(_) => None,
            },
        });
    }

    fn tally(&mut self, kind: FindingKind) -> &mut Tally {
        let place = self.kinds.iter().position(|t| t.code == kind.code);
        let place = place.unwrap_or_else(|| {
            self.kinds.push(Tally {
                code: kind.code,
                places: HashSet::new(),
                furthest: (0, 0),
                kept: 0,
                left_out: 0,
            });
            self.kinds.len() - 1
        });
        &mut self.kinds[place]
    }

    /// Whether a finding of this kind has been made.
    pub(crate) fn has(&self, kind: FindingKind) -> bool {
        self.kinds.iter().any(|t| t.code == kind.code)
    }

    /// Says more in a finding of one of these kinds at a place; false when there is none.
    pub(crate) fn amend(
        &mut self,
        at: Where,
        kinds: &[FindingKind],
        more: impl Fn() -> String,
    ) -> bool {
        let place = (at.line, at.at.saturating_add(1));
        let is = |f: &&mut Finding| {
            (f.line, f.column) == place && kinds.iter().any(|k| k.code == f.code)
        };
        let found = self.list.iter_mut().find(is);
        if let Some(found) = found {
            found.text += &more();
            return true;
        }
        false
    }

    /// Says more in every finding of a kind.
    pub(crate) fn amend_all(&mut self, kind: FindingKind, more: impl Fn() -> String) {
        let all = self.list.iter_mut().filter(|f| f.code == kind.code);
        all.for_each(|found| found.text += &more());
    }

    /// Takes back the findings of kinds that another finding explains.
    pub(crate) fn forget(&mut self, kinds: &[FindingKind]) {
        let gone = |code: &str| kinds.iter().any(|k| k.code == code);
        self.list.retain(|f| !gone(f.code));
        self.kinds.retain(|t| !gone(t.code));
        self.causes.clear();
    }

    /// Takes over the findings of another part of the audit, which are of other kinds.
    pub(crate) fn append(&mut self, other: Self) {
        let before = self.list.len();
        let causes = other.causes.into_iter();
        self.causes
            .extend(causes.map(|(cause, place)| (cause, before + place)));
        self.list.extend(other.list);
        self.kinds.extend(other.kinds);
    }

    /// The findings by line, and those left out.
    pub(crate) fn finish(mut self) -> (Vec<Finding>, Vec<LeftOut>) {
        self.list.sort_by_key(|f| (f.line, f.column));
        let left_out = self.kinds.iter().filter(|t| t.left_out > 0);
        let left_out = left_out.map(|t| LeftOut {
            code: t.code,
            count: t.left_out,
        });
        (self.list, left_out.collect())
    }
}

#[cfg(test)]
mod tests;
