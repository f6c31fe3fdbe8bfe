//! Entries that were typed and have no part in the pass.

use super::Reader;
use crate::pass::field::Field;

impl Reader<'_> {
    /// Tells which entries were typed though nothing asked for them: nothing is left out silently.
    pub(super) fn idle(&mut self) {
        let asked = self.asked.borrow();
        for (field, text) in self.pass.iter() {
            if !asked.contains(&field.key) && !field.is_of_programme() {
                let why = counts(field);
                self.cautions
                    .push(format!("{} {text} is not used: {why}", field.name));
            }
        }
    }
}

/// Where such an entry counts.
fn counts(field: &Field) -> &'static str {
    match field.key {
        "corner-radius" => "only the end «corner» has one",
        "tilt" => "it counts for the ends «corner» and «ball»",
        "slope" => "it counts for a ball whose paths lie side by side",
        "width" | "engagement-angle" => "a slot has the whole diameter",
        "ramp-angle" => "it counts where the way down is a ramp",
        "helix-hole" | "helix-pitch" => "it counts where the way down is a helix",
        "base-speed" => "it counts with the motor power",
        "screw-torque" | "screw-diameter" => "the clamping force is given, and stands",
        _ => "something else that is given stands instead",
    }
}
