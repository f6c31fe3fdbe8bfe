//! A pass with its answer: what commands, screens and sheets show.

use super::description::Description;
use super::resolve::{Idle, Resolved, Shelves, SourceLine, impossible, resolve};
use super::{opens, sure};
use feeds_core::band::Band;
use feeds_core::error::EntryError;
use feeds_core::limit::{Check, ENDLESS_MARGIN, Limit, State};
use feeds_core::notebook::{Origin, Recorded, Step};
use feeds_core::plan::interval::{End, Interval};
use feeds_core::plan::limits::is_of_loads;
use feeds_core::plan::opens::{Change, Opening, openings};
use feeds_core::plan::setup::SetupError;
use feeds_core::plan::{Plan, Planner};
use feeds_core::quantity::{Amount, Length, Quantity, unit};
use feeds_core::symbol::{self as s, System};
use serde::Serialize;

/// A pass with its answer.
#[derive(Clone, Debug)]
pub struct Answered {
    /// What the texts came to.
    pub resolved: Resolved,
    /// The answer.
    pub plan: Plan,
    /// The working.
    pub steps: Vec<Step>,
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
    let mut cautions = resolved.cautions.iter();
    let unknown = cautions.find_map(|c| c.strip_prefix("stock unknown: "))?;
    Some(("condition", unknown.to_owned()))
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
            let text = format!("is needed: {no_band} without {unknown}; or give {instead}");
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
    if resolved.setup.surface_step().is_some() && plan.cusp.is_none() {
        resolved.cautions.push(crate::words::APART.to_owned());
    }
    Ok(Answered {
        resolved,
        plan,
        steps: notes.steps,
        sure: None,
        opens: Vec::new(),
    })
}

/// How the caution begins that a chip lies beyond those the force was measured at.
pub const THIN_CHIP: &str = "cutting force: a mean chip";

/// Says so where the chip lies beyond those the force of the stock was measured at.
fn tell_extrapolation(resolved: &mut Resolved, steps: &mut [Step], plan: &Plan) {
    let Some(from) = extrapolated_from(resolved, plan) else {
        return;
    };
    let show = |h: Length| s::H_M.show(h.si(), System::Metric);
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

    /// Whether a check is over.
    pub fn is_over(&self) -> bool {
        self.plan.count(State::Over) > 0
    }

    /// How many things ask for attention: checks that do not hold or are unknown, and cautions.
    pub fn cautions(&self) -> usize {
        let checks = self.plan.checks.iter();
        checks.filter(|c| c.state() != State::Ok).count() + self.resolved.cautions.len()
    }
}

/// The answer as scripts read it; the order of keys is fixed.
#[derive(Debug, Serialize)]
pub struct Document<'a> {
    spindle_speed: Amount,
    cutting_speed: Amount,
    feed_per_tooth: Amount,
    feed_speed: Amount,
    removal_rate: Amount,
    effective_diameter: Amount,
    engagement_angle: Amount,
    chip_max: Amount,
    chip_mean: Amount,
    chip_floor: Option<Amount>,
    rubbing_share: Option<Amount>,
    cusp: Option<Amount>,
    specific_cutting_force: Option<Amount>,
    cutting_force_mean: Option<Amount>,
    lateral_force_peak: Option<Amount>,
    torque_peak: Option<Amount>,
    power_mean: Option<Amount>,
    tip_deflection: Option<Amount>,
    wall_error: Option<Amount>,
    bending_stress: Option<Amount>,
    hold_margin: Option<Amount>,
    edges: Vec<Amount>,
    plunge: Option<PlungeDocument>,
    worn_edge: Option<WornDocument>,
    opens: Vec<OpeningDocument>,
    loads_extrapolated: bool,
    feed_interval: IntervalDocument,
    governs: Option<&'static str>,
    checks: Vec<CheckDocument>,
    moments: Vec<MomentDocument>,
    sources: &'a [SourceLine],
    cautions: Vec<&'a str>,
    not_used: &'a [Idle],
    #[serde(skip_serializing_if = "Option::is_none")]
    bands: Option<sure::Bands>,
    #[serde(skip_serializing_if = "Option::is_none")]
    working: Option<&'a [Step]>,
}

