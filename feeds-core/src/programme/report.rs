//! The result of an audit, shaped as `feeds audit --json` prints it.

use serde::Serialize;

use super::audit::Audit;
use super::feeds::misfits;
use super::finding::{self as f, Finding, LeftOut, Severity};
use super::kind::Path;
use super::modal::Modal;
use super::motion::Watch;
use super::planned::{planned, unused};
use super::reach::Sample;
use super::setting::Setting;
use super::simulate::CutAlong;
use super::uses::Use;
use super::whole;
use crate::quantity::{Amount, unit, unit::Unit};
use crate::verdict::Verdict;

/// Larger than any sum that means something, and JSON knows no infinity.
const LARGEST: f64 = 1e300;

/// So many of a unit.
fn amount(number: f64, unit: &'static Unit) -> Amount {
    let number = if number.is_nan() { 0.0 } else { number };
    Amount::new(number.clamp(-LARGEST, LARGEST), unit)
}

/// The unit a programme is written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Units {
    /// G21
    Mm,
    /// G20
    Inch,
    /// Both.
    Mixed,
    /// Neither; read as mm.
    Unstated,
}

/// Moves carried out, loops unrolled.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Moves {
    /// G0
    pub rapid: u64,
    /// G1
    pub line: u64,
    /// G2
    pub arc_cw: u64,
    /// G3
    pub arc_ccw: u64,
}

/// Arcs carried out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Arcs {
    /// All of them that could be drawn or were meant.
    pub total: u64,
    /// Back at their start.
    pub full_circles: u64,
    /// Moving along the third axis too.
    pub helical: u64,
}

/// What one tool did at one speed and feed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct UseReport {
    /// Its number.
    pub tool: Option<u32>,
    /// 0 when off.
    pub spindle_speed: Amount,
    /// None under inverse time or when none was stated.
    pub feed_speed: Option<Amount>,
    /// G93
    pub inverse_time: bool,
    /// Moves outside cycles.
    pub moves: u64,
    /// Length cut.
    pub length: Amount,
    /// Length over feed.
    pub time: Amount,
    /// Where it starts.
    pub first_line: u64,
    /// f_z, when the edges are known.
    pub feed_per_tooth: Option<Amount>,
    /// v_c, when the diameter is known.
    pub cutting_speed: Option<Amount>,
    /// Time with acceleration, when the machine is known.
    pub reach_time: Option<Amount>,
    /// Share of that time below the programmed feed.
    pub below_feed_share: Option<f64>,
    /// The lowest feed that a move of this use gets up to.
    pub lowest_feed: Option<Amount>,
    /// f_z at that feed.
    pub lowest_feed_per_tooth: Option<Amount>,
}

/// How far the path goes, in work coordinates.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Reaches {
    /// Least X, Y, Z of cutting, with the radius of the cutter where it is known.
    pub least: [Option<Amount>; 3],
    /// Most X, Y, Z of cutting.
    pub most: [Option<Amount>; 3],
}

/// The audit of a programme.
// Each is a fact of its own, not part of one state.
#[expect(clippy::struct_excessive_bools)]
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Report {
    /// Version of this shape.
    pub schema: u32,
    /// Whether it is a milling programme that could be read.
    pub readable: bool,
    /// Why it could not.
    pub reason: Option<String>,
    /// Physical lines.
    pub lines: u64,
    /// The unit.
    pub units: Units,
    /// Moves.
    pub moves: Moves,
    /// Arcs.
    pub arcs: Arcs,
    /// Holes made by cycles.
    pub holes: u64,
    /// Tools loaded by M6, or by T where no M6 occurs.
    pub tools_loaded: Vec<u32>,
    /// All cutting moves and the feed part of cycles.
    pub cut_length: Amount,
    /// Rapid moves and the rapid part of cycles.
    pub rapid_length: Amount,
    /// The part of cutting moves that starts at an unknown position, taken from 0.
    pub unknown_start_length: Amount,
    /// Length over feed, without acceleration.
    pub cut_time: Amount,
    /// Cutting and rapid time with acceleration, when the machine is known.
    pub reach_time: Option<Amount>,
    /// Longest first.
    pub uses: Vec<UseReport>,
    /// The box of the cuts.
    pub envelope: Reaches,
    /// By line.
    pub findings: Vec<Finding>,
    /// Findings of a kind beyond those kept.
    pub findings_left_out: Vec<LeftOut>,
    /// The cut along the programme, if it was asked for and the stock is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub simulation: Option<CutAlong>,
    /// Programmed and reached feed over time, when the machine is known.
    #[serde(skip)]
    pub trace: Vec<Sample>,
    /// Whether a programme that states no unit was read as inch.
    #[serde(skip)]
    pub unstated_inch: bool,
    /// Whether every line was carried out, which a rescaled copy needs.
    #[serde(skip)]
    pub complete: bool,
    /// Whether tools are changed by M6; by T alone otherwise.
    #[serde(skip)]
    pub changes_by_m6: bool,
}

impl Report {
    /// What the programme comes to: the worst of its findings, or nothing to be read at all.
    pub fn verdict(&self) -> Verdict {
        let each = self.findings.iter().map(Finding::verdict);
        let worst = each.max().unwrap_or(Verdict::Run);
        if self.readable { worst } else { Verdict::Stop }
    }

    /// The findings, the one to read first: what stops, then what asks for care, each by what is
    /// harmed and by how much of what is allowed is used.
    pub fn worst_first(&self) -> Vec<&Finding> {
        let mut all: Vec<&Finding> = self.findings.iter().collect();
        all.sort_by(|a, b| a.before(b));
        all
    }

