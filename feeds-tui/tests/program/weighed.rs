//! Both numbers of every check lead back to a step, a row, an entry or a rule.

use feeds_core::limit::State;
use feeds_core::notebook::Origin;
use feeds_core::notebook::weighed::{Weighed, WeighedSide};
use feeds_core::plan::Planner;
use feeds_core::plan::limits::LIMITS;
use feeds_core::symbol::System;
use feeds_tui::demo;
use feeds_tui::pass::answered::{Answered, answered};
use feeds_tui::pass::description::Description;
use feeds_tui::pass::resolve::TablesOnly;
use std::collections::BTreeSet;

/// A machine, a cutter and a hold of which everything is known; invented for this test.
const SHOP: &[(&str, &str)] = &[
    ("stock", "1095"),
    ("condition", "annealed"),
    ("diameter", "3mm"),
    ("edges", "3"),
    ("stick-out", "12mm"),
    ("flute-length", "8mm"),
    ("centre-cutting", "yes"),
    ("spindle-most", "10000rpm"),
    ("spindle-least", "200rpm"),
    ("feed-most", "1200mm/min"),
    ("power", "400W"),
    ("base-speed", "4000rpm"),
    ("runout", "0.01mm"),
    ("backlash", "0.03mm"),
    ("drag", "60N"),
    ("collet-grip", "900N"),
    ("stiffness", "3000N/mm"),
    ("clamp-force", "3000N"),
    ("grip", "6mm"),
    ("height", "8mm"),
    ("depth", "0.4mm"),
];

/// The ways to cut that make every check between them.
const CUTS: &[&[(&str, &str)]] = &[
    &[("path", "slot"), ("entry", "ramp"), ("ramp-angle", "2deg")],
    &[("path", "slot"), ("entry", "plunge")],
    &[("path", "side"), ("width", "0.5mm"), ("corner", "yes")],
    &[
        ("path", "side"),
        ("width", "0.4mm"),
        ("corner", "yes"),
        ("previous", "4mm"),
        ("tolerance", "0.05mm"),
    ],
    &[
        ("path", "pocket"),
        ("width", "0.6mm"),
        ("entry", "helix"),
        ("helix-hole", "4.5mm"),
        ("helix-pitch", "0.2mm"),
    ],
    &[("path", "face"), ("width", "2mm")],
    &[
        ("path", "side"),
        ("width", "0.2mm"),
        ("spindle", "3000rpm"),
        ("feed", "90mm/min"),
        ("modes", "8N/um 0.02 1200Hz"),
    ],
    &[
        ("path", "side"),
        ("width", "0.2mm"),
        ("wear", "worn"),
        ("intent", "production"),
    ],
];

fn with(cut: &[(&str, &str)]) -> Answered {
    let pass = Description::default().with(SHOP).with(cut);
    answered(&pass, &TablesOnly, &mut Planner::default())
        .unwrap_or_else(|errors| panic!("{cut:?}: {errors:?}"))
}

/// The passes of the example, and every check made at least once.
fn passes() -> Vec<Answered> {
    let example = demo::job();
    let example = example
        .passes
        .iter()
        .map(|pass| answered(&pass.texts, &TablesOnly, &mut Planner::default()).unwrap());
    example.chain(CUTS.iter().map(|cut| with(cut))).collect()
}

/// What is wrong with where a number is from.
fn astray(answer: &Answered, weighed: &Weighed, side: &WeighedSide<'_>) -> Option<String> {
    let of = format!("{}: {}", weighed.title(), side.symbol.text);
    let Some(origin) = side.origin else {
        return Some(format!("{of} comes from nowhere"));
    };
    if let Origin::Step { number } = origin {
        let step = &answer.working().steps[number - 1];
        let also = step.also.iter().map(|(symbol, si)| (*symbol, *si));
        let mut results = also.chain([(step.card.symbol, step.si)]);
        let (_, si) = results.find(|(symbol, _)| *symbol == side.symbol)?;
        let off = (si - side.si).abs() / side.si.abs().max(1e-12);
        return (off > 1e-9).then(|| format!("{of}: {si} of step {number}, not {}", side.si));
    }
    None
}

#[test]
fn both_numbers_of_every_check_lead_back() {
    let (mut met, mut wrong) = (BTreeSet::new(), Vec::new());
    for (at, answer) in passes().iter().enumerate() {
        for weighed in &answer.working().weighed {
            met.insert(weighed.check.limit.name);
            for side in &weighed.sides().unwrap() {
                wrong.extend(astray(answer, weighed, side).map(|what| format!("{at}: {what}")));
            }
        }
        let known = answer.plan.checks.iter();
        let known: BTreeSet<_> = known
            .filter(|c| c.state() != State::Unknown)
            .map(|c| c.limit.name)
            .collect();
        let written: BTreeSet<_> = answer
            .working()
            .weighed
            .iter()
            .map(|w| w.check.limit.name)
            .collect();
        assert_eq!(known, written, "what is known is written down, once");
        assert_eq!(answer.working().weighed.len(), written.len());
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let all: BTreeSet<_> = LIMITS.iter().map(|limit| limit.name).collect();
    assert_eq!(met, all, "every limit is met");
}

/// By hand: two jaws at 0.1 of 3000 N hold 600 N and may take half of that; a hundredth of 3 mm;
/// runout of 0.01 mm on three edges adds 0.01 sin 60°.
#[test]
fn the_working_says_where_the_bounds_are_from() {
    let text = with(CUTS[0]).working().text(System::Metric);
    for says in [
        "F_h = 2 · 0.10 · 3000 N",
        "F_s,max = 600 N / 2",
        "at most F_s,max = 300.0 N: step",
        "at most δ_max = 30.0 um: step",
        "Δf_z = 8.7 um: step",
        "at most n_max = 10000 1/min: spindle-most, typed 10000rpm",
        "at most t_w = 20 um: default: nobody asked for one: roughing (common practice)",
    ] {
        assert!(text.contains(says), "«{says}» is not in\n{text}");
    }
}
