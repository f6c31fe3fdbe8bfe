//! The cutters of a job as tools of a programme, with the settings its passes were planned with.

use super::path::path;
use crate::job::{Worked, WorkedPass, cutter_of};
use feeds_core::cut::Descent;
use feeds_core::cutter::CutterFacts;
use feeds_core::error::{Cause, EntryError};
use feeds_core::limit::Check;
use feeds_core::programme::{Planned, ProgrammeTool, ToolKind};
use feeds_core::quantity::{Quantity, in_mm};

/// Share by which S and F may be off when they are written.
const ROUNDING: f64 = 0.005;

/// A cutter of the job.
#[derive(Clone, Debug)]
pub struct JobTool {
    /// What the audit knows of it, its number included.
    pub known: ProgrammeTool,
    /// What the job calls it.
    pub cutter: String,
    /// Its passes, counted from 0.
    pub passes: Vec<usize>,
    /// Those of them that have no answer, so that nothing is planned for them.
    pub open: Vec<usize>,
}

/// The cutters of a job in the order they are first used, numbered so from 1; `typed` gives other
/// numbers, each with a pass of its cutter.
///
/// # Errors
/// When there is no such pass, or two cutters come to the same number.
pub fn tools(worked: &Worked<'_>, typed: &[(u32, &str)]) -> Result<Vec<JobTool>, EntryError> {
    let mut cutters: Vec<(String, JobTool)> = Vec::new();
    for (at, pass) in worked.passes.iter().enumerate() {
        let cutter = cutter_of(&pass.description);
        let place = cutters.iter().position(|(c, _)| *c == cutter);
        let place = place.unwrap_or_else(|| {
            let number = u32::try_from(cutters.len() + 1).unwrap_or(u32::MAX);
            cutters.push((cutter, JobTool::new(number, pass)));
            cutters.len() - 1
        });
        cutters[place].1.add(at, worked);
    }
    let mut tools: Vec<JobTool> = cutters.into_iter().map(|(_, tool)| tool).collect();
    for (number, name) in typed {
        let at = worked.job.position(name).map_err(|e| e.of("--tool"))?;
        if let Some(tool) = tools.iter_mut().find(|t| t.passes.contains(&at)) {
            tool.known.number = *number;
        }
    }
    for (index, tool) in tools.iter().enumerate() {
        let twin = |t: &&JobTool| t.known.number == tool.known.number;
        if let Some(other) = tools[..index].iter().find(twin) {
            let number = tool.known.number;
            return Err(EntryError::because(Cause::Clash, format!(
                "T{number} would be both «{}» and «{}» of the job: give each its number, such as \
                 {number}=pass={} for a pass of the first",
                other.cutter,
                tool.cutter,
                other.passes[0] + 1
            ))
            .of("--tool"));
        }
    }
    Ok(tools)
}

impl JobTool {
    fn new(number: u32, pass: &WorkedPass<'_>) -> Self {
        let text = |key| pass.description.get(key);
        let cutter = text("cutter").or(text("diameter")).unwrap_or_default();
        Self {
            known: ProgrammeTool {
                number,
                kind: ToolKind::Milling,
                ..ProgrammeTool::default()
            },
            cutter: cutter.to_owned(),
            passes: Vec::new(),
            open: Vec::new(),
        }
    }

    fn add(&mut self, at: usize, worked: &Worked<'_>) {
        let pass = &worked.passes[at];
        self.passes.push(at);
        let Ok(answer) = &pass.outcome else {
            self.open.push(at);
            return;
        };
        let (plan, setup) = (&answer.plan, &answer.resolved.setup);
        let known = &mut self.known;
        known.cutter = CutterFacts::from(&setup.cutter);
        // Several passes: only what is wrong for each of them is an error.
        let wider = |kept: Option<f64>, new: Option<f64>, pick: fn(f64, f64) -> f64| match kept {
            Some(kept) => new.map(|new| pick(kept, new)),
            None => new,
        };
        let floor = plan.h_min.map(|h| in_mm(plan.f_z) * (h / plan.h_max).si());
        known.chip_floor_mm = if self.passes.len() == 1 {
            floor
        } else {
            wider(known.chip_floor_mm, floor, f64::min)
        };
        if let (Some(least), Some(most)) = (plan.feeds.least, plan.feeds.most)
            && !plan.feeds.is_empty()
        {
            // What was planned is inside, and so is its rounding when it was written.
            let f_z = in_mm(plan.f_z);
            let least = (1.0 - ROUNDING) * in_mm(least.f_z).min(f_z);
            let most = (1.0 + ROUNDING) * in_mm(most.f_z).max(f_z);
            let (low, high) = known.feed_band.unwrap_or((least, most));
            known.feed_band = Some((low.min(least), high.max(most)));
        }
        if let Some((_, most)) = setup.stock.v_c {
            let most = (1.0 + ROUNDING) * most.si().max(plan.v_c.si()) * 60.0;
            known.most_cutting_speed = Some(known.most_cutting_speed.map_or(most, |m| m.max(most)));
        }
        if let Some(Descent::Ramp(_) | Descent::Helix { .. }) = setup.cut.entry
            && let Some(steepest) = plan.check("ramp-angle").and_then(Check::bound)
        {
            known.ramp_limit_deg = Some(steepest.si.to_degrees());
        }
        known.planned.push(Planned {
            name: pass.pass.name.clone(),
            spindle_speed: plan.n.in_per_minute(),
            feed_speed: plan.v_f.si() * 60e3,
            depth_mm: Some(in_mm(setup.cut.a_p)),
            path: path(worked, at, setup),
            setup: Some(Box::new(setup.clone())),
        });
    }
}
