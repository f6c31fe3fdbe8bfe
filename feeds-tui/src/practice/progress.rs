//! What was practised, kept from time to time, with a line for the master.

use crate::store::file::Document;
use crate::store::notice::Notice;
use crate::words::count;
use feeds_core::lesson::{LEVELS, Mark, kinds};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// The version of the file.
const VERSION: u32 = 1;

/// What was practised.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Progress {
    version: u32,
    /// Exercises begun: the next seed follows from it.
    #[serde(default)]
    pub exercises: u64,
    /// By kind of exercise.
    #[serde(default)]
    pub kinds: BTreeMap<String, Tally>,
}

/// How the questions of a kind went, by their first answer.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Tally {
    /// Questions answered.
    pub asked: u64,
    /// Of these, right.
    pub right: u64,
    /// Slips, and how often.
    #[serde(default)]
    pub slips: BTreeMap<String, u64>,
}

impl Default for Progress {
    fn default() -> Self {
        Self {
            version: VERSION,
            exercises: 0,
            kinds: BTreeMap::new(),
        }
    }
}

impl Document for Progress {
    fn read(text: &str) -> Result<(Self, Vec<Notice>), Notice> {
        let progress: Self = serde_json::from_str(text).map_err(|e| {
            Notice::new(e.line(), "", format!("this is not a practice record: {e}"))
        })?;
        if progress.version > VERSION {
            let text = "this record was kept by a newer version of the program";
            return Err(Notice::new(1, "version", text));
        }
        Ok((progress, Vec::new()))
    }

    fn written(&self) -> String {
        // A map of texts and numbers can always be written.
        serde_json::to_string_pretty(self).unwrap_or_default() + "\n"
    }
}

impl Progress {
    /// Keeps the mark of a first answer.
    pub fn keep(&mut self, kind: &str, mark: Mark) {
        let tally = self.kinds.entry(kind.to_owned()).or_default();
        tally.asked += 1;
        match mark {
            Mark::Right => tally.right += 1,
            Mark::Slip(slip) => *tally.slips.entry(slip.name.to_owned()).or_default() += 1,
            Mark::NotRecognised => {}
        }
    }

    /// The record as people read it, with the line for the master.
    pub fn text(&self) -> String {
        let mut out = String::from("practice so far, by first answers\n\n");
        for level in 1..=LEVELS {
            let of_level = || kinds().filter(|k| k.level == level);
            let tallies = of_level().filter_map(|k| self.kinds.get(k.name));
            let (asked, right) = tallies.fold((0, 0), |(a, r), t| (a + t.asked, r + t.right));
            let met = of_level()
                .filter(|k| self.kinds.contains_key(k.name))
                .count();
            let all = of_level().count();
            let all = count(all, "kind", "kinds");
            let _ = writeln!(
                out,
                "level {level}: {right} of {asked} right, {met} of {all} met"
            );
            for kind in of_level() {
                let Some(tally) = self.kinds.get(kind.name) else {
                    continue;
                };
                let slips: Vec<String> = tally
                    .slips
                    .iter()
                    .map(|(name, times)| format!("{name} {times}"))
                    .collect();
                let slips = if slips.is_empty() {
                    String::new()
                } else {
                    format!("; slips: {}", slips.join(", "))
                };
                let _ = writeln!(
                    out,
                    "  {}: {} of {}{slips}",
                    kind.name, tally.right, tally.asked
                );
            }
        }
        out.push_str(SIGN_OFF);
        out
    }
}

/// The line for the master.
pub const SIGN_OFF: &str = "\
\nSeen at the machine and signed off by the master:\n
name ______________________________   date ____________________\n";

#[cfg(test)]
mod tests {
    use super::*;
    use feeds_core::lesson::{exercise, kind};
    use feeds_core::symbol::System;

    #[test]
    fn what_was_kept_is_read_again_and_shown() {
        let question = exercise(kind("chip-load").unwrap(), 3, System::Metric).unwrap();
        let wrong = "999 m";
        let mark = question.questions[0].mark(wrong).unwrap();
        let mut progress = Progress::default();
        progress.keep("chip-load", Mark::Right);
        progress.keep("chip-load", mark);
        let (again, notices) = Progress::read(&progress.written()).unwrap();
        assert_eq!((&again, notices.len()), (&progress, 0));
        let text = progress.text();
        assert!(text.contains("chip-load: 1 of 2"), "{text}");
        assert!(text.contains("master"), "{text}");
    }

    #[test]
    fn a_newer_record_is_left_alone() {
        assert!(Progress::read("{\"version\": 9}").is_err());
        assert!(Progress::read("{").is_err());
    }
}
