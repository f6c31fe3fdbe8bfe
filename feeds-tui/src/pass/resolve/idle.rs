//! Entries that were typed and that nothing in the pass asks for.

use super::Reader;
use crate::pass::field::{Field, Key};
use serde::Serialize;
use std::fmt;

/// An entry that was typed and has no part in the pass.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Idle {
    /// Which.
    pub entry: &'static str,
    /// Its text.
    pub text: String,
    /// Where it would count.
    pub why: &'static str,
}

impl fmt::Display for Idle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}: {}", self.entry, self.text, self.why)
    }
}

impl Reader<'_> {
    /// What was typed though nothing asked for it: nothing is left out silently.
    pub(super) fn idle(&self) -> Vec<Idle> {
        let typed = self.pass.iter();
        let idle = typed.filter(|(f, _)| !self.asked.contains(&f.id) && !f.is_of_programme());
        idle.map(|(field, text)| Idle {
            entry: field.key,
            text: text.to_owned(),
            why: counts(field),
        })
        .collect()
    }
}

/// Where an entry counts that not every pass asks for.
fn counts(field: &Field) -> &'static str {
    match field.id {
        Key::CornerRadius => "only the end «corner» has one",
        Key::Condition | Key::Hardness => "only with a stock",
        Key::BaseSpeed | Key::Efficiency => "only with the motor power",
        Key::ScrewTorque | Key::ScrewDiameter => "the clamping force is typed, and that counts",
        Key::Width | Key::EngagementAngle => "a slot has the whole diameter",
        Key::Wall | Key::WallRadius | Key::Corner | Key::Previous => {
            "only for a width of cut along a wall, in a pocket or in a bore"
        }
        Key::Tilt => "only for the ends «corner» and «ball»",
        Key::Slope => "only for a ball on the path «ball-finish»",
        Key::Tolerance => "a face has no wall",
        Key::RampAngle => "only where the way in is a ramp",
        Key::HelixHole | Key::HelixPitch => "only where the way in is a helix",
        _ => "nothing in this pass needs it",
    }
}
