//! The cut along a programme on the sheet: what it comes to, the strip, the stock that is left, and
//! the lines that work hardest.

use crate::audit::picture::picture;
use crate::audit::shown::Shown;
use crate::audit::strip::printed;
use feeds_core::programme::{CutAlong, Finding, LineLoad, Report, Severity};

/// Lines and findings that are named.
const NAMED: usize = 5;

/// The cut of a programme, laid out by [`super::plain`] and [`super::html`].
#[derive(Clone, Debug)]
pub struct SheetCut {
    /// What the programme is called.
    pub name: String,
    /// What it comes to: what, and how much.
    pub rows: Vec<(&'static str, String)>,
    /// The strip and the stock as signs.
    pub drawn: Vec<String>,
    /// The same as SVG.
    pub svg: String,
}

impl SheetCut {
    /// The cut of a report, where the stock was cut along it.
    pub fn of(name: &str, report: &Report, shown: Shown) -> Option<Self> {
        let cut = report.simulation.as_ref()?;
        let findings = report.worst_first();
        let mut rows = vec![
            ("verdict", report.verdict().word().to_owned()),
            ("comes to", comes_to(cut, shown)),
        ];
        let told = findings.iter().filter(|f| f.severity != Severity::Note);
        rows.extend(told.take(NAMED).map(|f| ("mind", said(f))));
        let hardest = cut.hardest(NAMED);
        rows.extend(hardest.into_iter().map(|l| ("works hard", line(l, shown))));
        rows.extend(cut.not_simulated.iter().take(NAMED).map(|left| {
            let text = format!("{}: {}", left.which(), left.why);
            ("left out", text)
        }));
        Some(Self {
            name: name.to_owned(),
            rows,
            drawn: printed(cut, &findings, shown),
            svg: picture(name, cut, &findings, shown),
        })
    }
}

fn said(finding: &Finding) -> String {
    format!("line {}: {}", finding.line, finding.text)
}

fn comes_to(cut: &CutAlong, shown: Shown) -> String {
    let share = |way: f64| 100.0 * way / cut.way.max(1e-9);
    let force = cut.force.map_or_else(String::new, |[most, _]| {
        format!(", at most {}", shown.force(most))
    });
    format!(
        "{} cut away{force}; {:.0} % of the path at feed is full slot, {:.0} % air",
        shown.volume(cut.removed),
        share(cut.shares.slot),
        share(cut.shares.air)
    )
}

fn line(load: &LineLoad, shown: Shown) -> String {
    let force = load
        .force_most
        .map_or_else(String::new, |force| format!(", {}", shown.force(force)));
    let used = load.used.map_or_else(String::new, |(used, limit)| {
        format!(": {:.0} % of {}", 100.0 * used, limit.allowed)
    });
    if load.arc_most <= 0.0 {
        return format!("line {}: straight down{used}", load.line);
    }
    format!(
        "line {}: {:.0} deg, {} {} wide, {} {} deep{force}{used}",
        load.line,
        load.arc_most.to_degrees(),
        shown.brief(load.width_most),
        shown.length_unit(),
        shown.brief(load.depth_most),
        shown.length_unit()
    )
}
