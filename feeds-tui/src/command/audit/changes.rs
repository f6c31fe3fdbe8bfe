//! What a copy changes: how many words of each tool, from where to where.

use crate::words::count;
use feeds_core::programme::Changed;
use feeds_core::quantity::amount::significant;
use std::fmt::Write as _;

/// Most tools that are told apart; a programme has no more.
const MOST_TOOLS: usize = 100;

/// The changes of a copy, by tool.
#[derive(Debug, Default)]
pub(super) struct Changes {
    tools: Vec<(Option<u32>, [Words; 2])>,
    /// Those of all further tools.
    others: [Words; 2],
}

/// The changed words of one letter.
#[derive(Clone, Copy, Debug, Default)]
struct Words {
    count: u64,
    /// Least and most, as they were and as they are.
    was: [f64; 2],
    is: [f64; 2],
}

impl Words {
    fn add(&mut self, [was, is]: [f64; 2]) {
        let first = self.count == 0;
        for (ends, value) in [(&mut self.was, was), (&mut self.is, is)] {
            *ends = if first {
                [value; 2]
            } else {
                [ends[0].min(value), ends[1].max(value)]
            };
        }
        self.count += 1;
    }

    fn text(&self, letter: char) -> Option<String> {
        let ends = |[least, most]: [f64; 2]| {
            if least < most {
                format!(
                    "{letter}{} to {letter}{}",
                    significant(least),
                    significant(most)
                )
            } else {
                format!("{letter}{}", significant(least))
            }
        };
        let words = [format!("{letter} word"), format!("{letter} words")];
        (self.count > 0).then(|| {
            format!(
                "{}, {} -> {}",
                count(self.count, &words[0], &words[1]),
                ends(self.was),
                ends(self.is)
            )
        })
    }
}

impl Changes {
    /// Takes in one changed word.
    pub(super) fn add(&mut self, changed: &Changed) {
        let place = self.tools.iter().position(|(t, _)| *t == changed.tool);
        let place = place.or_else(|| {
            let room = self.tools.len() < MOST_TOOLS;
            room.then(|| self.tools.push((changed.tool, Default::default())))?;
            Some(self.tools.len() - 1)
        });
        let words = match place.and_then(|at| self.tools.get_mut(at)) {
            Some((_, words)) => words,
            None => &mut self.others,
        };
        words[usize::from(changed.after.starts_with('F'))].add(changed.values);
    }

    /// How many F words changed.
    pub(super) fn feeds(&self) -> u64 {
        let tools = self.tools.iter().map(|(_, words)| words);
        tools
            .chain([&self.others])
            .map(|[_, feeds]| feeds.count)
            .sum()
    }

    /// The changes as people read them, and the heading of the list of all of them if it follows.
    pub(super) fn text(&self, list: bool) -> String {
        if self.tools.is_empty() {
            return String::new();
        }
        let mut out = String::from("\nchanged in the copy");
        out.push_str(if list {
            "\n"
        } else {
            " (--changes lists every word)\n"
        });
        let mut row = |name: &str, [speeds, feeds]: &[Words; 2]| {
            let texts = [speeds.text('S'), feeds.text('F')];
            let texts: Vec<String> = texts.into_iter().flatten().collect();
            if !texts.is_empty() {
                let _ = writeln!(out, "  {name:<8} {}", texts.join("; "));
            }
        };
        for (tool, words) in &self.tools {
            row(
                &tool.map_or("no tool".to_owned(), |t| format!("T{t}")),
                words,
            );
        }
        row("others", &self.others);
        if list {
            out.push_str("\nevery word that is changed\n");
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn changed(tool: u32, before: &str, values: [f64; 2]) -> Changed {
        Changed {
            line: 1,
            column: 1,
            tool: Some(tool),
            before: before.to_owned(),
            after: before.to_owned(),
            values,
        }
    }

    #[test]
    fn words_are_counted_by_tool_with_their_ends() {
        let mut changes = Changes::default();
        assert_eq!(changes.text(false), "");
        changes.add(&changed(1, "S8000", [8000.0, 6400.0]));
        changes.add(&changed(1, "F450", [450.0, 360.0]));
        changes.add(&changed(1, "F60.5", [60.5, 48.4]));
        changes.add(&changed(2, "F100", [100.0, 80.0]));
        let expect = [
            "\nchanged in the copy (--changes lists every word)",
            "  T1       1 S word, S8000 -> S6400; 2 F words, F60.5 to F450 -> F48.4 to F360",
            "  T2       1 F word, F100 -> F80\n",
        ];
        let expect = expect.join("\n");
        assert_eq!(changes.text(false), expect);
        assert!(
            changes
                .text(true)
                .ends_with("\n\nevery word that is changed\n")
        );
    }

    /// A programme can name as many tools as it has lines.
    #[test]
    fn tools_beyond_a_hundred_are_counted_together() {
        let mut changes = Changes::default();
        for tool in 1..=300 {
            changes.add(&changed(tool, "F100", [100.0, 50.0]));
        }
        let text = changes.text(false);
        assert_eq!(text.lines().count(), 103, "{text}");
        assert!(
            text.ends_with("  others   200 F words, F100 -> F50\n"),
            "{text}"
        );
    }
}
