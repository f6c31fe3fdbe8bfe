//! The report as people read it: run it or not and the worst reasons, the totals, what is left.

use crate::audit::known::AuditKnown;
use crate::audit::planned::JobTool;
use crate::audit::shown::Shown;
use crate::pass::text::line;
use crate::words::count;
use feeds_core::programme::{Finding, Report, Severity, UseReport};
use feeds_core::quantity::Amount;
use feeds_core::quantity::amount::significant;
use std::fmt::Write as _;

/// Findings that stand before everything else.
const FIRST: usize = 3;
/// Uses that are listed; a programme whose feed is worked out block by block has thousands.
const USES: usize = 20;

/// A text of the report: verdict, totals, uses, findings with their lines.
pub(super) fn report(
    report: &Report,
    known: &AuditKnown,
    lines: &[(u64, String)],
    shown: Shown,
) -> String {
    let mut out = String::new();
    let findings = causes(report);
    let (first, rest) = findings.split_at(findings.len().min(FIRST));
    verdict(&mut out, report, first, lines);
    totals(&mut out, report, shown);
    envelope(&mut out, report, known, shown);
    against(&mut out, known);
    job_tools(&mut out, &known.job, shown);
    uses(&mut out, &report.uses, shown);
    if !rest.is_empty() || !report.findings_left_out.is_empty() {
        out.push_str("\nalso\n");
    }
    for cause in rest {
        one(&mut out, cause, lines);
    }
    for left in &report.findings_left_out {
        let _ = writeln!(out, "  and {} more of the kind {}", left.count, left.code);
    }
    out
}

/// Findings that are alike but for the tool: the worst, and the others.
struct Cause<'a> {
    worst: &'a Finding,
    others: Vec<&'a Finding>,
}

/// What was found, the worst first.
fn causes(report: &Report) -> Vec<Cause<'_>> {
    let mut causes: Vec<Cause> = Vec::new();
    for found in report.worst_first() {
        let alike = |c: &&mut Cause| c.worst.code == found.code && c.worst.tool.is_some();
        match causes
            .iter_mut()
            .find(alike)
            .filter(|_| found.tool.is_some())
        {
            Some(cause) => cause.others.push(found),
            None => causes.push(Cause {
                worst: found,
                others: Vec::new(),
            }),
        }
    }
    causes
}

/// Run it or not, and what says so first.
fn verdict(out: &mut String, report: &Report, first: &[Cause], lines: &[(u64, String)]) {
    let word = report.verdict().word();
    if first.is_empty() {
        let _ = writeln!(out, "{word:<6}nothing found\n");
        return;
    }
    let counted = |severity, one, many| {
        let of = report.findings.iter().filter(|f| f.severity == severity);
        let of = of.count();
        (of > 0).then(|| count(of, one, many))
    };
    let counts = [
        counted(Severity::Error, "error", "errors"),
        counted(Severity::Warning, "warning", "warnings"),
        counted(Severity::Note, "note", "notes"),
    ];
    let counts: Vec<String> = counts.into_iter().flatten().collect();
    let _ = writeln!(out, "{word:<6}{}", counts.join(", "));
    for cause in first {
        one(out, cause, lines);
    }
    out.push('\n');
}

fn totals(out: &mut String, report: &Report, shown: Shown) {
    let units = match report.units {
        feeds_core::programme::Units::Mm => "mm",
        feeds_core::programme::Units::Inch => "inch",
        feeds_core::programme::Units::Mixed => "mm and inch mixed",
        feeds_core::programme::Units::Unstated if report.unstated_inch => {
            "no unit stated, read as inch"
        }
        feeds_core::programme::Units::Unstated => "no unit stated, read as mm",
    };
    let m = &report.moves;
    let cuts = m.line + m.arc_cw + m.arc_ccw;
    line(
        out,
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
        format!("; {} with what the axes reach", shown.time(t.number()))
    });
    let without = report.uses.iter().filter(|u| is_untimed(u));
    let without: f64 = without.map(|u| u.length.number()).sum();
    let untimed = if without > 0.0 {
        format!(" ({} of it has no feed: not timed)", shown.length(without))
    } else {
        String::new()
    };
    line(
        out,
        "",
        &format!(
            "cut {}, taking {}{untimed}; rapid {}{reach}",
            shown.length(report.cut_length.number()),
            shown.time(report.cut_time.number()),
            shown.length(report.rapid_length.number())
        ),
    );
}

