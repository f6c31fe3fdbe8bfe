//! What of a programme was not simulated, by line, and why.

use super::super::checks::name;
use super::super::motion::Tool;
use serde::Serialize;

/// Most stretches that are kept; further ones are counted.
const MOST: usize = 200;

/// A stretch of lines that was not simulated.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct NotSimulated {
    /// Physical line it begins with, from 1.
    pub line: u64,
    /// Physical line it ends with.
    pub last_line: u64,
    /// The tool, where it is for the tool's sake.
    pub tool: Option<u32>,
    /// Why, and what would help.
    pub why: &'static str,
}

impl NotSimulated {
    /// Which lines, and of which tool.
    pub fn which(&self) -> String {
        let lines = if self.line == self.last_line {
            format!("line {}", self.line)
        } else {
            format!("lines {} to {}", self.line, self.last_line)
        };
        match self.tool {
            Some(tool) => format!("{lines}, {}", name(Tool::Chosen(tool))),
            None => lines,
        }
    }

    /// That it is, and why; `unsure` where the cut that follows is not judged.
    pub(super) fn told(&self, unsure: bool) -> String {
        let are = if self.line == self.last_line {
            "is"
        } else {
            "are"
        };
        let judged = if unsure {
            "; what follows is not judged, since more may be gone by then"
        } else {
            ""
        };
        format!(
            "{} {are} not in the cut along the programme: {}{judged}",
            self.which(),
            self.why
        )
    }
}

/// The stretches so far.
#[derive(Debug, Default)]
pub(super) struct LeftOut {
    list: Vec<NotSimulated>,
    more: u64,
}

impl LeftOut {
    /// Leaves out a move of a line.
    pub(super) fn add(&mut self, line: u64, tool: Option<u32>, why: &'static str) {
        if let Some(last) = self.list.last_mut()
            && (last.tool, last.why) == (tool, why)
            && line >= last.last_line
        {
            last.last_line = line;
            return;
        }
        let known = |l: &NotSimulated| {
            (l.tool, l.why) == (tool, why) && (l.line..=l.last_line).contains(&line)
        };
        if self.list.iter().any(known) {
            return;
        }
        if self.list.len() >= MOST {
            self.more += 1;
            return;
        }
        self.list.push(NotSimulated {
            line,
            last_line: line,
            tool,
            why,
        });
    }

    /// Whether nothing was.
    pub(super) fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// The stretches by line, and how many more there were.
    pub(super) fn finish(self) -> (Vec<NotSimulated>, u64) {
        (self.list, self.more)
    }
}
