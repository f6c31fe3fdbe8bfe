//! A rehearsal along the posted programme: which of its lines the run on the stand-in really loads.

use super::answered::Rehearsed;
use crate::audit::known::AuditKnown;
use crate::audit::shown::Shown;
use crate::audit::source::ProgrammeSource;
use crate::pass::text::line;
use feeds_core::programme::{
    LineLoad, Reader, Refusal, Report, Rescaler, Rescaling, Setting, Simulated, Wanted,
};
use feeds_core::rehearsal::{Dial, Which};
use serde_json::{Value, json};
use std::io;

/// From this share of production's force on a line is loaded: half (the sense of the word).
const LOADED: f64 = 0.5;
/// Stretches of lines that are listed.
const LISTED: usize = 8;

/// A line of the programme in both runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunLine {
    /// Physical line, from 1.
    pub line: u64,
    /// Largest lateral force in N, in production and in the run on the stand-in.
    pub force: [f64; 2],
    /// Whether the stand-in is only rubbed there.
    pub rubs: bool,
}

impl RunLine {
    /// The force of the run over that of production.
    pub fn share(&self) -> f64 {
        self.force[1] / self.force[0].max(1e-9)
    }

    /// Whether the run loads it like production, by half at least.
    pub fn is_loaded(&self) -> bool {
        !self.rubs && self.share() >= LOADED
    }
}

/// The lines of a pass in both runs.
#[derive(Clone, Debug, PartialEq)]
pub struct RunLines {
    /// Those of the pass that cut.
    pub lines: Vec<RunLine>,
    /// Lines of other passes, which the rehearsal of this one says nothing about.
    pub others: usize,
}

/// Why there is none.
pub enum NoRun {
    /// The programme cannot be read.
    File(io::Error),
    /// It cannot be run at these overrides.
    Refused(Refusal),
    /// It has no line that runs at the S and F of the pass, or its stock is not known.
    Nothing(&'static str),
}

/// The lines of the pass at place `at` of the job.
///
/// # Errors
/// [`NoRun`] when the programme has no such lines.
pub fn along(
    source: &ProgrammeSource,
    known: &AuditKnown,
    at: usize,
    rehearsed: &Rehearsed,
) -> Result<RunLines, NoRun> {
    if known.setting.stock.is_none() {
        return Err(NoRun::Nothing(
            "the stock is not known: give the job its stock-size and zero",
        ));
    }
    let of = |which, dial| setting(known, at, rehearsed, (which, dial));
    let Some(posted) = of(Which::Production, Dial::FULL) else {
        return Err(NoRun::Nothing("the pass has no answer"));
    };
    let Some(dialled) = of(Which::StandIn, rehearsed.dial) else {
        return Err(NoRun::Nothing("the pass has no answer"));
    };
    let production = read(source, posted, None)?;
    let run = read(source, dialled, Some((&production, rehearsed.dial)))?;
    let all = lines(&production);
    let own = all.iter().filter_map(|posted| {
        let run = lines(&run).iter().find(|l| l.line == posted.line)?;
        Some(RunLine {
            line: posted.line,
            force: [posted.force_most?, run.force_most?],
            rubs: run.rubbing_share.is_some_and(|share| share >= 1.0 - 1e-9),
        })
    });
    let own: Vec<RunLine> = own.collect();
    if own.is_empty() {
        return Err(NoRun::Nothing(
            "no line of it cuts at the S and F of this pass: check --tool, and that it is posted \
             with them",
        ));
    }
    let cuts = all.iter().filter(|l| l.cuts > 0.0).count();
    Ok(RunLines {
        others: cuts.saturating_sub(own.len()),
        lines: own,
    })
}

fn lines(report: &Report) -> &[LineLoad] {
    report.simulation.as_ref().map_or(&[], |cut| &cut.lines)
}

/// What is known, with the setup of one run for the pass and none for the others.
fn setting(
    known: &AuditKnown,
    at: usize,
    rehearsed: &Rehearsed,
    (which, dial): (Which, Dial),
) -> Option<Setting> {
    let of = known.job.iter().find(|tool| tool.passes.contains(&at))?;
    let before = of.passes.iter().take_while(|pass| **pass != at);
    let place = before.filter(|pass| !of.open.contains(pass)).count();
    let mut setting = known.setting.clone();
    setting.simulate = Some(Simulated::default());
    for tool in &mut setting.tools {
        for (k, planned) in tool.planned.iter_mut().enumerate() {
            planned.spindle_speed *= dial.spindle;
            planned.feed_speed *= dial.feed;
            let is = tool.number == of.known.number && k == place;
            planned.setup = is.then(|| Box::new(rehearsed.runs.setup(which, dial)));
        }
    }
    Some(setting)
}

/// Reads the programme, at overrides where that is wanted.
fn read(
    source: &ProgrammeSource,
    setting: Setting,
    dialled: Option<(&Report, Dial)>,
) -> Result<Report, NoRun> {
    let mut reader = Reader::new(setting);
    let Some((report, dial)) = dialled else {
        source
            .pieces(|piece| reader.feed(piece))
            .map_err(NoRun::File)?;
        return Ok(reader.finish());
    };
    let wanted = Wanted {
        others: Rescaling::Scale {
            speed: dial.spindle,
            feed: dial.feed,
        },
        tools: Vec::new(),
    };
    let mut rescaler = Rescaler::new(wanted, report).map_err(NoRun::Refused)?;
    let (mut copy, mut refused) = (Vec::new(), None);
    source
        .pieces_while(0, |piece| {
            refused = rescaler.feed(piece, &mut copy, &mut |_| {}).err();
            reader.feed(&copy);
            copy.clear();
            refused.is_none()
        })
        .map_err(NoRun::File)?;
    if let Some(refusal) = refused {
        return Err(NoRun::Refused(refusal));
    }
    rescaler
        .finish(&mut copy, &mut |_| {})
        .map_err(NoRun::Refused)?;
    reader.feed(&copy);
    Ok(reader.finish())
}

impl RunLines {
    /// As people read it.
    pub fn text(&self, name: &str, shown: Shown) -> String {
        let mut out = format!("\nalong {name}: what this run really loads\n");
        let mut row = |head: &str, text: &str| line(&mut out, &format!("  {head:<10}"), text);
        let of = |picked: &dyn Fn(&RunLine) -> bool| -> Vec<RunLine> {
            self.lines.iter().copied().filter(|l| picked(l)).collect()
        };
        let loaded = of(&RunLine::is_loaded);
        let rubs = of(&|l| l.rubs);
        let hardly = of(&|l| !l.rubs && !l.is_loaded());
        row(
            "loaded",
            &format!(
                "{} of {} lines of this pass, by half of production's force at least{}",
                loaded.len(),
                self.lines.len(),
                listed(&loaded)
            ),
        );
        if !hardly.is_empty() {
            let least = hardly.iter().map(RunLine::share).fold(1.0, f64::min);
            let text = format!(
                "{} lines, down to {:.0} % of production's force: they are not tried{}",
                hardly.len(),
                100.0 * least,
                listed(&hardly)
            );
            row("hardly", &text);
        }
        if !rubs.is_empty() {
            let text = format!("{} lines, which prove nothing{}", rubs.len(), listed(&rubs));
            row("only rubs", &text);
        }
        let most = self
            .lines
            .iter()
            .max_by(|a, b| a.force[0].total_cmp(&b.force[0]));
        if let Some(most) = most {
            let text = format!(
                "line {}: {} in production, {} in this run",
                most.line,
                shown.force(most.force[0]),
                shown.force(most.force[1])
            );
            row("hardest", &text);
        }
        if self.others > 0 {
            let text = format!("{} lines of other passes: rehearse those too", self.others);
            row("not tried", &text);
        }
        out
    }

