//! Planned against posted: how the cutter goes down into the stock.

use super::super::Where;
use super::super::checks::{name, place};
use super::super::finding::{self as f, Findings};
use super::super::modal::Modal;
use super::super::motion::{Motion, Tool};
use super::super::setting::{AS_PLANNED, Planned, ProgrammeTool, Setting};
use super::called;
use super::levels::Levels;
use super::path::PlannedWayIn;

/// A cutter that goes down no further than this into stock, mm, only touches it: what a zero is
/// set to (common practice).
const TOUCHES: f64 = 0.02;
/// Moves down that are kept until the level they lead to; of more, the steepest.
const MOST: usize = 64;

/// A move down that leads to a level.
#[derive(Clone, Copy, Debug)]
struct Down {
    from: [f64; 3],
    to: f64,
    /// Length of its way seen from above, mm: nothing straight down.
    run: f64,
    /// Drop a turn, of a helix, mm.
    pitch: Option<f64>,
    /// Whether the box of the stock is known, and it goes down into that.
    in_stock: bool,
    at: Where,
}

impl Down {
    fn degrees(&self) -> f64 {
        (self.from[2] - self.to).atan2(self.run).to_degrees()
    }
}

/// The moves down of one tool since its last level: which pass they are of is known by the next.
#[derive(Debug, Default)]
pub(super) struct WaysIn(Vec<Down>);

impl WaysIn {
    /// A move down.
    pub(super) fn down(&mut self, motion: &Motion, tool: &ProgrammeTool, setting: &Setting) {
        if !setting.meets_stock(motion, tool) {
            return;
        }
        let sideways = motion.sideways();
        let run = motion.arc.map_or_else(
            || (motion.to[0] - motion.from[0]).hypot(motion.to[1] - motion.from[1]),
            |arc| arc.length(),
        );
        let drop = motion.from[2] - motion.to[2];
        let turns = motion
            .arc
            .map(|arc| arc.sweep.abs() / std::f64::consts::TAU);
        let down = Down {
            from: motion.from,
            to: motion.to[2],
            run: if sideways { run } else { 0.0 },
            // Less than a turn says nothing of the drop of one.
            pitch: turns.filter(|t| *t > 1.0 - 1e-6).map(|turns| drop / turns),
            in_stock: setting.stock.is_some(),
            at: place(motion),
        };
        // Pecks straight down are one way in.
        if let Some(last) = self.0.last_mut().filter(|_| !sideways)
            && last.run == 0.0
            && last.from[..2] == down.from[..2]
        {
            last.to = last.to.min(down.to);
        } else if self.0.len() < MOST {
            self.0.push(down);
        } else if let Some(last) = self.0.last_mut()
            && down.degrees() > last.degrees()
        {
            *last = down;
        }
    }

    /// They lead to a level of a pass.
    pub(super) fn lead(
        &mut self,
        pass: Option<usize>,
        tool: &ProgrammeTool,
        levels: &Levels,
        modal: &Modal,
        findings: &mut Findings,
    ) {
        let downs = std::mem::take(&mut self.0);
        let planned = pass.map(|at| (at, &tool.planned[at]));
        let Some((at, planned)) = planned.filter(|(_, p)| p.path.way_in.is_some()) else {
            return;
        };
        for down in downs {
            let into = down.from[2].min(levels.cleared(at, planned, down.from)) - down.to;
            if into > TOUCHES {
                compared(&down, into, planned, tool.number, modal, findings);
            }
        }
    }
}

/// Says where a move that goes down so many mm into stock is not as planned.
fn compared(
    down: &Down,
    into: f64,
    planned: &Planned,
    tool: u32,
    modal: &Modal,
    findings: &mut Findings,
) {
    let (of, pass, degrees) = (name(Tool::Chosen(tool)), called(planned), down.degrees());
    let straight = down.run == 0.0;
    let way = match planned.path.way_in {
        None => return,
        Some(PlannedWayIn::Side) => "to come in from the open side".to_owned(),
        Some(PlannedWayIn::Ramp { degrees }) => format!("a ramp of {degrees:.2}°"),
        Some(PlannedWayIn::Helix { degrees, pitch_mm }) => format!(
            "a helix that drops {} a turn, {degrees:.2}°",
            modal.length(pitch_mm)
        ),
    };
    let (allowed, pitch) = match planned.path.way_in {
        Some(PlannedWayIn::Side) if !down.in_stock => return,
        Some(PlannedWayIn::Ramp { degrees }) => (degrees, None),
        Some(PlannedWayIn::Helix { degrees, pitch_mm }) => (degrees, Some(pitch_mm)),
        Some(PlannedWayIn::Side) | None => (0.0, None),
    };
    let turn = down.pitch.zip(pitch);
    let turn = turn.filter(|(posted, planned)| *posted > planned * (1.0 + AS_PLANNED) + 1e-6);
    let text = if straight {
        format!(
            "{of} goes straight down {} into stock here, planned for {pass} was {way}: post it so, \
             or plan to go straight down",
            modal.length(into)
        )
    } else if allowed == 0.0 {
        format!(
            "{of} ramps down into stock here, planned for {pass} was {way}: start beside the \
             stock, or plan the ramp"
        )
    } else if degrees > allowed * (1.0 + AS_PLANNED) {
        format!(
            "{of} goes down at {degrees:.2}° here, planned for {pass} was {way}: post it as \
             planned, or plan it steeper"
        )
    } else if let Some((posted, _)) = turn {
        format!(
            "{of} drops {} a turn here, planned for {pass} was {way}: take more turns, or plan it \
             steeper",
            modal.length(posted)
        )
    } else {
        return;
    };
    let used = match (allowed > 0.0, turn) {
        (true, Some((posted, planned))) if degrees <= allowed => Some(posted / planned),
        (true, _) => Some(degrees / allowed),
        (false, _) => None,
    };
    findings.worst(down.at, f::WAY_IN, Some(tool), used, || text);
}
