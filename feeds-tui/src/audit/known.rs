//! Everything the audit is told: tools, machine, stock, hold and travel, typed or from a job.

use super::planned::{JobTool, tools};
use super::{boxes, tool};
use crate::job::Worked;
use feeds_core::error::EntryError;
use feeds_core::programme::{MachineKnown, Setting, ToolKind, ToolKnown};
use feeds_core::quantity::{Quantity, SpindleSpeed};
use reference_tables::tables;

/// How far a path may leave its corners, mm (common practice for small controls).
const PATH_TOLERANCE: f64 = 0.01;

/// What was typed.
#[derive(Clone, Copy, Debug, Default)]
pub struct Asked<'a> {
    /// Tools, as [`tool::read`] takes them.
    pub tools: &'a [String],
    /// A machine of the tables.
    pub machine: Option<&'a str>,
    /// The box of the stock, as [`boxes::bounds`] takes it.
    pub stock: Option<&'a str>,
    /// The box of the hold.
    pub hold: Option<&'a str>,
    /// The travel of the axes, as [`boxes::travel`] takes it.
    pub travel: Option<&'a str>,
    /// Whether the block delete switch is on.
    pub block_delete: bool,
}

/// What the audit is told, and which of it is from the job.
#[derive(Clone, Debug, Default)]
pub struct Known {
    /// For the reader.
    pub setting: Setting,
    /// The cutters of the job.
    pub job: Vec<JobTool>,
}

/// Gathers what was typed and what the job says; what was typed goes first.
///
/// # Errors
/// When something typed cannot be read or found.
pub fn known(asked: Asked<'_>, worked: Option<&Worked<'_>>) -> Result<Known, EntryError> {
    let typed = asked.tools.iter().map(|text| tool::read(text));
    let typed = typed
        .collect::<Result<Vec<tool::Typed>, EntryError>>()
        .map_err(|e| e.of("--tool"))?;
    let passes: Vec<(u32, &str)> = typed
        .iter()
        .filter_map(|t| Some((t.known.number, t.pass.as_deref()?)))
        .collect();
    let job = match worked {
        Some(worked) => tools(worked, &passes)?,
        None if passes.is_empty() => Vec::new(),
        None => {
            let text = "names a pass, but no job is given: add --job FILE";
            return Err(EntryError::sentence(text).of("--tool"));
        }
    };
    let mut all: Vec<ToolKnown> = job.iter().map(|t| t.known.clone()).collect();
    for typed in typed {
        match all.iter_mut().find(|t| t.number == typed.known.number) {
            Some(planned) => overlay(planned, &typed.known),
            None => all.push(typed.known),
        }
    }
    let of = |flag: &'static str| move |e: EntryError| e.of(flag);
    let mut machine = match (asked.machine, worked) {
        (Some(name), _) => Some(machine_of_tables(name).map_err(of("--machine"))?),
        (None, Some(worked)) => machine_of_job(worked),
        (None, None) => None,
    };
    if let Some(text) = asked.travel {
        let travel = boxes::travel(text).map_err(of("--travel"))?;
        let Some(machine) = &mut machine else {
            let text = "needs a machine: add --machine NAME, or --job with one";
            return Err(EntryError::sentence(text).of("--travel"));
        };
        machine.travel_mm = Some(travel);
    }
    let stock = asked.stock.map(boxes::bounds).transpose();
    let hold = asked.hold.map(boxes::bounds).transpose();
    Ok(Known {
        setting: Setting {
            tools: all,
            machine,
            stock: stock.map_err(of("--stock"))?,
            hold: hold.map_err(of("--hold"))?,
            block_delete: asked.block_delete,
            ..Setting::default()
        },
        job,
    })
}

/// Puts what was typed of a tool over what the job says.
fn overlay(planned: &mut ToolKnown, typed: &ToolKnown) {
    fn over<T: Copy>(kept: &mut Option<T>, typed: Option<T>) {
        if typed.is_some() {
            *kept = typed;
        }
    }
    if typed.kind != ToolKind::Unknown {
        planned.kind = typed.kind;
    }
    over(&mut planned.diameter_mm, typed.diameter_mm);
    over(&mut planned.edges, typed.edges);
    over(&mut planned.can_plunge, typed.can_plunge);
    over(&mut planned.ramp_limit_deg, typed.ramp_limit_deg);
    over(&mut planned.chip_floor_mm, typed.chip_floor_mm);
    over(&mut planned.feed_band, typed.feed_band);
    over(&mut planned.most_cutting_speed, typed.most_cutting_speed);
    over(&mut planned.pitch_mm, typed.pitch_mm);
}

/// The machine of the job, if it is one of the tables: only they know what its axes can do. What
/// the job says of its spindle and feed stands over the row.
fn machine_of_job(worked: &Worked<'_>) -> Option<MachineKnown> {
    let pass = worked.passes.first()?;
    let mut machine = machine_of_tables(pass.description.get("machine")?).ok()?;
    let told = pass
        .outcome
        .as_ref()
        .ok()?
        .resolved
        .setup
        .machine
        .as_ref()?;
    machine.spindle_speeds = Some((told.n_min.in_per_minute(), told.n_max.in_per_minute()));
    if let Some(most) = told.v_f_max {
        let most = most.si() * 60e3;
        machine.fastest = machine.fastest.map(|f| f.min(most));
    }
    Some(machine)
}

/// A machine of the tables as the audit takes it.
fn machine_of_tables(name: &str) -> Result<MachineKnown, EntryError> {
    let tables = tables().map_err(|e| EntryError::sentence(e.to_string()))?;
    let row = tables
        .machine(name)
        .map_err(|e| EntryError::sentence(e.to_string()))?;
    let m = &row.value;
    let per_minute = |n: SpindleSpeed| n.in_per_minute();
    let (feed, reach) = (&m.feed, &m.acceleration);
    Ok(MachineKnown {
        spindle_speeds: Some((
            per_minute(m.spindle_speed.least),
            per_minute(m.spindle_speed.most),
        )),
        fastest: [&feed.x, &feed.y, &feed.z].map(|v| v.least.si() * 60e3),
        acceleration: [&reach.x, &reach.y, &reach.z].map(|a| a.least.si() * 1e3),
        path_tolerance_mm: PATH_TOLERANCE,
        travel_mm: None,
    })
}