impl Document<'_> {
    /// The same, with the bands of answers and checks.
    #[must_use]
    pub fn with_bands(self, band: Option<&Band>) -> Self {
        Self {
            bands: band.map(sure::document),
            ..self
        }
    }
}

#[derive(Debug, Serialize)]
struct PlungeDocument {
    feed_per_tooth: Amount,
    feed_speed: Amount,
    thrust: Amount,
    torque: Amount,
    bending_stress: Amount,
}

/// The same settings with a worn edge.
#[derive(Debug, Serialize)]
struct WornDocument {
    land: Amount,
    lateral_force_peak: Amount,
    wall_error: Amount,
    bending_stress: Amount,
    checks: Vec<CheckDocument>,
}

#[derive(Debug, Serialize)]
struct OpeningDocument {
    what: &'static str,
    to: Amount,
    text: String,
    spindle_speed: Amount,
    feed_speed: Amount,
}

fn opening(opening: &Opening) -> OpeningDocument {
    let (what, to) = match opening.change {
        Change::Feed(f_z) => ("feed", s::F_Z.amount(f_z.si())),
        Change::Depth(a_p, _) => ("depth", s::A_P.amount(a_p.si())),
        Change::StickOut(l) => ("stick-out", s::STICK_OUT.amount(l.si())),
        Change::Width(a_e) => ("width", s::A_E.amount(a_e.si())),
        Change::Diameter(d) => ("cutter", s::D.amount(d.si())),
    };
    OpeningDocument {
        what,
        to,
        text: opens::text(opening, System::Metric),
        spindle_speed: s::N.amount(opening.plan.n.turns().value),
        feed_speed: s::V_F.amount(opening.plan.v_f.value),
    }
}

#[derive(Debug, Serialize)]
struct IntervalDocument {
    least: Option<Amount>,
    most: Option<Amount>,
    closed_by: ClosedBy,
    empty: bool,
}

#[derive(Debug, Serialize)]
struct ClosedBy {
    least: Option<&'static str>,
    most: Option<&'static str>,
}

/// A check as scripts read it.
#[derive(Debug, Serialize)]
pub(super) struct CheckDocument {
    limit: &'static str,
    state: &'static str,
    moment: &'static str,
    value: Option<Amount>,
    bound: Option<Amount>,
    margin: Option<f64>,
    wanted: f64,
    source: &'static str,
    extrapolated: bool,
    text: String,
}

#[derive(Debug, Serialize)]
struct MomentDocument {
    moment: &'static str,
    engagement_angle: Amount,
    depth: Amount,
    chip_max: Amount,
    lateral_force_peak: Option<Amount>,
    bending_stress: Option<Amount>,
}

impl Document<'_> {
    /// The same with another limit named as the one that governs.
    #[must_use]
    pub fn governed_by(self, limit: Option<&'static str>) -> Self {
        Self {
            governs: limit,
            ..self
        }
    }
}

