//! The lines that move at feed, and what of them a copy may change: an F word of their own, a new
//! one where the next line has none, a move cut into pieces.

use std::collections::BTreeMap;

use super::Around;
use super::ceiling::{Correction, KeptAsOne, TOUCHED};
use super::stretches::Stretch;
use crate::programme::motion::{Feed, Motion, MoveKind};
use crate::programme::rescale::{FeedEdit, SplitMove, SplitPiece};

/// From this share on a feed that may rise again gets an F word: below it nobody notices.
const WORTH: f64 = 0.02;
/// Why nothing is put in anywhere.
const AGAIN: &str = "a loop or a subprogram runs lines again";
/// Why a line is not plain.
const NOT_PLAIN: &str = "it may be left out (block delete), its words are worked out from \
     parameters, or it is very long or ends in a check sum";
/// Most stretches of lines that are named.
const MOST_NAMED: usize = 100;

/// A line with a move at feed.
#[derive(Clone, Debug)]
pub(super) struct Moved {
    /// The line of the F word in force.
    word: u64,
    /// The most feed over that which is programmed; endless where nothing is asked.
    pub(super) ratio: f64,
    pub(super) cycle: bool,
    /// Why it cannot take an F word.
    no_word: Option<&'static str>,
    /// Its move, where moves may be cut, or why this one cannot be.
    split: Result<Box<Motion>, &'static str>,
    /// Its decimals and mm in a programmed length.
    inch: bool,
    stretch: Vec<(f64, f64)>,
}

impl Moved {
    pub(super) fn of(motion: &Motion, around: &Around<'_>, split: Option<f64>) -> Self {
        let facts = around.facts;
        let inch = around.modal.in_inch();
        let no_word = if motion.cycle {
            Some("it is a cycle")
        } else if !matches!(motion.feed, Feed::PerMinute(_)) {
            Some("under G93 every line needs an F of its own")
        } else if !facts.plain {
            Some(NOT_PLAIN)
        } else if facts.feed_computed {
            Some("the F word in force is worked out from parameters")
        } else if facts.feed_inch != inch {
            Some("the unit has changed since the F word in force")
        } else {
            None
        };
        let long = split.is_some_and(|shortest| motion.length >= 2.0 * shortest);
        Self {
            word: around.feed_line,
            ratio: f64::INFINITY,
            cycle: motion.cycle,
            no_word,
            split: match (long, split_hinders(motion, around)) {
                (false, _) => Err(""),
                (true, Some(why)) => Err(why),
                (true, None) => no_word.map_or_else(|| Ok(Box::new(*motion)), Err),
            },
            inch,
            stretch: Vec::new(),
        }
    }

    /// How far along it which feed may be, where that differs.
    pub(super) fn stretch(&mut self, stretch: Stretch) {
        self.stretch = stretch;
    }

    /// Its move in pieces.
    fn pieces(&self, up: bool) -> Option<SplitMove> {
        let motion = self.split.as_ref().ok()?;
        if self.stretch.len() < 2 {
            return None;
        }
        let unit = if self.inch { 25.4 } else { 1.0 };
        let axes = [0, 1, 2].map(|a| motion.from[a].to_bits() != motion.to[a].to_bits());
        let mut axes = axes;
        let centre = motion.arc.map(|arc| {
            let [first, second, _] = arc.plane.axes();
            (axes[first], axes[second]) = (true, true);
            let mut centre = [None; 3];
            centre[first] = Some(arc.centre[0] / unit);
            centre[second] = Some(arc.centre[1] / unit);
            centre
        });
        let piece = |(along, ratio): &(f64, f64)| SplitPiece {
            to: at(motion, along / motion.length).map(|mm| mm / unit),
            ratio: wanted(*ratio, up),
        };
        Some(SplitMove {
            code: match motion.kind {
                MoveKind::ArcCw => 2,
                MoveKind::ArcCcw => 3,
                MoveKind::Line | MoveKind::Rapid => 1,
            },
            axes,
            from: motion.from.map(|mm| mm / unit),
            centre,
            decimals: if self.inch { 5 } else { 4 },
            pieces: self.stretch.iter().map(piece).collect(),
        })
    }
}

/// Where a move is after a share of its way.
fn at(motion: &Motion, share: f64) -> [f64; 3] {
    let mut place = [0, 1, 2].map(|a| motion.from[a] + share * (motion.to[a] - motion.from[a]));
    if let Some(arc) = &motion.arc {
        let [first, second, _] = arc.plane.axes();
        let from = [
            motion.from[first] - arc.centre[0],
            motion.from[second] - arc.centre[1],
        ];
        let (sin, cos) = (from[1].atan2(from[0]) + share * arc.sweep).sin_cos();
        place[first] = arc.centre[0] + arc.radius * cos;
        place[second] = arc.centre[1] + arc.radius * sin;
    }
    place
}

