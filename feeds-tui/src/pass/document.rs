//! The answer as scripts read it.

use super::answered::{Answered, Careful};
use super::decision::{clause, guessed, not_known};
use super::feed_dial::{END, FeedDial, Zone};
use super::field::FIELDS;
use super::resolve::Doubt;
use super::{opens, sure};
use crate::object::with;
use crate::own::beside::document as own;
use feeds_core::band::LikelyRange;
use feeds_core::limit::{Check, ENDLESS_MARGIN};
use feeds_core::plan::Plan;
use feeds_core::plan::interval::{FeedEnd, Interval};
use feeds_core::plan::opens::Opening;
use feeds_core::quantity::{Amount, Quantity, unit};
use feeds_core::symbol::{self as s, System};
use feeds_core::verdict::{Verdict, because};
use serde_json::{Value, json};

/// What goes beside the answer where somebody wants it.
#[derive(Clone, Copy, Debug, Default)]
pub struct Beside<'a> {
    /// Steps of the working.
    pub working: bool,
    /// What turning the feed does.
    pub dial: Option<&'a FeedDial>,
    /// How sure the answers are.
    pub bands: Option<&'a LikelyRange>,
}

impl Beside<'_> {
    /// The working, or nothing.
    pub fn working(working: bool) -> Self {
        Self {
            working,
            ..Self::default()
        }
    }
}

/// What happens from which share of the feed on.
fn feed_dial(dial: &FeedDial) -> Value {
    let zone = |(zone, from): &(Zone, u32)| {
        json!({
            "what": zone.word(),
            "from": Amount::of(f64::from(*from) / 100.0, &unit::PERCENT),
        })
    };
    json!({
        "zones": dial.zones.iter().map(zone).collect::<Vec<_>>(),
        "end": Amount::of(f64::from(END) / 100.0, &unit::PERCENT),
        "not_known": dial.unknown.iter().map(|zone| zone.word()).collect::<Vec<_>>(),
        "bends_guessed": dial.guessed,
    })
}

fn opening(opening: &Opening<Plan>) -> Value {
    let (what, to) = opens::entry(opening.change);
    json!({
        "what": what,
        "to": to,
        "text": opens::text(opening, System::Metric),
        "spindle_speed": s::N.amount(opening.then.n.turns().value),
        "feed_speed": s::V_F.amount(opening.then.v_f.value),
    })
}

/// An entry that is out of the ordinary, with its key.
fn doubt(doubt: &Doubt) -> Value {
    let field = FIELDS.iter().find(|f| f.symbol() == Some(doubt.symbol));
    json!({ "entry": field.map(|field| field.key), "text": doubt.text })
}

pub(crate) fn reason(check: &Check) -> Value {
    json!({
        "limit": check.limit.name,
        "rank": check.limit.harm.word(),
        "used": check.used().filter(|used| *used < -ENDLESS_MARGIN),
        "text": clause(check),
    })
}

