//! Findings about the programme as a whole, made at its end.

use super::Where;
use super::audit::{Audit, START_MODES};
use super::checks::name;
use super::finding::{self as f, Findings};
use super::modal::{FeedMode, Modal};
use super::motion::{Tool, Watch};
use super::setting::{ProgrammeTool, Setting};
use super::settings_check::{missing, thread_of_inch};
use super::uses::Use;

/// How far beside the stock a path may go that comes in from the side, in mm, and in diameters: an
/// approach of a diameter, a turn of another one, and what clears the edge (common practice).
const BESIDE_MM: f64 = 5.0;
const BESIDE_DIAMETERS: f64 = 2.0;
/// How far beside the stock a cut may begin or end whatever its cutter, in mm: small cutters too
/// are put down and lifted an inch clear of the work (common practice).
const LEAD_MM: f64 = 25.4;
/// The size of a path over that of its stock, from a feature in it to a run around it (common
/// practice).
const OF_STOCK: std::ops::RangeInclusive<f64> = 0.3..=1.5;
/// Diameters nearer than this in mm are one: half of the third decimal of an inch, to which
/// comments are often rounded (arithmetic).
const ONE_DIAMETER: f64 = 0.0127;
/// Share of the time below its feed from which on a use is said not to reach it: most of it (the
/// sense of the word).
const MOST_OF_IT: f64 = 0.5;

/// All of them but those about feeds and plans.
pub(super) fn findings<W: Watch>(audit: &mut Audit<W>, modal: &Modal) {
    all_rapid(audit);
    units(audit, modal);
    other_unit(audit, modal);
    start_state(audit, modal);
    offset(audit, modal);
    lengths(audit, modal);
    cutters(audit, modal);
    depth(audit, modal);
    stock(audit, modal);
    travel(audit, modal);
    audit
        .followed
        .finish(&audit.setting, modal, &mut audit.findings);
}

/// Nothing cuts, and yet there is what a cut has: a feed, or a way below zero.
fn all_rapid<W: Watch>(audit: &mut Audit<W>) {
    let totals = audit.totals;
    let cuts = totals.line + totals.arc_cw + totals.arc_ccw + totals.holes;
    let goes_down = audit.envelope.all.least[2] < 0.0;
    let Some(at) = audit.began.moving else { return };
    let cycles = audit.findings.has(f::CYCLE_R);
    if cuts > 0 || cycles || totals.rapid < 3 || !(goes_down || audit.began.any_feed) {
        return;
    }
    // They all come from this one cause.
    audit.findings.forget(&[
        f::RAPID_FEED,
        f::RAPID_BELOW_ZERO,
        f::RAPID_STOCK,
        f::RAPID_LOW,
        f::RAPID_CLEARANCE,
    ]);
    audit.findings.add(at.line, at.at, f::ALL_RAPID, || {
        format!(
            "all {} moves of this programme run at rapid: no G1, G2 or G3 is on where it should \
             cut; write G1 where the cutter goes into the work",
            totals.rapid
        )
    });
}

/// No unit, and what speaks for one.
fn units<W: Watch>(audit: &mut Audit<W>, modal: &Modal) {
    let Some(at) = audit.began.moving.filter(|_| !audit.began.unit_stated) else {
        return;
    };
    if audit.setting.unstated_inch.is_some() {
        return;
    }
    let clues = clues(audit);
    let clues = if clues.is_empty() {
        String::new()
    } else {
        format!(" ({})", clues.join("; "))
    };
    let unit = if modal.taken_as_inch { "inch" } else { "mm" };
    audit.findings.add(at.line, at.at, f::UNITS_UNSTATED, || {
        format!(
            "the unit is not stated before the first move and is read as {unit}{clues}: write G21 \
             for mm or G20 for inch at the start"
        )
    });
}

/// At a chip that no cut has, a path smaller than its cutter: figures in inch under G21.
fn other_unit<W: Watch>(audit: &mut Audit<W>, modal: &Modal) {
    if modal.in_inch() {
        super::inch_doubt::ask(audit, modal);
        return;
    }
    let all = audit.envelope.all;
    let known = audit.cutters.iter();
    let known = known.filter_map(|(number, _)| audit.setting.tool(*number)?.diameter_mm());
    let said = audit.checks.said.diameters.iter();
    let said = said.filter_map(|(_, d)| d.diameter_mm(modal.unit()));
    let smallest = known.chain(said).reduce(f64::min);
    if let (Some(x), Some(y), Some(d)) = (all.size(0), all.size(1), smallest)
        && x.max(y) < d
    {
        audit.findings.amend_all(f::CHIP_ABSURD, || {
            format!(
                "; the whole path spans {}, less than its cutter of {}: are the figures in inch?",
                modal.length(x.max(y)),
                modal.length(d)
            )
        });
    }
}