/// Why a move is not cut into pieces.
fn split_hinders(motion: &Motion, around: &Around<'_>) -> Option<&'static str> {
    let modal = around.modal;
    Some(match motion.feed {
        _ if motion.cycle => "it is a cycle",
        Feed::InverseTime(_) => "under G93 an F counts for its whole block",
        Feed::Unstated => "it has no feed",
        Feed::PerMinute(_) if modal.compensation.is_some() => {
            "cutter compensation (G41, G42) is on"
        }
        Feed::PerMinute(_) if modal.incremental == Some(true) => {
            "it goes by steps (G91), and rounded steps would add up"
        }
        Feed::PerMinute(_) if around.facts.has_radius => {
            "it is an arc by R: post it with I and J to have it cut into pieces"
        }
        Feed::PerMinute(_) if modal.arc_absolute || modal.arc_taken_absolute => {
            "its centre is written as an absolute position"
        }
        Feed::PerMinute(_) if !around.facts.only_moves => "its block does more than move",
        Feed::PerMinute(_) => return None,
    })
}

/// The ratio that is written.
fn wanted(ratio: f64, up: bool) -> f64 {
    if !ratio.is_finite() {
        1.0
    } else if up {
        ratio
    } else {
        ratio.min(1.0)
    }
}

/// An F word in force, and the lines that run at it.
struct Group {
    /// The line it stands on, or may be put on.
    at: u64,
    own: bool,
    ratio: f64,
    /// Lines that cannot have one of their own.
    members: Vec<u64>,
}

type Planned = (BTreeMap<u64, FeedEdit>, Vec<KeptAsOne>, Vec<KeptAsOne>);

/// What is written on which line, which lines run on at a feed lowered for others, and which are
/// not cut into pieces. Where lines run again, `least` of each F word counts for all under it.
pub(super) fn planned(
    moved: &BTreeMap<u64, Moved>,
    least: Option<&BTreeMap<u64, f64>>,
    asked: Correction,
) -> Planned {
    let mut plan = Plan {
        moved,
        asked,
        edits: BTreeMap::new(),
        run_on: Vec::new(),
        not_split: Vec::new(),
    };
    match least {
        Some(least) => plan.by_word(least),
        None => plan.by_line(),
    }
    (plan.edits, plan.run_on, plan.not_split)
}

struct Plan<'a> {
    moved: &'a BTreeMap<u64, Moved>,
    asked: Correction,
    edits: BTreeMap<u64, FeedEdit>,
    run_on: Vec<KeptAsOne>,
    not_split: Vec<KeptAsOne>,
}

impl Plan<'_> {
    /// Only words that stand there change.
    fn by_word(&mut self, least: &BTreeMap<u64, f64>) {
        for (word, ratio) in least {
            self.word(*word, wanted(*ratio, self.asked.up));
        }
        for (line, moved) in self.moved {
            let now = least
                .get(&moved.word)
                .map_or(1.0, |r| wanted(*r, self.asked.up));
            if moved.word != *line && wanted(moved.ratio, self.asked.up) > now * (1.0 + WORTH) {
                self.runs_on(*line, AGAIN);
            }
            if moved.stretch.len() > 1 {
                name(&mut self.not_split, *line, AGAIN);
            }
        }
    }

    /// Changes a word, where that is worth it.
    fn word(&mut self, line: u64, ratio: f64) {
        if !(1.0..=1.0 + TOUCHED).contains(&ratio) {
            self.edits.insert(line, FeedEdit::Word(ratio));
        }
    }

    fn runs_on(&mut self, line: u64, why: &'static str) {
        name(&mut self.run_on, line, why);
    }

    /// Each line that can have an F word gets the feed it may have.
    fn by_line(&mut self) {
        let mut groups: Vec<Group> = Vec::new();
        let mut last = None;
        for (line, moved) in self.moved {
            let new = last.replace(moved.word) != Some(moved.word);
            let own = moved.word == *line;
            let begins = new || moved.no_word.is_none();
            let group = |at, own, ratio, members| Group {
                at,
                own,
                ratio,
                members,
            };
            match groups.last_mut() {
                // The word stands on a line before its first move, which is cut into pieces.
                _ if new && !own && moved.stretch.len() > 1 && moved.no_word.is_none() => {
                    groups.push(group(moved.word, true, f64::INFINITY, Vec::new()));
                    groups.push(group(*line, false, moved.ratio, Vec::new()));
                }
                _ if new && !own => {
                    groups.push(group(moved.word, true, moved.ratio, vec![*line]));
                }
                Some(last) if !begins => {
                    last.ratio = last.ratio.min(moved.ratio);
                    last.members.push(*line);
                }
                _ => groups.push(group(*line, own, moved.ratio, Vec::new())),
            }
        }
        let mut now = 1.0;
        for group in &groups {
            now = self.set(group, now);
        }
    }

    /// Sets the feed of a group; the ratio in force after it.
    fn set(&mut self, group: &Group, now: f64) -> f64 {
        let up = self.asked.up;
        let moved = self.moved.get(&group.at);
        let alone = group.members.is_empty();
        if let Some(split) = moved.filter(|_| alone).and_then(|moved| moved.pieces(up)) {
            let last = split.pieces.last().map_or(1.0, |piece| piece.ratio);
            self.edits.insert(group.at, FeedEdit::Split(split));
            return last;
        }
        if let Some(moved) = moved.filter(|moved| moved.stretch.len() > 1) {
            name(
                &mut self.not_split,
                group.at,
                moved.split.as_ref().err().unwrap_or(&""),
            );
        }
        let ratio = wanted(group.ratio, up);
        let set = if group.own {
            self.word(group.at, ratio);
            ratio
        } else if ratio < now * (1.0 - TOUCHED) || ratio > now * (1.0 + WORTH) {
            self.edits.insert(group.at, FeedEdit::Insert(ratio));
            ratio
        } else {
            now
        };
        for line in &group.members {
            let Some(moved) = self.moved.get(line) else {
                continue;
            };
            if let Some(why) = moved.no_word
                && wanted(moved.ratio, up) > set * (1.0 + WORTH)
            {
                self.runs_on(*line, why);
            }
        }
        set
    }
}

/// Adds a line to a list of stretches.
fn name(list: &mut Vec<KeptAsOne>, line: u64, why: &'static str) {
    if why.is_empty() {
        return;
    }
    let room = list.len() < MOST_NAMED;
    match list.last_mut() {
        Some(last) if last.why == why && last.lines[1] + 1 >= line => last.lines[1] = line,
        _ if room => list.push(KeptAsOne {
            lines: [line; 2],
            why,
        }),
        _ => {}
    }
}

#[cfg(test)]
mod tests;
