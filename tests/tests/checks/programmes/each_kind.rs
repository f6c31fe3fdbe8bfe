//! Kinds of findings that no faulty programme of this folder has: each with a block that is wrong
//! and the same block mended.

use super::audit;
use feeds_core::cutter::CutterFacts;
use feeds_core::programme::{Planned, ProgrammeTool, Report, Setting, ToolKind};
use feeds_core::quantity::mm;

fn tool() -> ProgrammeTool {
    ProgrammeTool {
        number: 1,
        kind: ToolKind::Milling,
        cutter: CutterFacts {
            diameter: Some(mm(6.0)),
            edges: Some(4),
            centre_cutting: Some(true),
            ..CutterFacts::default()
        },
        most_cutting_speed: Some(100.0),
        ..ProgrammeTool::default()
    }
}

fn read(text: &str, tools: Vec<ProgrammeTool>) -> Report {
    let text = format!("G21 G90 G54\nT1 M6\n{text}\nM30\n");
    let setting = Setting {
        tools,
        ..Setting::default()
    };
    audit(text.as_bytes(), setting)
}

#[track_caller]
fn check(code: &str, wrong: &str, right: &str) {
    for (text, told) in [(wrong, true), (right, false)] {
        let report = read(text, vec![tool()]);
        let is = report.findings.iter().any(|f| f.code == code);
        let text = &text[..text.len().min(200)];
        assert_eq!(is, told, "{code} in {text}");
    }
}

/// A cut that is in order; more words may follow.
const CUT: &str = "S5000 M3\nG43 H1 G0 X0 Y0 Z1\nG1 Z-1 F90\nX9 F200\n";

#[test]
fn what_is_wrong_is_told_and_what_is_mended_is_not() {
    for (code, wrong, right) in [
        ("corner-word", "G1 X1,R1 F9", "G1 X1 F9"),
        (
            "loop-unmatched",
            "#1=1\nEND1",
            "#1=0\nWHILE [#1 LT 2] DO1\n#1=[#1+1]\nEND1",
        ),
        ("offset-changed", "G55\nG0 X1", "G54\nG0 X1"),
        ("offset-changed", "G52 X1\nG0 X1", "G0 X1"),
        ("offset-changed", "G10 L2 P1 X0\nG0 X1", "G0 X1"),
        ("motion-unstated", "X1\nG0 X2", "G0 X1\nX2"),
        ("dwell-without-time", "G4", "G4 P1"),
        ("probe-move", "G38.2 Z-5 F9", "G1 Z-5 F9"),
        (
            "cycle-not-allowed",
            "G93\nG81 X1 Z-1 R1 F9",
            "G94\nG81 X1 Z-1 R1 F9",
        ),
        (
            "cycle-not-allowed",
            "G41\nG81 X1 Z-1 R1 F9",
            "G40\nG81 X1 Z-1 R1 F9",
        ),
        ("comment-nested", "(a (b) c)", "(a b c)"),
        ("line-numbers", "N20 G0 X1\nN10 X2", "N10 G0 X1\nN20 X2"),
        ("block-delete", "/G0 X1", "G0 X1"),
        ("beyond-standard", "N100000 G0 X1", "N99999 G0 X1"),
        ("start-state", "G0 X1\nG18", "G17 G0 X1\nG18"),
        ("start-state", "G0 X1\nG18", "G0 X1\nG18\nG17"),
        ("start-state", "G0 X1\nG95", "G94 G0 X1\nG95"),
        ("start-state", "G0 X1\nG41", "G0 X1\nG41\nG40"),
        (
            "start-state",
            "G0 X1 Z5\nG81 X1 Z-1 R1 F9",
            "G0 X1 Z5\nG81 X1 Z-1 R1 F9\nG80",
        ),
        ("codes-conflict", "G0 G1 X1 F9", "G1 X1 F9"),
        (
            "arc-word-unused",
            "G0 X0 Y0\nG2 X2 I1 J0 K1 F9",
            "G0 X0 Y0\nG2 X2 I1 J0 F9",
        ),
    ] {
        check(code, wrong, right);
    }
    let report = audit(b"G21 G90\nM6\nG0 X1\nM30\n", Setting::default());
    let is = |f: &feeds_core::programme::Finding| f.code == "tool-change-without-tool";
    assert!(report.findings.iter().any(is));
}

/// 5305 1/min of 6 mm are 99.997 m/min, 5306 are 100.016.
#[test]
fn the_end_of_the_band_of_speeds_is_where_it_is() {
    check(
        "cutting-speed-over-band",
        &CUT.replace("S5000", "S5306"),
        &CUT.replace("S5000", "S5305"),
    );
}

#[test]
fn a_line_is_too_long_from_its_first_byte_too_many() {
    let most = feeds_core::programme::LONGEST_LINE;
    let line = |bytes: usize| format!("({})", "x".repeat(bytes - 2));
    check("line-too-long", &line(most + 1), &line(most));
}

#[test]
fn settings_beyond_those_listed_are_told() {
    let feeds = |count: u32| {
        let cuts: Vec<String> = (0..count)
            .map(|n| format!("X{} F{}", n % 2, 100 + n))
            .collect();
        format!("{CUT}{}", cuts.join("\n"))
    };
    check("uses-merged", &feeds(10_100), &feeds(9000));
}

#[test]
fn a_planned_tool_that_never_cuts_is_told() {
    let planned = |number: u32| {
        let mut tool = tool();
        tool.number = number;
        tool.planned = vec![Planned {
            name: "slot".into(),
            spindle_speed: 5000.0,
            feed_speed: 200.0,
            depth_mm: None,
            ..Planned::default()
        }];
        let report = read(CUT, vec![tool]);
        report
            .findings
            .iter()
            .any(|f| f.code == "planned-tool-absent")
    };
    assert!(planned(7) && !planned(1));
}
