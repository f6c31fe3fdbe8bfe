//! Planned against posted: speed and feed of each pass of the job at the end, and move by move its
//! levels, its way in, its width.

use super::Where;
use super::audit::MOST_TOOLS;
use super::checks::name;
use super::finding::{self as f, Findings};
use super::modal::Modal;
use super::motion::{Feed, Heading, Motion, Tool};
use super::setting::{Planned, ProgrammeTool, Setting};
use super::uses::Use;
use super::whole::list;

mod levels;
mod path;
mod rows;
mod way_in;

use levels::Levels;
pub use path::{PlannedFloor, PlannedPath, PlannedWayIn};
use rows::Rows;
use way_in::WaysIn;

/// Follows the tools of a programme that passes are planned with.
#[derive(Debug, Default)]
pub(super) struct Followed(Vec<FollowedTool>);

#[derive(Debug)]
struct FollowedTool {
    number: u32,
    /// Speed and feed of its last cut, and the pass they are of.
    pass: Option<([u64; 2], Option<usize>)>,
    levels: Levels,
    ways_in: WaysIn,
    rows: Rows,
}

impl Followed {
    /// A cutting move.
    #[inline]
    pub(super) fn cut(
        &mut self,
        motion: &Motion,
        heading: Heading,
        (setting, modal): (&Setting, &Modal),
        findings: &mut Findings,
    ) {
        let down = motion.knows(2) && motion.to[2] < motion.from[2];
        if motion.cycle || !(heading.level || down) {
            return;
        }
        let planned = |t: &&ProgrammeTool| !t.planned.is_empty();
        let Some(tool) = setting.tool(motion.tool.number()).filter(planned) else {
            return;
        };
        let Some(followed) = self.of(tool.number, setting) else {
            return;
        };
        if !heading.level {
            followed.ways_in.down(motion, tool, setting);
            return;
        }
        let pass = followed.pass(motion, tool);
        let (levels, ways_in) = (&mut followed.levels, &mut followed.ways_in);
        ways_in.lead(pass, tool, levels, modal, findings);
        levels.cut(motion, pass, tool);
        followed.rows.cut(motion, pass, tool, modal, findings);
    }

    fn of(&mut self, number: u32, setting: &Setting) -> Option<&mut FollowedTool> {
        let place = self.0.iter().position(|t| t.number == number);
        if place.is_none() && self.0.len() < MOST_TOOLS {
            let top = setting.stock.map_or(0.0, |s| s.most[2]);
            self.0.push(FollowedTool {
                number,
                pass: None,
                levels: Levels::below(top),
                ways_in: WaysIn::default(),
                rows: Rows::default(),
            });
            return self.0.last_mut();
        }
        self.0.get_mut(place?)
    }

    /// What is only known at the end.
    pub(super) fn finish(&self, setting: &Setting, modal: &Modal, findings: &mut Findings) {
        for followed in &self.0 {
            if let Some(tool) = setting.tool(Some(followed.number)) {
                followed.levels.finish(tool, modal, findings);
            }
        }
    }
}

impl FollowedTool {
    /// The pass a move is of.
    fn pass(&mut self, motion: &Motion, tool: &ProgrammeTool) -> Option<usize> {
        let feed = match motion.feed {
            Feed::PerMinute(feed) => feed,
            Feed::Unstated | Feed::InverseTime(_) => f64::NAN,
        };
        let key = [motion.spindle_speed, feed].map(f64::to_bits);
        match self.pass {
            Some((last, pass)) if last == key => pass,
            _ => {
                let pass = tool.planned_for(motion);
                self.pass = Some((key, pass));
                pass
            }
        }
    }
}

/// What a pass is called in a sentence.
fn called(pass: &Planned) -> String {
    if pass.name.is_empty() {
        "this pass".to_owned()
    } else {
        format!("«{}»", pass.name)
    }
}