fn clues<W: Watch>(audit: &Audit<W>) -> Vec<String> {
    let mut clues = Vec::new();
    let mut pitches = audit.pitches.iter();
    if let Some((pitch, turns)) = pitches.find_map(|p| Some((p, thread_of_inch(*p)?))) {
        clues.push(format!(
            "a tap has a pitch of {pitch:.4}, in inch that of {turns} threads an inch"
        ));
    }
    let mut said = audit.checks.said.diameters.iter();
    if let Some((at, unit)) = said.find_map(|(at, d)| Some((at, d.unit?))) {
        let unit = if unit > 1.0 { "inch" } else { "mm" };
        clues.push(format!("the comment in line {} speaks of {unit}", at.line));
    }
    let cut = audit.envelope.cut;
    if let Some(stock) = audit.setting.stock
        && let (Some(x), Some(y)) = (cut.size(0), cut.size(1))
    {
        let [wide, deep] = [0, 1].map(|a| stock.most[a] - stock.least[a]);
        let fits = |by: f64| OF_STOCK.contains(&(by * x.max(y) / wide.max(deep)));
        if fits(25.4) && !fits(1.0) {
            clues.push("in inch the path is as large as the stock, in mm it is not".into());
        }
    }
    clues
}

/// Modes that the programme leaves behind and does not set at its start: run twice, it starts in
/// them.
fn start_state<W: Watch>(audit: &mut Audit<W>, modal: &Modal) {
    let Some(at) = audit.began.moving else { return };
    let left = [
        modal.plane != super::arc::Plane::Xy,
        modal.compensation.is_some(),
        modal.cycle.is_some(),
        modal.feed_mode != FeedMode::PerMinute,
    ];
    let stated = audit.modes_stated;
    let missing: Vec<&str> = START_MODES
        .iter()
        .enumerate()
        .filter(|(at, _)| left[*at] && stated & (1 << at) == 0)
        .map(|(_, (name, _))| *name)
        .collect();
    if missing.is_empty() {
        return;
    }
    audit.findings.add(at.line, at.at, f::UNSAFE_START, || {
        format!(
            "the programme ends in another mode than it starts in, and never sets it: a second run \
             would start there; write {} in the first block",
            missing.join(", ")
        )
    });
}

/// A cut before the offset that the programme chooses later.
fn offset<W: Watch>(audit: &mut Audit<W>, modal: &Modal) {
    let Some(at) = audit.began.cutting else {
        return;
    };
    if audit.began.offset_chosen || modal.offset.is_none() {
        return;
    }
    audit.findings.add(at.line, at.at, f::OFFSET_MISSING, || {
        "no work offset is chosen before this first cut, but one is later: write G54 (or the one \
         the part is set up with) at the start"
            .into()
    });
}

fn lengths<W: Watch>(audit: &mut Audit<W>, modal: &Modal) {
    let without = std::mem::take(&mut audit.checks.without_length);
    let Some((_, at)) = without.first() else {
        return;
    };
    let tools: Vec<u32> = without.iter().map(|(tool, _)| *tool).collect();
    let first = tools[0];
    let (verb, its) = if tools.len() == 1 {
        ("cuts", "its length offset")
    } else {
        ("cut", "their length offsets")
    };
    let any = if modal.length_ever {
        String::new()
    } else if tools.len() > 1 {
        ", and the lengths of several cutters differ".into()
    } else {
        String::new()
    };
    audit.findings.add(at.line, at.at, f::LENGTH_MISSING, || {
        format!(
            "{} {verb} without {its}{any}: write G43 H{first} when approaching, or check that the \
             control takes the length at M6",
            list(&tools)
        )
    });
}

/// `T1, T2, T5`; of many the first ones.
pub(super) fn list(tools: &[u32]) -> String {
    listed(tools.iter().map(|n| name(Tool::Chosen(*n))).collect())
}

