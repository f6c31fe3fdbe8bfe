//! The report as people read it.

use crate::audit::known::Known;
use crate::audit::planned::JobTool;
use crate::pass::text::line;
use crate::words::count;
use feeds_core::programme::{Amount, Finding, Report, Severity, UseReport};
use feeds_core::quantity::amount::significant;
use std::fmt::Write as _;

/// A text of the report: totals, uses, findings with their lines.
pub(super) fn report(report: &Report, known: &Known, lines: &[(u64, String)]) -> String {
    let mut out = String::new();
    let units = match report.units {
        feeds_core::programme::Units::Mm => "mm",
        feeds_core::programme::Units::Inch => "inch",
        feeds_core::programme::Units::Mixed => "mm and inch mixed",
        feeds_core::programme::Units::Unstated => "no unit stated, read as mm",
    };
    let m = &report.moves;
    let cuts = m.line + m.arc_cw + m.arc_ccw;
    line(
        &mut out,
        "",
        &format!(
            "{}, {units}; {}, {}, {}",
            count(report.lines, "line", "lines"),
            count(m.rapid, "rapid move", "rapid moves"),
            count(cuts, "cutting move", "cutting moves"),
            count(report.holes, "hole", "holes")
        ),
    );
    let reach = report.reach_time.map_or_else(String::new, |t| {
        format!("; {} with what the axes reach", amount(t))
    });
    line(
        &mut out,
        "",
        &format!(
            "cut {} in {}, rapid {}{reach}",
            amount(report.cut_length),
            amount(report.cut_time),
            amount(report.rapid_length)
        ),
    );
    envelope(&mut out, report, known);
    against(&mut out, known);
    job_tools(&mut out, &known.job);
    uses(&mut out, &report.uses);
    findings(&mut out, report, lines);
    out
}

/// How far the cuts reach, and of which cutters the radius is in that.
fn envelope(out: &mut String, report: &Report, known: &Known) {
    let (least, most) = (&report.envelope.least, &report.envelope.most);
    let axes: Vec<String> = ["X", "Y", "Z"]
        .into_iter()
        .zip(least.iter().zip(most))
        .filter_map(|(axis, (least, most))| {
            let (least, most) = ((*least)?.value, (*most)?.value);
            Some(format!("{axis} {} to {}", place(least), place(most)))
        })
        .collect();
    if axes.is_empty() {
        return;
    }
    let text = format!(
        "cuts reach {} mm, {}",
        axes.join(", "),
        radii(report, known)
    );
    line(out, "", &text);
}

/// A coordinate; an absurd one is not followed to its last digit.
fn place(mm: f64) -> String {
    if mm.abs() < 1e9 {
        format!("{mm:.3}")
    } else {
        format!("{mm:.3e}")
    }
}

/// Whose radius is in the box of the cuts.
fn radii(report: &Report, known: &Known) -> String {
    let mut tools: Vec<Option<u32>> = report.uses.iter().map(|u| u.tool).collect();
    tools.sort_unstable();
    tools.dedup();
    let (with, without): (Vec<_>, Vec<_>) = tools.into_iter().partition(|number| {
        let tool = known.setting.tool(*number);
        tool.is_some_and(|t| t.diameter_mm.is_some())
    });
    if without.is_empty() {
        return "the radii of the cutters included".to_owned();
    }
    if with.is_empty() {
        return "at the centre of the cutter: no radius is known".to_owned();
    }
    let names = without
        .iter()
        .map(|n| n.map_or("no tool".to_owned(), |n| format!("T{n}")));
    let names: Vec<String> = names.collect();
    format!(
        "the radii of the cutters included, but of {} none is known",
        names.join(", ")
    )
}

/// What it was looked at against.
fn against(out: &mut String, known: &Known) {
    if known.against.is_empty() {
        return;
    }
    out.push_str("\nlooked at against\n");
    for told in &known.against {
        line(out, &format!("  {:<8}", told.what), &told.line());
    }
}