    /// Whether a finding is an error, which makes the exit code 1.
    pub fn has_errors(&self) -> bool {
        self.findings
            .iter()
            .any(|finding| finding.severity == Severity::Error)
    }
}

/// Kinds of findings after which parts of the programme were not carried out.
const INCOMPLETE: [f::FindingKind; 11] = [
    f::STRAY,
    f::NO_NUMBER,
    f::UNCLOSED,
    f::CORNER,
    f::EXPRESSION,
    f::SUB_ELSEWHERE,
    f::JUMP_LOST,
    f::LOOP_LIMIT,
    f::LOOP_OPEN,
    f::MACRO,
    f::LINE_TOO_LONG,
];

/// Makes the report.
pub(super) fn report<W: Watch>(mut audit: Audit<W>, modal: &Modal, lines: u64) -> (Report, W) {
    let simulation = audit.finish_path(modal);
    whole::findings(&mut audit, modal);
    let complete = !INCOMPLETE.iter().any(|kind| audit.findings.has(*kind));
    let all = audit.envelope.all;
    let span = all.size(0).unwrap_or(0.0).max(all.size(1).unwrap_or(0.0));
    let reason = audit.kind.verdict(Path {
        cuts: audit.totals.line + audit.totals.arc_cw + audit.totals.arc_ccw,
        holes: audit.totals.holes,
        lowest_cut: audit.envelope.cut.least[2],
        highest: all.most[2],
        span,
        inch: modal.in_inch(),
    });
    let full = audit.uses.full();
    let uses = audit.uses.finish(modal.changes_by_m6);
    planned(&uses, &audit.setting, modal, &mut audit.findings);
    unused(&uses, &audit.setting, &mut audit.findings);
    misfits(&uses, &audit.setting, modal, &mut audit.findings);
    for found in &uses {
        whole::reached(found, &audit.setting, modal, &mut audit.findings);
    }
    if full {
        audit.findings.add(1, 0, f::USES_FULL, || {
            "more combinations of tool, speed and feed than are listed apart: the rest is in one \
             entry without tool and feed"
                .into()
        });
    }
    let (findings, findings_left_out) = audit.findings.finish();
    let totals = audit.totals;
    let reaching = audit.reach.is_some();
    let (reach_time, trace) = match audit.reach {
        Some(reach) => (
            Some(amount(reach.time(), &unit::MINUTE)),
            reach.into_trace(),
        ),
        None => (None, Vec::new()),
    };
    let mm = |value: f64| amount(value, &unit::MILLIMETRE);
    let side = |side: [f64; 3]| side.map(|v| v.is_finite().then(|| mm(v)));
    let report = Report {
        schema: 1,
        readable: reason.is_none(),
        reason,
        lines,
        units: match (audit.inch, audit.metric) {
            (true, true) => Units::Mixed,
            (true, false) => Units::Inch,
            (false, true) => Units::Mm,
            (false, false) => Units::Unstated,
        },
        moves: Moves {
            rapid: totals.rapid,
            line: totals.line,
            arc_cw: totals.arc_cw,
            arc_ccw: totals.arc_ccw,
        },
        arcs: Arcs {
            total: totals.arc_cw + totals.arc_ccw,
            full_circles: totals.full_circles,
            helical: totals.helical,
        },
        holes: totals.holes,
        tools_loaded: if modal.changes_by_m6 {
            audit.loaded
        } else {
            audit.chosen
        },
        cut_length: mm(totals.cut_length),
        rapid_length: mm(totals.rapid_length),
        unknown_start_length: mm(totals.unknown_start_length),
        cut_time: amount(totals.cut_time, &unit::MINUTE),
        reach_time,
        uses: uses
            .iter()
            .map(|found| use_report(found, &audit.setting, reaching))
            .collect(),
        envelope: Reaches {
            least: side(audit.envelope.cut.least),
            most: side(audit.envelope.cut.most),
        },
        findings,
        findings_left_out,
        simulation,
        trace,
        unstated_inch: modal.taken_as_inch,
        complete,
        changes_by_m6: modal.changes_by_m6,
    };
    (report, audit.watch)
}

fn use_report(found: &Use, setting: &Setting, reaching: bool) -> UseReport {
    let tool = setting.tool(found.tool.number());
    let n = found.spindle_speed;
    let chip = |v_f: f64| Some(amount(tool?.feed_per_tooth(v_f, n)?, &unit::MILLIMETRE));
    let feed = |value: f64| amount(value, &unit::MILLIMETRE_PER_MINUTE);
    let lowest = Some(found.lowest_feed).filter(|f| reaching && f.is_finite());
    let reached = reaching.then_some(found.reached_time);
    UseReport {
        tool: found.tool.number(),
        spindle_speed: amount(n, &unit::PER_MINUTE),
        feed_speed: found.feed_speed.map(feed),
        inverse_time: found.inverse_time,
        moves: found.moves,
        length: amount(found.length, &unit::MILLIMETRE),
        time: amount(found.time, &unit::MINUTE),
        first_line: found.first_line,
        feed_per_tooth: found.feed_speed.and_then(chip),
        cutting_speed: tool
            .and_then(|t| t.cutting_speed(n))
            .map(|v| amount(v, &unit::METRE_PER_MINUTE)),
        reach_time: reached.map(|time| amount(time, &unit::MINUTE)),
        below_feed_share: reached
            .filter(|t| *t > 0.0)
            .map(|time| found.slow_time / time),
        lowest_feed: lowest.map(feed),
        lowest_feed_per_tooth: lowest.and_then(chip),
    }
}
