//! Planned against posted: the steps between levels, and the floor of each pass.

use super::super::Where;
use super::super::checks::name;
use super::super::finding::{self as f, Findings};
use super::super::modal::Modal;
use super::super::motion::{Motion, Tool};
use super::super::setting::{AS_PLANNED, Planned, ProgrammeTool};
use super::called;
use super::path::PlannedFloor;

/// By how much in mm a floor may be beside its plan: what a zero is set to (common practice).
const FLOOR: f64 = 0.02;
/// Sums of heights cost the last digit, mm.
pub(super) const NOISE: f64 = 1e-6;

/// The levels of one tool.
#[derive(Debug)]
pub(super) struct Levels {
    /// The top of the stock, and the last level.
    top: f64,
    level: f64,
    step: Step,
    passes: Vec<PassLevels>,
    /// The pass that was cut last.
    last: Option<usize>,
}

/// The step down furthest beyond its plan, that plan, the height it goes to, all in mm, and the
/// line it is on.
#[derive(Clone, Copy, Debug, Default)]
struct Step {
    deepest: f64,
    planned: f64,
    z: f64,
    line: u64,
}

/// The levels of one planned pass.
#[derive(Debug)]
struct PassLevels {
    /// Its place among the passes planned for the tool.
    pass: usize,
    level: f64,
    /// Its lowest level with the line that cut it first, and the last line of the pass.
    lowest: (f64, u64),
    ends: u64,
    /// The lowest level cut in it at whatever feed.
    reached: f64,
    /// Where it has been: least and most of X and Y.
    been: [(f64, f64); 2],
}

impl Levels {
    pub(super) fn below(top: f64) -> Self {
        Self {
            top,
            level: top,
            step: Step::default(),
            passes: Vec::new(),
            last: None,
        }
    }

    /// How low the stock is already where a move starts: the lowest level that the pass has cut
    /// there, or where it was planned to begin.
    pub(super) fn cleared(&self, pass: usize, planned: &Planned, from: [f64; 3]) -> f64 {
        let begins = self.top - planned.path.begins_mm.unwrap_or(0.0);
        let been = |p: &&PassLevels| {
            p.pass == pass
                && (0..2).all(|axis| {
                    let (least, most) = p.been[axis];
                    (least - NOISE..=most + NOISE).contains(&from[axis])
                })
        };
        let found = self.passes.iter().find(been);
        found.map_or(begins, |p| p.reached.min(begins))
    }

    /// A cut at one height.
    pub(super) fn cut(&mut self, motion: &Motion, pass: Option<usize>, tool: &ProgrammeTool) {
        let z = motion.to[2];
        let before = std::mem::replace(&mut self.level, z);
        let before = match pass {
            Some(pass) => self.pass(motion, pass, before, &tool.planned[pass]),
            None => before,
        };
        // Slower in a corner is still the same pass.
        if let Some(found) = self.last.and_then(|at| self.passes.get_mut(at)) {
            found.reached = found.reached.min(z);
        }
        let down = before - z;
        if down <= 0.0 {
            return;
        }
        if let Some(planned) = tool.planned_depth(motion)
            && down - planned > self.step.deepest - self.step.planned
        {
            self.step = Step {
                deepest: down,
                planned,
                z,
                line: motion.line,
            };
        }
    }

    /// Takes the level into its pass. Where the pass was before: at its own last level, where it
    /// was planned to begin, or where the tool was.
    fn pass(&mut self, motion: &Motion, pass: usize, before: f64, planned: &Planned) -> f64 {
        let z = motion.to[2];
        let ends = |axis: usize| {
            let (from, to) = (motion.from[axis], motion.to[axis]);
            (from.min(to), from.max(to))
        };
        let place = self.passes.iter().position(|p| p.pass == pass);
        let Some(place) = place else {
            self.last = Some(self.passes.len());
            self.passes.push(PassLevels {
                pass,
                level: z,
                lowest: (z, motion.line),
                ends: motion.line,
                reached: z,
                been: [ends(0), ends(1)],
            });
            let begins = planned.path.begins_mm;
            return begins.map_or(before, |below| self.top - below);
        };
        self.last = Some(place);
        let found = &mut self.passes[place];
        found.ends = motion.line;
        if z < found.lowest.0 {
            found.lowest = (z, motion.line);
        }
        for (axis, been) in found.been.iter_mut().enumerate() {
            let (least, most) = ends(axis);
            *been = (been.0.min(least), been.1.max(most));
        }
        std::mem::replace(&mut found.level, z)
    }

