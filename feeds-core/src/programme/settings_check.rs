//! Checks of the settings of a use: speed, feed, chip, tapping.

use super::Where;
use super::checks::name;
use super::finding::{self as f, Findings};
use super::modal::{FeedMode, Modal};
use super::motion::{Feed, Motion};
use super::setting::{ProgrammeTool, Setting, ToolKind};
use super::written::{Toward, figure};

/// Pitches in mm of ISO 261 coarse and fine threads, and turns an inch of unified threads.
const PITCHES: [f64; 19] = [
    0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.6, 0.7, 0.75, 0.8, 1.0, 1.25, 1.5, 1.75, 2.0, 2.5, 3.0,
    3.5,
];
const TURNS_AN_INCH: [f64; 16] = [
    80.0, 72.0, 64.0, 56.0, 48.0, 44.0, 40.0, 36.0, 32.0, 28.0, 24.0, 20.0, 18.0, 16.0, 14.0, 13.0,
];

/// The fastest feed that any milling cut has, mm/min: beyond the spindles and axes of machines made
/// for nothing else (common practice).
const FASTEST_CUT: f64 = 60_000.0;
/// The thinnest chip in mm that any edge takes off: a tenth of the radius of the finest ground edge
/// would be more (common practice).
pub(super) const THINNEST_CHIP: f64 = 0.001;
/// The thickest, in diameters: no flute has room for it (common practice).
const THICKEST_CHIP: f64 = 0.25;

/// Checks settings that occur for the first time.
pub(crate) fn new_use(
    motion: &Motion,
    modal: &Modal,
    setting: &Setting,
    (speed_at, feed_at): (Where, Where),
    findings: &mut Findings,
) {
    let n = motion.spindle_speed;
    if let Some((least, most)) = setting.spindle_speeds
        && n > 0.0
        && !(least..=most).contains(&n)
    {
        findings.add(speed_at.line, speed_at.at, f::SPEED_RANGE, || {
            let near = n.clamp(least, most);
            format!(
                "S{n} is outside the spindle's {least} to {most} rpm: write S{near}, and every F \
                 of it times {:.3} to keep the chip",
                near / n
            )
        });
    }
    let Feed::PerMinute(v_f) = motion.feed else {
        return;
    };
    if v_f > FASTEST_CUT {
        let cause = motion.tool.number();
        findings.worst(feed_at, f::FEED_ABSURD, cause, v_f / FASTEST_CUT, || {
            format!(
                "F{} in a cut is {}, and no milling cut goes faster than {}: look for a lost \
                 point, or write G0 if nothing is cut",
                figure(modal.feed_value(v_f), 4),
                modal.per_minute(v_f),
                modal.per_minute(FASTEST_CUT)
            )
        });
    }
    if let Some(tool) = setting.tool(motion.tool.number())
        && let (Some(v_c), Some(most)) = (tool.cutting_speed(n), tool.most_cutting_speed)
        && v_c > most
    {
        let cause = motion.tool.number();
        findings.worst(speed_at, f::SPEED_BAND, cause, v_c / most, || {
            let wanted = (n * most / v_c).floor();
            let mend = match setting.least_speed().filter(|least| wanted < *least) {
                Some(least) => format!(
                    "that needs S{wanted:.0}, and the spindle has no less than S{least}: take a \
                     smaller cutter"
                ),
                None => format!("write S{wanted:.0} or less, and F times {:.3}", most / v_c),
            };
            format!(
                "{} cuts at {}, the band ends at {}: {mend}",
                name(motion.tool),
                modal.surface(v_c),
                modal.surface(most)
            )
        });
    }
}

impl Setting {
    /// The least speed of the spindle in 1/min, if it is known.
    fn least_speed(&self) -> Option<f64> {
        self.spindle_speeds.map(|(least, _)| least)
    }

    /// What to do about S so that a ratio of it keeps the chip; nothing where the spindle has no
    /// such speed.
    fn with_speed(&self, n: f64, ratio: f64, text: &str) -> String {
        let least = self.least_speed().unwrap_or(0.0);
        if n * ratio < least {
            format!("; S{n} cannot sink with it, the spindle has no less than S{least}")
        } else {
            text.to_owned()
        }
    }
}

