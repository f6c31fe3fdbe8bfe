//! The Z levels of a pass: from where it begins to its floor, in even steps of at most its depth.

use feeds_core::symbol::{self as s, System};

/// More levels than these are told by their first, their last and the step.
const LISTED: usize = 6;

/// How many levels go so deep, each no deeper than the depth of cut.
pub fn level_count(in_all: f64, a_p: f64) -> usize {
    let count = (in_all / a_p - 1e-9).ceil().max(1.0);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a small whole number"
    )]
    let whole = count as usize;
    whole
}

/// The levels in words, from where the pass begins, how deep it goes and its depth of cut, in
/// metres.
pub fn levels(begins: f64, in_all: f64, a_p: f64, system: System) -> String {
    let whole = level_count(in_all, a_p);
    let count = u32::try_from(whole).map_or(1.0, f64::from);
    let step = in_all / count;
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

#[cfg(test)]
mod tests {
    use super::levels;
    use feeds_core::symbol::System;

    /// By hand: 3.6 mm in steps of 0.3 mm are twelve; 1 mm in steps of 0.4 mm are three of a third;
    /// what is no deeper than one step is one level.
    #[test]
    fn levels_are_even_and_no_deeper_than_the_depth_of_cut() {
        let at = |begins, in_all, a_p| levels(begins, in_all, a_p, System::Metric);
        let twelve = "12 levels of 0.300 mm, Z -0.300 mm to -3.600 mm";
        assert_eq!(at(0.0, 3.6e-3, 0.3e-3), twelve);
        let three = "Z 0.667 mm, 0.333 mm, 0.000 mm";
        assert_eq!(at(1e-3, 1e-3, 0.4e-3), three);
        assert_eq!(at(0.0, 0.3e-3, 0.3e-3), "Z -0.300 mm");
        let six = at(0.0, 1.8e-3, 0.3e-3);
        assert_eq!(six.matches(',').count(), 5, "{six}");
        let seven = "7 levels of 0.300 mm, Z -0.300 mm to -2.100 mm";
        assert_eq!(at(0.0, 2.1e-3, 0.3e-3), seven);
    }
}