    /// What is deeper than planned, or not as deep.
    pub(super) fn finish(&self, tool: &ProgrammeTool, modal: &Modal, findings: &mut Findings) {
        self.step_down(tool.number, modal, findings);
        for found in &self.passes {
            if let Some(floor) = floor_of(found.pass, tool) {
                self.floor(found, floor, tool.number, modal, findings);
            }
        }
    }

    fn step_down(&self, tool: u32, modal: &Modal, findings: &mut Findings) {
        let step = self.step;
        if step.deepest - step.planned <= AS_PLANNED * step.planned + NOISE {
            return;
        }
        let at = Where {
            line: step.line,
            at: 0,
        };
        let used = step.deepest / step.planned;
        findings.worst(at, f::PLANNED, f::Cause::Step(tool), used, || {
            format!(
                "{} steps down {} here, to Z {}, planned was {}: post the pass again with the \
                 planned step, or plan the deeper one",
                name(Tool::Chosen(tool)),
                modal.length(step.deepest),
                modal.length(step.z),
                modal.length(step.planned)
            )
        });
    }

    fn floor(
        &self,
        found: &PassLevels,
        (pass, floor): (&Planned, PlannedFloor),
        number: u32,
        modal: &Modal,
        findings: &mut Findings,
    ) {
        let (most, least) = (self.top - floor.most_mm, self.top - floor.least_mm);
        let of = name(Tool::Chosen(number));
        let (lowest, line) = found.lowest;
        if lowest < most - FLOOR {
            let at = Where { line, at: 0 };
            let used = (self.top - lowest) / floor.most_mm;
            findings.worst(at, f::BELOW_FLOOR, Some(number), used, || {
                format!(
                    "{of} cuts to Z {} here, {} below the floor planned for {}: raise it to Z {}, \
                     or plan more depth",
                    modal.length(lowest),
                    modal.length(most - lowest),
                    called(pass),
                    modal.length(most)
                )
            });
        }
        if found.reached > least + FLOOR {
            let at = Where {
                line: found.ends,
                at: 0,
            };
            findings.worst(at, f::ABOVE_FLOOR, Some(number), None, || {
                format!(
                    "{of} ends {} at Z {}, {} above its planned floor: post the levels that are \
                     missing, or plan less depth",
                    called(pass),
                    modal.length(found.reached),
                    modal.length(found.reached - least)
                )
            });
        }
    }
}

/// The deepest pass of all that run at the speed and feed of one, for nothing tells them apart, and
/// its floor; none where one of them has none.
fn floor_of(pass: usize, tool: &ProgrammeTool) -> Option<(&Planned, PlannedFloor)> {
    let of = &tool.planned[pass];
    let alike = || {
        let all = tool.planned.iter();
        all.filter(|p| p.fits(of.spindle_speed, of.feed_speed))
    };
    let floors = alike().map(|p| Some((p, p.path.floor?)));
    let floors: Vec<(&Planned, PlannedFloor)> = floors.collect::<Option<_>>()?;
    let most = floors.iter().map(|(_, floor)| floor.most_mm);
    let most_mm = most.fold(0.0, f64::max);
    let deepest = floors.into_iter();
    let deepest = deepest.max_by(|a, b| a.1.least_mm.total_cmp(&b.1.least_mm));
    deepest.map(|(pass, floor)| (pass, PlannedFloor { most_mm, ..floor }))
}