/// What is compared with what.
fn job_tools(out: &mut String, tools: &[JobTool]) {
    if tools.is_empty() {
        return;
    }
    out.push_str("\ncutters of the job, in the order it uses them\n");
    for tool in tools {
        let known = &tool.known;
        let head = format!("{:>5} ", format!("T{}", known.number));
        let passes: Vec<String> = known
            .planned
            .iter()
            .map(|p| {
                let depth = p
                    .depth_mm
                    .map_or_else(String::new, |d| format!(" a_p {d:.3} mm"));
                let (n, v_f) = (p.spindle_speed, p.feed_speed);
                format!("{}: S{n:.0} F{v_f:.0}{depth}", p.name)
            })
            .collect();
        line(
            out,
            &head,
            &format!("{}; {}", tool.cutter, passes.join("; ")),
        );
        if !tool.open.is_empty() {
            let numbers: Vec<String> = tool.open.iter().map(|at| (at + 1).to_string()).collect();
            let text = format!(
                "without an answer, so not compared: pass {}",
                numbers.join(", ")
            );
            line(out, "      ", &text);
        }
    }
}

fn amount(a: Amount) -> String {
    format!("{} {}", significant(a.value), a.unit)
}

fn uses(out: &mut String, uses: &[UseReport]) {
    if uses.is_empty() {
        return;
    }
    out.push_str("\n tool      S       F    moves    length      time      f_z       v_c   line\n");
    let number = |a: Option<Amount>| a.map_or("-".to_owned(), |a| significant(a.value));
    for u in uses {
        let tool = u.tool.map_or("-".to_owned(), |t| t.to_string());
        let feed = match (u.inverse_time, u.feed_speed) {
            (true, _) => "G93".to_owned(),
            (false, feed) => number(feed),
        };
        let _ = writeln!(
            out,
            "{tool:>5} {:>6} {feed:>7} {:>8} {:>9} {:>9} {:>8} {:>9} {:>6}",
            significant(u.spindle_speed.value),
            u.moves,
            significant(u.length.value),
            significant(u.time.value),
            number(u.feed_per_tooth),
            number(u.cutting_speed),
            u.first_line,
        );
        if let (Some(share), Some(lowest)) = (u.below_feed_share, u.lowest_feed) {
            let chip = u
                .lowest_feed_per_tooth
                .map_or_else(String::new, |f| format!(", f_z {}", amount(f)));
            let text = format!(
                "{:.0} % of the time below its feed; the slowest move gets up to {}{chip}",
                100.0 * share,
                amount(lowest)
            );
            line(out, "      ", &text);
        }
    }
    let units = "lengths in mm, times in min, S in rpm, F in mm/min, f_z in mm, v_c in m/min";
    line(out, "      ", units);
}

fn findings(out: &mut String, report: &Report, lines: &[(u64, String)]) {
    if report.findings.is_empty() {
        out.push_str("\nnothing found\n");
        return;
    }
    let counted = |severity, one, many| {
        let of = report.findings.iter().filter(|f| f.severity == severity);
        count(of.count(), one, many)
    };
    let _ = writeln!(
        out,
        "\n{}, {}, {}",
        counted(Severity::Error, "error", "errors"),
        counted(Severity::Warning, "warning", "warnings"),
        counted(Severity::Note, "note", "notes")
    );
    for finding in &report.findings {
        one(out, finding, lines);
    }
    for left in &report.findings_left_out {
        let _ = writeln!(out, "  and {} more of the kind {}", left.count, left.code);
    }
}

fn one(out: &mut String, finding: &Finding, lines: &[(u64, String)]) {
    let severity = match finding.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "note",
    };
    let head = format!("  {severity:<8}");
    let place = format!("line {}, column {}", finding.line, finding.column);
    line(
        out,
        &head,
        &format!("{place} [{}]: {}", finding.code, finding.text),
    );
    if let Some((_, text)) = lines.iter().find(|(number, _)| *number == finding.line) {
        let _ = writeln!(out, "          | {text}");
    }
}
