//! Everything the audit is told: tools, machine, stock, hold and travel, typed or from a job.

use super::against::Against;
use super::planned::{JobTool, tools};
use super::shown::Shown;
use super::tool;
use crate::axes;
use crate::job::Worked;
use crate::pass::description::Description;
use crate::pass::field::Key;
use crate::pass::resolve::Shelves;
use crate::pass::resolve::around::{Around, Surrounding, around};
use feeds_core::error::{Cause, EntryError};
use feeds_core::programme::{
    Bounds, Drives, ProgrammeTool, Report, Setting, ToolKind, Units as ReportUnits,
};
use feeds_core::symbol::System;

/// What was typed.
#[derive(Clone, Copy, Debug, Default)]
pub struct Asked<'a> {
    /// Tools, as [`tool::read`] takes them.
    pub tools: &'a [String],
    /// A machine of the shop or the tables.
    pub machine: Option<&'a str>,
    /// The box of the stock, as [`axes::bounds`] takes it.
    pub stock: Option<&'a str>,
    /// The boxes of the hold, as [`axes::boxes`] takes them.
    pub hold: Option<&'a str>,
    /// The travel of the axes, as the entry of a machine takes it.
    pub travel: Option<&'a str>,
    /// Whether the block delete switch is on.
    pub block_delete: bool,
    /// The unit of a programme that states none.
    pub programme_units: Option<System>,
    /// The system of units people read.
    pub system: System,
    /// Whether findings keep to the unit of the programme, as scripts read them.
    pub as_written: bool,
}

/// What the audit is told, and which of it is from the job.
#[derive(Clone, Debug, Default)]
pub struct AuditKnown {
    /// For the reader.
    pub setting: Setting,
    /// The cutters of the job.
    pub job: Vec<JobTool>,
    /// The system of units people read.
    pub system: System,
    surroundings: Surroundings,
}

impl AuditKnown {
    /// What the programme is looked at against, each with where it is from.
    pub fn against(&self) -> Vec<Against> {
        self.surroundings.against(Shown(self.system))
    }

    /// The same for people who read the other system of units.
    #[must_use]
    pub fn in_system(&self, system: System) -> Self {
        let mut known = self.clone();
        known.system = system;
        known.setting.shown_in_inch = Some(system == System::Inch);
        known
    }

    /// The same for a programme that names no tool: the only cutter of the job is then its cutter.
    pub fn of_no_tool(&self, report: &Report) -> Option<Self> {
        let toolless = report.uses.iter().all(|u| u.tool.is_none()) && !report.uses.is_empty();
        let [job] = &self.job[..] else { return None };
        let number = job.known.number;
        if !toolless || number == 0 || self.setting.tool(None).is_some() {
            return None;
        }
        let mut known = self.clone();
        known.job[0].known.number = 0;
        for tool in &mut known.setting.tools {
            if tool.number == number {
                tool.number = 0;
            }
        }
        Some(known)
    }
}

/// The system of units a programme is written in, in which scripts read its texts.
pub fn written_in(report: &Report) -> System {
    match report.units {
        ReportUnits::Inch => System::Inch,
        ReportUnits::Unstated if report.unstated_inch => System::Inch,
        ReportUnits::Mm | ReportUnits::Mixed | ReportUnits::Unstated => System::Metric,
    }
}

/// Gathers what was typed and what the job says; what was typed goes first.
///
/// # Errors
/// When something typed cannot be read or found.
pub fn known(
    asked: Asked<'_>,
    worked: Option<&Worked<'_>>,
    shelves: &impl Shelves,
) -> Result<AuditKnown, EntryError> {
    let typed = asked.tools.iter().map(|text| tool::read(text));
    let typed = typed
        .collect::<Result<Vec<tool::TypedTool>, EntryError>>()
        .map_err(|e| e.of("--tool"))?;
    for (at, tool) in typed.iter().enumerate() {
        let number = tool.known.number;
        if typed[..at]
            .iter()
            .any(|before| before.known.number == number)
        {
            let text = format!("tool {number} appears twice: put all that is known of it in one");
            return Err(EntryError::because(Cause::Clash, text).of("--tool"));
        }
    }
    let passes: Vec<(u32, &str)> = typed
        .iter()
        .filter_map(|t| Some((t.known.number, t.pass.as_deref()?)))
        .collect();
    let job = match worked {
        Some(worked) => tools(worked, &passes)?,
        None if passes.is_empty() => Vec::new(),
        None => {
            let text = "names a pass, but no job is given: add --job FILE";
            return Err(EntryError::because(Cause::Wanting, text).of("--tool"));
        }
    };
    let mut all: Vec<ProgrammeTool> = job.iter().map(|t| t.known.clone()).collect();
    for typed in typed {
        match all.iter_mut().find(|t| t.number == typed.known.number) {
            Some(planned) => overlay(planned, &typed.known),
            None => all.push(typed.known),
        }
    }
    let surroundings = surroundings(asked, worked, shelves)?;
    Ok(AuditKnown {
        setting: Setting {
            tools: all,
            spindle_speeds: surroundings.spindle_speeds.value(),
            drives: surroundings.drives(),
            stock: surroundings.stock.value(),
            hold: surroundings.hold.value().unwrap_or_default(),
            block_delete: asked.block_delete,
            unstated_inch: asked.programme_units.map(|u| u == System::Inch),
            shown_in_inch: (!asked.as_written).then_some(asked.system == System::Inch),
            ..Setting::default()
        },
        job,
        system: asked.system,
        surroundings,
    })
}

