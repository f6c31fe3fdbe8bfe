//! The page of what is not modelled, each line with a run in which the program says so.

use crate::shell::{folder, ran_line, text};
use std::fs;

const PAGE: &str = include_str!("../../../NOT_MODELLED.md");

/// A side cut of a thin cutter in a high-carbon steel.
const SIDE: &str = "feeds cut --diameter 3mm --edges 2 --path side --stock 1095 \
    --machine bench-5000";
const SLOT: &str = "feeds cut --diameter 3mm --edges 2 --path slot --depth 0.3mm \
    --machine bench-5000";
const STOCK: &str = "--stock X0mm..30mm,Y0mm..20mm,Z-8mm..0mm --simulate";

/// What a line of the page begins with, a run, and what it says.
fn runs() -> Vec<(&'static str, String, &'static str)> {
    let side = |more: &str| format!("{SIDE} {more}");
    let slot = |stock: &str| format!("{SLOT} {stock}");
    let audit = |file: &str, tool: &str| format!("feeds audit {file} --tool 1=D6mm,{tool}");
    vec![
        (
            "The part gives as well",
            side("--condition annealed --depth 1mm --width 0.1mm --checks"),
            "a thin wall of the part gives on top of it",
        ),
        (
            "Chatter without the modes of the tip",
            side("--condition annealed --depth 1mm --width 0.1mm --checks"),
            "needs the modes of the tip",
        ),
        (
            "Chips thinner or thicker than forces were measured at",
            side("--condition annealed --depth 3mm --width 0.3mm"),
            "take forces, power and bending as a guess",
        ),
        (
            "Who holds the part by tape",
            side("--condition annealed --depth 1mm --width 0.1mm --hold tape"),
            "pull a test part off sideways",
        ),
        (
            "Stock as hard as nobody measured",
            side("--hardness 66HRC --depth 1mm --width 0.1mm"),
            "66 HRC lies outside the scales",
        ),
        (
            "How the cutter gets in, where nobody says",
            slot("--stock 1018 --condition 'hot rolled'"),
            "not known how: start at an open end",
        ),
        (
            "Drills, taps, chamfering and engraving cutters",
            audit("plain.nc", "drill"),
            "for whose cut there is no model",
        ),
        (
            "Tapered cutters in the cut along a programme",
            format!("{} {STOCK}", audit("plain.nc", "z3,taper=3deg")),
            "tapered: taken as straight",
        ),
        (
            "Cutter compensation",
            format!("{} {STOCK}", audit("beside.nc", "z3")),
            "not in the cut along the programme: cutter compensation (G41, G42) is on",
        ),
        (
            "Rotary axes",
            format!("{} {STOCK}", audit("turned.nc", "z3")),
            "a rotary axis has turned before",
        ),
        (
            "Other work offsets",
            format!("{} {STOCK}", audit("elsewhere.nc", "z3")),
            "another work offset: the stock given lies in the first one",
        ),
        (
            "A subprogram that is not in the file",
            audit("called.nc", "z3"),
            "4711",
        ),
        (
            "Glue, dust and fire",
            slot("--stock G10"),
            "respirable glass fibre",
        ),
    ]
}

/// The same programme with a line of its own between its two cuts.
fn programme(between: &str) -> String {
    format!(
        "G21 G90 G17 G94 G54\nT1 M6\nS5000 M3\nG43 H1 G0 X-5 Y5 Z5\nG1 Z-1 F100\nX20 F200\n\
         {between}\nX30 Y6\nG40\nG0 Z5\nM30\n"
    )
}

#[test]
fn every_line_of_the_page_is_said_by_the_program() {
    let folder = folder("not-modelled");
    for (name, between) in [
        ("plain", ""),
        ("beside", "G41 D1 X21 Y5"),
        ("turned", "A90"),
        ("elsewhere", "G55"),
        ("called", "M98 P4711"),
    ] {
        fs::write(folder.join(format!("{name}.nc")), programme(between)).unwrap();
    }
    let runs = runs();
    for (title, line, says) in &runs {
        assert!(PAGE.contains(&format!("- **{title}.** ")), "{title}");
        let output = ran_line(line, &folder);
        let said = format!("{} {}", text(&output.stdout), text(&output.stderr));
        let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(said.contains(says), "{line}: {said}");
    }
    let lines = PAGE.lines().filter(|line| line.starts_with("- **")).count();
    assert_eq!(lines, runs.len(), "a line of the page has no run");
}