impl Answered {
    /// The answer as scripts read it.
    pub fn document(&self, working: bool) -> Document<'_> {
        let p = &self.plan;
        let um = |si: f64| Amount::of(si, &unit::MICROMETRE);
        let load = p.loads.as_ref();
        let newton = |si: f64| Amount::of(si, &unit::NEWTON);
        Document {
            spindle_speed: s::N.amount(p.n.turns().value),
            cutting_speed: s::V_C.amount(p.v_c.value),
            feed_per_tooth: s::F_Z.amount(p.f_z.value),
            feed_speed: s::V_F.amount(p.v_f.value),
            removal_rate: s::Q.amount(p.q.value),
            effective_diameter: s::D_EFF.amount(p.d_eff.value),
            engagement_angle: s::PHI_S.amount(p.phi_s.value),
            chip_max: um(p.h_max.value),
            chip_mean: um(p.h_m.value),
            chip_floor: p.h_min.map(|h| um(h.value)),
            rubbing_share: p.rubbing.map(|share| s::RUBBING.amount(share)),
            cusp: p.cusp.map(|h| um(h.value)),
            specific_cutting_force: p.k_c.map(|k| s::K_C.amount(k.value)),
            cutting_force_mean: p.force_mean.map(|f| newton(f.value)),
            lateral_force_peak: load.map(|l| newton(l.lateral)),
            torque_peak: load.map(|l| Amount::of(l.torque, &unit::NEWTON_METRE)),
            power_mean: load.map(|l| Amount::of(l.power, &unit::WATT)),
            tip_deflection: load.map(|l| um(l.tip)),
            wall_error: load.map(|l| um(l.wall())),
            bending_stress: load.map(|l| s::SIGMA.amount(l.stress)),
            hold_margin: p
                .check("hold")
                .and_then(Check::margin)
                .filter(|m| *m > ENDLESS_MARGIN)
                .map(|m| Amount::of(m, &unit::ONE)),
            edges: p
                .edges
                .feeds
                .iter()
                .map(|f| s::F_Z.amount(f.si()))
                .collect(),
            plunge: p.plunge.map(|plunge| PlungeDocument {
                feed_per_tooth: s::F_Z.amount(plunge.f_z.si()),
                feed_speed: s::V_F.amount(plunge.feed_speed(&self.resolved.setup, p.n).si()),
                thrust: newton(plunge.thrust),
                torque: Amount::of(plunge.torque, &unit::NEWTON_METRE),
                bending_stress: s::SIGMA.amount(plunge.stress),
            }),
            worn_edge: self
                .sure
                .as_ref()
                .and_then(|b| b.worn.as_ref())
                .map(|worn| WornDocument {
                    land: s::LAND.amount(worn.land.si()),
                    lateral_force_peak: newton(worn.loads.lateral),
                    wall_error: um(worn.loads.wall()),
                    bending_stress: s::SIGMA.amount(worn.loads.stress),
                    checks: worn.checks.iter().map(|c| check(c, false)).collect(),
                }),
            opens: self.opens.iter().map(opening).collect(),
            loads_extrapolated: self.is_extrapolated(),
            feed_interval: interval(&p.feeds),
            governs: p.governs().map(|c| c.limit.name),
            checks: p
                .checks
                .iter()
                .map(|c| check(c, !self.mark(c).is_empty()))
                .collect(),
            moments: p
                .moments
                .iter()
                .map(|(engaged, loads)| MomentDocument {
                    moment: engaged.moment.words(),
                    engagement_angle: s::PHI_S.amount(engaged.arc.value),
                    depth: s::A_P.amount(engaged.a_p.value),
                    chip_max: um(engaged.h_max(p.f_z).value),
                    lateral_force_peak: loads.map(|l| newton(l.lateral)),
                    bending_stress: loads.map(|l| s::SIGMA.amount(l.stress)),
                })
                .collect(),
            sources: &self.resolved.sources,
            cautions: self
                .resolved
                .cautions
                .iter()
                .map(String::as_str)
                .chain(crate::words::ALWAYS.iter().copied())
                .collect(),
            not_used: &self.resolved.idle,
            bands: None,
            working: working.then_some(&self.steps[..]),
        }
    }
}

fn interval(feeds: &Interval) -> IntervalDocument {
    let f_z = |end: Option<End>| end.map(|e| s::F_Z.amount(e.f_z.value));
    let name = |end: Option<End>| end.map(|e| e.limit.name);
    IntervalDocument {
        least: f_z(feeds.least),
        most: f_z(feeds.most),
        closed_by: ClosedBy {
            least: name(feeds.least),
            most: name(feeds.most),
        },
        empty: feeds.is_empty(),
    }
}

pub(super) fn check(check: &Check, extrapolated: bool) -> CheckDocument {
    CheckDocument {
        limit: check.limit.name,
        state: check.state().word(),
        moment: check.moment.words(),
        value: check.value(),
        bound: check.bound(),
        // A bound of nothing has no margin that a number could tell.
        margin: check.margin().filter(|m| *m > ENDLESS_MARGIN),
        wanted: check.wanted,
        source: check.limit.source,
        extrapolated,
        text: check.text(System::Metric),
    }
}
