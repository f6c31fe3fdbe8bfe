//! The corrected copy: what it changes, and what the cut comes to before and after.

use super::simulated::ceiling_words;
use crate::audit::shown::Shown;
use crate::pass::text::line;
use crate::words::count;
use feeds_core::programme::{
    Ceiling, Correction, CutAlong, FeedEdit, KeptAsOne, LineLoad, LoweredFeeds, Report, Unhelped,
};
use serde_json::{Value, json};

/// Lines that no feed helps, as many as are named.
const NAMED: usize = 5;
/// By what share a bound may be passed by the rounding of F words and of classes of cuts.
const ROUNDING: f64 = 0.01;

/// The copy beside the programme.
pub(super) struct Comparison<'a> {
    pub(super) correction: Correction,
    pub(super) before: &'a Report,
    pub(super) after: &'a Report,
    /// F words that were changed or added.
    pub(super) written: u64,
}

/// Minutes at feed and rapid as the axes reach them, or at the programmed feed.
fn minutes(report: &Report) -> f64 {
    report.reach_time.unwrap_or(report.cut_time).number()
}

/// The number of a ceiling.
fn bound_of(ceiling: Ceiling) -> f64 {
    match ceiling {
        Ceiling::Force(bound) | Ceiling::Wall(bound) | Ceiling::Chip(bound) => bound,
    }
}