    /// As scripts read it.
    pub fn document(&self) -> Value {
        let lines = self.lines.iter().map(|l| {
            json!({
                "line": l.line,
                "production_n": l.force[0],
                "stand_in_n": l.force[1],
                "rubs": l.rubs,
                "loaded": l.is_loaded(),
            })
        });
        json!({ "lines": lines.collect::<Vec<_>>(), "lines_of_other_passes": self.others })
    }
}

/// The lines in stretches, such as `: lines 11 to 19, 30`; nothing where there are none.
fn listed(lines: &[RunLine]) -> String {
    let mut stretches: Vec<(u64, u64)> = Vec::new();
    for of in lines {
        match stretches.last_mut() {
            Some(last) if of.line <= last.1 + 1 => last.1 = of.line,
            _ => stretches.push((of.line, of.line)),
        }
    }
    let text = |(first, last): &(u64, u64)| {
        if first == last {
            first.to_string()
        } else {
            format!("{first} to {last}")
        }
    };
    let shown: Vec<String> = stretches.iter().take(LISTED).map(text).collect();
    let more = match stretches.len().saturating_sub(LISTED) {
        0 => String::new(),
        more => format!(" and {more} more stretches"),
    };
    if shown.is_empty() {
        String::new()
    } else {
        format!(": {}{more}", shown.join(", "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(line: u64, force: [f64; 2], rubs: bool) -> RunLine {
        RunLine { line, force, rubs }
    }

    /// By hand: 40 of 80 N is half, 39 is not, and what rubs proves nothing at any force.
    #[test]
    fn half_of_the_force_is_loaded() {
        assert!(at(1, [80.0, 40.0], false).is_loaded());
        assert!(!at(1, [80.0, 39.0], false).is_loaded());
        assert!(!at(1, [80.0, 70.0], true).is_loaded());
    }

    #[test]
    fn lines_are_listed_in_stretches() {
        let lines: Vec<RunLine> = [3, 4, 5, 9].map(|l| at(l, [1.0; 2], false)).to_vec();
        assert_eq!(listed(&lines), ": 3 to 5, 9");
        assert_eq!(listed(&[]), "");
    }
}