/// Names the tools that were described, with nothing planned for them, and never cut.
pub(super) fn unused(uses: &[Use], setting: &Setting, findings: &mut Findings) {
    let cuts = |number| uses.iter().any(|u| u.tool.number().unwrap_or(0) == number);
    let without_plan = setting.tools.iter().filter(|t| t.planned.is_empty());
    let mut unused: Vec<u32> = without_plan.map(|t| t.number).collect();
    unused.retain(|number| !cuts(*number));
    if unused.is_empty() {
        return;
    }
    let mut used: Vec<u32> = uses.iter().filter_map(|u| u.tool.number()).collect();
    used.sort_unstable();
    used.dedup();
    findings.add(1, 0, f::TOOL_UNUSED, || {
        let cuts = if used.is_empty() {
            "no tool it names".to_owned()
        } else {
            list(&used)
        };
        // Number 0 is the cutter that was described without one.
        if unused == [0] {
            return format!(
                "you described a cutter without a number, and this programme cuts with {cuts}: \
                 write the number in front of it, such as {first}=",
                first = used.first().unwrap_or(&1)
            );
        }
        format!(
            "you described {}, which this programme never cuts with: it cuts with {cuts}; check \
             the number",
            list(&unused)
        )
    });
}

/// Compares the uses with what was planned for their tools, both ways.
pub(super) fn planned(uses: &[Use], setting: &Setting, modal: &Modal, findings: &mut Findings) {
    for found in uses {
        posted(found, setting, modal, findings);
    }
    let mut unposted: Vec<(u64, Vec<String>)> = Vec::new();
    let mut absent = Vec::new();
    for tool in &setting.tools {
        let own: Vec<&Use> = uses
            .iter()
            .filter(|u| u.tool.number().unwrap_or(0) == tool.number)
            .collect();
        // Under inverse time the feed cannot be compared; what runs otherwise is said above.
        if own
            .iter()
            .any(|u| u.inverse_time || u.level && !known(u, tool))
        {
            continue;
        }
        let Some(line) = own.iter().map(|u| u.first_line).min() else {
            let passes = tool.planned.iter().map(|p| modal.setting(p));
            let tool = name(Tool::Chosen(tool.number));
            absent.extend(passes.map(|pass| format!("{tool} at {pass}")));
            continue;
        };
        for pass in &tool.planned {
            if !own
                .iter()
                .any(|u| u.feed_speed.is_some_and(|f| pass.fits(u.spindle_speed, f)))
            {
                let of = name(Tool::Chosen(tool.number));
                let what = format!("{of} at {}", modal.setting(pass));
                match unposted.iter_mut().find(|(at, _)| *at == line) {
                    Some((_, passes)) => passes.push(what),
                    None => unposted.push((line, vec![what])),
                }
            }
        }
    }
    if !absent.is_empty() {
        findings.add(1, 0, f::TOOL_ABSENT, || {
            format!(
                "planned with tools that never cut in this programme: {}; run the programme of \
                 those passes too, or check the numbers of the tools",
                absent.join("; ")
            )
        });
    }
    for (line, passes) in unposted {
        findings.add(line, 0, f::UNPOSTED, || {
            format!(
                "planned, but never run in this programme: {}: post what is missing, or take it \
                 out of the plan",
                passes.join("; ")
            )
        });
    }
}

/// Whether a use has the settings of a pass planned for its tool.
fn known(found: &Use, tool: &ProgrammeTool) -> bool {
    let fits = |feed| {
        tool.planned
            .iter()
            .any(|p| p.fits(found.spindle_speed, feed))
    };
    tool.planned.is_empty() || found.feed_speed.is_some_and(fits)
}

/// A use that was not planned. Plunges, ramps and holes have feeds of their own.
fn posted(found: &Use, setting: &Setting, modal: &Modal, findings: &mut Findings) {
    let (Some(tool), Some(feed)) = (setting.tool(found.tool.number()), found.feed_speed) else {
        return;
    };
    let n = found.spindle_speed;
    if !found.level || known(found, tool) {
        return;
    }
    let at = Where {
        line: found.first_line,
        at: 0,
    };
    findings.worst(at, f::PLANNED, f::Cause::Plan(tool.number), None, || {
        format!(
            "{} runs at S{n} with {} for {}, planned was {}: write the planned S and F here, or \
             plan this use",
            name(found.tool),
            modal.per_minute(feed),
            modal.length(found.length),
            modal.settings(tool)
        )
    });
}
