//! The value an entry has when nothing is typed: of a named part, of a row, a default, or
//! worked out.

use super::answered::Answered;
use super::field::{Field, Key};
use super::law::{KIENZLE, LINEAR};
use super::part::Part;
use feeds_core::cut::{Descent, Width};
use feeds_core::notebook::Origin;
use feeds_core::plan::bending::CORE;
use feeds_core::quantity::Quantity;
use feeds_core::symbol::System;
use feeds_core::workpiece::ForceLaw;

/// Where a value in effect is from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ValueFrom {
    /// A named part, a row, or a default with its reason.
    Origin(Origin),
    /// What is meant when nothing is said.
    Default,
    /// It comes out of the plan.
    WorkedOut,
}

/// A value in effect.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InEffect {
    /// The value with its unit.
    pub text: String,
    /// Where it is from.
    pub from: ValueFrom,
}

/// The value in effect of an entry nobody typed; `None` when there is none.
///
/// # Example
/// ```
/// use feeds_tui::pass::{answered::answered, effect::in_effect, field::field};
/// use feeds_tui::pass::resolve::TablesOnly;
/// use feeds_core::{plan::Planner, symbol::System};
/// let pass = &feeds_tui::demo::passes()[0].typed;
/// let answer = answered(pass, &TablesOnly, &mut Planner::default()).unwrap();
/// let wear = in_effect(field("wear").unwrap(), &[], Some(&answer), System::Metric).unwrap();
/// assert_eq!(wear.text, "0.000 mm");
/// ```
pub fn in_effect(
    field: &Field,
    parts: &[Part],
    answer: Option<&Answered>,
    system: System,
) -> Option<InEffect> {
    if answer.is_some_and(|a| of_other_law(a, field.key)) {
        return None;
    }
    if let Some((text, origin)) = parts.iter().find_map(|p| p.get(field.key)) {
        let from = ValueFrom::Origin(origin.clone());
        return Some(InEffect {
            text: text.to_owned(),
            from,
        });
    }
    let answer = answer?;
    let (text, worked_out) = match value(answer, field.id)? {
        Value::Si(si) => (field.symbol()?.show(si, system), false),
        Value::WorkedOut(si) => (field.symbol()?.show(si, system), true),
        Value::Word(word) => (word.to_owned(), false),
    };
    let told = |symbol| {
        let mut origins = answer.resolved.setup.origins.iter().rev();
        origins.find(|(s, _)| *s == symbol).map(|(_, o)| o.clone())
    };
    let from = if worked_out {
        ValueFrom::WorkedOut
    } else {
        field
            .symbol()
            .and_then(told)
            .map_or(ValueFrom::Default, ValueFrom::Origin)
    };
    Some(InEffect { text, from })
}

/// Whether an entry is of the force law that is not in use: a typed law stands instead of that of
/// the shop's stock.
fn of_other_law(answer: &Answered, key: &str) -> bool {
    let resistance = answer.resolved.setup.stock.resistance;
    resistance.is_some_and(|r| match r.law {
        ForceLaw::Class(_) => LINEAR.contains(&key),
        ForceLaw::Linear(_) => KIENZLE.contains(&key),
    })
}

enum Value {
    Si(f64),
    Word(&'static str),
    WorkedOut(f64),
}

fn value(answer: &Answered, key: Key) -> Option<Value> {
    let (setup, plan) = (&answer.resolved.setup, &answer.plan);
    let (c, cut) = (&setup.cutter, &setup.cut);
    let force = setup.stock.resistance.as_ref();
    let yes = |is: bool| Value::Word(if is { "yes" } else { "no" });
    Some(match key {
        Key::Diameter => Value::Si(c.diameter.si()),
        Key::Edges => Value::Si(f64::from(c.edges)),
        Key::Helix => Value::Si(c.helix.si()),
        Key::End => Value::Word(c.end.word()),
        Key::CutterMaterial => Value::Word(c.material.word()),
        Key::Coating => Value::Word(c.coating.word()),
        Key::FluteLength => Value::Si(c.flute_length.si()),
        Key::StickOut => Value::Si(c.stick_out.si()),
        Key::Shank => Value::Si(c.shank.si()),
        Key::Core => Value::Si(CORE * c.diameter.si()),
        Key::EdgeRadius => Value::Si(c.edge_radius?.si()),
        Key::Modulus => Value::Si(c.modulus.si()),
        Key::Rupture => Value::Si(c.rupture.si()),
        Key::CentreCutting => yes(c.centre_cutting?),
        Key::Kc11 => Value::Si(force?.class_law()?.hardest.kc11.si()),
        Key::Mc => Value::Si(force?.class_law()?.hardest.m_c),
        Key::Wear => Value::Si(force?.land.si()),
        Key::Efficiency => Value::Si(setup.machine.as_ref()?.efficiency),
        Key::Friction => Value::Si(setup.hold?.friction),
        Key::Path => Value::Word(cut.path.word()),
        Key::Direction => Value::Word(cut.direction.word()),
        Key::Corner => yes(cut.corner),
        Key::Tilt => Value::Si(cut.tilt.si()),
        Key::Slope => Value::Si(cut.slope.si()),
        Key::Width => Value::WorkedOut(setup.a_e().si()),
        Key::EngagementAngle if !matches!(cut.width, Some(Width::Angle(_))) => {
            Value::WorkedOut(plan.phi_s.si())
        }
        Key::RampAngle => match cut.entry? {
            Descent::Ramp(angle) => Value::Si(angle.si()),
            _ => return None,
        },
        Key::HelixHole => match cut.entry? {
            Descent::Helix { hole, .. } => Value::Si(hole.si()),
            _ => return None,
        },
        Key::HelixPitch => match cut.entry? {
            Descent::Helix { pitch, .. } => Value::Si(pitch.si()),
            _ => return None,
        },
        Key::Intent => Value::Word(setup.intent.word()),
        Key::Spindle => Value::WorkedOut(plan.n.si()),
        Key::CuttingSpeed => Value::WorkedOut(plan.v_c.si()),
        Key::FeedPerTooth => Value::WorkedOut(plan.f_z.si()),
        Key::Feed => Value::WorkedOut(plan.v_f.si()),
        _ => return None,
    })
}
