//! In how many levels or steps something is cut.

use crate::quantity::Length;

/// A level is not cut in two for the last digit of a number.
const SLACK: f64 = 1e-9;

/// How many equal steps of at most `step` make up `whole`; one where it is nothing.
///
/// # Example
/// ```
/// use feeds_core::feature::level::steps;
/// use feeds_core::quantity::mm;
/// assert_eq!(steps(mm(9.5), mm(0.5)), 19);
/// assert_eq!(steps(mm(9.5), mm(0.4)), 24);
/// ```
pub fn steps(whole: Length, step: Length) -> u32 {
    let steps = ((whole / step).value - SLACK).ceil();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "between 1 and a million"
    )]
    let steps = steps.clamp(1.0, 1e6) as u32;
    steps
}