/// Whether it cuts without a feed, so that its time is not known.
fn is_untimed(found: &UseReport) -> bool {
    let feed = found.feed_speed.is_some_and(|f| f.number() > 0.0);
    !feed && found.time.number() <= 0.0
}

/// How far the cuts reach, and of which cutters the radius is in that.
fn envelope(out: &mut String, report: &Report, known: &AuditKnown, shown: Shown) {
    let (least, most) = (&report.envelope.least, &report.envelope.most);
    let axes: Vec<String> = ["X", "Y", "Z"]
        .into_iter()
        .zip(least.iter().zip(most))
        .filter_map(|(axis, (least, most))| {
            let (least, most) = ((*least)?.number(), (*most)?.number());
            Some(format!(
                "{axis} {} to {}",
                shown.place(least),
                shown.place(most)
            ))
        })
        .collect();
    if axes.is_empty() {
        return;
    }
    let text = format!(
        "cuts reach {} {}, {}",
        axes.join(", "),
        shown.length_unit(),
        radii(report, known)
    );
    line(out, "", &text);
}

/// Whose radius is in the box of the cuts.
fn radii(report: &Report, known: &AuditKnown) -> String {
    let mut tools: Vec<Option<u32>> = report.uses.iter().map(|u| u.tool).collect();
    tools.sort_unstable();
    tools.dedup();
    let (with, without): (Vec<_>, Vec<_>) = tools.into_iter().partition(|number| {
        let tool = known.setting.tool(*number);
        tool.is_some_and(|t| t.cutter.diameter.is_some())
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
fn against(out: &mut String, known: &AuditKnown) {
    let against = known.against();
    if against.is_empty() {
        return;
    }
    out.push_str("\nlooked at against\n");
    for told in against {
        line(out, &format!("  {:<8}", told.what), &told.line());
    }
}

/// What is compared with what.
fn job_tools(out: &mut String, tools: &[JobTool], shown: Shown) {
    if tools.is_empty() {
        return;
    }
    out.push_str("\ncutters of the job, in the order it uses them\n");
    for tool in tools {
        let known = &tool.known;
        let number = match known.number {
            0 => "tool".to_owned(),
            number => format!("T{number}"),
        };
        let head = format!("{number:>5} ");
        let passes: Vec<String> = known
            .planned
            .iter()
            .map(|p| {
                let depth = p
                    .depth_mm
                    .map_or_else(String::new, |d| format!(" a_p {}", shown.length(d)));
                let (n, v_f) = (p.spindle_speed, p.feed_speed);
                format!("{}: S{n:.0} with {}{depth}", p.name, shown.feed(v_f))
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

fn uses(out: &mut String, uses: &[UseReport], shown: Shown) {
    if uses.is_empty() {
        return;
    }
    out.push_str("\n tool      S       F   moves    length        time      f_z     v_c   line\n");
    let or_none = |a: Option<String>| a.unwrap_or("-".to_owned());
    let length = |a: Option<Amount>| or_none(a.map(|a| shown.number(a.number())));
    for u in uses.iter().take(USES) {
        let tool = u.tool.map_or("-".to_owned(), |t| t.to_string());
        let feed = if u.inverse_time {
            "G93".to_owned()
        } else {
            length(u.feed_speed)
        };
        let _ = writeln!(
            out,
            "{tool:>5} {:>6} {feed:>7} {:>7} {:>9} {:>11} {:>8} {:>7} {:>6}",
            significant(u.spindle_speed.number()),
            u.moves,
            shown.number(u.length.number()),
            or_none((!is_untimed(u)).then(|| shown.time(u.time.number()))),
            length(u.feed_per_tooth),
            or_none(u.cutting_speed.map(|v| shown.surface(v.number()))),
            u.first_line,
        );
        if let (Some(share), Some(lowest)) = (u.below_feed_share, u.lowest_feed) {
            let chip = u.lowest_feed_per_tooth.map_or_else(String::new, |f| {
                format!(", f_z {}", shown.length(f.number()))
            });
            let text = format!(
                "{:.0} % of the time below its feed; the slowest move gets up to {}{chip}",
                100.0 * share,
                shown.feed(lowest.number())
            );
            line(out, "      ", &text);
        }
    }
    if let Some(more) = uses.get(USES..).filter(|more| !more.is_empty()) {
        let time: f64 = more.iter().map(|u| u.time.number()).sum();
        let text = format!(
            "and {} shorter ones, {} in all; --json lists them",
            more.len(),
            shown.time(time)
        );
        line(out, "      ", &text);
    }
    let (unit, surface) = (shown.length_unit(), shown.surface_unit());
    let units = format!("lengths and f_z: {unit}; S: rpm; F: {unit}/min; v_c: {surface}");
    line(out, "      ", &units);
}

fn one(out: &mut String, cause: &Cause, lines: &[(u64, String)]) {
    let finding = cause.worst;
    let severity = match finding.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "note",
    };
    let head = format!("  {severity:<8}");
    let place = format!("line {}, column {}", finding.line, finding.column);
    let elsewhere = finding.elsewhere();
    let stop = if elsewhere.is_empty() { "" } else { "; " };
    let text = format!(
        "{place} [{}]: {}{stop}{elsewhere}",
        finding.code, finding.text
    );
    line(out, &head, &text);
    if let Some((_, text)) = lines.iter().find(|(number, _)| *number == finding.line) {
        let _ = writeln!(out, "          | {}", around(text, finding.column));
    }
    if !cause.others.is_empty() {
        let text = format!("the same: {} (in full: --json)", alike(&cause.others));
        line(out, "          ", &text);
    }
}

/// The tools of findings that are alike, each with its line; of many the first.
fn alike(others: &[&Finding]) -> String {
    const LISTED: usize = 6;
    let tools = others.iter().take(LISTED).map(|f| {
        let number = f.tool.unwrap_or_default();
        format!("T{number} in line {}", f.line)
    });
    let tools: Vec<String> = tools.collect();
    let more = match others.len().saturating_sub(LISTED) {
        0 => String::new(),
        more => format!(" and {more} more tools"),
    };
    tools.join(", ") + &more
}

/// Characters of a line of the programme that are shown.
const SHOWN: usize = 66;

/// A line of the programme; of a long one the part around a column, counted from 1.
fn around(text: &str, column: u32) -> String {
    const ENDS: usize = 4;
    let length = text.chars().count();
    if length <= SHOWN {
        return text.to_owned();
    }
    let at = usize::try_from(column)
        .unwrap_or(usize::MAX)
        .saturating_sub(1);
    let first = at.saturating_sub(SHOWN / 3).min(length - (SHOWN - ENDS));
    let first = if first < ENDS { 0 } else { first };
    let before = if first > 0 { "... " } else { "" };
    let room = SHOWN - before.len();
    let rest = length - first;
    let (room, behind) = if rest > room {
        (room - ENDS, " ...")
    } else {
        (room, "")
    };
    let part: String = text.chars().skip(first).take(room).collect();
    format!("{before}{part}{behind}")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A line of 5000 characters filled the page, once for each finding in it.
    #[test]
    fn of_a_long_line_the_part_around_the_place_is_shown() {
        let text: String = (100..200).map(|n: u32| n.to_string()).collect();
        assert_eq!(around("G1 X10", 4), "G1 X10");
        assert_eq!(around(&text[..SHOWN], 9), text[..SHOWN]);
        for column in [1, 5, 26, 27, 30, 150, 280, 300] {
            let shown = around(&text, column);
            assert_eq!(shown.chars().count(), SHOWN, "{column}: {shown}");
            let part = shown.trim_start_matches("... ").trim_end_matches(" ...");
            let place = text.find(part).unwrap();
            let at = column as usize - 1;
            assert!(
                (place..place + part.len()).contains(&at),
                "{column}: {shown}"
            );
            assert_eq!(shown.starts_with("... "), place > 0);
        }
    }
}