impl Answered {
    /// The answer as scripts read it.
    pub fn document(&self, beside: Beside<'_>) -> Value {
        let p = &self.plan;
        let um = |si: f64| Amount::of(si, &unit::MICROMETRE);
        let load = p.loads.as_ref();
        let newton = |si: f64| Amount::of(si, &unit::NEWTON);
        let document = json!({
            "verdict": Verdict::of(&p.checks).word(),
            "because": because(&p.checks).map(reason).collect::<Vec<_>>(),
            "spindle_speed": s::N.amount(p.n.turns().value),
            "cutting_speed": s::V_C.amount(p.v_c.value),
            "feed_per_tooth": s::F_Z.amount(p.f_z.value),
            "feed_speed": s::V_F.amount(p.v_f.value),
            "removal_rate": s::Q.amount(p.q.value),
            "effective_diameter": s::D_EFF.amount(p.d_eff.value),
            "engagement_angle": s::PHI_S.amount(p.phi_s.value),
            "chip_max": um(p.h_max.value),
            "chip_mean": um(p.h_m.value),
            "chip_floor": p.h_min.map(|h| um(h.value)),
            "rubbing_share": p.rubbing.map(|share| s::RUBBING.amount(share)),
            "cusp": p.cusp.map(|h| um(h.value)),
            "specific_cutting_force": p.k_c.map(|k| s::K_C.amount(k.value)),
            "cutting_force_mean": p.force_mean.map(|f| newton(f.value)),
            "lateral_force_peak": load.map(|l| newton(l.lateral)),
            "torque_peak": load.map(|l| Amount::of(l.torque, &unit::NEWTON_METRE)),
            "power_mean": load.map(|l| Amount::of(l.power, &unit::WATT)),
            "tip_deflection": load.map(|l| um(l.tip)),
            "wall_error": load.map(|l| um(l.wall())),
            "bending_stress": load.map(|l| s::SIGMA.amount(l.stress)),
            "hold_margin": p
                .check("hold")
                .and_then(Check::margin)
                .filter(|m| *m > ENDLESS_MARGIN)
                .map(|m| Amount::of(m, &unit::ONE)),
            "edges": p
                .edges
                .feeds
                .iter()
                .map(|f| s::F_Z.amount(f.si()))
                .collect::<Vec<_>>(),
            "plunge": p.plunge.map(|plunge| json!({
                "feed_per_tooth": s::F_Z.amount(plunge.f_z.si()),
                "feed_speed": s::V_F.amount(plunge.feed_speed(&self.resolved.setup, p.n).si()),
                "thrust": newton(plunge.thrust),
                "torque": Amount::of(plunge.torque, &unit::NEWTON_METRE),
                "bending_stress": s::SIGMA.amount(plunge.stress),
            })),
            "worn_edge": self
                .sure
                .as_ref()
                .and_then(|b| b.worn.as_ref())
                .map(|worn| json!({
                    "land": s::LAND.amount(worn.land.si()),
                    "lateral_force_peak": newton(worn.loads.lateral),
                    "wall_error": um(worn.loads.wall()),
                    "bending_stress": s::SIGMA.amount(worn.loads.stress),
                    "checks": worn.checks.iter().map(|c| check(c, false)).collect::<Vec<_>>(),
                })),
            "opens": self.opens.iter().map(opening).collect::<Vec<_>>(),
            "loads_extrapolated": self.is_extrapolated(),
            "feed_interval": interval(&p.feeds),
            "governs": p.governs().map(|c| c.limit.name),
            "guessed": guessed(self),
            "not_known": not_known(self),
            "checks": p
                .checks
                .iter()
                .map(|c| check(c, !self.mark(c).is_empty()))
                .collect::<Vec<_>>(),
            "moments": p
                .moments
                .iter()
                .map(|(engaged, loads)| json!({
                    "moment": engaged.moment.words(),
                    "engagement_angle": s::PHI_S.amount(engaged.arc.value),
                    "depth": s::A_P.amount(engaged.a_p.value),
                    "chip_max": um(engaged.h_max(p.f_z).value),
                    "lateral_force_peak": loads.map(|l| newton(l.lateral)),
                    "bending_stress": loads.map(|l| s::SIGMA.amount(l.stress)),
                }))
                .collect::<Vec<_>>(),
            "sources": &self.resolved.sources,
            "cautions": self
                .careful()
                .map(Careful::text)
                .chain(crate::words::ALWAYS.iter().copied())
                .collect::<Vec<_>>(),
            "not_used": &self.resolved.idle,
            "doubts": self.resolved.doubts.iter().map(doubt).collect::<Vec<_>>(),
        });
        let working = beside.working.then(|| self.working());
        with(
            document,
            [
                ("feed_dial", beside.dial.map(feed_dial)),
                ("bands", beside.bands.map(sure::document)),
                ("own", own(self)),
                ("working", working.map(|w| json!(w.steps))),
                ("working_of_checks", working.map(|w| json!(w.weighed))),
            ],
        )
    }
}

fn interval(feeds: &Interval) -> Value {
    let f_z = |end: Option<FeedEnd>| end.map(|e| s::F_Z.amount(e.f_z.value));
    let name = |end: Option<FeedEnd>| end.map(|e| e.limit.name);
    json!({
        "least": f_z(feeds.least),
        "most": f_z(feeds.most),
        "closed_by": { "least": name(feeds.least), "most": name(feeds.most) },
        "empty": feeds.is_empty(),
    })
}

pub(super) fn check(check: &Check, extrapolated: bool) -> Value {
    json!({
        "limit": check.limit.name,
        "state": check.state().word(),
        "moment": check.moment.words(),
        "value": check.value(),
        "bound": check.bound(),
        // A bound of nothing has no margin that a number could tell.
        "margin": check.margin().filter(|m| *m > ENDLESS_MARGIN),
        "rank": check.limit.harm.word(),
        "used": check.used().filter(|used| *used < -ENDLESS_MARGIN),
        "wanted": check.wanted,
        "source": check.limit.source,
        "extrapolated": extrapolated,
        "text": check.text(System::Metric),
    })
}