/// Checks a feed against the axes it moves, each by its share of the way.
pub(crate) fn axes(
    motion: &Motion,
    modal: &Modal,
    setting: &Setting,
    at: Where,
    findings: &mut Findings,
) {
    let (Some(fastest), Feed::PerMinute(v_f)) = (setting.drives.fastest, motion.feed) else {
        return;
    };
    if fastest.iter().all(|f| v_f <= *f) || motion.length <= 0.0 {
        return;
    }
    let shares = motion.shares();
    let slowest = (0..3)
        .map(|axis| (axis, fastest[axis] / shares[axis]))
        .min_by(|a, b| a.1.total_cmp(&b.1));
    let Some((axis, most)) = slowest.filter(|(_, most)| v_f > most * (1.0 + 1e-9)) else {
        return;
    };
    let (cause, n) = (motion.tool.number(), motion.spindle_speed);
    findings.worst(at, f::FEED_RANGE, cause, v_f / most, || {
        let speed = format!(", and S times {:.3} to keep the chip", most / v_f);
        format!(
            "at {} the {} axis would have to go {}, and it goes no faster than {}: write {}{}",
            modal.per_minute(v_f),
            ['X', 'Y', 'Z'][axis],
            modal.per_minute(v_f * shares[axis]),
            modal.per_minute(fastest[axis]),
            modal.feed_word(most, Toward::Less),
            setting.with_speed(n, most / v_f, &speed)
        )
    });
}

/// A chip that no milling cut has, whatever the band says; true when that is said.
fn absurd(
    motion: &Motion,
    modal: &Modal,
    tool: Option<&ProgrammeTool>,
    at: Where,
    findings: &mut Findings,
) -> bool {
    let Feed::PerMinute(v_f) = motion.feed else {
        return false;
    };
    let n = motion.spindle_speed;
    let kind = tool.map_or(ToolKind::Unknown, |t| t.kind);
    if n <= 0.0 || v_f <= 0.0 || matches!(kind, ToolKind::Drill | ToolKind::Tap) {
        return false;
    }
    let a_tooth = tool.and_then(|t| t.feed_per_tooth(v_f, n));
    let (chip, of) = a_tooth.map_or((v_f / n, "a turn"), |f_z| (f_z, "a tooth"));
    let cause = motion.tool.number();
    let word = figure(modal.feed_value(v_f), 4);
    if chip < THINNEST_CHIP * (1.0 - 1e-9) {
        findings.worst(at, f::CHIP_ABSURD, cause, THINNEST_CHIP / chip, || {
            format!(
                "F{word} at S{n} is {} {of}, and no edge takes off less than {}: look for a lost \
                 digit in F or S",
                modal.chip(chip),
                modal.chip(THINNEST_CHIP)
            )
        });
        return true;
    }
    let most = tool
        .and_then(ProgrammeTool::diameter_mm)
        .map(|d| THICKEST_CHIP * d);
    let (Some(most), Some(f_z)) = (most, a_tooth) else {
        return false;
    };
    if f_z > most * (1.0 + 1e-9) {
        findings.worst(at, f::CHIP_ABSURD, cause, f_z / most, || {
            format!(
                "F{word} at S{n} is {} a tooth, more than a quarter of the diameter of {}: look \
                 for a lost point in F, or a lost digit in S",
                modal.chip(f_z),
                name(motion.tool)
            )
        });
    }
    f_z > most * (1.0 + 1e-9)
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
    let tool = setting.tool(motion.tool.number());
    if absurd(motion, modal, tool, at, findings) {
        return;
    }
    let Some(tool) = tool else { return };
    let n = motion.spindle_speed;
    let Some(f_z) = tool.feed_per_tooth(v_f, n) else {
        return;
    };
    // Feed for a chip at this speed.
    let feed_for = |chip: f64, toward| modal.feed_word(v_f * chip / f_z, toward);
    let (tool_name, cause) = (name(motion.tool), motion.tool.number());
    if let Some(floor) = tool.chip_floor_mm.filter(|floor| f_z <= *floor) {
        findings.worst(at, f::RUBBING, cause, floor / f_z, || {
            format!(
                "{tool_name} takes {} a tooth, at or below its least chip of {}: write {}{}",
                modal.chip(f_z),
                modal.chip(floor),
                match tool.feed_band.filter(|(least, _)| *least > floor) {
                    Some((least, _)) => format!("{} or more", feed_for(least, Toward::More)),
                    None => format!("more than {}", feed_for(floor, Toward::More)),
                },
                setting.with_speed(n, f_z / floor, ", or lower S")
            )
        });
        return;
    }
    let Some((least, most)) = tool.feed_band else {
        return;
    };
    if f_z > most {
        findings.worst(at, f::OVER_BAND, cause, f_z / most, || {
            format!(
                "{tool_name} takes {} a tooth, the band ends at {}: write {} or less, or raise S",
                modal.chip(f_z),
                modal.chip(most),
                feed_for(most, Toward::Less)
            )
        });
    } else if f_z < least {
        findings.worst(at, f::BELOW_BAND, cause, least / f_z, || {
            format!(
                "{tool_name} takes {} a tooth, the band starts at {}: write {} or more{}",
                modal.chip(f_z),
                modal.chip(least),
                feed_for(least, Toward::More),
                setting.with_speed(n, f_z / least, ", or lower S")
            )
        });
    }
}

