//! Words that more than one screen, sheet or command shows.

/// Cautions that stand on every answer and every sheet.
pub const ALWAYS: &[&str] = &[
    "Figures are starting points: the makers of cutter and machine, local rules and a licensed \
     practitioner come first.",
    "Eye protection and guards on; chips are hot and sharp; never clear them with the spindle \
     turning.",
    "A long cutter whips: keep below its maker's speed for that stick-out.",
];

/// What stands over the answers of the demo.
pub const DEMO: &str = "\
The demo: a folding-knife bolster in layered steel, 1095 with 15N20, annealed, on a light mill.
The figures are an invented workshop's; type `feeds` in a terminal to change them, `feeds --help`
for everything else.
";
