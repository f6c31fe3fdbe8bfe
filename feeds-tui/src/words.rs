//! Words that more than one screen, sheet or command shows.

use feeds_core::limit::ENDLESS_MARGIN;
use feeds_core::plan::setup::Intent;
use feeds_core::quantity::inch;
use feeds_core::symbol::System;
use std::fmt::Display;

/// Cautions that stand on every answer and every sheet.
pub const ALWAYS: &[&str] = &[
    "Figures are starting points: the data of the cutter's and machine's makers, local rules \
     and a licensed practitioner come first.",
    "Eye protection and guards on; chips are hot and sharp; never clear them with the spindle \
     turning.",
];

/// What the sign `*` says.
pub const STARRED: &str = "extrapolated: the mean chip is outside the range the force was \
    measured on";

/// The caution for a ball whose paths do not meet.
pub const APART: &str = "The paths of the ball do not meet: ribs as high as the depth stay \
    between them; take less width.";

/// The name of the job that the screens open with.
pub const EXAMPLE_JOB: &str = "EXAMPLE: folding-knife bolster in layered steel";

/// What stands over the answers of the example.
pub const DEMO: &str = "\
An EXAMPLE: a folding-knife bolster in layered steel, 1095 with 15N20, annealed, on a light mill.
The figures are an invented workshop's; type `feeds` in a terminal to change them, `feeds --help`
for everything else.
";

/// A margin below which it is told how many times the bound is used instead.
const FAR_BEYOND: f64 = -9.995;

/// What a pass is run for.
pub fn run(intent: Intent) -> &'static str {
    match intent {
        Intent::Cautious => "first cut",
        Intent::Production => "proven run",
    }
}

/// A text of help in the units of the shop.
pub fn in_units(text: &str, system: System) -> String {
    match system {
        System::Metric => text.to_owned(),
        System::Inch => inch::text(text),
    }
}

/// An error or a question in the units of the shop; what was typed stays.
pub fn said_in(text: &str, system: System) -> String {
    match system {
        System::Metric => text.to_owned(),
        System::Inch => inch::said(text),
    }
}

/// How many there are: `1 hole`, `2 holes`.
pub fn count<N: Copy + Display + PartialEq + From<u8>>(n: N, one: &str, many: &str) -> String {
    format!("{n} {}", if n == N::from(1) { one } else { many })
}

/// Heads the checks at the end of the working.
pub const WEIGHED: &str = "checks: what is held against what";

/// A share in per cent; never a zero with a sign. Far beyond its bound a margin says how many times
/// over.
pub fn percent(share: f64) -> String {
    let percent = 100.0 * share;
    if share <= ENDLESS_MARGIN {
        "endless".to_owned()
    } else if share < FAR_BEYOND {
        format!("×{:.0}", 1.0 - share)
    } else if percent < 0.0 && percent > -0.5 {
        format!("{:.1} %", percent.min(-0.1))
    } else {
        format!("{:.0} %", percent + 0.0)
    }
}

/// A text with a capital letter.
///
/// # Example
/// ```
/// assert_eq!(feeds_tui::words::capital("hold and machine"), "Hold and machine");
/// ```
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().collect::<String>() + letters.as_str())
        .unwrap_or_default()
}
