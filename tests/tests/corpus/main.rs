//! Programmes with known mistakes, written by a generator that knows nothing of the reader: which
//! kinds the audit tells, and what it tells beside them.
//!
//! Each kind is planted alone, in pairs, and nowhere, in four styles of posting. A mistake is told
//! when a finding of a code that speaks of it stands at a line it was planted in; an error that no
//! planted mistake explains is a false alarm. `cargo test -p tests --test corpus -- --nocapture`
//! prints the table.

#![allow(clippy::unwrap_used, clippy::expect_used)] // a test fails by panicking

mod cut;
mod job;
mod mistakes;
mod post;

use feeds_core::cutter::CutterFacts;
use feeds_core::programme::{
    Bounds, Finding, ProgrammeTool, Reader, Report, Setting, Severity, ToolKind, Units,
};
use feeds_core::quantity::mm;
use job::Shape;
use mistakes::{Kind, Planted, Slip, Work, kinds};
use post::{Style, post};
use std::fmt::Write as _;
use std::sync::LazyLock;
use tests::foreign_units::foreign_unit;

/// All kinds, by their place.
static KINDS: LazyLock<Vec<&Kind>> = LazyLock::new(|| kinds().collect());

/// A programme with what was planted in it: kinds by their place, with the lines.
struct Programme {
    name: String,
    text: String,
    setting: Setting,
    planted: Vec<(usize, Vec<(u64, u64)>)>,
}

fn tool(number: u32, kind: ToolKind, diameter: f64, edges: u32) -> ProgrammeTool {
    ProgrammeTool {
        number,
        kind,
        cutter: CutterFacts {
            diameter: Some(mm(diameter)),
            edges: Some(edges),
            centre_cutting: Some(true),
            ..CutterFacts::default()
        },
        ramp_limit_deg: (kind == ToolKind::Milling).then_some(8.0),
        ..ProgrammeTool::default()
    }
}

/// What is known of the work, as the maker would say it.
fn setting(shape: Shape, style: Style) -> Setting {
    let mill = ToolKind::Milling;
    let holes = [
        tool(3, ToolKind::Drill, 2.5, 2),
        tool(4, ToolKind::Tap, 3.0, 3),
    ];
    let mut tools = match shape {
        Shape::Outline => vec![tool(1, mill, 6.0, 4), tool(2, mill, 3.0, 2)],
        Shape::Loops | Shape::Slope => vec![tool(1, mill, 6.0, 4)],
        Shape::Holes => holes.to_vec(),
    };
    if !style.changes_tools() {
        tools.truncate(1);
        tools[0].number = 0;
    }
    Setting {
        tools,
        stock: Some(Bounds {
            least: [-2.0, -2.0, -9.0],
            most: [36.0, 18.0, 0.0],
        }),
        ..Setting::default()
    }
}

/// Posts a shape with the mistakes planted one after the other; none where one does not fit.
fn programme(shape: Shape, style: Style, kinds: &[usize]) -> Option<Programme> {
    let mut work = Work {
        ops: shape.ops(!style.changes_tools()),
        setting: setting(shape, style),
        style,
        shape,
    };
    // A mistake that takes a line in or out moves those planted before it: it goes first.
    let mut planted: Vec<(usize, Planted)> = Vec::new();
    for kind in kinds {
        let before = work.ops.clone();
        let new = KINDS[*kind].plant(&mut work)?;
        if before.len() != work.ops.len() && !planted.is_empty() {
            return None;
        }
        planted.push((*kind, new));
    }
    let slip = |op: usize, line: usize, text: &str| {
        let mut of = planted.iter().filter(|(_, p)| p.ops.contains(&op));
        match of.find_map(|(_, p)| p.slip) {
            None => text.to_owned(),
            Some(Slip::LetterO) => mistyped(text),
            Some(Slip::CodeForNumber) => {
                let number = format!("N{}", 10 * (line + 1));
                text.replacen(&number, &number.replacen('N', "M", 1), 1)
            }
        }
    };
    let posted = post(&work.ops, style, slip);
    let names: Vec<&str> = kinds.iter().map(|k| KINDS[*k].name).collect();
    let lines = |p: &Planted| p.ops.iter().map(|op| posted.lines[*op]).collect();
    Some(Programme {
        name: format!("{shape:?} {style:?} {names:?}"),
        planted: planted.iter().map(|(kind, p)| (*kind, lines(p))).collect(),
        text: posted.text,
        setting: work.setting,
    })
}

