//! Ways to hold a part. Tape and tabs are listed without a number: none holds for them all.

use crate::error::NotFound;
use crate::listing::{Listed, listed_figure};
use crate::names;
use crate::sourced::{Figure, Sourced};
use crate::tables::Tables;
use feeds_core::quantity::{Force, Ratio};
use serde::Deserialize;

/// A way to hold a part.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HoldRow {
    /// Short name.
    pub key: String,
    /// Name.
    pub name: String,
    /// Whether a hold can be worked out without a force from the user.
    pub accepted: bool,
    /// Number of faces that carry friction.
    pub faces: Option<u8>,
    /// Pair of surfaces in the friction table.
    pub pair: Option<String>,
    /// Coefficient of friction.
    pub friction: Option<Sourced<Figure<Ratio>>>,
    /// Usual clamp force.
    pub clamp_force: Option<Sourced<Figure<Force>>>,
    /// Why no number is printed.
    pub why: Option<String>,
}

impl Tables {
    /// The hold called `name`, by key or a part of its name that fits no other.
    ///
    /// # Errors
    /// [`NotFound`] with the nearest names.
    ///
    /// # Example
    /// ```
    /// let tables = reference_tables::tables().unwrap();
    /// assert_eq!(tables.hold("vise").unwrap().faces, Some(2));
    /// assert!(!tables.hold("tape").unwrap().accepted);
    /// ```
    pub fn hold(&self, name: &str) -> Result<&HoldRow, NotFound> {
        names::find("hold", &self.holds, &self.called.holds, name, |h| {
            vec![h.key.clone(), h.name.clone()]
        })
    }
}

pub(crate) fn list(holds: &[HoldRow], out: &mut Vec<Listed>) {
    for hold in holds {
        let what = |quantity| {
            (
                "holds",
                format!("{}: {}", hold.key, hold.name),
                String::new(),
                quantity,
            )
        };
        if let Some(f) = &hold.friction {
            out.push(listed_figure(what("friction"), &f.value, &f.origin));
        }
        if let Some(f) = &hold.clamp_force {
            out.push(listed_figure(what("clamp force"), &f.value, &f.origin));
        }
    }
}
