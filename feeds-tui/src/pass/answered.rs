//! A pass with its answer: what commands, screens and sheets show.

use super::description::Description;
use super::resolve::{Resolved, Shelves, impossible, resolve};
use super::sure;
use feeds_core::band::Band;
use feeds_core::error::EntryError;
use feeds_core::limit::{Check, Limit, State};
use feeds_core::notebook::weighed::Weighed;
use feeds_core::notebook::{Origin, Recorded, Step};
use feeds_core::plan::limits::is_of_loads;
use feeds_core::plan::opens::{Opening, openings};
use feeds_core::plan::setup::{Setup, SetupError};
use feeds_core::plan::start::most_at_full_width;
use feeds_core::plan::{Plan, Planner};
use feeds_core::quantity::{Length, Quantity};
use feeds_core::symbol::{self as s, System};
use feeds_core::verdict::Verdict;
use std::fmt::Write as _;

/// A pass with its answer.
#[derive(Clone, Debug)]
pub struct Answered {
    /// What the texts came to.
    pub resolved: Resolved,
    /// The answer.
    pub plan: Plan,
    /// The working.
    pub steps: Vec<Step>,
    /// The checks, with where their numbers come from.
    pub weighed: Vec<Weighed>,
    /// How sure it is, if that was asked for: it takes many times as long.
    pub sure: Option<Band>,
    /// What would open it where it is over or rubs; looked for with how sure it is.
    pub opens: Vec<Opening>,
}

/// Reads a description and works it out.
///
/// # Errors
/// Every entry that is wrong, missing, or such that no cut can be so.
pub fn answered(
    pass: &Description,
    shelves: &impl Shelves,
    planner: &mut Planner,
) -> Result<Answered, Vec<EntryError>> {
    let resolved = resolve(pass, shelves)?;
    planner.keep_up(&resolved.setup);
    let lacks = lacks(&resolved);
    worked_out(resolved, planner).map_err(|e| vec![of_cause(&e, lacks.as_ref())])
}

