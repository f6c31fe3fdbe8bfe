//! The working of a pass: found anew when somebody asks, so that no key waits for it.

use feeds_core::notebook::weighed::Weighed;
use feeds_core::notebook::{Origin, Recorded, Step};
use feeds_core::plan::Planner;
use feeds_core::plan::setup::Setup;
use feeds_core::symbol::{self as s, System};
use std::fmt::Write as _;

/// Every step of a pass, and every check with where its numbers come from.
#[derive(Clone, Debug)]
pub struct Working {
    /// The steps.
    pub steps: Vec<Step>,
    /// The checks.
    pub weighed: Vec<Weighed>,
}

impl Working {
    /// Works a pass out with a notebook; `extrapolated` if its chip lies beyond those the force of
    /// its stock was measured at. A pass that no cut can be has the steps up to where that shows.
    pub(super) fn of(setup: &Setup, extrapolated: bool) -> Self {
        let mut notes = Recorded::default();
        // An error is said where the pass is answered; here are only its steps.
        let _ = Planner::new(setup).work_out(setup, &mut notes);
        let Recorded { steps, weighed, .. } = notes;
        let mut working = Self { steps, weighed };
        if extrapolated {
            working.mark_force();
        }
        working
    }

    /// Says of every row of the cutting force that it is used beyond what it was measured for.
    fn mark_force(&mut self) {
        for input in self.steps.iter_mut().flat_map(|step| &mut step.inputs) {
            let of_force = [&s::KC11, &s::M_C].contains(&input.symbol);
            if let (true, Some(Origin::Row { extrapolated, .. })) = (of_force, &mut input.origin) {
                *extrapolated = true;
            }
        }
    }

    /// Every step, then every check with where its numbers are from.
    pub fn text(&self, system: System) -> String {
        let mut out: String = self.steps.iter().map(|step| step.text(system)).collect();
        let _ = writeln!(out, "{}", crate::words::WEIGHED);
        out.extend(self.weighed.iter().map(|weighed| weighed.text(system)));
        out
    }
}