impl Comparison<'_> {
    fn corrected(&self) -> Option<&LoweredFeeds> {
        self.before.simulation.as_ref()?.corrected.as_ref()
    }

    /// The lines that no feed helps.
    fn unhelped(&self) -> (&[Unhelped], u64) {
        self.corrected()
            .map_or((&[], 0), |c| (&c.unhelped, c.unhelped_more))
    }

    /// F words that were changed, those that were added, moves that were cut and their pieces.
    fn counts(&self) -> [u64; 4] {
        let edits = self.corrected().map(|c| c.edits.values());
        let (mut added, mut moves, mut pieces) = (0, 0, 0);
        for edit in edits.into_iter().flatten() {
            match edit {
                FeedEdit::Word(_) => {}
                FeedEdit::Insert(_) => added += 1,
                FeedEdit::Split(split) => {
                    moves += 1;
                    pieces += split.pieces.len() as u64;
                }
            }
        }
        let changed = self.written.saturating_sub(added + pieces);
        [changed, added, moves, pieces]
    }

    /// The most of what was to be kept, in the copy.
    fn most(&self) -> Option<f64> {
        let lines = &self.after.simulation.as_ref()?.lines;
        let of = |line: &LineLoad| match self.correction.ceiling {
            Ceiling::Force(_) => line.force_most,
            Ceiling::Wall(_) => line.wall_most,
            Ceiling::Chip(_) => line.chip_most,
        };
        lines.iter().filter_map(of).reduce(f64::max)
    }

    /// Whether the copy keeps it everywhere.
    fn kept(&self, shown: Shown) -> String {
        let asked = self.correction.ceiling;
        let bound = bound_of(asked);
        let words: fn(f64) -> Ceiling = match asked {
            Ceiling::Force(_) => Ceiling::Force,
            Ceiling::Wall(_) => Ceiling::Wall,
            Ceiling::Chip(_) => Ceiling::Chip,
        };
        match self.most() {
            None => "not known: no line of it could be worked out".to_owned(),
            Some(most) if most <= bound * (1.0 + ROUNDING) => "everywhere".to_owned(),
            Some(most) => format!(
                "not everywhere: {} at most is left",
                ceiling_words(words(most), shown)
            ),
        }
    }

    /// As people read it.
    pub(super) fn text(&self, shown: Shown) -> String {
        let mut out = format!(
            "\nthe corrected copy, asked to keep {}\n",
            ceiling_words(self.correction.ceiling, shown)
        );
        let mut row = |head: &str, text: &str| line(&mut out, &format!("  {head:<14}"), text);
        row("kept", &self.kept(shown));
        let [changed, added, moves, pieces] = self.counts();
        row("changed", &count(changed, "F word", "F words"));
        if added > 0 {
            let text = format!(
                "{}, on lines that had none: the feed goes up again behind a line that needs less, \
                 or comes down at one",
                count(added, "F word", "F words")
            );
            row("added", &text);
        }
        if moves > 0 {
            let text = format!(
                "{} into {}",
                count(moves, "move", "moves"),
                count(pieces, "piece", "pieces")
            );
            row("cut up", &text);
        }
        let both = |of: &dyn Fn(&Report) -> String| {
            format!("{} before, {} after", of(self.before), of(self.after))
        };
        row("verdict", &both(&|r| r.verdict().word().to_owned()));
        row("time", &both(&|r| shown.time(minutes(r))));
        let force = |r: &Report, at: usize| {
            let force = r.simulation.as_ref().and_then(|s: &CutAlong| s.force);
            force.map_or("not known".to_owned(), |f| shown.force(f[at]))
        };
        if self.knows_force() {
            row("force at most", &both(&|r| force(r, 0)));
            row("99 % under", &both(&|r| force(r, 1)));
        }
        if let Some(text) = self.no_feed_helps(shown) {
            row("no feed helps", &text);
        }
        let corrected = self.corrected();
        kept_as_one(
            &mut row,
            corrected.map(|c| &c.run_on[..]),
            "runs on",
            |which, why| format!("{which} at a lowered F of a line before: {why}"),
        );
        kept_as_one(
            &mut row,
            corrected.map(|c| &c.not_split[..]),
            "not cut up",
            |which, why| format!("{which}: {why}"),
        );
        out
    }

    /// Whether a force is known at all: without a described pass there is none.
    fn knows_force(&self) -> bool {
        let cut = self.before.simulation.as_ref();
        cut.is_some_and(|cut| cut.force.is_some())
    }

    /// The lines that no feed helps, in a sentence.
    fn no_feed_helps(&self, shown: Shown) -> Option<String> {
        let (unhelped, more) = self.unhelped();
        let floors = unhelped.iter().map(|u| u.floor);
        let least = floors.clone().reduce(f64::min)?;
        let most = floors.fold(least, f64::max);
        let named = unhelped.iter().take(NAMED).map(|u| u.line.to_string());
        let named = named.collect::<Vec<_>>().join(", ");
        let more = more + unhelped.len().saturating_sub(NAMED) as u64;
        let which = match (unhelped.len(), more) {
            (1, 0) => format!("line {named}"),
            (_, 0) => format!("lines {named}"),
            _ => format!("lines {named} and {more} more"),
        };
        let floor = if most > least * 1.05 {
            format!("{} to {}", shown.small_number(least), shown.small(most))
        } else {
            shown.small(most)
        };
        Some(format!(
            "{which}: with less than {floor} a tooth the edge only rubs there; take less width or \
             depth. F is not lowered for them"
        ))
    }

    /// As scripts read it.
    pub(super) fn document(&self) -> Value {
        let side = |report: &Report| {
            let force = report.simulation.as_ref().and_then(|s| s.force);
            json!({
                "time_min": minutes(report),
                "force_most_n": force.map(|f| f[0]),
                "force_99_n": force.map(|f| f[1]),
            })
        };
        let (unhelped, more) = self.unhelped();
        let lines = unhelped.iter().map(
            |u| json!({ "line": u.line, "needs_mm_a_tooth": u.f_z, "floor_mm_a_tooth": u.floor }),
        );
        let bound = bound_of(self.correction.ceiling);
        let [changed, added, moves, pieces] = self.counts();
        let stretches = |of: &dyn Fn(&LoweredFeeds) -> &Vec<KeptAsOne>| {
            let list = self.corrected().map(of).into_iter().flatten();
            let one = |kept: &KeptAsOne| {
                let [line, last_line] = kept.lines;
                json!({ "line": line, "last_line": last_line, "why": kept.why })
            };
            list.map(one).collect::<Vec<_>>()
        };
        json!({
            "kept": self.most().map(|most| most <= bound * (1.0 + ROUNDING)),
            "changed": changed,
            "added": added,
            "cut_up": moves,
            "pieces": pieces,
            "run_on": stretches(&|c| &c.run_on),
            "not_cut_up": stretches(&|c| &c.not_split),
            "before": side(self.before),
            "after": side(self.after),
            "left_as_they_are": lines.collect::<Vec<_>>(),
            "left_as_they_are_more": more,
        })
    }
}

/// Rows of lines that something is not done for.
fn kept_as_one(
    row: &mut impl FnMut(&str, &str),
    list: Option<&[KeptAsOne]>,
    head: &str,
    text: impl Fn(&str, &str) -> String,
) {
    for kept in list.unwrap_or_default().iter().take(NAMED) {
        let which = match kept.lines {
            [one, last] if one == last => format!("line {one}"),
            [first, last] => format!("lines {first} to {last}"),
        };
        row(head, &text(&which, kept.why));
    }
}