/// An entry, and what is not known without it.
pub(super) type Lacks = (&'static str, String);

/// The entry of the stock for want of which its bands are not known, and what is not known then.
pub(super) fn lacks(resolved: &Resolved) -> Option<Lacks> {
    if resolved.stock_row.is_none() {
        return Some(("stock", "it".to_owned()));
    }
    let unknown = resolved.unknown_state.as_ref()?;
    Some(("condition", unknown.said()))
}

/// The error said of the entry it comes of: a band is missing because the stock is not known well
/// enough, and then what could be given in its place comes last.
pub(super) fn of_cause(error: &SetupError, lacks: Option<&Lacks>) -> EntryError {
    let band = match error {
        SetupError::Needs { why, .. } => why.split_once("; give "),
        _ => None,
    };
    match lacks.zip(band) {
        Some(((key, unknown), (no_band, instead))) => {
            let no_band = no_band.trim_end_matches(" for this stock and cutter");
            let text = format!("is needed: {no_band} without {unknown}; or type {instead}");
            EntryError::sentence(text).of(key)
        }
        None => impossible(error),
    }
}

/// Works out what has been read; the planner is up with its stock.
///
/// # Errors
/// When no cut can be so.
pub fn worked_out(resolved: Resolved, planner: &Planner) -> Result<Answered, SetupError> {
    let mut notes = Recorded::default();
    let plan = planner.work_out(&resolved.setup, &mut notes)?;
    let mut resolved = resolved;
    tell_extrapolation(&mut resolved, &mut notes.steps, &plan);
    if let Some(text) = beyond_the_table(&resolved.setup) {
        resolved.cautions.push(text);
    }
    if resolved.setup.surface_step().is_some() && plan.cusp.is_none() {
        resolved.cautions.push(crate::words::APART.to_owned());
    }
    Ok(Answered {
        resolved,
        plan,
        steps: notes.steps,
        weighed: notes.weighed,
        sure: None,
        opens: Vec::new(),
    })
}

/// Says so where the edge needs more to cut than the table of feeds gives such a cutter.
fn beyond_the_table(setup: &Setup) -> Option<String> {
    let (table, most) = (setup.stock.f_z?.most, most_at_full_width(setup)?);
    let show = |f_z: Length| s::F_FULL.show(f_z.si(), setup.typed_in);
    (most > table).then(|| {
        format!(
            "feed: the book ends at {} for this cutter, but its edge needs {} to cut; the edge \
             decides, and no book covers such a cut",
            show(table),
            show(most)
        )
    })
}

/// How the caution begins that a chip lies beyond those the force was measured at.
pub const THIN_CHIP: &str = "cutting force: a mean chip";

/// Says so where the chip lies beyond those the force of the stock was measured at.
fn tell_extrapolation(resolved: &mut Resolved, steps: &mut [Step], plan: &Plan) {
    let Some(from) = extrapolated_from(resolved, plan) else {
        return;
    };
    let system = resolved.setup.typed_in;
    let show = |h: Length| s::H_M.show(h.si(), system);
    let than = if plan.h_m < from {
        format!("thinner than the {}", show(from))
    } else {
        format!("thicker than the {}", show(from))
    };
    resolved.cautions.push(format!(
        "{THIN_CHIP} of {} is {than} that forces were measured at: take forces, power and bending \
         as a guess",
        show(plan.h_m),
    ));
    let forces = resolved.sources.iter_mut();
    for source in forces.filter(|s| s.what.starts_with("specific cutting force")) {
        source.extrapolated = true;
    }
    for input in steps.iter_mut().flat_map(|step| &mut step.inputs) {
        let of_force = [&s::KC11, &s::M_C].contains(&input.symbol);
        if let (true, Some(Origin::Row { extrapolated, .. })) = (of_force, &mut input.origin) {
            *extrapolated = true;
        }
    }
}

/// The end of the chips the force was measured at, if that of the pass lies beyond.
fn extrapolated_from(resolved: &Resolved, plan: &Plan) -> Option<Length> {
    let known = resolved.setup.stock.resistance;
    known.and_then(|r| r.extrapolated_from(plan.h_m))
}

impl Answered {
    /// Every step, then every check with where its numbers are from.
    pub fn working(&self, system: System) -> String {
        let mut out: String = self.steps.iter().map(|step| step.text(system)).collect();
        let _ = writeln!(out, "{}", crate::words::WEIGHED);
        out.extend(self.weighed.iter().map(|weighed| weighed.text(system)));
        out
    }

    /// Whether its chip lies beyond those the force of the stock was measured at.
    pub fn is_extrapolated(&self) -> bool {
        extrapolated_from(&self.resolved, &self.plan).is_some()
    }

    /// Limits that would matter and are not known.
    pub fn unknown(&self) -> impl Iterator<Item = &'static Limit> {
        let checks = self.plan.checks.iter();
        let unknown = checks.filter(|c| c.state() == State::Unknown && c.limit.asks());
        unknown.map(|c| c.limit)
    }

    /// What of its sources is weak.
    pub fn weak(&self) -> Vec<&str> {
        let sources = self.resolved.sources.iter();
        sources
            .filter(|s| s.weak)
            .map(|s| s.what.as_str())
            .collect()
    }

    /// The sign behind a check whose loads are extrapolated; nothing behind others.
    pub fn mark(&self, check: &Check) -> &'static str {
        if is_of_loads(check.limit) && check.margin().is_some() {
            self.mark_of_loads()
        } else {
            ""
        }
    }

    /// The sign behind loads that are extrapolated; nothing behind others.
    pub fn mark_of_loads(&self) -> &'static str {
        if self.is_extrapolated() { "*" } else { "" }
    }

    /// The same, with how sure it is; the planner is the one that worked it out.
    #[must_use]
    pub fn surely(self, planner: &Planner) -> Self {
        let band = Band::of(
            planner,
            &self.resolved.setup,
            &self.plan,
            sure::DRAWS,
            sure::SEED,
        );
        let opens = openings(planner, &self.resolved.setup, &self.plan);
        Self {
            sure: Some(band),
            opens,
            ..self
        }
    }

    /// Whether the pass stops.
    pub fn stops(&self) -> bool {
        Verdict::of(&self.plan.checks) == Verdict::Stop
    }

    /// How many things ask for attention: checks that do not hold or are unknown, and cautions.
    pub fn cautions(&self) -> usize {
        let checks = self.plan.checks.iter();
        checks.filter(|c| c.state() != State::Ok).count() + self.resolved.cautions.len()
    }
}
