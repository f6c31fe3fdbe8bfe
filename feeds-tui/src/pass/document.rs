//! The answer as scripts read it.

use super::answered::{Answered, Careful};
use super::decision::{clause, guessed, not_known};
use super::feed_dial::{END, FeedDial, Zone};
use super::resolve::{Idle, SourceLine};
use super::{opens, sure};
use feeds_core::band::LikelyRange;
use feeds_core::limit::{Check, ENDLESS_MARGIN};
use feeds_core::notebook::Step;
use feeds_core::notebook::weighed::Weighed;
use feeds_core::plan::Plan;
use feeds_core::plan::interval::{FeedEnd, Interval};
use feeds_core::plan::opens::Opening;
use feeds_core::quantity::{Amount, Quantity, unit};
use feeds_core::symbol::{self as s, System};
use feeds_core::verdict::{Verdict, because};
use serde::Serialize;

/// The answer as scripts read it; the order of keys is fixed.
#[derive(Debug, Serialize)]
pub struct PassAnswer<'a> {
    verdict: &'static str,
    because: Vec<BecauseDocument>,
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
    guessed: Vec<String>,
    not_known: Vec<String>,
    checks: Vec<CheckDocument>,
    moments: Vec<MomentDocument>,
    sources: &'a [SourceLine],
    cautions: Vec<&'a str>,
    not_used: &'a [Idle],
    #[serde(skip_serializing_if = "Option::is_none")]
    feed_dial: Option<DialDocument>,
    #[serde(skip_serializing_if = "Option::is_none")]
    bands: Option<sure::Bands>,
    #[serde(skip_serializing_if = "Option::is_none")]
    working: Option<&'a [Step]>,
    #[serde(skip_serializing_if = "Option::is_none")]
    working_of_checks: Option<&'a [Weighed]>,
}

impl PassAnswer<'_> {
    /// The same, with what turning the feed does.
    #[must_use]
    pub fn with_dial(self, dial: Option<&FeedDial>) -> Self {
        let zone = |(zone, from): &(Zone, u32)| ZoneDocument {
            what: zone.word(),
            from: Amount::of(f64::from(*from) / 100.0, &unit::PERCENT),
        };
        let feed_dial = dial.map(|dial| DialDocument {
            zones: dial.zones.iter().map(zone).collect(),
            end: Amount::of(f64::from(END) / 100.0, &unit::PERCENT),
            not_known: dial.unknown.iter().map(|zone| zone.word()).collect(),
            bends_guessed: dial.guessed,
        });
        Self { feed_dial, ..self }
    }

    /// The same, with the bands of answers and checks.
    #[must_use]
    pub fn with_bands(self, band: Option<&LikelyRange>) -> Self {
        Self {
            bands: band.map(sure::document),
            ..self
        }
    }
}

/// The feed dial: what happens from which share of the feed on.
#[derive(Debug, Serialize)]
struct DialDocument {
    zones: Vec<ZoneDocument>,
    end: Amount,
    not_known: Vec<&'static str>,
    bends_guessed: bool,
}

#[derive(Debug, Serialize)]
struct ZoneDocument {
    what: &'static str,
    from: Amount,
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
    to: opens::To,
    text: String,
    spindle_speed: Amount,
    feed_speed: Amount,
}

fn opening(opening: &Opening<Plan>) -> OpeningDocument {
    let (what, to) = opens::entry(opening.change);
    OpeningDocument {
        what,
        to,
        text: opens::text(opening, System::Metric),
        spindle_speed: s::N.amount(opening.then.n.turns().value),
        feed_speed: s::V_F.amount(opening.then.v_f.value),
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

/// A check that the verdict rests on, as scripts read it.
#[derive(Debug, Serialize)]
pub(crate) struct BecauseDocument {
    limit: &'static str,
    rank: &'static str,
    used: Option<f64>,
    text: String,
}

pub(crate) fn reason(check: &Check) -> BecauseDocument {
    BecauseDocument {
        limit: check.limit.name,
        rank: check.limit.harm.word(),
        used: check.used().filter(|used| *used < -ENDLESS_MARGIN),
        text: clause(check),
    }
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
    rank: &'static str,
    used: Option<f64>,
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

impl PassAnswer<'_> {
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
    pub fn document(&self, working: bool) -> PassAnswer<'_> {
        let p = &self.plan;
        let um = |si: f64| Amount::of(si, &unit::MICROMETRE);
        let load = p.loads.as_ref();
        let newton = |si: f64| Amount::of(si, &unit::NEWTON);
        PassAnswer {
            verdict: Verdict::of(&p.checks).word(),
            because: because(&p.checks).map(reason).collect(),
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
            guessed: guessed(self),
            not_known: not_known(self),
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
                .careful()
                .map(Careful::text)
                .chain(crate::words::ALWAYS.iter().copied())
                .collect(),
            not_used: &self.resolved.idle,
            feed_dial: None,
            bands: None,
            working: working.then(|| &self.working().steps[..]),
            working_of_checks: working.then(|| &self.working().weighed[..]),
        }
    }
}

fn interval(feeds: &Interval) -> IntervalDocument {
    let f_z = |end: Option<FeedEnd>| end.map(|e| s::F_Z.amount(e.f_z.value));
    let name = |end: Option<FeedEnd>| end.map(|e| e.limit.name);
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
        rank: check.limit.harm.word(),
        used: check.used().filter(|used| *used < -ENDLESS_MARGIN),
        wanted: check.wanted,
        source: check.limit.source,
        extrapolated,
        text: check.text(System::Metric),
    }
}