/// A value that flags, or the passes of a job, give or do not give.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) enum Told<T> {
    /// One value.
    One(Surrounding<T>),
    /// Passes of the job give different ones, so none is used.
    Several,
    /// Nothing.
    #[default]
    Not,
}

impl<T: Clone + PartialEq> Told<T> {
    /// What all passes that say it agree on.
    fn of(passes: &[Around], get: impl Fn(&Around) -> Option<Surrounding<T>>) -> Self {
        let mut all = passes.iter().filter_map(get);
        let Some(first) = all.next() else {
            return Self::Not;
        };
        if all.all(|other| other.value == first.value) {
            Self::One(first)
        } else {
            Self::Several
        }
    }

    /// The same with a flag over it, if that was given.
    fn under(self, flag: &'static str, typed: Option<T>) -> Self {
        let Some(value) = typed else { return self };
        let from = match self {
            Self::Not => flag.to_owned(),
            Self::One(_) | Self::Several => format!("{flag}, in place of the job's"),
        };
        Self::One(Surrounding { value, from })
    }

    fn map<U>(self, map: impl FnOnce(T) -> U) -> Told<U> {
        match self {
            Self::One(Surrounding { value, from }) => Told::One(Surrounding {
                value: map(value),
                from,
            }),
            Self::Several => Told::Several,
            Self::Not => Told::Not,
        }
    }

    pub(super) fn value(&self) -> Option<T> {
        match self {
            Self::One(told) => Some(told.value.clone()),
            Self::Several | Self::Not => None,
        }
    }
}

/// Everything around the path.
#[derive(Clone, Debug, Default)]
pub(super) struct Surroundings {
    pub(super) stock: Told<Bounds>,
    /// The size of the stock is told, and its place is not; or the other way round.
    pub(super) half: Option<&'static str>,
    pub(super) hold: Told<Vec<Bounds>>,
    pub(super) travel: Told<[f64; 3]>,
    pub(super) spindle_speeds: Told<(f64, f64)>,
    pub(super) fastest: Told<[f64; 3]>,
    pub(super) acceleration: Told<[f64; 3]>,
    pub(super) look_ahead: Told<f64>,
    pub(super) path_tolerance: Told<f64>,
    /// What of the job's machine could not be found or read.
    pub(super) wrong: Vec<String>,
    /// Whether a job or a flag says anything about them at all.
    pub(super) asked: bool,
}