fn listed(mut names: Vec<String>) -> String {
    const SHOWN: usize = 8;
    let more = names.len().saturating_sub(SHOWN);
    names.truncate(SHOWN);
    match more {
        0 => names.join(", "),
        more => format!("{} and {more} more", names.join(", ")),
    }
}

/// The cutters that are not known well enough to be checked, with what comments say of them.
fn cutters<W: Watch>(audit: &mut Audit<W>, modal: &Modal) {
    let said = said_of_cutters(audit, modal);
    let mut nothing: Vec<String> = Vec::new();
    let mut others: Vec<String> = Vec::new();
    let (mut first, mut other) = (None, None);
    for (number, at) in &audit.cutters {
        let tool = audit.setting.tool(*number);
        match (tool, number) {
            (None, Some(number)) => {
                let of = |(n, ..): &&(u32, f64, Where)| n == number;
                nothing.push(match said.iter().find(of) {
                    Some((_, d, _)) => format!("T{number} ({}, a comment says)", modal.length(*d)),
                    None => format!("T{number}"),
                });
                first.get_or_insert(*at);
            }
            (None, None) => no_tool_word(*at, audit.checks.said.tool, &mut audit.findings),
            (Some(tool), _) => {
                for asked in &tool.asked {
                    let text = || format!("{}: {asked}", name(Tool::Chosen(tool.number)));
                    audit.findings.add(at.line, at.at, f::TOOL_QUESTION, text);
                }
                if let Some(text) = missing(tool) {
                    others.push(text);
                    other.get_or_insert(*at);
                }
            }
        }
    }
    if let Some(at) = other {
        audit.findings.add(at.line, at.at, f::NO_MODEL, || {
            format!("{}; what depends on it is not checked", others.join("; "))
        });
    }
    if let Some(at) = first {
        audit.findings.add(at.line, at.at, f::NO_MODEL, || {
            format!(
                "nothing is known about {}: chip load, cutting speed and plunging are not \
                 checked; state diameter and flutes",
                listed(nothing)
            )
        });
    }
    for (number, said, at) in said {
        let known = audit
            .setting
            .tool(Some(number))
            .and_then(ProgrammeTool::diameter_mm);
        if let Some(known) = known.filter(|known| (known - said).abs() > ONE_DIAMETER) {
            let (said, known) = (modal.length(said), modal.length(known));
            audit.findings.add(at.line, at.at, f::TOOL_QUESTION, || {
                format!(
                    "the comment gives T{number} a diameter of {said}, you gave {known}: which is \
                     right?"
                )
            });
        }
    }
}

/// The diameters that comments give to cutters, in mm: to the one they name, or to the one that
/// comes in on their line or beside it.
fn said_of_cutters<W: Watch>(audit: &Audit<W>, modal: &Modal) -> Vec<(u32, f64, Where)> {
    let beside = |line: u64| {
        let near = |(_, at): &&(Option<u32>, Where)| at.line.abs_diff(line) <= 1;
        audit.cutters.iter().find(near).and_then(|(n, _)| *n)
    };
    let cuts = |n: &u32| audit.cutters.iter().any(|(c, _)| *c == Some(*n));
    let said = audit.checks.said.diameters.iter();
    said.filter_map(|(at, described)| {
        // A list of all cutters of the shop stands at the head of many programmes.
        let number = described.tool.or_else(|| beside(at.line)).filter(cuts)?;
        Some((number, described.diameter_mm(modal.unit())?, *at))
    })
    .collect()
}

fn no_tool_word(at: Where, said: Option<(u32, Where)>, findings: &mut Findings) {
    let comment = said.map_or_else(String::new, |(tool, at)| {
        format!(" (the comment in line {} says T{tool})", at.line)
    });
    findings.add(at.line.max(1), at.at, f::NO_MODEL, || {
        format!(
            "no T word names the cutter{comment}: chip load, cutting speed and plunging are not \
             checked; describe it as tool 0"
        )
    });
}

fn depth<W: Watch>(audit: &mut Audit<W>, modal: &Modal) {
    let (envelope, cut) = (audit.envelope, audit.envelope.cut);
    if let Some(stock) = &audit.setting.stock
        && cut.least[2] < stock.least[2] - 1e-9
    {
        let (deepest, bottom) = (modal.length(cut.least[2]), modal.length(stock.least[2]));
        audit.findings.add(envelope.deepest, 0, f::BELOW_STOCK, || {
            format!(
                "the deepest cut, here, is at Z {deepest}, and the stock ends at Z {bottom}: cut \
                 no deeper, or put a plate below that may be cut"
            )
        });
    }
}