/// The last zero of X as the letter O; of another digit where X has none.
fn mistyped(text: &str) -> String {
    let x = text.find(['X', 'x']).unwrap_or(0);
    let end = text[x..].find(['Y', 'y']).map_or(text.len(), |y| x + y);
    match text[x..end].rfind('0') {
        Some(zero) => format!("{}O{}", &text[..x + zero], &text[x + zero + 1..]),
        None => format!("{}O{}", &text[..end], &text[end..]),
    }
}

fn audit(programme: &Programme) -> Report {
    let mut reader = Reader::new(programme.setting.clone());
    reader.feed(programme.text.as_bytes());
    reader.finish()
}

fn is_told(kind: &Kind, lines: &[(u64, u64)], findings: &[Finding]) -> bool {
    let of = |f: &&Finding| kind.told_by.contains(&f.code);
    findings.iter().filter(of).any(|f| {
        let meets = |(first, last): &(u64, u64)| (*first..=*last).contains(&f.line);
        lines.iter().any(meets)
    })
}

/// Errors that nothing planted explains.
fn false_alarms<'a>(programme: &Programme, report: &'a Report) -> Vec<&'a Finding> {
    let explained = |code: &str| {
        programme.planted.iter().any(|(kind, _)| {
            let kind = &KINDS[*kind];
            kind.told_by.contains(&code) || kind.follows.contains(&code)
        })
    };
    let findings = report.findings.iter();
    findings
        .filter(|f| f.severity != Severity::Note && !explained(f.code))
        .collect()
}

/// Every kind alone in every shape and style it fits.
fn singles() -> Vec<Programme> {
    all(|shape, style| {
        let kinds = 0..KINDS.len();
        kinds
            .filter_map(|kind| programme(shape, style, &[kind]))
            .collect()
    })
}

/// Kinds in pairs that change different things.
fn pairs() -> Vec<Programme> {
    all(|shape, style| {
        let mut programmes = Vec::new();
        for first in 0..KINDS.len() {
            let other = |second: &usize| KINDS[first].area.leaves(KINDS[*second].area);
            let fits = |second| programme(shape, style, &[first, second]);
            // Each with the few that follow it, so that there are not too many to read.
            let seconds = (first + 1..KINDS.len()).chain(0..first).filter(other);
            programmes.extend(seconds.filter_map(fits).take(4));
        }
        programmes
    })
}

fn clean() -> Vec<Programme> {
    all(|shape, style| {
        let known = programme(shape, style, &[]).unwrap();
        let unknown = Programme {
            name: format!("{}, nothing known", known.name),
            text: known.text.clone(),
            setting: Setting::default(),
            planted: Vec::new(),
        };
        vec![known, unknown]
    })
}

fn all(make: impl Fn(Shape, Style) -> Vec<Programme>) -> Vec<Programme> {
    let styles = |shape| Style::ALL.map(|style| make(shape, style));
    Shape::ALL.into_iter().flat_map(styles).flatten().collect()
}

#[derive(Default)]
struct Row {
    planted: [u32; 2],
    told: [u32; 2],
    alarms: u32,
}

