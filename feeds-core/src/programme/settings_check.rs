//! Checks of the settings of a use: speed, feed, chip, tapping.

use super::Where;
use super::checks::name;
use super::finding::{self as f, Findings};
use super::modal::Modal;
use super::motion::{Feed, Motion};
use super::setting::{Setting, ToolKind, ToolKnown};
use super::written::{Toward, figure};

/// Pitches in mm of ISO 261 coarse and fine threads, and turns an inch of unified threads.
const PITCHES: [f64; 19] = [
    0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.6, 0.7, 0.75, 0.8, 1.0, 1.25, 1.5, 1.75, 2.0, 2.5, 3.0,
    3.5,
];
const TURNS_AN_INCH: [f64; 16] = [
    80.0, 72.0, 64.0, 56.0, 48.0, 44.0, 40.0, 36.0, 32.0, 28.0, 24.0, 20.0, 18.0, 16.0, 14.0, 13.0,
];

/// Checks settings that occur for the first time.
pub(crate) fn new_use(
    motion: &Motion,
    modal: &Modal,
    setting: &Setting,
    speed_at: Where,
    feed_at: Where,
    findings: &mut Findings,
) {
    let n = motion.spindle_speed;
    if let Some((least, most)) = setting.machine.and_then(|m| m.spindle_speeds)
        && n > 0.0
        && !(least..=most).contains(&n)
    {
        findings.add(speed_at.line, speed_at.at, f::SPEED_RANGE, || {
            let near = n.clamp(least, most);
            format!(
                "S{n} is outside the spindle's {least} to {most} 1/min: write S{near}, and every F \
                 of it times {:.3} to keep the chip",
                near / n
            )
        });
    }
    let Feed::PerMinute(v_f) = motion.feed else {
        return;
    };
    if let Some(fastest) = setting.machine.and_then(|m| m.fastest) {
        let fastest = fastest.into_iter().fold(f64::INFINITY, f64::min);
        if v_f > fastest {
            findings.add(feed_at.line, feed_at.at, f::FEED_RANGE, || {
                format!(
                    "F of {} mm/min is faster than the machine goes: write {}, and S times {:.3} \
                     to keep the chip",
                    figure(v_f, 1),
                    modal.feed_word(fastest, Toward::Less),
                    fastest / v_f
                )
            });
        }
    }
    if let Some(tool) = setting.tool(motion.tool.number())
        && let (Some(v_c), Some(most)) = (tool.cutting_speed(n), tool.most_cutting_speed)
        && v_c > most
    {
        findings.add(speed_at.line, speed_at.at, f::SPEED_BAND, || {
            format!(
                "{} cuts at {v_c:.1} m/min, the band ends at {most:.1}: write S{:.0} or \
                 less, and F times {:.3} to keep the chip",
                name(motion.tool),
                (n * most / v_c).floor(),
                most / v_c
            )
        });
    }
}

/// Checks the feed per tooth of the first sideways move of a use; straight down the edges cut on
/// their ends, for which the bands do not hold.
pub(crate) fn chip(
    motion: &Motion,
    modal: &Modal,
    setting: &Setting,
    at: Where,
    findings: &mut Findings,
) {
    let Feed::PerMinute(v_f) = motion.feed else {
        return;
    };
    let Some(tool) = setting.tool(motion.tool.number()) else {
        return;
    };
    let Some(f_z) = tool.feed_per_tooth(v_f, motion.spindle_speed) else {
        return;
    };
    // Feed for a chip at this speed.
    let feed_for = |chip: f64, toward| modal.feed_word(v_f * chip / f_z, toward);
    let tool_name = name(motion.tool);
    if let Some(floor) = tool.chip_floor_mm.filter(|floor| f_z <= *floor) {
        findings.add(at.line, at.at, f::RUBBING, || {
            format!(
                "{tool_name} takes {f_z:.4} mm a tooth, at or below its rubbing floor of \
                 {floor:.4}: write {}, or lower S",
                match tool.feed_band.filter(|(least, _)| *least > floor) {
                    Some((least, _)) => format!("{} or more", feed_for(least, Toward::More)),
                    None => format!("more than {}", feed_for(floor, Toward::More)),
                }
            )
        });
        return;
    }
    let Some((least, most)) = tool.feed_band else {
        return;
    };
    if f_z > most {
        findings.add(at.line, at.at, f::OVER_BAND, || {
            format!(
                "{tool_name} takes {f_z:.4} mm a tooth, the band ends at {most:.4}: write {} or \
                 less, or raise S",
                feed_for(most, Toward::Less)
            )
        });
    } else if f_z < least {
        findings.add(at.line, at.at, f::BELOW_BAND, || {
            format!(
                "{tool_name} takes {f_z:.4} mm a tooth, the band starts at {least:.4}: write {} or \
                 more, or lower S",
                feed_for(least, Toward::More)
            )
        });
    }
}

/// Checks a tapping cycle: feed a turn must be the pitch (NISTIR 6556, 3.5.16.5).
pub(crate) fn tapping(
    at: Where,
    feed: Feed,
    n: f64,
    modal: &Modal,
    tool: Option<&ToolKnown>,
    findings: &mut Findings,
) {
    let Feed::PerMinute(v_f) = feed else { return };
    if n <= 0.0 {
        return;
    }
    let pitch = v_f / n;
    if let Some(wanted) = tool.and_then(|t| t.pitch_mm) {
        if (pitch / wanted - 1.0).abs() > 1e-3 {
            findings.add(at.line, at.at, f::TAP_FEED, || {
                format!(
                    "F over S makes a pitch of {} mm, the tap has {wanted}: at S{n} write {}",
                    figure(pitch, 4),
                    modal.feed_word(wanted * n, Toward::Itself)
                )
            });
        }
        return;
    }
    let near = |p: f64| (pitch / p - 1.0).abs() < 2e-3;
    let usual =
        PITCHES.into_iter().any(near) || TURNS_AN_INCH.into_iter().any(|turns| near(25.4 / turns));
    if usual {
        findings.add(at.line, at.at, f::TAP_PITCH, || {
            format!("F over S makes a pitch of {pitch:.4} mm: compare it with the tap")
        });
    } else {
        findings.add(at.line, at.at, f::TAP_FEED, || {
            format!(
                "F over S makes a pitch of {pitch:.4} mm, which no usual thread has: F must be the \
                 pitch times S"
            )
        });
    }
}

/// Why the cut of a tool is not checked, if it is not.
pub(crate) fn unchecked(number: u32, tool: Option<&ToolKnown>) -> Option<String> {
    let Some(tool) = tool else {
        return Some(format!(
            "nothing is known about T{number}: feed a tooth, cutting speed and plunging are not \
             checked; state its diameter and edges"
        ));
    };
    if tool.kind != ToolKind::Milling {
        return Some(format!(
            "T{number} is a {}: there is no model for its cut, so its feed and speed are unknown, \
             not passed; compare them with its maker's data",
            tool.kind.name()
        ));
    }
    let missing: Vec<&str> = [
        (tool.diameter_mm.is_none(), "diameter"),
        (tool.edges.is_none(), "number of edges"),
        (tool.can_plunge.is_none(), "whether it cuts over its centre"),
    ]
    .into_iter()
    .filter_map(|(missing, what)| missing.then_some(what))
    .collect();
    (!missing.is_empty()).then(|| {
        format!(
            "of T{number} is not known: {}; what depends on it is not checked",
            missing.join(", ")
        )
    })
}