/// Cuts beside the stock, all of them or far out.
fn stock<W: Watch>(audit: &mut Audit<W>, modal: &Modal) {
    let Some(stock) = audit.setting.stock else {
        return;
    };
    let Some(at) = audit.began.cutting else {
        return;
    };
    let cut = audit.envelope.cut;
    if !(0..3).all(|axis| cut.size(axis).is_some()) {
        return;
    }
    let span = |least: f64, most: f64| format!("{} to {}", modal.length(least), modal.length(most));
    if !audit.met_stock {
        let axis =
            (0..3).find(|a| cut.most[*a] <= stock.least[*a] || cut.least[*a] >= stock.most[*a]);
        let where_ = axis.map_or_else(String::new, |a| {
            format!(
                ": along {} they go from {}, and it from {}",
                ['X', 'Y', 'Z'][a],
                span(cut.least[a], cut.most[a]),
                span(stock.least[a], stock.most[a])
            )
        });
        audit.findings.add(at.line, at.at, f::STOCK_MISSED, || {
            format!("no cut meets the stock{where_}; check the zero, and the box of the stock")
        });
        return;
    }
    audit.envelope.beside.ends();
    let beside = audit.envelope.beside;
    let allowed = BESIDE_DIAMETERS * 2.0 * audit.envelope.widest + BESIDE_MM;
    let held = [(beside.path, allowed), (beside.leads, allowed.max(LEAD_MM))];
    for (axis, letter) in ['X', 'Y'].into_iter().enumerate() {
        let far = held.iter().filter_map(|(sides, allowed)| {
            let (out, line) = sides.out_of(&stock, axis);
            (out.is_finite() && out > *allowed).then_some((out, line))
        });
        if let Some((out, line)) = far.max_by(|a, b| a.0.total_cmp(&b.0)) {
            audit.findings.add(line.max(1), 0, f::LEAVES_STOCK, || {
                format!(
                    "a cut leaves the stock by {} in {letter}, farthest here: check the zero, and \
                     lift the cutter where nothing is to be cut",
                    modal.length(out)
                )
            });
        }
    }
}

fn travel<W: Watch>(audit: &mut Audit<W>, modal: &Modal) {
    let all = audit.envelope.all;
    let travel = audit.setting.drives.travel_mm;
    let beyond: Vec<String> = ['X', 'Y', 'Z']
        .into_iter()
        .enumerate()
        .filter_map(|(axis, letter)| {
            let (size, travel) = (all.size(axis)?, travel?[axis]);
            let (far, short) = (modal.length(size), modal.length(travel));
            let text = format!("{far} along {letter}, where the machine travels {short}");
            (size > travel).then_some(text)
        })
        .collect();
    if !beyond.is_empty() {
        audit.findings.add(1, 0, f::TRAVEL, || {
            format!(
                "the path spans {}: turn the part or split the job",
                beyond.join(", and ")
            )
        });
    }
}

/// Says when a use hardly gets up to its feed.
pub(super) fn reached(found: &Use, setting: &Setting, modal: &Modal, findings: &mut Findings) {
    if found.reached_time <= 0.0 || found.tool == Tool::None && found.feed_speed.is_none() {
        return;
    }
    let share = found.slow_time / found.reached_time;
    let tool = setting.tool(found.tool.number());
    let chip = tool.and_then(|t| t.feed_per_tooth(found.lowest_feed, found.spindle_speed));
    let floor = tool.and_then(|t| t.chip_floor_mm);
    let rubs =
        found.chip_checked && matches!((chip, floor), (Some(chip), Some(floor)) if chip <= floor);
    if share <= MOST_OF_IT && !rubs {
        return;
    }
    let at = Where {
        line: found.first_line,
        at: 0,
    };
    findings.worst(at, f::REACH, found.tool.number(), None, || {
        let rubbing = if rubs { ", where it only rubs" } else { "" };
        format!(
            "{} runs below this feed for {:.0} % of its time and gets up to only {} in some \
             moves{rubbing}: lower F and S in the same ratio, or allow more path tolerance",
            name(found.tool),
            share * 100.0,
            modal.per_minute(found.lowest_feed)
        )
    });
}