/// How far a pitch may be off a thread that is still the one meant, as a share: about as far as the
/// metric and the inch pitch that lie next to each other, such as 0.8 mm and 32 an inch (ISO 261
/// and ASME B1.1, from memory).
const HAIR: f64 = 0.01;
/// How near a pitch without a unit comes to a usual one by rounding, as a share: half of the fourth
/// decimal of 0.025 in, the pitch of 40 an inch (arithmetic).
const NEAR: f64 = 2e-3;

/// Checks a tapping cycle of so many mm depth: feed a turn must be the pitch (NISTIR 6556,
/// 3.5.16.5), as near as the last digit of F can say it.
pub(crate) fn tapping(
    at: Where,
    feed: Feed,
    depth: f64,
    modal: &Modal,
    tool: Option<&ProgrammeTool>,
    findings: &mut Findings,
) {
    let Feed::PerMinute(v_f) = feed else { return };
    let n = modal.spindle_speed();
    if n <= 0.0 || v_f <= 0.0 {
        return;
    }
    let pitch = v_f / n;
    let a_turn = modal.feed_mode == FeedMode::PerTurn;
    let slack = modal.feed_slack / if a_turn { 1.0 } else { n } + 1e-9;
    let made = if a_turn {
        format!("under G95 F is the pitch, here {}", modal.chip(pitch))
    } else {
        format!("F over S makes a pitch of {}", modal.chip(pitch))
    };
    let thread = match tool.and_then(|t| t.pitch_mm) {
        Some(pitch) => Thread { pitch, said: true },
        None => Thread::nearest(pitch),
    };
    let off = (pitch - thread.pitch).abs();
    let share = off / thread.pitch;
    let wanted = || modal.feed_word(thread.pitch * n, Toward::Itself);
    if off <= slack {
        if !thread.said {
            findings.add(at.line, at.at, f::TAP_PITCH, || {
                format!("{made}: compare it with the tap")
            });
        }
    } else if share <= HAIR {
        findings.add(at.line, at.at, f::TAP_PITCH, || {
            format!(
                "{made}, a hair off a thread of {}: over the depth of {} that is {}; at S{n} \
                 write {}",
                modal.chip(thread.pitch),
                modal.length(depth),
                modal.chip(share * depth),
                wanted()
            )
        });
    } else if thread.said {
        findings.add(at.line, at.at, f::TAP_FEED, || {
            let tap = modal.chip(thread.pitch);
            format!("{made}, the tap has {tap}: at S{n} write {}", wanted())
        });
    } else {
        let must = if a_turn {
            "F must be the pitch"
        } else {
            "F must be the pitch times S"
        };
        findings.add(at.line, at.at, f::TAP_FEED, || {
            format!("{made}, which no usual thread has: {must}")
        });
    }
}

/// The thread of a tap.
struct Thread {
    /// mm
    pitch: f64,
    /// Whether somebody gave it; it is the nearest usual one otherwise.
    said: bool,
}

impl Thread {
    fn nearest(pitch: f64) -> Self {
        let inch = TURNS_AN_INCH.into_iter().map(|turns| 25.4 / turns);
        let off = |p: &f64| (pitch / p - 1.0).abs();
        let nearest = PITCHES.into_iter().chain(inch);
        let nearest = nearest.min_by(|a, b| off(a).total_cmp(&off(b)));
        Self {
            pitch: nearest.unwrap_or(1.0),
            said: false,
        }
    }
}

/// Of a pitch without a unit, the threads an inch if it is a usual one in inch and none in mm.
pub(crate) fn thread_of_inch(pitch: f64) -> Option<f64> {
    let near = |p: f64| (pitch / p - 1.0).abs() < NEAR;
    let metric = PITCHES.into_iter().any(near);
    let mut turns = TURNS_AN_INCH.into_iter();
    turns.find(|turns| !metric && near(1.0 / turns))
}

/// What is missing of a tool that was described, so that its cut is not checked.
pub(crate) fn missing(tool: &ProgrammeTool) -> Option<String> {
    let name = match tool.number {
        0 => "the cutter".to_owned(),
        number => format!("T{number}"),
    };
    match tool.kind {
        ToolKind::Milling | ToolKind::Unknown => {}
        kind => {
            return Some(format!(
                "{name} is a {}, for whose cut there is no model: compare feed and speed with its \
                 maker's data",
                kind.name()
            ));
        }
    }
    let missing: Vec<&str> = [
        (tool.cutter.diameter.is_none(), "diameter"),
        (tool.cutter.edges.is_none(), "number of flutes"),
        (
            tool.cutter.centre_cutting.is_none(),
            "whether it cuts to the centre",
        ),
    ]
    .into_iter()
    .filter_map(|(missing, what)| missing.then_some(what))
    .collect();
    (!missing.is_empty()).then(|| format!("{name}: not known: {}", missing.join(", ")))
}