fn surroundings(
    asked: Asked<'_>,
    worked: Option<&Worked<'_>>,
    shelves: &impl Shelves,
) -> Result<Surroundings, EntryError> {
    let of = |flag: &'static str| move |e: EntryError| e.of(flag);
    let (mut passes, mut wrong) = (Vec::new(), Vec::new());
    for pass in worked.iter().flat_map(|w| &w.passes) {
        let (around, errors) = around(&pass.description, shelves);
        passes.push(around);
        let of_programme = |e: &EntryError| {
            let field = e.field().and_then(crate::pass::field::field);
            field.is_some_and(|f| f.id == Key::Machine || f.is_of_programme())
        };
        wrong.extend(
            errors
                .iter()
                .filter(|e| of_programme(e))
                .map(ToString::to_string),
        );
    }
    wrong.sort();
    wrong.dedup();
    let mut of_machine = passes.clone();
    if let Some(name) = asked.machine {
        let mut named = Description::default();
        named.put(Key::Machine, name);
        let (mut around, errors) = around(&named, shelves);
        if let Some(error) = errors.into_iter().next() {
            return Err(match error {
                EntryError::In { error, .. } => error.of("--machine"),
                other => other.of("--machine"),
            });
        }
        around.said_by("--machine");
        of_machine = vec![around];
    }
    let travel = asked.travel.map(|text| {
        let si = Key::Travel.field().axes(text);
        si.map(|si| si.map(|v| v * 1e3))
    });
    let travel = travel.transpose().map_err(of("--travel"))?;
    let stock = asked
        .stock
        .map(axes::bounds)
        .transpose()
        .map_err(of("--stock"))?;
    let hold = asked
        .hold
        .map(axes::boxes)
        .transpose()
        .map_err(of("--hold"))?;
    let size = Told::of(&passes, |a| a.stock_size.clone());
    let zero = Told::of(&passes, |a| a.zero.clone());
    let half = match (&size, &zero) {
        (Told::Not, Told::One(_)) => Some(
            "the job says where its zero lies, not its size: give \
                                           stock-size",
        ),
        (Told::One(_), Told::Not) => Some(
            "the job says its size, not where the zero lies on it: \
                                           give zero",
        ),
        _ => None,
    };
    let of_job = match (size, zero) {
        (Told::One(size), Told::One(zero)) => Told::One(Surrounding {
            value: zero.value.stock(size.value),
            from: size.from,
        }),
        (Told::Several, _) | (_, Told::Several) => Told::Several,
        _ => Told::Not,
    };
    let axis_feed = Told::of(&of_machine, |a| a.axis_feed.clone());
    let feed_most = Told::of(&of_machine, |a| a.feed_most.clone());
    let fastest = match (axis_feed, feed_most) {
        (Told::Not, feed_most) => feed_most.map(|most| [most; 3]),
        (axes, Told::One(most)) => axes.map(|axes| axes.map(|f| f.min(most.value))),
        (axes, _) => axes,
    };
    Ok(Surroundings {
        stock: of_job.under("--stock", stock),
        half: half.filter(|_| stock.is_none()),
        hold: Told::of(&passes, |a| a.jaws.clone()).under("--hold", hold),
        travel: Told::of(&of_machine, |a| a.travel.clone()).under("--travel", travel),
        spindle_speeds: Told::of(&of_machine, |a| {
            let most = a.spindle_most.clone()?;
            let least = a.spindle_least.as_ref().map_or(0.0, |l| l.value);
            Some(Surrounding {
                value: (least, most.value),
                from: most.from,
            })
        }),
        fastest,
        acceleration: Told::of(&of_machine, |a| a.acceleration.clone()),
        look_ahead: Told::of(&of_machine, |a| a.look_ahead.clone()),
        path_tolerance: Told::of(&of_machine, |a| a.path_tolerance.clone()),
        wrong,
        asked: worked.is_some()
            || asked.machine.is_some()
            || asked.stock.is_some()
            || asked.hold.is_some()
            || asked.travel.is_some(),
    })
}

impl Surroundings {
    /// The drives as the reader takes them.
    fn drives(&self) -> Drives {
        // Whole and small: its entry says so.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let ahead = |number: f64| number as usize;
        Drives {
            fastest: self.fastest.value(),
            acceleration: self.acceleration.value(),
            path_tolerance_mm: self
                .path_tolerance
                .value()
                .unwrap_or(Drives::PATH_TOLERANCE_MM),
            look_ahead: self.look_ahead.value().map_or(Drives::LOOK_AHEAD, ahead),
            travel_mm: self.travel.value(),
        }
    }
}

/// Puts what was typed of a tool over what the job says.
fn overlay(planned: &mut ProgrammeTool, typed: &ProgrammeTool) {
    fn over<T: Copy>(kept: &mut Option<T>, typed: Option<T>) {
        if typed.is_some() {
            *kept = typed;
        }
    }
    if typed.kind != ToolKind::Unknown {
        planned.kind = typed.kind;
    }
    planned.cutter = typed.cutter.or(&planned.cutter);
    over(&mut planned.ramp_limit_deg, typed.ramp_limit_deg);
    over(&mut planned.chip_floor_mm, typed.chip_floor_mm);
    over(&mut planned.feed_band, typed.feed_band);
    over(&mut planned.most_cutting_speed, typed.most_cutting_speed);
    over(&mut planned.pitch_mm, typed.pitch_mm);
    planned.asked.extend_from_slice(&typed.asked);
}