#[test]
fn what_is_planted_is_told_and_nothing_else() {
    let mut rows: Vec<Row> = KINDS.iter().map(|_| Row::default()).collect();
    let mut missed = String::new();
    let mut programmes = 0;
    for (column, list) in [singles(), pairs()].into_iter().enumerate() {
        for programme in list {
            programmes += 1;
            let report = audit(&programme);
            let alarms = false_alarms(&programme, &report);
            for (kind, lines) in &programme.planted {
                let row = &mut rows[*kind];
                row.planted[column] += 1;
                row.alarms += u32::try_from(alarms.len()).unwrap();
                if is_told(KINDS[*kind], lines, &report.findings) {
                    row.told[column] += 1;
                } else {
                    let told: Vec<(u64, &str)> =
                        report.findings.iter().map(|f| (f.line, f.code)).collect();
                    let name = (&programme.name, KINDS[*kind].name);
                    let _ = writeln!(missed, "{name:?} {lines:?}: {told:?}");
                }
            }
            for alarm in alarms {
                let _ = writeln!(
                    missed,
                    "alarm in {}: {} {}",
                    programme.name, alarm.line, alarm.text
                );
            }
        }
    }
    let mut table = format!(
        "{:<46}{:>12}{:>12}{:>8}\n",
        "kind", "alone", "in pairs", "alarms"
    );
    let (mut planted, mut told, mut alarms) = (0, 0, 0);
    for (kind, row) in KINDS.iter().zip(&rows) {
        let of = |c: usize| format!("{} of {}", row.told[c], row.planted[c]);
        let _ = writeln!(
            table,
            "{:<46}{:>12}{:>12}{:>8}",
            kind.name,
            of(0),
            of(1),
            row.alarms
        );
        planted += row.planted[0] + row.planted[1];
        told += row.told[0] + row.told[1];
        alarms += row.alarms;
    }
    let _ = writeln!(
        table,
        "{programmes} programmes: {told} of {planted} told, {alarms} alarms"
    );
    println!("{table}");
    assert!(KINDS.len() >= 25 && programmes >= 40);
    for (kind, row) in KINDS.iter().zip(&rows) {
        assert!(row.planted[0] > 0, "«{}» is never planted", kind.name);
        // 95 of 100, of each kind and of all.
        let (told, planted) = (row.told[0] + row.told[1], row.planted[0] + row.planted[1]);
        assert!(
            20 * told >= 19 * planted,
            "{}: {told} of {planted}\n{missed}",
            kind.name
        );
    }
    assert!(20 * told >= 19 * planted, "{missed}");
    assert!(50 * alarms <= planted, "{alarms} false alarms\n{missed}");
}

#[test]
fn no_finding_speaks_in_the_other_unit() {
    let (mut codes, mut programmes) = (Vec::new(), singles());
    for programme in &mut programmes {
        for shown_in_inch in [Some(false), Some(true), None] {
            programme.setting.shown_in_inch = shown_in_inch;
            let report = audit(programme);
            // Where both are written, nobody's words are foreign.
            if shown_in_inch.is_none() && report.units == Units::Mixed {
                continue;
            }
            let inch = shown_in_inch.unwrap_or(report.units == Units::Inch);
            for finding in &report.findings {
                let foreign = foreign_unit(finding, inch);
                assert_eq!(foreign, None, "{} {shown_in_inch:?}", programme.name);
                codes.push(finding.code);
            }
        }
    }
    codes.sort_unstable();
    codes.dedup();
    assert!(codes.len() >= 25, "{codes:?}");
}

/// Audits a programme that nothing is wrong with: no error is told.
fn audit_sound(programme: &Programme) -> Report {
    let report = audit(programme);
    assert!(report.readable, "{}: {:?}", programme.name, report.reason);
    let errors = report.findings.iter();
    let errors: Vec<&Finding> = errors.filter(|f| f.severity == Severity::Error).collect();
    assert!(
        errors.is_empty(),
        "{}: {errors:#?}\n{}",
        programme.name,
        programme.text
    );
    report
}

#[test]
fn a_programme_without_mistakes_has_no_error_and_few_remarks() {
    for programme in clean() {
        let report = audit_sound(&programme);
        let remarks = report.findings.len();
        assert!(remarks <= 3, "{}: {:#?}", programme.name, report.findings);
    }
}
