//! A tool at work: its shape for the stock, its passes for the loads.

use super::super::setting::{ProgrammeTool, ToolKind};
use super::super::stock::StockEnd;
use super::judge::PassAtWork;
use super::looks::Seen;
use crate::quantity::in_mm;

/// A tool of the programme that can be simulated. Lengths in mm.
#[derive(Debug)]
pub(super) struct ToolAtWork {
    pub(super) number: u32,
    pub(super) diameter: f64,
    pub(super) edges: Option<f64>,
    pub(super) end: StockEnd,
    pub(super) flutes: Option<f64>,
    pub(super) stick_out: Option<f64>,
    floor_f_z: Option<f64>,
    /// The most feed per tooth of its band, mm.
    pub(super) most_f_z: Option<f64>,
    /// The passes planned with it, where they are described.
    pub(super) passes: Vec<Option<PassAtWork>>,
    pub(super) seen: Seen,
}

/// Why a tool cannot be simulated.
pub(super) fn hinders(tool: Option<&ProgrammeTool>) -> Option<&'static str> {
    let Some(tool) = tool else {
        return Some("nothing is known of the tool: describe it with --tool");
    };
    if tool.kind != ToolKind::Milling && tool.kind != ToolKind::Unknown {
        return Some("only end mills are simulated, with a square end, a corner radius or a ball");
    }
    if tool.diameter_mm().is_none() {
        return Some("the diameter of the tool is not known: give it with --tool");
    }
    if tool.corner_mm().is_none() {
        return Some("the corner radius of the tool is not known: give it with --tool");
    }
    None
}

/// Length of the neck above the flutes, mm, which rubs nowhere: that of its planned passes.
fn relieved(tool: &ProgrammeTool) -> f64 {
    let necks = tool
        .planned
        .iter()
        .filter_map(|p| p.setup.as_ref()?.cutter.neck);
    necks.map(|neck| in_mm(neck.length)).fold(0.0, f64::max)
}

/// What is taken of a tool that is not described in full, or has a shape the stock does not know.
pub(super) fn assumed(tool: &ProgrammeTool) -> Option<&'static str> {
    if tool.cutter.taper.is_some_and(|taper| taper.value > 0.0) {
        return Some("tapered: taken as straight, of its diameter");
    }
    let open = tool.cutter.end.is_none() && tool.cutter.corner_radius.is_none();
    open.then_some("nobody said what end it has: taken as square")
}

impl ToolAtWork {
    /// The tool, if its shape is known.
    pub(super) fn of(tool: &ProgrammeTool) -> Option<Self> {
        let diameter = tool.diameter_mm()?;
        let end = StockEnd {
            radius_mm: diameter / 2.0,
            corner_mm: tool.corner_mm()?.min(diameter / 2.0),
        };
        let pass = |setup: &_| PassAtWork::new(setup);
        Some(Self {
            number: tool.number,
            diameter,
            edges: tool.cutter.edges.filter(|z| *z > 0).map(f64::from),
            end,
            flutes: tool
                .cutter
                .flute_length
                .map(|flutes| in_mm(flutes) + relieved(tool)),
            stick_out: tool.cutter.stick_out.map(in_mm),
            floor_f_z: tool.chip_floor_mm,
            most_f_z: tool.feed_band.map(|band| band.1),
            passes: tool
                .planned
                .iter()
                .map(|p| p.setup.as_deref().map(pass))
                .collect(),
            seen: Seen::default(),
        })
    }

    /// From what height above the tip on stock meets more than flutes, mm.
    pub(super) fn tall(&self) -> Option<f64> {
        self.flutes
            .into_iter()
            .chain(self.stick_out)
            .reduce(f64::min)
    }

    /// The least chip that cuts, mm: that of the pass, or the floor of the feed that was given.
    pub(super) fn floor(&self, pass: Option<usize>) -> Option<f64> {
        let of_pass = pass.and_then(|p| self.passes.get(p)?.as_ref()?.floor);
        of_pass.or(self.floor_f_z)
    }
}
