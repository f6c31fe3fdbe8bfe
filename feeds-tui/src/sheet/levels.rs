//! The Z levels of a pass: from where it begins to its floor, in even steps of at most its depth.

use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, System};

/// More levels than these are told by their first, their last and the step.
const LISTED: usize = 6;

/// The levels in words, from where the pass begins, how deep it goes and its depth of cut, in
/// metres.
pub fn levels(begins: f64, in_all: f64, a_p: impl Quantity, system: System) -> String {
    let count = (in_all / a_p.si() - 1e-9).ceil().max(1.0);
    let step = in_all / count;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a small whole number"
    )]
    let whole = count as usize;
    let at = |level: f64| s::A_P.show(begins - level * step + 0.0, system);
    if whole > LISTED {
        let step = s::A_P.show(step, system);
        return format!("{whole} levels of {step}, Z {} to {}", at(1.0), at(count));
    }
    let mut z = 0.0;
    let each: Vec<String> = (0..whole)
        .map(|_| {
            z += 1.0;
            at(z)
        })
        .collect();
    format!("Z {}", each.join(", "))
}
